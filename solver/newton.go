package solver

// This file holds Newton's iteration for networks with nonlinear devices.
//
// It works on mismatches: each pass sums the current that is missing at every
// unknown, edge by edge, and solves for the change of potential that removes it.
// The last passes thereby refine the linear solution too.

import "math"

// When an iteration has ended: volts by which nodes and devices still move, and
// amps missing at a node.
const (
	stillVolts = 1e-9
	stillAmps  = 1e-9
)

// What bounds a plain iteration: passes, and passes with a matrix that belongs to
// an unstable state, from which it seldom finds back.
const (
	newtonPasses   = 40
	unstablePasses = 4
)

// How many passes in a row must have steps that do not shrink, and how small
// these must be, for an iteration to be limited by rounding.
const (
	stalledPasses = 3
	stalledVolts  = 1e-2
)

// solveNonlinear leaves an accepted operating point in x. start has the
// potentials of nodes to begin from, nil for everything off.
func (n *Network) solveNonlinear(start []float64) (int, error) {
	w := n.work
	clear(w.falling)
	clear(w.cap)
	n.begin(start)
	used, ok, err := n.newton(newtonPasses, stillVolts)
	if err != nil {
		return 0, err
	}
	if ok && w.factor.NegativePivots() == 0 && n.onlyPoint() {
		return used, nil
	}
	return n.settle(start, used)
}

// onlyPoint tells whether the point reached is the only one on the way from the
// start, so that there is no choice to be made: with every device of falling
// current at the steepest fall it has on its way, the network must still be
// stable. This errs to the safe side, on which the network is let settle.
func (n *Network) onlyPoint() bool {
	const samples = 16
	p, w := n.plan, n.work
	far := false
	for d, falls := range w.falling {
		move := w.at[d] - w.held[d]
		if !falls || math.Abs(move) <= stepVolts {
			continue
		}
		far = true
		e := p.linear + d
		for k := range samples {
			_, g := n.laws[p.branch[e]].At(w.held[d] + move*float64(k)/samples)
			w.siemens[e] = min(w.siemens[e], g+LeakSiemens)
		}
	}
	if far {
		w.factor.Refactor(w.siemens)
	}
	return !far || w.factor.NegativePivots() == 0
}

// wildVolts are no state to start from: a current source into a leak made them.
const wildVolts = 1e6

// begin sets unknowns, devices and their capacitors to the start. Floating parts begin at 0 V,
// where their held node is to stay.
func (n *Network) begin(start []float64) {
	p, w := n.plan, n.work
	clear(w.x)
	at := func(v Node) float64 {
		if int(v) < len(start) && math.Abs(start[v]) < wildVolts {
			return start[v]
		}
		return 0
	}
	for u, v := range p.nodeOf {
		if len(n.islands.of) == 0 || n.islands.of[u] == 0 {
			w.x[u] = at(v)
		}
	}
	for d, b := range p.branch[p.linear:] {
		w.at[d] = at(n.ends[b][0]) - at(n.ends[b][1])
	}
	copy(w.held, w.at)
}

// newton iterates from x and at until nothing moves by more than volts. It
// reports how many linear solutions it took and whether it converged. The factor
// then holds the matrix of the last pass.
func (n *Network) newton(limit int, volts float64) (used int, ok bool, err error) {
	p, w := n.plan, n.work
	moved := math.Inf(1)
	unstable, stalled := 0, 0
	stiff := stiffest(w.siemens[:p.linear])
	for {
		lag, err := n.mismatch(used > 0)
		if err != nil {
			return used, false, err
		}
		missing, top := 0.0, w.reach
		for u, r := range w.dx[:p.count] {
			missing = max(missing, math.Abs(r))
			top = max(top, math.Abs(w.x[u]))
		}
		floor := 8 * epsilon * max(stiff, w.stiffest) * top
		if max(lag, moved) <= volts+1e-12*top && missing <= stillAmps*(volts/stillVolts)+floor {
			return used, true, nil
		}
		// A part that hangs on a leak alone is tossed about by the rounding of the
		// currents in it. Where steps have ceased to shrink it is as good as it gets.
		if stalled == stalledPasses && missing <= stillAmps+floor {
			return used, true, nil
		}
		if w.factor.NegativePivots() > 0 && used > 0 {
			unstable++
		}
		if used == limit || unstable == unstablePasses || math.IsNaN(missing) || top > 1e20 {
			return used, false, nil
		}
		w.factor.Refactor(w.siemens)
		w.factor.Solve(w.dx[:p.count])
		used++
		last := moved
		moved = 0
		for u, d := range w.dx[:p.count] {
			w.x[u] += d
			moved = max(moved, math.Abs(d))
		}
		if stalled++; moved > stalledVolts || moved < last/4 {
			stalled = 0
		}
	}
}

// mismatch fills dx with the current missing at each unknown and the edges'
// conductances with the slopes. Each device follows its potentials as far as its
// law allows (advance), and beyond that along its tangent; lag is the most volts
// by which one was held back.
func (n *Network) mismatch(advance bool) (lag float64, err error) {
	p, w := n.plan, n.work
	x, r := w.x, w.dx
	copy(r, w.inject)
	for e, g := range w.siemens[:p.linear] {
		a, b := p.a[e], p.b[e]
		i := g * (x[a] - x[b] + w.emf[e])
		r[a] -= i
		r[b] += i
	}
	w.stiffest = 0
	for d := range w.at {
		e := p.linear + d
		a, b := p.a[e], p.b[e]
		branch := p.branch[e]
		volts := x[a] - x[b] + w.emf[e]
		if advance {
			w.at[d] = n.laws[branch].Limit(w.at[d], volts)
		}
		beyond := volts - w.at[d]
		lag = max(lag, math.Abs(beyond))
		i, g := n.laws[branch].At(w.at[d])
		w.stiffest = max(w.stiffest, g)
		if math.IsNaN(i+g) || math.IsInf(i+g, 0) {
			return 0, &ValueError{Branch: branch, Quantity: "law", Value: i}
		}
		if g < 0 {
			w.falling[d] = true
			w.steepest = min(w.steepest, g)
		}
		i += g*beyond + LeakSiemens*volts + w.cap[d]*(volts-w.held[d])
		w.siemens[e] = g + LeakSiemens + w.cap[d]
		r[a] -= i
		r[b] += i
	}
	return lag, nil
}
