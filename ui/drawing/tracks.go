package drawing

// This file keeps lines off symbols, boxes and each other, once the order of the columns is known.

import "slices"

// manner is how things are kept clear of each other: with lines above or below one another as crosses least; as they come;
// or so as to take the least height.
type manner int

const (
	layered manner = iota
	plain
	shallow
)

// apart keeps everything clear of everything else, in the first manner that works and takes no more height than there is,
// or else in the one that comes nearest.
func (n *net) apart(h *heights) {
	before := *h
	var best heights
	for m := layered; m <= shallow; m++ {
		tried := before
		tried.nodes, tried.y, tried.extra = slices.Clone(before.nodes), slices.Clone(before.y), nil
		tried.manner = m
		tried.faulty = !n.clearAll(&tried)
		if m == layered || best.faulty && !tried.faulty || best.faulty == tried.faulty && tried.bottom < best.bottom {
			best = tried
		}
		if !best.faulty && best.bottom == before.bottom {
			break
		}
	}
	*h = best
	h.index()
	for _, hub := range n.hubs {
		if len(hub.ends) > 0 {
			n.layLanes(hub)
		}
	}
}

// clearAll lays further rules until nothing that should be clear of another touches it. It reports whether that came about.
func (n *net) clearAll(h *heights) bool {
	const rounds = 14
	if h.manner == layered {
		n.layerLines(h)
	}
	for range rounds {
		for _, hub := range n.hubs {
			if len(hub.ends) > 0 {
				n.layLanes(hub)
			}
			if hub.fans() {
				h.nodes[hub.node].up, h.nodes[hub.node].down = hub.half()
			}
		}
		h.makeRoom()
		h.spring()
		if n.linesApart(h)+n.linesOffSymbols(h)+n.dashesOffSymbols(h)+n.stackedApart(h) == 0 {
			return true
		}
	}
	h.makeRoom()
	h.spring()
	return false
}

// makeRoom gives up ease where the rules need more height than there is.
func (h *heights) makeRoom() {
	for h.ease > squeezed {
		if deep, ok := h.settle(); ok && deep <= h.bottom {
			return
		}
		h.ease = max(squeezed, h.ease-6)
	}
}

// insist adds a rule, or its reverse where it would run in a circle, or where that takes less height and height is short.
func (h *heights) insist(upper, lower, gap int) int {
	if h.nodes[upper].group == h.nodes[lower].group {
		return 0
	}
	best, least := -1, 0
	both := []rule{{upper, lower, gap, gap, gap * 2 / 3, 0, 0}, {lower, upper, gap, gap, gap * 2 / 3, 0, 0}}
	for i, r := range both {
		h.extra = append(h.extra, r)
		deep, ok := h.settle()
		deep *= fine
		for _, y := range h.y { // of two that are equally deep, the one with more at the top
			deep += y / len(h.y)
		}
		h.extra = h.extra[:len(h.extra)-1]
		if ok && (best < 0 || deep < least) {
			best, least = i, deep
		}
		if best == 0 && h.manner != shallow {
			break
		}
	}
	if best < 0 {
		return 0
	}
	h.extra = append(h.extra, both[best])
	return 1
}

// clear reports whether two nodes keep a gap.
func (h *heights) clear(a, b, gap int) bool {
	ya, yb := h.at(a), h.at(b)
	if ya > yb {
		a, b, ya, yb = b, a, yb, ya
	}
	return ya+h.nodes[a].down+gap <= yb-h.nodes[b].up
}

// push puts two nodes apart, the one that is higher now above.
func (h *heights) push(a, b, gap int) int {
	if h.clear(a, b, gap) {
		return 0
	}
	saved := append([]int(nil), h.y...)
	if h.at(a) > h.at(b) {
		a, b = b, a
	}
	added := h.insist(a, b, gap)
	copy(h.y, saved)
	return added
}

// linesApart keeps the lines of hubs off each other and off boxes.
func (n *net) linesApart(h *heights) int {
	added := 0
	for i, a := range n.hubs {
		if a == n.rail || a.kind == frame || len(a.ends) == 0 || a.kind == open {
			continue
		}
		for _, b := range n.hubs[i+1:] {
			if b == n.rail || b.kind == frame || len(b.ends) == 0 || b.kind == open {
				continue
			}
			sa, sb := a.span, b.span
			if sa.from > sb.to || sb.from > sa.to {
				continue
			}
			boxes := 0
			for _, hub := range []*hub{a, b} {
				if hub.kind == module || hub.kind == throws {
					boxes++
				}
			}
			if sa.from == sb.to || sb.from == sa.to { // they only touch: fine unless they are one above the other in that column
				if boxes == 0 && !h.clear(a.node, b.node, 4) || boxes > 0 {
					added += h.push(a.node, b.node, []int{4, 24, 48}[boxes])
				}
				continue
			}
			added += h.push(a.node, b.node, []int{5, 26, 48}[boxes])
		}
	}
	return added
}

// linesOffSymbols keeps the line of a hub off the symbols of columns that it crosses.
func (n *net) linesOffSymbols(h *heights) int {
	added := 0
	for _, hub := range n.hubs {
		if hub == n.rail || hub.kind == frame || len(hub.ends) < 2 {
			continue
		}
		for _, c := range n.chains {
			if c.slot < hub.span.from || c.slot > hub.span.to || c.top.hub == hub || c.bottom.hub == hub {
				continue
			}
			for _, it := range c.items {
				switch {
				case it.symbol != nil:
					added += h.push(hub.node, it.symbol.node, 6)
				case it.splice != nil:
					added += h.push(hub.node, it.node, 5)
				}
			}
		}
	}
	return added
}

// dashesOffSymbols keeps the dashed line of a relay off symbols and boxes on its way.
func (n *net) dashesOffSymbols(h *heights) int {
	added := 0
	for _, pair := range n.linkedSymbols() {
		if h.at(pair[0].node) != h.at(pair[1].node) {
			continue // no line is drawn
		}
		from, to := pair[0].chain.slot, pair[1].chain.slot
		if from > to {
			from, to = to, from
		}
		for _, c := range n.chains {
			if c.slot <= from || c.slot >= to {
				continue
			}
			for _, it := range c.items {
				if it.symbol != nil && it.symbol.link != pair[0].name {
					added += h.pushDash(pair[0].node, it.symbol.node, 5)
				}
			}
		}
		for _, hub := range n.hubs {
			if hub.link != pair[0].name && hub != n.rail && hub.kind != frame && hub.kind != open && hub.span.from <= to && hub.span.to >= from {
				added += h.pushDash(pair[0].node, hub.node, hub.pinReach())
			}
		}
	}
	return added
}

// pinReach is how far the pins of a box, or the room a line needs, reach beyond a hub.
func (hub *hub) pinReach() int {
	if hub.kind == module {
		return 22
	}
	return 5
}

// pushDash puts a symbol clear of a dashed line at the height of another.
func (h *heights) pushDash(line, node, gap int) int {
	d := h.at(node) - h.at(line)
	if d >= 0 && d >= h.nodes[node].up+gap || d < 0 && -d >= h.nodes[node].down+gap {
		return 0
	}
	saved := append([]int(nil), h.y...)
	added := 0
	if d >= 0 {
		added = h.insist(line, node, gap-h.nodes[line].down)
	} else {
		added = h.insist(node, line, gap-h.nodes[line].up)
	}
	copy(h.y, saved)
	return added
}

// stackedApart keeps columns that stand one above the other apart.
func (n *net) stackedApart(h *heights) int {
	added := 0
	for i, a := range n.chains {
		for _, b := range n.chains[i+1:] {
			if a.slot != b.slot || a.top.hub == b.bottom.hub || b.top.hub == a.bottom.hub {
				continue
			}
			upper, lower := a, b
			if h.at(b.top.hub.node) < h.at(a.top.hub.node) {
				upper, lower = b, a
			}
			if upper.bottom.hub != n.frame && lower.top.hub != n.rail {
				added += h.push(upper.bottom.hub.node, lower.top.hub.node, 14)
			}
		}
	}
	return added
}
