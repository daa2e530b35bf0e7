package transient

// This file is a run: a network with its state at one instant.

import (
	"fmt"
	"math"
	"slices"

	"underload/solver/sparse"
)

// Options are how a network is run. The zero Options are good for most.
type Options struct {
	Method    Method
	Tolerance float64   // relative error aimed at in every step; 0 is 1e-4
	Seed      uint64    // of what is left to chance
	Seconds   float64   // the time the run begins at
	Volts     []float64 // by node: what there was since long ago; nil: 0 V everywhere
	Energy    bool      // keep account of energy, see Balance

	keepAll bool // fold no nodes: for comparison in benchmarks
}

// Limits of Options.Tolerance.
const (
	tightest = 1e-11
	loosest  = 1e-1
)

// member is an element as it is run.
type member struct {
	what      Element
	switching Switching
	timed     Timed
	limited   Limited
	bending   Bending
	powered   Powered
	gentle    bool
	farads    float64 // above 0: a capacitor, which is condensed without an equation of its own

	a, b   int32 // unknowns that are left; ground comes after the last
	sensed []int32
	x, nx  int   // where its states begin, and how many
	d, nd  int   // the same for its marks
	e, ne  int   // and its events
	edge   int32 // its place among the edges of the matrix
}

// linear is the resistors and sources of a network in numbers. It is never changed once made, so that snapshots can
// share it.
type linear struct {
	edges   []edge
	siemens []float64 // by pair, folded
	keep    []float64 // those left
	inject  []float64 // by unknown left: amps from sources
}

// Run is a network at one instant. It is not safe for use by two goroutines at once.
type Run struct {
	method  tableau
	tol     float64
	seed    uint64
	account bool

	unknown []int32 // node -> unknown, -1 for ground and what is joined to it
	left    []int32 // unknown -> its number among those left, or -1 for a folded one
	count   int     // unknowns left; ground has this number
	joins   []Node  // node -> root of the nodes it is joined to
	folding *folding
	factor  *sparse.Factor
	g       []float64 // by edge of the matrix

	members []member
	units   []float64 // by state
	events  []int     // event -> member
	timed   []int     // members with a clock

	standing
	all     []float64 // these four in one piece, which is saved at once:
	x, d, v []float64 // states, marks, volts of unknowns left and of ground
	slope   []float64 // of the states now
	fired   []Firing

	w      work
	past   past
	now    View
	looked View
	stats  Stats
}

// standing is what a run goes on from beside its states, marks and volts.
type standing struct {
	seconds    float64
	lin        *linear
	step       float64 // seconds, what the controller wants next
	lastLength float64 // of the last step kept, and
	lastErr    float64 // its estimate as a share of what is allowed
	curve      float64 // how strongly Newton's iteration bends, see newton
	since      int     // steps since the last restart
	rough      bool    // volts are those a step ended with
	next       float64 // of the scheduled changes
	recent     recent
	ledger     ledger
}

// Firing is something that happened: an event of an element was met, or, with Event -1, its time had come.
type Firing struct {
	Seconds float64
	Element ID
	Event   int
}

// Stats counts the work of a run.
type Stats struct {
	Steps    int // accepted
	Rejected int // too large an error
	Failed   int // not solved
	Retried  int // shortened to see a condition met inside
	Located  int // instants found
	Resteps  int // steps taken again to find them
	Fired    int // conditions met and scheduled changes
	Stages   int // implicit ones
	Newtons  int
}

// Start makes a run of the network as it is now.
func (n *Network) Start(o Options) (*Run, error) {
	r := &Run{tol: o.Tolerance, seed: o.Seed, account: o.Energy}
	r.seconds = o.Seconds
	if r.tol == 0 {
		r.tol = 1e-4
	}
	if !(r.tol >= tightest && r.tol <= loosest) || o.Method < 0 || int(o.Method) >= len(tableaus) {
		return nil, fmt.Errorf("transient: a tolerance of %g with method %d; from %g to %g and a method of this package are wanted", o.Tolerance, o.Method, tightest, loosest)
	}
	r.method = tableaus[o.Method]
	for i, e := range n.edges {
		if !solvable(e) {
			return nil, &ValueError{Edge: Edge(i), Element: -1, Why: fmt.Sprintf("%g ohm, %g V", e.ohms, e.volts)}
		}
	}
	r.lay(n, o.keepAll)
	if err := r.place(n); err != nil {
		return nil, err
	}
	r.begin(n, o.Volts)
	if err := r.Settle(); err != nil {
		return nil, err
	}
	r.ledger.openedWith = r.storedJoules()
	return r, nil
}

// lay numbers the unknowns, folds those where nothing happens and analyses the matrix of the rest.
func (r *Run) lay(n *Network, keepAll bool) {
	r.joins = joined(n)
	r.unknown = make([]int32, n.nodes)
	count := int32(0)
	for v, root := range r.joins {
		switch {
		case root == Ground:
			r.unknown[v] = -1
		case int(root) == v:
			r.unknown[v] = count
			count++
		}
	}
	for v, root := range r.joins {
		r.unknown[v] = r.unknown[root]
	}
	fixed := make([]bool, count)
	hold := func(v Node) {
		if u := r.unknown[v]; u >= 0 {
			fixed[u] = true
		}
	}
	for _, el := range n.elements {
		hold(el.a)
		hold(el.b)
		for _, s := range el.sensed {
			hold(s)
		}
	}
	var pairs []pair
	for _, e := range n.edges {
		if e.source {
			hold(e.a)
			hold(e.b)
		}
		if p, ok := r.pairOf(e); ok {
			pairs = append(pairs, p)
		}
	}
	r.folding = fold(int(count), pairs, fixed, keepAll)
	r.left = make([]int32, count)
	for u := range r.left {
		r.left[u] = -1
	}
	for i, u := range r.folding.left {
		r.left[u] = int32(i)
	}
	r.count = len(r.folding.left)
	var edges []sparse.Edge
	for _, at := range r.folding.keep {
		p := r.folding.pairs[at]
		edges = append(edges, sparse.Edge{A: r.sparse(r.leftOf(p.a)), B: r.sparse(r.leftOf(p.b))})
	}
	for _, el := range n.elements {
		edges = append(edges, sparse.Edge{A: r.sparse(r.leftOf(r.unknown[el.a])), B: r.sparse(r.leftOf(r.unknown[el.b]))})
	}
	r.factor = sparse.Analyse(r.count, edges).NewFactor()
	r.g = make([]float64, len(edges))
	r.lin = r.linearOf(n.edges)
}

// joined finds the root of every node over resistors of 0 ohm.
func joined(n *Network) []Node {
	root := make([]Node, n.nodes)
	for v := range root {
		root[v] = Node(v)
	}
	find := func(v Node) Node {
		for root[v] != v {
			root[v] = root[root[v]]
			v = root[v]
		}
		return v
	}
	for _, e := range n.edges {
		if e.ohms == 0 && !e.source {
			a, b := find(e.a), find(e.b)
			root[max(a, b)] = min(a, b)
		}
	}
	for v := range root {
		root[v] = find(Node(v))
	}
	return root
}

// pairOf is the pair of unknowns that an edge lies between; ok is false for one that joins, or lies within, one.
func (r *Run) pairOf(e edge) (pair, bool) {
	a, b := r.unknown[e.a], r.unknown[e.b]
	return pairOf(a, b), a != b
}

// leftOf is the number of an unknown among those left, and that of ground for -1.
func (r *Run) leftOf(unknown int32) int32 {
	if unknown < 0 {
		return int32(r.count)
	}
	return r.left[unknown]
}

func (r *Run) sparse(left int32) int32 {
	if int(left) == r.count {
		return sparse.Ground
	}
	return left
}

// linearOf folds the numbers of edges.
func (r *Run) linearOf(edges []edge) *linear {
	l := &linear{edges: slices.Clone(edges), siemens: make([]float64, len(r.folding.pairs)), inject: make([]float64, r.count+1)}
	place := make(map[pair]int, len(edges))
	for at, p := range r.folding.pairs {
		place[p] = at
	}
	for _, e := range l.edges {
		p, ok := r.pairOf(e)
		if !ok {
			continue
		}
		g := siemens(e.ohms)
		l.siemens[place[p]] += g
		if e.source {
			l.inject[r.leftOf(r.unknown[e.a])] -= g * e.volts
			l.inject[r.leftOf(r.unknown[e.b])] += g * e.volts
		}
	}
	r.folding.apply(l.siemens)
	l.keep = make([]float64, len(r.folding.keep))
	for i, at := range r.folding.keep {
		l.keep[i] = l.siemens[at]
	}
	return l
}

// place makes room for the elements.
func (r *Run) place(n *Network) error {
	nx, nd := 0, 0
	for i, el := range n.elements {
		if c, ok := el.what.(Checked); ok {
			if err := c.Check(); err != nil {
				return &ValueError{Edge: -1, Element: ID(i), Why: err.Error(), Cause: err}
			}
		}
		size := el.what.Size()
		m := member{what: el.what, a: r.leftOf(r.unknown[el.a]), b: r.leftOf(r.unknown[el.b]),
			x: nx, nx: size.States, d: nd, nd: size.Marks, e: len(r.events), ne: size.Events, edge: int32(len(r.folding.keep) + i)}
		for _, s := range el.sensed {
			m.sensed = append(m.sensed, r.leftOf(r.unknown[s]))
		}
		m.switching, _ = el.what.(Switching)
		m.timed, _ = el.what.(Timed)
		m.limited, _ = el.what.(Limited)
		m.bending, _ = el.what.(Bending)
		m.powered, _ = el.what.(Powered)
		_, m.gentle = el.what.(Gentle)
		if c, ok := el.what.(interface{ Farads() float64 }); ok {
			m.farads = c.Farads()
		}
		if m.nx > MaxStates || m.ne > 0 && m.switching == nil {
			return &ValueError{Edge: -1, Element: ID(i), Why: fmt.Sprintf("%d states, at most %d; %d events, which only a Switching element has", m.nx, MaxStates, m.ne)}
		}
		for k := range m.nx {
			if !(size.Unit[k] > 0) {
				return &ValueError{Edge: -1, Element: ID(i), Why: fmt.Sprintf("the unit of state %d is %g, and has to be above 0", k, size.Unit[k])}
			}
			r.units = append(r.units, size.Unit[k])
		}
		for range m.ne {
			r.events = append(r.events, i)
		}
		if m.timed != nil {
			r.timed = append(r.timed, i)
		}
		nx, nd = nx+m.nx, nd+m.nd
		r.members = append(r.members, m)
	}
	r.all = make([]float64, nx+nd+r.count+1+nx)
	rest := r.all
	for _, part := range []struct {
		of   *[]float64
		size int
	}{{&r.x, nx}, {&r.d, nd}, {&r.v, r.count + 1}, {&r.slope, nx}} {
		*part.of, rest = rest[:part.size:part.size], rest[part.size:]
	}
	r.w.room(r)
	r.past.room(r)
	r.now.room(r)
	r.looked.room(r)
	return nil
}

// begin brings every element to rest at the volts that were there.
func (r *Run) begin(n *Network, volts []float64) {
	at := func(v Node) float64 {
		if int(v) < len(volts) {
			return volts[v]
		}
		return 0
	}
	for v := range n.nodes {
		if u := r.unknown[v]; u >= 0 && r.left[u] >= 0 {
			r.v[r.left[u]] = at(Node(v))
		}
	}
	for i, el := range n.elements {
		m := &r.members[i]
		el.what.Start(at(el.a)-at(el.b), r.x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd])
	}
}

// Seconds is the time of the run.
func (r *Run) Seconds() float64 { return r.seconds }

// Stats is the work done so far.
func (r *Run) Stats() Stats { return r.stats }

// Fired is what happened in the last Step, or in the last Settle if that came later. It is valid until the next.
func (r *Run) Fired() []Firing { return r.fired }

// States are the states of an element. They may be changed in place, as may its marks; Settle must follow.
func (r *Run) States(id ID) []float64 { m := &r.members[id]; return r.x[m.x : m.x+m.nx] }

// Marks are the marks of an element.
func (r *Run) Marks(id ID) []float64 { return r.marksOf(id) }

func (r *Run) marksOf(id ID) []float64 { m := &r.members[id]; return r.d[m.d : m.d+m.nd] }

// Reask finds anew how fast the states of an element change. It is enough, without Settle, after setting marks of it that
// its current does not depend on.
func (r *Run) Reask(id ID) {
	m, p := &r.members[id], &r.w.point
	p.Seconds, p.volts = r.seconds, r.v
	p.element, p.Volts, p.States, p.Marks = id, r.v[m.a]-r.v[m.b], r.x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
	rates := &r.w.rates
	*rates = Rates{}
	m.what.Rates(p, rates)
	copy(r.slope[m.x:m.x+m.nx], rates.Rate[:])
}

func (r *Run) sensed(id ID, i int, volts []float64) float64 {
	m := &r.members[id]
	return volts[m.sensed[i]] - volts[m.b]
}

// SetOhms changes a resistance from now on; Settle must follow. One that was 0 at the start, or is to be 0, cannot be
// changed.
func (r *Run) SetOhms(e Edge, ohms float64) {
	was := r.lin.edges[e].ohms
	if was == ohms {
		return
	}
	if was == 0 || ohms == 0 || !solvable(edge{ohms: ohms}) {
		panic(fmt.Sprintf("transient: edge %d of %g ohm cannot become %g ohm in a run", e, was, ohms))
	}
	r.relay(e, func(e *edge) { e.ohms = ohms })
}

// SetVolts changes the electromotive force of a source from now on; Settle must follow.
func (r *Run) SetVolts(e Edge, volts float64) {
	if !r.lin.edges[e].source || !solvable(edge{ohms: 1, volts: volts}) {
		panic(fmt.Sprintf("transient: edge %d cannot have %g V", e, volts))
	}
	r.relay(e, func(e *edge) { e.volts = volts })
}

// relay makes a changed edge part of the plan at the next Settle, so that many changes cost one folding.
func (r *Run) relay(e Edge, change func(*edge)) {
	if !r.w.relaid {
		l := *r.lin
		l.edges = slices.Clone(l.edges)
		r.lin, r.w.relaid = &l, true
	}
	change(&r.lin.edges[e])
}

// finite reports whether all values are numbers.
func finite(values []float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
