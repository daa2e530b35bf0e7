// Package harness makes test networks shaped like vehicle wiring, solves them in extended precision, and times contestants against each other.
// It is for tests and benchmarks only. A seed gives the same network on every machine.
//
// With the build tag klu it also reaches the C libraries KLU and LDL.
package harness

import (
	"fmt"
	"io"
	"math/rand/v2"
)

// Ground marks the reference end of an edge.
const Ground int32 = -1

// Network is a linear resistive network with its sources in Norton form.
type Network struct {
	Nodes   int
	Edges   [][2]int32 // node numbers, or Ground
	Siemens []float64  // conductance of each edge
	Volts   []float64  // EMF in series with each edge; positive drives its first node above its second. 0 for most.
}

// Amps returns the current injected into each node by the sources.
func (n *Network) Amps() []float64 {
	amps := make([]float64, n.Nodes)
	for i, e := range n.Edges {
		a := n.Siemens[i] * n.Volts[i]
		if e[0] >= 0 {
			amps[e[0]] += a
		}
		if e[1] >= 0 {
			amps[e[1]] -= a
		}
	}
	return amps
}

func (n *Network) join(a, b int32, siemens, volts float64) {
	n.Edges = append(n.Edges, [2]int32{a, b})
	n.Siemens = append(n.Siemens, siemens)
	n.Volts = append(n.Volts, volts)
}

// Random returns a network of the given size: long runs of wire and contacts that branch now and then, a load at the end of each branch,
// and cross connections. About 79 % of the nodes join just two edges; there are about 1.29 edges a node, a tenth of them cross connections
// of which 95 % stay near; conductances run from 1e-7 S (a meter) to 1e3 S (a contact). Node 0 carries a 12.6 V battery; for every full
// thousand nodes there is a floating 5 V reference as well.
func Random(nodes int, seed uint64) *Network {
	g := generator{Rand: rand.New(rand.NewPCG(seed, uint64(nodes))), n: &Network{Nodes: nodes}}
	g.n.join(0, Ground, 100, 12.6)
	g.trees()
	g.crossings()
	for range nodes / 1000 {
		a := g.Int32N(int32(nodes))
		b := g.near(a)
		g.n.join(a, b, g.between(0, 1), 5)
	}
	return g.n
}

type generator struct {
	*rand.Rand
	n       *Network
	splices []int32 // where branches leave
}

var decade = [...]float64{1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1e0, 1e1, 1e2}

// between returns a conductance from 10^low to 10^high S. No library function that may round differently elsewhere is used.
func (g *generator) between(low, high int) float64 {
	mantissa := 1 + float64(9*g.Float64())
	return mantissa * decade[low+7+g.IntN(high-low)]
}

// branchOdds is the chance that a run ends and the next node starts a new branch.
const branchOdds = 0.19

// trees lays wire and contacts from the battery outward. Each run that ends feeds a load, to ground or to a return wire near by.
func (g *generator) trees() {
	g.splices = []int32{0}
	for i := int32(1); i < int32(g.n.Nodes); i++ {
		from := i - 1
		if g.Float64() < branchOdds {
			g.load(i - 1)
			from = g.near(i)
			g.splices = append(g.splices, from)
		}
		g.n.join(from, i, g.between(1, 3), 0)
	}
	g.load(int32(g.n.Nodes) - 1)
}

// load ends a run: mostly in a load, now and then in a meter or a leak only.
func (g *generator) load(end int32) {
	switch u := g.Float64(); {
	case u < 0.10:
		g.n.join(end, Ground, 1e-7, 0)
	case u < 0.35:
		g.n.join(end, Ground, g.between(-3, 1), 0)
	default:
		g.n.join(end, g.splice(len(g.splices)), g.between(-3, 1), 0)
	}
}

// near returns a node up to 40 places below i, of those that exist.
func (g *generator) near(i int32) int32 {
	return max(0, i-1-g.Int32N(40))
}

// splice returns one of the few splices made before the given one.
func (g *generator) splice(at int) int32 { return g.splices[max(0, at-1-g.IntN(6))] }

// crossings adds loops: shared splices, twin feeds and grounds.
func (g *generator) crossings() {
	nodes := int32(g.n.Nodes)
	for range nodes / 10 {
		at := g.IntN(len(g.splices))
		a := g.splices[at]
		b := g.near(a)
		switch u := g.Float64(); {
		case u < 0.05:
			a, b = g.Int32N(nodes), g.Int32N(nodes)
		case u < 0.50:
			b = g.splice(at)
		}
		g.n.join(a, b, g.between(-1, 3), 0)
	}
}

// Rail returns the open rail: 12.6 V behind 1 mohm, a 10 Mohm fault, then contacts of 1 mohm in a row, and a 10 Mohm meter to ground
// at the far end. Every node after the fault hangs between two 10 Mohm resistances.
func Rail(contacts int) *Network {
	n := &Network{Nodes: contacts + 2}
	n.join(0, Ground, 1e3, 12.6)
	n.join(0, 1, 1e-7, 0)
	for i := range int32(contacts) {
		n.join(i+1, i+2, 1e3, 0)
	}
	n.join(int32(contacts)+1, Ground, 1e-7, 0)
	return n
}

// Write writes the network as text: a line with the number of nodes and of edges, then a line an edge with its ends (-1: ground), its
// conductance and its EMF, in full digits.
func (n *Network) Write(w io.Writer) error {
	if _, err := fmt.Fprintln(w, n.Nodes, len(n.Edges)); err != nil {
		return err
	}
	for i, e := range n.Edges {
		if _, err := fmt.Fprintf(w, "%d %d %.17g %.17g\n", e[0], e[1], n.Siemens[i], n.Volts[i]); err != nil {
			return err
		}
	}
	return nil
}
