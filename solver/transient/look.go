package transient

// This file looks at a run: volts and amps anywhere, at its instant or inside the last step.

import "math"

// past is the last step taken.
type past struct {
	valid         bool
	begin, length float64
	x, slope, v   []float64 // at its begin
	endX, endK, d []float64 // at its end, before anything happened there
	lin           *linear
}

func (p *past) room(r *Run) {
	p.x, p.slope, p.v = make([]float64, len(r.x)), make([]float64, len(r.x)), make([]float64, r.count+1)
	p.endX, p.endK, p.d = make([]float64, len(r.x)), make([]float64, len(r.x)), make([]float64, len(r.d))
}

// take notes the step that is about to be accepted.
func (p *past) take(r *Run, length float64) {
	last := len(r.table().rows)
	p.valid, p.begin, p.length, p.lin = true, r.seconds, length, r.lin
	copy(p.x, r.x)
	copy(p.slope, r.slope)
	copy(p.v, r.v)
	copy(p.endX, r.w.xs[last])
	copy(p.endK, r.w.ks[last])
	copy(p.d, r.d)
}

// marks notes the marks as they were in the step, before anything happens.
func (p *past) marks(r *Run) { copy(p.d, r.d) }

// View is a run at one instant. It is valid until the next look, step or act.
type View struct {
	Seconds float64

	run      *Run
	lin      *linear
	seconds  float64 // of what is filled in, NaN for nothing
	x, slope []float64
	d        []float64
	v        []float64 // of unknowns left, and ground
	unknowns []float64
	unfolded bool
	rough    bool // volts are those a step ended with: within its tolerance, and not yet those that belong to the states
}

func (w *View) room(r *Run) {
	w.run, w.seconds = r, math.NaN()
	w.x, w.slope, w.d, w.v = make([]float64, len(r.x)), make([]float64, len(r.x)), make([]float64, len(r.d)), make([]float64, r.count+1)
	w.unknowns = make([]float64, len(r.left))
}

// Now is the run at its own instant.
func (r *Run) Now() *View {
	w := &r.now
	if w.seconds != r.seconds {
		copy(w.x, r.x)
		copy(w.slope, r.slope)
		copy(w.v, r.v)
		w.unfolded, w.rough = false, r.rough
	}
	copy(w.d, r.d)
	w.lin, w.seconds, w.Seconds = r.lin, r.seconds, r.seconds
	return w
}

// Look is the run at an instant inside the last step, its ends included: states as the cubic through both ends has them,
// and the volts that belong to them. Outside the last step it is Now.
func (r *Run) Look(seconds float64) *View {
	w := &r.looked
	if !r.interpolate(w, seconds) {
		return r.Now()
	}
	r.balance(w)
	return w
}

// Suppose is Look as it would be if some marks had other values, all states being the same: what a line does while
// somebody speaks on it. change sets the marks of the view it is given; the run itself is not touched.
func (r *Run) Suppose(seconds float64, change func(*View)) *View {
	w := &r.looked
	if !r.interpolate(w, seconds) {
		now := r.Now()
		now.refine()
		copy(w.x, now.x)
		copy(w.slope, now.slope)
		copy(w.v, now.v)
		copy(w.d, now.d)
		w.lin, w.seconds, w.Seconds, w.unfolded = now.lin, now.seconds, now.Seconds, false
	}
	change(w)
	r.balance(w)
	return w
}

// interpolate fills a view with what there was at an instant inside the last step, or reports false.
func (r *Run) interpolate(w *View, seconds float64) bool {
	p := &r.past
	if !p.valid || seconds < p.begin || seconds >= p.begin+p.length {
		return false
	}
	t := (seconds - p.begin) / p.length
	for i := range w.x {
		y0, y1, s0, s1 := p.x[i], p.endX[i], p.slope[i]*p.length, p.endK[i]*p.length
		c, d := 3*(y1-y0)-2*s0-s1, s0+s1-2*(y1-y0)
		w.x[i] = y0 + t*(s0+t*(c+t*d))
		w.slope[i] = (s0 + t*(2*c+3*t*d)) / p.length
	}
	copy(w.d, p.d)
	copy(w.v, p.v)
	w.lin, w.seconds, w.Seconds, w.unfolded, w.rough = p.lin, seconds, seconds, false, false
	return true
}

// refine finds the volts that belong to the states, where that has not been done. Nobody may want them: it waits until
// somebody asks.
func (w *View) refine() {
	if w.rough {
		w.rough = false
		w.run.balance(w)
	}
}

// balance finds the volts that belong to a view's states and marks.
func (r *Run) balance(w *View) {
	lin, marks, curve, newtons := r.lin, r.d, r.curve, r.stats.Newtons
	r.lin, r.d, r.curve = w.lin, w.d, math.Inf(1)
	copy(r.w.rest, w.x)
	copy(r.w.from, w.x)
	copy(r.w.restVolts, w.v)
	for i := range r.members {
		if m := &r.members[i]; m.farads > 0 { // its current is known, and lifts it by nothing
			r.w.rest[m.x] -= m.farads * w.slope[m.x] / capacitorSiemens
		}
	}
	if r.newton(0, w.Seconds, r.w.from, r.w.rest, w.v) {
		w.unfolded = false
	} else {
		copy(w.v, r.w.restVolts)
	}
	r.lin, r.d, r.curve, r.stats.Newtons = lin, marks, curve, newtons
}

// Volts is the potential of a node against Ground. One that nothing conducts to is at 0 V.
func (w *View) Volts(n Node) float64 {
	u := w.run.unknown[n]
	if u < 0 {
		return 0
	}
	w.refine()
	if l := w.run.left[u]; l >= 0 {
		return w.v[l]
	}
	if !w.unfolded {
		for u, l := range w.run.left {
			if l >= 0 {
				w.unknowns[u] = w.v[l]
			}
		}
		w.run.folding.unfold(w.lin.siemens, w.unknowns)
		w.unfolded = true
	}
	return w.unknowns[u]
}

// Amps is the current through a resistor from its first end to its second, and through a source from minus to plus, so
// that it is positive for one that delivers. Through a resistor of 0 ohm it is not known: NaN.
func (w *View) Amps(e Edge) float64 {
	l := w.lin.edges[e]
	if l.ohms == 0 {
		return math.NaN()
	}
	return siemens(l.ohms) * (w.Volts(l.a) - w.Volts(l.b) + l.volts)
}

// ElementVolts is the volts across an element, first terminal against second.
func (w *View) ElementVolts(id ID) float64 {
	w.refine()
	m := &w.run.members[id]
	return w.v[m.a] - w.v[m.b]
}

// ElementAmps is the current through an element from its first terminal to its second.
func (w *View) ElementAmps(id ID) float64 {
	m := &w.run.members[id]
	if m.farads > 0 {
		return m.farads * w.slope[m.x]
	}
	w.refine()
	p := &w.run.w.point
	p.Seconds, p.volts = w.Seconds, w.v
	p.element, p.Volts, p.States, p.Marks = id, w.ElementVolts(id), w.x[m.x:m.x+m.nx], w.d[m.d:m.d+m.nd]
	rates, marks := &w.run.w.rates, w.run.d
	*rates = Rates{}
	w.run.d = w.d // for those of other elements
	m.what.Rates(p, rates)
	w.run.d = marks
	return rates.Amps
}

// States are the states of an element, for reading.
func (w *View) States(id ID) []float64 {
	m := &w.run.members[id]
	return w.x[m.x : m.x+m.nx]
}

// Marks are the marks of an element, for reading.
func (w *View) Marks(id ID) []float64 {
	m := &w.run.members[id]
	return w.d[m.d : m.d+m.nd]
}

// Volts is that of the run's own instant.
func (r *Run) Volts(n Node) float64 { return r.Now().Volts(n) }

// Amps is that of the run's own instant.
func (r *Run) Amps(e Edge) float64 { return r.Now().Amps(e) }

// ElementAmps is that of the run's own instant.
func (r *Run) ElementAmps(id ID) float64 { return r.Now().ElementAmps(id) }
