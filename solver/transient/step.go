package transient

// This file takes steps and chooses their length.

import "math"

// Figures of the control of steps. The exponents are those of a proportional-integral controller (Gustafsson, "Control
// theoretic techniques for stepsize selection in implicit Runge-Kutta methods", ACM TOMS 20, 1994).
const (
	// cautious: in a step the estimate, which is that of the lower order, has to stay this much below the tolerance, so that
	// what piles up over a run stays within it (found by trial on the circuits that SciPy judges).
	cautious     = 4
	safety       = 0.9
	proportional = 0.7
	integral     = 0.4
	eager        = 0.18 // of the tolerance: a step far inside it makes way at once for one that reaches this
	mostShrink   = 0.2
	mostGrow     = 5
	firstGrow    = 50 // right after a restart, where the first guess is a careful one
	shortest     = 1e-14
	leastSeconds = 1e-9 // a first step
	sliver       = 1e-6 // of the step wanted
	firstShare   = 1e-3 // of the way to what is scheduled, at most
)

// Advance steps to a time, and stands there exactly.
func (r *Run) Advance(until float64) error {
	for r.seconds < until {
		if err := r.Step(until); err != nil {
			return err
		}
	}
	return nil
}

// Step takes one step, at most to a time. It ends at once where something happens, and that has then happened.
func (r *Run) Step(until float64) error {
	r.fired = r.fired[:0]
	r.past.valid = false
	if !(until > r.seconds) {
		return nil
	}
	target := min(until, r.next)
	if target-r.seconds <= r.moment() {
		r.seconds = target
		if r.seconds >= r.next {
			return r.settle(true)
		}
		return nil
	}
	length, retried := r.landing(target), 0
	for {
		worst, ok := r.try(length)
		switch {
		case !ok:
			r.stats.Failed++
			if r.step = length / 4; r.step < r.moment() {
				return &StuckError{Seconds: r.seconds, StepSeconds: length, Element: r.w.worst}
			}
			length = r.step
			continue
		case !(worst <= 1):
			r.stats.Rejected++
			r.step = length * max(0.1, safety*math.Pow(worst, -1/r.method.order))
			if r.step < r.moment() {
				return &StuckError{Seconds: r.seconds, StepSeconds: length, Element: r.w.worst}
			}
			length = r.step
			continue
		}
		if len(r.events) > 0 {
			share, located, err := r.watch(length)
			switch {
			case err != nil:
				return err
			case located:
				return r.happen()
			case share < 1 && retried < 40:
				retried++
				r.stats.Retried++
				length *= share
				continue
			}
		}
		r.keep(length, worst, target)
		if r.seconds >= r.next {
			return r.happen()
		}
		return nil
	}
}

// moment is a time in which nothing moves.
func (r *Run) moment() float64 { return max(shortest, math.Abs(r.seconds)*1e-15) }

// landing is the length of the next step, such that the time aimed at is met exactly and no sliver is left before it.
func (r *Run) landing(target float64) float64 {
	left := target - r.seconds
	switch {
	case r.step >= left*(1-1e-9):
		return left
	case 2*r.step > left:
		return left / 2
	}
	return r.step
}

// try takes a step of a length without keeping it, and returns the largest error in units of the tolerance.
func (r *Run) try(length float64) (worst float64, ok bool) {
	w, method := &r.w, &r.method
	copy(w.xs[0], r.x)
	copy(w.vs[0], r.v)
	copy(w.ks[0], r.slope)
	w.times[0] = r.seconds
	w.fresh = false
	r.lookAtVolts(r.v)
	hg := length * method.gamma
	for s, row := range method.rows {
		s++
		x, v, from, k := w.xs[s], w.vs[s], w.from, w.ks[s]
		copy(from, r.x)
		for j, a := range row[:s] {
			if a == 0 {
				continue
			}
			for i, slope := range w.ks[j] {
				from[i] += length * a * slope
			}
		}
		for i, slope := range w.ks[s-1] {
			x[i] = from[i] + hg*slope
		}
		for _, i := range r.sharp {
			m := &r.members[i]
			copy(x[m.x:m.x+m.nx], w.xs[s-1][m.x:m.x+m.nx])
		}
		copy(v, w.vs[s-1])
		w.times[s] = r.seconds + length*method.at[s]
		r.stats.Stages++
		if !r.newton(hg, w.times[s], from, x, v) {
			return 0, false
		}
		for i := range k {
			k[i] = (x[i] - from[i]) / hg
		}
	}
	last := len(method.rows)
	scale := 1e3 * r.tol
	end := w.xs[last]
	for i := range end {
		err := 0.0
		for j, e := range method.err {
			err += e * w.ks[j][i]
		}
		err = cautious * math.Abs(length*err) / (scale*r.units[i] + r.tol*max(math.Abs(r.x[i]), math.Abs(end[i])))
		if !(err <= worst) {
			worst = err
		}
	}
	if math.IsNaN(worst) || !finite(end) {
		return 0, false
	}
	return worst, true
}

// keep makes the step that was tried the state, and finds the length of the next.
func (r *Run) keep(length, worst, target float64) {
	r.accept(length)
	if landed := r.seconds + length*1e-9; landed >= target {
		r.seconds = target
	}
	factor := safety * math.Pow(max(worst, 1e-10), -proportional/r.method.order) * math.Pow(r.lastErr, integral/r.method.order)
	most := float64(mostGrow)
	if r.since <= 2 {
		most = firstGrow
	}
	factor = max(factor, math.Pow(max(worst, 1e-10)/eager, -1/r.method.order))
	factor = min(max(factor, mostShrink), most)
	if factor > 1 && factor < 1.1 {
		factor = 1
	}
	if next := length * factor; next > r.step || factor < 1 || length >= r.step {
		r.step = next
	}
	r.lastErr = max(worst, 1e-4)
}

// accept makes the step that was tried the state.
func (r *Run) accept(length float64) {
	w, last := &r.w, len(r.method.rows)
	r.past.take(r, length)
	r.charge(length)
	copy(r.x, w.xs[last])
	copy(r.v, w.vs[last])
	if length > sliver*r.step { // in less, slopes do not change, and what is found of them is rounding
		copy(r.slope, w.ks[last])
	}
	r.seconds += length
	r.since++
	r.stats.Steps++
	r.rough, r.now.seconds = true, math.NaN()
}
