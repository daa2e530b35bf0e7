// What the benchmarks of this package time. Speed is given as ratios to a peer timed in the same rounds of the same process.

package sparse

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"underload/solver/internal/harness"
)

// rounds is how often each contestant is timed; ratios are medians over the rounds.
const rounds = 21

func edgesOf(n *harness.Network) []Edge {
	edges := make([]Edge, len(n.Edges))
	for i, e := range n.Edges {
		edges[i] = Edge{e[0], e[1]}
	}
	return edges
}

// course is a network with everything the contestants work on.
type course struct {
	net         *harness.Network
	p           *Pattern
	f           *Factor
	amps, volts []float64
	x           []float64
}

func newCourse(net *harness.Network) *course {
	c := &course{net: net, p: Analyse(net.Nodes, edgesOf(net)), amps: net.Amps()}
	c.f = c.p.NewFactor()
	c.f.Refactor(net.Siemens)
	c.volts = append([]float64(nil), c.amps...)
	c.f.Solve(c.volts)
	c.x = make([]float64, net.Nodes)
	return c
}

// faults opens every edge, and makes it a hundred times as resistive: two faults an edge.
func (c *course) faults(edges int) []Fault {
	var faults []Fault
	step := max(1, c.p.Edges()/edges)
	for e := 0; e < c.p.Edges() && len(faults) < 2*edges; e += step {
		g := c.net.Siemens[e]
		faults = append(faults, Fault{e, 1e-9}, Fault{e, g / 100})
	}
	return faults
}

// contestants returns our own operations, named for the table.
func (c *course) contestants() []harness.Contestant {
	f, x, edges := c.f, c.x, c.p.Edges()
	next, ends := 0, c.p.ends
	turn := func() int { next = (next + 7) % edges; return next }
	tick := f.NewLowRank(1)
	tick.Add(ends[edges/2].A, ends[edges/2].B)
	place := f.NewLowRank(1)
	more := []float64{0}
	var sum float64
	d := f.NewDictionary()
	faults := c.faults(256)
	return []harness.Contestant{
		{Name: "refactor", Run: func() { f.Refactor(c.net.Siemens) }},
		{Name: "solve", Run: func() { copy(x, c.amps); f.Solve(x) }},
		{Name: "refactor+solve", Run: func() { f.Refactor(c.net.Siemens); copy(x, c.amps); f.Solve(x) }},
		{Name: "tick", Run: func() {
			more[0] = 0.01 * float64(turn())
			tick.Set(more, nil, c.volts)
			tick.Apply(c.volts, x)
		}},
		{Name: "tick, 16 probes", Run: func() {
			more[0] = 0.01 * float64(turn())
			tick.Set(more, nil, c.volts)
			for node := range int32(16) {
				sum += tick.At(node, c.volts[node])
			}
		}},
		{Name: "new edge", Run: func() {
			e := turn()
			place.Reset()
			place.Add(ends[e].A, ends[(e+1)%edges].A)
			more[0] = 0.1
			place.Set(more, nil, c.volts)
			place.Apply(c.volts, x)
		}},
		{Name: "path", Run: func() {
			f.Change(turn(), 0.1)
			copy(x, c.amps)
			f.SolveChanged(x)
			f.Restore()
		}},
		{Name: "dictionary", Each: len(faults), Run: func() { d.Run(nil, c.net.Volts, faults, func(int, Answer) {}) }},
	}
}

// BenchmarkGrowth shows how our own operations grow with the network, against dense LU (gonum/mat) where that is feasible. Run it with
//
//	go test -run '^$' -bench Growth -benchtime 1x ./solver/sparse
func BenchmarkGrowth(b *testing.B) {
	for b.Loop() {
		var table strings.Builder
		for _, n := range []int{50, 200, 1000, 5000, 20000} {
			c := newCourse(harness.Random(n, 1))
			race := c.contestants()
			if n <= 200 {
				race = append(race, dense(c))
			}
			times := harness.Race(rounds, race)
			fmt.Fprintf(&table, "n=%-6d", n)
			for _, x := range race {
				fmt.Fprintf(&table, " %s %.2f us;", x.Name, times.Median(x.Name)/1000)
			}
			if n <= 200 {
				ratio := times.Ratio("dense", "refactor+solve")
				fmt.Fprintf(&table, " dense / ours %.0f", ratio)
				b.ReportMetric(ratio, fmt.Sprintf("dense/ours@%d", n))
			}
			fmt.Fprintln(&table)
		}
		b.Log("\n" + table.String())
	}
}

// dense is factor and solve with gonum's dense LU.
func dense(c *course) harness.Contestant {
	a := denseMatrix(c.net)
	var lu mat.LU
	x := mat.NewVecDense(c.net.Nodes, nil)
	return harness.Contestant{Name: "dense", Run: func() {
		lu.Factorize(a)
		if err := lu.SolveVecTo(x, false, mat.NewVecDense(c.net.Nodes, c.amps)); err != nil {
			if _, onlyIllConditioned := err.(mat.Condition); !onlyIllConditioned {
				panic(err)
			}
		}
	}}
}

// denseMatrix assembles the matrix of node conductances.
func denseMatrix(net *harness.Network) *mat.Dense {
	m := mat.NewDense(net.Nodes, net.Nodes, nil)
	for i, e := range net.Edges {
		for side, a := range e {
			b := e[1-side]
			if a < 0 || a == b {
				continue
			}
			m.Set(int(a), int(a), m.At(int(a), int(a))+net.Siemens[i])
			if b >= 0 {
				m.Set(int(a), int(b), m.At(int(a), int(b))-net.Siemens[i])
			}
		}
	}
	return m
}
