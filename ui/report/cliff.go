package report

// This file marks the worst step: thick, bracketed, and with words that stand on no line.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/quantity"

	"underload/ui/stairs"
)

// cliffWords are the lines beside the bracket.
func (d *drawing) cliffWords(c *stairs.Column) []string {
	load, light := c.Level(stairs.LoadPass), c.Level(stairs.LightPass)
	place := c.Steps[0].Place
	if load.Ohms == 0 {
		return []string{fmt.Sprintf("%s is open", place), fmt.Sprintf("all %s stand across it,", volts(load.Lost)), "no current passes"}
	}
	return []string{
		fmt.Sprintf("%s loses %s", place, volts(load.Lost)),
		fmt.Sprintf("%s mΩ at %s", Milliohms(load), amperes(load.Amps)),
		fmt.Sprintf("healthy: %s mΩ", Milliohms(c.Level(stairs.HealthyPass))),
		d.lightName() + ": " + lightLoss(light.Lost),
	}
}

// lightLoss is what the light pass loses, in volts or millivolts; less than a tenth of one no voltmeter shows.
func lightLoss(lost float64) string {
	if math.Abs(lost) < 1e-4 {
		return "nothing shows"
	}
	return quantity.Format(lost, quantity.Volts, 2)
}

// lightName is what the light pass is called: a lamp's is a test, of a load at rest it is none.
func (d *drawing) lightName() string {
	if part, ok := strings.CutSuffix(d.page.Stairs.LightLoad, " at rest"); ok {
		return "with " + part + " at rest"
	}
	return lightTest
}

const lightTest = "light test"

// ground is what is on a plot already, in the way of words.
type ground struct {
	plot    stairs.Box
	traces  [][]stairs.Spot
	bands   [][]stairs.Spot // words may stand on a band, better not across its edge
	keepOff []stairs.Box    // and not in these columns
}

// lead is the distance from the riser to the bracket's back, and from there to the words, in px.
const lead = 18.0

// cliff draws the worst step of the load trace again, with a bracket and its words.
func (d *drawing) cliff(c *stairs.Column, top, foot float64, g ground) {
	left, right := c.X+c.W/2, c.X+c.W/2
	if c.Sloped() {
		left, right = c.X, c.X+c.W
	}
	d.line(left, top, right, foot, alert, `stroke-width="4.5"`)
	lines := d.cliffWords(c)
	wide := cliffWidth(lines)
	at, toRight := d.place(stairs.Area(0, 0, wide, float64(len(lines))*lineHeight+8), left, right, top, foot, g)
	back, hook, edge, anchor := right+lead, -8.0, at.X, 0.0
	if !toRight {
		back, hook, edge, anchor = left-lead, 8, at.X+at.W, 1
	}
	d.polyline([]stairs.Spot{stairs.At(back+hook, top), stairs.At(back, top), stairs.At(back, foot), stairs.At(back+hook, foot)}, alert, `stroke-width="1.8"`)
	from, to := leader(at, toRight, back, top, foot)
	d.line(from.X, from.Y, to.X, to.Y, alert, `stroke-width="1.2"`)
	y := at.Y - 2
	for i, line := range lines {
		y += lineHeight
		fill := ink
		if i == 0 {
			y, fill = y+3, alert
		}
		d.text(edge, y, style{size: cliffSize(i), bold: i == 0, fill: fill, at: anchor}, line)
	}
}

func cliffWidth(lines []string) float64 {
	wide := 0.0
	for i, line := range lines {
		wide = max(wide, textWidth(line, cliffSize(i), i == 0))
	}
	return wide
}

// apron is what the page has to grow by so that the words find room beside a bad step near the end of the path; where
// it would be much, they have room enough before it.
func (d *drawing) apron() float64 {
	const most = 120.0
	worst := stairs.WorstOf(d.columns)
	if worst == nil || !worst.Omit {
		return 0
	}
	right := worst.X + worst.W/2
	if worst.Sloped() {
		right = worst.X + worst.W
	}
	if missing := right + 2*lead + cliffWidth(d.cliffWords(worst)) + 8 - d.w; missing > 0 && missing <= most {
		return missing
	}
	return 0
}

// leader is the line from the bracket's back to the words.
func leader(at stairs.Box, right bool, back, top, foot float64) (from, to stairs.Spot) {
	to = stairs.At(at.X-4, min(max((top+foot)/2, at.Y+8), at.Y+at.H-8))
	if !right {
		to.X = at.X + at.W + 4
	}
	return stairs.At(back, min(max(to.Y, top), foot)), to
}

func cliffSize(line int) float64 {
	if line == 0 {
		return 17
	}
	return 13
}

// place finds room for words beside a cliff that reaches from left to right: within the plot, on nothing else, as near
// as can be.
func (d *drawing) place(size stairs.Box, left, right, top, foot float64, g ground) (at stairs.Box, toRight bool) {
	const sideStep, downStep, farthest = 16.0, 6.0, 320.0
	best := math.Inf(1)
	for _, onRight := range []bool{true, false} {
		for shift := 0.0; shift <= farthest; shift += sideStep {
			x, back := right+2*lead+shift, right+lead
			if !onRight {
				x, back = left-2*lead-shift-size.W, left-lead
			}
			if x < g.plot.X+4 || x+size.W > d.w-6 {
				continue
			}
			for y := g.plot.Y + 6; y+size.H <= g.plot.Y+g.plot.H-6; y += downStep {
				b := stairs.Area(x, y, size.W, size.H)
				from, to := leader(b, onRight, back, top, foot)
				cost := shift + math.Abs(y+size.H/2-(top+foot)/2) + d.inTheWay(b, g) + d.leaderInTheWay(from, to, g)
				if !onRight {
					cost += 30 // the path is read from left to right
				}
				if cost < best {
					best, at, toRight = cost, b, onRight
				}
			}
		}
	}
	return at, toRight
}

// inTheWay weighs what words in a box would stand on.
func (d *drawing) inTheWay(b stairs.Box, g ground) float64 {
	cost := 1000*float64(crossings(b, g.traces)) + 40*float64(crossings(b, g.bands))
	for _, words := range d.labels {
		if b.Overlaps(words.Box) {
			cost += 5000
		}
	}
	for _, column := range g.keepOff {
		if b.Overlaps(column) {
			cost += 400
		}
	}
	return cost
}

// leaderInTheWay weighs what the line to the words would run over.
func (d *drawing) leaderInTheWay(from, to stairs.Spot, g ground) float64 {
	cost := 800 * float64(crossed(from, to, g.traces))
	line := stairs.Area(min(from.X, to.X), min(from.Y, to.Y)-2, math.Abs(to.X-from.X), math.Abs(to.Y-from.Y)+4)
	for _, words := range d.labels {
		if line.Overlaps(words.Box) {
			cost += 2000
		}
	}
	return cost
}

// crossings counts the pieces of lines that run through a box, or too near to it.
func crossings(b stairs.Box, lines [][]stairs.Spot) int {
	const clear = 7.0
	return piecesIn(stairs.Area(b.X-clear, b.Y-clear, b.W+2*clear, b.H+2*clear), lines)
}

func piecesIn(b stairs.Box, lines [][]stairs.Spot) int {
	n := 0
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			if cuts(b, line[i-1], line[i]) {
				n++
			}
		}
	}
	return n
}

// crossed counts the pieces of the traces that a line to the words runs over, those at its own riser left out.
func crossed(from, to stairs.Spot, traces [][]stairs.Spot) int {
	const own = 12.0
	left, right := min(from.X, to.X), max(from.X, to.X)
	if from.X < to.X {
		left += own
	} else {
		right -= own
	}
	return piecesIn(stairs.Area(left, min(from.Y, to.Y), max(0, right-left), math.Abs(to.Y-from.Y)), traces)
}

// cuts reports whether a straight piece runs through a box (Liang and Barsky's clipping).
func cuts(b stairs.Box, p, q stairs.Spot) bool {
	from, to := 0.0, 1.0
	for _, edge := range [][2]float64{
		{p.X - q.X, p.X - b.X}, {q.X - p.X, b.X + b.W - p.X},
		{p.Y - q.Y, p.Y - b.Y}, {q.Y - p.Y, b.Y + b.H - p.Y},
	} {
		slope, gap := edge[0], edge[1]
		switch {
		case slope == 0 && gap < 0:
			return false
		case slope < 0:
			from = max(from, gap/slope)
		case slope > 0:
			to = min(to, gap/slope)
		}
	}
	return from <= to
}
