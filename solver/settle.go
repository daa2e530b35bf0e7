package solver

// This file lets a network come to rest in time, where a plain iteration found
// no stable operating point.
//
// A device whose current falls as its voltage rises can have several operating
// points. Which of them a real network takes is decided by its capacitors: they
// hold the voltage it had, and it moves on from there. So a capacitor is put
// across each such device and the network is stepped by backward Euler from the
// given start. Time has no unit: only C/dt, a conductance, enters. The capacitors
// are all but equal: each differs a little from its neighbours, so that no
// symmetry can keep the network on the ridge between two valleys.

import "math"

const (
	settleSteps   = 2000
	settlePasses  = 60   // Newton passes a step may take
	settleVolts   = 1e-4 // how well a step is solved
	stepVolts     = 0.25 // a step as small as this cannot jump to another branch
	nearRestVolts = 0.02 // a step as small as this lets a plain iteration be tried
	slowestStep   = 1e9  // siemens; a step held by more than this does not move
	longestStep   = 1e-9 // siemens
)

// settle steps the network from start until it rests at a stable operating point.
func (n *Network) settle(start []float64, used int) (int, error) {
	w := n.work
	n.begin(start)
	all := true
	for _, f := range w.falling {
		all = all && !f
	}
	w.steepest = 0
	if _, err := n.mismatch(false); err != nil {
		return used, err
	}
	hold := max(0.01, -2*w.steepest)
	wait := 0
	for range settleSteps {
		copy(w.back, w.x)
		moved, passes, err := n.step(hold, all)
		used += passes
		if err != nil {
			return used, err
		}
		// With a hold above every falling slope on the way the step has one answer
		// only, however long it is.
		if !(moved <= stepVolts || hold >= -1.5*w.steepest && !math.IsInf(moved, 1)) {
			if hold *= 3; hold > slowestStep {
				break
			}
			n.returnToHeld()
			continue
		}
		n.keepHeld()
		if wait--; moved <= nearRestVolts && wait <= 0 {
			passes, ok, err := n.rest()
			used += passes
			if ok || err != nil {
				return used, err
			}
			wait = 8
		}
		hold = max(hold/2, longestStep)
	}
	return used, n.restless(used)
}

// restless makes the error for a network that was still moving.
func (n *Network) restless(used int) error {
	w := n.work
	clear(w.cap)
	if _, err := n.mismatch(false); err != nil {
		return err
	}
	e := &NoOperatingPointError{Why: Restless, Iterations: used}
	for u, r := range w.dx[:n.plan.count] {
		if !(math.Abs(r) <= e.ResidualAmps) {
			e.ResidualAmps, e.Node = math.Abs(r), n.plan.nodeOf[u]
		}
	}
	return e
}

// step takes one step with capacitors of the given conductance across the
// devices with falling current (or all) and returns how far the capacitors
// moved, +Inf if the step must be refused. steepest is then the most negative
// slope on the way.
func (n *Network) step(hold float64, all bool) (moved float64, passes int, err error) {
	p, w := n.plan, n.work
	for d := range w.cap {
		w.cap[d] = 0
		if all || w.falling[d] {
			w.cap[d] = hold * (1 + float64(d%17)/100)
		}
	}
	w.steepest = 0
	passes, ok, err := n.newton(settlePasses, settleVolts)
	if err != nil || !ok || w.factor.NegativePivots() > 0 {
		return math.Inf(1), passes, err
	}
	for d, c := range w.cap {
		if c == 0 {
			continue
		}
		move := w.at[d] - w.held[d]
		moved = max(moved, math.Abs(move))
		for k := 1.0; k < 8 && math.Abs(move) > stepVolts; k++ {
			_, g := n.laws[p.branch[p.linear+d]].At(w.held[d] + move*k/8)
			w.steepest = min(w.steepest, g)
		}
	}
	return moved, passes, nil
}

// keepHeld makes the point reached the one the next step starts from.
func (n *Network) keepHeld() { copy(n.work.held, n.work.at) }

// returnToHeld goes back to the point the last step started from.
func (n *Network) returnToHeld() {
	copy(n.work.x, n.work.back)
	copy(n.work.at, n.work.held)
}

// rest tries to end at the operating point next to the one reached in time. It
// goes back if there is none.
func (n *Network) rest() (passes int, ok bool, err error) {
	w := n.work
	clear(w.cap)
	copy(w.back, w.x)
	passes, ok, err = n.newton(settlePasses, stillVolts)
	if err != nil {
		return passes, false, err
	}
	ok = ok && w.factor.NegativePivots() == 0
	for d := range w.held {
		if w.falling[d] {
			ok = ok && math.Abs(w.at[d]-w.held[d]) <= stepVolts
		}
	}
	if !ok {
		n.returnToHeld()
	}
	return passes, ok, nil
}
