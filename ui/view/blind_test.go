package view

// This file looks for what a hidden case must not say.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"underload/sim/meter"
	"underload/ui/drawing"
)

// A rusty stud is seen by whoever looks at it, and by nobody else.
func TestNothingIsSeenBeforeItIsLookedAt(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{"G2 rust 0.5 ohm"}, Hide: true})
	v.set("KEY=run")
	said := func() bool {
		v.dirty = true
		return slices.ContainsFunc(v.Scene().Shapes, func(s drawing.Shape) bool { return strings.Contains(s.Words, "G2:") })
	}
	if said() || slices.ContainsFunc(v.now.live.noticed, func(line string) bool { return strings.Contains(line, "G2") }) {
		t.Errorf("before anybody has looked it says %q", v.now.live.noticed)
	}
	v.choose("look")
	r, err := meter.Take(v.now.bench, meter.Request{With: "look"})
	if err != nil || !slices.ContainsFunc(r.Lines, func(line string) bool { return strings.HasPrefix(line, "G2:") }) {
		t.Fatalf("a look finds %q (%v)", r.Lines, err)
	}
	if !said() {
		t.Error("a look at all of it does not show what it finds")
	}
}

// Leads on both tops of a fuse show what the fuse loses, and nothing of what its slot loses behind them.
func TestNobodySeesBehindALead(t *testing.T) {
	v := open(t, "street-sweeper", Options{Faults: []string{"F4.out burnt 45 mohm"}, Hide: true})
	v.set("KEY=run")
	v.set("FAN=on")
	v.placeLead(0, "F4.in")
	v.placeLead(1, "F4.out")
	v.selectPick(pick{drawing.OnPart, "FAN"})
	reading, r := *v.now.live.reading.Value, v.Report()
	found := false
	for _, st := range r.Staircase.Steps {
		switch {
		case st.UnderLoad.Missing && st.Light.Missing:
		case st.Place != "F4" || st.Load || math.Abs(st.UnderLoad.Lost-reading) > 1e-3:
			t.Errorf("%s shows %.3f V lost; the leads read %.3f V, and nothing else was probed", st.Place, st.UnderLoad.Lost, reading)
		default:
			found = true
		}
	}
	if !found || r.Staircase.Worst() != nil {
		t.Errorf("F4 is shown: %v; the worst step is %v", found, r.Staircase.Worst())
	}
}
