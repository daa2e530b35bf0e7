package drawing

// This file paints a layout for what is to be shown.

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// painter gathers the shapes of a scene.
type painter struct {
	l      *Layout
	s      Showing
	p      palette
	shapes []Shape
}

// Scene paints the layout. It moves nothing: whatever is shown, everything stands where it stood.
func (l *Layout) Scene(s Showing) *Scene {
	p := &painter{l: l, s: s, p: palettes[s.Theme]}
	p.halos()
	p.glows()
	p.frames()
	p.plugs()
	p.dashes()
	p.wires()
	p.bars()
	p.bridges()
	p.hubs()
	p.symbols()
	p.boxes()
	p.labels()
	p.gauges()
	p.flags()
	p.tags()
	scene := &Scene{Width: float64(l.Width) * l.Zoom, Height: float64(l.Height) * l.Zoom, Ground: p.p.paper, Shapes: p.shapes}
	scene.Hits = l.hits()
	if l.Zoom != 1 {
		scene.magnify(l.Zoom)
		scene.Width, scene.Height = l.Options.Width, l.Options.Height // it fills the window but for roundings
	}
	return scene
}

func (p *painter) add(s Shape) { p.shapes = append(p.shapes, s) }

func (p *painter) line(width float64, colour Colour, of string, spots ...Spot) {
	p.add(Shape{Form: Line, Spots: spots, Stroke: colour, Width: width, Of: of})
}

func (p *painter) circle(x, y, r, width float64, stroke, fill Colour, of string) {
	p.add(Shape{Form: Circle, Spots: []Spot{{x, y}}, Radius: r, Width: width, Stroke: stroke, Fill: fill, Of: of})
}

func (p *painter) rect(x0, y0, x1, y1, radius, width float64, stroke, fill Colour, of string) {
	p.add(Shape{Form: Rect, Spots: []Spot{{x0, y0}, {x1, y1}}, Radius: radius, Width: width, Stroke: stroke, Fill: fill, Of: of})
}

// wireWidth is how thick a wire is drawn: it grows with the logarithm of its current.
func (p *painter) wireWidth(name string) float64 {
	amps, ok := p.s.Amps[name]
	if !ok || amps == 0 {
		return 2.8
	}
	return math.Min(2.6+2.3*math.Log10(1+math.Abs(amps)/0.1), 9)
}

const cornerRadius = 7

// wires paints every wire: casing, colour, stripe.
func (p *painter) wires() {
	order := make([]int, len(p.l.drawn.pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return p.rank(a) - p.rank(b) })
	for _, i := range order {
		piece := p.l.drawn.pieces[i]
		p.wire(piece, piece.path)
	}
}

// rank paints bare metal last, so that it covers wire ends.
func (p *painter) rank(i int) int {
	if p.l.drawn.pieces[i].wire == nil {
		return 1
	}
	return 0
}

func (p *painter) wire(piece piece, path []Spot) {
	if piece.wire == nil {
		width := stroke
		if c := piece.chain; c != nil && len(c.items) == 0 && c.bottom.stud != nil {
			width = 4.5
		}
		p.add(Shape{Form: Line, Spots: path, Radius: cornerRadius, Stroke: p.p.ink, Width: width})
		return
	}
	width := p.wireWidth(piece.wire.Name)
	base, stripe, _ := strings.Cut(piece.wire.Colour, "/")
	colour, known := insulation[base]
	if base == "GNYE" {
		colour, known, stripe = insulation["GN"], true, "YE"
	}
	if !known {
		colour = p.p.ink2
	}
	p.add(Shape{Form: Line, Spots: path, Radius: cornerRadius, Stroke: p.casing(base, known), Width: width + 1.7, Of: piece.wire.Name})
	p.add(Shape{Form: Line, Spots: path, Radius: cornerRadius, Stroke: colour, Width: width, Of: piece.wire.Name})
	if second, ok := insulation[stripe]; ok {
		p.add(Shape{Form: Line, Spots: path, Radius: cornerRadius, Stroke: second, Width: width * 0.42, Dash: []float64{8, 7}, Of: piece.wire.Name})
	}
}

// casing keeps a wire apart from the paper: dark on light paper; light around dark wires on dark paper.
func (p *painter) casing(base string, known bool) Colour {
	if p.s.Theme == Dark {
		if base == "BK" || base == "BN" || base == "VT" {
			return rgb(0x8D97A3)
		}
		return p.p.paper
	}
	if !known {
		return p.p.paper
	}
	return rgb(0x2B2F36)
}

// halos paints the selected path under everything.
func (p *painter) halos() {
	for _, piece := range p.l.drawn.pieces {
		if piece.wire != nil && (p.s.Path[piece.wire.Name] || p.s.Selected == piece.wire.Name) {
			p.add(Shape{Form: Line, Spots: piece.path, Radius: cornerRadius, Stroke: p.p.halo, Width: p.wireWidth(piece.wire.Name) + 12, Round: true, Of: piece.wire.Name})
		}
	}
	for _, c := range p.l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && (p.s.Path[s.name] || p.s.Selected == s.name) {
				x, y, half := float64(c.x), p.l.y(s.node), float64(symbolHalf[s.shape])
				left, right := s.halfWidth()
				p.rect(x-float64(left)-6, y-half-6, x+float64(right)+6, y+half+6, 8, 0, 0, p.p.halo, s.name)
			}
		}
	}
	for _, h := range p.l.net.hubs {
		if r, ok := p.l.drawn.boxes[h]; ok && (p.s.Path[h.name] || p.s.Selected == h.name) {
			p.rect(float64(r.x0-6), float64(r.y0-6), float64(r.x1+6), float64(r.y1+6), 9, 0, 0, p.p.halo, h.name)
		}
	}
}

// glows paints the light of lamps under wires and words, and not as far as their names.
func (p *painter) glows() {
	for _, c := range p.l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.shape == lamp && p.s.Lit[s.part.Name] > brightly {
				p.circle(float64(c.x), p.l.y(s.node), 23, 0, 0, p.p.lampDim, s.name)
			}
		}
	}
}

// brightly is the light above which a lamp glows.
const brightly = 0.6

// frames paints the frame: a strong line with hatching below.
func (p *painter) frames() {
	for _, b := range p.l.drawn.bars {
		if b.hub.kind != frame && b.hub.kind != plate {
			continue
		}
		if b.hub.kind == frame {
			for x := b.from + 4; x < b.to-4; x += 12 {
				p.line(1, p.p.ink2, "", Spot{x + 6, b.y + 3}, Spot{x, b.y + 10})
			}
		}
		p.line(5, p.p.ink2, "", Spot{b.from, b.y}, Spot{b.to, b.y})
	}
}

// bars paints the plates of splices that lie open.
func (p *painter) bars() {
	for _, b := range p.l.drawn.bars {
		if b.hub.kind == junction {
			p.add(Shape{Form: Line, Spots: []Spot{{b.from, b.y}, {b.to, b.y}}, Stroke: p.p.ink, Width: 5, Round: true, Of: b.hub.name})
		}
	}
}

// plugs outlines connectors.
func (p *painter) plugs() {
	for _, plug := range p.l.drawn.plugs {
		r := plug.outline
		s := Shape{Form: Rect, Spots: []Spot{{float64(r.x0) + 0.5, float64(r.y0) + 0.5}, {float64(r.x1) + 0.5, float64(r.y1) + 0.5}},
			Radius: 4, Stroke: p.p.ink2, Width: 1, Dash: []float64{3, 3}, Of: plug.name}
		if p.s.Selected == plug.name {
			s.Stroke, s.Width = p.p.accent, 2
		}
		p.add(s)
	}
}

func (p *painter) dashes() {
	for _, line := range p.l.drawn.dashes {
		p.add(Shape{Form: Line, Spots: line, Radius: cornerRadius, Stroke: p.p.ink2, Width: 1.3, Dash: []float64{5, 4}})
	}
}

// bridges lifts a column over each line that it crosses without touching it.
func (p *painter) bridges() {
	for _, c := range p.l.drawn.crossings {
		over := p.l.drawn.pieces[c.column]
		width := stroke
		if over.wire != nil {
			width = p.wireWidth(over.wire.Name) + 1.7
		}
		path := []Spot{{c.at.X, c.at.Y - 8}, {c.at.X, c.at.Y + 8}}
		p.add(Shape{Form: Line, Spots: []Spot{{c.at.X, c.at.Y - 7}, {c.at.X, c.at.Y + 7}}, Stroke: p.p.paper, Width: width + 6})
		p.wire(over, path)
	}
}

// hubs paints splices and the rings of studs.
func (p *painter) hubs() {
	for _, h := range p.l.net.hubs {
		if h.kind != junction || len(h.ends) == 0 {
			continue
		}
		if h.paired {
			p.busDots(h)
			continue
		}
		if h.bar {
			continue
		}
		x, y, half := p.l.homeX(h), p.l.y(h.node), float64(h.lanes.half()-6)
		if half > 0 {
			p.add(Shape{Form: Line, Spots: []Spot{{x, y - half}, {x, y + half}}, Stroke: p.p.ink, Width: 8, Round: true, Of: h.name})
		} else {
			p.circle(x, y, 5, 0, 0, p.p.ink, h.name)
		}
	}
	for _, c := range p.l.net.chains {
		for _, it := range c.items {
			if it.splice != nil {
				p.circle(float64(c.x), p.l.y(it.node), 5, 0, 0, p.p.ink, it.splice.Name)
			}
		}
		for _, e := range []*end{c.top, c.bottom} {
			if e.stud != nil {
				p.stud(float64(c.x), p.l.y(e.hub.node), e.stud.Name)
			} else if e.hub.kind == plate || e.hub.kind == junction && e.hub.bar && e != c.top {
				p.circle(float64(c.x), p.l.y(e.hub.node), 4, 1.8, p.p.ink, p.p.panel, e.hub.name)
			}
		}
	}
}

// busDots marks where wires leave the two wires of a bus.
func (p *painter) busDots(h *hub) {
	for _, e := range h.ends {
		for wire := 1; wire <= 2; wire++ {
			if e.lane != 0 && e.lane != wire || e.chain.paired && (e.chain.slot == h.span.from || e.chain.slot == h.span.to) {
				continue
			}
			x := float64(e.chain.x)
			if e.chain.paired {
				x += p.l.pairOffset(e.chain, wire)
			}
			p.circle(x, laneY(p.l.y(h.node), wire), 3.6, 0, 0, p.p.ink, h.name)
		}
	}
}

// stud paints a ring on the metal, and the ground sign below.
func (p *painter) stud(x, y float64, of string) {
	p.circle(x, y, 6, 2, p.p.ink, p.p.panel, of)
	p.circle(x, y, 2, 0, 0, p.p.ink, of)
	for i, half := range []float64{13, 8.5, 4} {
		p.line(1.8, p.p.ink, of, Spot{x - half, y + 12.5 + 5*float64(i)}, Spot{x + half, y + 12.5 + 5*float64(i)})
	}
}

// labels paints all words.
func (p *painter) labels() {
	for _, line := range p.l.drawn.leaders {
		p.line(1, p.p.ink3, "", line[0], line[1])
	}
	for _, b := range p.l.drawn.labels {
		if p.underTag(b) || p.underGauge(b) {
			continue
		}
		colour, words := p.p.ink, b.words
		if b.soft {
			colour = p.p.ink2
		}
		if b.live {
			words = p.stateWords(b)
		}
		p.add(Shape{Form: Text, Spots: []Spot{{b.x, b.y}}, Words: words, Size: b.size, Bold: b.bold, Anchor: b.anchor, Fill: colour, Of: b.of})
	}
}

// stateWords is the position of a switch, or how a relay stands.
func (p *painter) stateWords(b label) string {
	if b.part.Kind.Name == "relay" {
		if p.s.PulledIn[b.part.Name] {
			return "in"
		}
		return "at rest"
	}
	return p.position(b.part.Name, positions(b.part))
}

func (p *painter) position(name string, all []string) string {
	if at, ok := p.s.Positions[name]; ok && slices.Contains(all, at) {
		return at
	}
	return all[0]
}

// magnify scales a scene.
func (s *Scene) magnify(by float64) {
	for i := range s.Shapes {
		sh := &s.Shapes[i]
		spots := make([]Spot, len(sh.Spots))
		for j, at := range sh.Spots {
			spots[j] = Spot{at.X * by, at.Y * by}
		}
		sh.Spots = spots
		sh.Radius *= by
		sh.Width *= by
		sh.Size *= by
		dash := make([]float64, len(sh.Dash))
		for j, d := range sh.Dash {
			dash[j] = d * by
		}
		sh.Dash = dash
	}
	for i := range s.Hits {
		s.Hits[i].At.X *= by
		s.Hits[i].At.Y *= by
		s.Hits[i].W *= by
		s.Hits[i].H *= by
	}
}

// flags paints what tells at a cut where a line goes on.
func (p *painter) flags() {
	flags := p.l.flags()
	slices.SortStableFunc(flags, func(a, b cutFlag) int {
		if a.x != b.x {
			return int(a.x - b.x)
		}
		if a.right != b.right {
			if a.right {
				return -1
			}
			return 1
		}
		return int(a.y - b.y)
	})
	last := cutFlag{y: -100}
	for _, f := range flags {
		y := f.y
		if f.x == last.x && f.right == last.right {
			y = max(y, last.y+20)
		}
		last = f
		last.y = y
		words := p.flagWords(f)
		wide := textWidth(words, detailSize, true) + 14
		x0, x1 := f.x+5, f.x+5+wide
		spots := []Spot{{x0, y - 9}, {x1 - 6, y - 9}, {x1, y}, {x1 - 6, y + 9}, {x0, y + 9}}
		if f.right {
			x0, x1 = f.x-5-wide, f.x-5
			spots = []Spot{{x1, y - 9}, {x0 + 6, y - 9}, {x0, y}, {x0 + 6, y + 9}, {x1, y + 9}}
		}
		p.add(Shape{Form: Area, Spots: spots, Stroke: p.p.line, Width: 1.2, Fill: p.p.panel, Of: f.hub.name})
		p.add(Shape{Form: Text, Spots: []Spot{{(x0 + x1) / 2, y + 4.5}}, Words: words, Size: detailSize, Bold: true, Anchor: Middle, Fill: p.p.ink, Of: f.hub.name})
	}
}

// flagWords names a cut line and the sheet it goes on to.
func (p *painter) flagWords(f cutFlag) string {
	name := f.hub.name
	if name == "" && len(f.hub.terminals) > 0 {
		name = f.hub.terminals[0].Owner
	}
	if len(f.hub.places) > 0 && f.hub.places[0].high != nil {
		name = f.hub.places[0].high.Name
	}
	name = Shorten(name, detailSize, true, flagRoom-32)
	if f.right {
		return fmt.Sprintf("%s ›%d", name, f.to)
	}
	return fmt.Sprintf("%s ‹%d", name, f.to)
}
