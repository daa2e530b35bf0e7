package drawing

// This file decides which of two lines lies above the other where their wires would cross either way.

// layerLines puts the line of one hub above that of another where that crosses fewer columns than the other way round.
// Lines of the drawing before keep their order.
func (n *net) layerLines(h *heights) {
	for i, a := range n.hubs {
		for _, b := range n.hubs[i+1:] {
			if !a.isLine(n) || !b.isLine(n) || a.span.to <= b.span.from || b.span.to <= a.span.from {
				continue
			}
			upper, lower := a, b
			if h.at(a.node) > h.at(b.node) {
				upper, lower = b, a
			}
			was, known := n.linesBefore[upper.key()]
			if is, both := n.linesBefore[lower.key()]; known && both {
				if is < was {
					upper, lower = lower, upper
				}
				h.prefer(upper.node, lower.node)
				continue
			}
			if lower.crossedUnder(upper) < upper.crossedUnder(lower) {
				h.prefer(lower.node, upper.node)
			}
		}
	}
}

// crossedUnder counts the columns of two lines that cross the other one, where hub lies above lower.
func (hub *hub) crossedUnder(lower *hub) int {
	count := 0
	for _, e := range hub.ends {
		if s := e.chain.slot; e.top && s > lower.span.from && s < lower.span.to && e.other().hub != lower {
			count++
		}
	}
	for _, e := range lower.ends {
		if s := e.chain.slot; !e.top && s > hub.span.from && s < hub.span.to && e.other().hub != hub {
			count++
		}
	}
	return count
}

// leastForOrder is the least ease at which it is worth keeping a line above another.
const leastForOrder = 0

// prefer keeps one node above another where no rule is against it.
func (h *heights) prefer(upper, lower int) {
	saved, ease := append([]int(nil), h.y...), h.ease
	h.extra = append(h.extra, rule{upper, lower, 5, 5, 3, 0, 0})
	for {
		deep, ok := h.settle()
		if ok && deep <= h.bottom {
			break
		}
		if h.ease -= 6; !ok || h.ease < leastForOrder {
			h.extra, h.ease = h.extra[:len(h.extra)-1], ease
			break
		}
	}
	copy(h.y, saved)
}
