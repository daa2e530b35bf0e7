// Change, Restore and SolveChanged against a plain Refactor, in every way a column can be made.

package sparse

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/internal/harness"
)

// fused reports whether products are fused into sums here, so that two ways to add up the same numbers differ in the last digits.
func fused() bool {
	x := 1 + math.Pow(2, -30)
	minus := -float64(x * x)
	return x*x+minus != 0
}

// near reports whether two numbers are the same: to the last bit, unless products are fused.
func near(a, b float64) bool { return a == b || fused() && math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

func sameNumbers(t *testing.T, what string, got, want *Factor) {
	t.Helper()
	if fused() && want.negative > 0 {
		return // cancellation may turn a difference in the last digit into one in the first
	}
	for k := range want.ohms {
		if !near(got.ohms[k], want.ohms[k]) || !near(got.sum[k], want.sum[k]) {
			t.Fatalf("%s: column %d: %g ohm, %g S to ground, want %g and %g", what, k, got.ohms[k], got.sum[k], want.ohms[k], want.sum[k])
		}
	}
	for i := range want.p.row {
		if a, b := got.sum[want.p.nodes+i], want.sum[want.p.nodes+i]; !near(a, b) {
			t.Fatalf("%s: entry %d: %g S, want %g", what, i, a, b)
		}
	}
	if got.negative != want.negative || got.zero != want.zero {
		t.Fatalf("%s: %d negative and %d zero pivots, want %d and %d", what, got.negative, got.zero, want.negative, want.zero)
	}
}

func sameVolts(t *testing.T, what string, f *Factor, got, want []float64) {
	t.Helper()
	if fused() && f.negative > 0 {
		return
	}
	for i := range want {
		if !near(got[i], want[i]) {
			t.Fatalf("%s: node %d: %g V, want %g", what, i, got[i], want[i])
		}
	}
}

func TestChange(t *testing.T) {
	// Negative pivots and floating islands to begin with: the counts must survive changes.
	odd := scramble(60, 4)
	for i, e := range odd.Edges {
		if i%5 == 0 {
			odd.Siemens[i] *= -1
		}
		if e[0] < 0 || e[1] < 0 {
			odd.Siemens[i] = 0
		}
	}
	nets := map[string]*harness.Network{"odd": odd, "harness": harness.Random(400, 3), "scramble": scramble(80, 9), "rail": harness.Rail(30)}
	// A short tape forces columns into the merged form; no tape at all forces all of them.
	for _, limit := range []int{tapeLimit, 60, 0} {
		for name, net := range nets {
			p := analyse(net.Nodes, edgesOf(net), limit)
			got, want := p.NewFactor(), p.NewFactor()
			r := rand.New(rand.NewPCG(5, 6))
			siemens := append([]float64(nil), net.Siemens...)
			got.Refactor(siemens)
			x, y, base := make([]float64, p.nodes), make([]float64, p.nodes), net.Amps()
			got.Solve(base)
			for range 60 {
				e := r.IntN(p.edges)
				g := []float64{0, 1e-9, 1e4, -0.01, siemens[e]}[r.IntN(5)]
				got.Change(e, g)
				siemens[e], g = g, siemens[e]
				want.Refactor(siemens)
				sameNumbers(t, name+" changed", got, want)
				copy(x, net.Amps())
				copy(y, net.Amps())
				got.SolveChanged(x)
				want.Solve(y)
				sameVolts(t, name, want, x, y)
				siemens[e] = g
				if r.IntN(2) == 0 { // else the next Change restores
					got.Restore()
					want.Refactor(siemens)
					sameNumbers(t, name+" restored", got, want)
				}
			}
			got.Restore()
			copy(x, net.Amps())
			got.Solve(x)
			sameVolts(t, name+", all restored", got, x, base)
		}
	}
}

// SolveChanged must not build on what something else than the last Solve of the caller left behind.
func TestSolveChangedWithoutSolve(t *testing.T) {
	net := harness.Random(100, 1)
	f, volts := solve(net)
	amps := make([]float64, net.Nodes)
	for i := range amps {
		amps[i] = float64(1 + i%4)
	}
	x := make([]float64, net.Nodes)
	run := func() { copy(x, amps); f.Solve(x) }
	reached := map[int32]bool{}
	for k := f.p.home(5); k >= 0; k = f.p.parent[k] {
		reached[k] = true
	}
	away := 0 // an edge in a column that a change of edge 5 does not reach
	for reached[f.p.home(away)] {
		away++
	}
	other := append([]float64(nil), net.Siemens...)
	for i := range other {
		other[i] *= 1 + float64(i%3)
	}
	changed := append([]float64(nil), other...)
	changed[5] = 2
	g := f.p.NewFactor()
	g.Refactor(changed)
	want := append([]float64(nil), amps...)
	g.Solve(want)
	for name, disturb := range map[string]func(){
		"Refactor":   func() {},
		"Column":     func() { run(); f.Column(3, 40, volts) },
		"Refine":     func() { run(); f.Refine(amps, volts, make([]float64, net.Nodes)) },
		"Dictionary": func() { run(); f.NewDictionary().Run(nil, nil, []Fault{{5, 1}}, func(int, Answer) {}) },
		"Probes": func() {
			run()
			f.NewProbes([]int32{3}).Run(nil, nil, []Fault{{5, 0}}, func(int, []float64) {})
		},
		"Solve with a change": func() {
			f.Change(away, 1)
			run()
			f.Restore()
		},
	} {
		f.Refactor(net.Siemens)
		run()
		f.Refactor(other)
		disturb()
		f.Change(5, 2)
		copy(x, amps)
		f.SolveChanged(x)
		if d := worst(x, want); !(d < 1e-12*(1+worst(want, make([]float64, len(want))))) {
			t.Errorf("after %s: off by %g V", name, d)
		}
	}
}

func TestNoAllocations(t *testing.T) {
	net := harness.Random(500, 4)
	f, volts := solve(net)
	x, amps := make([]float64, net.Nodes), net.Amps()
	l := f.NewLowRank(2)
	more := []float64{0.5, 3}
	d, q := f.NewDictionary(), f.NewProbes([]int32{3, 77, 250})
	faults := []Fault{{Edge: 3, Siemens: 1e-9}, {Edge: 3, Siemens: 1}, {Edge: 8, Siemens: 1e-9}, {Edge: 90, Siemens: 1e-9}}
	sum := 0.0
	count := func(_ int, a Answer) { sum += a.At(7) }
	read := func(_ int, at []float64) { sum += at[0] }
	for name, run := range map[string]func(){
		"Refactor":   func() { f.Refactor(net.Siemens) },
		"Solve":      func() { copy(x, amps); f.Solve(x) },
		"Column":     func() { f.Column(3, 90, x) },
		"Change":     func() { f.Change(20, 1e-9); copy(x, amps); f.SolveChanged(x); f.Restore() },
		"Refine":     func() { f.Refine(amps, volts, x) },
		"LowRank":    func() { l.Reset(); l.Add(3, 90); l.Add(5, Ground); l.Set(more, nil, volts); l.Apply(volts, x) },
		"tick":       func() { l.Set(more, nil, volts); sum += l.At(17, volts[17]) },
		"Dictionary": func() { d.Run(amps, nil, faults, count) },
		"Probes":     func() { q.Run(amps, nil, faults, read) },
		"ZeroPivots": func() { sum += float64(f.ZeroPivots() + f.NegativePivots()) },
	} {
		if a := testing.AllocsPerRun(10, run); a != 0 {
			t.Errorf("%s allocates %g times", name, a)
		}
	}
}
