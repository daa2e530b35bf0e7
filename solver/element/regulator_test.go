package element

// This file checks the generator with its regulator.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

// At rest it does what the steady law of a limited source does that lets nothing back in, apart from their corners.
func TestRegulatorAtRest(t *testing.T) {
	g := NewRegulator(14.3, 0.002, 70)
	law := device.LimitedSource{Volts: 14.3, Ohms: 0.002, LimitAmps: 70, OneWay: true}
	for _, volts := range []float64{0, 5, 10, 12, 13.9, 14.17, 14.2, 14.25, 14.28, 14.31, 15, 20, -1} {
		at := rest(g, volts)
		rates := ratesAt(g, at)
		want, _ := law.At(volts)
		if math.Abs(rates.Amps-want) > 1e-6*math.Abs(want)+3e-5 {
			t.Errorf("%v V outside: %v A, steady %v A", volts, rates.Amps, want)
		}
		if off := rates.Rate[0] / rates.RatePerX[0][0]; math.Abs(off) > 1e-9 {
			t.Errorf("%v V outside: %v V inside is %v off its rest", volts, at.States[0], off)
		}
	}
}

// A generator on a battery: it takes over, sags under a load and comes back, is cut off at its limit, and leaves the
// battery alone once it stands.
func TestRegulatorOnABattery(t *testing.T) {
	n := transient.New()
	post := n.Node()
	g := NewRegulator(14.3, 0.002, 70)
	g.Turning = 0
	id := n.Element(post, transient.Ground, g)
	battery := n.Element(post, transient.Ground, NewCell(1, 12.4, 0.008, 60))
	load := n.Resistor(post, transient.Ground, 5)
	r := mustStart(t, n, transient.Options{Volts: []float64{0, 12.38}})
	settle := func() {
		t.Helper()
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
	}
	if amps := r.ElementAmps(id); math.Abs(amps) > 1e-4 {
		t.Errorf("standing it gives %v A", -amps)
	}
	r.Marks(id)[0] = 1
	settle()
	mustAdvance(t, r, 1800) // the battery takes its charge
	quiet := r.Volts(post)
	if quiet < 14.15 || quiet > 14.31 {
		t.Errorf("charging: %v V at the posts", quiet)
	}
	r.SetOhms(load, 0.35)
	settle()
	sag := quiet - r.Volts(post)
	mustAdvance(t, r, 1810)
	back := quiet - r.Volts(post)
	if sag < 0.05 || back > sag/2 {
		t.Errorf("40 A more: sags by %v V and is still %v V low 10 s later", sag, back)
	}
	r.SetOhms(load, 0.1)
	settle()
	mustAdvance(t, r, 1820)
	if amps := r.ElementAmps(id); math.Abs(amps+70) > 1e-3 {
		t.Errorf("140 A wanted: it gives %v A, the battery takes %v A", -amps, r.ElementAmps(battery))
	}
	r.SetOhms(load, 5)
	r.Marks(id)[0] = 0
	settle()
	mustAdvance(t, r, 1830)
	if amps := r.ElementAmps(id); math.Abs(amps) > 1e-4 {
		t.Errorf("standing it gives %v A", -amps)
	}
}

// Whatever it is put across, also a short or a higher source, volts are found.
func TestRegulatorAcrossAnything(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		n := transient.New()
		post := n.Node()
		g := NewRegulator(14.3, 0.002, between(r, 5, 200))
		g.Turning = float64(r.IntN(2)) // from standstill, too
		id := n.Element(post, transient.Ground, g)
		source := n.Source(transient.Ground, post, between(r, -5, 30), math.Pow(10, between(r, -3, 3)))
		run := mustStart(t, n, transient.Options{Volts: []float64{0, between(r, 0, 30)}})
		mustAdvance(t, run, 0.3)
		for range 5 {
			run.SetVolts(source, between(r, -5, 30))
			run.SetOhms(source, math.Pow(10, between(r, -4, 4)))
			run.Marks(id)[0] = between(r, 0, 1)
			if err := run.Settle(); err != nil {
				t.Fatal(err)
			}
			mustAdvance(t, run, run.Seconds()+between(r, 0, 1))
		}
		if v := run.Volts(post); math.IsNaN(v) || math.Abs(v) > 1e3 {
			t.Fatalf("%v V", v)
		}
	}
}
