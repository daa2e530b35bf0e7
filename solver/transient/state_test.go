package transient

// This file checks what a run keeps: its snapshots, its looks into a step, its account of energy, its folded nodes.

import (
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

func TestNoStateToGoTo(t *testing.T) {
	n := New()
	in := n.Node()
	n.Source(Ground, in, 12, 1)
	gate := n.Resistor(in, Ground, math.Inf(1))
	n.Element(in, Ground, converter{1e-6, 1e-3, 30, 7.5, 0.001})
	r := mustStart(t, n, Options{Volts: []float64{0, 7.5}})
	r.SetOhms(gate, 0.2)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	err := r.Advance(1) // its amps rise without bound as its volts fall
	if err == nil && r.Seconds() < 1 {
		t.Fatal("neither there nor stuck")
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
