// Answers against dense LU (gonum/mat), against the laws of circuits, and in the odd cases: islands, no nodes, doubled edges.

package sparse

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"underload/solver/internal/harness"
)

// scramble is a connected network with no structure: a random tree, random extra edges (some doubled, some from a node to itself), some
// edges to ground. Conductances are within a factor of a million.
func scramble(nodes int, seed uint64) *harness.Network {
	r := rand.New(rand.NewPCG(seed, 77))
	n := &harness.Network{Nodes: nodes}
	join := func(a, b int32) {
		n.Edges = append(n.Edges, [2]int32{a, b})
		n.Siemens = append(n.Siemens, math.Pow(10, -3+6*r.Float64()))
		n.Volts = append(n.Volts, math.Floor(3*r.Float64())*6)
	}
	at := func() int32 { return r.Int32N(int32(nodes)) }
	join(at(), Ground)
	for i := 1; i < nodes; i++ {
		join(int32(i), r.Int32N(int32(i)))
	}
	for range 1 + nodes/2 {
		join(at(), at())
		n.Edges = append(n.Edges, n.Edges[len(n.Edges)-1])
		n.Siemens, n.Volts = append(n.Siemens, 0.5), append(n.Volts, 0)
	}
	for range 1 + nodes/10 {
		join(Ground, at())
	}
	return n
}

func solve(net *harness.Network) (*Factor, []float64) {
	f := Analyse(net.Nodes, edgesOf(net)).NewFactor()
	f.Refactor(net.Siemens)
	x := net.Amps()
	f.Solve(x)
	return f, x
}

func worst(a, b []float64) float64 {
	w := 0.0
	for i := range a {
		d := math.Abs(a[i] - b[i])
		if !(d <= w) { // so that not-a-number shows
			w = d
		}
	}
	return w
}

func TestSolveAgainstDense(t *testing.T) {
	for seed := range uint64(200) {
		nodes := 1 + int(seed)%60
		net := scramble(nodes, seed)
		_, x := solve(net)
		want := mat.NewVecDense(nodes, nil)
		if err := want.SolveVec(denseMatrix(net), mat.NewVecDense(nodes, net.Amps())); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		scale := 1 + mat.Norm(want, math.Inf(1))
		if d := worst(x, want.RawVector().Data); !(d < 1e-8*scale) {
			t.Errorf("seed %d, %d nodes: off by %g V", seed, nodes, d)
		}
	}
}

func TestColumnAgainstSolve(t *testing.T) {
	for seed := range uint64(40) {
		net := scramble(1+int(seed), seed)
		f, _ := solve(net)
		r := rand.New(rand.NewPCG(seed, 1))
		got, want := make([]float64, net.Nodes), make([]float64, net.Nodes)
		for range 10 {
			a, b := r.Int32N(int32(net.Nodes)), r.Int32N(int32(net.Nodes)+1)-1
			clear(want)
			want[a]++
			if b >= 0 {
				want[b]--
			}
			f.Solve(want)
			f.Column(a, b, got)
			if d := worst(got, want); !(d < 1e-11*(1+math.Abs(drop(want, a, b)))) {
				t.Errorf("seed %d: column %d %d off by %g V", seed, a, b, d)
			}
			if a != b && drop(got, a, b) <= 0 {
				t.Errorf("seed %d: a resistance of %g ohm", seed, drop(got, a, b))
			}
		}
	}
}

// The laws: currents balance at every node, what the sources give the resistances take (Tellegen), and a transfer resistance is the same both
// ways (reciprocity).
func TestCircuitLaws(t *testing.T) {
	for seed := range uint64(6) {
		net := harness.Random(300, seed)
		f, x := solve(net)
		left, through := make([]float64, net.Nodes), make([]float64, net.Nodes)
		f.Residual(net.Amps(), x, left)
		given, taken := 0.0, 0.0
		for i, e := range net.Edges {
			v := drop(x, e[0], e[1])
			amps := net.Siemens[i] * (v - net.Volts[i])
			given -= net.Volts[i] * amps
			taken += net.Siemens[i] * (v - net.Volts[i]) * (v - net.Volts[i])
			for _, end := range e {
				if end >= 0 {
					through[end] = math.Max(through[end], net.Siemens[i]*math.Abs(v))
				}
			}
		}
		for i, amps := range left {
			// The voltages are rounded at 1e-15 of 12 V, and each edge turns that into a current.
			if limit := 1e-11 * (1 + through[i]); math.Abs(amps) > limit {
				t.Errorf("seed %d: %g A left over at node %d", seed, amps, i)
			}
		}
		if math.Abs(given-taken) > 1e-9*taken || taken <= 0 {
			t.Errorf("seed %d: %g W given, %g W taken", seed, given, taken)
		}
		u, w := make([]float64, net.Nodes), make([]float64, net.Nodes)
		f.Column(17, Ground, u)
		f.Column(230, Ground, w)
		if d := math.Abs(u[230] - w[17]); d > 1e-13*math.Abs(w[17]) {
			t.Errorf("seed %d: transfer resistances %g and %g ohm", seed, u[230], w[17])
		}
	}
}

func TestIslands(t *testing.T) {
	tests := []struct {
		name    string
		nodes   int
		edges   []Edge
		siemens []float64
		amps    []float64
		volts   []float64
		zero    int
	}{
		{"no nodes", 0, nil, nil, nil, nil, 0},
		{"only ground", 0, []Edge{{Ground, Ground}}, []float64{5}, nil, nil, 0},
		{"one node, nothing on it", 1, nil, nil, []float64{3}, []float64{0}, 1},
		{"one node to ground", 1, []Edge{{0, Ground}}, []float64{4}, []float64{2}, []float64{0.5}, 0},
		{"ground first", 1, []Edge{{Ground, 0}}, []float64{4}, []float64{2}, []float64{0.5}, 0},
		{"self-loop", 1, []Edge{{0, 0}, {0, Ground}}, []float64{100, 4}, []float64{2}, []float64{0.5}, 0},
		{"twice the same edge", 1, []Edge{{0, Ground}, {Ground, 0}}, []float64{1, 3}, []float64{2}, []float64{0.5}, 0},
		{"floating pair, one end held", 2, []Edge{{0, 1}}, []float64{2}, []float64{1, -1}, nil, 1},
		{"open switch", 2, []Edge{{0, Ground}, {0, 1}}, []float64{1, 0}, []float64{12, 0}, []float64{12, 0}, 1},
		{"two islands", 4, []Edge{{0, 1}, {2, 3}, {3, Ground}}, []float64{1, 1, 1}, []float64{0, 0, 1, 0}, []float64{0, 0, 2, 1}, 1},
	}
	for _, test := range tests {
		f := Analyse(test.nodes, test.edges).NewFactor()
		f.Refactor(test.siemens)
		x := append([]float64(nil), test.amps...)
		f.Solve(x)
		if f.ZeroPivots() != test.zero || f.NegativePivots() != 0 {
			t.Errorf("%s: %d zero and %d negative pivots, want %d and 0", test.name, f.ZeroPivots(), f.NegativePivots(), test.zero)
		}
		if test.volts == nil && test.nodes > 0 { // which end is held is ours to choose; the difference is not
			if math.Abs(x[0]-x[1]-0.5) > 1e-15 || x[0]*x[1] != 0 {
				t.Errorf("%s: %v", test.name, x)
			}
		} else if d := worst(x, test.volts); d != 0 {
			t.Errorf("%s: %v, want %v", test.name, x, test.volts)
		}
	}
}

// A large floating island gives one zero pivot, exactly, whatever its conductances: nothing was subtracted.
func TestFloatingIslandIsExactlyZero(t *testing.T) {
	for seed := range uint64(20) {
		net := scramble(400, seed)
		for i, e := range net.Edges {
			if e[0] < 0 || e[1] < 0 {
				net.Siemens[i] = 0
			}
		}
		f, x := solve(net)
		if f.ZeroPivots() != 1 || f.NegativePivots() != 0 {
			t.Errorf("seed %d: %d zero and %d negative pivots", seed, f.ZeroPivots(), f.NegativePivots())
		}
		for i, v := range x {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("seed %d: node %d at %g V", seed, i, v)
			}
		}
	}
}

// Negative pivots are as many as negative eigenvalues (Sylvester's law of inertia), here from gonum's symmetric eigenvalues.
func TestNegativePivotsAreNegativeEigenvalues(t *testing.T) {
	seen := 0
	for seed := range uint64(60) {
		net := scramble(2+int(seed)%25, seed)
		r := rand.New(rand.NewPCG(seed, 3))
		for i := range net.Siemens {
			if r.Float64() < 0.15 {
				net.Siemens[i] *= -1
			}
			net.Siemens[i] *= math.Pow(1e-3, float64(seed%5)) // however small
		}
		f, _ := solve(net)
		a := denseMatrix(net)
		sym := mat.NewSymDense(net.Nodes, nil)
		for i := range net.Nodes {
			for j := i; j < net.Nodes; j++ {
				sym.SetSym(i, j, a.At(i, j))
			}
		}
		var eigen mat.EigenSym
		if !eigen.Factorize(sym, false) {
			t.Fatal("no eigenvalues")
		}
		want := 0
		for _, v := range eigen.Values(nil) {
			if v < 0 {
				want++
			}
		}
		seen += want
		if f.NegativePivots() != want {
			t.Errorf("seed %d: %d negative pivots, %d negative eigenvalues", seed, f.NegativePivots(), want)
		}
	}
	if seen < 50 {
		t.Errorf("only %d negative eigenvalues met", seen)
	}
}

// FuzzSolve feeds arbitrary small networks, negative and extreme conductances among them: no panic, and never not-a-number.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{3, 0, 1, 9, 1, 2, 200, 2, 255, 100})
	f.Add([]byte{1, 0, 0, 1})
	f.Add([]byte{9, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) == 0 {
			return
		}
		nodes := int(data[0]) % 12
		var edges []Edge
		var siemens []float64
		for d := data[1:]; len(d) >= 3; d = d[3:] {
			end := func(b byte) int32 { return int32(int(b)%(nodes+1)) - 1 }
			edges = append(edges, Edge{end(d[0]), end(d[1])})
			g := math.Pow(10, float64(int(d[2])%64)-32)
			if d[2] >= 192 {
				g = -g
			}
			if d[2]%64 == 0 {
				g = 0
			}
			siemens = append(siemens, g)
		}
		factor := Analyse(nodes, edges).NewFactor()
		factor.Refactor(siemens)
		x := make([]float64, nodes)
		for i := range x {
			x[i] = float64(i%3) - 1
		}
		factor.Solve(x)
		for i, v := range x {
			if math.IsNaN(v) {
				t.Errorf("node %d: not a number, edges %v, siemens %v", i, edges, siemens)
			}
		}
	})
}
