package solver

// This file prepares a network for solution: which unknowns there are, which
// edges join them, and which parts have no way to Ground.

import (
	"math"

	"underload/solver/sparse"
)

// plan is everything that depends on the shape of a network alone. It is never
// changed once made, so clones share it.
type plan struct {
	forest
	unknown []int32 // node -> its group's unknown; the group of Ground has the number count
	nodeOf  []Node  // unknown -> root of its group
	count   int
	branch  []Branch // edge -> branch; linear edges first, then devices
	edge    []int32  // branch -> edge, -1 for one that is none
	a, b    []int32  // edge -> unknowns of its two ends
	linear  int      // number of linear edges
	drives  []Branch // current sources
	pattern *sparse.Pattern
}

// analyse makes the plan. Branches with both ends in one group are no edges:
// their current follows from the offsets alone.
func (n *Network) analyse() *plan {
	p := &plan{forest: n.merge()}
	p.unknown = make([]int32, n.nodes)
	for v, root := range p.root {
		if Node(v) == root && root != Ground {
			p.unknown[v] = int32(len(p.nodeOf))
			p.nodeOf = append(p.nodeOf, root)
		}
	}
	p.count = len(p.nodeOf)
	p.unknown[Ground] = int32(p.count)
	for v, root := range p.root {
		p.unknown[v] = p.unknown[root]
	}
	p.edge = make([]int32, len(n.kinds))
	for b := range p.edge {
		p.edge[b] = -1
	}
	n.addEdges(p, func(k kind) bool { return k == isResistor || k == isSource })
	p.linear = len(p.branch)
	n.addEdges(p, func(k kind) bool { return k == isDevice })
	for b, k := range n.kinds {
		if k == isCurrent {
			p.drives = append(p.drives, Branch(b))
		}
	}
	edges := make([]sparse.Edge, len(p.branch))
	for e := range edges {
		edges[e] = sparse.Edge{A: p.sparseNode(p.a[e]), B: p.sparseNode(p.b[e])}
	}
	p.pattern = sparse.Analyse(p.count, edges)
	return p
}

func (n *Network) addEdges(p *plan, wanted func(kind) bool) {
	for b, k := range n.kinds {
		if !wanted(k) || n.ohms[b] == 0 {
			continue
		}
		u, v := p.unknown[n.ends[b][0]], p.unknown[n.ends[b][1]]
		if u != v {
			p.edge[b] = int32(len(p.branch))
			p.branch = append(p.branch, Branch(b))
			p.a = append(p.a, u)
			p.b = append(p.b, v)
		}
	}
}

func (p *plan) sparseNode(u int32) int32 {
	if int(u) == p.count {
		return sparse.Ground
	}
	return u
}

// workspace is the room a solution takes place in. Arrays over unknowns have one
// more place, for Ground.
type workspace struct {
	factor   *sparse.Factor
	offset   []float64 // node: volts above its root
	reach    float64   // largest offset
	siemens  []float64 // edge
	emf      []float64 // linear edge: volts that drive it besides its unknowns; device edge: offset of its ends
	inject   []float64 // unknown: amps from current sources
	x, dx    []float64 // unknown: volts, and change or unbalanced amps
	back     []float64 // unknown: volts to go back to when a step is refused
	at       []float64 // device edge: volts its law was last asked at
	cap      []float64 // device edge: conductance that stands for a capacitor during a time step
	held     []float64 // device edge: volts of that capacitor
	falling  []bool    // device edge: its slope was seen negative
	stiffest float64   // steepest rising slope of a device in the last pass
	steepest float64   // most negative slope met since it was last set to 0
	volts    []float64 // node, to be handed over
	amps     []float64 // branch, to be handed over
	net      []float64 // node: amps leaving
	parent   []int32   // unknown: sets of connected ones
	returns  []float64 // island: amps from current sources
	driven   []int32   // linear edges with an emf
	driving  bool      // emf, driven and inject are up to date
	ranked   bool      // refine is up to date
	refine   bool      // a part that hangs on weak branches drives itself
}

func newWorkspace(n *Network, p *plan) *workspace {
	devices := len(p.branch) - p.linear
	w := &workspace{
		factor:  p.pattern.NewFactor(),
		offset:  make([]float64, n.nodes),
		siemens: make([]float64, len(p.branch)),
		emf:     make([]float64, len(p.branch)),
		inject:  make([]float64, p.count+1),
		x:       make([]float64, p.count+1),
		dx:      make([]float64, p.count+1),
		back:    make([]float64, p.count+1),
		at:      make([]float64, devices),
		cap:     make([]float64, devices),
		held:    make([]float64, devices),
		falling: make([]bool, devices),
		net:     make([]float64, n.nodes),
	}
	for e, b := range p.branch[:p.linear] {
		w.siemens[e] = n.siemens[b]
	}
	return w
}

// prepare brings plan, workspace, offsets, islands and edge values up to date.
func (n *Network) prepare() error {
	if n.invalid > 0 {
		return n.firstInvalid()
	}
	if n.plan == nil {
		n.plan = n.analyse()
		n.work, n.islands = nil, nil
	}
	if n.work == nil {
		n.work = newWorkspace(n, n.plan)
		n.shifted = true
	}
	if n.shifted {
		if err := n.findOffsets(&n.plan.forest, n.work.offset); err != nil {
			return err
		}
		n.shifted, n.work.driving = false, false
		n.work.reach = 0
		for _, volts := range n.work.offset {
			n.work.reach = max(n.work.reach, math.Abs(volts))
		}
	}
	if n.islands == nil {
		n.islands = n.findIslands()
	}
	if !n.work.driving {
		n.drive()
	}
	return n.checkReturns()
}

// drive takes over what sources drive.
func (n *Network) drive() {
	p, w := n.plan, n.work
	w.driven = w.driven[:0]
	for e, b := range p.branch {
		a, z := n.ends[b][0], n.ends[b][1]
		w.emf[e] = w.offset[a] - w.offset[z] + n.values[b]
		if e < p.linear && w.emf[e] != 0 {
			w.driven = append(w.driven, int32(e))
		}
	}
	clear(w.inject)
	for _, b := range p.drives {
		w.inject[p.unknown[n.ends[b][0]]] -= n.values[b]
		w.inject[p.unknown[n.ends[b][1]]] += n.values[b]
	}
	w.driving, w.ranked = true, false
}

// carry takes over a changed resistance.
func (n *Network) carry(b Branch) {
	if n.plan == nil || n.work == nil {
		return
	}
	if e := n.plan.edge[b]; e >= 0 {
		was := n.work.siemens[e]
		n.work.siemens[e] = n.siemens[b]
		if (was < weakSiemens) != (n.siemens[b] < weakSiemens) {
			n.work.ranked = false
		}
	}
}
