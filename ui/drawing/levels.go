package drawing

// This file decides what is above what: each column runs from the higher to the lower potential. No volts are worked out
// here. The potentials are those of a net of made-up resistances that all have the same few values; they serve for the order only.

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Made-up resistances: what matters is only that loads are large, wires small.
const (
	loadOhms, partOhms, wireOhms, joinOhms = 1.0, 0.02, 0.01, 0.001
	feedPinOhms, otherPinOhms              = 0.5, 3.0
	leak                                   = 1e-4
)

func (it item) ohms() float64 {
	switch {
	case it.wire != nil:
		return wireOhms
	case it.symbol == nil:
		return joinOhms
	}
	switch it.symbol.shape {
	case fuse, fusibleLink, contact, cavity, diode:
		return partOhms
	}
	return loadOhms
}

func (e *end) ohms() float64 {
	if e.hub.kind != module || e.pin == nil {
		return 0
	}
	if e.feeds() || e.grounds() {
		return feedPinOhms
	}
	return otherPinOhms
}

// feeds and grounds tell the supply and ground pins of a box.
func (e *end) feeds() bool {
	p := e.hub.part
	if p != nil && p.Module != nil {
		return slices.Contains(p.Module.Supply, e.pin.Pin)
	}
	return p != nil && p.Kind.Name == "sensor" && e.pin == p.Terminals[0]
}

func (e *end) grounds() bool {
	p := e.hub.part
	if p != nil && p.Module != nil {
		return slices.Contains(p.Module.Ground, e.pin.Pin)
	}
	return p != nil && p.Kind.Name == "sensor" && e.pin == p.Terminals[len(p.Terminals)-1]
}

// millionths is the scale of levels.
const millionths = 1_000_000

// level gives every hub its potential.
func (n *net) level() {
	count := len(n.hubs)
	for i, h := range n.hubs {
		h.id = i
	}
	sums := mat.NewSymDense(count, nil)
	right := mat.NewVecDense(count, nil)
	add := func(i, j int, v float64) { sums.SetSym(i, j, sums.At(i, j)+v) }
	hold := func(h *hub, level float64) {
		const firmly = 1e6
		if h != nil {
			add(h.id, h.id, firmly)
			right.SetVec(h.id, right.AtVec(h.id)+firmly*level)
		}
	}
	for i := range n.hubs {
		add(i, i, leak)
		right.SetVec(i, 0.5*leak)
	}
	for _, c := range n.chains {
		if c == n.source || c.top.hub == c.bottom.hub {
			continue
		}
		ohms := joinOhms + c.top.ohms() + c.bottom.ohms()
		for _, it := range c.items {
			ohms += it.ohms()
		}
		a, b := c.top.hub.id, c.bottom.hub.id
		add(a, a, 1/ohms)
		add(b, b, 1/ohms)
		add(a, b, -1/ohms)
	}
	hold(n.rail, 1)
	hold(n.frame, 0)
	if n.source != nil && n.source.bottom.hub != n.rail {
		hold(n.source.bottom.hub, 0)
	}
	n.solveLevels(sums, right)
}

func (n *net) solveLevels(sums *mat.SymDense, right *mat.VecDense) {
	var factor mat.Cholesky
	var levels mat.VecDense
	if len(n.hubs) == 0 || !factor.Factorize(sums) || factor.SolveVecTo(&levels, right) != nil {
		return
	}
	for i, h := range n.hubs {
		h.level = int(math.Round(levels.AtVec(i) * millionths))
	}
}

// orient turns every chain so that current runs down.
func (n *net) orient() {
	n.findSignals()
	for _, c := range n.chains {
		if !c.fixed && n.upsideDown(c) {
			c.flip()
		}
	}
	n.addBends()
	n.breakCycles()
}

// upsideDown reports whether a chain has to be turned.
func (n *net) upsideDown(c *chain) bool {
	a, b := c.top, c.bottom
	if ra, rb := n.storey(a.hub), n.storey(b.hub); ra != rb {
		return ra > rb
	}
	if ra, rb := a.hub.deck(), b.hub.deck(); ra != rb && ra > 0 && rb > 0 {
		return ra > rb
	}
	if a.hub.kind == open || b.hub.kind == open { // nothing hangs there: below
		return a.hub.kind == open && b.hub.kind != open
	}
	if ta, tb := a.takes(), b.takes(); ta != tb { // what feeds a box is above it, however many loads hang on it
		return ta
	}
	return a.hub.level < b.hub.level
}

// takes reports whether current flows into a box here: by a supply pin or a wake pin, from a splice.
func (e *end) takes() bool {
	p, far := e.hub.part, e.other().hub
	return e.hub.kind == module && p.Module != nil && e.pin != nil && far.kind == junction && !far.signal &&
		(slices.Contains(p.Module.Supply, e.pin.Pin) || slices.Contains(p.Module.Wake, e.pin.Pin))
}

// storey puts the rail above and metal below everything else.
func (n *net) storey(h *hub) int {
	switch {
	case h == n.rail:
		return 0
	case h.kind == frame:
		return 4
	case n.source != nil && h == n.source.bottom.hub:
		return 3
	case h.kind == plate:
		return 2
	}
	return 1
}

// deck orders what belongs to boxes: trunks above them, boxes, trunks below them, satellites, what brings their grounds
// together. Zero: none of these.
func (h *hub) deck() int {
	switch {
	case h.kind == module && !h.satellite:
		return 2
	case h.kind == module:
		return 4
	case h.signal && h.gathers():
		return 5
	case h.signal && h.below():
		return 3
	case h.signal:
		return 1
	}
	return 0
}

// gathers reports whether a splice brings the grounds of several satellites together: below them it is in the way of none of
// their other wires.
func (h *hub) gathers() bool {
	grounds := 0
	for _, e := range h.ends {
		other := e.other()
		if other.pin == nil || !other.hub.satellite {
			continue
		}
		if !other.grounds() {
			return false
		}
		grounds++
	}
	return grounds > 1
}

// below reports whether a trunk that joins signal pins lies below its boxes: where satellites hang on it, or where fewer
// wires come to the boxes from below.
func (h *hub) below() bool {
	feeds, grounds := 0, 0
	for _, e := range h.ends {
		box := e.other().hub
		if box.satellite {
			return true
		}
		if box.kind != module {
			continue
		}
		for _, pin := range box.ends {
			if pin.pin == nil || pin.other().hub.kind == open {
				continue
			}
			if pin.grounds() {
				grounds++
			} else if !pin.other().hub.signal {
				feeds++
			}
		}
	}
	return h.paired && grounds < feeds
}
