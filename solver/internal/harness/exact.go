// The extended-precision answer that tests measure errors against.

package harness

import (
	"container/heap"
	"math/big"
)

// bits is the precision of Exact: 256 bits, some 77 digits.
const bits = 256

// Exact returns the node voltages of the network, solved in 256-bit floating point and rounded at the end. It shares nothing with the
// sparse package: the matrix is assembled, the order is plain minimum degree, and elimination subtracts as in a textbook. Every island
// must have a conductance to ground.
func Exact(n *Network) []float64 {
	amps := make([]*big.Float, n.Nodes)
	for i := range amps {
		amps[i] = number(0)
	}
	for i, e := range n.Edges {
		a := number(n.Siemens[i])
		a.Mul(a, number(n.Volts[i]))
		if e[0] >= 0 {
			amps[e[0]].Add(amps[e[0]], a)
		}
		if e[1] >= 0 {
			amps[e[1]].Sub(amps[e[1]], a)
		}
	}
	m := assemble(n)
	order := m.eliminate(amps)
	volts := make([]float64, n.Nodes)
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		t := new(big.Float).SetPrec(bits)
		for j, g := range m.row[i] { // what is left of row i: columns eliminated later
			if j != i {
				amps[i].Sub(amps[i], t.Mul(g, amps[j]))
			}
		}
		amps[i].Quo(amps[i], m.row[i][i])
		volts[i], _ = amps[i].Float64()
	}
	return volts
}

func number(x float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(x) }

type matrix struct{ row []map[int32]*big.Float }

func assemble(n *Network) *matrix {
	m := &matrix{row: make([]map[int32]*big.Float, n.Nodes)}
	for i := range m.row {
		m.row[i] = map[int32]*big.Float{int32(i): number(0)}
	}
	for i, e := range n.Edges {
		g, minus := number(n.Siemens[i]), number(-n.Siemens[i])
		for side, a := range e {
			b := e[1-side]
			if a < 0 || a == b {
				continue
			}
			m.add(a, a, g)
			if b >= 0 {
				m.add(a, b, minus)
			}
		}
	}
	return m
}

func (m *matrix) add(i, j int32, x *big.Float) {
	if y := m.row[i][j]; y != nil {
		y.Add(y, x)
		return
	}
	m.row[i][j] = new(big.Float).Set(x)
}

// eliminate brings the matrix to triangular form, right side with it, and returns the order it took.
func (m *matrix) eliminate(right []*big.Float) []int32 {
	var q queue
	for i := range m.row {
		q = append(q, waiting{len(m.row[i]), int32(i)})
	}
	heap.Init(&q)
	done := make([]bool, len(m.row))
	order := make([]int32, 0, len(m.row))
	for q.Len() > 0 {
		w := heap.Pop(&q).(waiting)
		i := w.node
		if done[i] || w.degree != len(m.row[i]) {
			continue // an older entry of a node whose degree has changed since
		}
		done[i] = true
		order = append(order, i)
		for j, upper := range m.row[i] {
			if j == i {
				continue
			}
			ratio := new(big.Float).Quo(upper, m.row[i][i]) // symmetric, so row i also holds column i
			for k, x := range m.row[i] {
				if k != i {
					t := new(big.Float).Mul(ratio, x)
					m.add(j, k, t.Neg(t))
				}
			}
			t := new(big.Float).Mul(ratio, right[i])
			right[j].Sub(right[j], t)
			delete(m.row[j], i)
			heap.Push(&q, waiting{len(m.row[j]), j})
		}
	}
	return order
}

type waiting struct {
	degree int
	node   int32
}

// queue is a heap of nodes by degree, for package heap.
type queue []waiting

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].degree < q[j].degree || q[i].degree == q[j].degree && q[i].node < q[j].node
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(waiting)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
