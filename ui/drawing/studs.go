package drawing

// This file draws a ground stud more than once under its one name where that keeps lines from crossing: a second ring on the
// frame, or a ground sign of its own, right below what is grounded and above the line that is in the way.

import (
	"slices"

	"underload/circuit"
)

// lift draws studs again where the present order crosses lines on the way to the frame. It reports whether it has.
func (n *net) lift(h *heights) bool {
	changed := false
	for _, c := range slices.Clone(n.chains) {
		if over := n.inTheWay(h, c); len(over) > 0 {
			n.raise(c.bottom, over)
			changed = true
		}
	}
	for _, hub := range slices.Clone(n.hubs) {
		if stem := hub.stem(); stem != nil {
			changed = n.cutAtCrossings(h, hub, stem) || changed
		}
	}
	for _, hub := range slices.Clone(n.hubs) {
		n.dissolve(hub)
	}
	return changed
}

// lower puts ground signs back on the frame whose column is free all the way down, and forgets the lines that are no longer
// below the others.
func (n *net) lower(h *heights) bool {
	changed := false
	for _, s := range slices.Clone(n.hubs) {
		if s.kind != sign {
			continue
		}
		e := s.ends[0]
		below := len(s.over)
		s.over = slices.DeleteFunc(s.over, func(line *hub) bool { return e.chain.slot <= line.span.from || e.chain.slot >= line.span.to })
		changed = changed || len(s.over) < below
		if n.freeBelow(h, e) {
			n.toFrame(s)
			changed = true
		}
	}
	return changed
}

// rejoin makes one picture again of two of a stud that have come to stand side by side.
func (n *net) rejoin() bool {
	changed := false
	for again := true; again; {
		again = false
		for _, stems := range n.pictures() {
			for i := 1; i < len(stems) && !again; i++ {
				if a, b := stems[i-1], stems[i]; a.wiresAbove()+b.wiresAbove() <= mostAtStud && n.sideBySide(a, b) {
					n.joinPictures(a, b)
					changed, again = true, true
				}
			}
		}
	}
	return changed
}

// pictures lists the ends on the frame of each stud that is drawn more than once, from left to right.
func (n *net) pictures() [][]*end {
	if n.frame == nil {
		return nil
	}
	var all [][]*end
	at := map[*circuit.Stud]int{}
	for _, e := range n.frame.ends {
		if e.stud == nil || e.chain == n.source {
			continue
		}
		i, ok := at[e.stud]
		if !ok {
			i = len(all)
			at[e.stud] = i
			all = append(all, nil)
		}
		all[i] = append(all[i], e)
	}
	for _, ends := range all {
		slices.SortStableFunc(ends, func(a, b *end) int { return a.chain.slot - b.chain.slot })
	}
	return all
}

// sideBySide reports whether no column on the frame, or on another stud, stands between two pictures of a stud.
func (n *net) sideBySide(a, b *end) bool {
	from, to := a.chain.slot, b.chain.slot
	for _, e := range []*end{a, b} {
		if h := e.other().hub; h.stem() == e.other() {
			from, to = min(from, h.span.from), max(to, h.span.to)
		}
	}
	for _, c := range n.chains {
		low := c.bottom.hub
		if c.slot >= from && c.slot <= to && (low == n.frame && c.bottom != a && c.bottom != b || low.stem() != nil && low != a.other().hub && low != b.other().hub) {
			return false
		}
	}
	return from < to
}

// wiresAbove counts the wires on a picture of a stud.
func (e *end) wiresAbove() int {
	if h := e.other().hub; h.stem() == e.other() {
		return len(h.ends) - 1
	}
	return 1
}

// joinPictures hangs the wires of a second picture on the first.
func (n *net) joinPictures(a, b *end) {
	h := a.other().hub
	if h.stem() != a.other() {
		h = n.hub(junction, a.stud.Name)
		h.stud = a.stud
		wire := a
		n.frame.ends = slices.DeleteFunc(n.frame.ends, func(e *end) bool { return e == wire })
		n.join(&end{hub: h}, &end{hub: n.frame, stud: a.stud}, nil)
		wire.hub, wire.stud = h, nil
		h.ends = append(h.ends, wire)
	}
	wires := []*end{b}
	if from := b.other().hub; from.stem() == b.other() {
		wires = slices.DeleteFunc(slices.Clone(from.ends), func(e *end) bool { return e == b.other() })
		n.chains = slices.DeleteFunc(n.chains, func(c *chain) bool { return c == b.chain })
		n.hubs = slices.DeleteFunc(n.hubs, func(other *hub) bool { return other == from })
		if len(from.terminals) > 0 {
			h.terminals = from.terminals
		}
	}
	n.frame.ends = slices.DeleteFunc(n.frame.ends, func(e *end) bool { return e == b })
	for _, e := range wires {
		e.hub, e.stud = h, nil
		h.ends = append(h.ends, e)
	}
	stem := h.stem().chain
	stem.slot, stem.comp = h.ends[0].chain.slot, h.ends[0].chain.comp
	for _, e := range h.ends {
		if e.chain != stem {
			stem.slot = e.chain.slot
		}
	}
	h.span = span{stem.slot, stem.slot}
	for _, e := range h.ends {
		h.span.from, h.span.to = min(h.span.from, e.chain.slot), max(h.span.to, e.chain.slot)
	}
}

// toFrame takes a wire from its own sign down to the frame.
func (n *net) toFrame(s *hub) {
	e := s.ends[0]
	n.hubs = slices.DeleteFunc(n.hubs, func(other *hub) bool { return other == s })
	e.hub = n.frame
	n.frame.ends = append(n.frame.ends, e)
}

// signInTheWay finds a sign without which everything would be less deep, where it is too deep.
func (n *net) signInTheWay(h *heights, bottom int) *hub {
	if h.bottom <= bottom {
		return nil
	}
	saved := slices.Clone(h.y)
	defer func() { h.y = saved }()
	h.settle()
	at := -1
	for _, g := range h.order {
		if at < 0 || h.y[g] > h.y[at] {
			at = g
		}
	}
	for at >= 0 {
		for _, hub := range n.hubs {
			if hub.kind == sign && len(hub.over) > 0 && h.nodes[hub.node].group == at {
				return hub
			}
		}
		next := -1
		for _, s := range h.above[at] {
			if h.y[s.group]+s.d == h.y[at] {
				next = s.group
			}
		}
		at = next
	}
	return nil
}

// freeBelow reports whether nothing lies between a ground sign and the frame.
func (n *net) freeBelow(h *heights, e *end) bool {
	y := h.at(e.hub.node)
	for _, hub := range n.hubs {
		inside := e.chain.slot > hub.span.from && e.chain.slot < hub.span.to
		if hub.kind == module || hub.kind == throws {
			inside = e.chain.slot >= hub.span.from && e.chain.slot <= hub.span.to
		}
		if inside && hub.kind != frame && h.at(hub.node) > y {
			return false
		}
	}
	for _, c := range n.chains {
		if top, bottom := h.extent(c); c != e.chain && c.slot == e.chain.slot && bottom > y && top >= y {
			return false
		}
	}
	return true
}

// grounding reports whether an end is a wire's on a stud of the frame.
func (n *net) grounding(e *end) bool {
	return e.wire() != nil && !e.top && e.chain != n.source && (e.hub == n.frame && e.stud != nil || e.hub.stem() != nil)
}

// inTheWay lists the lines that a column crosses between the last thing in it and the frame.
func (n *net) inTheWay(h *heights, c *chain) []*hub {
	var over []*hub
	for _, hub := range n.hubs {
		if c.slot > hub.span.from && c.slot < hub.span.to && n.wouldLift(h, c, hub) {
			over = append(over, hub)
		}
	}
	return over
}

// wouldLift reports whether a column would rather end on a sign than cross a line.
func (n *net) wouldLift(h *heights, c *chain, line *hub) bool {
	return n.grounding(c.bottom) && line.isLine(n) && c.top.hub != line && c.bottom.hub != line && h.at(line.node) > n.lastThing(h, c) && h.at(line.node) < h.at(c.bottom.hub.node)
}

// isLine reports whether a hub is a level line between the rail and the wires of studs.
func (hub *hub) isLine(n *net) bool {
	switch hub.kind {
	case junction, bend, plate:
		return hub != n.rail && hub.stem() == nil && len(hub.ends) > 1
	}
	return false
}

// lastThing is the height of the last symbol, splice or hub above a column's lower end.
func (n *net) lastThing(h *heights, c *chain) int {
	for _, it := range slices.Backward(c.items) {
		switch {
		case it.symbol != nil:
			return h.at(it.symbol.node)
		case it.splice != nil:
			return h.at(it.node)
		}
	}
	return h.at(c.top.hub.node)
}

// raise gives a wire a ground sign of its own.
func (n *net) raise(e *end, over []*hub) {
	made := n.hub(sign, "")
	made.over = over
	from, stud := e.hub, e.stud
	if stud == nil {
		stud = from.stud
	}
	from.ends = slices.DeleteFunc(from.ends, func(other *end) bool { return other == e })
	e.hub, e.stud = made, stud
	made.ends = []*end{e}
}

// cutAtCrossings parts the wires of a stud where a foreign column passes between them.
func (n *net) cutAtCrossings(h *heights, hub *hub, stem *end) bool {
	ends := slices.DeleteFunc(slices.Clone(hub.ends), func(e *end) bool { return e == stem })
	slices.SortStableFunc(ends, func(a, b *end) int { return a.chain.slot - b.chain.slot })
	var sets [][]*end
	for i, e := range ends {
		if i == 0 || n.crossedBetween(h, hub, ends[i-1].chain.slot, e.chain.slot) {
			sets = append(sets, nil)
		}
		sets[len(sets)-1] = append(sets[len(sets)-1], e)
	}
	if len(sets) < 2 {
		return false
	}
	hub.ends = append([]*end{stem}, sets[0]...)
	for _, set := range sets[1:] {
		n.anotherStud(hub, stem, set)
	}
	return true
}

// crossedBetween reports whether a foreign column crosses the line of a hub between two slots.
func (n *net) crossedBetween(h *heights, hub *hub, from, to int) bool {
	y := h.at(hub.node)
	for _, c := range n.chains {
		top, bottom := h.extent(c)
		if c.slot > from && c.slot < to && c.top.hub != hub && c.bottom.hub != hub && top < y && bottom > y {
			return true
		}
	}
	return false
}

// signRules keep ground signs above the lines that they were made for.
func (n *net) signRules(h *heights) {
	for _, hub := range n.hubs {
		for _, line := range hub.over {
			h.rules = append(h.rules, rule{upper: hub.node, lower: line.node, least: 6, wish: 10, floor: 3})
			if !h.index() {
				h.rules = h.rules[:len(h.rules)-1]
			}
		}
	}
}
