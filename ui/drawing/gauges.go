package drawing

// This file finds a place for the level gauge of every point, whether it is shown or not.

// Sizes of a gauge, px: what is filled, its frame, and what it is where room is short.
const (
	gaugeWide, gaugePad         = 8, 3
	slimGaugeWide, slimGaugePad = 5, 2
	gaugeTall                   = 24
	gaugeGap                    = 9 // to its point
)

// withTicks is the room of a gauge and the mark beside it.
func (r rect) withTicks() rect { return rect{r.x0 - 5, r.y0 - 2, r.x1 + 5, r.y1 + 2} }

// padOf is the frame of a gauge.
func padOf(gauge rect) int {
	if gauge.x1-gauge.x0 < gaugeWide+2*gaugePad {
		return slimGaugePad
	}
	return gaugePad
}

// gaugeRect is where a gauge stands if nothing is in its way: left of its terminal; the two sides of an in-line terminal, and
// the two wires of a bus, side by side.
func (l *Layout) gaugeRect(a anchor, slim bool) rect {
	wide := gaugeWide + 2*gaugePad
	if slim {
		wide = slimGaugeWide + 2*slimGaugePad
	}
	x, y, tall := int(a.at.X-a.pair)-gaugeGap-wide, int(a.at.Y), gaugeTall
	if a.twin {
		tall = 2*l.plugHalf() - 8
		y -= a.out * 10
		if a.out < 0 {
			x -= wide + 3
		}
	} else {
		y += a.out * 10
	}
	switch {
	case a.pair < 0:
		x -= wide + 6
	case a.pair > 0:
		x -= 3
	}
	return rect{x, y - tall/2 - gaugePad, x + wide, y + tall/2 + gaugePad}
}

// placeGauges gives every point its gauge: those of in-line terminals and plugs first, which are shown most. Where a name, a
// symbol, a box or another gauge is in the way it stands a little higher or lower, on the other side, or
// further off, and is slimmer if need be.
func (l *Layout) placeGauges() {
	l.drawn.gauges = map[string]rect{}
	var taken []rect
	for _, b := range l.drawn.labels {
		if b.kind == "name" || b.kind == "detail" {
			taken = append(taken, inkOf(b))
		}
	}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil {
				left, right := s.halfWidth()
				y, half := l.h.at(s.node), symbolHalf[s.shape]
				taken = append(taken, rect{c.x - left, y - half, c.x + right, y + half})
			}
		}
	}
	var boxes []rect
	for _, r := range l.drawn.boxes {
		boxes = append(boxes, r)
	}
	for _, first := range []bool{true, false} {
		if !first {
			boxes = nil // pins are in them
		}
		done := map[string]bool{}
		for _, point := range l.Circuit.Points() {
			a, ok := l.drawn.anchors[point.Name]
			if !ok || plugged(point) != first || done[point.Name] {
				continue
			}
			names, at := []string{point.Name}, []anchor{a}
			if a.twin { // the two sides keep level, so that a step between them tells
				names = []string{point.Terminal.Name + ".a", point.Terminal.Name + ".b"}
				at = []anchor{l.drawn.anchors[names[0]], l.drawn.anchors[names[1]]}
			}
			for i, r := range l.bestGauges(at, taken, boxes) {
				l.drawn.gauges[names[i]], done[names[i]] = r, true
				taken = append(taken, r.grown(2))
			}
		}
	}
	l.noteCovered()
}

// noteCovered remembers which gauges stand on the words of wires and pins.
func (l *Layout) noteCovered() {
	for i := range l.drawn.labels {
		b := &l.drawn.labels[i]
		if b.kind != "wire" && b.kind != "pin" {
			continue
		}
		for _, point := range l.Circuit.Points() {
			if r, ok := l.drawn.gauges[point.Name]; ok && r.withTicks().meets(inkOf(*b)) {
				b.under = append(b.under, point)
			}
		}
	}
}

// bestGauges is the first of several places for one gauge, or two, with nothing in the way, or nothing but a box, or else
// the usual one.
func (l *Layout) bestGauges(at []anchor, taken, boxes []rect) []rect {
	usual := make([]rect, len(at))
	for _, inTheWay := range [][][]rect{{taken, boxes}, {taken}} {
		for _, slim := range []bool{false, true} {
			all := rect{1 << 30, 1 << 30, -1, -1}
			for i, a := range at {
				r := l.gaugeRect(a, slim)
				usual[i], all = r, rect{min(all.x0, r.x0), min(all.y0, r.y0), max(all.x1, r.x1), max(all.y1, r.y1)}
			}
			across := int(at[0].at.X) + gaugeGap - all.x0
			for _, dx := range []int{0, across, all.x0 - all.x1 - 3} {
				for _, dy := range []int{0, 6, -6, 12, -12, 20, -20, 34, -34} {
					if at[0].out < 0 {
						dy = -dy
					}
					if moved, ok := l.freeGauges(usual, dx, dy, inTheWay...); ok {
						return moved
					}
				}
			}
		}
	}
	return usual
}

// freeGauges moves gauges and reports whether nothing is in their way there.
func (l *Layout) freeGauges(usual []rect, dx, dy int, taken ...[]rect) ([]rect, bool) {
	var moved []rect
	for _, r := range usual {
		r = rect{r.x0 + dx, r.y0 + dy, r.x1 + dx, r.y1 + dy}
		if r.x0 < 2 || r.x1 > l.Width-2 || r.y0 < 2 || r.y1 > l.Height-2 || !free(r, taken...) {
			return nil, false
		}
		moved = append(moved, r)
	}
	return moved, true
}
