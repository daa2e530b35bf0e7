package drawing

// This file paints what is measured: level gauges and the tags of the two leads, in the room kept for them.

import "underload/circuit"

// gauges paints a gauge left of every point with a level; where asked for, empty ones too.
func (p *painter) gauges() {
	for _, point := range p.l.Circuit.Points() {
		level, known := p.s.Levels[point.Name]
		a, ok := p.l.drawn.anchors[point.Name]
		if !ok || !known && (!p.s.Gauges || !plugged(point)) {
			continue
		}
		p.gauge(point, a, level, known)
	}
}

// plugged reports whether a point belongs to an in-line terminal or a module's plug.
func plugged(point circuit.Point) bool {
	t := point.Terminal
	return t != nil && (t.Inline || point.Part != nil && point.Part.Module != nil && point.Side == circuit.Harness)
}

// gauge stands left of its terminal; the two sides of an in-line terminal stand side by side, the upper side on the left.
func (p *painter) gauge(point circuit.Point, a anchor, level Level, known bool) {
	const wide, pad = 8.0, 3.0
	x, y, tall := a.at.X-9-wide-2*pad, a.at.Y, 24.0
	if a.twin {
		tall = 2*float64(p.l.plugHalf()) - 8
		y -= float64(a.out) * 10
		if a.out < 0 {
			x -= wide + 2*pad
		}
	} else {
		y += float64(a.out) * 10
	}
	y -= tall / 2
	frame, fill, width := p.p.line, p.p.ink2, 1.0
	if level.Alert {
		frame, fill, width = p.p.alert, p.p.alert, 2
	}
	p.rect(x, y-pad, x+wide+2*pad, y+tall+pad, 3, width, frame, p.p.panel, point.Name)
	if !known {
		p.line(1.4, p.p.ink3, point.Name, Spot{x + pad + 1, y + tall/2}, Spot{x + pad + wide - 1, y + tall/2})
		return
	}
	h := tall * max(0, min(1, level.Now))
	p.rect(x+pad, y+tall-h, x+pad+wide, y+tall, 0, 0, 0, fill, point.Name)
	tick := y + tall - tall*max(0, min(1, level.Healthy))
	p.line(1.4, p.p.ok, point.Name, Spot{x, tick}, Spot{x + wide + 2*pad, tick})
	edge, tip := x-4, x+1
	if a.twin && a.out > 0 { // its left neighbour leaves no room
		edge, tip = x+wide+2*pad+4, x+wide+2*pad-1
	}
	p.add(Shape{Form: Area, Spots: []Spot{{edge, tick - 3.5}, {edge, tick + 3.5}, {tip, tick}}, Fill: p.p.ok, Of: point.Name})
}

// tagSpot is where the point of a lead's tag stands.
func (a anchor) tagSpot() Spot {
	s := Spot{a.at.X + 7, a.at.Y}
	if a.twin || a.out != 0 && !a.pin {
		s.Y += float64(a.out) * 18
	}
	return s
}

// underTag reports whether a lead's tag covers words: they are left out for as long as it is there.
func (p *painter) underTag(b label) bool {
	if b.kind != "wire" && b.kind != "pin" {
		return false
	}
	for _, name := range []string{p.s.LeadA, p.s.LeadB} {
		if a, ok := p.l.drawn.anchors[name]; ok {
			at := a.tagSpot()
			if b.box().meets(rect{int(at.X), int(at.Y) - 9, int(at.X) + 28, int(at.Y) + 9}) {
				return true
			}
		}
	}
	return false
}

// tags paints the leads: A solid and pointed, B outlined and notched.
func (p *painter) tags() {
	for i, name := range []string{p.s.LeadA, p.s.LeadB} {
		a, ok := p.l.drawn.anchors[name]
		if !ok {
			continue
		}
		x, y := a.tagSpot().X, a.tagSpot().Y
		shape := Shape{Form: Area, Width: 2, Stroke: p.p.accent, Of: name}
		words, colour := "A", p.p.accentText
		if i == 0 {
			shape.Spots = []Spot{{x, y}, {x + 8, y - 9}, {x + 28, y - 9}, {x + 28, y + 9}, {x + 8, y + 9}}
			shape.Fill = p.p.accent
		} else {
			words, colour = "B", p.p.accent
			shape.Spots = []Spot{{x, y - 9}, {x + 28, y - 9}, {x + 28, y + 9}, {x, y + 9}, {x + 7, y}}
			shape.Fill = p.p.panel
		}
		p.line(2, p.p.accent, name, a.at, Spot{x, y})
		p.circle(a.at.X, a.at.Y, 3, 0, 0, p.p.accent, name)
		p.add(shape)
		p.add(Shape{Form: Text, Spots: []Spot{{x + 18, y + 4.5}}, Words: words, Size: 13, Bold: true, Anchor: Middle, Fill: colour, Of: name})
	}
}
