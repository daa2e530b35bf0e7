package view

// This file composes the window: every panel paints itself and says what in it can be pressed.

import (
	"math"

	"underload/ui/drawing"
)

// control is something that can be pressed, dragged or moved by keys.
type control struct {
	id    string
	label string
	at    box
	off   string // why it cannot be pressed now
	on    bool
	bare  bool // it bears a sign and no words: its label is told on hover
	again bool // held down, it is pressed again and again
	do    func()
	pull  func(share float64) // an upright handle that changes nothing of the circuit: where on it, from 0 at the foot to 1
	slide func(share float64) // a slider: where on it, from 0 to 1
	keys  func(k Key) bool    // keys of its own; true: it took the key
}

// compose paints everything anew where something has changed.
func (v *View) compose() {
	if !v.dirty && v.scene != nil {
		return
	}
	v.canvas = canvas{p: palettes[v.theme], shapes: make([]drawing.Shape, 0, 1024)}
	v.controls, v.shields = v.controls[:0], v.shields[:0]
	v.hover = ""
	v.topStrip()
	v.drawingArea()
	v.bottomPanel()
	if !v.plan.narrow {
		v.benchColumn()
	}
	v.overDrawing()
	if v.plan.narrow && v.drawer {
		v.openDrawer()
	}
	if v.menu != "" {
		v.openMenu()
	}
	v.tips()
	v.focusRing()
	scene := &drawing.Scene{Width: v.plan.width, Height: v.plan.height, Ground: v.canvas.p.paper, Shapes: v.canvas.shapes}
	if v.plan.magnify != 1 {
		magnify(scene, v.plan.magnify)
	}
	scene.Width, scene.Height = v.width, v.height
	v.scene = scene
	v.dirty, v.unseen = false, true
}

// magnify makes a composed window larger, for screens with room.
func magnify(s *drawing.Scene, by float64) {
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		spots := make([]drawing.Spot, len(sh.Spots))
		for j, spot := range sh.Spots {
			spots[j] = at(spot.X*by, spot.Y*by)
		}
		dash := make([]float64, len(sh.Dash))
		for j, d := range sh.Dash {
			dash[j] = d * by
		}
		sh.Spots, sh.Dash = spots, dash
		sh.Radius *= by
		sh.Width *= by
		sh.Size *= by
	}
}

// control enters something that can be pressed, and reports how it looks now.
func (v *View) control(c control) look {
	v.controls = append(v.controls, c)
	over := c.at.holds(v.pointer[0], v.pointer[1]) && v.grab.kind == grabNone
	l := look{over: over && c.off == "", down: v.pressed == c.id && over, off: c.off != "", on: c.on}
	if over {
		v.hover = c.id
	}
	return l
}

// look is how a control is painted.
type look struct{ over, down, off, on bool }

// target is how high a control is that leads or acts are placed with.
func (v *View) target() float64 { return 44 }

// row is the height of ordinary controls.
func (v *View) row() float64 {
	if v.o.Touch {
		return 44
	}
	return 36
}

// find gives the control with an id, or nil.
func (v *View) find(id string) *control {
	for i := range v.controls {
		if v.controls[i].id == id {
			return &v.controls[i]
		}
	}
	return nil
}

// focusRing shows where keys go.
func (v *View) focusRing() {
	if !v.ring || v.focus == "" {
		return
	}
	c := v.find(v.focus)
	if c == nil {
		return
	}
	b := c.at.inset(-3)
	if c.id == idDrawing {
		b = c.at.inset(2)
	}
	v.canvas.frame(b, 8, 2, v.canvas.p.accent, 0)
}

// tips says beside a control that cannot be pressed why not, while the pointer or the focus is on it.
func (v *View) tips() {
	var c *control
	if v.hover != "" {
		c = v.find(v.hover)
	} else if v.ring {
		c = v.find(v.focus)
	}
	switch {
	case c == nil:
		v.sumTip()
	case c.off != "" && c.bare:
		v.tip(c.at, c.label+": "+c.off)
	case c.off != "":
		v.tip(c.at, c.off)
	case c.bare:
		v.tip(c.at, c.label)
	}
}

// sumTip says what a row of the ledger adds up to, while the pointer is on its name.
func (v *View) sumTip() {
	if v.step < 0 && v.sum.words != "" {
		v.tip(v.sum.at, v.sum.words)
	}
}

// sum is what a row of the ledger adds up to.
type sum struct {
	at    box
	words string
}

// tip paints a few words below a box, or above where there is no room.
func (v *View) tip(by box, words string) {
	cv := &v.canvas
	lines := wrap(words, 13, false, 260, 4)
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, textWidth(line, 13, false))
	}
	b := box{by.midX() - wide/2 - 10, by.foot() + 6, wide + 20, float64(len(lines))*18 + 12}
	if b.foot() > v.plan.height-4 {
		b.y = by.y - 6 - b.h
	}
	b.x = math.Round(min(max(b.x, 4), v.plan.width-b.w-4))
	cv.fill(box{b.x, b.y + 2, b.w, b.h}, 6, cv.p.shadow)
	cv.frame(b, 6, 1, cv.p.line, cv.p.panel)
	for i, line := range lines {
		cv.text(b.x+10, b.y+6+float64(i)*18+13.5, style{size: 13, fill: cv.p.ink}, line)
	}
}
