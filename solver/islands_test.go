package solver

// This file checks parts that have no way to Ground.

import (
	"errors"
	"math"
	"slices"
	"testing"

	"underload/solver/device"
)

// floatingPair is a grounded battery with a load, and beside it a battery with a
// load and a current source that touch Ground nowhere. Branch 5 is that load.
func floatingPair() *Network {
	n := NewNetwork()
	a, p, q, r := n.AddNode(), n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0.01)
	n.AddResistor(a, Ground, 6)
	n.AddSource(p, q, 9, 0.5)
	n.AddResistor(q, r, 1)
	n.AddCurrent(p, r, 0.25)
	n.AddResistor(r, p, 3)
	return n
}

func TestFloatingPartsAreResults(t *testing.T) {
	n := floatingPair()
	var s Solution
	mustSolve(t, n, &s)
	checkLaws(t, n, &s)
	groups := s.Floating()
	if len(groups) != 1 || !slices.Equal(groups[0], []Node{2, 3, 4}) {
		t.Fatalf("floating: %v, want nodes 2, 3 and 4 in one group", groups)
	}
	held := 0
	for _, v := range groups[0] {
		if s.Volts(v) == 0 {
			held++
		}
	}
	if held != 1 {
		t.Errorf("%d nodes of the group are at 0 V, want one", held)
	}
	// The 9 V behind 1.5 ohm and 0.25 A feed 3 ohm: 5 A each way as Norton would
	// have it, (9/1.5 + 0.25) A through 1.5 and 3 ohm in parallel, 6.25 V.
	if v := s.Volts(4) - s.Volts(2); math.Abs(v-6.25) > 1e-12 {
		t.Errorf("load of the floating part: %v V, want 6.25", v)
	}
}

func TestOpeningAndClosingTheOnlyWay(t *testing.T) {
	n := NewNetwork()
	a, b, c := n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0)
	contact := n.AddResistor(a, b, 0.1)
	n.AddResistor(b, c, 1)
	var s Solution
	for range 3 {
		n.SetOhms(contact, math.Inf(1))
		mustSolve(t, n, &s)
		if g := s.Floating(); len(g) != 1 || !slices.Equal(g[0], []Node{b, c}) {
			t.Fatalf("open: floating %v", g)
		}
		if s.Volts(b) != 0 || s.Volts(c) != 0 || s.Amps(contact) != 0 {
			t.Fatalf("open: %v V, %v V, %v A", s.Volts(b), s.Volts(c), s.Amps(contact))
		}
		pattern := n.plan
		n.SetOhms(contact, 0.1)
		mustSolve(t, n, &s)
		if len(s.Floating()) != 0 || s.Volts(c) != 12 {
			t.Fatalf("closed: floating %v, %v V", s.Floating(), s.Volts(c))
		}
		if n.plan != pattern {
			t.Fatal("closing an open branch made a new analysis")
		}
		n.SetOhms(contact, 0)
		mustSolve(t, n, &s)
		if s.Volts(c) != 12 {
			t.Fatalf("joined: %v V", s.Volts(c))
		}
	}
}

func TestFloatingPartWithDevices(t *testing.T) {
	n := NewNetwork()
	a, p, q := n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0)
	feed := n.AddResistor(a, q, 0.5)
	n.AddSource(p, q, 12, 0.1)
	lamp := n.AddDevice(q, p, device.Filament{RatedVolts: 12, RatedWatts: 21})
	ground := n.AddResistor(p, Ground, 0.5)
	var s Solution
	mustSolve(t, n, &s)
	bright := s.Amps(lamp)
	n.SetOhms(feed, math.Inf(1))
	n.SetOhms(ground, math.Inf(1))
	mustSolve(t, n, &s)
	checkLaws(t, n, &s)
	if len(s.Floating()) != 1 || s.Volts(p) != 0 && s.Volts(q) != 0 {
		t.Errorf("floating %v at %v and %v V", s.Floating(), s.Volts(p), s.Volts(q))
	}
	if i := s.Amps(lamp); math.Abs(i/bright-1) > 0.02 {
		t.Errorf("the lamp took %v A, floating %v A", bright, i)
	}
}

func TestCurrentSourceWithoutReturn(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddResistor(a, Ground, 1)
	n.AddResistor(b, b, 1)
	drive := n.AddCurrent(Ground, b, 0.001)
	var s Solution
	err := n.Solve(&s)
	var none *NoOperatingPointError
	if !errors.As(err, &none) || none.Why != NoReturn || none.Node != b {
		t.Fatalf("got %v, want no return path at node %d", err, b)
	}
	if s.Solved() || !math.IsNaN(s.Volts(a)) {
		t.Error("a failed solution holds values")
	}
	n.SetAmps(drive, 0)
	mustSolve(t, n, &s)
}
