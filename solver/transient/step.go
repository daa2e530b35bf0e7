package transient

// This file takes steps and chooses their length.

import "math"

// Figures of the control of steps.
const (
	aim          = 0.18 // of what is allowed: what the estimate of a step is to be
	safety       = 0.9  // of a step that is to be just allowed, after one that was not
	mostShrink   = 0.2
	mostGrow     = 5
	shortest     = 1e-14
	leastSeconds = 1e-9 // a first step
	sliver       = 1e-6 // of the step wanted
	blur         = 1e13 // times the tolerance: how far beyond a step its slopes, which have lost digits in it, can be relied on
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
	if r.since == 1 {
		r.step = r.outset()
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
			r.step = length * max(0.1, safety*math.Pow(worst, -1/r.table().order))
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
	w, method := &r.w, r.table()
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
		// A guess: on a straight line through the last two stages.
		last, before, ahead := s-1, max(s-2, 0), method.ahead[s]
		for i, slope := range w.ks[last] {
			x[i] = from[i] + hg*(slope+ahead*(slope-w.ks[before][i]))
		}
		for u, volts := range w.vs[last] {
			v[u] = volts + ahead*(volts-w.vs[before][u])
		}
		w.times[s] = r.seconds + length*method.at[s]
		r.stats.Stages++
		if !r.newton(hg, w.times[s], from, x, v) {
			return 0, false
		}
		for i := range k {
			k[i] = (x[i] - from[i]) / hg
		}
	}
	end, scale := w.xs[len(method.rows)], 1e3*r.tol
	for i := range end {
		err := 0.0
		for j, e := range method.err {
			err += e * w.ks[j][i]
		}
		err = method.caution * math.Abs(length*err) / (scale*r.units[i] + r.tol*max(math.Abs(r.x[i]), math.Abs(end[i])))
		if !(err <= worst) {
			worst = err
		}
	}
	if math.IsNaN(worst) || !finite(end) {
		return 0, false
	}
	return worst, true
}

// keep makes the step that was tried the state, and finds the length of the next: one whose estimate would be what is
// aimed at, if estimates that fell from the last step to this one go on to fall, as they do where something dies away
// (Gustafsson, "Control-theoretic techniques for stepsize selection in implicit Runge-Kutta methods", ACM TOMS 20, 1994).
func (r *Run) keep(length, worst, target float64) {
	r.accept(length)
	if landed := r.seconds + length*1e-9; landed >= target {
		r.seconds = target
	}
	worst = max(worst, 1e-10)
	factor := math.Pow(aim/worst, 1/r.method.order)
	if r.since > 2 {
		factor *= max(1, length/r.lastLength*math.Pow(r.lastErr/worst, 1/r.method.order))
	}
	factor = min(max(factor, mostShrink), mostGrow)
	if next := length * factor; next > r.step || factor < 1 || length >= r.step {
		r.step = next
	}
	r.lastLength, r.lastErr = length, worst
}

// accept makes the step that was tried the state.
func (r *Run) accept(length float64) {
	w, last := &r.w, len(r.table().rows)
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

// restart begins anew after a change, with a step so short that nothing goes on in it but what is all but at once, such as
// the amps of a coil behind an open contact, which follow its volts. Only after it are the slopes those of the rest.
func (r *Run) restart() {
	r.curve, r.since, r.step = math.Inf(1), 0, leastSeconds
	r.slopes(r.seconds, r.x, r.v, r.slope)
}

// reach is how long it takes any state, at its slope, to move by so many tolerances.
func (r *Run) reach(tolerances float64) (seconds float64) {
	seconds = math.Inf(1)
	for i, k := range r.slope {
		if k != 0 {
			seconds = min(seconds, tolerances*r.allowed(i)/math.Abs(k))
		}
	}
	return seconds
}

// allowed is the error that a state may have.
func (r *Run) allowed(state int) float64 { return r.tol * (1e3*r.units[state] + math.Abs(r.x[state])) }

// outset is the length of the first step that is to get anywhere. A trial of backward Euler, in which no state goes far,
// shows how fast each slope dies away; from that follows the estimate for any step.
func (r *Run) outset() (seconds float64) {
	w, m := &r.w, &r.method
	most := min(r.next-r.seconds, blur*r.tol*r.lastLength, 1)
	trial := min(r.reach(1/math.Sqrt(r.tol)), most)
	for i, k := range r.slope {
		w.from[i] = r.x[i]
		w.rest[i] = r.x[i] + trial*k
	}
	copy(w.restVolts, r.v)
	curve := r.curve
	r.curve, w.fresh = math.Inf(1), false
	r.lookAtVolts(r.v)
	solved := r.newton(trial, r.seconds+trial, w.from, w.rest, w.restVolts)
	r.curve = curve
	if !solved {
		return max(leastSeconds, r.reach(0.5))
	}
	seconds = most
	for i, k := range r.slope {
		then := (w.rest[i] - r.x[i]) / trial
		slope := max(math.Abs(k), math.Abs(then))
		if fast := math.Abs(then-k) / (trial * slope); fast*most > 1e-9 { // 1 over a time constant
			seconds = min(seconds, math.Pow(aim/m.caution*r.allowed(i)*fast/(m.decay*slope), 1/m.order)/fast)
		}
	}
	return max(leastSeconds, seconds)
}
