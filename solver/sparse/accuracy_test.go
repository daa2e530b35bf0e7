// Errors against a 256-bit solution, where double precision with an assembled matrix loses microvolts.

package sparse

import (
	"fmt"
	"math"
	"testing"

	"underload/solver/internal/harness"
)

// aim is the node error allowed anywhere, in volts.
const aim = 1e-11

// openAim is the node error allowed for a fault that opens an edge, in volts.
const openAim = 1e-7

// hardNetworks are those the accuracy is judged on.
func hardNetworks() map[string]*harness.Network {
	nets := map[string]*harness.Network{"open rail, 100 contacts": harness.Rail(100), "open rail, 1000 contacts": harness.Rail(1000)}
	for _, n := range []int{50, 200, 1000, 5000} {
		for seed := range uint64(2) {
			nets[fmt.Sprintf("harness, %d nodes, seed %d", n, seed)] = harness.Random(n, seed)
		}
	}
	return nets
}

func TestNodeErrors(t *testing.T) {
	for name, net := range hardNetworks() {
		_, x := solve(net)
		if d := worst(x, harness.Exact(net)); !(d < aim) {
			t.Errorf("%s: off by %g V", name, d)
		}
	}
}

// One step of refinement, its residual taken edge by edge, leaves only the rounding of the voltages themselves.
func TestRefine(t *testing.T) {
	for name, net := range hardNetworks() {
		f, x := solve(net)
		f.Refine(net.Amps(), x, make([]float64, net.Nodes))
		if d := worst(x, harness.Exact(net)); !(d < 5e-14) {
			t.Errorf("%s: off by %g V", name, d)
		}
	}
}

// 12 V feed a load of 0.1 A through a joint of 1 mohm, so 0.1 mV is lost there, in a rail with 10 Mohm meters at every node: the drop must be
// right to a microvolt. It is right to rounding.
func TestMillivoltDropOnATwelveVoltRail(t *testing.T) {
	const joint = 60
	net := &harness.Network{Nodes: 120}
	join := func(a, b int32, siemens, volts float64) {
		net.Edges = append(net.Edges, [2]int32{a, b})
		net.Siemens, net.Volts = append(net.Siemens, siemens), append(net.Volts, volts)
	}
	join(0, Ground, 1e2, 12)
	for i := range int32(119) {
		join(i, i+1, 1e3, 0)
	}
	for i := range int32(120) {
		join(i, Ground, 1e-7, 0)
	}
	join(119, Ground, 1/119.0, 0)
	_, x := solve(net)
	exact := harness.Exact(net)
	got, want := x[joint]-x[joint+1], exact[joint]-exact[joint+1]
	if math.Abs(want-1e-4) > 2e-6 {
		t.Fatalf("the joint drops %g V, not about 0.1 mV", want)
	}
	if d := math.Abs(got - want); !(d < 1e-13) {
		t.Errorf("drop off by %g V", d)
	}
}

// each fault of every edge of the small networks, and of a sample of the large ones.
func faultsToJudge(c *course) []Fault {
	edges := 8
	switch {
	case c.p.nodes <= 202:
		edges = c.p.Edges()
	case c.p.nodes <= 1002:
		edges = 40
	}
	return c.faults(edges)
}

func exactWith(net *harness.Network, fault Fault) []float64 {
	changed := *net
	changed.Siemens = append([]float64(nil), net.Siemens...)
	changed.Siemens[fault.Edge] = fault.Siemens
	return harness.Exact(&changed)
}

func TestDictionaryAndProbeErrors(t *testing.T) {
	for name, net := range hardNetworks() {
		c := newCourse(net)
		faults := faultsToJudge(c)
		var exact [][]float64
		for _, fault := range faults {
			exact = append(exact, exactWith(net, fault))
		}
		seen := 0
		c.f.NewDictionary().Run(nil, net.Volts, faults, func(fault int, after Answer) {
			if fault != seen {
				t.Fatalf("%s: fault %d came when %d was due", name, fault, seen)
			}
			seen++
			after.CopyTo(c.x)
			if d := worst(c.x, exact[fault]); !(d < openAim) {
				t.Errorf("%s: %+v: off by %g V", name, faults[fault], d)
			}
			if node := int32(fault % net.Nodes); after.At(node) != c.x[node] {
				t.Errorf("%s: node %d: %g V by At, %g by CopyTo", name, node, after.At(node), c.x[node])
			}
		})
		nodes := []int32{int32(net.Nodes) - 1, 0, 7, 7} // one of them twice
		for i := range int32(60) {
			nodes = append(nodes, i*int32(net.Nodes)/60)
		}
		c.f.NewProbes(nodes).Run(nil, net.Volts, faults, func(fault int, at []float64) {
			if len(at) != len(nodes) {
				t.Fatalf("%s: %d voltages for %d probes", name, len(at), len(nodes))
			}
			seen++
			for i, node := range nodes {
				if d := math.Abs(at[i] - exact[fault][node]); !(d < openAim) {
					t.Errorf("%s: %+v: node %d off by %g V", name, faults[fault], node, d)
				}
			}
		})
		if seen != 2*len(faults) || seen == 0 {
			t.Errorf("%s: %d answers for twice %d faults", name, seen, len(faults))
		}
	}
}

// Faults of every kind, among them cut edges (0 S), edges of no effect, and edges with a source, against a plain Refactor.
func TestDictionaryAgainstRefactor(t *testing.T) {
	for seed := range uint64(10) {
		net := scramble(30+int(seed), seed)
		p := Analyse(net.Nodes, edgesOf(net))
		f, sound := p.NewFactor(), p.NewFactor()
		sound.Refactor(net.Siemens)
		var faults []Fault
		for e, g := range net.Siemens {
			faults = append(faults, Fault{e, 0}, Fault{e, 3 * g}, Fault{e, g}, Fault{e, 1e6})
		}
		amps := make([]float64, net.Nodes)
		for i := range amps {
			amps[i] = float64(i % 5)
		}
		var all, some [][]float64
		d := sound.NewDictionary()
		d.Run(nil, net.Volts, faults, func(int, Answer) {}) // nothing of one run may reach the next
		d.Run(amps, net.Volts, faults, func(_ int, after Answer) {
			x := make([]float64, net.Nodes)
			after.CopyTo(x)
			all = append(all, x)
		})
		nodes := []int32{5, 0, 29}
		q := sound.NewProbes(nodes)
		q.Run(nil, net.Volts, faults[:7], func(int, []float64) {})
		q.Run(amps, net.Volts, faults, func(_ int, at []float64) { some = append(some, append([]float64(nil), at...)) })
		x := make([]float64, net.Nodes)
		for i, fault := range faults {
			siemens := append([]float64(nil), net.Siemens...)
			siemens[fault.Edge] = fault.Siemens
			f.Refactor(siemens)
			f.Inject(amps, net.Volts, x)
			f.Solve(x)
			limit := 1e-7 * (1 + worst(x, make([]float64, len(x))))
			if d := worst(all[i], x); !(d < limit) {
				t.Errorf("seed %d: %+v: dictionary off by %g V", seed, fault, d)
			}
			for j, node := range nodes {
				if d := math.Abs(some[i][j] - x[node]); !(d < limit) {
					t.Errorf("seed %d: %+v: probe off by %g V", seed, fault, d)
				}
			}
		}
	}
}

// Without its guard the low-rank formula fails the open rail: the guard is needed, and the tests above can tell.
func TestGuardIsNeeded(t *testing.T) {
	net := harness.Rail(100)
	c := newCourse(net)
	d := c.f.NewDictionary()
	d.guard = 0
	bad := 0
	faults := c.faults(c.p.Edges())
	d.Run(nil, c.net.Volts, faults, func(fault int, after Answer) {
		after.CopyTo(c.x)
		if worst(c.x, exactWith(net, faults[fault])) > 1e-6 {
			bad++
		}
	})
	if bad < 50 {
		t.Errorf("only %d faults of %d are off by more than a microvolt without the guard", bad, len(faults))
	}
}
