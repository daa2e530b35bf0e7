package solver

// This file checks linear solutions against 256-bit arithmetic.

import (
	"fmt"
	"math"
	"testing"

	"underload/solver/internal/harness"
)

func TestVoltagesAreExact(t *testing.T) {
	networks := map[string]*harness.Network{"rail 100": harness.Rail(100), "rail 1000": harness.Rail(1000)}
	for _, leak := range []float64{1e-7, 1e-9} {
		networks[fmt.Sprint("adrift on ", leak, " S")] = adrift(leak)
	}
	for _, nodes := range []int{50, 200, 1000, 5000} {
		networks[fmt.Sprint("wiring ", nodes)] = harness.Random(nodes, 2)
	}
	for name, h := range networks {
		n := fromHarness(h)
		exact := harness.Exact(h)
		var s Solution
		mustSolve(t, n, &s)
		worst := 0.0
		for v, want := range exact {
			worst = max(worst, math.Abs(s.Volts(Node(v+1))-want))
		}
		t.Logf("%s: worst error %.2g V", name, worst)
		if worst > 1e-11 {
			t.Errorf("%s: worst error %g V", name, worst)
		}
		checkLaws(t, n, &s)
	}
}

// adrift is a vehicle whose battery has lost its ground: a battery, wire and a
// load that nothing joins to Ground but two leaks.
func adrift(leakSiemens float64) *harness.Network {
	h := &harness.Network{Nodes: 40}
	join := func(a, b int32, siemens, volts float64) {
		h.Edges = append(h.Edges, [2]int32{a, b})
		h.Siemens = append(h.Siemens, siemens)
		h.Volts = append(h.Volts, volts)
	}
	join(1, 0, 1e3, 12.6)
	for i := range int32(38) {
		join(i+1, i+2, 1e3/(1+float64(i)/7), 0)
	}
	join(39, 0, 2, 0)
	join(20, harness.Ground, leakSiemens, 0)
	join(5, harness.Ground, leakSiemens/3, 0)
	return h
}
