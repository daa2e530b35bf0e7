package drawing

// This file finds the dashed lines between the symbols of one part: a relay's coil and contact, the poles of a switch.

import "slices"

// makeDashes lays the dashed lines: straight where two symbols are level, else with a turn or two, else as stubs: the two
// bear one name, and a stub says that there is another.
func (l *Layout) makeDashes() {
	l.drawn.dashes = nil
	for _, pair := range l.net.linkedSymbols() {
		w := l.waysOf(pair)
		a, b := l.dashEnd(pair[0], pair[1]), l.dashEnd(pair[1], pair[0])
		if a.Y == b.Y && w.clear(a, b) {
			l.drawn.dashes = append(l.drawn.dashes, []Spot{a, b})
			continue
		}
		if bent := w.bent(a, b); bent != nil {
			l.drawn.dashes = append(l.drawn.dashes, bent)
			continue
		}
		stub := 10.0
		if b.X < a.X {
			stub = -stub
		}
		for _, s := range [][]Spot{{a, {a.X + stub, a.Y}}, {b, {b.X - stub, b.Y}}} {
			if w.clear(s[0], s[1]) {
				l.drawn.dashes = append(l.drawn.dashes, s)
			}
		}
	}
}

// ways is what a dashed line with turns has to keep clear of.
type ways struct {
	solid  []rect // other symbols, boxes
	words  []rect // names beside symbols, connectors
	wires  []rect
	height int
}

func (l *Layout) waysOf(pair [2]linked) *ways {
	w := &ways{height: l.Height}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			s := it.symbol
			if s == nil {
				continue
			}
			y, half := l.h.at(s.node), symbolHalf[s.shape]
			if s != pair[0].sym && s != pair[1].sym {
				left, right := s.halfWidth()
				w.solid = append(w.solid, rect{c.x - left, y - half, c.x + right, y + half})
			}
			r := s.labelRect(l.amount, y, l.labelLeft(s))
			w.words = append(w.words, rect{c.x + r.x0, r.y0, c.x + r.x1, r.y1})
		}
	}
	for h, r := range l.drawn.boxes {
		if h != pair[0].hub && h != pair[1].hub {
			w.solid = append(w.solid, r)
		}
	}
	for _, p := range l.drawn.plugs {
		w.words = append(w.words, p.outline)
	}
	for _, p := range l.drawn.pieces {
		for i := 1; i < len(p.path); i++ {
			w.wires = append(w.wires, between(p.path[i-1], p.path[i]))
		}
	}
	for _, b := range l.drawn.bars {
		w.wires = append(w.wires, rect{int(b.from), int(b.y), int(b.to), int(b.y)})
	}
	return w
}

// between is the room of a straight.
func between(a, b Spot) rect {
	return rect{int(min(a.X, b.X)), int(min(a.Y, b.Y)), int(max(a.X, b.X)), int(max(a.Y, b.Y))}
}

// clear reports whether a straight touches no other symbol and no box.
func (w *ways) clear(a, b Spot) bool {
	r := between(a, b)
	return free(rect{r.x0, r.y0 - 2, r.x1, r.y1 + 2}, w.solid)
}

// good reports whether a piece of a line with turns also keeps off words and runs along no wire; it may cross wires.
func (w *ways) good(a, b Spot) bool {
	const apart = 7
	r := between(a, b)
	if !free(r.grown(4), w.solid, w.words) {
		return false
	}
	upright := a.X == b.X
	return !slices.ContainsFunc(w.wires, func(wire rect) bool {
		return (wire.x0 == wire.x1) == upright && r.grown(apart).meets(rect{wire.x0, wire.y0, wire.x1 + 1, wire.y1 + 1})
	})
}

// bent is the shortest line with two turns or four between two symbols that are not level, or nil. The first and the last
// turn are near the symbols.
func (w *ways) bent(a, b Spot) []Spot {
	const near, far, step = 12, 84, 8
	side := 1.0
	if b.X < a.X {
		side = -1
	}
	var best []Spot
	least := 0.0
	for first := float64(near); first <= far; first += step {
		for last := float64(near); last <= far; last += step {
			x1, x2 := a.X+side*first, b.X-side*last
			if (x2-x1)*side < 0 {
				continue
			}
			for y := 60.0; y < float64(w.height)-60; y += step {
				path := []Spot{a, {x1, a.Y}, {x1, y}, {x2, y}, {x2, b.Y}, b}
				if long := lengthOf(path); (best == nil || long < least) && w.goodAll(path) {
					best, least = path, long
				}
			}
		}
	}
	return best
}

func (w *ways) goodAll(path []Spot) bool {
	for i := 1; i < len(path); i++ {
		if (i == 1 || i == len(path)-1) && !w.clear(path[i-1], path[i]) || i > 1 && i < len(path)-1 && !w.good(path[i-1], path[i]) {
			return false
		}
	}
	return true
}

func lengthOf(path []Spot) float64 {
	long := 0.0
	for i := 1; i < len(path); i++ {
		long += max(path[i].X, path[i-1].X) - min(path[i].X, path[i-1].X) + max(path[i].Y, path[i-1].Y) - min(path[i].Y, path[i-1].Y)
	}
	return long
}

func (l *Layout) dashEnd(from, to linked) Spot {
	y := l.y(from.node)
	right := to.chain.slot > from.chain.slot
	if from.hub != nil {
		r := l.drawn.boxes[from.hub]
		if right {
			return Spot{float64(r.x1), y}
		}
		return Spot{float64(r.x0), y}
	}
	x := float64(from.chain.x)
	left, wide := from.sym.halfWidth()
	if from.sym.shape == contact {
		left, wide = 6, 4
	}
	if right {
		return Spot{x + float64(wide), y}
	}
	return Spot{x - float64(left), y}
}
