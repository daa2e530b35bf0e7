package solver

// This file turns a few resistances quickly: after one preparation every new
// setting of a linear network costs one small system and one pass over the nodes
// (Sherman, Morrison and Woodbury; Golub and Van Loan, Matrix Computations,
// section 2.1.4).

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// smallestGap is how near to singular the small system may be. A resistance that
// is nearly opened and was the only way into a part of the network makes it so,
// and the result would lose its digits; the network is then solved afresh.
const smallestGap = 1e-7

// firstOhms replaces 0 and +Inf while a dial is prepared, so that the branch has
// its place in the matrix and the parts at its ends hang together.
const firstOhms = 1

// Dial is one or more branches whose resistance is to be changed again and again
// while everything else stays. It is a snapshot: later changes of the network do
// not reach it. A Dial must not be used from several goroutines at once.
type Dial struct {
	net      *Network // own copy
	branches []Branch
	linear   bool
	base     Solution    // of net as it was prepared
	drop     []float64   // per dial branch: volts that drive its current at base, EMF included
	siemens  []float64   // per dial branch, at base
	columns  [][]float64 // per dial branch: volts at each node for 1 A put in at its first end and out at its second
	flows    [][]float64 // per dial branch: amps in each branch for the same
	cross    []float64   // [i*k+j]: drop of branch i in column j, in ohms
	system   *mat.Dense
	carried  *mat.Dense // one column: extra amps through each dial branch
	order    []int
	room     []float64
	roomInts []int
	spare    Solution
}

// Dial prepares to turn the ohms of resistors or sources. at is a solution of
// the network; a network with devices is started from it.
func (n *Network) Dial(at *Solution, branches ...Branch) (*Dial, error) {
	k := len(branches)
	if k == 0 {
		panic("solver: a dial without branches")
	}
	d := &Dial{net: n.Clone(), branches: append([]Branch(nil), branches...)}
	for i, b := range branches {
		if n.kinds[b] != isResistor && n.kinds[b] != isSource {
			panic(fmt.Sprintf("solver: branch %d has no ohms to turn", b))
		}
		for _, c := range branches[:i] {
			if b == c {
				panic(fmt.Sprintf("solver: branch %d is twice on a dial", b))
			}
		}
	}
	if at.startOf(n) != nil {
		d.base.of, d.base.volts = d.net, append([]float64(nil), at.volts...)
	}
	d.linear = true
	for _, kind := range n.kinds {
		d.linear = d.linear && kind != isDevice
	}
	if d.linear {
		for _, b := range branches {
			if o := d.net.ohms[b]; o == 0 || math.IsInf(o, 1) {
				d.net.SetOhms(b, firstOhms)
			}
		}
	}
	if err := d.net.Solve(&d.base); err != nil {
		return nil, err
	}
	if d.linear {
		d.prepare()
	}
	return d, nil
}

// prepare fills the columns.
func (d *Dial) prepare() {
	n, k := d.net, len(d.branches)
	p, w := n.plan, n.work
	d.cross = make([]float64, k*k)
	d.system = mat.NewDense(k, k, nil)
	d.carried = mat.NewDense(k, 1, nil)
	d.order, d.room, d.roomInts = make([]int, k), make([]float64, 4*k), make([]int, k)
	for _, b := range d.branches {
		d.drop = append(d.drop, d.base.Drop(b)+n.values[b])
		d.siemens = append(d.siemens, n.siemens[b])
		a, z := p.unknown[n.ends[b][0]], p.unknown[n.ends[b][1]]
		clear(w.x)
		w.factor.Column(p.sparseNode(a), p.sparseNode(z), w.x[:p.count])
		column := make([]float64, n.nodes)
		for v, u := range p.unknown {
			column[v] = w.x[u]
		}
		d.columns = append(d.columns, column)
		d.flows = append(d.flows, d.flow(b, column))
	}
	for i, b := range d.branches {
		for j, column := range d.columns {
			d.cross[i*k+j] = column[n.ends[b][0]] - column[n.ends[b][1]]
		}
	}
}

// flow returns the amps in each branch when the nodes lie at volts and 1 A is put
// in at the first end of b and out at its second.
func (d *Dial) flow(b Branch, volts []float64) []float64 {
	n, w := d.net, d.net.work
	amps := make([]float64, len(n.kinds))
	clear(w.net)
	for c, ends := range n.ends {
		amps[c] = n.siemens[c] * (volts[ends[0]] - volts[ends[1]])
		w.net[ends[0]] += amps[c]
		w.net[ends[1]] -= amps[c]
	}
	w.net[n.ends[b][0]]--
	w.net[n.ends[b][1]]++
	w.amps = resized(w.amps, len(n.kinds))
	n.foldCurrents()
	for _, j := range n.plan.joins {
		amps[j.branch] = w.amps[j.branch]
	}
	return amps
}

// Turn solves the network with the given ohms, one per branch of the dial, for
// all nodes. It does not allocate in a network without devices, unless it has to
// solve afresh: where a branch that alone feeds a part is nearly opened. With
// devices it iterates from what into holds, or from the solution the dial was
// prepared from. On error into stays as it was.
func (d *Dial) Turn(ohms []float64, into *Solution) error {
	if err := d.check(ohms); err != nil {
		return err
	}
	if !d.linear || !d.solveSmall(ohms) {
		return d.afresh(ohms, into)
	}
	into.volts = resized(into.volts, d.net.nodes)
	y := d.carried.RawMatrix().Data
	addScaled(into.volts, d.base.volts, -y[0], d.columns[0])
	for k, column := range d.columns[1:] {
		addScaled(into.volts, into.volts, -y[k+1], column)
	}
	into.of, into.islands, into.turned = d.net, d.base.islands, d
	into.carried = append(append(into.carried[:0], y...), ohms...)
	into.Iterations, into.ResidualAmps = 0, d.base.ResidualAmps
	return nil
}

// Probe is Turn for a few nodes: volts gets their potentials. In a network
// without devices its cost does not depend on the size of the network.
func (d *Dial) Probe(ohms []float64, nodes []Node, volts []float64) error {
	if err := d.check(ohms); err != nil {
		return err
	}
	if !d.linear || !d.solveSmall(ohms) {
		if err := d.afresh(ohms, &d.spare); err != nil {
			return err
		}
		for i, v := range nodes {
			volts[i] = d.spare.volts[v]
		}
		return nil
	}
	y := d.carried.RawMatrix().Data
	for i, v := range nodes {
		sum := d.base.volts[v]
		for k, column := range d.columns {
			sum -= y[k] * column[v]
		}
		volts[i] = sum
	}
	return nil
}

// check finds ohms that cannot be solved with.
func (d *Dial) check(ohms []float64) error {
	if len(ohms) != len(d.branches) {
		panic(fmt.Sprintf("solver: %d ohms for a dial of %d branches", len(ohms), len(d.branches)))
	}
	for i, o := range ohms {
		if !solvableOhms(o) {
			return &ValueError{Branch: d.branches[i], Quantity: "ohms", Value: o}
		}
	}
	return nil
}

// solveSmall finds the extra amps y that the dial's branches carry. With M the
// cross resistances, w the drops at base and D the changes of conductance, y = D
// (w - M y). Each row is divided by 1 + |D|M, so that the size of the inverse tells
// how many digits are lost; a joined branch (D without bound) is then an
// ordinary row M y = w. It reports whether the result can be relied on.
func (d *Dial) solveSmall(ohms []float64) bool {
	k := len(ohms)
	for i, o := range ohms {
		more, one, scale := 1.0, 0.0, d.cross[i*k+i]
		if o > 0 {
			more, one = 1/o-d.siemens[i], 1
			scale = 1 + math.Abs(more)*d.cross[i*k+i]
		}
		if !(scale > 0) {
			return false
		}
		for j := range k {
			d.system.Set(i, j, more*d.cross[i*k+j]/scale)
		}
		d.system.Set(i, i, (one+more*d.cross[i*k+i])/scale)
		d.carried.Set(i, 0, more*d.drop[i]/scale)
	}
	if k == 1 {
		gap := d.system.At(0, 0)
		d.carried.Set(0, 0, d.carried.At(0, 0)/gap)
		return gap >= smallestGap
	}
	return d.eliminate()
}

// eliminate solves the small system by LU, in place. It calls what mat.LU calls,
// with room of its own, because mat.LU allocates.
func (d *Dial) eliminate() bool {
	a := d.system.RawMatrix()
	norm := lapack64.Lange(lapack.MaxColumnSum, a, d.room)
	if !lapack64.Getrf(a, d.order) {
		return false
	}
	// What counts is how small the inverse makes 1, not the condition: rows that
	// have all lost as many digits make a well conditioned system.
	rcond := lapack64.Gecon(lapack.MaxColumnSum, a, norm, d.room, d.roomInts)
	if !(rcond*norm >= smallestGap) {
		return false
	}
	lapack64.Getrs(blas.NoTrans, a, d.carried.RawMatrix(), d.order)
	return true
}

// afresh solves the dial's own copy of the network with the given ohms.
func (d *Dial) afresh(ohms []float64, into *Solution) error {
	for i, b := range d.branches {
		d.net.SetOhms(b, ohms[i])
	}
	if into.startOf(d.net) == nil && !d.linear {
		fresh := Solution{of: d.net, volts: append([]float64(nil), d.base.volts...)}
		if err := d.net.Solve(&fresh); err != nil {
			return err
		}
		*into = fresh
		return nil
	}
	return d.net.Solve(into)
}

// amps is the current of a branch in a solution that Turn made: carried holds
// the extra amps y of the dial's branches and then their ohms.
func (d *Dial) amps(b Branch, carried []float64) float64 {
	k := len(d.branches)
	sum := d.base.amps[b]
	for i, turned := range d.branches {
		if turned == b {
			// With g siemens before and h now, y = (h - g) times the drop now.
			g, h := d.siemens[i], 1/carried[k+i]
			switch {
			case math.IsInf(h, 1):
				return carried[i]
			case math.Abs(h-g) > g/2:
				return carried[i] * (h / (h - g))
			}
			sum += carried[i]
		}
		sum -= carried[i] * d.flows[i][b]
	}
	return sum
}

// addScaled sets to = from + c x.
func addScaled(to, from []float64, c float64, x []float64) {
	from, x = from[:len(to)], x[:len(to)]
	for i := range to {
		to[i] = from[i] + c*x[i]
	}
}
