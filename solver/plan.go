package solver

// This file prepares a network for solution: which unknowns there are, which
// edges join them, and which parts have no way to Ground.

import "underload/solver/sparse"

// plan is everything that depends on the shape of a network alone. It is never
// changed once made, so clones share it.
type plan struct {
	forest
	unknown []int32 // node -> its group's unknown; the group of Ground has the number count
	nodeOf  []Node  // unknown -> root of its group
	count   int
	branch  []Branch // edge -> branch; linear edges first, then devices
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
	siemens  []float64 // edge
	emf      []float64 // linear edge: volts that drive it besides its unknowns; device edge: offset of its ends
	inject   []float64 // unknown: amps from current sources
	x, dx    []float64 // unknown: volts, and change or unbalanced amps
	back     []float64 // unknown: volts to go back to when a step is refused
	at       []float64 // device edge: volts its law was last asked at
	cap      []float64 // device edge: conductance that stands for a capacitor during a time step
	held     []float64 // device edge: volts of that capacitor
	falling  []bool    // device edge: its slope was seen negative
	steepest float64   // most negative slope met since it was last set to 0
	volts    []float64 // node, to be handed over
	amps     []float64 // branch, to be handed over
	net      []float64 // node: amps leaving
	parent   []int32   // unknown: sets of connected ones
	returns  []float64 // island: amps from current sources
	largest  float64   // linear edge: largest siemens
}

func newWorkspace(n *Network, p *plan) *workspace {
	devices := len(p.branch) - p.linear
	return &workspace{
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
		n.shifted = false
	}
	if n.islands == nil {
		n.islands = n.findIslands()
	}
	n.assemble()
	return n.checkReturns()
}

// assemble takes over the values of the linear branches.
func (n *Network) assemble() {
	p, w := n.plan, n.work
	w.largest = 0
	for e, b := range p.branch {
		a, z := n.ends[b][0], n.ends[b][1]
		w.emf[e] = w.offset[a] - w.offset[z]
		if e < p.linear {
			g := n.siemens[b]
			w.siemens[e] = g
			w.emf[e] += n.values[b]
			w.largest = max(w.largest, g)
		}
	}
	clear(w.inject)
	for _, b := range p.drives {
		w.inject[p.unknown[n.ends[b][0]]] -= n.values[b]
		w.inject[p.unknown[n.ends[b][1]]] += n.values[b]
	}
}

// islandSet is which parts of a network have no conducting path to Ground. It is
// never changed once made.
type islandSet struct {
	groups [][]Node
	of     []int32 // unknown -> 1 + number of its group; 0 for what is grounded. Empty if nothing floats.
}

var allGrounded = &islandSet{}

// findIslands unites unknowns over everything that conducts. A device always
// counts, for the leak across it.
func (n *Network) findIslands() *islandSet {
	p, w := n.plan, n.work
	set := w.sets(p.count + 1)
	for e, b := range p.branch {
		if e >= p.linear || n.siemens[b] > 0 {
			unite(set, p.a[e], p.b[e])
		}
	}
	ground := find(set, int32(p.count))
	floats := false
	for u := range p.count {
		floats = floats || find(set, int32(u)) != ground
	}
	if !floats {
		return allGrounded
	}
	s := &islandSet{of: make([]int32, p.count)}
	number := make(map[int32]int32)
	for v := range n.nodes {
		u := p.unknown[v]
		top := find(set, u)
		if top == ground {
			continue
		}
		if number[top] == 0 {
			s.groups = append(s.groups, nil)
			number[top] = int32(len(s.groups))
		}
		k := number[top]
		s.of[u] = k
		s.groups[k-1] = append(s.groups[k-1], Node(v))
	}
	return s
}

// sets returns size sets of one unknown each.
func (w *workspace) sets(size int) []int32 {
	if w.parent == nil {
		w.parent = make([]int32, size)
	}
	for i := range w.parent {
		w.parent[i] = int32(i)
	}
	return w.parent
}
