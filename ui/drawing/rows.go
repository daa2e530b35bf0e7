package drawing

// This file puts on one level what belongs on one level.

import "slices"

// arrange solves the heights of a net: as much ease as the room allows, then rows, then springs.
func (n *net) arrange(h *heights) {
	h.untie()
	if !n.fits(h, true) {
		n.fits(h, false)
	}
	h.loosen()
	n.looseRows(h) // no row costs anything its wire
	h.spring()
}

// untie leaves out rules that run in a circle, so that whatever a circuit is like, it is drawn.
func (h *heights) untie() {
	for !h.index() {
		sorted := map[int]bool{}
		for _, g := range h.order {
			sorted[g] = true
		}
		h.rules = slices.Delete(h.rules, h.lastTied(sorted), h.lastTied(sorted)+1)
	}
}

// lastTied is the last rule between two groups that have found no place.
func (h *heights) lastTied(sorted map[int]bool) int {
	last := len(h.rules) - 1
	for i, r := range h.rules {
		if !sorted[h.nodes[r.upper].group] && !sorted[h.nodes[r.lower].group] {
			last = i
		}
	}
	return last
}

// fits seeks the most ease at which everything has room, and all relays are level where that is asked for.
func (n *net) fits(h *heights, level bool) bool {
	for ease := 100; ease >= squeezed; ease -= 6 {
		if level && ease < 25 {
			break // a level relay is not worth that much
		}
		h.ease = ease
		for i := range h.nodes {
			h.nodes[i].group = i
		}
		all := n.firmRows(h)
		if deep, ok := h.settle(); ok && deep <= h.bottom && (all || !level) {
			return true
		}
	}
	return false
}

// firmRows levels relays, the cavities of a connector, and fuses on the rail. It reports whether all relays are level.
func (n *net) firmRows(h *heights) bool {
	limit := h.bottom
	byKey := map[string][]int{}
	var keys []string
	add := func(key string, node int) {
		if byKey[key] == nil {
			keys = append(keys, key)
		}
		byKey[key] = append(byKey[key], node)
	}
	for _, c := range n.chains {
		below := false
		for _, it := range c.items {
			s := it.symbol
			if s == nil {
				continue
			}
			switch {
			case s.link != "":
				add("0"+s.link, s.node)
			case s.shape == cavity && (below || c.top.hub.kind == module && !c.top.hub.satellite):
				add("1b"+s.cavity.Owner, s.node)
			case s.shape == cavity:
				add("1a"+s.cavity.Owner, s.node)
			case s.shape == fuse && c.top.hub == n.rail && c.items[0].symbol == s:
				add("2fuses", s.node)
			}
			below = below || s.word() == "load"
		}
	}
	for _, hub := range n.hubs {
		if hub.link != "" {
			add("0"+hub.link, hub.node)
		}
	}
	slices.Sort(keys)
	level := true
	for _, key := range keys {
		if !h.together(byKey[key], limit) && key[0] == '0' {
			level = false
		}
	}
	return level
}

// looseRows levels satellites, then loads and boxes, the deepest first, in as few rows as fit.
func (n *net) looseRows(h *heights) {
	var satellites, loads []int
	for _, hub := range n.hubs {
		if hub.kind == module && hub.satellite {
			satellites = append(satellites, hub.node)
		} else if hub.kind == module {
			loads = append(loads, hub.node)
		}
	}
	for _, c := range n.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.word() == "load" && s.shape != battery {
				loads = append(loads, s.node)
			}
		}
	}
	limit := h.bottom
	if len(satellites) > 0 {
		h.together(satellites, limit)
	}
	h.settle()
	slices.SortStableFunc(loads, func(a, b int) int { return h.at(b) - h.at(a) })
	var rows [][]int
	for _, node := range loads {
		placed := false
		for i := range rows {
			if h.together([]int{rows[i][0], node}, limit) {
				rows[i] = append(rows[i], node)
				placed = true
				break
			}
		}
		if !placed {
			rows = append(rows, []int{node})
		}
	}
}
