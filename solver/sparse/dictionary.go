// Dictionaries of single faults: the whole network's answer to each of many faults, one at a time.

package sparse

// lanes is how many edges' unit solves run side by side, so that their sums do not wait for each other; each serves up to two faults.
const lanes = 4

// Dictionary finds the answer to many single faults of one network. It belongs to a Factor, which it uses while it works and leaves as
// it was.
type Dictionary struct {
	sound
	ahead [][lanes]float64     // by column: what the forward pass leaves; 0 between batches
	way   []bool               // by column: passed by the forward pass of some lane
	unit  [][lanes]float64     // by column: unit solves
	base  []float64            // by column: voltages without fault
	after [][2 * lanes]float64 // by column: voltages with a fault, one batch
}

// Answer is the voltages one fault makes. It is valid until the function it was given to returns.
type Answer struct {
	d    *Dictionary
	slot int
}

// At returns the voltage of a node.
func (a Answer) At(node int32) float64 { return a.d.after[a.d.f.p.column[node]][a.slot] }

// CopyTo sets x to the voltages of all nodes.
func (a Answer) CopyTo(x []float64) {
	for k, node := range a.d.f.p.node {
		x[node] = a.d.after[k][a.slot]
	}
}

// NewDictionary makes room for the work.
func (f *Factor) NewDictionary() *Dictionary {
	n := f.p.nodes
	return &Dictionary{sound: newSound(f), ahead: make([][lanes]float64, n), way: make([]bool, n), unit: make([][lanes]float64, n),
		base: make([]float64, n), after: make([][2 * lanes]float64, n)}
}

// lot is one batch: up to two faults of one edge in each lane.
type lot struct {
	fault [2 * lanes]int     // -1: none
	amps  [2 * lanes]float64 // the answer is the voltages without fault + amps * unit solve
	exact [2 * lanes]bool    // the gap is too small for that
	edge  [lanes]Edge        // by column
	used  int                // lanes
}

// Run calls each for every fault in turn with the node voltages it makes. amps (nil: none) are currents injected into the nodes, emf (nil:
// none) the EMFs in series with the edges, as for [Factor.Inject]; with an edge's conductance the current its EMF can drive changes too. Two
// faults of one edge should follow each other: they share a unit solve.
//
// An opened edge that held an island is solved exactly, by Change.
func (d *Dictionary) Run(amps, emf []float64, faults []Fault, each func(fault int, after Answer)) {
	d.start(amps, emf)
	for k, node := range d.f.p.node {
		d.base[k] = d.volts[node]
	}
	for first := 0; first < len(faults); {
		b, next := d.forward(faults, first)
		d.backward(&b)
		d.forget(&b)
		first = next
		for slot, i := range b.fault {
			if i < 0 {
				continue
			}
			if b.exact[slot] {
				d.exact(faults[i], slot)
			}
			each(i, Answer{d, slot})
		}
	}
	d.stop()
}

// forward fills a batch with the faults from first on and passes each lane's unit current forward. It returns the first fault left over.
func (d *Dictionary) forward(faults []Fault, first int) (b lot, next int) {
	for i := range b.fault {
		b.fault[i] = -1
	}
	p := d.f.p
	for next = first; next < len(faults) && b.used < lanes; b.used++ {
		edge := faults[next].Edge
		e := p.ends[edge]
		e = Edge{p.at(e.A), p.at(e.B)}
		b.edge[b.used] = e
		ohms := d.forwardPath(b.used, e)
		for slot := 2 * b.used; slot < 2*b.used+2 && next < len(faults) && faults[next].Edge == edge; slot++ {
			b.fault[slot] = next
			b.amps[slot], b.exact[slot] = d.price(faults[next], ohms)
			next++
		}
	}
	return b, next
}

// forwardPath is Factor.forwardPath in one lane.
func (d *Dictionary) forwardPath(lane int, e Edge) float64 {
	a, b := e.A, e.B
	if a == b {
		return 0
	}
	f, p := d.f, d.f.p
	y, val := d.ahead, d.f.sum[d.f.p.nodes:]
	if a >= 0 {
		y[a][lane]++
	}
	if b >= 0 {
		y[b][lane]--
	}
	sum := 0.0
	for a >= 0 || b >= 0 {
		k := a
		if a < 0 || b >= 0 && b < a {
			k = b
		}
		amps := y[k][lane]
		t := amps * f.ohms[k]
		sum += amps * t
		y[k][lane] = t
		d.way[k] = true
		first, last := p.begin[k], p.begin[k+1]
		column := val[first:last]
		ends := p.row[first:last][:len(column)]
		for i, g := range column {
			y[ends[i]][lane] += g * t
		}
		if a == k {
			a = p.parent[k]
		}
		if b == k {
			b = p.parent[k]
		}
	}
	return sum
}

// forget clears what the forward passes left.
func (d *Dictionary) forget(b *lot) {
	for _, e := range b.edge[:b.used] {
		d.forgetPath(e.A)
		d.forgetPath(e.B)
	}
}

func (d *Dictionary) forgetPath(k int32) {
	for ; k >= 0 && d.way[k]; k = d.f.p.parent[k] { // above a place already cleared all is clear
		d.ahead[k], d.way[k] = [lanes]float64{}, false
	}
}

// backward is Factor.backward in all lanes at once. It writes the answers of both faults of each lane as it goes.
func (d *Dictionary) backward(b *lot) {
	f, p := d.f, d.f.p
	c := &b.amps
	c0, c1, c2, c3, c4, c5, c6, c7 := c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]
	n := p.nodes
	val, row, begin, asked := f.sum[n:], p.row, p.begin[:n+1], p.touchBegin[:n+1]
	unit, after, ahead, way, base, ohms := d.unit[:n], d.after[:n], d.ahead[:n], d.way[:n], d.base[:n], f.ohms[:n]
	for k := n - 1; k >= 0; k-- {
		var s0, s1, s2, s3 float64
		first, last := begin[k], begin[k+1]
		column, ends := val[first:last], row[first:last]
		if len(column) == 2 && len(ends) == 2 { // the common case
			g, h := column[0], column[1]
			from, other := &unit[ends[0]], &unit[ends[1]]
			s0 = g*from[0] + h*other[0]
			s1 = g*from[1] + h*other[1]
			s2 = g*from[2] + h*other[2]
			s3 = g*from[3] + h*other[3]
		} else {
			for i, r := range ends {
				g := column[i]
				from := &unit[r]
				s0 += g * from[0]
				s1 += g * from[1]
				s2 += g * from[2]
				s3 += g * from[3]
			}
		}
		z := ohms[k]
		s0, s1, s2, s3 = z*s0, z*s1, z*s2, z*s3
		if way[k] {
			own := &ahead[k]
			s0, s1, s2, s3 = s0+own[0], s1+own[1], s2+own[2], s3+own[3]
		}
		if asked[k] != asked[k+1] { // someone below will ask
			unit[k] = [lanes]float64{s0, s1, s2, s3}
		}
		v, out := base[k], &after[k]
		out[0] = v + c0*s0
		out[1] = v + c1*s0
		out[2] = v + c2*s1
		out[3] = v + c3*s1
		out[4] = v + c4*s2
		out[5] = v + c5*s2
		out[6] = v + c6*s3
		out[7] = v + c7*s3
	}
}

// exact answers one fault whose gap is too small for the low-rank formula.
func (d *Dictionary) exact(fault Fault, slot int) {
	d.set(fault)
	d.f.SolveChanged(d.work)
	d.f.Restore()
	for k, v := range d.f.volts { // the same by column
		d.after[k][slot] = v
	}
}
