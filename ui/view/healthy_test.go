package view

// This file tries the healthy circuit in motion: what stands beside a reading is what a run without the fault gives at the
// same instant.

import (
	"math"
	"strings"
	"testing"

	"underload/sim"
	"underload/sim/meter"
)

// healthyAt is the same case on a run of its own, without faults.
func healthyAt(t *testing.T, with string, until float64, acts ...timed) float64 {
	t.Helper()
	b, err := sim.New(example(t, "orchard-sprayer"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := meter.Move(r, b, meter.Request{With: with, Red: "PC1.1", Black: "C14.4.a"})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range acts {
		if err := r.At(a.at, a.text); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.Advance(until, nil); err != nil {
		t.Fatal(err)
	}
	return *m.Reading().Value
}

func TestHealthyBesideAReadingInTime(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "C14.4.a")
	v.choose("load-lamp")
	keys(v, "k")
	pass(v, 30)
	v.set("KEY=run")
	pass(v, 30)
	keys(v, "k")
	holds := func(acts ...timed) {
		t.Helper()
		r := v.Report()
		if r.Reading == nil || r.Reading.Healthy == nil {
			t.Fatalf("at %g s nothing stands beside the reading %+v", r.Time.Seconds, r.Reading)
		}
		if want := healthyAt(t, "load-lamp", r.Time.Seconds, acts...); math.Abs(*r.Reading.Healthy-want) > 2e-3*math.Abs(want) {
			t.Errorf("at %g s the healthy circuit has %g V on the screen, %g V without one", r.Time.Seconds, *r.Reading.Healthy, want)
		}
	}
	turned := timed{0.5, "KEY=run"}
	holds(turned)
	if r := v.Report().Reading; math.Abs(*r.Value-*r.Healthy) < 1 {
		t.Errorf("the loose ground does not show: %g V, healthy %g V", *r.Value, *r.Healthy)
	}
	v.layFault("C14.4", "C14.4 spread 0.5 ohm") // which the healthy circuit does not hear of
	keys(v, ".", ".")
	holds(turned)
	v.mend("C14.4")
	keys(v, ".", "]", ".", ".", ".", ".", "[") // until PC1 is up again
	holds(turned)
	if r := v.Report().Reading; math.Abs(*r.Value-*r.Healthy) > 0.1 {
		t.Errorf("mended, it reads %g V, healthy %g V", *r.Value, *r.Healthy)
	}
	keys(v, "]", ",", ",", ",", "[", ",")
	holds(turned)
	keys(v, "ctrl+z", "ctrl+z", ".")
	holds(timed{0.5, "KEY=run"})
}

// Where the healthy circuit takes more steps than there is time for, the clock waits for it, and never shows two instants.
func TestTheClockWaitsForTheHealthyCircuit(t *testing.T) {
	v := open(t, "snow-groomer", Options{Faults: []string{"KEY dead"}})
	v.placeLead(0, "BATT.pos")
	v.placeLead(1, "BATT.neg")
	v.startTime()
	v.set("KEY=crank") // dead, it turns nothing: long steps
	v.setPace(2)
	keys(v, "k")
	for range 20 {
		v.Tick(1.0 / 60)
		if r := v.Report(); r.Reading.Healthy == nil {
			t.Fatalf("at %g s nothing stands beside the reading", r.Time.Seconds)
		}
	}
	waited := v.clock.healthy.run.Seconds() < v.clock.run.Seconds()
	keys(v, "k")
	if r := v.Report(); r.Reading.Healthy == nil || !v.clock.healthy.inStep(r.Time.Seconds) || math.Abs(*r.Reading.Healthy-*r.Reading.Value) < 0.5 {
		t.Errorf("held at %g s: %+v (it had to wait: %v)", r.Time.Seconds, r.Reading, waited)
	}
}

// Undoing and redoing what changes only the leads or the instrument, while time runs, brings the instrument on the run to
// where the screen has it.
func TestUndoOfLeadsInTime(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.set("KEY=run")
	v.placeLead(0, "B1.pos")
	v.placeLead(1, "B1.neg")
	keys(v, ".", ".")
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	v.choose("load-lamp")
	keys(v, ".")
	holds := func(what, with, a, b string) {
		t.Helper()
		keys(v, ".")
		r := v.Report()
		if r.Reading == nil || r.Reading.Instrument != with || r.Reading.Red != a || r.Reading.Black != b || r.LeadA != a || r.LeadB != b {
			t.Fatalf("%s: leads on %s and %s, the reading is %+v", what, r.LeadA, r.LeadB, r.Reading)
		}
		if on := v.clock.run.Attached(); len(on) != 1 || on[0].Red != a || on[0].Black != b || (on[0].Law != nil) != (with == "load-lamp") {
			t.Errorf("%s: on the run is %+v", what, on)
		}
		if want := math.Abs(says(t, v.clock.run, a+" against "+b)); math.Abs(*r.Reading.Value-want) > 1e-9 {
			t.Errorf("%s: it reads %g V, the run has %g V", what, *r.Reading.Value, want)
		}
	}
	holds("before", "load-lamp", "PC1.1", "PC1.8")
	keys(v, "ctrl+z")
	holds("instrument undone", "volts", "PC1.1", "PC1.8")
	keys(v, "ctrl+z")
	holds("lead undone", "volts", "PC1.1", "B1.neg")
	keys(v, "ctrl+y", "ctrl+y")
	holds("both redone", "load-lamp", "PC1.1", "PC1.8")
	v.set("SW3=on")
	holds("after another act", "load-lamp", "PC1.1", "PC1.8")
	keys(v, "ctrl+z", "ctrl+z")
	holds("act and instrument undone", "volts", "PC1.1", "PC1.8")
	keys(v, "ctrl+y", "ctrl+y")
	holds("redone", "load-lamp", "PC1.1", "PC1.8")
	if r := v.Report(); r.Positions["SW3"] != "on" {
		t.Errorf("redone, SW3 is %s", r.Positions["SW3"])
	}
}

// Stepping back to the very instant of an act leaves it done, on the healthy circuit too.
func TestStepBackToAnAct(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	keys(v, ".", ".", ".")
	v.set("KEY=run")
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	v.choose("load-lamp")
	before := *v.Report().Reading
	for range 3 {
		keys(v, ".", ".", ".", ",", ",", ",")
		r := v.Report()
		if r.Positions["KEY"] != "run" || r.Reading == nil || r.Reading.Healthy == nil {
			t.Fatalf("back at the act the key is at %s, and the reading is %+v", r.Positions["KEY"], r.Reading)
		}
		if math.Abs(*r.Reading.Value-*before.Value) > 1e-6 || math.Abs(*r.Reading.Healthy-*before.Healthy) > 1e-6 {
			t.Errorf("back at the act it reads %g V, healthy %g V; then it was %g V and %g V", *r.Reading.Value, *r.Reading.Healthy, *before.Value, *before.Healthy)
		}
	}
}

// Two acts at one instant are undone one by one, and done again, on the circuit in motion and on the healthy one as on the
// screen.
func TestUndoOfActsAtOneInstant(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.placeLead(0, "PC1.1")
	keys(v, ".", ".", ".")
	v.set("KEY=run")
	v.placeLead(1, "PC1.8")
	v.set("SW3=on")
	holds := func(what, key, lamp string) {
		t.Helper()
		if r := v.Report(); r.Positions["KEY"] != key || r.Positions["SW3"] != lamp {
			t.Errorf("%s the screen says KEY=%s, SW3=%s", what, r.Positions["KEY"], r.Positions["SW3"])
		}
		for name, run := range map[string]*sim.Run{"the circuit": v.clock.run, "the healthy one": v.clock.healthy.run} {
			if k, l := run.State(v.c.Part("KEY")).Position, run.State(v.c.Part("SW3")).Position; k != key || l != lamp {
				t.Errorf("%s: %s has KEY=%s, SW3=%s, want %s and %s", what, name, k, l, key, lamp)
			}
		}
	}
	holds("at first", "run", "on")
	for range 2 {
		keys(v, "ctrl+z")
		holds("one undone", "run", "off")
		keys(v, "ctrl+z", "ctrl+z")
		holds("both undone", "off", "off")
		keys(v, "ctrl+y", "ctrl+y")
		holds("one done again", "run", "off")
		keys(v, "ctrl+y")
		holds("both done again", "run", "on")
		keys(v, ".", ".")
	}
}

// Where the healthy circuit is lost it is said once, readings stand alone, and gauges have no mark of it; an instrument that is
// put away is off the healthy circuit too.
func TestTheHealthyCircuitIsLost(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.seat(SetFaults)
	v.set("KEY=run")
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	v.choose("load-lamp")
	keys(v, ".")
	alert := func() bool { return v.now.live.showing.Levels["C14.4.a"].Alert }
	if len(v.clock.healthy.run.Attached()) != 1 || !alert() {
		t.Errorf("on the healthy circuit is %v; the gauge before the loose ground is marked: %v", v.clock.healthy.run.Attached(), alert())
	}
	v.choose("look")
	if on := v.clock.healthy.run.Attached(); len(on) != 0 {
		t.Errorf("put away, on the healthy circuit is %v", on)
	}
	v.choose("volts")
	v.clock.healthy.lose()
	keys(v, ".")
	r := v.Report()
	if !strings.Contains(r.Note, "healthy") || r.Reading == nil || r.Reading.Healthy != nil {
		t.Errorf("lost: it says %q, and reads %+v", r.Note, r.Reading)
	}
	if level := v.now.live.showing.Levels["C14.4.a"]; level.Healthy >= 0 || alert() {
		t.Errorf("the gauge shows %+v", level)
	}
	v.tell("")
	keys(v, ".")
	if note := v.Report().Note; note != "" {
		t.Errorf("it is said again: %q", note)
	}
}
