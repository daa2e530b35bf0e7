package drawing

// This file draws the wires: every wire is a line of its own, from one thing to the next.

import (
	"slices"

	"underload/circuit"
)

// Spot is a place in the drawing, px from its upper left corner.
type Spot struct{ X, Y float64 }

// piece is a wire, half a wire, or the metal where two things touch without one.
type piece struct {
	chain *chain
	wire  *circuit.Wire // nil: no wire
	hub   *hub          // pieces of a trunk only
	path  []Spot
	split int // 1, 2: half of a wire that turns back
}

// bar is a plate that wires are bolted to, or the frame.
type bar struct {
	hub      *hub
	y        float64
	from, to float64
}

// drawn is everything of a layout that has a place in px.
type drawn struct {
	pieces    []piece
	bars      []bar
	crossings []crossing
	labels    []label
	anchors   map[string]anchor
	again     []Hit           // further places of studs that are drawn more than once
	gauges    map[string]rect // where each point's gauge stands, its frame included
	plugs     []plug
	dashes    [][]Spot
	boxes     map[*hub]rect
	missing   []string  // wires without words
	leaders   [][2]Spot // from a splice to its name where the two stand apart
}

// pairHalf is half the distance between the two wires of a bus.
const pairHalf = 4.5

func (l *Layout) draw() {
	l.drawn = drawn{anchors: map[string]anchor{}, boxes: map[*hub]rect{}}
	l.makeBoxes()
	for _, c := range l.net.chains {
		if !c.paired {
			l.column(c, 0)
			continue
		}
		l.column(c, 1)
		l.column(c, 2)
	}
	for _, h := range l.net.hubs {
		l.hubLine(h)
	}
	l.makePlugs()
	l.makeDashes()
	l.cross()
	l.anchor()
	l.label()
	l.placeGauges()
}

func (l *Layout) y(node int) float64 { return float64(l.h.at(node)) }

func (l *Layout) homeX(h *hub) float64 { return float64(l.slotX[h.lanes.home]) }

// makeBoxes gives boxes their final width.
func (l *Layout) makeBoxes() {
	for _, h := range l.net.hubs {
		if h.kind != module && h.kind != throws || len(h.ends) == 0 {
			continue
		}
		y := l.h.at(h.node)
		m := h.margin()
		r := rect{l.slotX[h.span.from] - m, y - l.h.nodes[h.node].up, l.slotX[h.span.to] + m, y + l.h.nodes[h.node].down}
		if h.kind == module {
			r.x1 = max(r.x1, r.x0+h.boxWidth(l.amount))
		}
		l.drawn.boxes[h] = r
	}
}

// column makes the pieces of a chain; of a pair, wire 1 or 2.
func (l *Layout) column(c *chain, wire int) {
	x := float64(c.x) + l.pairOffset(c, wire)
	path := l.start(c.top, x, wire)
	p := piece{chain: c}
	end := func(spots ...Spot) {
		p.path = append(path, spots...)
		l.drawn.pieces = append(l.drawn.pieces, p)
		p = piece{chain: c}
	}
	for _, it := range c.items {
		switch {
		case it.wire != nil:
			p.wire, p.split = it.wire, it.part
			if wire == 2 {
				p.wire = it.wire2
			}
		case it.splice != nil:
			y := l.y(it.node)
			end(Spot{x, y})
			path = []Spot{{x, y}}
		default:
			y, half := l.y(it.symbol.node), float64(symbolHalf[it.symbol.shape])
			end(Spot{x, y - half})
			path = []Spot{{x, y + half}}
		}
	}
	last := l.start(c.bottom, x, wire)
	slices.Reverse(last)
	end(last...)
}

// pairOffset is how far left or right of its column a wire of a pair runs. At the ends of a trunk the outer wire of the
// trunk is the outer one of the column, so that the corner nests.
func (l *Layout) pairOffset(c *chain, wire int) float64 {
	if wire == 0 {
		return 0
	}
	swap := false
	for _, e := range []*end{c.bottom, c.top} {
		if h := e.hub; h.paired && h.span.to > h.span.from {
			rightmost := c.slot == h.span.to
			swap = rightmost == e.top
			if c.slot != h.span.to && c.slot != h.span.from {
				swap = !e.top
			}
		}
	}
	if (wire == 1) == swap {
		return pairHalf
	}
	return -pairHalf
}

// laneY is the height of a wire of a paired trunk: the high wire is the upper one.
func laneY(y float64, wire int) float64 {
	if wire == 1 {
		return y - pairHalf
	}
	return y + pairHalf
}

// start gives the first spots of a column, from its upper end down. For a lower end they are the last, in reverse.
func (l *Layout) start(e *end, x float64, wire int) []Spot {
	h, y := e.hub, l.y(e.hub.node)
	out := 1.0
	if !e.top {
		out = -1
	}
	switch {
	case h.kind == module:
		edge := y + out*float64(l.h.nodes[h.node].down)
		return []Spot{{x, edge + 12*out}}
	case h.kind == throws:
		return []Spot{{x, y + out*float64(l.h.nodes[h.node].down)}}
	case h.kind == bend && !h.paired:
		other := h.ends[0]
		if other == e {
			other = h.ends[1]
		}
		return []Spot{{(x + float64(other.chain.x)) / 2, y}, {x, y}}
	case h.paired && wire == 0:
		return []Spot{{x, laneY(y, e.lane)}}
	case h.paired:
		return l.pairStart(e, x, y, wire)
	case h.fans() && e.chain.slot != h.lanes.home:
		lane := y + float64(h.lanes.offset[e])
		return []Spot{{l.homeX(h), lane}, {x, lane}}
	}
	return []Spot{{x, y}}
}

// pairStart begins at a lane of a trunk; at the trunk's ends with a piece along it, for the corner.
func (l *Layout) pairStart(e *end, x, y float64, wire int) []Spot {
	lane := laneY(y, wire)
	const corner = 12
	switch h := e.hub; {
	case h.span.from == h.span.to:
	case e.chain.slot == h.span.from:
		return []Spot{{x + corner, lane}, {x, lane}}
	case e.chain.slot == h.span.to:
		return []Spot{{x - corner, lane}, {x, lane}}
	}
	return []Spot{{x, lane}}
}

// hubLine draws the line of a hub that is no box and whose wires have no lanes.
func (l *Layout) hubLine(h *hub) {
	if len(h.ends) == 0 {
		return
	}
	y := l.y(h.node)
	from, to := float64(l.slotX[h.span.from]), float64(l.slotX[h.span.to])
	switch {
	case h.kind == frame:
		from, to = from-22, to+22
		if len(l.Sheets) > 1 { // it lies at the foot of every sheet
			to = float64(l.Width - roomBeside)
		}
		l.drawn.bars = append(l.drawn.bars, bar{h, y, from, to})
	case h.kind == plate, h.kind == junction && h.bar:
		l.drawn.bars = append(l.drawn.bars, bar{h, y, from - 6, to + 6})
	case h.paired:
		l.trunk(h, 1)
		l.trunk(h, 2)
	}
}

// trunk draws one wire of a bus along its places.
func (l *Layout) trunk(h *hub, wire int) {
	y := laneY(l.y(h.node), wire)
	type tap struct {
		x     float64
		place int
		wire  *circuit.Wire
	}
	var taps []tap
	for _, e := range h.ends {
		if e.lane != 0 && e.lane != wire {
			continue
		}
		x := float64(e.chain.x)
		if e.chain.paired {
			x += l.pairOffset(e.chain, wire)
		}
		own := e.wire()
		if items := e.ordered(); wire == 2 && e.chain.paired && len(items) > 0 {
			own = items[0].wire2
		}
		taps = append(taps, tap{x, e.place, own})
	}
	slices.SortStableFunc(taps, func(a, b tap) int { return int(a.x - b.x) })
	for i := 1; i < len(taps); i++ {
		a, b := taps[i-1], taps[i]
		w := a.wire
		if a.place != b.place && len(h.places) > 1 {
			w = h.places[min(a.place, b.place)].wires[wire-1]
		} else if i == 1 && b.place == a.place && len(taps) > 2 {
			w = a.wire
		} else if i == len(taps)-1 {
			w = b.wire
		}
		l.drawn.pieces = append(l.drawn.pieces, piece{wire: w, hub: h, path: []Spot{{a.x, y}, {b.x, y}}})
	}
}

// crossing is where a column passes a line that it does not touch.
type crossing struct {
	at     Spot
	column int // piece that runs down
}

// cross finds all crossings.
func (l *Layout) cross() {
	d := &l.drawn
	type level struct {
		from, to, y float64
		id          int
		owner       any
	}
	var levels []level
	for i, p := range d.pieces {
		for j := 1; j < len(p.path); j++ {
			a, b := p.path[j-1], p.path[j]
			if a.Y == b.Y && a.X != b.X {
				levels = append(levels, level{min(a.X, b.X), max(a.X, b.X), a.Y, i, p.lineOwner(a.Y)})
			}
		}
	}
	for i, b := range d.bars {
		if b.hub.kind != frame {
			levels = append(levels, level{b.from, b.to, b.y, -1 - i, b.hub})
		}
	}
	for i, p := range d.pieces {
		for j := 1; j < len(p.path); j++ {
			a, b := p.path[j-1], p.path[j]
			if a.X != b.X {
				continue
			}
			top, bottom := min(a.Y, b.Y), max(a.Y, b.Y)
			for _, lv := range levels {
				if lv.id == i || a.X <= lv.from+0.5 || a.X >= lv.to-0.5 || lv.y <= top+0.5 || lv.y >= bottom-0.5 {
					continue
				}
				if own := p.chain; own != nil && (own.top.hub == lv.owner || own.bottom.hub == lv.owner) && !own.paired {
					if h, ok := lv.owner.(*hub); ok && !h.paired {
						continue
					}
				}
				d.crossings = append(d.crossings, crossing{Spot{a.X, lv.y}, i})
			}
		}
	}
}

// lineOwner is the hub whose line a level piece is part of.
func (p piece) lineOwner(y float64) any {
	if p.hub != nil {
		return p.hub
	}
	if len(p.path) > 0 && p.path[0].Y == y {
		return p.chain.top.hub
	}
	return p.chain.bottom.hub
}
