// Dictionaries of single faults: the whole network's answer to each of many faults, one at a time.

package sparse

// Fault gives one edge another conductance.
type Fault struct {
	Edge    int
	Siemens float64 // its conductance with the fault
	Volts   float64 // the EMF in series with the edge, with and without the fault, positive where it drives A above B; 0 for most
}

// together is how many edges' unit solves run side by side: their divisions and sums do not wait for each other.
const together = 4

// batch is the most faults that are written out together.
const batch = 2 * together

// safeGap is the smallest gap (see [LowRank.Set]) at which the low-rank answer is used as it is; its relative error is 1e-16 / gap or so.
const safeGap = 1e-8

// leastGap is the smallest gap at which one step of refinement mends a low-rank answer.
const leastGap = 1e-11

// Dictionary finds the answer to many single faults of one network. It belongs to a Factor, which it uses while it works and leaves as
// it was.
type Dictionary struct {
	f     *Factor
	inner []float64 // column-major by place in the order, together values each
	outer []float64 // the same by node
	after []float64 // voltages with a fault, one batch
	work  []float64
	guard float64
}

// NewDictionary makes room for the work.
func (f *Factor) NewDictionary() *Dictionary {
	n := f.p.nodes
	return &Dictionary{f: f, inner: make([]float64, together*n), outer: make([]float64, together*n), after: make([]float64, batch*n),
		work: make([]float64, n), guard: safeGap}
}

// priced is one fault of a batch with what its low-rank answer needs.
type priced struct {
	fault int
	lane  int     // which unit solve
	amps  float64 // the answer is volts + amps * unit solve
	exact bool    // the gap is too small
	gap   float64
}

// Run calls each for every fault in turn with the node voltages it makes; they are valid until each returns. amps are the currents injected
// without a fault and volts the node voltages they make. Faults of one edge should follow each other: they share a unit solve.
//
// An opened edge that held an island is solved exactly, by Change, or where that would be dear by refining the low-rank answer.
func (d *Dictionary) Run(amps, volts []float64, faults []Fault, each func(fault int, volts []float64)) {
	for first := 0; first < len(faults); {
		first = d.runBatch(amps, volts, faults, first, each)
	}
}

func (d *Dictionary) runBatch(amps, volts []float64, faults []Fault, first int, each func(int, []float64)) int {
	f, n := d.f, d.f.p.nodes
	var list [batch]priced
	var ohms [together]float64
	clear(d.inner)
	lane, count := -1, 0
	for i := first; i < len(faults) && count < batch; i++ {
		e := f.p.ends[faults[i].Edge]
		if lane < 0 || faults[i].Edge != faults[i-1].Edge {
			if lane == together-1 {
				break
			}
			lane++
			ohms[lane] = d.forward(lane, f.p.at(e.A), f.p.at(e.B))
		}
		list[count] = f.price(faults[i], ohms[lane], volts, d.guard)
		list[count].fault, list[count].lane = i, lane
		count++
	}
	d.backward()
	d.write(volts, list[:count])
	for i, p := range list[:count] {
		out := d.after[i*n : (i+1)*n]
		if p.exact {
			d.exact(amps, volts, faults[p.fault], p, out)
		}
		each(p.fault, out)
	}
	return first + count
}

// price finds the current to be sent through a fault's edge, from the resistance between its ends.
func (f *Factor) price(fault Fault, ohms float64, volts []float64, guard float64) priced {
	e := f.p.ends[fault.Edge]
	more := fault.Siemens - f.siemens[fault.Edge]
	gap := 1 + more*ohms
	if gap < guard {
		return priced{gap: gap, exact: true}
	}
	return priced{gap: gap, amps: more * (fault.Volts - drop(volts, e.A, e.B)) / gap}
}

// forward is Factor.forwardPath in one lane.
func (d *Dictionary) forward(lane int, a, b int32) float64 {
	if a == b {
		return 0
	}
	f, p := d.f, d.f.p
	y := d.inner[lane:]
	if a >= 0 {
		y[together*a]++
	}
	if b >= 0 {
		y[together*b]--
	}
	sum := 0.0
	for a >= 0 || b >= 0 {
		k := a
		if a < 0 || b >= 0 && b < a {
			k = b
		}
		amps := y[together*k]
		t := amps * f.ohms[k]
		sum += amps * t
		y[together*k] = t
		column := f.column(k)
		for i, r := range p.row[p.begin[k]:p.begin[k+1]] {
			y[together*r] += column[i] * t
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

// backward is Factor.backward in all lanes at once.
func (d *Dictionary) backward() {
	f, p := d.f, d.f.p
	y, out := d.inner, d.outer
	entry := len(p.row)
	for k := p.nodes - 1; k >= 0; k-- {
		last := entry
		entry = int(p.begin[k])
		var s0, s1, s2, s3 float64
		column := f.sum[p.nodes+entry : p.nodes+last]
		for i, r := range p.row[entry:last] {
			g := column[i]
			from := y[together*r:][:together]
			s0 += g * from[0]
			s1 += g * from[1]
			s2 += g * from[2]
			s3 += g * from[3]
		}
		z := f.ohms[k]
		own := y[together*k:][:together]
		s0 = own[0] + z*s0
		s1 = own[1] + z*s1
		s2 = own[2] + z*s2
		s3 = own[3] + z*s3
		own[0], own[1], own[2], own[3] = s0, s1, s2, s3
		at := out[together*p.node[k]:][:together]
		at[0], at[1], at[2], at[3] = s0, s1, s2, s3
	}
}

// write makes the low-rank answers of a batch.
func (d *Dictionary) write(volts []float64, list []priced) {
	n := d.f.p.nodes
	for i, p := range list {
		out := d.after[i*n : (i+1)*n]
		x := d.outer[p.lane:]
		for j := range out {
			out[j] = volts[j] + p.amps*x[together*j]
		}
	}
}

// exact answers one fault whose gap is too small for the low-rank formula alone.
func (d *Dictionary) exact(amps, volts []float64, fault Fault, p priced, out []float64) {
	f := d.f
	e := f.p.ends[fault.Edge]
	more := fault.Siemens - f.siemens[fault.Edge]
	copy(out, amps)
	f.inject(out, e, more*fault.Volts)
	f.Change(fault.Edge, fault.Siemens)
	f.Solve(out)
	f.Restore()
}

// inject adds a current into A and out of B.
func (f *Factor) inject(amps []float64, e Edge, more float64) {
	if e.A >= 0 {
		amps[e.A] += more
	}
	if e.B >= 0 {
		amps[e.B] -= more
	}
}
