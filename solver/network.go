// Package solver finds the voltages and currents of a network of resistors,
// sources and nonlinear two-terminal devices by nodal analysis. It knows
// nothing of vehicles: a network is nodes, branches and laws.
//
// Every zero-ohm join and every ideal source merges its two nodes, with a
// known difference of potential between them, before anything is solved. Such
// branches therefore cost no digits; their currents are found afterwards from
// Kirchhoff's current law.
package solver

// This file holds the network itself: nodes, branches and their values.

import (
	"fmt"
	"math"
	"slices"
)

// Node names a node of one Network.
type Node int32

// Ground is the node whose potential is 0 V by definition.
const Ground Node = 0

// Branch names a branch of one Network.
type Branch int32

// Limits of the values a branch may have. Below MinOhms rounding alone would
// leave more than a microampere at a 12 V node: use 0, which joins the nodes.
const (
	MinOhms  = 1e-7
	MaxOhms  = 1e18
	MaxVolts = 1e9
	MaxAmps  = 1e9
)

// Law is what a nonlinear two-terminal device does. At gives the amps that
// flow from end a to end b when volts = Va - Vb, and the slope dI/dV there in
// siemens; the slope may be zero or negative. Limit gives the volts a Newton
// step that starts at from and wants to go to may reach; it must return to
// itself once the two are close.
//
// A Law must be a pure function and safe to call from several goroutines. If it
// has a method Check() error, the network asks it when it is given the law.
type Law interface {
	At(volts float64) (amps, siemens float64)
	Limit(from, to float64) float64
}

type kind uint8

const (
	isResistor kind = iota
	isSource
	isCurrent
	isDevice
)

// Network is a network of nodes and branches, with the analysis and the
// workspace of its last solution, which the next one uses again. It must not be
// used from several goroutines at once; see Clone.
type Network struct {
	origin  *Network // whose solutions it can start from
	nodes   int
	kinds   []kind
	ends    [][2]Node
	ohms    []float64
	siemens []float64 // 1/ohms; 0 for an open branch and for a join
	values  []float64 // volts of a source, amps of a current source
	laws    []Law
	invalid int // branches with a value that cannot be solved

	plan    *plan // nil: to be made again
	work    *workspace
	islands *islandSet // nil: to be made again
	shifted bool       // an ideal source changed, so offsets must be found again
}

// NewNetwork returns a network that has only the Ground node.
func NewNetwork() *Network {
	n := &Network{nodes: 1}
	n.origin = n
	return n
}

// Clone returns a copy that can be changed and solved on its own, also at the
// same time as the original. The two share the analysis of their pattern until
// one of them changes it. Solutions of either can start the other.
func (n *Network) Clone() *Network {
	c := *n
	c.kinds = slices.Clone(n.kinds)
	c.ends = slices.Clone(n.ends)
	c.ohms = slices.Clone(n.ohms)
	c.siemens = slices.Clone(n.siemens)
	c.values = slices.Clone(n.values)
	c.laws = slices.Clone(n.laws)
	c.work = nil
	return &c
}

// AddNode adds a node.
func (n *Network) AddNode() Node {
	n.nodes++
	n.plan = nil
	return Node(n.nodes - 1)
}

// Nodes counts the nodes, Ground included.
func (n *Network) Nodes() int { return n.nodes }

// Branches counts the branches.
func (n *Network) Branches() int { return len(n.kinds) }

// Ends returns the two ends of a branch: from and to, for a source minus and plus.
func (n *Network) Ends(b Branch) (Node, Node) { return n.ends[b][0], n.ends[b][1] }

// AddResistor adds a resistance between a and b. Zero ohms joins the two nodes,
// +Inf is an open branch. A value outside MinOhms..MaxOhms that is neither makes
// Solve return a *ValueError.
func (n *Network) AddResistor(a, b Node, ohms float64) Branch {
	return n.add(isResistor, a, b, ohms, 0, nil)
}

// AddSource adds an electromotive force in series with a resistance. Zero ohms
// makes it an ideal source.
func (n *Network) AddSource(minus, plus Node, volts, ohms float64) Branch {
	return n.add(isSource, minus, plus, ohms, volts, nil)
}

// AddCurrent adds an ideal current source, which drives amps through itself
// from one node to the other.
func (n *Network) AddCurrent(from, to Node, amps float64) Branch {
	return n.add(isCurrent, from, to, math.Inf(1), amps, nil)
}

// AddDevice adds a nonlinear device. A leak of LeakSiemens lies across every
// device, so that a part held only by a blocking diode has a potential.
func (n *Network) AddDevice(a, b Node, law Law) Branch {
	return n.add(isDevice, a, b, math.Inf(1), 0, law)
}

func (n *Network) add(k kind, a, b Node, ohms, value float64, law Law) Branch {
	if a < 0 || b < 0 || int(a) >= n.nodes || int(b) >= n.nodes {
		panic(fmt.Sprintf("solver: a branch from node %d to node %d in a network of %d nodes", a, b, n.nodes))
	}
	n.kinds = append(n.kinds, k)
	n.ends = append(n.ends, [2]Node{a, b})
	n.ohms = append(n.ohms, ohms)
	n.siemens = append(n.siemens, conductance(ohms))
	n.values = append(n.values, value)
	n.laws = append(n.laws, law)
	b0 := Branch(len(n.kinds) - 1)
	if n.valueError(b0) != nil {
		n.invalid++
	}
	n.plan = nil
	return b0
}

func conductance(ohms float64) float64 {
	if ohms == 0 {
		return 0
	}
	return 1 / ohms
}

// Ohms returns the resistance of a resistor or source.
func (n *Network) Ohms(b Branch) float64 { return n.ohms[b] }

// EMF returns the electromotive force of a source, in volts.
func (n *Network) EMF(b Branch) float64 { n.must(b, isSource); return n.values[b] }

// Drive returns the amps of a current source.
func (n *Network) Drive(b Branch) float64 { n.must(b, isCurrent); return n.values[b] }

// Law returns the law of a device.
func (n *Network) Law(b Branch) Law { n.must(b, isDevice); return n.laws[b] }

// SetOhms changes the resistance of a resistor or source. Going between finite
// and +Inf keeps the analysed pattern; going to or from 0 costs a new analysis at
// the next Solve.
func (n *Network) SetOhms(b Branch, ohms float64) {
	if n.kinds[b] != isResistor && n.kinds[b] != isSource {
		panic(fmt.Sprintf("solver: branch %d has no ohms", b))
	}
	was := n.ohms[b]
	if was == ohms {
		return
	}
	n.change(b, func() { n.ohms[b], n.siemens[b] = ohms, conductance(ohms) })
	if (was == 0) != (ohms == 0) {
		n.plan = nil
	}
	if math.IsInf(was, 1) != math.IsInf(ohms, 1) {
		n.islands = nil
	}
	n.carry(b)
}

// SetVolts changes the electromotive force of a source.
func (n *Network) SetVolts(b Branch, volts float64) {
	n.must(b, isSource)
	n.change(b, func() { n.values[b] = volts })
	n.redrive(n.ohms[b] == 0)
}

// SetAmps changes a current source.
func (n *Network) SetAmps(b Branch, amps float64) {
	n.must(b, isCurrent)
	n.change(b, func() { n.values[b] = amps })
	n.redrive(false)
}

// redrive has what sources drive found anew, and with shifted the offsets too.
func (n *Network) redrive(shifted bool) {
	n.shifted = n.shifted || shifted
	if n.work != nil {
		n.work.driving = false
	}
}

// SetLaw changes the law of a device.
func (n *Network) SetLaw(b Branch, law Law) {
	n.must(b, isDevice)
	n.change(b, func() { n.laws[b] = law })
}

func (n *Network) must(b Branch, k kind) {
	if n.kinds[b] != k {
		panic(fmt.Sprintf("solver: branch %d is of another kind", b))
	}
}

// change keeps the count of invalid values right over one change of value.
func (n *Network) change(b Branch, apply func()) {
	if n.valueError(b) != nil {
		n.invalid--
	}
	apply()
	if n.valueError(b) != nil {
		n.invalid++
	}
}

// valueError says what is wrong with the value of a branch, or nil.
func (n *Network) valueError(b Branch) *ValueError {
	bad := func(quantity string, value float64) *ValueError {
		return &ValueError{Branch: b, Quantity: quantity, Value: value}
	}
	switch v := n.values[b]; n.kinds[b] {
	case isSource:
		if !(math.Abs(v) <= MaxVolts) {
			return bad("volts", v)
		}
	case isCurrent:
		if !(math.Abs(v) <= MaxAmps) {
			return bad("amps", v)
		}
	case isDevice:
		if n.laws[b] == nil {
			return bad("law", math.NaN())
		}
		if law, ok := n.laws[b].(interface{ Check() error }); ok {
			if err := law.Check(); err != nil {
				return &ValueError{Branch: b, Quantity: "law", Value: math.NaN(), Cause: err}
			}
		}
	}
	if o := n.ohms[b]; !solvableOhms(o) {
		return bad("ohms", o)
	}
	return nil
}

func solvableOhms(ohms float64) bool {
	return ohms == 0 || math.IsInf(ohms, 1) || (ohms >= MinOhms && ohms <= MaxOhms)
}

// firstInvalid finds the first branch with a bad value.
func (n *Network) firstInvalid() error {
	for b := range n.kinds {
		if err := n.valueError(Branch(b)); err != nil {
			return err
		}
	}
	return nil
}
