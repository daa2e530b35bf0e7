package drawing

// This file tells signal wiring from supply wiring, and turns wires back where two boxes of one row are joined.

// findSignals marks the splices that join signal pins only, and the boxes that live off other boxes.
func (n *net) findSignals() {
	group := make([]int, len(n.hubs))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	plain := func(h *hub) bool { return h.kind == junction && h != n.rail }
	for _, c := range n.chains {
		if a, b := c.top.hub, c.bottom.hub; plain(a) && plain(b) {
			group[root(a.id)] = root(b.id)
		}
	}
	powered := map[int]bool{}
	for _, c := range n.chains {
		for _, e := range []*end{c.top, c.bottom} {
			other := e.other()
			if plain(e.hub) && !plain(other.hub) && (other.hub.kind != module || other.pin != nil && (other.feeds() && !other.hub.sensor() || other.grounds() && !other.hub.sensor())) {
				powered[root(e.hub.id)] = true
			}
		}
	}
	for _, h := range n.hubs {
		h.signal = plain(h) && !powered[root(h.id)]
	}
	for _, h := range n.hubs {
		h.satellite = h.livesOffBoxes()
	}
}

func (h *hub) sensor() bool { return h.part != nil && h.part.Kind.Name == "sensor" }

// livesOffBoxes reports whether a sensor or terminator is joined to nothing but boxes and signal splices.
func (h *hub) livesOffBoxes() bool {
	if h.kind != module || h.part.Module != nil {
		return false
	}
	for _, e := range h.ends {
		if o := e.other().hub; o.kind != module && o.kind != open && !o.signal {
			return false
		}
	}
	return true
}

// addBends cuts each chain whose two ends are at one height and puts a turning point in it.
func (n *net) addBends() {
	for _, c := range append([]*chain(nil), n.chains...) {
		a, b := c.top, c.bottom
		same := a.hub == b.hub || a.hub.kind == module && b.hub.kind == module && a.hub.satellite == b.hub.satellite
		if !same || c.fixed {
			continue
		}
		n.bendAt(c, a.hub == n.rail || a.hub.satellite || c.paired && a.hub.busBelow())
	}
}

// busBelow reports whether fewer wires come to a box from below than from above.
func (h *hub) busBelow() bool {
	feeds, grounds := 0, 0
	for _, e := range h.ends {
		if e.pin == nil || e.chain.paired || e.other().hub.kind == open {
			continue
		}
		if e.grounds() {
			grounds++
		} else {
			feeds++
		}
	}
	return grounds < feeds
}

// bendAt cuts a chain at its middle wire. The second half starts at a new hub above, or below, both ends.
func (n *net) bendAt(c *chain, below bool) {
	h := n.hub(bend, "")
	h.level, h.paired = c.top.hub.level, c.paired
	if c.paired {
		h.places = []place{{}}
	}
	cut := -1
	for i, it := range c.items {
		if it.wire != nil && (cut < 0 || i <= len(c.items)/2) {
			cut = i
		}
	}
	first, second := c.items, []item(nil)
	if cut >= 0 {
		first = append([]item(nil), c.items[:cut+1]...)
		second = append([]item(nil), c.items[cut:]...)
		first[cut].part, second[0].part = 1, 2
	}
	far := c.bottom
	middle := &end{hub: h, chain: c}
	c.items = first
	h.ends = append(h.ends, middle)
	c.set(c.top, middle)
	rest := &chain{id: len(n.chains), items: second, paired: c.paired, comp: -1}
	other := &end{hub: h}
	h.ends = append(h.ends, other)
	rest.set(other, far)
	for _, it := range second {
		if it.symbol != nil {
			it.symbol.chain = rest
		}
	}
	n.chains = append(n.chains, rest)
	if below {
		rest.flip()
	} else {
		c.flip()
	}
}

// breakCycles turns chains until nothing is above itself: of each circle the one with the smallest difference.
func (n *net) breakCycles() {
	for range len(n.chains) {
		circle := n.circle()
		if circle == nil {
			return
		}
		weakest := circle[0]
		for _, c := range circle {
			if n.drop(c) < n.drop(weakest) {
				weakest = c
			}
		}
		weakest.flip()
	}
}

// drop is how firmly a chain stands on its feet.
func (n *net) drop(c *chain) int {
	d := max(c.top.hub.level-c.bottom.hub.level, 0)
	if c.fixed || c.top.hub == n.rail || n.storey(c.bottom.hub) > 1 {
		d += 10 * millionths
	}
	if c.top.hub.kind == bend || c.bottom.hub.kind == bend {
		d += 5 * millionths
	}
	return d
}

// circle finds chains that run in a circle, or nil.
func (n *net) circle() []*chain {
	state := make([]int, len(n.hubs))
	for i, h := range n.hubs {
		h.id = i
	}
	var path []*chain
	var visit func(h *hub) []*chain
	visit = func(h *hub) []*chain {
		state[h.id] = 1
		for _, e := range h.ends {
			if !e.top {
				continue
			}
			path = append(path, e.chain)
			next := e.chain.bottom.hub
			if state[next.id] == 1 {
				for i, c := range path {
					if c.top.hub == next {
						return append([]*chain(nil), path[i:]...)
					}
				}
			}
			if state[next.id] == 0 {
				if found := visit(next); found != nil {
					return found
				}
			}
			path = path[:len(path)-1]
		}
		state[h.id] = 2
		return nil
	}
	for _, h := range n.hubs {
		if state[h.id] == 0 {
			if found := visit(h); found != nil {
				return found
			}
		}
	}
	return nil
}
