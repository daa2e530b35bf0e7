package solver

// This file checks the solver against a general library: modified nodal analysis
// (Ho, Ruehli and Brennan 1975), written out in full here and solved by the dense
// LU of gonum.

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// random returns a connected network of resistors and sources, ideal ones and
// joins among them, that never closes a loop of ideal branches, and two current
// sources. A device law, if any, is put on every twelfth branch.
func random(g *rand.Rand, nodes int, law func() Law) *Network {
	n := NewNetwork()
	ohms := func() float64 { return math.Exp(8*g.Float64() - 4) }
	other := func(v Node) Node {
		for {
			if u := Node(g.IntN(n.Nodes())); u != v {
				return u
			}
		}
	}
	for range nodes {
		v := n.AddNode()
		u := other(v)
		if u > v {
			u = Ground
		}
		switch k := g.IntN(12); {
		case k == 0:
			n.AddResistor(u, v, 0)
		case k == 1:
			n.AddSource(v, u, 10*g.Float64()-5, 0)
		case k == 2:
			n.AddSource(u, v, 20*g.Float64()-5, ohms())
		case k == 3 && law != nil:
			n.AddResistor(u, v, 1e3*ohms())
			n.AddDevice(u, v, law())
		default:
			n.AddResistor(u, v, ohms())
		}
	}
	for range nodes / 2 {
		v := Node(g.IntN(n.Nodes()))
		n.AddResistor(v, other(v), ohms())
	}
	for range 2 {
		v := Node(g.IntN(n.Nodes()))
		n.AddCurrent(v, other(v), g.Float64()-0.5)
	}
	return n
}

// denseMNA solves for all potentials and all branch currents at once: one
// equation per node but Ground, one per branch.
func denseMNA(t *testing.T, n *Network) (volts, amps []float64) {
	t.Helper()
	nodes, branches := n.Nodes()-1, n.Branches()
	size := nodes + branches
	m, right := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for b := range branches {
		row := nodes + b
		from, to := n.Ends(Branch(b))
		for end, sign := range map[Node]float64{from: 1, to: -1} {
			if end == Ground {
				continue
			}
			m.Set(int(end)-1, row, sign) // current leaving the node
			if n.kinds[b] != isCurrent {
				m.Set(row, int(end)-1, sign) // Va - Vb - ohms I = -EMF
			}
		}
		switch n.kinds[b] {
		case isCurrent:
			m.Set(row, row, 1)
			right.SetVec(row, n.Drive(Branch(b)))
		case isSource:
			m.Set(row, row, -n.Ohms(Branch(b)))
			right.SetVec(row, -n.EMF(Branch(b)))
		default:
			m.Set(row, row, -n.Ohms(Branch(b)))
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(m, right); err != nil {
		t.Fatalf("dense peer: %v", err)
	}
	all := x.RawVector().Data
	return append([]float64{0}, all[:nodes]...), all[nodes:]
}

func TestAgainstDenseAnalysis(t *testing.T) {
	for seed := range uint64(200) {
		g := rand.New(rand.NewPCG(seed, 1))
		n := random(g, 2+g.IntN(40), nil)
		volts, amps := denseMNA(t, n)
		var s Solution
		mustSolve(t, n, &s)
		checkLaws(t, n, &s)
		for v, want := range volts {
			if got := s.Volts(Node(v)); math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("seed %d, node %d: %v V, dense analysis says %v", seed, v, got, want)
			}
		}
		for b, want := range amps {
			if got := s.Amps(Branch(b)); math.Abs(got-want) > 1e-8*(1+math.Abs(want)) {
				t.Fatalf("seed %d, branch %d: %v A, dense analysis says %v", seed, b, got, want)
			}
		}
	}
}
