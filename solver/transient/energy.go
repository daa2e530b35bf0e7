package transient

// This file keeps account of energy.

import "math"

// Balance is where the energy of a run came from and went, in joules since its start. Given is what sources and
// elements gave, Lost what became heat, light or work, Stored what is stored now less what was at the start, Jumped what
// is stored more, or less, because of events that change states at an instant. Given + Jumped = Lost + Stored, up to the
// errors of the steps.
type Balance struct{ Given, Lost, Stored, Jumped float64 }

// Off is by how much the balance does not hold, in joules.
func (b Balance) Off() float64 { return b.Given + b.Jumped - b.Lost - b.Stored }

type ledger struct {
	given, lost, jumped float64
	openedWith          float64
}

// Balance is that of a run started with Options.Energy.
func (r *Run) Balance() Balance {
	return Balance{r.ledger.given, r.ledger.lost, r.storedJoules() - r.ledger.openedWith, r.ledger.jumped}
}

// charge adds up a step that is about to be accepted, with the method's own weights. Its stages are solved a little
// further for that: what is good enough for states may be a large share of a small current.
func (r *Run) charge(length float64) {
	if !r.account {
		return
	}
	method := r.table()
	last := method.rows[len(method.rows)-1]
	hg, curve, newtons := length*method.gamma, r.curve, r.stats.Newtons
	for s, b := range last {
		if b == 0 {
			continue
		}
		x, v, from := r.w.rest, r.w.restVolts, r.w.from
		copy(x, r.w.xs[s])
		copy(v, r.w.vs[s])
		for i, k := range r.w.ks[s] {
			from[i] = x[i] - hg*k
		}
		if r.curve = math.Inf(1); !r.newton(hg, r.w.times[s], from, x, v) {
			copy(x, r.w.xs[s])
			copy(v, r.w.vs[s])
		}
		lost, given, _ := r.power(r.w.times[s], x, v)
		r.ledger.lost += length * b * lost
		r.ledger.given += length * b * given
	}
	r.curve, r.stats.Newtons = curve, newtons
}

// power adds up all resistors, sources and elements.
func (r *Run) power(seconds float64, x, v []float64) (lost, given, stored float64) {
	for i, at := range r.folding.keep {
		p := r.folding.pairs[at]
		volts := v[r.leftOf(p.a)] - v[r.leftOf(p.b)]
		lost += r.lin.keep[i] * volts * volts
	}
	for _, e := range r.lin.edges {
		if e.source {
			g := siemens(e.ohms)
			volts := v[r.leftOf(r.unknown[e.b])] - v[r.leftOf(r.unknown[e.a])]
			lost += g * e.volts * (e.volts - 2*volts)
			given += g * e.volts * (e.volts - volts)
		}
	}
	p := &r.w.point
	p.Seconds, p.volts = seconds, v
	for i := range r.members {
		m := &r.members[i]
		volts := v[m.a] - v[m.b]
		lost += leakSiemens * volts * volts
		if m.farads > 0 {
			stored += m.farads * x[m.x] * x[m.x] / 2
			continue
		}
		if m.powered == nil {
			continue
		}
		p.element, p.Volts, p.States, p.Marks = ID(i), volts, x[m.x:m.x+m.nx], r.d[m.d:m.d+m.nd]
		l, g, s := m.powered.Power(p)
		lost, given, stored = lost+l, given+g, stored+s
	}
	return lost, given, stored
}

func (r *Run) storedJoules() float64 {
	if !r.account {
		return 0
	}
	_, _, stored := r.power(r.seconds, r.x, r.v)
	return stored
}
