package transient_test

// This file holds the stepping to circuits of textbooks that have a closed form.
//
// LIEC is Kuphaldt, Lessons in Electric Circuits, volume I, chapter 16; UP2 OpenStax, University Physics Volume 2,
// chapters 10 and 14; CP OpenStax, College Physics, chapters 21 and 23.

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"underload/solver/transient"
)

// fine is the unit of states whose errors are to be relative ones: a billionth.
const fine = 1e-9

// decay is a circuit of one time constant: what was there goes to what will be.
type decay struct {
	name                 string
	volts, ohms          float64 // of the source; 0 V is a short circuit
	farads, henrys, from float64 // one of the two, and what it starts from: volts or amps
}

// leakOhms lie across every element of a run.
const leakOhms = 1e12

// closed is the time constant, and to what it settles.
func (d decay) closed() (seconds, to float64) {
	if d.farads > 0 {
		share := leakOhms / (leakOhms + d.ohms)
		return d.ohms * share * d.farads, d.volts * share
	}
	return d.henrys / d.ohms, d.volts / d.ohms
}

func (d decay) start(t testing.TB, o transient.Options) (*transient.Run, transient.ID) {
	t.Helper()
	n := transient.New()
	in, top := n.Node(), n.Node()
	n.Source(transient.Ground, in, d.volts, d.ohms/4)
	var id transient.ID
	if d.farads > 0 {
		n.Resistor(in, top, d.ohms*3/4)
		id = n.Element(top, transient.Ground, capacitor{d.farads, d.from, fine})
	} else {
		n.Resistor(in, top, d.ohms/4)
		id = n.Element(top, transient.Ground, coil{d.henrys, d.ohms / 2, d.from, fine})
	}
	return mustStart(t, n, o), id
}

// decays are the circuits, each with times, and with what the book prints for the capacitor's volts or the coil's amps
// then ("" for nothing).
var decays = []struct {
	decay
	at      []float64
	printed string
}{
	{decay{"LIEC RC", 15, 10e3, 100e-6, 0, 0}, []float64{0.5, 1, 2, 3, 4, 5, 6, 7.25, 10}, "5.902 9.482 12.970 14.253 14.725 14.899 14.963 14.989 14.999"},
	// 20 V behind 2 and 3 kilohm in series with 500 ohm across the capacitor, reduced to one source.
	{decay{"LIEC RC behind a divider", 20 * 500 / 5500., 5000 * 500 / 5500., 100e-6, 0, 0}, []float64{0.06}, "1.3325"},
	{decay{"UP2 10.8", 100, 101, 50e-3, 0, 0}, []float64{8.13}, "80.0"},
	{decay{"UP2 10.9", 12, 558.11, 10e-3, 0, 0}, []float64{10}, "10.00"},
	{decay{"UP2 10.9 with 10 kilohm", 12, 10e3, 10e-3, 0, 0}, []float64{179.18}, "10.00"},
	{decay{"UP2 problem", 6.16, 500, 1.5e-6, 0, 0}, []float64{7.5e-4}, "3.89"},
	{decay{"CP defibrillator", 0, 1000, 8e-6, 0, 10e3}, []float64{24e-3}, "498"},
	{decay{"LIEC RL", 15, 1, 0, 1, 0}, []float64{0.5, 1, 2, 3.5}, "5.902 9.482 12.970 14.547"},
	{decay{"LIEC RL, 1 of 3 ohm shorted", 15, 2, 0, 1, 5}, []float64{0.1, 0.25, 0.5, 1, 2, 3}, "5.453 5.984 6.580 7.162 7.454 7.494"},
	{decay{"UP2 14.4", 2, 4, 0, 4, 0}, []float64{2}, "0.43"},
	{decay{"CP 23.9", 0, 3, 0, 7.5e-3, 10}, []float64{2.5e-3, 5e-3}, "3.68 1.35"},
}

// decaysError is the worst relative error of all decays against their closed forms, and the steps of all of them. With a
// tolerance of 1e-8 or less what the books print is held against them too.
func decaysError(t testing.TB, m transient.Method, tolerance float64) (worst float64, steps int) {
	t.Helper()
	for _, c := range decays {
		tau, to := c.closed()
		r, id := c.start(t, transient.Options{Method: m, Tolerance: tolerance})
		printed := strings.Fields(c.printed)
		for i, at := range c.at {
			mustAdvance(t, r, at)
			got := r.States(id)[0]
			worst = max(worst, relative(got, to+(c.from-to)*math.Exp(-at/tau)))
			if tolerance > 1e-8 {
				continue
			}
			want, err := strconv.ParseFloat(printed[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			_, digits, _ := strings.Cut(printed[i], ".")
			if half := 0.501 * math.Pow(10, -float64(len(digits))); math.Abs(got-want) > half {
				t.Errorf("%s, %v at %.0e: %.6g after %g s, the book prints %s", c.name, m, tolerance, got, at, printed[i])
			}
		}
		steps += r.Stats().Steps
	}
	return worst, steps
}

func TestClosedForms(t *testing.T) {
	for _, bar := range []struct {
		method           transient.Method
		tolerance, limit float64
		most             int // steps: some in a hundred more where they do not foresee that a decay dies away
	}{
		{transient.ESDIRK43, 1e-4, 2e-5, 130}, {transient.ESDIRK43, 1e-8, 5e-9, 975},
		{transient.ESDIRK32, 1e-4, 1e-5, 650}, {transient.ESDIRK32, 1e-8, 5e-9, 13450},
		{transient.TRBDF2, 1e-4, 2e-4, 940}, {transient.TRBDF2, 1e-8, 5e-7, 19520},
	} {
		worst, steps := decaysError(t, bar.method, bar.tolerance)
		t.Logf("%v at %.0e: error %.2e, %d steps for %d circuits", bar.method, bar.tolerance, worst, steps, len(decays))
		if steps > bar.most {
			t.Errorf("%v at %.0e: %d steps, at most %d are wanted", bar.method, bar.tolerance, steps, bar.most)
		}
		if worst > bar.limit {
			t.Errorf("%v at %.0e: error %.2e, at most %.0e is wanted", bar.method, bar.tolerance, worst, bar.limit)
		}
	}
}

// coilFlips switches a coil off that has 680 ohm across it, and counts how often its volts change sign. They must only
// fall.
func coilFlips(t testing.TB, m transient.Method, tol float64) (flips int) {
	t.Helper()
	n := transient.New()
	plus, fed := n.Node(), n.Node()
	n.Source(transient.Ground, plus, 12, 0.1)
	contact := n.Resistor(plus, fed, 0.01)
	id := n.Element(fed, transient.Ground, coil{0.3, 85, 0, 1e-3})
	n.Resistor(fed, transient.Ground, 680)
	r := mustStart(t, n, transient.Options{Method: m, Tolerance: tol})
	mustAdvance(t, r, 0.1)
	amps := r.States(id)[0]
	r.SetOhms(contact, openOhms)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	was := 12.0
	peak := r.Volts(fed)
	if relative(peak, -amps*680) > 1e-5 {
		t.Errorf("%v at %g: %g V when the contact opens, want %g", m, tol, peak, -amps*680)
	}
	for r.Seconds() < 0.2 {
		now := r.Volts(fed)
		if now*was < 0 && math.Abs(now) > 2e-2 { // 8 µV remain through the open contact
			flips++
		}
		if now < peak*(1+1e-9) {
			t.Errorf("%v at %g: %g V follow %g V", m, tol, now, peak)
		}
		was = now
		if err := r.Step(0.2); err != nil {
			t.Fatal(err)
		}
	}
	return flips
}

// TestSwitchedOffCoil: the volts change sign once and then only fall, however long the steps.
func TestSwitchedOffCoil(t *testing.T) {
	for _, m := range methods {
		for _, tol := range []float64{1e-2, 1e-3, 1e-4} {
			if flips := coilFlips(t, m, tol); flips != 1 {
				t.Errorf("%v at %g: the volts of the coil change sign %d times", m, tol, flips)
			}
		}
	}
}

// Constant power: 30 W at the end of 1.15 ohm, a resistance below 4 V. Two of the roots of a quadratic can be kept, the
// one between them, 4.775 V, cannot.
const (
	feedVolts, feedOhms, feedWatts, feedKnee = 12, 1.15, 30, 4
)

// constantPower is that load, with so many volts inside at first.
func constantPower(from float64) (n *transient.Network, id transient.ID) {
	n = transient.New()
	pin := n.Node()
	unit := module{ohms: 20e-3, farads: 470e-6, watts: feedWatts, knee: feedKnee, start: from}
	n.Source(transient.Ground, pin, feedVolts, feedOhms-unit.ohms)
	return n, n.Element(pin, transient.Ground, unit)
}

func powerRoots() (low, unstable, high float64) {
	high = (feedVolts + math.Sqrt(feedVolts*feedVolts-4*feedOhms*feedWatts)) / 2
	return feedVolts / (1 + float64(feedOhms)*feedWatts/(feedKnee*feedKnee)), feedVolts - high, high
}

// TestConstantPower lets 30 W behind 1.15 ohm go from either side of the point that cannot be kept: 4.775 V. Above it the
// capacitor fills to 7.225 V, below it to 3.802 V, where the load is a resistance. (Both are roots of a quadratic.)
func TestConstantPower(t *testing.T) {
	low, unstable, high := powerRoots()
	if math.Abs(high-7.225) > 5e-4 || math.Abs(unstable-4.775) > 5e-4 || math.Abs(low-3.802) > 5e-4 {
		t.Fatalf("roots %g, %g, %g", low, unstable, high)
	}
	for _, m := range methods {
		for _, tol := range []float64{1e-2, 1e-3, 1e-4, 1e-6} {
			for _, c := range []struct{ from, to float64 }{
				{0.1, low}, {3, low}, {4.2, low}, {unstable - 0.02, low}, {unstable + 0.02, high}, {5, high}, {7, high}, {12, high},
			} {
				n, id := constantPower(c.from)
				r := mustStart(t, n, transient.Options{Method: m, Tolerance: tol})
				mustAdvance(t, r, 1)
				if got := r.States(id)[0]; relative(got, c.to) > 1e-3 {
					t.Errorf("%v at %g: from %g V it goes to %g V, want %g", m, tol, c.from, got, c.to)
				}
			}
		}
	}
}

// negativePivots counts, over all methods and some circuits with a load of constant power, the steps kept although their
// last matrix had a negative pivot: they were longer than such a load can be followed. One begins where it can not be
// kept and hardly moves at first, which tempts to long steps.
func negativePivots(t testing.TB, g *golden) (count int) {
	t.Helper()
	_, unstable, _ := powerRoots()
	balanced, _ := constantPower(unstable + 1e-6)
	unit := newModule(2, g.RippleMinimum+0.01, g.RippleMinimum+0.26, 12.5)
	for _, n := range []*transient.Network{balanced, newCrank(&unit).Network, wiggling().Network} {
		for _, m := range methods {
			r := mustStart(t, n, transient.Options{Method: m, Tolerance: 1e-3, Seed: 42})
			for r.Seconds() < 1 {
				if err := r.Step(1); err != nil {
					t.Fatal(err)
				}
				if len(r.Fired()) == 0 && r.NegativePivots() > 0 {
					count++
				}
			}
			if r.Stats().Steps < 5 {
				t.Errorf("%v: only %d steps", m, r.Stats().Steps)
			}
		}
	}
	return count
}

func TestNoStepIsKeptWithANegativePivot(t *testing.T) {
	if n := negativePivots(t, readGolden(t)); n > 0 {
		t.Errorf("%d steps", n)
	}
}
