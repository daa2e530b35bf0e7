package report

// This file marks the worst step: thick, bracketed, and with words that stand on no line.

import (
	"fmt"
	"math"

	"underload/circuit/quantity"
)

// cliffWords are the lines beside the bracket.
func (d *drawing) cliffWords(c *column) []string {
	load, light := c.level(loadPass), c.level(lightPass)
	place := c.steps[0].Place
	if load.Ohms == 0 {
		return []string{fmt.Sprintf("%s is open", place), fmt.Sprintf("all %s stand across it,", volts(load.Lost)), "no current passes"}
	}
	return []string{
		fmt.Sprintf("%s loses %s", place, volts(load.Lost)),
		fmt.Sprintf("%s mΩ at %s", Milliohms(load), amperes(load.Amps)),
		fmt.Sprintf("healthy: %s mΩ", Milliohms(c.level(healthyPass))),
		"light test: " + quantity.Format(light.Lost, quantity.Volts, 2),
	}
}

// ground is what is on a plot already, in the way of words.
type ground struct {
	plot    box
	traces  [][]spot
	bands   [][]spot // words may stand on a band, better not across its edge
	keepOff []box    // and not in these columns
}

// lead is the distance from the riser to the bracket's back, and from there to the words, in px.
const lead = 18.0

// cliff draws the worst step of the load trace again, with a bracket and its words.
func (d *drawing) cliff(c *column, top, foot float64, g ground) {
	left, right := c.x+c.w/2, c.x+c.w/2
	if c.sloped() {
		left, right = c.x, c.x+c.w
	}
	d.line(left, top, right, foot, alert, `stroke-width="4.5"`)
	lines := d.cliffWords(c)
	wide := cliffWidth(lines)
	at, toRight := d.place(box{0, 0, wide, float64(len(lines))*lineHeight + 8}, left, right, top, foot, g)
	back, hook, edge, anchor := right+lead, -8.0, at.x, 0.0
	if !toRight {
		back, hook, edge, anchor = left-lead, 8, at.x+at.w, 1
	}
	d.polyline([]spot{{back + hook, top}, {back, top}, {back, foot}, {back + hook, foot}}, alert, `stroke-width="1.8"`)
	from, to := leader(at, toRight, back, top, foot)
	d.line(from.x, from.y, to.x, to.y, alert, `stroke-width="1.2"`)
	y := at.y - 2
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
	worst := worstOf(d.columns)
	if worst == nil || !worst.omit {
		return 0
	}
	right := worst.x + worst.w/2
	if worst.sloped() {
		right = worst.x + worst.w
	}
	if missing := right + 2*lead + cliffWidth(d.cliffWords(worst)) + 8 - d.w; missing > 0 && missing <= most {
		return missing
	}
	return 0
}

// leader is the line from the bracket's back to the words.
func leader(at box, right bool, back, top, foot float64) (from, to spot) {
	to = spot{at.x - 4, min(max((top+foot)/2, at.y+8), at.y+at.h-8)}
	if !right {
		to.x = at.x + at.w + 4
	}
	return spot{back, min(max(to.y, top), foot)}, to
}

func cliffSize(line int) float64 {
	if line == 0 {
		return 17
	}
	return 13
}

// place finds room for words beside a cliff that reaches from left to right: within the plot, on nothing else, as near
// as can be.
func (d *drawing) place(size box, left, right, top, foot float64, g ground) (at box, toRight bool) {
	const sideStep, downStep, farthest = 16.0, 6.0, 320.0
	best := math.Inf(1)
	for _, onRight := range []bool{true, false} {
		for shift := 0.0; shift <= farthest; shift += sideStep {
			x, back := right+2*lead+shift, right+lead
			if !onRight {
				x, back = left-2*lead-shift-size.w, left-lead
			}
			if x < g.plot.x+4 || x+size.w > d.w-6 {
				continue
			}
			for y := g.plot.y + 6; y+size.h <= g.plot.y+g.plot.h-6; y += downStep {
				b := box{x, y, size.w, size.h}
				from, to := leader(b, onRight, back, top, foot)
				cost := shift + math.Abs(y+size.h/2-(top+foot)/2) + d.inTheWay(b, g) + d.leaderInTheWay(from, to, g)
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
func (d *drawing) inTheWay(b box, g ground) float64 {
	cost := 1000*float64(crossings(b, g.traces)) + 40*float64(crossings(b, g.bands))
	for _, words := range d.labels {
		if b.overlaps(words.box) {
			cost += 5000
		}
	}
	for _, column := range g.keepOff {
		if b.overlaps(column) {
			cost += 400
		}
	}
	return cost
}

// leaderInTheWay weighs what the line to the words would run over.
func (d *drawing) leaderInTheWay(from, to spot, g ground) float64 {
	cost := 800 * float64(crossed(from, to, g.traces))
	line := box{min(from.x, to.x), min(from.y, to.y) - 2, math.Abs(to.x - from.x), math.Abs(to.y-from.y) + 4}
	for _, words := range d.labels {
		if line.overlaps(words.box) {
			cost += 2000
		}
	}
	return cost
}

// crossings counts the pieces of lines that run through a box, or too near to it.
func crossings(b box, lines [][]spot) int {
	const clear = 7.0
	return piecesIn(box{b.x - clear, b.y - clear, b.w + 2*clear, b.h + 2*clear}, lines)
}

func piecesIn(b box, lines [][]spot) int {
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
func crossed(from, to spot, traces [][]spot) int {
	const own = 12.0
	left, right := min(from.x, to.x), max(from.x, to.x)
	if from.x < to.x {
		left += own
	} else {
		right -= own
	}
	return piecesIn(box{left, min(from.y, to.y), max(0, right-left), math.Abs(to.y - from.y)}, traces)
}

// cuts reports whether a straight piece runs through a box (Liang and Barsky's clipping).
func cuts(b box, p, q spot) bool {
	from, to := 0.0, 1.0
	for _, edge := range [][2]float64{
		{p.x - q.x, p.x - b.x}, {q.x - p.x, b.x + b.w - p.x},
		{p.y - q.y, p.y - b.y}, {q.y - p.y, b.y + b.h - p.y},
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
