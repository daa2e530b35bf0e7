package transient

// This file checks the engine on small networks whose answer is a formula.

import (
	"math"
	"testing"
)

// capacitor is an ideal one.
type capacitor float64

func (c capacitor) Farads() float64                   { return float64(c) }
func (capacitor) Size() Size                          { return Size{States: 1, Unit: [MaxStates]float64{1e-5}} }
func (capacitor) Start(volts float64, x, _ []float64) { x[0] = volts }
func (capacitor) Rates(*Point, *Rates)                { panic("condensed by the engine") }

// coil is a resistance with an inductance.
type coil struct{ ohms, henries float64 }

func (coil) Size() Size                            { return Size{States: 1, Unit: [MaxStates]float64{1e-5}} }
func (c coil) Start(volts float64, x, _ []float64) { x[0] = volts / c.ohms }
func (c coil) Rates(at *Point, r *Rates) {
	r.Amps, r.PerState[0] = at.States[0], 1
	r.Rate[0] = (at.Volts - c.ohms*at.States[0]) / c.henries
	r.RatePerV[0], r.RatePerX[0][0] = 1/c.henries, -c.ohms/c.henries
}

// converter is a load of constant power behind a capacitor, locked out below one threshold until it is back at another.
type converter struct{ farads, ohms, watts, runs, stops float64 }

func (converter) Size() Size {
	return Size{States: 1, Marks: 2, Events: 2, Unit: [MaxStates]float64{1e-5}}
}
func (c converter) Start(volts float64, x, d []float64) {
	x[0] = volts
	if volts >= c.runs {
		d[0] = 1
	}
}
func (c converter) Rates(at *Point, r *Rates) {
	u := at.States[0]
	r.Amps, r.PerVolt, r.PerState[0] = (at.Volts-u)/c.ohms, 1/c.ohms, -1/c.ohms
	amps, slope := 0.0, 0.0
	if at.Marks[0] == 1 {
		amps, slope = c.watts/u, -c.watts/(u*u)
	}
	r.Rate[0] = (r.Amps - amps) / c.farads
	r.RatePerV[0], r.RatePerX[0][0] = 1/c.ohms/c.farads, (-1/c.ohms-slope)/c.farads
}
func (c converter) Events(at *Point, distance []float64) {
	distance[0], distance[1] = -1, -1
	if at.Marks[0] == 1 {
		distance[0] = 1 - at.States[0]/c.stops
	} else {
		distance[1] = at.States[0]/c.runs - 1
	}
}
func (converter) Fire(k int, at *Point) {
	at.Marks[0] = float64(k)
	if k == 0 {
		at.Marks[1]++
	}
}

func mustStart(t testing.TB, n *Network, o Options) *Run {
	t.Helper()
	r, err := n.Start(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// hiccupSeconds is the period of a converter behind a resistance, by quadrature: up from one threshold to the other
// through the resistance, which has a closed form, and down against the load.
func hiccupSeconds(c converter, volts, ohms float64) float64 {
	ohms += c.ohms
	up := c.farads * ohms * math.Log((volts-c.stops)/(volts-c.runs))
	const n = 20000 // Simpson's rule
	width, sum := (c.runs-c.stops)/n, 0.0
	for i := range n + 1 {
		u, weight := c.stops+float64(i)*width, 2.0
		if i%2 == 1 {
			weight = 4
		}
		if i == 0 || i == n {
			weight = 1
		}
		sum += weight * c.farads / (c.watts/u - (volts-u)/ohms)
	}
	return up + sum*width/3
}

func TestHiccup(t *testing.T) {
	load := converter{470e-6, 0.020, 30, 7.5, 6.0}
	for _, ohms := range []float64{1.3, 1.5, 3, 300} {
		n := New()
		in, plus := n.Node(), n.Node()
		n.Source(Ground, in, 12, 0.010)
		n.Resistor(in, plus, ohms-0.010)
		n.Element(plus, Ground, load)
		want := hiccupSeconds(load, 12, ohms)
		for tol, limit := range map[float64]float64{1e-3: 1e-3, 1e-4: 2e-4, 1e-6: 1e-5} {
			for m := ESDIRK43; m <= ESDIRK32; m++ {
				r := mustStart(t, n, Options{Method: m, Tolerance: tol, Volts: []float64{0, 12, 12}})
				var times []float64
				for len(times) < 8 {
					if err := r.Step(10); err != nil {
						t.Fatal(err)
					}
					for _, f := range r.Fired() {
						if f.Event == 0 {
							times = append(times, f.Seconds)
						}
					}
				}
				got := (times[7] - times[3]) / 4
				if off := math.Abs(got/want - 1); off > limit {
					t.Errorf("%g ohm, tolerance %g, %v: period %.9g s, want %.9g, off by %.1e", ohms, tol, m, got, want, off)
				}
				if s := r.Stats(); s.Resteps > 5*s.Located {
					t.Errorf("%g ohm, tolerance %g, %v: %d steps again for %d instants", ohms, tol, m, s.Resteps, s.Located)
				}
			}
		}
	}
}

// chargers is two first-order circuits of 1 s: 10 kohm with 100 µF, and 1 ohm with 1 H, both on 15 V from 0 s on.
func chargers(t testing.TB, o Options) (r *Run, c, l ID) {
	n := New()
	in, top := n.Node(), n.Node()
	first := n.Source(Ground, in, 0, 0.25)
	n.Resistor(in, top, 1e4-0.25)
	c = n.Element(top, Ground, capacitor(100e-6))
	far := n.Node()
	second := n.Source(Ground, far, 0, 0.25)
	l = n.Element(far, Ground, coil{0.75, 1})
	r = mustStart(t, n, o)
	r.SetVolts(first, 15)
	r.SetVolts(second, 15)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	return r, c, l
}

func TestFirstOrder(t *testing.T) {
	// 15 (1 - exp(-t)) volts and amps; Kuphaldt, Lessons in Electric Circuits, volume I, chapter 16, has these figures.
	for tol, limits := range map[float64][3]float64{1e-3: {1e-4, 1e-4, 1e-3}, 1e-4: {2e-5, 1e-5, 3e-4}, 1e-8: {2e-8, 2e-8, 2e-6}} {
		for m := ESDIRK43; m <= TRBDF2; m++ {
			r, c, l := chargers(t, Options{Method: m, Tolerance: tol, Energy: true})
			worst := 0.0
			for _, s := range []float64{0.5, 1, 2, 3, 10} {
				if err := r.Advance(s); err != nil {
					t.Fatal(err)
				}
				want := 15 * -math.Expm1(-s)
				worst = max(worst, math.Abs(r.States(c)[0]/want-1), math.Abs(r.States(l)[0]/want-1))
			}
			if worst > limits[m] {
				t.Errorf("tolerance %g, %v: off by %.2g", tol, m, worst)
			}
		}
	}
}
