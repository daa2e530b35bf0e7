package drawing

// This file gathers what words must keep clear of.

// obstacles gathers symbols, boxes and wires.
func (l *Layout) obstacles() *layer {
	o := &layer{}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if it.symbol != nil {
				l.symbolObstacles(o, it.symbol)
			}
		}
		l.endObstacles(o, c.top)
		l.endObstacles(o, c.bottom)
	}
	for _, point := range l.Circuit.Points() {
		if a, ok := l.drawn.anchors[point.Name]; ok && plugged(point) {
			o.tools = append(o.tools, l.gaugeRect(a, false).withTicks())
		}
	}
	for _, r := range l.drawn.boxes {
		o.solid = append(o.solid, r.grown(2))
	}
	for _, f := range l.flags() {
		r := rect{int(f.x), int(f.y) - 11, int(f.x) + flagRoom, int(f.y) + 11}
		if f.right {
			r.x0, r.x1 = r.x0-flagRoom, r.x0
		}
		o.solid = append(o.solid, r)
	}
	l.lineObstacles(o)
	return o
}

// symbolObstacles are a symbol, and the room kept beside an in-line terminal.
func (l *Layout) symbolObstacles(o *layer, s *symbol) {
	x, y, half := s.chain.x, l.h.at(s.node), symbolHalf[s.shape]
	left, right := s.halfWidth()
	o.solid = append(o.solid, rect{x - left, y - half, x + right, y + half})
	if s.shape == cavity {
		o.soft = append(o.soft, rect{x, y - 40, x + tagRoom, y - 16}, rect{x, y + 16, x + tagRoom, y + 40}, rect{x - gaugeRoom - 8, y - 16, x, y + 16})
	}
}

// endObstacles are a pin with the room kept beside it, and a stud.
func (l *Layout) endObstacles(o *layer, e *end) {
	x, y := e.chain.x, l.h.at(e.hub.node)
	if e.hub.kind == module && e.pin != nil {
		out := -1
		if e.top {
			out = 1
		}
		edge := y + out*l.h.nodes[e.hub.node].down
		o.solid = append(o.solid, rect{x - 8, min(edge, edge+16*out), x + 8, max(edge, edge+16*out)})
		o.soft = append(o.soft, rect{x, min(edge+20*out, edge+44*out), x + tagRoom, max(edge+20*out, edge+44*out)},
			rect{x - gaugeRoom, min(edge, edge+36*out), x, max(edge, edge+36*out)})
	}
	if e.stud != nil {
		o.solid = append(o.solid, rect{x - 14, y - 7, x + 14, y + 24})
	}
}

// lineObstacles are wires, plates, dashes, and the outlines of connectors: words may stand inside of those.
func (l *Layout) lineObstacles(o *layer) {
	for _, p := range l.drawn.plugs {
		r := p.outline
		o.wires = append(o.wires, rect{r.x0 - 1, r.y0 - 1, r.x1 + 1, r.y0 + 2}, rect{r.x0 - 1, r.y1 - 2, r.x1 + 1, r.y1 + 1},
			rect{r.x0 - 1, r.y0, r.x0 + 2, r.y1}, rect{r.x1 - 2, r.y0, r.x1 + 1, r.y1})
	}
	for _, p := range l.drawn.pieces {
		for i := 1; i < len(p.path); i++ {
			a, b := p.path[i-1], p.path[i]
			o.wires = append(o.wires, rect{int(min(a.X, b.X)) - 3, int(min(a.Y, b.Y)) - 3, int(max(a.X, b.X)) + 4, int(max(a.Y, b.Y)) + 4})
		}
	}
	for _, b := range l.drawn.bars {
		o.wires = append(o.wires, rect{int(b.from) - 4, int(b.y) - 5, int(b.to) + 4, int(b.y) + 5})
	}
	for _, d := range l.drawn.dashes {
		for i := 1; i < len(d); i++ {
			a, b := d[i-1], d[i]
			o.wires = append(o.wires, rect{int(min(a.X, b.X)) - 1, int(min(a.Y, b.Y)) - 2, int(max(a.X, b.X)) + 1, int(max(a.Y, b.Y)) + 2})
		}
	}
}
