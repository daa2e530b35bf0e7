// Low-rank answers against a plain Refactor of the network with the edges added.

package sparse

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLowRankAgainstRefactor(t *testing.T) {
	for seed := range uint64(30) {
		net := scramble(20+int(seed), seed)
		f, volts := solve(net)
		r := rand.New(rand.NewPCG(seed, 2))
		rank := int(seed) % 5
		l := f.NewLowRank(4)
		for range 2 { // the second time after Reset
			l.Reset()
			wider := *net
			more, emf := make([]float64, rank), make([]float64, rank)
			for i := range rank {
				a, b := r.Int32N(int32(net.Nodes)), r.Int32N(int32(net.Nodes)+1)-1
				more[i], emf[i] = math.Pow(10, 4*r.Float64()-2), 5*r.Float64()
				l.Add(a, b)
				wider.Edges = append(wider.Edges[:len(wider.Edges):len(wider.Edges)], [2]int32{a, b})
				wider.Siemens = append(wider.Siemens[:len(wider.Siemens):len(wider.Siemens)], more[i])
				wider.Volts = append(wider.Volts[:len(wider.Volts):len(wider.Volts)], emf[i])
			}
			got := make([]float64, net.Nodes)
			if gap := l.Set(more, emf, volts); gap < 0.1 {
				t.Errorf("seed %d: gap %g for edges added", seed, gap)
			}
			l.Apply(volts, got)
			_, want := solve(&wider)
			if d := worst(got, want); !(d < 1e-9*(1+worst(want, make([]float64, len(want))))) {
				t.Errorf("seed %d: rank %d: off by %g V", seed, rank, d)
			}
			for i, v := range got {
				if at := l.At(int32(i), volts[i]); math.Abs(at-v) > 1e-12*(1+math.Abs(v)) {
					t.Fatalf("seed %d: node %d: %g V by At, %g by Apply", seed, i, at, v)
				}
			}
		}
	}
}

// A branch with an EMF whose conductance changes: the current its EMF can drive changes too.
func TestLowRankOfASource(t *testing.T) {
	net := scramble(40, 1)
	e := 0
	for net.Volts[e] == 0 || net.Edges[e][0] == net.Edges[e][1] {
		e++
	}
	f, volts := solve(net)
	l := f.NewLowRank(1)
	l.Add(net.Edges[e][0], net.Edges[e][1])
	l.Set([]float64{net.Siemens[e] * -0.7}, []float64{net.Volts[e]}, volts)
	l.Apply(volts, volts)
	net.Siemens[e] *= 0.3
	_, want := solve(net)
	if d := worst(volts, want); !(d < 1e-11*(1+worst(want, make([]float64, 40)))) {
		t.Errorf("off by %g V", d)
	}
}

// The gap tells of a bridge that is opened: all that is left of an island's hold is a millionth of what it was.
func TestGap(t *testing.T) {
	f := Analyse(2, []Edge{{0, Ground}, {0, 1}, {1, Ground}}).NewFactor()
	f.Refactor([]float64{1, 1, 1e-9})
	volts := []float64{1, 0}
	f.Solve(volts)
	l := f.NewLowRank(1)
	l.Add(0, 1)
	if gap := l.Set([]float64{1e-6 - 1}, nil, volts); math.Abs(gap-1e-6) > 2e-9 {
		t.Errorf("gap %g, want 1e-6", gap)
	}
}
