package transient

// This file solves one implicit stage: states x = from + hg f(v, x) with Kirchhoff's current law at every node.
//
// In every pass of Newton's iteration each element is condensed to a conductance and a current: with A = 1 - hg df/dx,
// w = A^-1 hg df/dv and rest = A^-1 (x - from - hg f), it takes amps + (di/dv + di/dx w) dv - di/dx rest for a change dv
// of its volts. The node volts are then solved for whole, not their change, so that nodes without elements have nothing
// on the right-hand side.

import "math"

// capacitorSiemens stands for a capacitor at an instant, when its volts are fixed.
const capacitorSiemens = 1e7

// Limits of an iteration.
const (
	leastVolts   = 1e-3  // errors are relative ones for volts above this,
	littleVolts  = 0.03  // or above this share of the highest volts in the network
	stale        = 1e-3  // a conductance that has changed by less stays as it was, for it misses no more than that share of a pass
	gentle       = 0.003 // times the tolerance: the square of a change that a tangent can follow
	stagePasses  = 10
	settlePasses = 100
	searches     = 60    // halvings of a way that is too long
	halfway      = 0.5   // of the pull at its beginning, which is little enough at its end
	wildVolts    = 1e14  // what no network comes through on its way
	bentShare    = 1e-4  // of its amps, by which a tangent may miss a curve, and
	bentAmps     = 0.1   // the same for small ones, times the tolerance
	leastAmps    = 1e-11 // of no account: about what leaks
)

// work is the room that stages and steps are taken in.
type work struct {
	xs, vs, ks [][]float64 // by stage, the explicit first included
	times      []float64   // by stage
	from       []float64   // what a stage starts from
	at         []float64   // by member: volts it was last asked at
	amps       []float64   // by member: as condensed, at those volts
	siemens    []float64   // by member: as condensed
	shift      []float64   // by state: -rest
	gain       []float64   // by state: w
	took       []float64   // by member: amps after the last pass
	solved     []float64   // unknowns left, and ground
	found      [][]float64 // event distances by stage
	trial      []float64
	rise, fall []float64 // event distances a little after the first stage, and after the last
	rates      Rates
	point      Point
	worst      ID // the element that moved most in the last pass
	relaid     bool
	rest       []float64
	restVolts  []float64

	ratesBefore, ratesAfter []Rates // by member

	floor    float64   // volts of no account, for a node at 0 V
	fresh    bool      // the matrix and the tangents are of the step being tried
	tangents []tangent // by member
	leapt    []int     // limited elements whose volts changed by about the tolerance or more in the last pass, and bending ones
	held     bool      // one of them was not allowed all of it
	search   bool      // a pass goes no further than is best on its way, see shorten
}

func (w *work) room(r *Run) {
	for range r.method.at {
		w.xs = append(w.xs, make([]float64, len(r.x)))
		w.ks = append(w.ks, make([]float64, len(r.x)))
		w.vs = append(w.vs, make([]float64, r.count+1))
		w.found = append(w.found, make([]float64, len(r.events)))
	}
	w.times = make([]float64, len(r.method.at))
	w.from, w.shift, w.gain, w.rest = make([]float64, len(r.x)), make([]float64, len(r.x)), make([]float64, len(r.x)), make([]float64, len(r.x))
	w.at, w.amps, w.siemens, w.took = make([]float64, len(r.members)), make([]float64, len(r.members)), make([]float64, len(r.members)), make([]float64, len(r.members))
	w.solved, w.restVolts = make([]float64, r.count+1), make([]float64, r.count+1)
	w.trial, w.rise, w.fall = make([]float64, len(r.events)), make([]float64, len(r.events)), make([]float64, len(r.events))
	w.ratesBefore, w.ratesAfter = make([]Rates, len(r.members)), make([]Rates, len(r.members))
	w.tangents = make([]tangent, len(r.members))
	w.point.run = r
}

// newton solves a stage. x and v hold a guess and get the result. With hg 0 the states stay as they are and only volts
// are found.
func (r *Run) newton(hg, seconds float64, from, x, v []float64) bool {
	w := &r.w
	for i := range r.members {
		m := &r.members[i]
		w.at[i] = v[m.a] - v[m.b]
	}
	if hg == 0 {
		w.fresh = false
		r.lookAtVolts(v)
	}
	if !w.fresh {
		copy(r.g, r.lin.keep)
	}
	enough, passes := 0.003, stagePasses
	if hg == 0 {
		enough, passes = enough/10, settlePasses
	}
	last := math.Inf(1)
	for pass := 1; ; pass++ {
		r.stats.Newtons++
		same, ok := r.condense(hg, seconds, from, x, v)
		if !ok {
			w.fresh = false
			return false
		}
		if !same {
			r.factor.Refactor(r.g)
		}
		if r.factor.NegativePivots() > 0 && (hg > 0 || w.search || pass > 30) {
			return false
		}
		r.factor.Solve(w.solved[:r.count])
		w.solved[r.count] = 0
		short := w.search && r.shorten(x, v)
		inVolts, inStates, lag := r.move(hg, x, v)
		norm := max(inVolts, inStates, lag)
		if short {
			norm, w.held = max(norm, 1), true
		}
		settled := pass >= 3 && r.settled(v) && inStates < 0.03 && !w.held && r.followed(x, r.noAmps(v))
		if !(norm*r.tol < wildVolts) {
			return false
		}
		if pass == 1 {
			// However straight the last iteration was, a relative change e of a variable leaves about e squared.
			if norm < enough || max(r.curve, 0.01*r.tol)*norm*norm < enough && r.followed(x, r.tol*bentAmps) {
				r.curve *= 1.05
				return true
			}
		} else {
			if pass == 2 && last > 0 {
				bend := norm / (last * last)
				if bend > r.curve || math.IsInf(r.curve, 1) {
					r.curve = bend
				} else {
					r.curve = max(bend, 0.5*r.curve)
				}
			}
			if norm < enough || hg > 0 && norm < 0.3 && norm < 0.3*last || pass > 3 && settled {
				return true
			}
		}
		if pass >= passes || pass > 6 && hg > 0 && norm >= last {
			return false
		}
		last = norm
	}
}

// condense asks every element and fills the matrix and its right-hand side. Conductances that are nearly those of the last
// pass of the step stay as they are; same says that all did, so that the matrix has its factors already.
func (r *Run) condense(hg, seconds float64, from, x, v []float64) (same, ok bool) {
	w := &r.w
	right := w.solved
	copy(right, r.lin.inject)
	w.point.Seconds, w.point.volts = seconds, v
	same = w.fresh
	for i := range r.members {
		m := &r.members[i]
		volts := w.at[i]
		var g, amps float64 // amps at volts
		switch {
		case m.farads > 0 && hg > 0:
			g = m.farads / hg
			amps = g * (volts - from[m.x])
		case m.farads > 0:
			g = capacitorSiemens
			amps = g * (volts - x[m.x])
		default:
			rates := r.ask(i, volts, x)
			g, amps = rates.PerVolt, rates.Amps
			switch m.nx {
			case 0:
			case 1:
				a := 1 - hg*rates.RatePerX[0][0]
				if !(a > 0) {
					w.worst = ID(i)
					return false, false
				}
				gain := hg * rates.RatePerV[0] / a
				shift := -(x[m.x] - from[m.x] - hg*rates.Rate[0]) / a
				w.gain[m.x], w.shift[m.x] = gain, shift
				g += rates.PerState[0] * gain
				amps += rates.PerState[0] * shift
			default:
				if !eliminate(m, rates, hg, from, x, w.gain, w.shift) {
					w.worst = ID(i)
					return false, false
				}
				for k := range m.nx {
					g += rates.PerState[k] * w.gain[m.x+k]
					amps += rates.PerState[k] * w.shift[m.x+k]
				}
			}
		}
		if sum := g + amps; sum-sum != 0 { // no number, or none that is finite
			w.worst = ID(i)
			return false, false
		}
		amps += leakSiemens * volts
		g += leakSiemens
		if was := r.g[m.edge]; w.fresh && math.Abs(g-was) <= stale*was {
			g = was
		} else {
			r.g[m.edge], same = g, false
		}
		w.amps[i], w.siemens[i] = amps, g
		source := g*volts - amps
		right[m.a] += source
		right[m.b] -= source
	}
	w.fresh = true
	return same, true
}

// ask gives the rates of an element. Within a step, those of a gentle one are taken from a tangent as long as that is
// good enough.
func (r *Run) ask(i int, volts float64, x []float64) *Rates {
	w, m := &r.w, &r.members[i]
	rates := &w.rates
	if m.gentle {
		rates = &w.tangents[i].rates
		if w.fresh && w.tangents[i].near(math.Sqrt(gentle*r.tol), volts, x[m.x:m.x+m.nx]) {
			w.rates = *rates
			w.rates.move(volts-w.tangents[i].volts, x[m.x:m.x+m.nx], w.tangents[i].states[:])
			return &w.rates
		}
		w.tangents[i].volts = volts
		copy(w.tangents[i].states[:], x[m.x:m.x+m.nx])
	}
	rates.clear(m.nx)
	p := &w.point
	p.element, p.Volts, p.States, p.Marks = ID(i), volts, x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
	m.what.Rates(p, rates)
	return rates
}

// tangent is where a gentle element was last asked, and its answer.
type tangent struct {
	volts  float64
	states [MaxStates]float64
	rates  Rates
}

// near reports whether volts and states have moved by no more than a share of themselves.
func (t *tangent) near(share, volts float64, states []float64) bool {
	if !(math.Abs(volts-t.volts) <= share*(math.Abs(t.volts)+1e-3)) {
		return false
	}
	for k, x := range states {
		if !(math.Abs(x-t.states[k]) <= share*math.Abs(t.states[k])) {
			return false
		}
	}
	return true
}

// move goes along the tangent.
func (r *Rates) move(dv float64, to, from []float64) {
	r.Amps += r.PerVolt * dv
	for k, x := range to {
		r.Amps += r.PerState[k] * (x - from[k])
		r.Rate[k] += r.RatePerV[k] * dv
		for j, y := range to {
			r.Rate[k] += r.RatePerX[k][j] * (y - from[j])
		}
	}
}

// clear zeroes what an element of so many states may fill.
func (r *Rates) clear(states int) {
	r.Amps, r.PerVolt = 0, 0
	for k := range states {
		r.PerState[k], r.Rate[k], r.RatePerV[k] = 0, 0, 0
		clear(r.RatePerX[k][:states])
	}
}

// eliminate solves A gain = hg df/dv and A shift = -(x - from - hg f) for an element of several states by Gaussian
// elimination with partial pivoting. It reports false where the determinant of A is not positive: the step is then
// longer than the element can be followed.
func eliminate(m *member, rates *Rates, hg float64, from, x, gain, shift []float64) bool {
	n := m.nx
	var a [MaxStates][MaxStates + 2]float64
	for i := range n {
		for j := range n {
			a[i][j] = -hg * rates.RatePerX[i][j]
		}
		a[i][i]++
		a[i][n] = hg * rates.RatePerV[i]
		a[i][n+1] = -(x[m.x+i] - from[m.x+i] - hg*rates.Rate[i])
	}
	positive := true
	for k := range n {
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[best][k]) {
				best = i
			}
		}
		if best != k {
			a[k], a[best] = a[best], a[k]
			positive = !positive
		}
		pivot := a[k][k]
		if pivot == 0 || math.IsNaN(pivot) {
			return false
		}
		positive = positive == (pivot > 0)
		for i := k + 1; i < n; i++ {
			factor := a[i][k] / pivot
			if factor == 0 {
				continue
			}
			for j := k + 1; j < n+2; j++ {
				a[i][j] -= factor * a[k][j]
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			a[i][n] -= a[i][j] * gain[m.x+j]
			a[i][n+1] -= a[i][j] * shift[m.x+j]
		}
		gain[m.x+i] = a[i][n] / a[i][i]
		shift[m.x+i] = a[i][n+1] / a[i][i]
	}
	return positive
}

// move takes over the volts just solved and the states that follow, and gives the largest change of each in units of the
// tolerance, and by how much the volts of a limited element are off those that it was asked at.
func (r *Run) move(hg float64, x, v []float64) (inVolts, inStates, lag float64) {
	w := &r.w
	floor := w.floor
	for u, volts := range w.solved[:r.count] {
		change, unit := math.Abs(volts-v[u]), r.tol*math.Abs(volts)+floor
		if !(change <= inVolts*unit) {
			inVolts = change / unit
		}
		v[u] = volts
	}
	scale := 1e3 * r.tol
	w.leapt, w.held = w.leapt[:0], false
	leap := 1.0 // in units of the tolerance
	if hg == 0 {
		leap = 0.1
	}
	for i := range r.members {
		m := &r.members[i]
		volts := v[m.a] - v[m.b]
		dv := volts - w.at[i]
		w.amps[i] += w.siemens[i] * dv
		switch {
		case hg == 0: // an instant, in which no state moves
		case m.farads > 0:
			x[m.x] = volts
		default:
			for k := m.x; k < m.x+m.nx; k++ {
				dx := w.shift[k] + w.gain[k]*dv
				x[k] += dx
				change, unit := math.Abs(dx), scale*r.units[k]+r.tol*math.Abs(x[k])
				if !(change <= inStates*unit) {
					inStates, w.worst = change/unit, ID(i)
				}
			}
		}
		if m.limited != nil {
			// It was asked where it could be followed to, which may be far from the volts found.
			far := math.Abs(dv) / (r.tol*math.Abs(volts) + floor)
			lag = max(lag, far)
			if far > leap {
				w.leapt = append(w.leapt, i)
			}
			if w.search {
				w.at[i] = volts
			} else if w.at[i] = m.limited.Limit(w.at[i], volts); w.at[i] != volts {
				w.held = true
			}
			continue
		}
		if m.bending != nil && m.bending.Bends(w.at[i], volts) {
			w.leapt = append(w.leapt, i)
		}
		w.at[i] = volts
	}
	return inVolts, inStates, lag
}

// shorten keeps a pass from going too far where the limits of single elements lead to no end. As long as all currents rise
// with their volts, so does the sum of each current times the change of its volts, on the way from v to what was solved,
// from below 0; where it is 0 is the least on that way of what is known as the co-content of the network (W. Millar, "Some
// general theorems for non-linear systems possessing resistance", Philosophical Magazine 42, 1951; from memory). It reports
// whether it has moved what was solved back to near there.
func (r *Run) shorten(x, v []float64) bool {
	w := &r.w
	most := -halfway * r.pull(0, x, v)
	if math.Abs(most) <= r.noAmps(v)*highest(v) || r.pull(1, x, v) <= most { // it is there, but for rounding; or all the way is good
		return false
	}
	low, high := 0.0, 1.0
	for range searches {
		share := low + (high-low)/2
		switch pull := r.pull(share, x, v); {
		case pull > most:
			high = share
		case pull < -most:
			low = share
		default:
			low, high = share, share
		}
	}
	for u, from := range v[:r.count] {
		w.solved[u] = from + high*(w.solved[u]-from)
	}
	return true
}

// pull is the sum of all currents times the changes of their volts, at a share of the way from v to what was solved.
func (r *Run) pull(share float64, x, v []float64) (sum float64) {
	w := &r.w
	across := func(a, b int32) (volts, change float64) {
		change = w.solved[a] - w.solved[b] - (v[a] - v[b])
		return v[a] - v[b] + share*change, change
	}
	for i, at := range r.folding.keep {
		p := r.folding.pairs[at]
		volts, change := across(r.leftOf(p.a), r.leftOf(p.b))
		sum += r.lin.keep[i] * volts * change
	}
	for u, amps := range r.lin.inject {
		sum -= amps * (w.solved[u] - v[u])
	}
	for i := range r.members {
		m := &r.members[i]
		volts, change := across(m.a, m.b)
		var amps float64
		if m.farads > 0 {
			amps = capacitorSiemens * (volts - x[m.x])
		} else {
			amps = r.ask(i, volts, x).Amps
		}
		sum += (amps + leakSiemens*volts) * change
	}
	return sum
}

// followed reports whether the curves of limited elements have been followed by their tangents so far, but for a share of
// their amps and some slack: a corner is seen only by who asks beyond it.
func (r *Run) followed(x []float64, slack float64) bool {
	w := &r.w
	for _, i := range w.leapt {
		rates := r.ask(i, w.at[i], x)
		amps := rates.Amps + leakSiemens*w.at[i]
		if math.Abs(amps-w.amps[i]) > bentShare*(math.Abs(amps)+math.Abs(w.amps[i]))+slack {
			return false
		}
	}
	return true
}

// settled reports whether no current has changed since it was last called, although volts may have: a part that hangs on
// leaks alone is tossed about by rounding. The first call of an iteration may err. Where a junction is coming down from the
// steep part of its curve its tangent promises no current from one pass to the next, so that its curve has to agree too.
func (r *Run) settled(v []float64) bool {
	w, slack := &r.w, r.noAmps(v)
	same := true
	for i, amps := range w.amps {
		same = same && math.Abs(amps-w.took[i]) <= r.tol*math.Abs(amps)+slack
		w.took[i] = amps
	}
	return same
}

// noAmps are those of no account: what leaks away, or rounding makes of them beside the steepest element.
func (r *Run) noAmps(v []float64) float64 {
	steepest := 0.0
	for _, g := range r.w.siemens {
		steepest = max(steepest, g)
	}
	return leastAmps + 2e-15*steepest*highest(v)
}

// lookAtVolts finds what is little beside them.
func (r *Run) lookAtVolts(v []float64) {
	r.w.floor = r.tol * max(leastVolts, littleVolts*highest(v))
}

func highest(volts []float64) (most float64) {
	for _, v := range volts {
		most = max(most, math.Abs(v))
	}
	return most
}
