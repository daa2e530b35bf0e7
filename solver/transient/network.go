package transient

// This file builds the network that is stepped.

import (
	"fmt"
	"math"
)

// Node names a node of one Network.
type Node int32

// Ground is the node whose potential is 0 V by definition.
const Ground Node = 0

// Edge names a resistor or source of one Network.
type Edge int32

// Limits of a resistance. Outside them it has to be 0, which joins for good, or +Inf, which is open.
const (
	MinOhms = 1e-7
	MaxOhms = 1e18
)

// leakSiemens lies across every element, so that a part held only by a blocking one has a potential.
const leakSiemens = 1e-12

type edge struct {
	a, b   Node // a source lifts b above a
	ohms   float64
	volts  float64
	source bool
}

type placed struct {
	a, b   Node
	what   Element
	sensed []Node
}

// Network is resistors, sources and elements between nodes. It is a plan: Start makes a Run of it, any number of times.
type Network struct {
	nodes    int
	edges    []edge
	elements []placed
}

// New returns a network that has only the Ground node.
func New() *Network { return &Network{nodes: 1} }

// Node adds a node.
func (n *Network) Node() Node {
	n.nodes++
	return Node(n.nodes - 1)
}

// Nodes counts the nodes, Ground included.
func (n *Network) Nodes() int { return n.nodes }

// Elements is how many elements there are; they have the IDs from 0 on.
func (n *Network) Elements() int { return len(n.elements) }

func (n *Network) check(nodes ...Node) {
	for _, v := range nodes {
		if v < 0 || int(v) >= n.nodes {
			panic(fmt.Sprintf("transient: node %d in a network of %d nodes", v, n.nodes))
		}
	}
}

// Resistor adds a resistance. Zero ohms joins its nodes for good, +Inf is open.
func (n *Network) Resistor(a, b Node, ohms float64) Edge {
	n.check(a, b)
	n.edges = append(n.edges, edge{a: a, b: b, ohms: ohms})
	return Edge(len(n.edges) - 1)
}

// Source adds an electromotive force in series with a resistance, which must not be 0.
func (n *Network) Source(minus, plus Node, volts, ohms float64) Edge {
	n.check(minus, plus)
	n.edges = append(n.edges, edge{a: minus, b: plus, ohms: ohms, volts: volts, source: true})
	return Edge(len(n.edges) - 1)
}

// Element adds an element from a to b. Events and ticks of it may ask for the volts of the sensed nodes.
func (n *Network) Element(a, b Node, what Element, sensed ...Node) ID {
	n.check(a, b)
	n.check(sensed...)
	n.elements = append(n.elements, placed{a, b, what, append([]Node(nil), sensed...)})
	return ID(len(n.elements) - 1)
}

func solvable(e edge) bool {
	if math.IsNaN(e.volts) || math.IsInf(e.volts, 0) {
		return false
	}
	return e.ohms == 0 && !e.source || math.IsInf(e.ohms, 1) || e.ohms >= MinOhms && e.ohms <= MaxOhms
}

func siemens(ohms float64) float64 {
	if ohms == 0 {
		return 0
	}
	return 1 / ohms
}
