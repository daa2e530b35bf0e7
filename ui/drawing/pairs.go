package drawing

// This file finds the two wires of a bus, so that they are laid side by side and never part.

import (
	"slices"

	"underload/circuit"
)

// pairUp joins twin chains to one, beginning at bus pins and walking outward over splices.
func (n *net) pairUp(trunks bool) {
	for _, h := range slices.Clone(n.hubs) {
		if high, low := h.busPins(); high != nil && low != nil && !high.chain.paired && !low.chain.paired {
			n.twin(high, low)
		}
	}
	if trunks {
		n.contract()
	}
}

// busesInOrder reports whether the places of every trunk follow each other along it.
func (n *net) busesInOrder() bool {
	for _, h := range n.hubs {
		up, down := false, false
		for _, a := range h.ends {
			for _, b := range h.ends {
				if a.place < b.place && a.chain.slot >= b.chain.slot {
					down = true
				}
				if a.place < b.place && a.chain.slot <= b.chain.slot {
					up = true
				}
			}
		}
		if up && down {
			return false
		}
	}
	return true
}

// busPins gives the ends on the two bus pins of a box.
func (h *hub) busPins() (high, low *end) {
	pins := h.busNames()
	if h.kind != module || len(pins) != 2 {
		return nil, nil
	}
	for _, e := range h.ends {
		switch {
		case e.pin != nil && e.pin.Pin == pins[0]:
			high = e
		case e.pin != nil && e.pin.Pin == pins[1]:
			low = e
		}
	}
	return high, low
}

func (h *hub) busNames() []string {
	if h.part == nil {
		return nil
	}
	if h.part.Kind.Name == "terminator" {
		return []string{h.part.Terminals[0].Pin, h.part.Terminals[1].Pin}
	}
	if h.part.Module != nil {
		return h.part.Module.Bus
	}
	return nil
}

// twin makes one chain of two that start at high and low, and goes on where both end on splices.
func (n *net) twin(high, low *end) {
	oh, ol := high.other(), low.other()
	switch {
	case high.chain == low.chain || !alike(high, low):
		return
	case oh.hub == ol.hub && oh.hub.kind == module:
		n.merge(high, low)
	case oh.hub.kind == junction && ol.hub.kind == junction && oh.hub != ol.hub && !oh.hub.paired && !ol.hub.paired:
		n.merge(high, low)
		n.mergeHubs(oh.hub, ol.hub)
		n.spread(oh.hub)
	case oh.hub.kind == junction && oh.hub.paired && oh.hub == ol.hub && oh.lane == 1 && ol.lane == 2:
		n.merge(high, low)
		oh.lane = 0
	}
}

// spread looks for further twins at a pair of splices.
func (n *net) spread(h *hub) {
	for again := true; again; {
		again = false
		for _, a := range slices.Clone(h.ends) {
			for _, b := range slices.Clone(h.ends) {
				if a.lane != 1 || b.lane != 2 || !alike(a, b) || !matching(a.other(), b.other()) {
					continue
				}
				before := len(n.chains)
				oa, ob := a.other(), b.other()
				n.merge(a, b)
				a.lane = 0
				if oa.hub != ob.hub {
					n.mergeHubs(oa.hub, ob.hub)
					n.spread(oa.hub)
				}
				again = len(n.chains) < before
				break
			}
			if again {
				break
			}
		}
	}
}

// matching reports whether two far ends are the two bus pins of one box, or two splices that are no pair yet.
func matching(a, b *end) bool {
	if a.hub == b.hub {
		pins := a.hub.busNames()
		return len(pins) == 2 && a.pin != nil && b.pin != nil && a.pin.Pin == pins[0] && b.pin.Pin == pins[1]
	}
	plain := func(h *hub) bool { return h.kind == junction && !h.paired && h.splice != nil }
	return plain(a.hub) && plain(b.hub) && a.wire() != nil && b.wire() != nil && a.wire().AreaMM2 == b.wire().AreaMM2
}

// alike reports whether two columns have the same things in the same order: wires and cavities of one connector.
func alike(a, b *end) bool {
	from, to := a.ordered(), b.ordered()
	if len(from) != len(to) {
		return false
	}
	for i := range from {
		s, t := from[i].symbol, to[i].symbol
		switch {
		case (from[i].wire == nil) != (to[i].wire == nil), (s == nil) != (t == nil):
			return false
		case s != nil && (s.shape != cavity || t.shape != cavity || s.cavity.Owner != t.cavity.Owner):
			return false
		}
	}
	return true
}

// ordered gives the items of a chain as seen from an end.
func (e *end) ordered() []item {
	items := slices.Clone(e.chain.items)
	if !e.top {
		slices.Reverse(items)
	}
	return items
}

// merge lays the chain at low beside the one at high.
func (n *net) merge(high, low *end) {
	if high.top != low.top {
		low.chain.flip()
	}
	a, b := high.chain, low.chain
	for i := range a.items {
		a.items[i].wire2, a.items[i].splice2 = b.items[i].wire, b.items[i].splice
		if s := a.items[i].symbol; s != nil {
			s.cavity2 = b.items[i].symbol.cavity
		}
	}
	a.paired = true
	a.top.pin2, a.bottom.pin2 = b.top.pin, b.bottom.pin
	for _, e := range []*end{b.top, b.bottom} {
		e.hub.ends = slices.DeleteFunc(e.hub.ends, func(other *end) bool { return other == e })
	}
	n.chains = slices.DeleteFunc(n.chains, func(c *chain) bool { return c == b })
}

// mergeHubs makes one trunk of two splices.
func (n *net) mergeHubs(high, low *hub) {
	high.paired = true
	high.places = []place{{high: high.splice, low: low.splice}}
	for _, e := range high.ends {
		if !e.chain.paired {
			e.lane = 1
		}
	}
	for _, e := range low.ends {
		if !e.chain.paired {
			e.lane = 2
		}
		e.hub = high
		high.ends = append(high.ends, e)
	}
	low.ends = nil
	n.hubs = slices.DeleteFunc(n.hubs, func(h *hub) bool { return h == low })
}

// contract makes one trunk of pairs of splices that only wires part, as long as they lie in a line.
func (n *net) contract() {
	for _, c := range slices.Clone(n.chains) {
		a, b := c.top, c.bottom
		if !c.paired || len(c.items) != 1 || !a.hub.paired || !b.hub.paired || a.hub == b.hub || !a.hub.tip(a.place) || !b.hub.tip(b.place) {
			continue
		}
		if a.place == 0 && len(a.hub.places) > 1 {
			a.hub.turn()
		}
		if b.place != 0 {
			b.hub.turn()
		}
		n.lengthen(a.hub, b.hub, c)
	}
}

// tip reports whether a place is at an end of its trunk.
func (h *hub) tip(place int) bool { return place == 0 || place == len(h.places)-1 }

// turn reverses the places of a trunk.
func (h *hub) turn() {
	last := len(h.places) - 1
	turned := make([]place, 0, len(h.places))
	for i := last; i >= 0; i-- {
		p := place{high: h.places[i].high, low: h.places[i].low}
		if i > 0 {
			p.wires = h.places[i-1].wires
		}
		turned = append(turned, p)
	}
	h.places = turned
	for _, e := range h.ends {
		e.place = last - e.place
	}
}

// lengthen appends trunk b to trunk a; c, between them, becomes a piece of the trunk.
func (n *net) lengthen(a, b *hub, c *chain) {
	for _, e := range []*end{c.top, c.bottom} {
		e.hub.ends = slices.DeleteFunc(e.hub.ends, func(other *end) bool { return other == e })
	}
	n.chains = slices.DeleteFunc(n.chains, func(other *chain) bool { return other == c })
	a.places[len(a.places)-1].wires = [2]*circuit.Wire{c.items[0].wire, c.items[0].wire2}
	for _, e := range b.ends {
		e.hub, e.place = a, e.place+len(a.places)
		a.ends = append(a.ends, e)
	}
	a.places = append(a.places, b.places...)
	n.hubs = slices.DeleteFunc(n.hubs, func(h *hub) bool { return h == b })
}
