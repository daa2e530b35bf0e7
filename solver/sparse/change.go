// One changed conductance: the columns it reaches are made again, exactly, and can be put back.

package sparse

// saved is what Change overwrote.
type saved struct {
	edge           int // -1: nothing to restore
	siemens        float64
	negative, zero int
	columns        []float64 // for each column: ground, ohms, ahead and entries
}

func (s *saved) init(p *Pattern) {
	s.edge = -1
	s.columns = make([]float64, 3*p.longestPath+p.widestPath)
}

// Change gives one edge another conductance, in siemens, by making again the columns on its way to the root of the elimination tree. The
// result is the one Refactor would give, to the last bit where the processor does not fuse products into sums. One change can be pending: a second one first restores the first.
func (f *Factor) Change(edge int, siemens float64) {
	f.Restore()
	f.saved.edge, f.saved.siemens = edge, f.siemens[edge]
	f.saved.negative, f.saved.zero = f.negative, f.zero
	f.siemens[edge] = siemens
	room := f.saved.columns
	for k := f.p.home(edge); k >= 0; k = f.p.parent[k] {
		column := f.column(k)
		room[0], room[1], room[2] = f.sum[k], f.ohms[k], f.ahead[k]
		copy(room[3:], column)
		room = room[3+len(column):]
		f.uncount(f.ohms[k])
		f.remake(k)
	}
}

// Restore undoes the last Change. Without one it does nothing.
func (f *Factor) Restore() {
	s := &f.saved
	if s.edge < 0 {
		return
	}
	room := s.columns
	for k := f.p.home(s.edge); k >= 0; k = f.p.parent[k] {
		column := f.column(k)
		f.sum[k], f.ohms[k], f.ahead[k] = room[0], room[1], room[2]
		copy(column, room[3:])
		room = room[3+len(column):]
	}
	f.siemens[s.edge] = s.siemens
	f.negative, f.zero = s.negative, s.zero
	s.edge = -1
}

// SolveChanged is Solve with a Change pending, for currents that differ from those of the last Solve before it at most at the ends of the
// changed edge. Only the columns Change made again are passed forward, so it takes about half the time. Without such a Solve it is Solve.
func (f *Factor) SolveChanged(x []float64) {
	if !f.forwardChanged(x) {
		f.forward(x)
	}
	f.backward(f.ahead, x)
}

// forwardChanged is forward with a Change pending, for SolveChanged. It reports whether the last Solve was one it can build on.
func (f *Factor) forwardChanged(x []float64) bool {
	if !f.solved || f.saved.edge < 0 {
		return false
	}
	p := f.p
	val := f.sum[p.nodes:]
	for c := p.home(f.saved.edge); c >= 0; c = p.parent[c] {
		amps := 0.0
		for i := p.touchBegin[c]; i < p.touchBegin[c+1]; i++ {
			t := &p.touch[i]
			amps += val[t.entry] * f.ahead[t.from]
		}
		f.ahead[c] = (amps + x[p.node[c]]) * f.ohms[c]
	}
	return true
}

// home returns the column that holds an edge, -1 if the edge is one that is ignored.
func (p *Pattern) home(edge int) int32 {
	if k := p.holder[edge]; k < int32(p.nodes) {
		return k
	}
	return -1
}

func (f *Factor) uncount(ohms float64) {
	switch {
	case ohms == 0:
		f.zero--
	case ohms < 0:
		f.negative--
	}
}

// remake sums up column c from its edges and from the columns that add to it, in the order of Refactor.
func (f *Factor) remake(c int32) {
	p := f.p
	column := f.column(c)
	f.sum[c] = 0
	clear(column)
	for _, e := range p.wired[p.wiredBegin[c]:p.wiredBegin[c+1]] {
		f.sum[p.slot[e]] += f.siemens[e]
	}
	ground := f.sum[c]
	sum, val, ohms, begin := f.sum, f.sum[p.nodes:], f.ohms, p.begin
	touches := p.touch[p.touchBegin[c]:p.touchBegin[c+1]]
	for i := range touches {
		t := &touches[i]
		if t.from >= p.taped {
			f.sum[c] = ground
			f.remakeTop(c, touches[i:])
			return
		}
		g := val[t.entry:begin[t.from+1]]
		z := ohms[t.from]
		ground += g[0] * (sum[t.from] * z)
		gi := g[0] * z
		targets := p.tape[t.tape:][:len(g)-1]
		for j, to := range targets {
			val[to] += gi * g[j+1]
		}
	}
	sum[c] = ground
	f.ohms[c] = f.pivot(total(ground, column))
}

// remakeTop is the part of remake for columns without a tape.
func (f *Factor) remakeTop(c int32, touches []touch) {
	for _, t := range touches {
		if t.from < f.p.dense {
			f.mergePairs(t)
		} else {
			f.densePairs(t)
		}
	}
	f.ohms[c] = f.pivot(total(f.sum[c], f.column(c)))
}

// densePairs is mergePairs for a column that touches all that follow.
func (f *Factor) densePairs(t touch) {
	p := f.p
	g := f.sum[p.nodes:][t.entry:p.begin[t.from+1]]
	c, z := p.row[t.entry], f.ohms[t.from]
	f.sum[c] += g[0] * (f.sum[t.from] * z)
	gi := g[0] * z
	into := f.column(c)
	for j, x := range g[1:] {
		into[j] += gi * x
	}
}
