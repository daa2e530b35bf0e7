package solver

// This file checks the dial against solving afresh.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/internal/harness"
)

// settings is what a dial is turned to: joined, contacts, leaks, open.
var settings = []float64{0, 1e-4, 0.01, 1, 47, 1e3, 1e5, 1e7, 1e9, math.Inf(1)}

// compare turns a dial of a network and solves a copy afresh with the same ohms.
// The worst differences are returned, in volts of 12 and as a share of the amps. ok is false when both
// fail with the same kind of error.
func compare(t *testing.T, n *Network, d *Dial, branches []Branch, ohms []float64, into *Solution) (volts, amps float64, ok bool) {
	t.Helper()
	fresh := n.Clone()
	for i, b := range branches {
		fresh.SetOhms(b, ohms[i])
	}
	var want Solution
	errFresh, errTurn := fresh.Solve(&want), d.Turn(ohms, into)
	if (errFresh == nil) != (errTurn == nil) {
		t.Fatalf("branches %v at %v ohms: turned %v, afresh %v", branches, ohms, errTurn, errFresh)
	}
	if errFresh != nil {
		return 0, 0, false
	}
	top := 12.0 // a current source into a leak makes megavolts
	for v := range Node(n.Nodes()) {
		top = max(top, math.Abs(want.Volts(v)))
	}
	for v := range Node(n.Nodes()) {
		if !floats(&want, v) {
			volts = max(volts, math.Abs(into.Volts(v)-want.Volts(v))*12/top)
		}
	}
	for b := range Branch(n.Branches()) {
		off := math.Abs(into.Amps(b)-want.Amps(b)) - fresh.rounding()
		amps = max(amps, off/(1+math.Abs(want.Amps(b))))
	}
	if len(want.Floating()) != len(into.Floating()) {
		t.Fatalf("branches %v at %v ohms: %d floating parts, afresh %d", branches, ohms, len(into.Floating()), len(want.Floating()))
	}
	return volts, amps, true
}

func floats(s *Solution, v Node) bool {
	if s.islands == nil || len(s.islands.of) == 0 {
		return false
	}
	u := s.of.plan.unknown[v]
	return int(u) < s.of.plan.count && s.islands.of[u] > 0
}

func TestDialAgainstSolvingAfresh(t *testing.T) {
	worst := 0.0
	for seed := range uint64(400) {
		g := rand.New(rand.NewPCG(seed, 3))
		n := random(g, 3+g.IntN(40), nil)
		var branches []Branch
		for _, b := range g.Perm(n.Branches()) {
			if k := n.kinds[b]; (k == isResistor || k == isSource) && len(branches) < 1+int(seed%3) {
				branches = append(branches, Branch(b))
			}
		}
		var at, into Solution
		mustSolve(t, n, &at)
		d, err := n.Dial(&at, branches...)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for range 40 {
			ohms := make([]float64, len(branches))
			for i := range ohms {
				ohms[i] = settings[g.IntN(len(settings))]
			}
			volts, amps, ok := compare(t, n, d, branches, ohms, &into)
			worst = max(worst, volts)
			if volts > 1e-6 || amps > 1e-6 {
				t.Fatalf("seed %d, branches %v at %v ohms: off by %g V and %g A", seed, branches, ohms, volts, amps)
			}
			if !ok {
				continue
			}
			nodes := []Node{1, 2, Ground}
			probed := make([]float64, 3)
			if err := d.Probe(ohms, nodes, probed); err != nil {
				t.Fatalf("seed %d: probe: %v", seed, err)
			}
			for i, v := range nodes {
				if math.Abs(probed[i]-into.Volts(v)) > 1e-9*(1+math.Abs(probed[i])) {
					t.Fatalf("seed %d: probe at node %d %v V, all nodes %v V", seed, v, probed[i], into.Volts(v))
				}
			}
		}
	}
	t.Logf("worst difference %.2g V of 12", worst)
}

// In the open rail every branch is a bridge or nearly so: opening one is where
// the small system loses its digits, and where the guard must step in.
func TestDialOpensBridges(t *testing.T) {
	for name, h := range map[string]*harness.Network{"rail": harness.Rail(100), "wiring": harness.Random(300, 5)} {
		n := fromHarness(h)
		var at, into Solution
		mustSolve(t, n, &at)
		worst := 0.0
		for b := range Branch(n.Branches()) {
			d, err := n.Dial(&at, b)
			if err != nil {
				t.Fatal(err)
			}
			for _, ohms := range []float64{n.Ohms(b) * 100, 1e9, math.Inf(1), 0} {
				volts, _, _ := compare(t, n, d, []Branch{b}, []float64{ohms}, &into)
				worst = max(worst, volts)
			}
		}
		t.Logf("%s: worst difference %.2g V", name, worst)
		if worst > 1e-6 {
			t.Errorf("%s: worst difference %g V", name, worst)
		}
	}
}

func TestDialWithDevices(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12.6, 0.01)
	contact := n.AddResistor(a, b, 0.01)
	lamp := n.AddDevice(b, Ground, device.Filament{RatedVolts: 12, RatedWatts: 55})
	var at, into Solution
	mustSolve(t, n, &at)
	d, err := n.Dial(&at, contact)
	if err != nil {
		t.Fatal(err)
	}
	for _, ohms := range settings {
		volts, amps, _ := compare(t, n, d, []Branch{contact}, []float64{ohms}, &into)
		if volts > 1e-8 || amps > 1e-8 {
			t.Errorf("at %g ohms: off by %g V, %g A", ohms, volts, amps)
		}
		probed := make([]float64, 1)
		if err := d.Probe([]float64{ohms}, []Node{b}, probed); err != nil || math.Abs(probed[0]-into.Volts(b)) > 1e-8 {
			t.Errorf("at %g ohms: probed %v V (%v), want %v", ohms, probed[0], err, into.Volts(b))
		}
	}
	if at.Amps(lamp) < 4 || n.Ohms(contact) != 0.01 {
		t.Error("turning the dial changed the network or its solution")
	}
}

func TestDialRefusesBadOhms(t *testing.T) {
	n := floatingPair()
	var at Solution
	mustSolve(t, n, &at)
	d, err := n.Dial(&at, 1)
	if err != nil {
		t.Fatal(err)
	}
	before := at.Volts(1)
	var bad *ValueError
	for _, ohms := range []float64{-1, math.NaN(), 1e-12} {
		if err := d.Turn([]float64{ohms}, &at); !errors.As(err, &bad) || bad.Branch != 1 {
			t.Errorf("%v ohms: %v", ohms, err)
		}
		if err := d.Probe([]float64{ohms}, nil, nil); !errors.As(err, &bad) {
			t.Errorf("%v ohms: %v", ohms, err)
		}
	}
	if at.Volts(1) != before {
		t.Error("a refused turn changed the solution")
	}
}

func TestTurningDoesNotAllocate(t *testing.T) {
	n := fromHarness(harness.Random(1000, 1))
	var at, into Solution
	mustSolve(t, n, &at)
	for k := 1; k <= 3; k++ {
		branches := []Branch{10, 200, 600}[:k]
		d, err := n.Dial(&at, branches...)
		if err != nil {
			t.Fatal(err)
		}
		ohms := make([]float64, k)
		probes, volts := []Node{1, 100, 900}, make([]float64, 3)
		step := 0
		allocations := testing.AllocsPerRun(50, func() {
			step++
			for i := range ohms {
				ohms[i] = 0.001 * float64(1+(step+i)%7)
			}
			if err := d.Turn(ohms, &into); err != nil {
				t.Fatal(err)
			}
			if err := d.Probe(ohms, probes, volts); err != nil {
				t.Fatal(err)
			}
		})
		if into.Iterations != 0 {
			t.Errorf("%d branches: the turn was solved afresh", k)
		}
		if allocations != 0 {
			t.Errorf("%d branches: %v allocations", k, allocations)
		}
	}
}
