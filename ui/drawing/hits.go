package drawing

// This file makes the boxes that a pointer or finger can hit.

// hits lists hit boxes: every point of the circuit, once more the studs that are drawn more than once, then parts, then
// wires.
func (l *Layout) hits() []Hit {
	size := 36.0
	if l.Options.Touch {
		size = 44
	}
	size /= l.Zoom // as large in a drawing that is magnified
	var hits []Hit
	for _, point := range l.Circuit.Points() {
		if a, ok := l.drawn.anchors[point.Name]; ok {
			hits = append(hits, Hit{OnPoint, point.Name, a.at, size, size})
		}
	}
	for _, h := range l.drawn.again {
		h.W, h.H = size, size
		hits = append(hits, h)
	}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.part != nil {
				left, right := s.halfWidth()
				hits = append(hits, Hit{OnPart, s.name, Spot{float64(c.x), l.y(s.node)}, max(size, float64(left+right)), max(size, 2*float64(symbolHalf[s.shape]))})
			}
		}
	}
	for _, h := range l.net.hubs {
		if r, ok := l.drawn.boxes[h]; ok {
			hits = append(hits, Hit{OnPart, h.name, Spot{float64(r.x0+r.x1) / 2, float64(r.y0+r.y1) / 2}, float64(r.x1 - r.x0), float64(r.y1 - r.y0)})
		}
	}
	for _, p := range l.drawn.pieces {
		if p.wire == nil {
			continue
		}
		for i := 1; i < len(p.path); i++ {
			a, b := p.path[i-1], p.path[i]
			w, h := max(a.X, b.X)-min(a.X, b.X), max(a.Y, b.Y)-min(a.Y, b.Y)
			hits = append(hits, Hit{OnWire, p.wire.Name, Spot{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, max(w, 10), max(h, 10)})
		}
	}
	return hits
}
