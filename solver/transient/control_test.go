package transient

// This file checks how long steps are, and how well their stages are guessed.

import (
	"math"
	"testing"
)

// A step of x' = -x taken by hand: its estimate, and its error against e^-z, are what the cautions go by.
func TestStepOfADecay(t *testing.T) {
	const z = 0.02
	for _, want := range []struct {
		of                    Method
		estimate, error, high float64 // high is the power of z in the error
	}{{ESDIRK43, 2.2e-4, 8.5e-4, 5}, {ESDIRK32, 0.079, 0.026, 4}, {TRBDF2, 0.040, 0.040, 3}} {
		method := tableaus[want.of]
		slopes, x := []float64{-1}, 0.0
		for _, row := range method.rows {
			from := 1.0
			for j, slope := range slopes {
				from += z * row[j] * slope
			}
			x = from / (1 + z*method.gamma)
			slopes = append(slopes, -x)
		}
		estimate := 0.0
		for s, e := range method.err {
			estimate += z * e * slopes[s]
		}
		estimate = math.Abs(estimate) / math.Pow(z, method.order)
		off := math.Abs(x-math.Exp(-z)) / math.Pow(z, want.high)
		if math.Abs(estimate/want.estimate-1) > 0.04 || math.Abs(off/want.error-1) > 0.04 || math.Abs(estimate/method.decay-1) > 0.03 {
			t.Errorf("%v: an estimate of %.4g z^%g, foreseen as %.4g, and an error of %.4g z^%g; want %.4g and %.4g", want.of, estimate, method.order, method.decay, off, want.high, want.estimate, want.error)
		}
	}
}

// A switch changes what a capacitor is fed with, and the volts of a coil that hangs in the air behind an open contact. The
// amps of that coil follow within a tenth of a picosecond, which must not keep the capacitor waiting: the first step that is
// to get anywhere is as long as its estimate allows, and not a tenfold too long.
func TestFirstStepIsAsLongAsItMayBe(t *testing.T) {
	for m := ESDIRK43; m <= TRBDF2; m++ {
		for _, tolerance := range []float64{1e-3, 1e-4, 1e-5} {
			n := New()
			in, out, hangs := n.Node(), n.Node(), n.Node()
			feed := n.Source(Ground, in, 5, 1)
			n.Resistor(in, out, 9)
			n.Element(out, Ground, converter{100e-6, 1, 0, 100, 90})
			n.Resistor(in, hangs, 1e11)
			n.Element(hangs, Ground, coil{0.01, 60e-6})
			r := mustStart(t, n, Options{Method: m, Tolerance: tolerance, Volts: []float64{0, 5, 5, 0}})
			if err := r.Advance(0.01); err != nil {
				t.Fatal(err)
			}
			r.SetVolts(feed, 12)
			if err := r.Settle(); err != nil {
				t.Fatal(err)
			}
			before := r.Stats()
			for range 2 {
				if err := r.Step(1); err != nil {
					t.Fatal(err)
				}
			}
			if rejected := r.Stats().Rejected - before.Rejected; rejected > 0 || r.lastErr < aim/2 || r.lastErr > 2*aim {
				t.Errorf("%v at %g: a step of %g s after %d that were too long, its estimate %.3g of what is allowed, aimed at were %g", m, tolerance, r.lastLength, rejected, r.lastErr, aim)
			}
		}
	}
}

// A capacitor that is emptied and filled by a load of constant power, again and again: most stages are solved at once, since
// they are looked for on the line that the last two lie on.
func TestStagesAreGuessed(t *testing.T) {
	n, _, _ := hiccuper()
	r := mustStart(t, n, Options{})
	if err := r.Advance(0.1); err != nil {
		t.Fatal(err)
	}
	s := r.Stats()
	if perStage := float64(s.Newtons) / float64(s.Stages); perStage > 1.35 || s.Fired < 20 {
		t.Errorf("%.3f passes a stage, with %d resets", perStage, s.Fired)
	}
}
