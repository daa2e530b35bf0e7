package drawing

// This file gives each wire at a splice a lane of its own, so that it can be told which is which.

import "slices"

// lanes is how the wires of a hub run to the one place where they meet.
type lanes struct {
	home   int          // the slot of that place
	offset map[*end]int // px from the hub's height; ends at home have none
	most   int          // lanes on the busier side
	pitch  int
}

// lanePitch is the room for one wire and the gap beside it.
const lanePitch, tightPitch = 7, 5

// half is how far lanes reach up and down.
func (l lanes) half() int { return 6 + max(l.most-1, 0)*l.pitch/2 }

// guessLanes stands in before the order of columns is known.
func (h *hub) guessLanes() {
	h.lanes = lanes{most: len(h.ends) / 2, pitch: lanePitch}
}

// fans reports whether the wires of a hub have lanes.
func (h *hub) fans() bool { return h.kind == junction && !h.bar && !h.paired }

// layLanes chooses where the wires of a hub meet, and their lanes.
func (n *net) layLanes(h *hub) {
	if !h.fans() {
		h.lanes = lanes{home: h.ends[0].chain.slot}
		return
	}
	best := 1 << 30
	for _, e := range h.ends {
		if cost := n.homeCost(h, e); cost < best {
			best, h.lanes.home = cost, e.chain.slot
		}
	}
	l := &h.lanes
	l.offset, l.most = map[*end]int{}, 0
	left, right := h.sideEnds(l.home, -1), h.sideEnds(l.home, 1)
	l.most = max(len(left), len(right))
	l.pitch = lanePitch
	if l.most > 6 {
		l.pitch = tightPitch
	}
	for _, side := range [][]*end{left, right} {
		for i, e := range side {
			l.offset[e] = (2*i - len(side) + 1) * l.pitch / 2
		}
	}
}

// sideEnds lists the ends left (-1) or right (1) of home, from the uppermost lane to the lowest: those that go up from near
// to far, then those that go down from far to near, so that no two cross.
func (h *hub) sideEnds(home, side int) []*end {
	var ends []*end
	for _, e := range h.ends {
		if (e.chain.slot-home)*side > 0 {
			ends = append(ends, e)
		}
	}
	slices.SortStableFunc(ends, func(a, b *end) int {
		if a.top != b.top {
			if b.top {
				return -1
			}
			return 1
		}
		near := (a.chain.slot - b.chain.slot) * side
		if a.top {
			return -near
		}
		return near
	})
	return ends
}

// homeCost prefers few lanes, the only wire on its side, and the stem of a stud.
func (n *net) homeCost(h *hub, e *end) int {
	left, right := len(h.sideEnds(e.chain.slot, -1)), len(h.sideEnds(e.chain.slot, 1))
	cost := 12 * max(left, right)
	same := 0
	for _, other := range h.ends {
		if other.top == e.top {
			same++
		}
	}
	if same == 1 {
		cost -= 15
	}
	if e.other().hub.kind == frame && e.other().stud == h.stud && h.stud != nil {
		cost -= 1000
	}
	if e.chain == n.source {
		cost -= 500
	}
	if w := e.wire(); w != nil {
		cost -= min(int(w.AreaMM2), 10)
	}
	return cost
}
