// Package hands plays one case on any face of the view: in a window, in a browser, or on the view alone. It is used by
// tests only.
package hands

// This file is the case: a terminal is made loose, a lamp says "good", a load shows it, and the resistance is dragged; then
// time runs until it is held. Each reading on the screen is held against the same test made without a screen.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
	"underload/ui/view"
)

// Example is the circuit that the case is played on.
const Example = "orchard-sprayer"

// Face is a place where a view can be seen and touched, in logical px.
type Face interface {
	// Until waits until the screen says something, and gives all that it says then. It fails the test where that never
	// comes.
	Until(what string, says func(view.Report) bool) view.Report
	// Press, Move and Release are of the mouse's main button.
	Press(x, y float64)
	Move(x, y float64)
	Release(x, y float64)
	// Keep takes a picture for whoever wants to look.
	Keep(name string)
}

// player is somebody at a face.
type player struct {
	t *testing.T
	Face
}

// control waits for a control that can be pressed.
func (p player) control(id string) (c view.Control) {
	p.t.Helper()
	p.Until("control "+id, func(r view.Report) bool {
		i := slices.IndexFunc(r.Controls, func(c view.Control) bool { return c.ID == id && c.Off == "" })
		if i >= 0 {
			c = r.Controls[i]
		}
		return i >= 0
	})
	return c
}

func (p player) click(x, y float64) {
	p.Move(x, y)
	p.Press(x, y)
	p.Release(x, y)
}

func (p player) push(id string) {
	p.t.Helper()
	c := p.control(id)
	p.click(c.X, c.Y)
	p.Until("what "+id+" does", func(r view.Report) bool {
		return r.Focus == id || !slices.ContainsFunc(r.Controls, func(c view.Control) bool { return c.ID == id })
	})
}

// choose takes an instrument, out of a menu where there is no room for all of them.
func (p player) choose(with string) {
	p.t.Helper()
	p.Until("the instruments", func(r view.Report) bool {
		return slices.ContainsFunc(r.Controls, func(c view.Control) bool {
			if c.ID == "instrument" {
				p.click(c.X, c.Y)
			}
			return c.ID == "instrument" || c.ID == "with:"+with
		})
	})
	p.push("with:" + with)
}

// point clicks a point of the drawing.
func (p player) point(name string) {
	p.t.Helper()
	var at view.Place
	p.Until("point "+name, func(r view.Report) bool {
		i := slices.IndexFunc(r.Points, func(at view.Place) bool { return at.Name == name })
		if i >= 0 {
			at = r.Points[i]
		}
		return i >= 0
	})
	p.click(at.X, at.Y)
}

// take is the reading of the same test without a screen.
func (p player) take(with string, faults []string) meter.Reading {
	p.t.Helper()
	r, err := meter.Take(p.bench(faults), meter.Request{With: with, Red: "PC1.1", Black: "PC1.8"})
	if err != nil {
		p.t.Fatal(err)
	}
	return r
}

// bench is the same bench without a screen.
func (p player) bench(faults []string) *sim.Bench {
	p.t.Helper()
	c, err := circuits.Read(Example)
	if err != nil {
		p.t.Fatal(err)
	}
	b, err := sim.New(c)
	if err == nil {
		err = b.Break(faults...)
	}
	if err == nil {
		err = b.Set("KEY=run")
	}
	if err == nil {
		err = b.Apart("PC1")
	}
	if err != nil {
		p.t.Fatal(err)
	}
	return b
}

// reads waits for a reading of an instrument, and holds it against the same test without a screen.
func (p player) reads(with string, ready func(view.Report) bool) view.Report {
	p.t.Helper()
	said := p.Until("a reading of the "+with, func(r view.Report) bool {
		return r.Reading != nil && r.Reading.Instrument == with && r.Reading.Value != nil && ready(r)
	})
	want := p.take(with, said.Faults)
	got := said.Reading
	if want.Value == nil || math.Abs(*got.Value-*want.Value) > 1e-9*math.Abs(*want.Value) || got.Seen != want.Seen || got.Unit != want.Unit {
		p.t.Errorf("with %q the %s on the screen reads %g %s (%s), without a screen %g %s (%s)", said.Faults, with,
			*got.Value, got.Unit, got.Seen, *want.Value, want.Unit, want.Seen)
	}
	return said
}

func always(view.Report) bool { return true }

// Play plays the case.
func Play(t *testing.T, face Face) {
	t.Helper()
	p := player{t, face}
	p.Keep("1-first")
	p.push("role:practise")
	p.push("set:KEY:run")
	p.Until("the key on", func(r view.Report) bool { return r.Positions["KEY"] == "run" })
	p.point("PC1.1")
	p.push("apart")
	p.Until("PC1 apart", func(r view.Report) bool { return slices.Contains(r.Apart, "PC1") })
	for _, lead := range []struct{ id, point string }{{"lead-a", "PC1.1"}, {"lead-b", "PC1.8"}} {
		p.push(lead.id)
		p.point(lead.point)
		p.Until(lead.id+" on "+lead.point, func(r view.Report) bool {
			return map[string]string{"lead-a": r.LeadA, "lead-b": r.LeadB}[lead.id] == lead.point
		})
	}
	p.choose("load-lamp")
	healthy := p.reads("load-lamp", always)
	p.Keep("2-healthy")

	p.push("role:set faults")
	p.point("C14.4.a")
	p.push("fault-here")
	p.push("condition:spread")
	slider := p.control("slider")
	p.Until("the fault", func(r view.Report) bool { return len(r.Faults) == 1 && strings.HasPrefix(r.Faults[0], "C14.4 spread") })
	p.choose("test-lamp")
	p.reads("test-lamp", func(r view.Report) bool { return len(r.Faults) == 1 })
	p.Keep("3-lamp")
	p.choose("load-lamp")
	spread := p.reads("load-lamp", func(r view.Report) bool { return len(r.Faults) == 1 })

	left := slider.X - slider.W/2
	p.Press(slider.X, slider.Y)
	seen := []float64{}
	for _, share := range []float64{0.30, 0.36, 0.40, 0.44, 0.48, 0.55} {
		before := p.Until("anything", always).Faults[0]
		p.Move(left+slider.W*share, slider.Y)
		r := p.reads("load-lamp", func(r view.Report) bool { return len(r.Faults) == 1 && r.Faults[0] != before })
		seen = append(seen, *r.Reading.Value)
	}
	p.Release(left+slider.W*0.55, slider.Y)
	p.Keep("4-dragged")
	if slices.Max(seen)-slices.Min(seen) < 1 || *spread.Reading.Value >= *healthy.Reading.Value {
		t.Errorf("the load lamp reads %g V healthy, %g V spread, and %v as the resistance is dragged", *healthy.Reading.Value, *spread.Reading.Value, seen)
	}
	p.letTimeRun()
}

// letTimeRun lets the loose terminal grow warm under the lamp, holds time, and goes back to rest.
func (p player) letTimeRun() {
	p.t.Helper()
	p.push("tab:scope")
	p.push("time")
	p.Until("time that runs", func(r view.Report) bool { return r.Time != nil && r.Time.Running && r.Time.Seconds > 0.7 })
	p.push("time-play")
	held := p.Until("time that is held", func(r view.Report) bool { return r.Time != nil && !r.Time.Running })
	p.Keep("5-time")
	got := held.Reading
	if got == nil || got.Value == nil || got.Healthy == nil {
		p.t.Fatalf("at %g s the screen reads %+v", held.Time.Seconds, got)
	}
	if want := p.lampAt(held.Time.Seconds, held.Faults); math.Abs(*got.Value-want) > timeApart*math.Abs(want) {
		p.t.Errorf("at %g s the lamp on the screen reads %g V, without a screen %g V", held.Time.Seconds, *got.Value, want)
	}
	if want := p.lampAt(held.Time.Seconds, nil); math.Abs(*got.Healthy-want) > timeApart*math.Abs(want) {
		p.t.Errorf("at %g s the healthy circuit beside it has %g V, without a screen %g V", held.Time.Seconds, *got.Healthy, want)
	}
	if n := len(held.Time.Scope); n != 2 || held.Time.Scope[0].Watch != "PC1.1" {
		p.t.Errorf("the scope shows %+v", held.Time.Scope)
	}
	p.push("time-rest")
	p.Until("time at rest", func(r view.Report) bool { return r.Time == nil })
	p.reads("load-lamp", always)
}

// lampAt is what the load lamp has after some time without a screen.
func (p player) lampAt(seconds float64, faults []string) (volts float64) {
	p.t.Helper()
	b := p.bench(faults)
	run, err := b.Run(sim.RunOptions{})
	if err != nil {
		p.t.Fatal(err)
	}
	lamp, err := meter.Move(run, b, meter.Request{With: "load-lamp", Red: "PC1.1", Black: "PC1.8"})
	if err == nil {
		err = run.Advance(seconds, nil)
	}
	if err != nil {
		p.t.Fatal(err)
	}
	return *lamp.Reading().Value
}

// timeApart is how far two runs may be apart that were stopped at other instants on their way: a few times the error of
// one step.
const timeApart = 1e-3
