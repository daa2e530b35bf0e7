package transient

// This file holds instants that lie so close together that the numbers for time hardly tell them apart.

import (
	"math"
	"testing"
)

// clock ticks once, and nothing comes of it.
type clock struct{ seconds float64 }

func (clock) Size() Size                          { return Size{Marks: 1} }
func (clock) Start(_ float64, _, marks []float64) { marks[0] = 0 }
func (clock) Rates(at *Point, r *Rates)           { r.Amps, r.PerVolt = at.Volts, 1 }
func (clock) Tick(at *Point)                      { at.Marks[0]++ }
func (clock) Power(at *Point) (_, _, _ float64)   { return at.Volts * at.Volts, 0, 0 }
func (c clock) Next(marks []float64) float64 {
	if marks[0] > 0 {
		return math.Inf(1)
	}
	return c.seconds
}

// warmer is by how many kelvin a body begins.
const warmer = 10

// cooling is a body that a current warms. Its kelvins are large numbers beside their changes.
type cooling struct{ ohms, joules, watts, air float64 }

func (cooling) Size() Size { return Size{States: 1, Unit: [MaxStates]float64{0.01}} }

func (c cooling) Start(_ float64, x, _ []float64) { x[0] = c.air + warmer }

func (c cooling) Rates(at *Point, r *Rates) {
	r.PerVolt = 1 / c.ohms
	r.Amps = at.Volts / c.ohms
	r.Rate[0] = (at.Volts*r.Amps - c.watts*(at.States[0]-c.air)) / c.joules
	r.RatePerV[0], r.RatePerX[0][0] = 2*r.Amps/c.joules, -c.watts/c.joules
}

func (c cooling) Power(at *Point) (lost, given, stored float64) {
	return c.watts * (at.States[0] - c.air), 0, c.joules * at.States[0]
}

// A shaken contact and a module that boots may be due within the last digit of a time. The step between them is nothing, and
// what it tells of slopes is rounding: a millikelvin of 300 K, or a hundredth of a joule.
func TestInstantsAnUlpApart(t *testing.T) {
	const (
		begins, digit              = 0.35, 0x1p-54
		ohms, joules, watts, cools = 10, 2.0, 0.02, 293.15
	)
	for _, digits := range []float64{0, 1, 5, 1e3, 1e6, 1e9} {
		for m := ESDIRK43; m <= TRBDF2; m++ {
			n := New()
			in := n.Node()
			n.Source(Ground, in, 1, 1e-3)
			body := n.Element(in, Ground, cooling{ohms, joules, watts, cools})
			for _, at := range []float64{begins, begins + digits*digit} {
				n.Element(in, Ground, clock{at})
			}
			r := mustStart(t, n, Options{Method: m, Tolerance: 1e-6, Energy: true, Volts: []float64{0, 1}})
			for _, until := range []float64{begins, begins + digits*digit, 1} {
				if err := r.Advance(until); err != nil {
					t.Fatal(err)
				}
			}
			volts := r.Volts(in)
			rest := cools + volts*volts/ohms/watts
			want := rest + (cools+warmer-rest)*math.Exp(-watts/joules)
			if kelvin := r.States(body)[0]; math.Abs(kelvin-want) > 1e-6 {
				t.Errorf("%v, %g digits apart: %.9f K, want %.9f K", m, digits, kelvin, want)
			}
			if b := r.Balance(); math.Abs(b.Off()) > 1e-6 {
				t.Errorf("%v, %g digits apart: %+v, %g J are missing", m, digits, b, b.Off())
			}
			if r.Stats().Steps > 40 {
				t.Errorf("%v, %g digits apart: %+v", m, digits, r.Stats())
			}
		}
	}
}
