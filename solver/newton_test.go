package solver

// This file checks the iteration on wiring with lamps, diodes and electronic
// loads.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/internal/harness"
)

func TestColdIterations(t *testing.T) {
	for _, nodes := range []int{1000, 5000, 20000} {
		n := loaded(nodes, 4)
		var s Solution
		mustSolve(t, n, &s)
		t.Logf("%d nodes, %d devices: %d iterations, %.2g A", nodes, devices(n), s.Iterations, s.ResidualAmps)
		if s.Iterations > 30 {
			t.Errorf("%d nodes: %d iterations", nodes, s.Iterations)
		}
		if share := float64(devices(n)) / float64(n.Branches()); share < 0.01 || share > 0.03 {
			t.Errorf("%d nodes: %.3f of the branches are devices, want 0.01 to 0.03", nodes, share)
		}
		checkLaws(t, n, &s)
	}
}

func TestWarmStartAfterFaults(t *testing.T) {
	const faults = 300
	for _, nodes := range []int{200, 1000} {
		n := loaded(nodes, 6)
		g := rand.New(rand.NewPCG(9, uint64(nodes)))
		var healthy Solution
		mustSolve(t, n, &healthy)
		total, worst, done := 0, 0, 0
		for done < faults {
			b := Branch(g.IntN(n.Branches()))
			if n.kinds[b] == isDevice {
				continue
			}
			done++
			was := n.Ohms(b)
			switch g.IntN(3) {
			case 0:
				n.SetOhms(b, math.Inf(1))
			case 1:
				n.SetOhms(b, was*100)
			case 2:
				n.SetOhms(b, max(MinOhms, was/1000))
			}
			faulty := healthy.Clone()
			if err := n.Solve(faulty); err != nil {
				t.Fatalf("%d nodes, branch %d from %g to %g ohms: %v", nodes, b, was, n.Ohms(b), err)
			}
			checkLaws(t, n, faulty)
			checkStable(t, n, faulty)
			total += faulty.Iterations
			worst = max(worst, faulty.Iterations)
			n.SetOhms(b, was)
		}
		mean := float64(total) / faults
		t.Logf("%d nodes, %d devices: mean %.2f, worst %d", nodes, devices(n), mean, worst)
		if mean > 4 {
			t.Errorf("%d nodes: mean of %.2f iterations", nodes, mean)
		}
	}
}

func TestRepeatedSolveDoesNotAllocate(t *testing.T) {
	for name, n := range map[string]*Network{
		"linear":       fromHarness(harness.Random(1000, 1)),
		"with devices": loaded(1000, 1),
		"with island":  floatingPair(),
	} {
		var s Solution
		mustSolve(t, n, &s)
		mustSolve(t, n, &s)
		wire := Branch(5)
		was := n.Ohms(wire)
		turned := false
		allocations := testing.AllocsPerRun(20, func() {
			turned = !turned
			if n.SetOhms(wire, was); turned {
				n.SetOhms(wire, 1000*was)
			}
			if err := n.Solve(&s); err != nil {
				t.Fatal(err)
			}
		})
		if allocations != 0 {
			t.Errorf("%s: %v allocations", name, allocations)
		}
	}
}

// A source at its limit has no slope; when the short that held it there opens,
// the first step goes beyond any bound and must be caught.
func TestShortOpensBehindLimitedSource(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddDevice(a, Ground, device.LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5})
	wire := n.AddResistor(a, b, 0.1)
	short := n.AddResistor(b, Ground, 0.01)
	var s Solution
	for range 3 {
		mustSolve(t, n, &s)
		if math.Abs(s.Amps(wire)-0.5) > 1e-9 {
			t.Errorf("shorted: %v A, want 0.5", s.Amps(wire))
		}
		n.SetOhms(short, math.Inf(1))
		mustSolve(t, n, &s)
		if math.Abs(s.Volts(b)-5) > 1e-9 {
			t.Errorf("open: %v V, want 5", s.Volts(b))
		}
		n.SetOhms(short, 0.01)
	}
}

// A bare diode straight across an ideal source is nonsense with one answer.
func TestDiodeAcrossIdealSource(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0)
	d := device.Junction{SaturationAmps: 1e-12, Ideality: 1.7, ThermalVolts: device.ThermalVolts27C}
	across := n.AddDevice(a, Ground, d)
	n.AddDevice(a, b, d)
	n.AddDevice(b, Ground, d)
	var s Solution
	mustSolve(t, n, &s)
	if want, _ := d.At(12); math.Abs(s.Amps(across)/want-1) > 1e-9 {
		t.Errorf("%v A, want %v", s.Amps(across), want)
	}
	if math.Abs(s.Volts(b)-6) > 1e-9 {
		t.Errorf("two diodes in series share 12 V at %v V", s.Volts(b))
	}
}

// A lamp that is switched off hot must come to rest at 0 V, not hop between two
// hot states.
func TestLampLosesItsFeed(t *testing.T) {
	n := NewNetwork()
	a, b := n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12.6, 0.01)
	contact := n.AddResistor(a, b, 0.01)
	n.AddDevice(b, Ground, device.Filament{RatedVolts: 12, RatedWatts: 55})
	for _, open := range []float64{1e3, 1e5, 1e7, math.Inf(1)} {
		n.SetOhms(contact, 0.01)
		var s Solution
		mustSolve(t, n, &s)
		n.SetOhms(contact, open)
		mustSolve(t, n, &s)
		cold := device.Filament{RatedVolts: 12, RatedWatts: 55}.ColdOhms()
		want := 12.6 * cold / (cold + open)
		if s.Iterations > 8 || math.Abs(s.Volts(b)-want) > 0.01*want {
			t.Errorf("%v ohm: %v V after %d iterations, want %v", open, s.Volts(b), s.Iterations, want)
		}
	}
}

// The smallest resistance allowed, next to ideal sources, still converges.
func TestStiffestContacts(t *testing.T) {
	n := NewNetwork()
	a, b, c, d := n.AddNode(), n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, a, 12, 0)
	n.AddResistor(a, b, MinOhms)
	n.AddResistor(b, c, MinOhms)
	n.AddSource(c, d, 600, 0)
	n.AddDevice(d, Ground, device.Filament{RatedVolts: 600, RatedWatts: 500})
	n.AddDevice(c, Ground, device.ConstantPower{Watts: 300, KneeVolts: 4})
	n.AddDevice(b, d, device.Junction{SaturationAmps: 1e-9, Ideality: 1.5, ThermalVolts: device.ThermalVolts27C})
	var s Solution
	mustSolve(t, n, &s)
	if s.Iterations > 20 || math.Abs(s.Volts(d)-612) > 1e-4 {
		t.Errorf("%v V after %d iterations", s.Volts(d), s.Iterations)
	}
}
