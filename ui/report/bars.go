package report

// This file draws the staircase in block characters, a line a step, for a terminal.

import (
	"fmt"
	"math"
	"strings"

	"underload/sim/meter"
	"underload/ui/stairs"
)

// Bar is one line of the staircase in a terminal: what each pass loses in a step, or in folded neighbours, and the volts
// that are left behind it as a bar.
type Bar struct {
	Name            string
	LightMV, LoadMV string // what is lost; of the load its volts
	LightBar        string
	LoadBar         string
	LoadMohm        string
	Load, Worst     bool
}

// Bars folds the steps into about so many lines and draws the volts left behind each, a full bar being the battery's
// open volts.
func Bars(s meter.Staircase, lines, width int) []Bar {
	columns := stairs.Single(s)
	stairs.Fold(&columns, func() bool { return len(columns) > lines })
	bars := make([]Bar, len(columns))
	for i, c := range columns {
		name := c.Steps[0].Place
		if c.Folded() {
			name = fmt.Sprintf("%s to %s", name, c.Steps[len(c.Steps)-1].Place)
		}
		bars[i] = Bar{
			Name: name, Load: c.Load(), Worst: c.Worst(), LoadMohm: ohmsCell(c, stairs.LoadPass),
			LightMV: lossCell(c, stairs.LightPass), LightBar: bar(c.Level(stairs.LightPass).Volts, s.OpenVolts, width),
			LoadMV: lossCell(c, stairs.LoadPass), LoadBar: bar(c.Level(stairs.LoadPass).Volts, s.OpenVolts, width),
		}
	}
	return bars
}

// bar draws a share of a full bar, to an eighth of a character.
func bar(volts, full float64, width int) string {
	const eighths = "▏▎▍▌▋▊▉"
	share := min(max(volts/full, 0), 1)
	n := int(math.Round(share * float64(8*width)))
	text := strings.Repeat("█", n/8)
	if rest := n % 8; rest > 0 {
		text += string([]rune(eighths)[rest-1])
	}
	return text
}
