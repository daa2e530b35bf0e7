package solver

// This file checks zero-ohm joins and ideal sources.

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// A hundred ideal sources of 0.125 V with joins between them in a row: no
// digit may be lost and every join must know its current.
func TestLongChainOfJoins(t *testing.T) {
	n := NewNetwork()
	at := Ground
	var links []Branch
	for range 100 {
		up, over := n.AddNode(), n.AddNode()
		links = append(links, n.AddSource(at, up, 0.125, 0), n.AddResistor(up, over, 0))
		at = over
	}
	load := n.AddResistor(at, Ground, 2.5)
	var s Solution
	mustSolve(t, n, &s)
	if s.Volts(at) != 12.5 || s.Amps(load) != 5 {
		t.Fatalf("top %v V, load %v A, want exactly 12.5 and 5", s.Volts(at), s.Amps(load))
	}
	for _, b := range links {
		if s.Amps(b) != 5 {
			t.Fatalf("link %d carries %v A, want 5", b, s.Amps(b))
		}
	}
	checkLaws(t, n, &s)
}

func TestJoinCurrentsAtASplice(t *testing.T) {
	// A splice of four joined studs between a source and three loads.
	n := NewNetwork()
	feed, in, l1, l2, l3 := n.AddNode(), n.AddNode(), n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, feed, 12, 0)
	r := n.AddResistor(feed, in, 1)
	j1, j2, j3 := n.AddResistor(l1, in, 0), n.AddResistor(in, l2, 0), n.AddResistor(l2, l3, 0)
	n.AddResistor(l1, Ground, 3)
	n.AddResistor(l2, Ground, 6)
	n.AddResistor(l3, Ground, 2)
	var s Solution
	mustSolve(t, n, &s)
	// The loads make 1 ohm together, so 6 V at the splice.
	for b, want := range map[Branch]float64{r: 6, j1: -2, j2: 4, j3: 3} {
		if math.Abs(s.Amps(b)-want) > 1e-12 {
			t.Errorf("branch %d: %v A, want %v", b, s.Amps(b), want)
		}
	}
	checkLaws(t, n, &s)
}

func TestLoopsOfJoins(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0)
	first, second := n.AddResistor(a, b, 0), n.AddResistor(a, b, 0)
	n.AddResistor(b, Ground, 4)
	var s Solution
	mustSolve(t, n, &s)
	if s.Amps(first) != 3 || s.Amps(second) != 0 {
		t.Errorf("twin joins carry %v and %v A, want 3 in the tree and 0 in the other", s.Amps(first), s.Amps(second))
	}
	checkLaws(t, n, &s)
}

func TestDisagreeingSources(t *testing.T) {
	n := NewNetwork()
	a, b, c := n.AddNode(), n.AddNode(), n.AddNode()
	e := n.AddSource(Ground, a, 12, 0)
	n.AddResistor(a, c, 1)
	up := n.AddResistor(a, b, 0)
	back := n.AddSource(Ground, b, 11.5, 0)
	n.AddResistor(c, Ground, 1)
	var s Solution
	err := n.Solve(&s)
	var loop *DisagreementError
	if !errors.As(err, &loop) {
		t.Fatalf("got %v, want a disagreement", err)
	}
	if !slices.Equal(loop.Branches, []Branch{e, up, back}) || math.Abs(loop.Volts-0.5) > 1e-12 {
		t.Errorf("got %v with %v V over", loop.Branches, loop.Volts)
	}
	if err := n.Solve(&s); !errors.As(err, &loop) {
		t.Errorf("a second try gives %v", err)
	}
	n.SetVolts(back, 12)
	mustSolve(t, n, &s)
	n.SetVolts(e, 12.25)
	if err := n.Solve(&s); !errors.As(err, &loop) {
		t.Errorf("after a change of volts: %v", err)
	}
	if s.Volts(a) != 12 {
		t.Errorf("a failed Solve changed the solution to %v V", s.Volts(a))
	}
	n.SetOhms(back, 0.5)
	mustSolve(t, n, &s)
	if math.Abs(s.Amps(back)+0.5) > 1e-12 {
		t.Errorf("the lower source takes up %v A, want 0.5", -s.Amps(back))
	}
	checkLaws(t, n, &s)
}

func TestShortedIdealSource(t *testing.T) {
	n := NewNetwork()
	n.AddSource(Ground, Ground, 0, 0)
	e := n.AddSource(Ground, Ground, 1, 0)
	var s Solution
	var loop *DisagreementError
	if err := n.Solve(&s); !errors.As(err, &loop) || !slices.Equal(loop.Branches, []Branch{e}) {
		t.Errorf("got %v", err)
	}
}
