// The numbers of a factor, and how they are made.

package sparse

// Factor holds the numbers of one factorisation and all the room its methods need. It is made by [Pattern.NewFactor].
type Factor struct {
	p        *Pattern
	siemens  []float64 // as given to the last Refactor, with changes
	sum      []float64 // columns: conductance to ground; then entries: conductance between two columns; then a spare place
	ohms     []float64 // column -> 1 / sum of its conductances when its turn came; 0 where that sum is 0
	ahead    []float64 // column -> what the forward half of the last Solve left there
	volts    []float64 // column -> work
	solved   bool      // ahead belongs to the last Refactor
	negative int
	zero     int
	saved    saved
}

// smallest is the least pivot that counts as a conductance. What is below it is an empty sum, or the residue of a cancellation between
// positive and negative conductances, and its reciprocal could overflow.
const smallest = 1e-200

// NewFactor makes room for the numbers of one factorisation. Before the first Refactor all conductances are 0.
func (p *Pattern) NewFactor() *Factor {
	f := &Factor{p: p, siemens: make([]float64, p.edges), sum: make([]float64, p.nodes+len(p.row)+1),
		ohms: make([]float64, p.nodes), ahead: make([]float64, p.nodes), volts: make([]float64, p.nodes), zero: p.nodes}
	f.saved.init(p)
	return f
}

// Pattern returns the pattern the factor was made from.
func (f *Factor) Pattern() *Pattern { return f.p }

// NegativePivots returns how many pivots of the last Refactor or Change were negative: the number of negative eigenvalues of the matrix.
func (f *Factor) NegativePivots() int { return f.negative }

// ZeroPivots returns how many pivots of the last Refactor or Change were 0. Each stands for an island without any conductance to ground,
// whose last node is held at 0 V.
func (f *Factor) ZeroPivots() int { return f.zero }

// Refactor takes one conductance per edge, in siemens. It undoes nothing: a pending Change is forgotten. Values of 0 and above keep full
// digits whatever their spread; negative ones are allowed, with the loss of digits that subtraction brings.
func (f *Factor) Refactor(siemens []float64) {
	p := f.p
	f.saved.edge, f.solved = -1, false
	f.negative, f.zero = 0, 0
	clear(f.sum)
	sum, own := f.sum, f.siemens
	slot := p.slot[:len(siemens)]
	for i, g := range siemens[:len(own)] {
		own[i] = g
		sum[slot[i]] += g
	}
	for i := range p.runs {
		r := &p.runs[i]
		switch r.length {
		case 0:
			f.lone(r)
		case 1:
			f.ends(r)
		case 2:
			f.chains(r)
		case 3:
			f.threes(r)
		default:
			f.stars(r)
		}
	}
	f.mergeColumns()
	f.denseColumns()
}

// pivot returns the reciprocal of a column's sum of conductances.
func (f *Factor) pivot(d float64) float64 {
	if d >= smallest {
		return 1 / d
	}
	return f.oddPivot(d)
}

func (f *Factor) oddPivot(d float64) float64 {
	if d <= -smallest {
		f.negative++
		return 1 / d
	}
	f.zero++
	return 0
}

// total adds up a column's conductances. All ways of making a column add in this order, so they agree to the last bit.
func total(ground float64, g []float64) float64 {
	if len(g) < 8 {
		for _, x := range g {
			ground += x
		}
		return ground
	}
	var a, b, c float64
	for len(g) >= 4 {
		ground += g[0]
		a += g[1]
		b += g[2]
		c += g[3]
		g = g[4:]
	}
	for _, x := range g {
		ground += x
	}
	return (ground + a) + (b + c)
}

func (f *Factor) lone(r *run) {
	for k := r.first; k < r.last; k++ {
		f.ohms[k] = f.pivot(f.sum[k])
	}
}

func (f *Factor) ends(r *run) {
	n := f.p.nodes
	ground, ohms := f.sum[:n], f.ohms[r.first:r.last]
	s := f.sum[r.first:r.last]
	g := f.sum[n+int(r.entry):]
	row := f.p.row[r.entry:]
	for k := range ohms {
		z := f.pivot(s[k] + g[k])
		ohms[k] = z
		ground[row[k]] += g[k] * (s[k] * z)
	}
}

func (f *Factor) chains(r *run) {
	n := f.p.nodes
	ground, val, ohms := f.sum[:n], f.sum[n:], f.ohms[r.first:r.last]
	s := f.sum[r.first:r.last][:len(ohms)]
	tape := f.p.tape[r.tape:][:len(ohms)]
	g := f.sum[n+int(r.entry):][:2*len(ohms)]
	row := f.p.row[r.entry:][:2*len(ohms)]
	for k := range ohms {
		g0, g1 := g[0], g[1]
		r0, r1 := row[0], row[1]
		g, row = g[2:], row[2:]
		z := f.pivot(s[k] + g0 + g1)
		ohms[k] = z
		sz := s[k] * z
		ground[r0] += g0 * sz
		ground[r1] += g1 * sz
		val[tape[k]] += g0 * z * g1
	}
}

func (f *Factor) threes(r *run) {
	n := f.p.nodes
	ground, val, ohms := f.sum[:n], f.sum[n:], f.ohms[r.first:r.last]
	s := f.sum[r.first:r.last][:len(ohms)]
	tape := f.p.tape[r.tape:][:3*len(ohms)]
	g := f.sum[n+int(r.entry):][:3*len(ohms)]
	row := f.p.row[r.entry:][:3*len(ohms)]
	for k := range ohms {
		g0, g1, g2 := g[0], g[1], g[2]
		r0, r1, r2 := row[0], row[1], row[2]
		t0, t1, t2 := tape[0], tape[1], tape[2]
		g, row, tape = g[3:], row[3:], tape[3:]
		z := f.pivot(s[k] + g0 + g1 + g2)
		ohms[k] = z
		sz := s[k] * z
		ground[r0] += g0 * sz
		ground[r1] += g1 * sz
		ground[r2] += g2 * sz
		g0 *= z
		val[t0] += g0 * g1
		val[t1] += g0 * g2
		val[t2] += g1 * z * g2
	}
}

// stars eliminates columns of any length by tape.
func (f *Factor) stars(r *run) {
	n, m := f.p.nodes, int(r.length)
	ground, val := f.sum[:n], f.sum[n:]
	g := val[r.entry:]
	row := f.p.row[r.entry:]
	tape := f.p.tape[r.tape:]
	for k := r.first; k < r.last; k++ {
		column, ends := g[:m], row[:m]
		g, row = g[m:], row[m:]
		s := ground[k]
		z := f.pivot(total(s, column))
		f.ohms[k] = z
		sz := s * z
		for i, r := range ends {
			gi := column[i]
			ground[r] += gi * sz
			gi *= z
			rest := column[i+1:]
			targets := tape[:len(rest)]
			tape = tape[len(rest):]
			for j, t := range targets {
				val[t] += gi * rest[j]
			}
		}
	}
}

// mergeColumns eliminates the columns the tape had no room for: each target is found by walking along the target column.
func (f *Factor) mergeColumns() {
	p := f.p
	for k := p.taped; k < p.dense; k++ {
		f.ohms[k] = f.pivot(total(f.sum[k], f.column(k)))
		for i := p.begin[k]; i < p.begin[k+1]; i++ {
			f.mergePairs(touch{from: k, entry: i})
		}
	}
}

// mergePairs adds what the entry at t and those after it give to the column it ends in.
func (f *Factor) mergePairs(t touch) {
	p := f.p
	val := f.sum[p.nodes:]
	g, ends := val[t.entry:p.begin[t.from+1]], p.row[t.entry:p.begin[t.from+1]]
	c, z := ends[0], f.ohms[t.from]
	f.sum[c] += g[0] * (f.sum[t.from] * z)
	gi := g[0] * z
	to := p.begin[c]
	for j, r := range ends[1:] {
		for p.row[to] != r {
			to++
		}
		val[to] += gi * g[j+1]
	}
}

// column returns the entries of column k.
func (f *Factor) column(k int32) []float64 {
	return f.sum[f.p.nodes+int(f.p.begin[k]) : f.p.nodes+int(f.p.begin[k+1])]
}

// denseColumns eliminates the columns that touch all that follow.
func (f *Factor) denseColumns() {
	n := int32(f.p.nodes)
	for k := f.p.dense; k < n; k++ {
		g := f.column(k)
		s := f.sum[k]
		z := f.pivot(total(s, g))
		f.ohms[k] = z
		sz := s * z
		ground := f.sum[k+1 : n]
		for i, gi := range g {
			ground[i] += gi * sz
			gi *= z
			rest := g[i+1:]
			into := f.column(k + 1 + int32(i))[:len(rest)]
			for j, x := range rest {
				into[j] += gi * x
			}
		}
	}
}
