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

// cliff draws the worst step of the load trace again, with a bracket and its words.
func (d *drawing) cliff(c *column, top, foot float64, plot box, traces [][]spot) {
	if c.sloped() {
		d.line(c.x, top, c.x+c.w, foot, alert, `stroke-width="4.5"`)
	} else {
		d.line(c.x+c.w/2, top, c.x+c.w/2, foot, alert, `stroke-width="4.5"`)
	}
	lines := d.cliffWords(c)
	wide := 0.0
	for i, line := range lines {
		wide = max(wide, textWidth(line, cliffSize(i), i == 0))
	}
	const lead = 18.0 // from the riser to the bracket's back, and from there to the words
	size := box{0, 0, wide, float64(len(lines))*lineHeight + 8}
	at, right := d.place(size, c, top, foot, plot, traces, lead)
	back, hook := c.x+c.w/2+lead, -8.0
	if c.sloped() {
		back = c.x + c.w + lead/2
	}
	if !right {
		back, hook = 2*(c.x+c.w/2)-back, 8
	}
	d.polyline([]spot{{back + hook, top}, {back, top}, {back, foot}, {back + hook, foot}}, alert, `stroke-width="1.8"`)
	from, to := leader(at, right, back, top, foot)
	d.line(from.x, from.y, to.x, to.y, alert, `stroke-width="1.2"`)
	y := at.y - 2
	for i, line := range lines {
		y += lineHeight
		fill := ink
		if i == 0 {
			y, fill = y+3, alert
		}
		x, side := at.x, 0.0
		if !right {
			x, side = at.x+at.w, 1
		}
		d.text(x, y, style{size: cliffSize(i), bold: i == 0, fill: fill, at: side}, line)
	}
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

// place finds room for the words beside the cliff: within the plot, on no trace, as near as can be.
func (d *drawing) place(size box, c *column, top, foot float64, plot box, traces [][]spot, lead float64) (at box, right bool) {
	middle := (top + foot) / 2
	best := math.Inf(1)
	for _, toRight := range []bool{true, false} {
		for shift := 0.0; shift <= 240; shift += 20 {
			x := c.x + c.w/2 + 2*lead + shift
			if !toRight {
				x = c.x + c.w/2 - 2*lead - shift - size.w
			}
			for y := plot.y + 6; y+size.h <= plot.y+plot.h-6; y += 6 {
				b := box{x, y, size.w, size.h}
				if x < plot.x+4 || x+size.w > plot.x+plot.w+rightMargin-6 {
					continue
				}
				from, to := leader(b, toRight, c.x+c.w/2, top, foot)
				cost := shift + math.Abs(y+size.h/2-middle) + 1000*float64(crossings(b, traces)) + 300*float64(crossed(from, to, traces))
				if !toRight {
					cost += 30 // the path is read from left to right
				}
				if cost < best {
					best, at, right = cost, b, toRight
				}
			}
		}
	}
	return at, right
}

// crossings counts the pieces of the traces that run through a box, or too near to it.
func crossings(b box, traces [][]spot) int {
	const clear = 7.0
	return crossingsOf(box{b.x - clear, b.y - clear, b.w + 2*clear, b.h + 2*clear}, traces)
}

func crossingsOf(b box, traces [][]spot) int {
	n := 0
	for _, piece := range traces {
		for i := 1; i < len(piece); i++ {
			if cuts(b, piece[i-1], piece[i]) {
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
	return crossingsOf(box{left, min(from.y, to.y), max(0, right-left), math.Abs(to.y - from.y)}, traces)
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
