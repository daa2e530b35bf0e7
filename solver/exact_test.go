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
