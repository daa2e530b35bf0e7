// Terminal sizes: what a sound pair measures, when to act, how hard it grips.

package catalog

import (
	"fmt"
	"math"
	"strings"
)

// TerminalSize is one size of terminal pair.
type TerminalSize struct {
	Name        string
	BladeMM     float64 // 0 for what has no blade
	PairOhms    float64 // sound, terminal to pin; a fuse slot: each side
	ActOhms     float64 // at and above this it wants repair
	DragNewtons float64 // least force to pull a test pin from a sound one; 0: no such test
	CrimpOhms   float64 // sound, wire to terminal
	CrimpAct    float64
	Source      Source
}

// Pair ohms are common practice but for 0.64 mm (20 mΩ after environment
// tests: a connector maker's catalogue, read) and the 5 mΩ of specification
// 108-20090 after corrosion. Drag: 2.5 N (108-20090), and 1, 2 and 3 lbf at
// the sixth withdrawal for 2.8, 4.8 and 6.3 mm (108-2043), both read.
var terminalSizes = []TerminalSize{
	{"0.64 mm", 0.64, 0.007, 0.020, 2.5, 0.0010, 0.003, smallTerminalSpec},
	{"1.5 mm", 1.5, 0.004, 0.015, 2.5, 0.0007, 0.003, smallTerminalSpec},
	{"2.8 mm", 2.8, 0.002, 0.010, 4.4, 0.0005, 0.003, terminalSpec108},
	{"4.8 mm", 4.8, 0.0014, 0.007, 8.9, 0.0004, 0.003, terminalSpec108},
	{"6.3 mm", 6.3, 0.001, 0.005, 13.3, 0.0003, 0.003, terminalSpec108},
	{"9.5 mm", 9.5, 0.0006, 0.003, 13.3, 0.0003, 0.003, fromPractice},
	{"fuse slot", 0, 0.0006, 0.003, 4.4, 0.0004, 0.003, fromPractice},
	{"ring", 0, 0.0005, 0.005, 0, 0.0003, 0.003, fromPractice},
	{"battery post", 0, 0.0001, 0.0005, 0, 0.0001, 0.001, fromPractice},
}

// TerminalNamed finds a size by its name, such as "2.8 mm" or "fuse slot".
func TerminalNamed(name string) (TerminalSize, error) {
	var names []string
	for _, size := range terminalSizes {
		if strings.EqualFold(size.Name, strings.TrimSpace(name)) {
			return size, nil
		}
		names = append(names, size.Name)
	}
	return TerminalSize{}, fmt.Errorf("terminal size %q is not known; the sizes are %s", name, strings.Join(names, ", "))
}

// TerminalOf gives the figures for a blade of any width: the listed size
// nearest in ratio, with the blade as asked. Widths outside 0.4 to 15 mm are an error.
func TerminalOf(bladeMM float64) (TerminalSize, error) {
	if !(bladeMM >= 0.4 && bladeMM <= 15) {
		return TerminalSize{}, fmt.Errorf("a terminal of %g mm is not made; blades run from 0.4 to 15 mm", bladeMM)
	}
	best, least := TerminalSize{}, math.Inf(1)
	for _, size := range terminalSizes {
		if size.BladeMM == 0 {
			continue
		}
		if off := math.Abs(math.Log(bladeMM / size.BladeMM)); off < least {
			best, least = size, off
		}
	}
	best.BladeMM = bladeMM
	return best, nil
}
