// One changed conductance: the columns it reaches are made again, exactly, and can be put back.

package sparse

// saved is what Change overwrote.
type saved struct {
	edge           int // -1: nothing to restore
	siemens        float64
	negative, zero int
	columns        []float64 // ground, ohms and entries, column after column
}

func (s *saved) init(p *Pattern) {
	s.edge = -1
	s.columns = make([]float64, 2*p.longestPath+p.widestPath)
}

// Change gives one edge another conductance, in siemens, by making again the columns on its way to the root of the elimination tree. The
// result is the one Refactor would give, to the last bit. One change can be pending: a second one first restores the first.
func (f *Factor) Change(edge int, siemens float64) {
	f.Restore()
	f.saved.edge, f.saved.siemens = edge, f.siemens[edge]
	f.saved.negative, f.saved.zero = f.negative, f.zero
	f.siemens[edge] = siemens
	room := f.saved.columns
	for k := f.p.home(edge); k >= 0; k = f.p.parent[k] {
		column := f.column(k)
		room[0], room[1] = f.sum[k], f.ohms[k]
		copy(room[2:], column)
		room = room[2+len(column):]
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
		f.sum[k], f.ohms[k] = room[0], room[1]
		copy(column, room[2:])
		room = room[2+len(column):]
	}
	f.siemens[s.edge] = s.siemens
	f.negative, f.zero = s.negative, s.zero
	s.edge = -1
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
	val := f.sum[p.nodes:]
	for _, t := range p.touch[p.touchBegin[c]:p.touchBegin[c+1]] {
		switch {
		case t.from >= p.dense:
			f.densePairs(t)
		case t.from >= p.taped:
			f.mergePairs(t)
		default:
			g := f.column(t.from)[t.place:]
			z := f.ohms[t.from]
			f.sum[c] += g[0] * (f.sum[t.from] * z)
			gi := g[0] * z
			for j, to := range p.pairs(t) {
				val[to] += gi * g[j+1]
			}
		}
	}
	f.ohms[c] = f.pivot(total(f.sum[c], column))
}

func (f *Factor) densePairs(t touch) {
	g := f.column(t.from)[t.place:]
	z := f.ohms[t.from]
	c := t.from + 1 + t.place
	f.sum[c] += g[0] * (f.sum[t.from] * z)
	gi := g[0] * z
	rest := g[1:]
	into := f.column(c)[:len(rest)]
	for j, x := range rest {
		into[j] += gi * x
	}
}
