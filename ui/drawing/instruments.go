package drawing

// This file paints what is measured: level gauges and the tags of the two leads.

import (
	"slices"

	"underload/circuit"
)

// gauges paints a gauge left of every point with a level; where asked for, empty ones too.
func (p *painter) gauges() {
	for _, point := range p.l.Circuit.Points() {
		level, known := p.s.Levels[point.Name]
		a, ok := p.l.drawn.anchors[point.Name]
		if !ok || !p.shows(point, known) {
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

// gauge paints the level of a point, and the mark where a healthy circuit's would be.
func (p *painter) gauge(point circuit.Point, a anchor, level Level, known bool) {
	r := p.l.drawn.gauges[point.Name]
	pad := float64(padOf(r))
	x, y, wide, tall := float64(r.x0), float64(r.y0)+pad, float64(r.x1-r.x0)-2*pad, float64(r.y1-r.y0)-2*pad
	frame, fill, width := p.p.line, p.p.ink2, 1.0
	if level.Alert {
		frame, fill, width = p.p.alert, p.p.alert, 2
	}
	p.rect(float64(r.x0), float64(r.y0), float64(r.x1), float64(r.y1), 3, width, frame, p.p.panel, point.Name)
	if !known {
		p.line(1.4, p.p.ink3, point.Name, Spot{x + pad + 1, y + tall/2}, Spot{x + pad + wide - 1, y + tall/2})
		return
	}
	h := tall * max(0, min(1, level.Now))
	p.rect(x+pad, y+tall-h, x+pad+wide, y+tall, 0, 0, 0, fill, point.Name)
	if level.Healthy < 0 {
		return
	}
	tick := y + tall - tall*min(1, level.Healthy)
	right := float64(r.x1)
	p.line(1.4, p.p.ok, point.Name, Spot{x, tick}, Spot{right, tick})
	edge, tip := x-4, x+1
	if a.twin && a.out > 0 || a.pair > 0 { // its left neighbour leaves no room
		edge, tip = right+4, right-1
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

// underGauge reports whether a gauge that is shown covers the words of a wire or pin: they are left out meanwhile.
func (p *painter) underGauge(b label) bool {
	return slices.ContainsFunc(b.under, func(point circuit.Point) bool {
		_, known := p.s.Levels[point.Name]
		return p.shows(point, known)
	})
}

// shows reports whether a point has a gauge: where it was measured, and where empty ones are asked for.
func (p *painter) shows(point circuit.Point, known bool) bool {
	return known || p.s.Gauges && plugged(point)
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
