// Dictionaries of single faults read at a few nodes only: no backward pass, just products along the tree.

package sparse

import "slices"

// Probes reads the answers to many single faults at a few chosen nodes. The voltage of probe p for 1 A through an edge is the sum, over the
// columns that lie both above the probe and above the edge in the elimination tree, of what a unit current at each leaves there. Probes
// belong to a Factor as a Dictionary does.
type Probes struct {
	sound
	node        []int32   // as given
	place       []int32   // probe -> its place when sorted so that those of any subtree lie together
	first, last []int32   // column -> places of the probes below it
	begin       []int     // column -> where their weights begin
	weight      []float64 // amps that reach the column for 1 A at the probe
	way         []int32   // columns above any probe, ascending
	unit        []float64 // place -> volts for 1 A through the edge at hand
	base, after []float64 // by probe
	ahead       []float64 // by column; 0 between faults
}

// NewProbes prepares for reading the given nodes.
func (f *Factor) NewProbes(nodes []int32) *Probes {
	p, n, m := f.p, f.p.nodes, len(nodes)
	q := &Probes{sound: newSound(f), node: slices.Clone(nodes), place: make([]int32, m), first: make([]int32, n), last: make([]int32, n),
		begin: make([]int, n), unit: make([]float64, m), base: make([]float64, m), after: make([]float64, m),
		ahead: make([]float64, n)}
	rank := p.depthFirst()
	sorted := make([]int32, m)
	for i := range sorted {
		sorted[i] = int32(i)
	}
	slices.SortStableFunc(sorted, func(a, b int32) int { return int(rank[p.column[nodes[a]]] - rank[p.column[nodes[b]]]) })
	for at, i := range sorted {
		q.place[i] = int32(at)
		for k := p.column[nodes[i]]; k >= 0; k = p.parent[k] {
			if q.last[k] == 0 {
				q.first[k] = int32(at)
				q.way = append(q.way, k)
			}
			q.last[k] = int32(at) + 1
		}
	}
	slices.Sort(q.way)
	total := 0
	for _, k := range q.way {
		q.begin[k] = total
		total += int(q.last[k] - q.first[k])
	}
	q.weight = make([]float64, total)
	return q
}

// depthFirst numbers the columns so that those of any subtree follow each other.
func (p *Pattern) depthFirst() []int32 {
	n := int32(p.nodes)
	size := make([]int32, n) // columns in the subtree
	for k := range n {
		size[k]++
		if up := p.parent[k]; up >= 0 {
			size[up] += size[k]
		}
	}
	rank, next := make([]int32, n), make([]int32, n) // next: the first free number below the column
	roots := int32(0)
	for k := n - 1; k >= 0; k-- {
		free := &roots
		if up := p.parent[k]; up >= 0 {
			free = &next[up]
		}
		rank[k] = *free
		*free += size[k]
		next[k] = rank[k] + 1
	}
	return rank
}

// Run calls each for every fault in turn with the voltages it makes at the probes, in the order of NewProbes; they are valid until each
// returns. Sources and exactness are as for [Dictionary.Run].
func (q *Probes) Run(amps, emf []float64, faults []Fault, each func(fault int, at []float64)) {
	q.start(amps, emf)
	q.weigh()
	for i, node := range q.node {
		q.base[i] = q.volts[node]
	}
	ohms := 0.0
	for i, fault := range faults {
		if i == 0 || fault.Edge != faults[i-1].Edge {
			e := q.f.p.ends[fault.Edge]
			ohms = q.project(q.f.p.at(e.A), q.f.p.at(e.B))
		}
		c, exact := q.price(fault, ohms)
		if exact {
			q.exact(fault)
		} else {
			for i, at := range q.place {
				q.after[i] = q.base[i] + c*q.unit[at]
			}
		}
		each(i, q.after)
	}
	q.stop()
}

// weigh finds what reaches each column for 1 A at each probe.
func (q *Probes) weigh() {
	f, p, y := q.f, q.f.p, q.ahead
	for i, node := range q.node {
		k := p.column[node]
		for y[k] = 1; k >= 0; k = p.parent[k] {
			amps := y[k]
			y[k] = 0
			f.pass(k, amps*f.ohms[k], y)
			q.weight[q.begin[k]+int(q.place[i]-q.first[k])] = amps
		}
	}
}

// project sets unit to the voltages at the probes for 1 A into column a and out of column b (-1: ground), and returns the resistance
// between the two, as Factor.forwardPath does.
func (q *Probes) project(a, b int32) float64 {
	clear(q.unit)
	if a == b {
		return 0
	}
	f, p, y := q.f, q.f.p, q.ahead
	if a >= 0 {
		y[a]++
	}
	if b >= 0 {
		y[b]--
	}
	sum := 0.0
	for a >= 0 || b >= 0 {
		k := a
		if a < 0 || b >= 0 && b < a {
			k = b
		}
		amps := y[k]
		y[k] = 0
		t := amps * f.ohms[k]
		sum += amps * t
		f.pass(k, t, y)
		unit := q.unit[q.first[k]:q.last[k]]
		addScaled(unit, unit, t, q.weight[q.begin[k]:][:len(unit)])
		if a == k {
			a = p.parent[k]
		}
		if b == k {
			b = p.parent[k]
		}
	}
	return sum
}

// exact answers one fault whose gap is too small for the low-rank formula. Only columns above a probe are passed backward.
func (q *Probes) exact(fault Fault) {
	f, p := q.f, q.f.p
	q.set(fault)
	f.forwardChanged(q.work)
	for i := len(q.way) - 1; i >= 0; i-- {
		k := q.way[i]
		f.volts[k] = f.ahead[k] + f.ohms[k]*f.received(k)
	}
	f.Restore()
	for i, node := range q.node {
		q.after[i] = f.volts[p.column[node]]
	}
}
