package solver

// This file measures, as ratios taken side by side in one run.

import (
	"fmt"
	"testing"

	"underload/solver/internal/harness"
)

const rounds = 11

// BenchmarkSolve sets a whole Solve (values taken over, all currents found,
// Kirchhoff checked) against the bare sparse refactor and solve inside it.
func BenchmarkSolve(b *testing.B) {
	for _, nodes := range []int{50, 200, 1000, 5000, 20000} {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			n := fromHarness(harness.Random(nodes, 1))
			var s Solution
			mustSolve(b, n, &s)
			for b.Loop() {
				times := harness.Race(rounds, []harness.Contestant{
					{Name: "solve", Run: func() { mustSolve(b, n, &s) }},
					bareSolve(n),
				}...)
				b.ReportMetric(times.Ratio("solve", "bare"), "solve/bare")
			}
		})
	}
}

func bareSolve(n *Network) harness.Contestant {
	p, w := n.plan, n.work
	f := p.pattern.NewFactor()
	x := make([]float64, p.count)
	amps := make([]float64, p.count)
	amps[0] = 1000
	return harness.Contestant{Name: "bare", Run: func() {
		f.Refactor(w.siemens)
		copy(x, amps)
		f.Solve(x)
	}}
}

// BenchmarkTurn sets a turn of a dial, all nodes, against a full sparse refactor
// and solve: at most 0.06 from 1000 nodes up.
func BenchmarkTurn(b *testing.B) {
	for _, nodes := range []int{200, 1000, 5000, 20000} {
		for k := 1; k <= 3; k++ {
			b.Run(fmt.Sprintf("%d/%d", nodes, k), func(b *testing.B) {
				n := fromHarness(harness.Random(nodes, 1))
				turn, _ := dialContestants(b, n, k)
				for b.Loop() {
					times := harness.Race(rounds, turn, bareSolve(n))
					b.ReportMetric(times.Ratio("turn", "bare"), "turn/bare")
				}
			})
		}
	}
}

// BenchmarkProbe sets 16 probes of a dial in a large network against the same in
// a small one: at most 2.
func BenchmarkProbe(b *testing.B) {
	_, small := dialContestants(b, fromHarness(harness.Random(50, 1)), 1)
	_, large := dialContestants(b, fromHarness(harness.Random(20000, 1)), 1)
	small.Name, large.Name = "50", "20000"
	for b.Loop() {
		times := harness.Race(rounds, small, large)
		b.ReportMetric(times.Ratio("20000", "50"), "20000/50")
		b.ReportMetric(times.Median("20000"), "ns/probes")
	}
}

func dialContestants(b *testing.B, n *Network, k int) (turn, probe harness.Contestant) {
	b.Helper()
	var at, into Solution
	mustSolve(b, n, &at)
	branches := make([]Branch, k)
	for i := range branches {
		branches[i] = Branch((i + 1) * n.Nodes() / 5)
	}
	d, err := n.Dial(&at, branches...)
	if err != nil {
		b.Fatal(err)
	}
	ohms := make([]float64, k)
	step := 0
	next := func() {
		step++
		for i := range ohms {
			ohms[i] = 0.001 * float64(1+(step+i)%16)
		}
	}
	nodes, volts := make([]Node, 16), make([]float64, 16)
	for i := range nodes {
		nodes[i] = Node((i + 1) * n.Nodes() / 17)
	}
	turn = harness.Contestant{Name: "turn", Run: func() {
		next()
		if err := d.Turn(ohms, &into); err != nil || into.Iterations != 0 {
			b.Fatal("not a low-rank turn: ", err)
		}
	}}
	probe = harness.Contestant{Name: "probe", Run: func() {
		next()
		if err := d.Probe(ohms, nodes, volts); err != nil {
			b.Fatal(err)
		}
	}}
	return turn, probe
}

// BenchmarkDevices sets solutions with devices against the bare sparse refactor
// and solve: cold from everything off, warm after a change of one contact, and a
// warm turn of a dial.
func BenchmarkDevices(b *testing.B) {
	for _, nodes := range []int{1000, 5000, 20000} {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			n := loaded(nodes, 4)
			var warm Solution
			mustSolve(b, n, &warm)
			contact := Branch(nodes / 2)
			for n.kinds[contact] != isResistor {
				contact++
			}
			was := n.Ohms(contact)
			turned := false
			for b.Loop() {
				times := harness.Race(rounds, []harness.Contestant{
					{Name: "cold", Run: func() {
						cold := warm
						cold.of, cold.volts, cold.amps = nil, nil, nil
						mustSolve(b, n, &cold)
					}},
					{Name: "warm", Run: func() {
						if turned = !turned; turned {
							n.SetOhms(contact, 10*was)
						} else {
							n.SetOhms(contact, was)
						}
						mustSolve(b, n, &warm)
					}},
					bareSolve(n),
				}...)
				b.ReportMetric(times.Ratio("cold", "bare"), "cold/bare")
				b.ReportMetric(times.Ratio("warm", "bare"), "warm/bare")
			}
		})
	}
}
