package drawing

// This file outlines in-line connectors and finds the dashed lines of relays.

import "slices"

// plug is a run of cavities of one connector side by side, with no other wire between them.
type plug struct {
	name    string
	outline rect
}

func (l *Layout) makePlugs() {
	type key struct {
		name string
		y    int
	}
	rows := map[key][]*symbol{}
	var keys []key
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.shape == cavity {
				k := key{s.cavity.Owner, l.h.at(s.node)}
				if rows[k] == nil {
					keys = append(keys, k)
				}
				rows[k] = append(rows[k], s)
			}
		}
	}
	for _, k := range keys {
		row := rows[k]
		slices.SortStableFunc(row, func(a, b *symbol) int { return a.chain.x - b.chain.x })
		from := 0
		for i := 1; i <= len(row); i++ {
			if i < len(row) && !l.between(row[i-1].chain, row[i].chain, k.y) {
				continue
			}
			l.drawn.plugs = append(l.drawn.plugs, plug{k.name, l.outline(row[from:i])})
			from = i
		}
	}
}

// outline is the dashed box of a run.
func (l *Layout) outline(run []*symbol) rect {
	y := l.h.at(run[0].node)
	left := 14
	if l.amount.gauges {
		left = gaugeRoom + 17
	}
	last := run[len(run)-1]
	words := last.labelRect(l.amount, y, false)
	half := l.plugHalf()
	return rect{run[0].chain.x - left, y - half, last.chain.x + words.x1 + 4, y + half}
}

// plugHalf is how far a connector's outline is above and below its terminals.
func (l *Layout) plugHalf() int {
	if l.h.ease < 40 {
		return 13
	}
	return 16
}

// between reports whether another column passes between two at a height.
func (l *Layout) between(a, b *chain, y int) bool {
	for _, c := range l.net.chains {
		if c == a || c == b || c.slot <= a.slot || c.slot >= b.slot {
			continue
		}
		if top, bottom := l.h.extent(c); top < y+16 && bottom > y-16 {
			return true
		}
	}
	return false
}

// dashes gives the dashed lines between the symbols of one part.
func (l *Layout) dashes() [][]Spot {
	var lines [][]Spot
	for _, pair := range l.net.linkedSymbols() {
		a, b := l.dashEnd(pair[0], pair[1]), l.dashEnd(pair[1], pair[0])
		if a.Y == b.Y && l.clearAlong(a, b, pair) {
			lines = append(lines, []Spot{a, b})
			continue
		}
		if bent := l.elbow(a, b, pair); bent != nil {
			lines = append(lines, bent)
			continue
		}
		stub := 10.0 // no way: the two bear one name, and a stub says that there is another
		if b.X < a.X {
			stub = -stub
		}
		for _, s := range [][]Spot{{a, {a.X + stub, a.Y}}, {b, {b.X - stub, b.Y}}} {
			if l.clearAlong(s[0], s[1], pair) {
				lines = append(lines, s)
			}
		}
	}
	return lines
}

// elbow is a dashed line between two linked symbols that are not level: up or down once, where it runs along no wire and
// touches no symbol; nil where there is no such place.
func (l *Layout) elbow(a, b Spot, pair [2]linked) []Spot {
	const step = 6
	from, to := int(min(a.X, b.X))+12, int(max(a.X, b.X))-12
	for x := to; x >= from; x -= step {
		turn := float64(x)
		if b.X < a.X { // from near the contact, towards the coil
			turn = float64(from + to - x)
		}
		c, d := Spot{turn, a.Y}, Spot{turn, b.Y}
		if l.clearAlong(a, c, pair) && l.clearAlong(c, d, pair) && l.clearAlong(d, b, pair) && l.offWires(a, c) && l.offWires(c, d) && l.offWires(d, b) {
			return []Spot{a, c, d, b}
		}
	}
	return nil
}

// offWires reports whether a straight runs along no wire and no plate; it may cross them.
func (l *Layout) offWires(a, b Spot) bool {
	const near = 7
	line := rect{int(min(a.X, b.X)), int(min(a.Y, b.Y)), int(max(a.X, b.X)), int(max(a.Y, b.Y))}
	upright := a.X == b.X
	for _, p := range l.drawn.pieces {
		for i := 1; i < len(p.path); i++ {
			c, d := p.path[i-1], p.path[i]
			if (c.X == d.X) == upright && line.grown(near).meets(rect{int(min(c.X, d.X)), int(min(c.Y, d.Y)), int(max(c.X, d.X)) + 1, int(max(c.Y, d.Y)) + 1}) {
				return false
			}
		}
	}
	for _, bar := range l.drawn.bars {
		if !upright && line.grown(near).meets(rect{int(bar.from), int(bar.y), int(bar.to), int(bar.y) + 1}) {
			return false
		}
	}
	return true
}

// clearAlong reports whether a straight between two linked symbols touches no other symbol or box.
func (l *Layout) clearAlong(a, b Spot, pair [2]linked) bool {
	line := rect{int(min(a.X, b.X)), int(min(a.Y, b.Y)) - 2, int(max(a.X, b.X)), int(max(a.Y, b.Y)) + 2}
	if a.X == b.X {
		line = line.grown(3)
	}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			s := it.symbol
			if s == nil || s == pair[0].sym || s == pair[1].sym {
				continue
			}
			left, right := s.halfWidth()
			y, half := l.h.at(s.node), symbolHalf[s.shape]
			if line.meets(rect{c.x - left, y - half, c.x + right, y + half}) {
				return false
			}
		}
	}
	for h, r := range l.drawn.boxes {
		if h != pair[0].hub && h != pair[1].hub && line.meets(r) {
			return false
		}
	}
	return true
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
