package solver

// This file solves a network and finds the current of every branch.

import "math"

// LeakSiemens lies across every device.
const LeakSiemens = 1e-12

// epsilon is the spacing of numbers next to 1.
const epsilon = 0x1p-52

// worstAmps is the largest mismatch of current an operating point may have; it
// is only exceeded where rounding alone exceeds it.
const worstAmps = 1e-6

// Solve finds the operating point of the network and puts it into the solution.
// It starts from what into holds if that is an earlier solution of this network
// (after a fault: from the state before it), else from everything off.
//
// With no devices there is one answer. With devices the operating point is
// accepted only if the iteration converged, Kirchhoff's current law holds to a
// microampere, and the point is stable. Where a plain Newton iteration does not
// get there, the network is let settle in time from the given start.
//
// On error, one of *ValueError, *DisagreementError and *NoOperatingPointError,
// into stays as it was. While only values change, a repeated Solve does not
// allocate.
func (n *Network) Solve(into *Solution) error {
	if err := n.prepare(); err != nil {
		return err
	}
	iterations := 1
	if len(n.plan.branch) == n.plan.linear {
		n.solveLinear()
	} else {
		var err error
		if iterations, err = n.solveNonlinear(into.startOf(n)); err != nil {
			return err
		}
	}
	return n.finish(into, iterations)
}

// solveLinear leaves the potentials of a network without devices in x.
func (n *Network) solveLinear() {
	p, w := n.plan, n.work
	copy(w.x, w.inject)
	for _, e := range w.driven {
		i := w.siemens[e] * w.emf[e]
		w.x[p.a[e]] -= i
		w.x[p.b[e]] += i
	}
	w.factor.Refactor(w.siemens)
	w.factor.Solve(w.x[:p.count])
	w.x[p.count] = 0
	if !w.ranked {
		w.refine, w.ranked = n.hangsWeakly(), true
	}
	if w.refine {
		n.refineLinear()
	}
}

// refineLinear solves for what is still missing in the currents, summed edge by
// edge, where no source current is large any more.
func (n *Network) refineLinear() {
	p, w := n.plan, n.work
	n.mismatch(false) // fails in a device only
	w.factor.Solve(w.dx[:p.count])
	for u, d := range w.dx[:p.count] {
		w.x[u] += d
	}
}

// finish spreads the unknowns over nodes and branches and hands them over.
func (n *Network) finish(into *Solution, iterations int) error {
	p, w := n.plan, n.work
	w.volts = resized(w.volts, n.nodes)
	w.amps = resized(w.amps, len(n.kinds))
	for v, u := range p.unknown {
		w.volts[v] = w.x[u] + w.offset[v]
	}
	if err := n.findCurrents(); err != nil {
		return err
	}
	residual, node := n.foldCurrents()
	if !(residual <= worstAmps) && !(residual <= n.rounding()) {
		return &NoOperatingPointError{Why: NotConverged, Node: node, ResidualAmps: residual, Iterations: iterations}
	}
	into.volts, w.volts = w.volts, into.volts
	into.amps, w.amps = w.amps, into.amps
	into.of, into.islands, into.turned = n, n.islands, nil
	into.Iterations, into.ResidualAmps = iterations, residual
	return nil
}

// rounding is the mismatch of current that the spacing of numbers alone can make.
func (n *Network) rounding() float64 {
	p, w := n.plan, n.work
	volts := w.reach
	for _, x := range w.x {
		volts = max(volts, math.Abs(x))
	}
	return 8 * epsilon * max(w.stiffest, stiffest(w.siemens[:p.linear])) * volts
}

func stiffest(siemens []float64) float64 {
	most := 0.0
	for _, g := range siemens {
		most = max(most, g)
	}
	return most
}

// findCurrents fills the current of every branch but the joins, and what leaves
// every node through them.
func (n *Network) findCurrents() error {
	w := n.work
	volts, net := w.volts, w.net
	clear(net)
	for b, ends := range n.ends {
		drop := volts[ends[0]] - volts[ends[1]]
		var i float64
		switch n.kinds[b] {
		case isResistor, isSource:
			i = n.siemens[b] * (drop + n.values[b])
		case isCurrent:
			i = n.values[b]
		case isDevice:
			i, _ = n.laws[b].At(drop)
			i += LeakSiemens * drop
			if math.IsNaN(i) || math.IsInf(i, 0) {
				return &ValueError{Branch: Branch(b), Quantity: "law", Value: i}
			}
		}
		w.amps[b] = i
		net[ends[0]] += i
		net[ends[1]] -= i
	}
	return nil
}

// foldCurrents gives each join the current that its subtree needs and returns
// the largest mismatch left, and where.
func (n *Network) foldCurrents() (float64, Node) {
	p, w := n.plan, n.work
	for k := len(p.joins) - 1; k >= 0; k-- {
		j := p.joins[k]
		need := w.net[j.child]
		w.net[j.parent] += need
		w.amps[j.branch] = j.sign * need
	}
	worst, at := 0.0, Ground
	for _, root := range p.nodeOf {
		if r := math.Abs(w.net[root]); !(r <= worst) {
			worst, at = r, root
		}
	}
	return worst, at
}

// checkReturns makes sure that what current sources push into a floating part
// they also take out of it.
func (n *Network) checkReturns() error {
	p, set := n.plan, n.islands
	if len(set.groups) == 0 || len(p.drives) == 0 {
		return nil
	}
	amps := resized(n.work.returns, len(set.groups))
	n.work.returns = amps
	clear(amps)
	scale := 0.0
	for u, k := range set.of {
		if k > 0 {
			amps[k-1] += n.work.inject[u]
			scale = max(scale, math.Abs(n.work.inject[u]))
		}
	}
	for k, i := range amps {
		if math.Abs(i) > 1e-9+1e-12*scale {
			return &NoOperatingPointError{Why: NoReturn, Node: set.groups[k][0], ResidualAmps: math.Abs(i)}
		}
	}
	return nil
}
