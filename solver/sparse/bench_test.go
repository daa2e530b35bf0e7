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

// sizes are the networks the benchmarks run on, in nodes.
var sizes = []int{50, 200, 1000, 5000, 20000}

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

// faults opens edges, and makes them a hundred times as resistive: two faults an edge, for all edges or for as many as asked, evenly spread.
func (c *course) faults(edges int) []Fault {
	var faults []Fault
	step := max(1, c.p.Edges()/edges)
	for e := 0; e < c.p.Edges() && len(faults) < 2*edges; e += step {
		faults = append(faults, Fault{e, 1e-9}, Fault{e, c.net.Siemens[e] / 100})
	}
	return faults
}

// probes are 64 nodes, evenly spread.
func (c *course) probes() []int32 {
	var nodes []int32
	for i := range 64 {
		nodes = append(nodes, int32(i*c.p.nodes/64))
	}
	return nodes
}

// contestants are our own operations, by the names the tables use. Those on single edges take another edge each time.
func (c *course) contestants() []harness.Contestant {
	f, x := c.f, c.x
	refactor := func() { f.Refactor(c.net.Siemens) }
	solve := func() { copy(x, c.amps); f.Solve(x) }
	return append([]harness.Contestant{
		{Name: "refactor", Run: refactor},
		{Name: "solve", Run: solve},
		{Name: "refactor+solve", Run: func() { refactor(); solve() }},
	}, append(c.whatIfs(), c.dictionaries()...)...)
}

// whatIfs are the answers to one changed conductance. They leave the factor as it was.
func (c *course) whatIfs() []harness.Contestant {
	f, x, edges, ends := c.f, c.x, c.p.Edges(), c.p.ends
	turn := 0
	next := func() int { turn = (turn + 7) % edges; return turn }
	more := []float64{0}
	tick, place := f.NewLowRank(1), f.NewLowRank(1)
	tick.Add(ends[edges/2].A, ends[edges/2].B)
	sum := 0.0
	return []harness.Contestant{
		{Name: "tick", Run: func() {
			more[0] = 0.01 * float64(next())
			tick.Set(more, nil, c.volts)
			tick.Apply(c.volts, x)
		}},
		{Name: "tick, 16 probes", Run: func() {
			more[0] = 0.01 * float64(next())
			tick.Set(more, nil, c.volts)
			for node := range int32(16) {
				sum += tick.At(node, c.volts[node])
			}
		}},
		{Name: "new edge", Run: func() {
			e := next()
			place.Reset()
			place.Add(ends[e].A, ends[(e+1)%edges].A)
			more[0] = 0.1
			place.Set(more, nil, c.volts)
			place.Apply(c.volts, x)
		}},
		{Name: "path", Run: func() {
			f.Change(next(), 0.1)
			copy(x, c.amps)
			f.SolveChanged(x)
			f.Restore()
		}},
	}
}

// dictionaries take all edges, of the largest network 2000.
func (c *course) dictionaries() []harness.Contestant {
	faults := c.faults(7000)
	if c.p.nodes > 5000 {
		faults = c.faults(2000)
	}
	d, guarded, bare := c.f.NewDictionary(), c.f.NewProbes(c.probes()), c.f.NewProbes(c.probes())
	bare.guard = 0
	read := func(int, []float64) {}
	return []harness.Contestant{
		{Name: "dictionary", Each: len(faults), Run: func() { d.Run(nil, c.net.Volts, faults, func(int, Answer) {}) }},
		{Name: "64 probes", Each: len(faults), Run: func() { guarded.Run(nil, c.net.Volts, faults, read) }},
		{Name: "64 probes, unguarded", Each: len(faults), Run: func() { bare.Run(nil, c.net.Volts, faults, read) }},
	}
}

// bar is one line of a table: what was measured, what it must stay below and what it might reach.
type bar struct {
	what                    string
	measured, must, stretch float64
}

// table prints bars and reports them as metrics.
func table(b *testing.B, bars []bar) {
	var out strings.Builder
	fmt.Fprintf(&out, "%-62s %10s %8s %8s\n", "", "measured", "must", "stretch")
	for _, r := range bars {
		verdict := "stretch reached"
		switch {
		case !(r.measured <= r.must):
			verdict = "MISSED"
		case r.measured > r.stretch:
			verdict = "must reached"
		}
		fmt.Fprintf(&out, "%-62s %10.4g %8.3g %8.3g  %s\n", r.what, r.measured, r.must, r.stretch, verdict)
		b.ReportMetric(r.measured, strings.NewReplacer(" ", "_", ",", "").Replace(r.what))
	}
	b.Log("\n" + out.String())
}

// ownBars are the bars that need no peer.
func ownBars(n int, t harness.Times) []bar {
	const own = "refactor+solve"
	var bars []bar
	if n >= 1000 {
		bars = append(bars, bar{fmt.Sprintf("8 tick, all nodes / own refactor+solve, n=%d", n), t.Ratio("tick", own), 0.06, 0.035})
	}
	if n == 1000 || n == 5000 {
		bars = append(bars, bar{fmt.Sprintf("11 exact change, all nodes / own refactor+solve, n=%d", n), t.Ratio("path", own), 0.75, 0.45})
	}
	return bars
}

// probeBar races the smallest network against the largest.
func probeBar() bar {
	small, large := newCourse(harness.Random(50, 1)), newCourse(harness.Random(20000, 1))
	a, b := small.whatIfs()[1], large.whatIfs()[1]
	a.Name, b.Name = "small", "large"
	t := harness.Race(rounds, a, b)
	return bar{"9 tick, 16 probes, n=20000 / n=50", t.Ratio("large", "small"), 2, 1.2}
}

// accuracyBars measure errors against 256 bits.
func accuracyBars() []bar {
	node, open := 0.0, 0.0
	nets := hardNetworks()
	nets["20000"] = harness.Random(20000, 1)
	for _, net := range nets {
		c := newCourse(net)
		node = max(node, worst(c.volts, harness.Exact(net)))
		if net.Nodes > 5000 {
			continue
		}
		faults := faultsToJudge(c)
		c.f.NewDictionary().Run(nil, net.Volts, faults, func(fault int, after Answer) {
			after.CopyTo(c.x)
			open = max(open, worst(c.x, exactWith(net, faults[fault])))
		})
	}
	return []bar{
		{"15 worst node error, all sizes and open rail, V", node, 1e-9, 1e-11},
		{"16 worst dictionary error, sampled to n=5000, and open rail, V", open, 1e-6, 1e-7},
	}
}

// allocationBar counts what any contestant allocates once it is warm.
func allocationBar() bar {
	worst := 0.0
	for _, c := range newCourse(harness.Random(1000, 1)).contestants() {
		worst = max(worst, testing.AllocsPerRun(3, c.Run))
	}
	return bar{"7 allocations: refactor, solve, tick, path, dictionaries", worst, 0, 0}
}

// BenchmarkGrowth shows how our own operations grow with the network, against dense LU (gonum/mat) where that is feasible, and the bars that
// need no other peer. Run it with
//
//	go test -run '^$' -bench Growth -benchtime 1x -v ./solver/sparse
func BenchmarkGrowth(b *testing.B) {
	for b.Loop() {
		var lines strings.Builder
		bars := []bar{allocationBar(), probeBar()}
		for _, n := range sizes {
			c := newCourse(harness.Random(n, 1))
			race := c.contestants()
			if n <= 200 {
				race = append(race, dense(c))
			}
			t := harness.Race(rounds, race...)
			bars = append(bars, ownBars(n, t)...)
			if n <= 200 {
				bars = append(bars, bar{fmt.Sprintf("own refactor+solve / dense LU, n=%d", n), t.Ratio("refactor+solve", "dense"), 1, 0.05})
			}
			lines.WriteString(medians(n, race, t))
		}
		b.Log("\n" + lines.String())
		table(b, append(bars, accuracyBars()...))
	}
}

func medians(n int, race []harness.Contestant, t harness.Times) string {
	var out strings.Builder
	fmt.Fprintf(&out, "n=%d, microseconds:", n)
	for _, c := range race {
		fmt.Fprintf(&out, " %s %.3g;", c.Name, t.Median(c.Name)/1000)
	}
	return out.String() + "\n"
}

// dense is factor and solve with gonum's dense LU.
func dense(c *course) harness.Contestant {
	a := denseMatrix(c.net)
	var lu mat.LU
	x, right := mat.NewVecDense(c.net.Nodes, nil), mat.NewVecDense(c.net.Nodes, c.amps)
	return harness.Contestant{Name: "dense", Run: func() {
		lu.Factorize(a)
		if err := lu.SolveVecTo(x, false, right); err != nil {
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
