package drawing

// This file paints boxes: modules, sensors, sockets, and switches with several terminals.

func (p *painter) boxes() {
	for _, h := range p.l.net.hubs {
		r, ok := p.l.drawn.boxes[h]
		if !ok {
			continue
		}
		if h.kind == throws {
			p.throws(h, r)
			continue
		}
		apart := p.s.Apart[h.name]
		for _, e := range h.ends {
			p.pin(e, apart)
		}
		s := Shape{Form: Rect, Spots: []Spot{{float64(r.x0), float64(r.y0)}, {float64(r.x1), float64(r.y1)}}, Radius: 4, Stroke: p.p.ink, Fill: p.p.panel,
			Width: stroke, Of: h.name}
		if h.satellite {
			s.Radius = 10
		}
		if apart {
			s.Dash = []float64{7, 5}
		}
		if p.s.Selected == h.name {
			s.Stroke, s.Width = p.p.accent, 2.4
		}
		p.add(s)
	}
}

// pin paints one pin of a box and the cup on its wire.
func (p *painter) pin(e *end, apart bool) {
	y, out := p.l.y(e.hub.node), -1.0
	if e.top {
		out = 1
	}
	edge := y + out*float64(p.l.h.nodes[e.hub.node].down)
	offsets := []float64{0}
	r := 6.5
	if e.chain.paired {
		offsets, r = []float64{-pairHalf, pairHalf}, 3.8
	}
	for _, dx := range offsets {
		x := float64(e.chain.x) + dx
		if e.other().hub.kind == open && len(e.chain.items) == 0 {
			p.line(4.2, p.p.ink, e.pin.Name, Spot{x, edge}, Spot{x, edge + 6*out})
			continue
		}
		if apart {
			p.line(4.2, p.p.ink, e.pin.Name, Spot{x, edge}, Spot{x, edge + 4*out})
			p.cup(x, edge+13*out, r, out, e.pin.Name)
			continue
		}
		p.line(4.2, p.p.ink, e.pin.Name, Spot{x, edge}, Spot{x, edge + 9*out})
		p.cup(x, edge+7*out, r, out, e.pin.Name)
		p.line(2.6, p.p.ink, e.pin.Name, Spot{x, edge + 7*out}, Spot{x, edge + 13*out})
	}
}

// throws paints the contacts of a switch, or of a change-over relay, between its terminals.
func (p *painter) throws(h *hub, r rect) {
	s := Shape{Form: Rect, Spots: []Spot{{float64(r.x0), float64(r.y0)}, {float64(r.x1), float64(r.y1)}}, Radius: 4, Stroke: p.p.ink2, Fill: p.p.paper, Width: 1.2, Of: h.name}
	if p.s.Apart[h.name] {
		s.Dash = []float64{7, 5}
	}
	if p.s.Selected == h.name {
		s.Stroke, s.Width = p.p.accent, 2.4
	}
	p.add(s)
	common := h.common()
	for _, e := range h.ends {
		if e.pin.Pin == common {
			p.contacts(h, r, e)
		}
	}
}

// contacts paints the bar behind the common terminal, and a blade for each other one.
func (p *painter) contacts(h *hub, r rect, bar *end) {
	y, ink := p.l.y(h.node), p.p.ink
	side := 1.0 // contacts lie below the bar
	if bar.top {
		side = -1
	}
	rail := y - side*12
	edge := float64(r.y0)
	if bar.top {
		edge = float64(r.y1)
	}
	bx := float64(bar.chain.x)
	p.line(stroke, ink, h.name, Spot{bx, edge}, Spot{bx, rail})
	from, to := bx, bx
	for _, e := range h.ends {
		if e == bar {
			continue
		}
		x := float64(e.chain.x)
		joined := p.closed(h.part, bar.pin.Pin, e.pin.Pin)
		if e.top == bar.top { // on the bar's own side: its wire passes the bar
			p.throwBack(e, rail, side, joined, h.name)
			from, to = min(from, x+12), max(to, x+12)
			continue
		}
		from, to = min(from, x), max(to, x)
		far := float64(r.y0+r.y1) - edge
		p.line(stroke, ink, h.name, Spot{x, far}, Spot{x, y + side*10})
		if joined {
			p.line(stroke+0.4, ink, h.name, Spot{x, rail}, Spot{x, y + side*10})
		} else {
			p.line(stroke+0.4, ink, h.name, Spot{x, y + side*10}, Spot{x - 10, rail + side*5})
		}
		p.circle(x, y+side*10, 2.8, stroke, ink, p.p.panel, h.name)
	}
	p.line(2.6, ink, h.name, Spot{from, rail}, Spot{to, rail})
	for _, e := range h.ends {
		if e != bar && e.top != bar.top {
			p.circle(float64(e.chain.x), rail, 2.2, 0, 0, ink, h.name)
		}
	}
}

// throwBack paints a contact whose terminal is on the same side as the bar.
func (p *painter) throwBack(e *end, rail, side float64, joined bool, of string) {
	x, y, ink := float64(e.chain.x), p.l.y(e.hub.node), p.p.ink
	edge := y - side*float64(p.l.h.nodes[e.hub.node].up)
	low := y + side*10
	p.line(stroke, ink, of, Spot{x, edge}, Spot{x, low})
	p.line(stroke, ink, of, Spot{x, low}, Spot{x + 12, low})
	if joined {
		p.line(stroke+0.4, ink, of, Spot{x + 12, low}, Spot{x + 12, rail})
	} else {
		p.line(stroke+0.4, ink, of, Spot{x + 12, low}, Spot{x + 4, rail + side*5})
	}
	p.circle(x+12, low, 2.8, stroke, ink, p.p.panel, of)
}

// common is the terminal that most contacts lead to.
func (h *hub) common() string {
	count := map[string]int{}
	best := ""
	for _, pair := range h.pairs {
		for _, pin := range pair {
			if count[pin]++; best == "" || count[pin] > count[best] {
				best = pin
			}
		}
	}
	return best
}
