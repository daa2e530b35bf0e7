package view

// This file tries what can be mended, as a trainee who does not see the fault.

import (
	"slices"
	"strings"
	"testing"
)

// mendAt selects a place and presses one of the acts offered there.
func mendAt(t *testing.T, v *View, place, act string) {
	t.Helper()
	v.selectPick(pick{})
	v.selectPick(v.pickOf(place))
	clickControl(t, v, "mend")
	clickControl(t, v, "act:"+act)
}

// A wrong repair changes nothing and is not told apart from the right one; the right one makes the lamp bright. Cleaning
// does not tighten a terminal, and a new part does not mend the harness.
func TestRepairsInABlindCase(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}, Hide: true})
	v.set("KEY=run")
	v.plug("PC1", true)
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	v.choose("load-lamp")
	var said []string
	for _, step := range []struct{ place, act, seen string }{
		{"C14.1", "repair C14.1", "dim"},
		{"C14.4", "clean C14.4", "dim"},
		{"PC1", "replace PC1", "dim"},
		{"G2", "clean G2", "dim"},
		{"W21", "repair W21", "dim"},
		{"C14.4", "repair C14.4", "bright"},
	} {
		mendAt(t, v, step.place, step.act)
		r := v.Report()
		if r.Reading == nil || r.Reading.Seen != step.seen {
			t.Errorf("after %s the load lamp is %v, want %s", step.act, r.Reading, step.seen)
		}
		said = append(said, strings.Replace(r.Note, step.act, "ACT", 1))
	}
	if said = slices.Compact(said); len(said) != 1 || !strings.Contains(said[0], "ACT") {
		t.Errorf("the news tells repairs apart: %q", said)
	}
	again := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}, Hide: true})
	if err := again.Restore(v.Session()); err != nil || again.Report().Reading.Seen != "bright" {
		t.Errorf("the repair was not kept: %v", err)
	}
	v.undo()
	if r := v.Report(); r.Reading.Seen != "dim" {
		t.Errorf("with the repair undone the load lamp is %s", r.Reading.Seen)
	}
}

// Other faults that are opened are not mended by what was done before.
func TestRepairsAreOfTheirCase(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.layFault("C14.4", looseGround)
	v.set("KEY=run")
	v.pickFault("C14.4")
	mendAt(t, v, "C14.4", "repair C14.4")
	if r := v.Report(); len(r.Faults) != 0 {
		t.Fatalf("after the repair the faults are %q", r.Faults)
	}
	v.Open("other.faults", []byte(looseGround+"\n"))
	if r := v.Report(); r.Note != "" {
		t.Error(r.Note)
	}
	if r := v.Report(); len(r.Faults) != 1 || r.Positions["KEY"] != "run" {
		t.Errorf("with the file opened the faults are %q, the key at %s", r.Faults, r.Positions["KEY"])
	}
}

// Every act that a menu offers, at everything that can be selected, is one that the bench takes.
func TestEveryRepairIsTaken(t *testing.T) {
	tried := 0
	for _, name := range []string{"orchard-sprayer", "street-sweeper"} {
		v := open(t, name, Options{})
		seen := map[string]bool{}
		for _, h := range v.strip().Hits {
			for _, r := range v.repairs(pick{h.Kind, h.Name}) {
				if seen[r.act] || r.off != "" {
					continue
				}
				seen[r.act] = true
				b, err := v.now.bench.Clone()
				if err != nil {
					t.Fatal(err)
				}
				if err := b.Mend(r.act); err != nil {
					t.Errorf("%s: %v", r.act, err)
				}
				tried++
			}
		}
	}
	if tried < 50 {
		t.Errorf("only %d repairs are offered", tried)
	}
}

// What opens beside a wire stays where it is while the pointer goes to it.
func TestMenuOfAWireStays(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	for _, h := range v.strip().Hits {
		if h.Name != "W22" {
			continue
		}
		x, y := v.toWindow(h.At)
		click(v, x, y)
		before := controlOf(t, v, "mend")
		v.Pointer(Pointer{Kind: Move, X: before.X, Y: before.Y})
		if after := controlOf(t, v, "mend"); after.X != before.X || after.Y != before.Y {
			t.Errorf("it moved from %g,%g to %g,%g", before.X, before.Y, after.X, after.Y)
		}
		return
	}
	t.Fatal("W22 is not in the drawing")
}
