package drawing

// This file says where every point of the circuit is: where a lead touches.

import (
	"underload/circuit"
)

// anchor is the place of a point, and of what belongs to it.
type anchor struct {
	at   Spot
	out  int     // -1: the wire comes from above, 1: from below
	pin  bool    // on the pin's side
	twin bool    // one of the two sides of an in-line terminal
	pair float64 // px left or right of the middle of the two wires of a bus
}

func (l *Layout) anchor() {
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if it.symbol != nil {
				l.anchorSymbol(it.symbol, c)
			}
			if it.splice != nil {
				dx := 0.0
				if it.splice2 != nil {
					dx = 10
					l.put(it.splice2.Name, anchor{at: Spot{float64(c.x) + dx, l.y(it.node)}})
				}
				l.put(it.splice.Name, anchor{at: Spot{float64(c.x) - dx, l.y(it.node)}})
			}
		}
		l.anchorEnd(c.top)
		l.anchorEnd(c.bottom)
	}
	for _, h := range l.net.hubs {
		l.anchorHub(h)
	}
}

func (l *Layout) put(name string, a anchor) {
	if _, err := l.Circuit.Point(name); err != nil {
		return
	}
	if _, ok := l.drawn.anchors[name]; ok {
		l.drawn.again = append(l.drawn.again, Hit{Kind: OnPoint, Name: name, At: a.at})
		return
	}
	l.drawn.anchors[name] = a
}

func (l *Layout) anchorSymbol(s *symbol, c *chain) {
	x, y, half := float64(c.x), l.y(s.node), float64(symbolHalf[s.shape])
	if s.shape == cavity {
		up, down := ".b", ".a"
		if s.aAbove {
			up, down = ".a", ".b"
		}
		for wire, t := range []*circuit.Terminal{s.cavity, s.cavity2} {
			if t == nil {
				continue
			}
			dx := 0.0
			if s.cavity2 != nil {
				dx = 2 * l.pairOffset(c, wire+1)
			}
			l.put(t.Name+up, anchor{at: Spot{x + dx, y - 10}, out: -1, twin: true, pair: dx})
			l.put(t.Name+down, anchor{at: Spot{x + dx, y + 10}, out: 1, pin: true, twin: true, pair: dx})
		}
		return
	}
	for i, t := range s.ends {
		out := float64(2*i - 1)
		edge, pin := half-1, Spot{x, y + out*(half-10)}
		if half < 14 { // too low for four points one above the other
			pin = Spot{x + out*9, y + out*3}
		}
		if s.shape == fuse {
			edge = half - 5
		}
		l.put(t.Name, anchor{at: Spot{x, y + out*edge}, out: int(out)})
		l.put(t.Name+".pin", anchor{at: pin, out: int(out), pin: true})
	}
	if s.spare != nil {
		l.put(s.spare.Name+".pin", anchor{at: Spot{x - 14, y + float64(l.spareSide(s))*13}, out: 1, pin: true})
	}
}

// spareSide is 1 where a contact's third terminal stands below, as its fellow does.
func (l *Layout) spareSide(s *symbol) int {
	if s.ends[0].Pin == s.part.Terminal("30").Pin {
		return 1
	}
	return -1
}

func (l *Layout) anchorEnd(e *end) {
	x, y := float64(e.chain.x), l.y(e.hub.node)
	out := -1.0
	if e.top {
		out = 1
	}
	if e.stud != nil {
		if e.other().hub.stud != e.stud { // the rings are on the metal itself
			l.put(e.stud.Name, anchor{at: Spot{x, y - 6}, out: -1})
		}
		l.put(e.stud.Name+".frame", anchor{at: Spot{x, y + 10}, out: 1})
		return
	}
	for wire, t := range []*circuit.Terminal{e.pin, e.pin2} {
		if t == nil {
			continue
		}
		dx := 0.0
		if e.pin2 != nil {
			dx = 2 * l.pairOffset(e.chain, wire+1)
		}
		edge := y + out*float64(l.h.nodes[e.hub.node].down)
		reach := 8.0
		if e.hub.kind == throws {
			reach = 2
		}
		l.put(t.Name, anchor{at: Spot{x + dx, edge + reach*out}, out: int(out), pair: dx})
		l.put(t.Name+".pin", anchor{at: Spot{x + dx, edge - 6*out}, out: int(out), pin: true})
	}
}

// anchorHub places splices and the rings of shared studs.
func (l *Layout) anchorHub(h *hub) {
	if h.kind != junction || len(h.ends) == 0 {
		return
	}
	y := l.y(h.node)
	if h.paired {
		for i, p := range h.places {
			x := l.placeX(h, i)
			for wire, s := range []*circuit.Splice{p.high, p.low} {
				if s != nil {
					at := Spot{x + float64(24*wire-12), laneY(y, wire+1)}
					l.put(s.Name, anchor{at: at})
				}
			}
		}
		return
	}
	a := anchor{at: Spot{l.homeX(h), y}}
	if h.bar { // between its columns, where nothing else is
		a.at.X = l.betweenTaps(h)
	}
	if h.splice != nil {
		l.put(h.splice.Name, a)
	}
	if h.stud != nil {
		if h.splice != nil {
			a.at.Y += 14
		}
		l.put(h.stud.Name, a)
	}
	for _, s := range h.more {
		a.at.X += 14
		l.put(s.Name, a)
	}
}

// betweenTaps is the middle of a bar's widest free piece, or just beyond its end.
func (l *Layout) betweenTaps(h *hub) float64 {
	at := float64(l.slotX[h.span.from]) - 9
	widest := 0
	for s := h.span.from; s < h.span.to; s++ {
		if wide := l.slotX[s+1] - l.slotX[s]; wide > widest {
			widest, at = wide, float64(l.slotX[s]+l.slotX[s+1])/2
		}
	}
	return at
}

// placeX is the middle of a place on a bus.
func (l *Layout) placeX(h *hub, place int) float64 {
	sum, count := 0, 0
	for _, e := range h.ends {
		if e.place == place {
			sum += e.chain.x
			count++
		}
	}
	if count == 0 {
		return float64(l.slotX[h.span.from])
	}
	return float64(sum) / float64(count)
}
