package report

// This file makes staircases to draw: of the example, and of any length and shape.

import (
	"fmt"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
)

// sprayer is the staircase of the example with its fault, as the front page shows it.
func sprayer(t testing.TB, q meter.StairsRequest, apart, fault string) Page {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if fault != "" {
		if err := b.Break(fault); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.Set("KEY=run"); err != nil {
		t.Fatal(err)
	}
	if apart != "" {
		if err := b.Apart(apart); err != nil {
			t.Fatal(err)
		}
	}
	s, err := meter.Stairs(b, q)
	if err != nil {
		t.Fatal(err)
	}
	return Page{Title: c.Title, Setting: "KEY=run", Stairs: s}
}

var lampAtController = meter.StairsRequest{Red: "PC1.1", Black: "PC1.8"}

// shape is a made-up staircase: so many steps, the load at one of them and a bad joint at another.
type shape struct {
	name              string
	steps, load       int
	bad               int // -1: none
	badOhms           float64
	jointOhms         float64
	long, open, heavy bool
}

var shapes = []shape{
	{name: "eight", steps: 8, load: 4, bad: 6, badOhms: 1.8, jointOhms: 0.004},
	{name: "thirty", steps: 30, load: 15, bad: 22, badOhms: 1.8, jointOhms: 0.004},
	{name: "thirty-first", steps: 30, load: 15, bad: 0, badOhms: 1.8, jointOhms: 0.004},
	{name: "thirty-last", steps: 30, load: 15, bad: 29, badOhms: 1.8, jointOhms: 0.004},
	{name: "thirty-before-load", steps: 30, load: 15, bad: 14, badOhms: 0.9, jointOhms: 0.004},
	{name: "thirty-behind-load", steps: 30, load: 15, bad: 16, badOhms: 0.9, jointOhms: 0.004},
	{name: "thirty-small", steps: 30, load: 20, bad: 7, badOhms: 0.02, jointOhms: 0.004},
	{name: "eight-small", steps: 8, load: 4, bad: 2, badOhms: 0.03, jointOhms: 0.012},
	{name: "eight-small-last", steps: 8, load: 4, bad: 7, badOhms: 0.03, jointOhms: 0.012},
	{name: "thirty-heavy", steps: 30, load: 12, bad: 5, badOhms: 0.3, jointOhms: 0.030, heavy: true},
	{name: "thirty-long", steps: 30, load: 11, bad: 19, badOhms: 2.5, jointOhms: 0.004, long: true},
	{name: "open", steps: 18, load: 9, bad: 5, jointOhms: 0.004, open: true},
	{name: "open-behind", steps: 18, load: 9, bad: 14, jointOhms: 0.004, open: true},
	{name: "sound", steps: 14, load: 6, bad: -1, jointOhms: 0.004},
	{name: "eighty", steps: 80, load: 30, bad: 61, badOhms: 1.8, jointOhms: 0.004},
	{name: "three", steps: 3, load: 1, bad: 2, badOhms: 1.8, jointOhms: 0.004},
	{name: "load-first", steps: 9, load: 0, bad: 4, badOhms: 1.8, jointOhms: 0.004},
}

// page makes the staircase of a shape: a source of 12.6 V, one load of 2.9 ohm, all steps in series.
func (sh shape) page() Page {
	const source, loadOhms, lightOhms = 12.6, 2.9, 48.0
	s := meter.Staircase{Battery: "BATT", OpenVolts: source, Load: "load-lamp", LightLoad: "test-lamp"}
	ohms, sound := make([]float64, sh.steps), make([]float64, sh.steps)
	for i := range sh.steps {
		sound[i] = sh.jointOhms * float64(1+i%3)
		ohms[i] = sound[i]
		if i == sh.bad {
			ohms[i] += sh.badOhms
		}
		s.Steps = append(s.Steps, meter.Step{Place: fmt.Sprintf("C%d.%d", 10+i, i%9+1), Says: "terminal", Spread: i%2 == 1, Load: i == sh.load, Worst: i == sh.bad})
		st := &s.Steps[i]
		if st.Spread {
			st.Place, st.Says = fmt.Sprintf("W%d", i), "RD/YE 0.75\u00a0mm²"
		}
		if sh.long && i%4 == 2 {
			st.Place = fmt.Sprintf("main distribution panel %d.in~relay carrier.87", i)
			st.Says = "antidisestablishmentarianism connector"
		}
		if st.Load {
			st.Place, st.Says, st.Spread = "load-lamp", "the load", false
		}
	}
	s.Amps = pour(s.Steps, ohms, loadOhms, sh.open, sh.bad, func(st *meter.Step) *meter.Level { return &st.UnderLoad })
	s.LightAmps = pour(s.Steps, ohms, lightOhms, sh.open, sh.bad, func(st *meter.Step) *meter.Level { return &st.Light })
	s.HealthyAmps = pour(s.Steps, sound, loadOhms, false, -1, func(st *meter.Step) *meter.Level { return &st.Healthy })
	pour(s.Steps, sound, lightOhms, false, -1, func(st *meter.Step) *meter.Level { return &st.HealthyLight })
	s.Verdict = "Under load one of these loses much more than a sound one would, and a light test does not show it."
	return Page{Title: "A made-up path, " + sh.name, Setting: "load-lamp, red here, black there", Stairs: s}
}

// pour lets a current through steps in series and fills in what each loses.
func pour(steps []meter.Step, ohms []float64, loadOhms float64, open bool, bad int, at func(*meter.Step) *meter.Level) (amps float64) {
	const source = 12.6
	total := loadOhms
	for i := range steps {
		if !steps[i].Load {
			total += ohms[i]
		}
	}
	amps = source / total
	if open {
		amps = 0
	}
	left := source
	for i := range steps {
		l := meter.Level{Amps: amps, Ohms: ohms[i], Lost: amps * ohms[i]}
		if steps[i].Load {
			l.Ohms, l.Lost = loadOhms, amps*loadOhms
		}
		if open {
			l.Ohms = 0
			if i == bad {
				l.Lost = left
			}
		}
		left -= l.Lost
		l.Volts = left
		*at(&steps[i]) = l
	}
	return amps
}
