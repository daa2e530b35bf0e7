package view

// This file tries the bench of a narrow window.

import (
	"slices"
	"strings"
	"testing"

	"underload/ui/drawing"
)

// The drawer opens over the drawing, makes room for a lead to be placed, and says shut what it reads open.
func TestDrawer(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.Resize(800, 600)
	told := func() bool {
		return slices.ContainsFunc(v.Scene().Shapes, func(s drawing.Shape) bool { return strings.HasPrefix(s.Words, "The complaint: ") })
	}
	if !told() {
		t.Error("with the drawer shut nobody is told the complaint")
	}
	work(v)
	if told() {
		t.Error("the complaint stands over the drawing for good")
	}
	shut := v.plan.area.w
	if label := controlOf(t, v, idDrawer).Label; !strings.Contains(label, "Load lamp") || !strings.Contains(label, "dim") {
		t.Errorf("shut it says %q", label)
	}
	keys(v, "d")
	if v.plan.area.w != shut {
		t.Error("the drawing is laid out anew for the drawer")
	}
	for _, c := range v.Report().Controls {
		if c.ID == "magnify" || c.ID == "zoom-in" {
			t.Errorf("%s can be pressed under the drawer", c.ID)
		}
	}
	clickControl(t, v, "lead-a")
	if v.drawer || v.armed != 1 {
		t.Errorf("with lead A in hand the drawer is open: %v, the lead waits: %v", v.drawer, v.armed == 1)
	}
	clickPoint(t, v, "F7.in")
	if r := v.Report(); r.LeadA != "F7.in" {
		t.Errorf("lead A is on %q", r.LeadA)
	}
	clickControl(t, v, idDrawer)
	keys(v, "Escape")
	if v.drawer {
		t.Error("Escape leaves the drawer open")
	}
	v.Resize(1440, 900)
	if v.Scene(); v.find(idDrawer) != nil {
		t.Error("a wide window has a drawer")
	}
}
