package view

// This file marks the step that loses most: thick, bracketed, with words that stand where no trace is.

import (
	"strings"

	"underload/circuit/quantity"
	"underload/ui/drawing"
	"underload/ui/report"
	"underload/ui/stairs"
)

// cliff marks what loses most: thick, bracketed, with its volts, milliohms and amps.
func (v *View) cliff(c *stairs.Column, top, foot float64, plot box) {
	p := v.canvas.p
	left, right := c.X+c.W/2, c.X+c.W/2
	if c.Sloped() {
		left, right = c.X, c.X+c.W
	}
	top, foot = max(top, plot.y), min(foot, plot.foot())
	v.canvas.line(4.5, p.alert, at(left, top), at(right, foot))
	said := v.cliffSaid(c, left, right, plot)
	x, way, anchor := right+14, 1.0, drawing.Start
	if said.flip {
		x, way, anchor = left-14, -1, drawing.End
	}
	v.canvas.line(1.8, p.alert, at(x-way*6, top), at(x, top), at(x, foot), at(x-way*6, foot))
	tall := 22 + 18*float64(len(said.lines))
	y := (top+foot)/2 - tall/2
	if foot-top < tall+8 { // beside a low step the words go where no trace is
		if y = foot + 12; top > plot.midY() {
			y = top - tall - 8
		}
	}
	y = min(max(y, plot.y+4), plot.foot()-tall-4)
	x += way * 10
	v.canvas.text(x, y+17, style{size: 17, bold: true, fill: p.alert, anchor: anchor}, said.head)
	for i, line := range said.lines {
		v.canvas.text(x, y+36+float64(i)*18, style{size: 13, fill: p.ink, anchor: anchor}, line)
	}
}

// said is the words beside a cliff.
type said struct {
	head  string
	lines []string
	flip  bool // left of it
}

// cliffSaid finds the fullest words that fit right of a cliff; where none do they go left of it.
func (v *View) cliffSaid(c *stairs.Column, left, right float64, plot box) said {
	l := c.Level(stairs.LoadPass)
	volts := quantity.Format(l.Lost, quantity.Volts, 3)
	mohm := strings.ReplaceAll(report.Milliohms(l), "\u202f", "\u00a0") + "\u00a0mΩ"
	choices := []said{
		{head: volts + " lost", lines: []string{mohm + " at " + ampText(l.Amps), "healthy: " + report.Milliohms(c.Level(stairs.HealthyPass)) + "\u00a0mΩ"}},
		{head: volts + " lost", lines: []string{mohm, "at " + ampText(l.Amps)}},
		{head: volts, lines: []string{mohm}},
	}
	if v.ownCurrent() {
		choices = []said{{head: volts + " lost"}, {head: volts}}
	} else if l.Ohms == 0 {
		choices = []said{{head: columnName(c) + " is open", lines: []string{"all " + volts + " stand across it"}}, {head: "open", lines: []string{volts}}}
	}
	for i := range choices {
		s := &choices[i]
		if plot.h < 110 {
			s.lines = s.lines[:min(1, len(s.lines))]
		}
		wide := textWidth(s.head, 17, true)
		for _, line := range s.lines {
			wide = max(wide, textWidth(line, 13, false))
		}
		if right+24+wide <= plot.right() {
			return *s
		}
	}
	short := choices[len(choices)-1]
	short.flip = true
	return short
}
