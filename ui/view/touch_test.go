package view

// This file tries the other button, a finger that stays, and one that is not meant.

import (
	"math"
	"strings"
	"testing"
)

func placeOf(t testing.TB, v *View, name string) (x, y float64) {
	t.Helper()
	for _, p := range v.Report().Points {
		if p.Name == name {
			return p.X, p.Y
		}
	}
	t.Fatalf("%s is not in the drawing", name)
	return 0, 0
}

func controlOf(t testing.TB, v *View, id string) Control {
	t.Helper()
	for _, c := range v.Report().Controls {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("there is no control %s", id)
	return Control{}
}

// A finger that stays asks what is here: a waiting lead is not placed, and a button is not pressed when the finger lifts.
func TestAFingerThatStays(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Touch: true})
	clickControl(t, v, "lead-a")
	x, y := placeOf(t, v, "PC1.1")
	stay := func(x, y float64) {
		v.Pointer(Pointer{Kind: Press, X: x, Y: y, Touch: true})
		v.Pointer(Pointer{Kind: Press, X: x, Y: y, Touch: true, Button: 1})
		v.Pointer(Pointer{Kind: Release, X: x, Y: y, Touch: true, Button: 1})
	}
	lift := func(x, y float64) { v.Pointer(Pointer{Kind: Release, X: x, Y: y, Touch: true}) }
	stay(x, y)
	lift(x, y)
	r := v.Report()
	if r.Selected != "PC1.1" || r.LeadA != "" || !v.popped {
		t.Errorf("held on PC1.1: selected %q, lead A on %q, the little menu open: %v", r.Selected, r.LeadA, v.popped)
	}
	swap := controlOf(t, v, "help")
	stay(swap.X, swap.Y)
	if v.Scene(); v.hover != "help" {
		t.Error("a button that is held does not say what it is called")
	}
	lift(swap.X, swap.Y)
	if v.menu != "" {
		t.Error("a button that was asked for its name was pressed")
	}
}

// A second finger makes a pinch of it: what the first one lies on is not pressed.
func TestAFingerThatIsNotMeant(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Touch: true})
	help := controlOf(t, v, "help")
	v.Pointer(Pointer{Kind: Press, X: help.X, Y: help.Y, Touch: true})
	v.Pointer(Pointer{Kind: Leave, Touch: true})
	v.Pointer(Pointer{Kind: Release, X: help.X, Y: help.Y, Touch: true})
	if v.menu != "" {
		t.Error("help opened under a finger that was not meant")
	}
}

// The middle button moves the drawing, and selects nothing.
func TestMiddleButtonMovesTheDrawing(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	placeOf(t, v, "PC1.1")
	v.zoomBy(2, 400, 300)
	x, y := placeOf(t, v, "PC1.1")
	v.Pointer(Pointer{Kind: Press, X: x, Y: y, Button: 2})
	v.Pointer(Pointer{Kind: Move, X: x - 30, Y: y - 20, Button: 2})
	v.Pointer(Pointer{Kind: Release, X: x - 30, Y: y - 20, Button: 2})
	if nx, ny := placeOf(t, v, "PC1.1"); nx == x && ny == y || v.Report().Selected != "" {
		t.Errorf("PC1.1 went from %g,%g to %g,%g; selected %q", x, y, nx, ny, v.Report().Selected)
	}
}

// What is pressed again and again goes on while it is held, by mouse and by finger, asks for frames meanwhile, and stops when
// it is let go; anything else is pressed once.
func TestHeldButtonsRepeat(t *testing.T) {
	for _, touch := range []bool{false, true} {
		v := open(t, "orchard-sprayer", Options{Touch: touch})
		v.placeLead(0, "PC1.2")
		v.showTab(tabScope)
		keys(v, ".")
		v.setTrigger(func(s *scope) { s.sweep, s.level = 2, 0 })
		clickControl(t, v, "scope-sweep")
		const frame = 1.0 / 16 // of which the first press is the seventh, and each later one two after that
		hold := func(id string, frames int, slip float64) (busy bool) {
			c := controlOf(t, v, id)
			v.Pointer(Pointer{Kind: Press, X: c.X, Y: c.Y, Touch: touch})
			for i := range frames {
				if i == 10 {
					v.Pointer(Pointer{Kind: Move, X: c.X, Y: c.Y + slip, Touch: touch})
				}
				if busy = v.Tick(frame); touch && i == 8 { // a finger that stays asks what is here
					v.Pointer(Pointer{Kind: Press, X: c.X, Y: c.Y, Touch: true, Button: 1})
				}
				v.Scene()
			}
			v.Pointer(Pointer{Kind: Release, X: c.X, Y: c.Y + slip, Touch: touch})
			return busy
		}
		step := v.clock.scope.levelStep()
		steps := func() float64 { return math.Round(v.clock.scope.level / step) }
		if busy := hold("level-up", 16, 0); !busy || steps() != 5 || v.Tick(frame) {
			t.Errorf("touch %v: held for a second the level went up %g steps, and frames were asked for: %v", touch, steps(), busy)
		}
		if hold("level-down", 2, 0); steps() != 4 {
			t.Errorf("touch %v: after a short press on the other one it stands at %g steps", touch, steps())
		}
		if hold("level-up", 16, 200); steps() != 6 {
			t.Errorf("touch %v: slid off, it goes on to %g steps", touch, steps())
		}
		keys(v, "Escape")
		if hold("tab:log", 16, 0); v.now.tab != tabLog && !touch {
			t.Error("a tab that is held for a second is not chosen when it is let go")
		}
	}
}

// News goes with the next press or key, whatever that does; the pointer's way over it leaves it.
func TestNewsGoes(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	for what, do := range map[string]func(){
		"a press":   func() { click(v, v.plan.area.right()-3, v.plan.area.foot()-3) },
		"a key":     func() { keys(v, "Tab") },
		"the mouse": func() { v.Pointer(Pointer{Kind: Move, X: 300, Y: 300}) },
	} {
		v.tell("It is saved.")
		do()
		if gone := v.Report().Note == ""; gone == (what == "the mouse") {
			t.Errorf("after %s the news is gone: %v", what, gone)
		}
	}
	if keys(v, "Escape", "ctrl+y"); !strings.Contains(v.Report().Note, "redo") {
		t.Errorf("what a key says is not there: %q", v.Report().Note)
	}
}
