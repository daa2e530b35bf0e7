package view

// This file is what a pointer does.

import (
	"math"

	"underload/ui/drawing"
)

// grabKind says what a pointer that is held down moves.
type grabKind int

const (
	grabNone    grabKind = iota
	grabControl          // a button, until it is let go
	grabDrawing          // the drawing
	grabSlider
	grabPull
	grabSpring // a switch that springs back when it is let go
)

// grab is a pointer that is held down.
type grab struct {
	kind         grabKind
	id           string
	fromX, fromY float64
	moved        bool
	touch        bool
	wait         float64 // seconds until a control that is held is pressed again
	again        bool    // it was
}

// How long a control that is pressed again and again is held before that begins, and the time between, in seconds.
const (
	againAfter = 0.4
	againEvery = 0.1
)

// slack is how far a pointer may slip before a click becomes a drag, px.
const slack = 5.0

// Pointer tells what a pointer did.
func (v *View) Pointer(p Pointer) {
	v.compose()
	x, y := p.X/v.plan.magnify, p.Y/v.plan.magnify
	before := v.pointer
	v.pointer = [2]float64{x, y}
	switch p.Kind {
	case Press:
		switch p.Button {
		case 0:
			v.press(x, y, p)
		case 1:
			v.ask(x, y, p.Touch)
		case 2:
			v.take(x, y)
		}
	case Move:
		v.move(x, y, x-before[0], y-before[1], p.Touch)
	case Release:
		if p.Button != 1 {
			v.release(x, y, p.Touch)
		}
	case Wheel:
		v.wheel(x, y, p)
	case Pinch:
		if v.plan.area.holds(x, y) && v.menu == "" && p.Scale > 0 {
			v.area.panX += p.DX / v.plan.magnify
			v.area.panY += p.DY / v.plan.magnify
			v.zoomBy(p.Scale, x, y)
		}
	case Leave:
		v.drop()
		v.pointer = [2]float64{-1, -1}
		v.light(pick{}, 0)
		v.dirty = v.dirty || v.hover != ""
	}
}

// under is the control under a place: the one painted last.
func (v *View) under(x, y float64) *control {
	for i := len(v.controls) - 1; i >= 0; i-- {
		c := &v.controls[i]
		if c.id != idDrawing && c.at.holds(x, y) {
			return c
		}
	}
	return nil
}

func (v *View) shielded(x, y float64) bool {
	for _, b := range v.shields {
		if b.holds(x, y) {
			return true
		}
	}
	return false
}

func (v *View) press(x, y float64, p Pointer) {
	v.ring, v.note = false, "" // news is read by now
	v.dirty = true
	v.grab = grab{fromX: x, fromY: y, touch: p.Touch}
	c := v.under(x, y)
	switch {
	case c != nil && c.slide != nil && c.off == "":
		v.focus = c.id
		v.beginSlide(c)
		v.slideTo(c, x)
	case c != nil && c.pull != nil && c.off == "":
		v.focus, v.grab.kind, v.grab.id = c.id, grabPull, c.id
	case c != nil && v.springs(c):
	case c != nil:
		v.grab.kind, v.grab.id, v.grab.wait, v.pressed = grabControl, c.id, againAfter, c.id
	case v.shielded(x, y):
	case v.menu != "":
		v.menu = ""
	case v.plan.area.holds(x, y):
		v.grab.kind = grabDrawing
	}
}

// ask is the other button, or a finger that stays: what is here? On the drawing it opens the little menu, even while a
// lead waits for its point; a control says what it is called and is not pressed. A slider that is held stays held, and so
// does what is pressed again and again.
func (v *View) ask(x, y float64, touch bool) {
	if v.grab.kind == grabSlider || v.repeats() != nil {
		return
	}
	v.drop()
	v.ring, v.dirty = false, true
	if v.menu != "" || v.under(x, y) != nil || v.shielded(x, y) || !v.plan.area.holds(x, y) {
		return
	}
	v.armed, v.focus = 0, idDrawing
	hit, ok := v.hitAt(x, y, touch)
	if !ok {
		hit = pick{}
	}
	if hit.kind == drawing.OnPoint {
		v.point = hit.name
	}
	v.selectPick(hit)
}

// take is the middle button: it moves the drawing, whatever lies under it.
func (v *View) take(x, y float64) {
	if v.menu == "" && v.plan.area.holds(x, y) && !v.shielded(x, y) && v.grab.kind == grabNone {
		v.grab = grab{kind: grabDrawing, fromX: x, fromY: y, moved: true}
		v.dirty = true
	}
}

// repeats is the control that is held down and pressed again and again, or nil.
func (v *View) repeats() *control {
	if v.grab.kind != grabControl {
		return nil
	}
	if c := v.find(v.grab.id); c != nil && c.again && c.off == "" {
		return c
	}
	return nil
}

// pressAgain lets time pass for a control that is held, and reports whether one is.
func (v *View) pressAgain(seconds float64) bool {
	c := v.repeats()
	if c == nil {
		return false
	}
	if v.grab.wait -= seconds; v.grab.wait <= 0 && v.under(v.pointer[0], v.pointer[1]) == c {
		v.grab.wait, v.grab.again = againEvery, true
		v.run(c)
		v.compose()
	}
	return true
}

// drop lets go of what is held without pressing it.
func (v *View) drop() {
	switch v.grab.kind {
	case grabSlider:
		v.endSlide()
	case grabSpring:
		v.springBack()
	}
	if v.grab.kind != grabNone {
		v.dirty = true
	}
	v.grab, v.pressed = grab{}, ""
}

// beginSlide makes an act of a drag: what follows until the pointer is let go belongs to it.
func (v *View) beginSlide(c *control) {
	v.act(func(s *state) error {
		b, err := s.bench.Clone()
		s.bench = b
		return err
	})
	v.grab.kind, v.grab.id = grabSlider, c.id
}

func (v *View) endSlide() {
	v.now.notice()
	v.unkept = true
	if v.clock == nil {
		return
	}
	v.now.did = v.now.broken()
	if err := v.doInTime(&v.now); err != nil {
		v.tell(spoken(err))
	}
	v.follow(&v.now)
	v.settle(v.now)
}

func (v *View) slideTo(c *control, x float64) {
	c.slide(min(1, max(0, (x-c.at.x-12)/(c.at.w-24))))
}

func (v *View) move(x, y, dx, dy float64, touch bool) {
	if math.Abs(x-v.grab.fromX) > slack || math.Abs(y-v.grab.fromY) > slack {
		v.grab.moved = true
	}
	switch v.grab.kind {
	case grabSlider:
		if c := v.find(v.grab.id); c != nil {
			v.slideTo(c, x)
		}
	case grabPull:
		if c := v.find(v.grab.id); c != nil && v.grab.moved {
			c.pull(min(1, max(0, 1-(y-c.at.y)/c.at.h)))
		}
	case grabDrawing:
		if v.grab.moved {
			v.area.panX += dx
			v.area.panY += dy
			v.keepInside()
			v.popped = false
			v.dirty = true
		}
	default:
		v.look(x, y, touch)
	}
}

// look finds what the pointer is over, and paints anew only where that changes something.
func (v *View) look(x, y float64, touch bool) {
	over := ""
	if c := v.under(x, y); c != nil {
		over = c.id
	}
	if over != v.hover {
		v.dirty = true
	}
	lit, step := pick{}, 0
	switch {
	case over != "" || v.menu != "" || v.shielded(x, y):
	case v.plan.area.holds(x, y):
		lit, _ = v.hitAt(x, y, touch)
	case v.panelBox().holds(x, y):
		step = v.columnAt(x, y)
	}
	v.light(lit, step)
}

// light lights something in the drawing and in the staircase.
func (v *View) light(lit pick, step int) {
	if lit != v.lit || step != v.step {
		v.lit, v.step = lit, step
		v.dirty = true
	}
}

func (v *View) release(x, y float64, touch bool) {
	g := v.grab
	v.grab, v.pressed = grab{}, ""
	v.dirty = true
	switch g.kind {
	case grabSlider:
		v.endSlide()
	case grabSpring:
		v.grab = g
		v.springBack()
		v.grab = grab{}
	case grabControl:
		if c := v.under(x, y); c != nil && c.id == g.id && !g.again {
			v.run(c)
		}
	case grabDrawing:
		if !g.moved {
			v.click(x, y, touch)
		}
	}
	v.compose()
	v.look(x, y, touch)
}

// run presses a control.
func (v *View) run(c *control) {
	v.focus = c.id
	if c.off != "" {
		v.tell(c.off)
		return
	}
	if c.do != nil {
		c.do()
	}
}

// click is a press on the drawing: it places a lead that waits for its point, or selects.
func (v *View) click(x, y float64, touch bool) {
	v.focus = idDrawing
	hit, ok := v.hitAt(x, y, touch)
	if !ok {
		v.armed = 0
		v.selectPick(pick{})
		return
	}
	if hit.kind == drawing.OnPoint {
		v.point = hit.name
		if v.armed > 0 {
			v.placeLead(v.armed-1, hit.name)
			return
		}
	}
	if v.now.with == "clamp" && hit.kind == drawing.OnWire && v.now.on == "" {
		v.clampOn(hit.name)
		return
	}
	v.selectPick(hit)
}

// wheel zooms the drawing, or turns a list.
func (v *View) wheel(x, y float64, p Pointer) {
	switch {
	case v.menu == "levers", v.menu == "shelf", v.menu == "scope-a", v.menu == "scope-b":
		v.turnList(v.menu, p.DY)
	case v.menu != "":
	case v.plan.area.holds(x, y):
		v.zoomBy(math.Exp(-p.DY/400), x, y)
	case v.plan.panel.holds(x, y):
		v.turnList(v.now.tab, p.DY)
	case v.plan.bench.holds(x, y):
		v.turnList("faults", p.DY)
	}
}

func (v *View) turnList(list string, by float64) {
	switch {
	case by > 0:
		v.scroll[list]++
	case by < 0:
		v.scroll[list]--
	}
	v.dirty = true
}
