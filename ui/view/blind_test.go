package view

// This file looks for what a hidden case must not say.

import (
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
