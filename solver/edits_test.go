package solver

// This file checks that a network that was changed and solved many times answers
// like one built new, and that clones are apart.

import (
	"errors"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"underload/solver/device"
	"underload/solver/internal/harness"
)

// rebuilt adds all nodes and branches of n to a new network.
func rebuilt(n *Network) *Network {
	fresh := NewNetwork()
	for range n.Nodes() - 1 {
		fresh.AddNode()
	}
	for b := range Branch(n.Branches()) {
		from, to := n.Ends(b)
		switch n.kinds[b] {
		case isResistor:
			fresh.AddResistor(from, to, n.Ohms(b))
		case isSource:
			fresh.AddSource(from, to, n.EMF(b), n.Ohms(b))
		case isCurrent:
			fresh.AddCurrent(from, to, n.Drive(b))
		case isDevice:
			fresh.AddDevice(from, to, n.Law(b))
		}
	}
	return fresh
}

func TestChangedEqualsRebuilt(t *testing.T) {
	solved := 0
	for seed := range uint64(60) {
		g := rand.New(rand.NewPCG(seed, 8))
		n := random(g, 3+g.IntN(30), nil)
		var s Solution
		for range 40 {
			b := Branch(g.IntN(n.Branches()))
			switch n.kinds[b] {
			case isResistor:
				n.SetOhms(b, settings[g.IntN(len(settings))])
			case isSource:
				if g.IntN(2) == 0 {
					n.SetOhms(b, settings[g.IntN(len(settings))])
				} else {
					n.SetVolts(b, 20*g.Float64()-10)
				}
			case isCurrent:
				n.SetAmps(b, g.Float64()-0.5)
			}
			if g.IntN(10) == 0 {
				v := n.AddNode()
				n.AddResistor(v, Node(g.IntN(n.Nodes()-1)), 1)
			}
			fresh := rebuilt(n)
			var want Solution
			err, wantErr := n.Solve(&s), fresh.Solve(&want)
			if (err == nil) != (wantErr == nil) {
				t.Fatalf("seed %d: changed %v, rebuilt %v", seed, err, wantErr)
			}
			if err != nil {
				continue
			}
			solved++
			for v := range Node(n.Nodes()) {
				if s.Volts(v) != want.Volts(v) {
					t.Fatalf("seed %d: node %d at %v V, rebuilt %v V", seed, v, s.Volts(v), want.Volts(v))
				}
			}
			for b := range Branch(n.Branches()) {
				if s.Amps(b) != want.Amps(b) {
					t.Fatalf("seed %d: branch %d carries %v A, rebuilt %v A", seed, b, s.Amps(b), want.Amps(b))
				}
			}
			if len(s.Floating()) != len(want.Floating()) {
				t.Fatalf("seed %d: floating %v, rebuilt %v", seed, s.Floating(), want.Floating())
			}
		}
	}
	if solved < 60*20 {
		t.Errorf("only %d of %d steps had a solution", solved, 60*40)
	}
}

func TestClonesSolveAtTheSameTime(t *testing.T) {
	n := loaded(400, 3)
	var healthy Solution
	mustSolve(t, n, &healthy)
	const clones = 4
	volts := make([]float64, clones)
	var wait sync.WaitGroup
	for k := range clones {
		wait.Go(func() {
			c := n.Clone()
			c.SetOhms(0, 0.01*float64(k+1))
			var s Solution
			for range 5 {
				if err := c.Solve(&s); err != nil {
					t.Error(err)
					return
				}
			}
			volts[k] = s.Volts(200)
		})
	}
	wait.Wait()
	for k, v := range volts {
		c := rebuilt(n)
		c.SetOhms(0, 0.01*float64(k+1))
		var s Solution
		mustSolve(t, c, &s)
		if math.Abs(s.Volts(200)-v) > 1e-8 {
			t.Errorf("clone %d: %v V, alone %v V", k, v, s.Volts(200))
		}
	}
	var again Solution
	mustSolve(t, n, &again)
	if math.Abs(again.Volts(200)-healthy.Volts(200)) > 1e-8 {
		t.Error("clones changed the original")
	}
}

// A part that hangs on a leak of a gigohm or on nothing but the leaks of devices
// still comes to rest, and differences within it keep their digits.
func TestAdriftWithDevices(t *testing.T) {
	for _, leak := range []float64{1e-7, 1e-9, 0} {
		h := adrift(1e-7)
		n := fromHarness(h)
		for b := range Branch(n.Branches()) {
			if _, to := n.Ends(b); to == Ground && leak == 0 {
				n.SetOhms(b, math.Inf(1))
			} else if to == Ground {
				n.SetOhms(b, 1/leak)
			}
		}
		lamp := n.AddDevice(40, 1, device.Filament{RatedVolts: 12, RatedWatts: 55})
		n.AddDevice(Ground, 36, device.Junction{SaturationAmps: 1e-12, Ideality: 1.5, ThermalVolts: device.ThermalVolts27C})
		var s Solution
		mustSolve(t, n, &s)
		if s.Iterations > 30 {
			t.Errorf("leak %v S: %d iterations", leak, s.Iterations)
		}
		checkLaws(t, n, &s)
		grounded := n.Clone()
		grounded.AddResistor(1, Ground, 0)
		var want Solution
		mustSolve(t, grounded, &want)
		if math.Abs(s.Amps(lamp)-want.Amps(lamp)) > 1e-5 {
			t.Errorf("leak %v S: lamp takes %v A, grounded %v A", leak, s.Amps(lamp), want.Amps(lamp))
		}
	}
}

func TestClonedSolutionKeepsItsValues(t *testing.T) {
	n := fromHarness(harness.Random(50, 1))
	var s Solution
	mustSolve(t, n, &s)
	kept := s.Clone()
	volts, amps := s.Volts(20), s.Amps(0)
	for _, ohms := range []float64{1, 100, math.Inf(1)} {
		n.SetOhms(0, ohms)
		mustSolve(t, n, &s)
	}
	if kept.Volts(20) != volts || kept.Amps(0) != amps || s.Amps(0) == amps {
		t.Errorf("kept %v V, %v A of %v V, %v A; now %v A", kept.Volts(20), kept.Amps(0), volts, amps, s.Amps(0))
	}
}

func TestWarmStartAfterGrowing(t *testing.T) {
	n := loaded(200, 2)
	var s Solution
	mustSolve(t, n, &s)
	v := n.AddNode()
	n.AddResistor(v, 100, 1)
	n.AddDevice(v, Ground, device.Filament{RatedVolts: 12, RatedWatts: 5})
	mustSolve(t, n, &s)
	checkLaws(t, n, &s)
	if v := s.Volts(v); v < 8 {
		t.Errorf("the new lamp gets %v V", v)
	}
}

func TestSolutionOfAnotherNetworkIsNoStart(t *testing.T) {
	small, _, load := fedLoad(1.1)
	var s Solution
	other := fromHarness(harness.Random(50, 1))
	mustSolve(t, other, &s)
	s.volts[load] = 12
	mustSolve(t, small, &s)
	if math.Abs(s.Volts(load)-lower(1.1)) > 1e-8 {
		t.Errorf("started from another network: %v V, want %v as from nothing", s.Volts(load), lower(1.1))
	}
	var bad *ValueError
	small.SetOhms(1, -1)
	if err := small.Solve(&s); !errors.As(err, &bad) || bad.Error() == "" {
		t.Errorf("got %v", err)
	}
	if math.Abs(s.Volts(load)-lower(1.1)) > 1e-8 {
		t.Error("a failed Solve changed the solution")
	}
}
