package solver

// This file holds what a solution of a network answers.

import (
	"math"
	"slices"
)

// Solution is an operating point of a network. The zero Solution is empty and
// may be handed to Solve, which fills it. It belongs to the network that filled
// it and keeps its values when that network changes. Do not copy it by
// assignment, which shares its arrays; use Clone.
type Solution struct {
	of      *Network
	volts   []float64
	amps    []float64
	islands *islandSet
	turned  *Dial // set by Turn: amps are then found from the dial
	carried []float64

	// Iterations counts the linear solutions it took; 0 after a low-rank Turn.
	Iterations int
	// ResidualAmps is the largest current by which Kirchhoff's current law is
	// missed at any node. After a low-rank Turn it is that of the solution the
	// dial was prepared from.
	ResidualAmps float64
}

// Solved tells whether the solution holds an operating point.
func (s *Solution) Solved() bool { return s.of != nil }

// Clone returns a copy that keeps its values when s is solved again.
func (s *Solution) Clone() *Solution {
	c := *s
	c.volts, c.amps, c.carried = slices.Clone(s.volts), slices.Clone(s.amps), slices.Clone(s.carried)
	return &c
}

// Volts returns the potential of a node against Ground, NaN while unsolved.
func (s *Solution) Volts(node Node) float64 {
	if s.of == nil {
		return math.NaN()
	}
	return s.volts[node]
}

// Drop returns the volts from the first end of a branch to the second; for a
// source from minus to plus, so it is negative for one that delivers.
func (s *Solution) Drop(b Branch) float64 {
	if s.of == nil {
		return math.NaN()
	}
	return s.volts[s.of.ends[b][0]] - s.volts[s.of.ends[b][1]]
}

// Amps returns the current through a branch from its first end to its second;
// for a source from minus to plus, so it is positive for one that delivers. In a
// loop of zero-ohm branches the division of current has no answer; it is then
// shown along a tree, with zero in the branches that close the loop.
func (s *Solution) Amps(b Branch) float64 {
	switch {
	case s.of == nil:
		return math.NaN()
	case s.turned != nil:
		return s.turned.amps(b, s.carried)
	}
	return s.amps[b]
}

// Watts returns the power a branch takes up, negative for one that delivers.
// Over all branches it sums to zero.
func (s *Solution) Watts(b Branch) float64 { return s.Drop(b) * s.Amps(b) }

// Floating returns the groups of nodes that no conducting path joins to Ground.
// In each group one node is held at 0 V, so only differences within a group mean
// anything.
func (s *Solution) Floating() [][]Node {
	if s.islands == nil {
		return nil
	}
	groups := make([][]Node, len(s.islands.groups))
	for i, g := range s.islands.groups {
		groups[i] = slices.Clone(g)
	}
	return groups
}

// fits makes room for the network's nodes and branches. Entries that were there
// stay, new ones are zero.
func (s *Solution) fits(n *Network) {
	s.volts = resized(s.volts, n.nodes)
	s.amps = resized(s.amps, len(n.kinds))
}

func resized(x []float64, size int) []float64 {
	if len(x) < size {
		x = append(x, make([]float64, size-len(x))...)
	}
	return x[:size]
}

// startOf returns the potentials a network may start its iteration from, or nil.
func (s *Solution) startOf(n *Network) []float64 {
	if s.of == nil || s.of.origin != n.origin {
		return nil
	}
	return s.volts
}
