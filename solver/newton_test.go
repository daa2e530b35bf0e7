package solver

// This file checks the iteration on wiring with lamps, diodes and electronic
// loads.

import (
	"math"
	"math/rand/v2"
	"testing"

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
		var healthy, faulty Solution
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
			faulty.volts = append(faulty.volts[:0], healthy.volts...)
			faulty.of = n
			if err := n.Solve(&faulty); err != nil {
				t.Fatalf("%d nodes, branch %d from %g to %g ohms: %v", nodes, b, was, n.Ohms(b), err)
			}
			if faulty.ResidualAmps > worstAmps || n.work.factor.NegativePivots() > 0 {
				t.Fatalf("branch %d: accepted with %g A and %d negative pivots", b, faulty.ResidualAmps, n.work.factor.NegativePivots())
			}
			checkLaws(t, n, &faulty)
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
