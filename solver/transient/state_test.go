package transient

// This file checks what a run keeps: its snapshots, its looks into a step, its account of energy, its folded nodes.

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// hiccuper is a converter that goes on for ever, on a chain of resistors with nodes that can be folded.
func hiccuper() (n *Network, inner []Node, id ID) {
	n = New()
	at := n.Node()
	n.Source(Ground, at, 12, 0.1)
	for range 5 {
		next := n.Node()
		n.Resistor(at, next, 0.28)
		n.Resistor(next, Ground, 3000)
		inner = append(inner, next)
		at = next
	}
	side := n.Node()
	n.Resistor(inner[2], side, 100) // leads nowhere
	id = n.Element(at, Ground, converter{470e-6, 0.020, 30, 7.5, 6.0})
	n.Element(at, side, capacitor(1e-6))
	return n, append(inner, side), id
}

func TestFoldingChangesNothing(t *testing.T) {
	n, inner, id := hiccuper()
	a := mustStart(t, n, Options{Tolerance: 1e-8})
	b := mustStart(t, n, Options{Tolerance: 1e-8, keepAll: true})
	if len(a.folding.stars) < 4 || len(b.folding.stars) != 0 {
		t.Fatalf("%d and %d nodes are folded", len(a.folding.stars), len(b.folding.stars))
	}
	for s := 0.001; s < 0.02; s += 0.001 {
		if err := a.Advance(s); err != nil {
			t.Fatal(err)
		}
		if err := b.Advance(s); err != nil {
			t.Fatal(err)
		}
		for _, node := range inner {
			if x, y := a.Volts(node), b.Volts(node); math.Abs(x-y) > 1e-6 {
				t.Fatalf("at %g s node %d has %v V folded and %v V kept", s, node, x, y)
			}
		}
	}
	if a.Marks(id)[1] < 3 || a.Marks(id)[1] != b.Marks(id)[1] {
		t.Errorf("%g and %g resets", a.Marks(id)[1], b.Marks(id)[1])
	}
}

func TestSnapshotGoesOnBitForBit(t *testing.T) {
	n, _, _ := hiccuper()
	r := mustStart(t, n, Options{Energy: true})
	rng := rand.New(rand.NewPCG(1, 2))
	for round := range 30 {
		for range rng.IntN(20) {
			if err := r.Step(1); err != nil {
				t.Fatal(err)
			}
		}
		if round == 15 {
			r.SetOhms(2, 0.2)
			if err := r.Settle(); err != nil {
				t.Fatal(err)
			}
		}
		var s Snapshot
		r.Save(&s)
		goOn := func() (float64, []float64) {
			for range 12 {
				if err := r.Step(1); err != nil {
					t.Fatal(err)
				}
			}
			return r.Seconds(), slices.Concat(r.x, r.d, r.v, []float64{r.Balance().Given})
		}
		at, state := goOn()
		r.Restore(&s)
		again, same := goOn()
		if at != again || !slices.Equal(state, same) {
			t.Fatalf("round %d: %v s %v, and once more %v s %v", round, at, state, again, same)
		}
		r.Restore(&s)
	}
}

func TestLookInside(t *testing.T) {
	r, c, l := chargers(t, Options{Tolerance: 1e-6})
	for r.Seconds() < 3 {
		begin := r.Seconds()
		if err := r.Step(10); err != nil {
			t.Fatal(err)
		}
		for share := range 10 {
			s := begin + float64(share)/10*(r.Seconds()-begin)
			want := 15 * -math.Expm1(-s)
			v := r.Look(s)
			if math.Abs(v.States(c)[0]-want) > 3e-4 || math.Abs(v.ElementAmps(l)-want) > 3e-4 || math.Abs(v.ElementVolts(c)-want) > 3e-4 {
				t.Fatalf("at %g s %v V and %v A, want %v", s, v.States(c), v.ElementAmps(l), want)
			}
			if amps := v.ElementAmps(c); math.Abs(amps-1.5e-3*math.Exp(-s)) > 3e-7 {
				t.Fatalf("at %g s %v A into the capacitor", s, amps)
			}
		}
	}
}

func TestSuppose(t *testing.T) {
	// 12 V over 1 ohm and a contact of 0.003 ohm: 11.964 V; supposed to be open, no volts, and the run goes on as it was.
	n := New()
	in, out := n.Node(), n.Node()
	n.Source(Ground, in, 12, 0.001)
	id := n.Element(in, out, blinker{0.003})
	n.Resistor(out, Ground, 1)
	r := mustStart(t, n, Options{})
	if err := r.Step(0.005); err != nil {
		t.Fatal(err)
	}
	for _, s := range []float64{0.0025, 0.005} {
		if v := r.Suppose(s, func(v *View) { v.Marks(id)[0] = 1e9 }).Volts(out); math.Abs(v) > 1e-7 {
			t.Errorf("at %g s %g V over an open contact", s, v)
		}
		if v := r.Look(s).Volts(out); math.Abs(v-12/1.004) > 1e-9 {
			t.Errorf("at %g s %g V", s, v)
		}
	}
	if v := r.Volts(out); math.Abs(v-12/1.004) > 1e-9 || r.Marks(id)[0] != 0.003 {
		t.Errorf("afterwards %g V", v)
	}
}

func TestEnergyOfCharging(t *testing.T) {
	// A capacitor charged from nothing through a resistance stores as much as is lost; a coil at its end stores L i^2 / 2.
	r, _, _ := chargers(t, Options{Tolerance: 1e-6, Energy: true})
	if err := r.Advance(30); err != nil {
		t.Fatal(err)
	}
	b := r.Balance()
	stored := 100e-6 * 225 / 2 // the coil of this test keeps no account
	given := 100e-6*225 + 15*15*(30-1)
	if math.Abs(b.Stored/stored-1) > 1e-6 || math.Abs(b.Given/given-1) > 1e-6 {
		t.Errorf("%+v, want %g J stored and %g J given", b, stored, given)
	}
}

func TestNothingRings(t *testing.T) {
	// A coil of 85 ohm and 0.3 H with 680 ohm across it is cut off: its volts jump the other way, by 680/85 of what they
	// were, and die away with no change of sign.
	n := New()
	in, top := n.Node(), n.Node()
	n.Source(Ground, in, 12, 0.01)
	contact := n.Resistor(in, top, 0.003)
	n.Resistor(top, Ground, 680)
	l := n.Element(top, Ground, coil{85, 0.3})
	for m := ESDIRK43; m <= TRBDF2; m++ {
		r := mustStart(t, n, Options{Method: m, Volts: []float64{0, 12, 12}})
		if err := r.Advance(0.01); err != nil {
			t.Fatal(err)
		}
		amps := r.States(l)[0]
		r.SetOhms(contact, math.Inf(1))
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
		if v := r.Volts(top); math.Abs(v+680*amps) > 1e-6 {
			t.Errorf("%v: %g V after the cut, want %g", m, v, -680*amps)
		}
		last := math.Inf(-1)
		for r.Seconds() < 0.012 {
			if err := r.Step(0.012); err != nil {
				t.Fatal(err)
			}
			v := r.Volts(top)
			if v > 0 || v < last {
				t.Fatalf("%v: %g V after %g V", m, v, last)
			}
			last = v
		}
		want := -680 * amps * math.Exp(-0.002*(85+680)/0.3)
		if math.Abs(last/want-1) > 5e-3 {
			t.Errorf("%v: %g V in the end, want %g", m, last, want)
		}
	}
}

// growing is a load of a power that grows, at any volts.
type growing struct{ wattsPerSecond float64 }

func (growing) Size() Size { return Size{States: 1, Unit: [MaxStates]float64{1e-3}} }

func (growing) Start(float64, []float64, []float64) {}

func (g growing) Rates(at *Point, r *Rates) {
	watts := at.States[0]
	r.Amps, r.PerVolt = watts/at.Volts, -watts/(at.Volts*at.Volts)
	r.PerState[0], r.Rate[0] = 1/at.Volts, g.wattsPerSecond
}

// A source has no more to give than volts squared over four times its ohms, here 36 W. A load that grows by 10 W a second
// goes up to there, in 3.6 s, and no further.
func TestNoStateToGoTo(t *testing.T) {
	for m := ESDIRK43; m <= TRBDF2; m++ {
		n := New()
		in := n.Node()
		n.Source(Ground, in, 12, 1)
		gate := n.Resistor(in, Ground, math.Inf(1))
		id := n.Element(in, Ground, growing{10})
		r := mustStart(t, n, Options{Method: m, Volts: []float64{0, 12}})
		if err := r.Advance(2); err != nil {
			t.Fatal(err)
		}
		var s Snapshot
		r.Save(&s)
		var stuck *StuckError
		if err := r.Advance(10); !errors.As(err, &stuck) {
			t.Fatalf("%v: at %g s, %v; wanted to be stuck", m, r.Seconds(), err)
		}
		if math.Abs(stuck.Seconds-3.6) > 1e-3 || stuck.Element != id || math.Abs(r.Seconds()-stuck.Seconds) > 1e-9 {
			t.Errorf("%v: %+v, the run at %g s; stuck at 3.6 s was meant", m, stuck, r.Seconds())
		}
		// The same at an instant: what is left of the source gives 6 W, and 20 W are asked for.
		r.Restore(&s)
		r.SetOhms(gate, 0.2)
		stuck = nil
		if err := r.Settle(); !errors.As(err, &stuck) || stuck.Seconds != 2 || stuck.Element != id {
			t.Errorf("%v: settled, or the wrong error: %v", m, err)
		}
	}
}

// drain is a capacitor behind a resistance that loses half of its volts, at once, whenever it comes to some volts.
type drain struct{ ohms, farads, volts float64 }

func (drain) Size() Size { return Size{States: 1, Events: 1, Unit: [MaxStates]float64{1e-6}} }

func (drain) Start(float64, []float64, []float64) {}

func (d drain) Rates(at *Point, r *Rates) {
	r.Amps, r.PerVolt = (at.Volts-at.States[0])/d.ohms, 1/d.ohms
	r.PerState[0] = -1 / d.ohms
	r.Rate[0], r.RatePerV[0], r.RatePerX[0][0] = r.Amps/d.farads, r.PerVolt/d.farads, r.PerState[0]/d.farads
}

func (d drain) Events(at *Point, distance []float64) { distance[0] = at.States[0]/d.volts - 1 }

func (drain) Fire(_ int, at *Point) { at.States[0] /= 2 }

func (d drain) Power(at *Point) (lost, given, stored float64) {
	over := at.Volts - at.States[0]
	return over * over / d.ohms, 0, d.farads * at.States[0] * at.States[0] / 2
}

// From 4 to 8 V behind 12 V it takes a time constant times ln 2, from 0 to 8 V times ln 3; each jump takes 24 J a farad away.
func TestEnergyOfJumps(t *testing.T) {
	n := New()
	in := n.Node()
	n.Source(Ground, in, 12, 1)
	n.Element(in, Ground, drain{9, 0.01, 8})
	for m := ESDIRK43; m <= TRBDF2; m++ {
		r := mustStart(t, n, Options{Method: m, Tolerance: 1e-6, Energy: true})
		const jumps = 7
		if err := r.Advance(0.1 * (math.Log(3) + (jumps-1)*math.Ln2 + 0.1)); err != nil {
			t.Fatal(err)
		}
		b := r.Balance()
		if want := -jumps * 0.01 * 24; math.Abs(b.Jumped/want-1) > 1e-4 {
			t.Errorf("%v: %g J jumped away, want %g", m, b.Jumped, want)
		}
		// 12 V times the charge: 4 V for each round after the first of 8 V, and a little of the next.
		charge := 0.01 * (8 + (jumps-1)*4 + 8*-math.Expm1(-0.1))
		if math.Abs(b.Given/(12*charge)-1) > 1e-4 || math.Abs(b.Off()) > 1e-5*b.Given {
			t.Errorf("%v: %+v, off by %g J; given were to be %g J", m, b, b.Off(), 12*charge)
		}
	}
}

func TestFloatingPartsAreNoError(t *testing.T) {
	n := New()
	a, b, c := n.Node(), n.Node(), n.Node()
	n.Source(a, b, 12, 0.1)
	n.Resistor(b, c, 1)
	n.Element(c, a, coil{1, 0.1})
	n.Element(c, a, capacitor(1e-3))
	r := mustStart(t, n, Options{})
	if err := r.Advance(5); err != nil {
		t.Fatal(err)
	}
	if v := r.Now().Volts(c) - r.Now().Volts(a); math.Abs(v-12/2.1) > 1e-3 {
		t.Errorf("%g V over the coil", v)
	}
}

func TestStepsDoNotAllocate(t *testing.T) {
	n, _, _ := hiccuper()
	r := mustStart(t, n, Options{Energy: true})
	var s Snapshot
	r.Save(&s)
	if err := r.Advance(0.01); err != nil { // some lists grow to their size
		t.Fatal(err)
	}
	if allocs := testing.AllocsPerRun(200, func() {
		if r.Step(10) != nil {
			t.Fatal("stuck")
		}
		r.Save(&s)
	}); allocs != 0 {
		t.Errorf("%g allocations a step", allocs)
	}
}
