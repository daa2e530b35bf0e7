package transient

// This file finds the instants at which something happens, and lets it happen.

import (
	"math"
	"slices"
)

const (
	instant      = 1e-10 // seconds: how well an instant is found
	mostRounds   = 60    // of events that set each other off at one instant
	mostRecent   = 5000  // of events within recentSpan
	recentSpan   = 1e-6  // seconds
	mostSearches = 80
	nudge        = 1e-4 // of a step, to see which way a distance goes
)

// distances asks every switching element how far it is from its conditions.
func (r *Run) distances(seconds float64, x, v, into []float64) {
	p := &r.w.point
	p.Seconds, p.volts = seconds, v
	for at := 0; at < len(r.events); {
		i := r.events[at]
		m := &r.members[i]
		p.element, p.Volts, p.States, p.Marks = ID(i), v[m.a]-v[m.b], x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
		m.switching.Events(p, into[at:at+m.ne])
		at += m.ne
	}
}

// nearest is the largest distance and its event.
func nearest(distance []float64) (most float64, event int) {
	most = math.Inf(-1)
	for e, g := range distance {
		if g > most {
			most, event = g, e
		}
	}
	return most, event
}

// watch looks for conditions met in the step just tried. If one is met at its end, the instant is found, the state
// brought there, and located is true. If one is met inside only, share of the step should be tried instead.
func (r *Run) watch(length float64) (share float64, located bool, err error) {
	w := &r.w
	last := len(r.table().rows)
	for s := range last + 1 {
		r.distances(w.times[s], w.xs[s], w.vs[s], w.found[s])
	}
	if most, event := nearest(w.found[last]); most >= 0 {
		return 0, true, r.locate(length, event)
	}
	share = 1
	for s := 1; s < last; s++ {
		if most, _ := nearest(w.found[s]); most >= 0 {
			share = min(share, r.table().at[s])
		}
	}
	if share < 1 {
		return share, false, nil
	}
	return r.hump(length), false, nil
}

// hump looks for distances that rise at the start of the step and fall at its end, and may have come to 0 in between. It
// returns the share of the step at which that may be, or 1.
func (r *Run) hump(length float64) (share float64) {
	w := &r.w
	last := len(r.table().rows)
	start, end := w.found[0], w.found[last]
	rise, fall := w.rise, w.fall
	r.nudged(0, 1, length, rise)
	r.nudged(last, last-1, length, fall)
	share = 1
	for e := range start {
		up, down := (rise[e]-start[e])/nudge, (fall[e]-end[e])/nudge
		if !(up > 0 && down < 0) {
			continue
		}
		at, most := hermiteTop(start[e], up, end[e], down)
		if most > -2*r.tol && at > 0.01 && at < 0.99 {
			share = min(share, at)
		}
	}
	return share
}

// nudged asks for distances a little after stage s, along the slopes there.
func (r *Run) nudged(s, neighbour int, length float64, into []float64) {
	w := &r.w
	for i, x := range w.xs[s] {
		w.rest[i] = x + nudge*length*w.ks[s][i]
	}
	share := r.table().at[neighbour] - r.table().at[s]
	for u, v := range w.vs[s] {
		w.restVolts[u] = v
		if math.Abs(share) > 1e-6 {
			w.restVolts[u] += nudge * (w.vs[neighbour][u] - v) / share
		}
	}
	r.distances(w.times[s]+nudge*length, w.rest, w.restVolts, into)
}

// hermiteTop is where, from 0 to 1, the cubic through two values with two slopes is highest, and how high.
func hermiteTop(y0, s0, y1, s1 float64) (at, most float64) {
	// y = y0 + s0 t + c t^2 + d t^3
	c, d := 3*(y1-y0)-2*s0-s1, s0+s1-2*(y1-y0)
	most = math.Inf(-1)
	for _, t := range roots(3*d, 2*c, s0) {
		if t > 0 && t < 1 {
			if y := y0 + t*(s0+t*(c+t*d)); y > most {
				at, most = t, y
			}
		}
	}
	return at, most
}

// roots of a t^2 + b t + c.
func roots(a, b, c float64) [2]float64 {
	if a == 0 {
		return [2]float64{-c / b, math.NaN()}
	}
	under := b*b - 4*a*c
	if under < 0 {
		return [2]float64{math.NaN(), math.NaN()}
	}
	q := -(b + math.Copysign(math.Sqrt(under), b)) / 2
	return [2]float64{q / a, c / q}
}

// locate shortens the step just tried until it ends at the first instant at which a condition is met, and not more than
// a hair after it. It steps anew rather than to interpolate, and leaves that step as tried.
func (r *Run) locate(length float64, event int) error {
	w := &r.w
	last := len(r.table().rows)
	r.stats.Located++
	precise := max(instant, 8e-16*r.seconds)
	low, below := 0.0, w.found[0][event]
	if most, _ := nearest(w.found[0]); most > below {
		below = most
	}
	high, above := length, w.found[last][event]
	guess := r.crossing(event, length)
	stale := 0 // how often the same end has been kept
	for range mostSearches {
		if high-low <= precise || above == 0 {
			break
		}
		at := low + guess*(high-low)
		at = min(at+0.5*precise, high-0.25*(high-low)*1e-3)
		if !(at > low && at < high) {
			at = low + (high-low)/2
		}
		r.stats.Resteps++
		_, ok := r.try(at)
		if !ok { // shorter steps are easier: take it for met
			high, above = at, math.Max(above, 1e-3)
			guess = 0.5
			continue
		}
		r.distances(w.times[last], w.xs[last], w.vs[last], w.trial)
		most, _ := nearest(w.trial)
		if most >= 0 {
			slope := (most - below) / (at - low)
			high, above = at, most
			if most <= slope*precise {
				return nil
			}
			if stale = max(stale, 0) + 1; stale > 1 {
				below /= 2
			}
		} else {
			low, below = at, most
			if stale = min(stale, 0) - 1; stale < -1 {
				above /= 2
			}
		}
		guess = below / (below - above)
	}
	if _, ok := r.try(high); ok {
		return nil
	}
	// So long a step cannot be solved up to there. From just before, short ones may.
	if low > precise {
		if _, ok := r.try(low); ok {
			return nil
		}
	}
	return &StuckError{Seconds: r.seconds, StepSeconds: high, Element: r.w.worst}
}

// crossing guesses at which share of a step the distance of an event comes to 0.
func (r *Run) crossing(event int, length float64) float64 {
	w := &r.w
	last := len(r.table().rows)
	y0, y1 := w.found[0][event], w.found[last][event]
	r.nudged(0, 1, length, w.trial)
	s0 := (w.trial[event] - y0) / nudge
	r.nudged(last, last-1, length, w.trial)
	s1 := (w.trial[event] - y1) / nudge
	c, d := 3*(y1-y0)-2*s0-s1, s0+s1-2*(y1-y0)
	low, high := 0.0, 1.0
	for range 40 {
		t := (low + high) / 2
		if y0+t*(s0+t*(c+t*d)) < 0 {
			low = t
		} else {
			high = t
		}
	}
	return (low + high) / 2
}

// happen takes the step just tried, or stands at a scheduled time, and lets happen what is due.
func (r *Run) happen() error {
	if r.past.valid { // kept already: a scheduled time
		r.seconds = max(r.seconds, r.next)
		return r.settle(true)
	}
	r.accept(r.w.times[len(r.table().rows)] - r.seconds)
	return r.settle(false)
}

// Settle brings volts to the states after a change from outside, lets happen what that leads to, and starts again with a
// short step.
func (r *Run) Settle() error {
	r.fired = r.fired[:0]
	r.past.valid = false
	if r.w.relaid {
		r.lin, r.w.relaid = r.linearOf(r.lin.edges), false
	}
	return r.settle(false)
}

// unmoved reports whether nothing came of what was scheduled: no state has jumped, no element takes another current or
// goes another way, and no condition is met.
func (r *Run) unmoved() bool {
	w := &r.w
	if !slices.Equal(r.x, w.from) {
		return false
	}
	r.everyRate(w.ratesAfter)
	if !slices.Equal(w.ratesBefore, w.ratesAfter) {
		return false
	}
	r.distances(r.seconds, r.x, r.v, w.trial)
	most, _ := nearest(w.trial)
	return most < 0
}

// everyRate asks all elements at the instant.
func (r *Run) everyRate(into []Rates) {
	p := &r.w.point
	p.Seconds, p.volts = r.seconds, r.v
	for i := range r.members {
		m := &r.members[i]
		if m.farads > 0 {
			continue
		}
		into[i] = Rates{}
		p.element, p.Volts, p.States, p.Marks = ID(i), r.v[m.a]-r.v[m.b], r.x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
		m.what.Rates(p, &into[i])
	}
}

// settle lets happen what is due. Where that is only what was scheduled, and nothing comes of it, the steps go on as
// they were: much that goes by the clock is of this kind, such as a shaken contact that held once more.
func (r *Run) settle(scheduled bool) error {
	before := r.storedJoules()
	r.past.marks(r)
	if scheduled {
		copy(r.w.from, r.x)
		r.everyRate(r.w.ratesBefore)
	}
	if r.tick() {
		r.stats.Fired++
	}
	if scheduled && r.unmoved() {
		return nil
	}
	for round := 0; ; round++ {
		if !r.consistent() {
			return &StuckError{Seconds: r.seconds, Element: r.w.worst}
		}
		r.distances(r.seconds, r.x, r.v, r.w.trial)
		if most, event := nearest(r.w.trial); most < 0 || len(r.events) == 0 {
			break
		} else if round >= mostRounds || r.recent.full(r.seconds) {
			return &ChatterError{Seconds: r.seconds, Element: ID(r.events[event])}
		}
		r.fire()
	}
	r.ledger.jumped += r.storedJoules() - before
	r.restart()
	return nil
}

// tick lets every element act whose time has come, and finds when the next one's does.
func (r *Run) tick() (acted bool) {
	p := &r.w.point
	r.next = math.Inf(1)
	for _, i := range r.timed {
		m := &r.members[i]
		marks := r.d[m.d : m.d+m.nd]
		for n := 0; m.timed.Next(marks) <= r.seconds && n < mostRounds; n++ {
			p.Seconds, p.volts = r.seconds, r.v
			p.element, p.Volts, p.States, p.Marks = ID(i), r.v[m.a]-r.v[m.b], r.x[m.x:m.x+m.nx], marks
			m.timed.Tick(p)
			r.fired = append(r.fired, Firing{r.seconds, ID(i), -1})
			acted = true
		}
		r.next = min(r.next, m.timed.Next(marks))
	}
	return acted
}

// fire lets every condition that is met have its consequence.
func (r *Run) fire() {
	p := &r.w.point
	for e, g := range r.w.trial {
		if g < 0 {
			continue
		}
		i := r.events[e]
		m := &r.members[i]
		p.Seconds, p.volts = r.seconds, r.v
		p.element, p.Volts, p.States, p.Marks = ID(i), r.v[m.a]-r.v[m.b], r.x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
		m.switching.Fire(e-m.e, p)
		r.fired = append(r.fired, Firing{r.seconds, ID(i), e - m.e})
		r.stats.Fired++
		r.recent.add(r.seconds)
		if m.timed != nil {
			r.next = min(r.next, m.timed.Next(p.Marks))
		}
	}
}

// consistent finds the volts that belong to the states, from those before or, failing that, from none, or, failing that as
// well, from those before with a search in every pass.
func (r *Run) consistent() bool {
	r.curve = math.Inf(1)
	copy(r.w.from, r.x)
	defer func() { r.w.search = false }()
	for attempt := range 3 {
		copy(r.w.restVolts, r.v)
		if attempt == 1 {
			clear(r.w.restVolts)
		}
		r.w.search = attempt == 2
		if r.newton(0, r.seconds, r.w.from, r.x, r.w.restVolts) {
			copy(r.v, r.w.restVolts)
			r.rough, r.now.seconds = false, math.NaN()
			return true
		}
		copy(r.x, r.w.from)
	}
	return false
}

// slopes finds how fast the states change at an instant.
func (r *Run) slopes(seconds float64, x, v, into []float64) {
	w := &r.w
	p := &w.point
	p.Seconds, p.volts = seconds, v
	for i := range r.members {
		m := &r.members[i]
		if m.nx == 0 {
			continue
		}
		volts := v[m.a] - v[m.b]
		if m.farads > 0 {
			into[m.x] = capacitorSiemens * (volts - x[m.x]) / m.farads
			continue
		}
		w.rates = Rates{}
		p.element, p.Volts, p.States, p.Marks = ID(i), volts, x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
		m.what.Rates(p, &w.rates)
		copy(into[m.x:m.x+m.nx], w.rates.Rate[:])
	}
}

// recent counts events that lie close together in time.
type recent struct {
	from  float64
	count int
}

func (c *recent) add(seconds float64) {
	if seconds-c.from > recentSpan {
		c.from, c.count = seconds, 0
	}
	c.count++
}

func (c *recent) full(seconds float64) bool {
	return seconds-c.from <= recentSpan && c.count > mostRecent
}
