package view

// This file paints the controls that every panel uses.

import (
	"underload/ui/drawing"
)

// Kinds of buttons.
type dress int

const (
	ordinary dress = iota
	primary
	quiet
)

// button paints a button with words in its middle.
func (v *View) button(c control, d dress) {
	l := v.control(c)
	b, ink := v.plate(c.at, l, d)
	size := 14.0
	words := shorten(c.label, size, d == primary, b.w-12)
	v.canvas.text(b.midX(), middle(b, size), style{size: size, bold: d == primary, fill: ink, anchor: drawing.Middle}, words)
}

// plate paints the ground of a control and gives its box, moved while it is held down, and the ink for what stands on it.
func (v *View) plate(b box, l look, d dress) (box, colour) {
	p := v.canvas.p
	if l.down {
		b.y++
	}
	stroke, fill, ink := p.line, p.panel, p.ink
	switch {
	case l.off:
		v.canvas.frame(b, 6, 1, p.line, 0, 4, 3)
		return b, p.ink3
	case l.on || d == primary:
		stroke, fill, ink = p.accent, p.accent, p.accentText
	case l.over:
		stroke = p.ink
	case d == quiet:
		stroke, fill = p.hair, p.panel
	}
	v.canvas.frame(b, 6, 1, stroke, fill)
	return b, ink
}

// segments paints a row of exclusive choices; chosen is the one that is on.
func (v *View) segments(id string, b box, names []string, labels []string, chosen string, off map[string]string, pick func(name string)) {
	cv := &v.canvas
	cv.frame(b, 6, 1, cv.p.line, cv.p.sunk)
	widths, sum := make([]float64, len(labels)), 0.0
	for i, label := range labels {
		widths[i] = textWidth(label, 14, false) + 20
		sum += widths[i]
	}
	spare := (b.w - sum) / float64(max(1, len(labels)))
	x := b.x
	for i, name := range names {
		w := widths[i] + spare
		c := control{id: id + ":" + name, label: labels[i], at: box{x, b.y, w, b.h}, on: name == chosen, do: func() { pick(name) }, off: off[name]}
		l := v.control(c)
		in := c.at.inset(2)
		ink := cv.p.ink
		switch {
		case l.on:
			cv.fill(in, 5, cv.p.accent)
			ink = cv.p.accentText
		case l.off:
			ink = cv.p.ink3
		case l.over:
			cv.frame(in, 5, 1, cv.p.ink, cv.p.panel)
		}
		if i > 0 && !l.on && names[i-1] != chosen {
			cv.line(1, cv.p.hair, at(x+0.5, b.y+8), at(x+0.5, b.foot()-8))
		}
		words := shorten(labels[i], 14, l.on, w-6)
		cv.text(in.midX(), middle(in, 14), style{size: 14, bold: l.on, fill: ink, anchor: drawing.Middle}, words)
		x += w
	}
}

// segmentsWidth is the room that a row of choices asks for.
func segmentsWidth(labels []string) float64 {
	sum := 0.0
	for _, label := range labels {
		sum += max(textWidth(label, 14, true)+22, 44)
	}
	return sum
}

// opener paints a button that opens a menu: words and a small wedge.
func (v *View) opener(id, label, menu string, b box, before func(b box, ink colour) float64) {
	c := control{id: id, label: label, at: b, on: false, do: func() { v.toggleMenu(menu) }}
	l := v.control(c)
	l.over = l.over || v.menu == menu
	in, ink := v.plate(b, l, ordinary)
	x := in.x + 12
	if before != nil {
		x += before(in, ink)
	}
	v.canvas.text(x, middle(in, 14), style{size: 14, fill: ink}, shorten(label, 14, false, in.right()-28-x))
	v.wedge(in.right()-18, in.midY(), ink)
}

// wedge marks what opens.
func (v *View) wedge(x, y float64, ink colour) {
	v.canvas.line(1.8, ink, at(x-4, y-2), at(x, y+2.5), at(x+4, y-2))
}

func (v *View) toggleMenu(name string) {
	if v.menu == name {
		name = ""
	}
	v.menu, v.openedBy = name, v.focus
	delete(v.scroll, name) // lists begin at their beginning
	v.popped = false
	v.dirty = true
}

// iconButton paints a button with a sign and no words.
func (v *View) iconButton(c control, paint func(b box, ink colour)) {
	c.bare = true
	l := v.control(c)
	b, ink := v.plate(c.at, l, ordinary)
	paint(b, ink)
}

// heading writes a small heading.
func (v *View) heading(x, y float64, words string) {
	v.canvas.text(x, y, style{size: 13, fill: v.canvas.p.ink2}, words)
}

// rule draws a hairline across a box's width.
func (v *View) rule(x0, x1, y float64) {
	v.canvas.line(1, v.canvas.p.hair, at(x0, y+0.5), at(x1, y+0.5))
}
