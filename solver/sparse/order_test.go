// The elimination order: a permutation, no fill where none is needed, and little elsewhere.

package sparse

import (
	"math/rand/v2"
	"slices"
	"testing"

	"underload/solver/internal/harness"
)

func isPermutation(order []int32) bool {
	seen := make([]bool, len(order))
	for _, i := range order {
		if i < 0 || int(i) >= len(order) || seen[i] {
			return false
		}
		seen[i] = true
	}
	return true
}

func TestOrderIsAPermutation(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 8))
		nodes := 1 + r.IntN(120)
		var edges []Edge
		for range r.IntN(6 * nodes) {
			edges = append(edges, Edge{r.Int32N(int32(nodes)), r.Int32N(int32(nodes))})
		}
		start, adjacency := neighbours(nodes, edges)
		order := minimumDegree(start, adjacency)
		if len(order) != nodes || !isPermutation(order) {
			t.Fatalf("seed %d: not an order of %d nodes: %v", seed, nodes, order)
		}
	}
}

// Shapes whose best fill is known: trees and stars have none, a ring has one new edge for each node but three.
func TestFillOfKnownShapes(t *testing.T) {
	const n = 500
	var chain, star, ring, full []Edge
	for i := range int32(n - 1) {
		chain = append(chain, Edge{i, i + 1})
		star = append(star, Edge{n - 1, i})
		ring = append(ring, Edge{i, i + 1})
	}
	ring = append(ring, Edge{n - 1, 0})
	for i := range int32(30) {
		for j := range i {
			full = append(full, Edge{i, j})
		}
	}
	for name, test := range map[string]struct {
		nodes int
		edges []Edge
		fill  int
	}{
		"chain": {n, chain, n + 2*(n-1)},
		"star":  {n, star, n + 2*(n-1)},
		"ring":  {n, ring, n + 2*(n+n-3)},
		"full":  {30, full, 30 * 30},
		"none":  {n, nil, n},
	} {
		if got := Analyse(test.nodes, test.edges).Fill(); got != test.fill {
			t.Errorf("%s: fill %d, want %d", name, got, test.fill)
		}
	}
}

// The fill of KLU's ordering (AMD, from SuiteSparse 5.12.0, by klu_factor with default settings) on the same networks.
func TestFillAgainstAMD(t *testing.T) {
	for _, test := range []struct{ nodes, fill int }{{50, 246}, {200, 974}, {1000, 5760}, {5000, 30962}, {20000, 132328}} {
		if got := Analyse(test.nodes, edgesOf(harness.Random(test.nodes, 1))).Fill(); float64(got) > 1.005*float64(test.fill) {
			t.Errorf("%d nodes: fill %d, AMD's %d", test.nodes, got, test.fill)
		}
	}
}

// A busbar with thousands of neighbours must not be touched at every step, nor cost fill beyond its own edges.
func TestBusbar(t *testing.T) {
	const n = 5000
	net := harness.Random(n, 1)
	edges := edgesOf(net)
	before := Analyse(n, edges).Fill()
	for i := range int32(n) {
		edges = append(edges, Edge{n, i})
	}
	if after := Analyse(n+1, edges).Fill(); after > before+2*n+1 {
		t.Errorf("fill %d with a busbar on every node, %d without", after, before)
	}
}

func TestSameInputSamePattern(t *testing.T) {
	edges := edgesOf(harness.Random(2000, 5))
	a, b := Analyse(2000, edges), Analyse(2000, edges)
	if !slices.Equal(a.node, b.node) || !slices.Equal(a.tape, b.tape) || !slices.Equal(a.slot, b.slot) {
		t.Error("two analyses of one network differ")
	}
}

// Columns are numbered so that each touches later ones only, and every place an edge or a pair adds to is the right one.
func TestPatternHoldsTogether(t *testing.T) {
	for _, limit := range []int{tapeLimit, 100, 0} {
		net := scramble(200, 3)
		p := analyse(net.Nodes, edgesOf(net), limit)
		for k := range int32(p.nodes) {
			rows := p.row[p.begin[k]:p.begin[k+1]]
			if !slices.IsSorted(rows) || len(rows) > 0 && (rows[0] <= k || p.parent[k] != rows[0]) || len(rows) == 0 && p.parent[k] != -1 {
				t.Fatalf("column %d with parent %d touches %v", k, p.parent[k], rows)
			}
			if p.node[p.column[k]] != k {
				t.Fatalf("node %d is column %d, which is node %d", k, p.column[k], p.node[p.column[k]])
			}
		}
		touches := 0
		for c := range int32(p.nodes) {
			for _, touch := range p.touch[p.touchBegin[c]:p.touchBegin[c+1]] {
				touches++
				if p.row[touch.entry] != c || touch.entry < p.begin[touch.from] || touch.entry >= p.begin[touch.from+1] {
					t.Fatalf("column %d: %+v", c, touch)
				}
				if touch.from >= p.taped {
					continue
				}
				others := p.row[touch.entry+1 : p.begin[touch.from+1]]
				for i, target := range p.tape[touch.tape:][:len(others)] {
					if p.row[target] != others[i] || target < p.begin[c] || target >= p.begin[c+1] {
						t.Fatalf("column %d: pair %d of %+v adds to entry %d", c, i, touch, target)
					}
				}
			}
		}
		if len(p.tape) > limit {
			t.Errorf("a tape of %d, limit %d", len(p.tape), limit)
		}
		if touches != len(p.row) {
			t.Errorf("%d touches for %d entries", touches, len(p.row))
		}
	}
}
