package plot

// This file draws a recording for a terminal.

import (
	"math"
	"strings"
	"unicode/utf8"

	"underload/sim/record"
)

// Terminal is what a terminal can show.
type Terminal struct {
	Columns int  // 0: 80
	Rows    int  // of a panel; 0: as many as fit a screen with the others
	Braille bool // patterns of dots, eight to a character; else plain characters that any terminal has
}

// strokes are the characters of a plot.
type strokes struct {
	side, corner, foot, tick, act, level string
}

var (
	plainStrokes   = strokes{"|", "+", "-", "+", ":", "."}
	brailleStrokes = strokes{"│", "└", "─", "┴", "┊", "·"}
)

// Text draws a page as lines of text: the marks, a panel for each channel, the axis. The words of the marks are not in
// it: see Tag.
func Text(p Page, t Terminal) []string {
	d := newText(p, t)
	lines := d.lanes()
	for c := range p.Recording.Channels() {
		lines = append(lines, d.heading(c)...)
		lines = append(lines, d.panel(c)...)
	}
	lines = append(lines, d.axis()...)
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return lines
}

// textPlot is a plot while it is drawn.
type textPlot struct {
	page     Page
	strokes  strokes
	braille  bool
	from, to float64
	rows     int // of a panel
	gutter   int // left of the axis
	wide     int // of the panels
	tagged   []Tagged
	scales   []scale
}

func newText(p Page, t Terminal) *textPlot {
	d := &textPlot{page: p, strokes: plainStrokes, braille: t.Braille, rows: t.Rows}
	if t.Braille {
		d.strokes = brailleStrokes
	}
	d.from, d.to = p.window()
	channels := len(p.Recording.Channels())
	if d.rows == 0 {
		d.rows = []int{12, 12, 8, 6, 6, 5, 5, 4}[min(channels, 7)]
	}
	for c := range channels {
		s := scaleOf(p, c)
		d.scales = append(d.scales, s)
		for _, k := range s.ticks(d.figures(s)) {
			d.gutter = max(d.gutter, min(mostFigures, utf8.RuneCountInString(k.words)))
		}
	}
	d.gutter++
	columns := t.Columns
	if columns == 0 {
		columns = 80
	}
	d.wide = max(10, columns-d.gutter-2)
	d.tagged = Tag(p.Recording.Marks(), d.from, d.to)
	return d
}

// mostFigures is how many characters have room beside an axis.
const mostFigures = 14

// high is how many rows a panel has: of modes one each, or a few more where there are not many.
func (d *textPlot) high(s scale) int {
	if modes := int(math.Round(s.to - s.from + 0.2)); len(s.words) > 0 {
		return max(modes, min(d.rows, 2*modes-1))
	}
	return d.rows
}

// figures is about how many values stand beside an axis.
func (d *textPlot) figures(s scale) int { return (2*d.high(s) + 2) / 3 }

// place is the column of a time.
func (d *textPlot) place(seconds float64) int {
	return min(d.wide-1, max(0, int(float64(d.wide)*(seconds-d.from)/(d.to-d.from))))
}

// mostLanes is how many lines of letters stand above each other where marks come close together.
const mostLanes = 4

// lanes are the lines with the letters of the marks, each over its instant.
func (d *textPlot) lanes() []string {
	var lanes [][]rune
	for _, m := range d.tagged {
		if m.Tag == "" {
			continue
		}
		at, lane := d.place(m.Seconds), 0
		for lane < len(lanes) && lanes[lane][at] != ' ' {
			lane++
		}
		if lane == mostLanes {
			continue // the words below the plot still tell it
		}
		if lane == len(lanes) {
			lanes = append(lanes, []rune(strings.Repeat(" ", d.wide)))
		}
		lanes[lane][at] = []rune(m.Tag)[0]
	}
	var lines []string
	for _, lane := range lanes {
		lines = append(lines, strings.Repeat(" ", d.gutter+1)+string(lane))
	}
	return lines
}

// heading names a panel, its unit, and the levels that are drawn in it.
func (d *textPlot) heading(channel int) []string {
	ch, s := d.page.Recording.Channels()[channel], d.scales[channel]
	unit := ""
	if s.unit != "" {
		unit = ", " + s.unit
	}
	room := d.gutter + 1 + d.wide
	line := cut(ch.Name, room-utf8.RuneCountInString(unit)) + unit
	var lines []string
	for _, l := range d.page.Levels {
		if l.Channel != channel || l.Value <= s.from || l.Value >= s.to {
			continue
		}
		words := strings.Repeat(d.strokes.level+" ", 2) + Value(record.Channel{Unit: ch.Unit}, l.Value) + " " + l.Words
		if utf8.RuneCountInString(line)+3+utf8.RuneCountInString(words) > room {
			lines = append(lines, line)
			line = "   " + cut(words, room-3)
			continue
		}
		line += "   " + words
	}
	return append(lines, line)
}

// cut shortens words to so many characters.
func cut(words string, room int) string {
	if runes := []rune(words); len(runes) > room {
		return string(runes[:max(0, room-1)]) + "…"
	}
	return words
}

// panel draws a channel.
func (d *textPlot) panel(channel int) []string {
	s := d.scales[channel]
	grid := make([][]rune, d.high(s))
	for y := range grid {
		grid[y] = []rune(strings.Repeat(" ", d.wide))
	}
	for _, l := range d.page.Levels {
		if l.Channel == channel && l.Value > s.from && l.Value < s.to {
			y := step(s, l.Value, len(grid))
			for x := 0; x < d.wide; x += 2 {
				grid[y][x] = []rune(d.strokes.level)[0]
			}
		}
	}
	for _, m := range d.tagged {
		if m.Done {
			for y := range grid {
				grid[y][d.place(m.Seconds)] = []rune(d.strokes.act)[0]
			}
		}
	}
	if d.braille {
		d.dots(grid, channel, s)
	} else {
		d.letters(grid, channel, s)
	}
	names := make([]string, len(grid))
	for _, k := range s.ticks(d.figures(s)) {
		if k.at >= s.from && k.at <= s.to {
			names[step(s, k.at, len(grid))] = k.words
		}
	}
	lines := make([]string, len(grid))
	for y, row := range grid {
		name := []rune(names[y])
		name = name[:min(len(name), d.gutter-1)]
		lines[y] = strings.Repeat(" ", d.gutter-1-len(name)) + string(name) + " " + d.strokes.side + string(row)
	}
	return lines
}

// step is the one of n equal steps in which a value stands, from the top.
func step(s scale, v float64, n int) int { return min(n-1, int((1-s.share(v))*float64(n)+1e-6)) }

// letters draws a channel with characters that stand low, in the middle or high.
func (d *textPlot) letters(grid [][]rune, channel int, s scale) {
	heights := []rune{'\'', '-', '_'}
	for x, c := range columns(d.page.Recording, channel, d.from, d.to, d.wide) {
		if !c.ok {
			continue
		}
		top, foot := step(s, c.high, 3*len(grid)), step(s, c.low, 3*len(grid))
		if top/3 == foot/3 {
			grid[top/3][x] = heights[(top%3+foot%3)/2]
			continue
		}
		for y := top / 3; y <= foot/3; y++ {
			grid[y][x] = '|'
		}
	}
}

// dotBits are the dots of a braille pattern, by column and row.
var dotBits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// dots draws a channel with two columns of four dots to a character.
func (d *textPlot) dots(grid [][]rune, channel int, s scale) {
	const none = 0x2800
	for x, c := range columns(d.page.Recording, channel, d.from, d.to, 2*d.wide) {
		if !c.ok {
			continue
		}
		for y := step(s, c.high, 4*len(grid)); y <= step(s, c.low, 4*len(grid)); y++ {
			cell := &grid[y/4][x/2]
			if *cell < none {
				*cell = none
			}
			*cell |= dotBits[x%2][y%4]
		}
	}
}

// axis is the line of time and its figures.
func (d *textPlot) axis() []string {
	line := []rune(strings.Repeat(d.strokes.foot, d.wide))
	under := []rune(strings.Repeat(" ", d.gutter+1+d.wide))
	ticks, unit := timeTicks(d.from, d.to, d.wide/10)
	room := d.wide + d.gutter - utf8.RuneCountInString(unit) // the unit stands at the end
	free := 0
	for _, k := range ticks {
		at := d.place(k.at)
		line[at] = []rune(d.strokes.tick)[0]
		words := []rune(k.words)
		start := max(0, d.gutter+1+at-len(words)/2)
		if start < free || start+len(words) > room {
			continue
		}
		copy(under[start:], words)
		free = start + len(words) + 1
	}
	copy(under[d.gutter+1+d.wide-utf8.RuneCountInString(unit):], []rune(unit))
	return []string{strings.Repeat(" ", d.gutter) + d.strokes.corner + string(line), string(under)}
}
