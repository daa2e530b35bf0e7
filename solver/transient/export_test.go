package transient

// This file lets the benchmarks of package transient_test at single passes and at a matrix without folding.

// KeepAll makes a run fold no nodes.
func (o *Options) KeepAll() { o.keepAll = true }

// Pass is one pass of Newton's iteration for a stage of hg seconds, from where the run stands. The run is left as it is.
func (r *Run) Pass(hg float64) {
	w := &r.w
	copy(w.xs[1], r.x)
	copy(w.vs[1], r.v)
	for i := range r.members {
		m := &r.members[i]
		w.at[i] = r.v[m.a] - r.v[m.b]
	}
	copy(r.g, r.lin.keep)
	w.fresh = false
	r.lookAtVolts(r.v)
	r.condense(hg, r.seconds, r.x, w.xs[1], w.vs[1])
	r.factor.Refactor(r.g)
	r.factor.Solve(w.solved[:r.count])
	r.move(hg, w.xs[1], w.vs[1])
}

// Bare is the part of a pass that any solution of the same matrix needs: to fill, factor and solve it.
func (r *Run) Bare() {
	w := &r.w
	copy(r.g, r.lin.keep)
	for i := range r.members {
		r.g[r.members[i].edge] = w.siemens[i]
	}
	copy(w.solved, r.lin.inject)
	for i := range r.members {
		m := &r.members[i]
		w.solved[m.a] += w.amps[i]
		w.solved[m.b] -= w.amps[i]
	}
	r.factor.Refactor(r.g)
	r.factor.Solve(w.solved[:r.count])
}

// Unknowns counts the nodes that are left.
func (r *Run) Unknowns() int { return r.count }

// NegativePivots is how many the matrix has that was factored last.
func (r *Run) NegativePivots() int { return r.factor.NegativePivots() }
