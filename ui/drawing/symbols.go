package drawing

// This file paints the symbols of parts.

import "underload/circuit"

const stroke = 1.8

func (p *painter) symbols() {
	for _, c := range p.l.net.chains {
		for _, it := range c.items {
			if it.symbol != nil {
				p.symbol(it.symbol, float64(c.x), p.l.y(it.symbol.node))
			}
		}
	}
}

func (p *painter) symbol(s *symbol, x, y float64) {
	ink, fill, of := p.p.ink, p.p.panel, s.name
	switch s.shape {
	case fuse:
		p.fuse(s, x, y)
	case fusibleLink:
		p.rect(x-7, y-16, x+7, y+16, 7, stroke, ink, fill, of)
		p.line(stroke, ink, of, Spot{x, y - 16}, Spot{x, y + 16})
	case contact:
		p.contact(s, x, y)
	case coil:
		p.rect(x-19, y-10, x+19, y+10, 0, stroke, ink, fill, of)
		p.line(stroke, ink, of, Spot{x - 7, y + 10}, Spot{x + 7, y - 10})
	case lamp:
		p.lamp(s, x, y)
	case motor, generator:
		letter := "M"
		if s.shape == generator {
			letter = "G"
		}
		p.circle(x, y, 21, stroke, ink, fill, of)
		p.add(Shape{Form: Text, Spots: []Spot{{x, y + 6}}, Words: letter, Size: 17, Bold: true, Anchor: Middle, Fill: ink, Of: of})
	case heater:
		p.rect(x-9, y-19, x+9, y+19, 0, stroke, ink, fill, of)
		for _, dy := range []float64{-9.5, 0, 9.5} {
			p.line(1.4, ink, of, Spot{x - 9, y + dy}, Spot{x + 9, y + dy})
		}
	case resistor, terminator:
		p.rect(x-8, y-19, x+8, y+19, 0, stroke, ink, fill, of)
	case diode, led:
		p.diode(s, x, y)
	case battery:
		p.battery(s, x, y)
	case cavity:
		p.cavity(s, x, y)
	}
}

func (p *painter) fuse(s *symbol, x, y float64) {
	ink, of := p.p.ink, s.name
	if p.s.Out[s.part.Name] {
		p.add(Shape{Form: Rect, Spots: []Spot{{x - 7, y - 16}, {x + 7, y + 16}}, Stroke: p.p.ink2, Width: 1.4, Dash: []float64{4, 3}, Fill: p.p.paper, Of: of})
		return
	}
	p.rect(x-7, y-16, x+7, y+16, 0, stroke, ink, p.p.panel, of)
	if p.s.Blown[s.part.Name] {
		p.line(stroke, ink, of, Spot{x, y - 16}, Spot{x, y - 6})
		p.line(stroke, ink, of, Spot{x, y + 6}, Spot{x, y + 16})
		p.line(stroke, p.p.alert, of, Spot{x - 4, y - 4}, Spot{x + 4, y + 4})
		p.line(stroke, p.p.alert, of, Spot{x + 4, y - 4}, Spot{x - 4, y + 4})
		return
	}
	p.line(stroke, ink, of, Spot{x, y - 16}, Spot{x, y + 16})
}

// closed reports whether a contact joins its two ends.
func (p *painter) closed(part *circuit.Part, a, b string) bool {
	if p.s.Apart[part.Name] {
		return false
	}
	if part.Kind.Name == "relay" {
		rest := part.Terminal("87a")
		return p.s.PulledIn[part.Name] != (rest != nil && (rest.Pin == a || rest.Pin == b))
	}
	now := p.position(part.Name, positions(part))
	for _, throw := range part.Throws {
		if throw.Name != now {
			continue
		}
		for _, pair := range throw.Pairs {
			if pair == [2]string{a, b} || pair == [2]string{b, a} {
				return true
			}
		}
	}
	return false
}

func (p *painter) contact(s *symbol, x, y float64) {
	ink, of := p.p.ink, s.name
	p.line(stroke, ink, of, Spot{x, y - 15}, Spot{x, y - 10})
	p.line(stroke, ink, of, Spot{x, y + 10}, Spot{x, y + 15})
	side := -1.0 // where the blade's free end is
	if s.spare != nil {
		side = float64(p.l.spareSide(s))
		p.line(stroke, ink, of, Spot{x - 12, y + side*15}, Spot{x - 12, y + side*10})
	}
	if p.closed(s.part, s.ends[0].Pin, s.ends[1].Pin) {
		p.line(stroke+0.4, ink, of, Spot{x, y - 8}, Spot{x, y + 8})
		if s.spare != nil { // the blade has left it
			p.circle(x-12, y+side*8.5, 2, stroke, ink, p.p.panel, of)
		}
	} else {
		p.line(stroke+0.4, ink, of, Spot{x, y - side*8}, Spot{x - 11, y + side*9})
	}
	p.circle(x, y-10, 2.8, stroke, ink, p.p.panel, of)
	p.circle(x, y+10, 2.8, stroke, ink, p.p.panel, of)
}

func (p *painter) lamp(s *symbol, x, y float64) {
	fill := p.p.panel
	if lit := p.s.Lit[s.part.Name]; lit > brightly {
		fill = p.p.lampHot
	} else if lit > 0.02 {
		fill = p.p.lampDim
	}
	p.circle(x, y, 18, stroke, p.p.ink, fill, s.name)
	const d = 12.7
	p.line(stroke, p.p.ink, s.name, Spot{x - d, y - d}, Spot{x + d, y + d})
	p.line(stroke, p.p.ink, s.name, Spot{x - d, y + d}, Spot{x + d, y - d})
}

// diode points the way current passes: from its in terminal to its out terminal.
func (p *painter) diode(s *symbol, x, y float64) {
	ink, of, half := p.p.ink, s.name, 10.0
	dir := 1.0
	if s.ends[0] == s.part.Terminals[1] {
		dir = -1
	}
	reach := float64(symbolHalf[s.shape])
	p.line(stroke, ink, of, Spot{x, y - reach}, Spot{x, y + reach})
	fill := p.p.panel
	if s.shape == led && p.s.Lit[s.part.Name] > 0.02 {
		fill = p.p.lampHot
	}
	p.add(Shape{Form: Area, Spots: []Spot{{x - half, y - dir*8}, {x + half, y - dir*8}, {x, y + dir*8}}, Stroke: ink, Width: stroke, Fill: fill, Of: of})
	p.line(stroke+0.4, ink, of, Spot{x - half, y + dir*8}, Spot{x + half, y + dir*8})
	if s.shape == led {
		for _, dy := range []float64{-5, 2} {
			p.line(1.3, ink, of, Spot{x + 9, y + dy}, Spot{x + 15, y + dy - 6})
			p.add(Shape{Form: Area, Spots: []Spot{{x + 15.5, y + dy - 6.5}, {x + 11.5, y + dy - 5.5}, {x + 14.5, y + dy - 2.5}}, Fill: ink, Of: of})
		}
	}
}

func (p *painter) battery(s *symbol, x, y float64) {
	ink, of := p.p.ink, s.name
	up := 1.0
	if s.ends[0] != s.part.Terminals[0] {
		up = -1
	}
	p.line(stroke, ink, of, Spot{x, y - 20}, Spot{x, y - 15})
	p.line(stroke, ink, of, Spot{x, y + 15}, Spot{x, y + 20})
	for i, dy := range []float64{-15, -5, 5, 15} {
		if i%2 == 0 {
			p.line(stroke, ink, of, Spot{x - 20, y + up*dy}, Spot{x + 20, y + up*dy})
		} else {
			p.line(4.5, ink, of, Spot{x - 10, y + up*dy}, Spot{x + 10, y + up*dy})
		}
	}
	p.line(1.6, ink, of, Spot{x - 33, y - up*16}, Spot{x - 25, y - up*16})
	p.line(1.6, ink, of, Spot{x - 29, y - up*16 - 4}, Spot{x - 29, y - up*16 + 4})
	p.line(1.6, ink, of, Spot{x - 33, y + up*16}, Spot{x - 25, y + up*16})
}

// cavity is a pin above a cup; a spread cup is wide. Pulled apart they stand off each other.
func (p *painter) cavity(s *symbol, x, y float64) {
	offsets := []float64{0}
	if s.cavity2 != nil {
		offsets = []float64{-pairHalf, pairHalf}
	}
	gap := 0.0
	if p.s.Apart[s.cavity.Owner] {
		gap = 4
	}
	r := 6.5
	if s.cavity2 != nil {
		r = 3.8
	} else if p.s.Bad[s.name] {
		r = 10
	}
	for _, dx := range offsets {
		p.line(4.2, p.p.ink, s.name, Spot{x + dx, y - 12}, Spot{x + dx, y - gap})
		p.cup(x+dx, y+1+gap, r, 1, s.name)
		p.line(2.6, p.p.ink, s.name, Spot{x + dx, y + 1 + gap + r}, Spot{x + dx, y + 12})
	}
}

// cup is half a ring: the female terminal. out is 1 where its wire leaves downward.
func (p *painter) cup(x, y, r, out float64, of string) {
	from, to := 0.0, 180.0
	if out < 0 {
		from, to = 180, 360
	}
	p.add(Shape{Form: Arc, Spots: []Spot{{x, y}}, Radius: r, From: from, To: to, Stroke: p.p.ink, Width: 2, Of: of})
}
