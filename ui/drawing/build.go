package drawing

// This file cuts a circuit into columns and hubs.

import (
	"slices"

	"underload/circuit"
)

// arm is one thing that hangs on a spot: an end of a wire or symbol, a pin of a box, or the metal of a stud.
type arm struct {
	wire   *circuit.Wire
	symbol *symbol
	box    *hub
	metal  *hub // frame or plate
	stud   *circuit.Stud
	pin    *circuit.Terminal
	far    int // the spot on the other side; wires and symbols
	second bool
}

// builder gathers what hangs where.
type builder struct {
	*net
	arms    [][]arm
	hubAt   []*hub
	splices map[int][]*circuit.Splice
	studs   map[int]*circuit.Stud
	metalOf map[string]*hub
	done    map[any]bool
}

// build cuts the circuit up.
func build(c *circuit.Circuit) *net {
	b := &builder{net: &net{circuit: c}, arms: make([][]arm, c.Spots), splices: map[int][]*circuit.Splice{},
		studs: map[int]*circuit.Stud{}, metalOf: map[string]*hub{}, done: map[any]bool{}}
	for _, s := range c.Splices {
		b.splices[int(s.Spot)] = append(b.splices[int(s.Spot)], s)
	}
	b.metal()
	for _, p := range c.Parts {
		b.part(p)
	}
	for _, k := range c.Connectors {
		for _, t := range k.Cavities {
			b.symbol(&symbol{shape: cavity, name: t.Name, cavity: t, ends: [2]*circuit.Terminal{t, t}, aAbove: true}, t.Spot, t.FarSpot)
		}
	}
	for _, w := range c.Wires {
		b.both(arm{wire: w}, int(w.From.Spot), int(w.To.Spot))
	}
	b.junctions()
	b.trace()
	b.findSource()
	return b.net
}

// spot gives a spot, or a new one where a terminal has none.
func (b *builder) spot(s circuit.Spot) int {
	if s != circuit.NoSpot {
		return int(s)
	}
	b.arms = append(b.arms, nil)
	return len(b.arms) - 1
}

// both hangs a thing with two ends on its spots.
func (b *builder) both(a arm, from, to int) {
	a.far = to
	b.arms[from] = append(b.arms[from], a)
	a.far, a.second = from, true
	b.arms[to] = append(b.arms[to], a)
}

func (b *builder) symbol(s *symbol, upper, lower circuit.Spot) {
	b.both(arm{symbol: s}, b.spot(upper), b.spot(lower))
}

// metal makes the frame and other metal that studs stand on.
func (b *builder) metal() {
	group := map[string]string{}
	var root func(string) string
	root = func(name string) string {
		if up, ok := group[name]; ok && up != name {
			return root(up)
		}
		return name
	}
	for _, s := range b.circuit.Studs {
		b.studs[int(s.Spot)] = s
		if s.To != "" && root(s.Name) != root(s.To) {
			group[root(s.Name)] = root(s.To)
		}
	}
	main := b.mainMetal(root)
	for _, s := range b.circuit.Studs {
		key := root(s.Name)
		h := b.metalOf[key]
		if h == nil {
			h = b.hub(plate, "")
			if key == main {
				h.kind, b.frame = frame, h
			}
			b.metalOf[key] = h
			if t := b.circuit.Terminal(key); t != nil { // the metal goes on to a battery's clamp
				b.arms[t.Spot] = append(b.arms[t.Spot], arm{metal: h})
			}
		}
		b.arms[s.Spot] = append(b.arms[s.Spot], arm{metal: h, stud: s})
	}
}

// mainMetal picks the metal that is drawn as the frame: what the battery's minus is on, or else what carries most.
func (b *builder) mainMetal(root func(string) string) string {
	score, best := map[string]int{}, ""
	for _, s := range b.circuit.Studs {
		key := root(s.Name)
		score[key]++
		if b.circuit.Terminal(key) != nil || b.nearMinus(s) {
			score[key] += 1000
		}
		if score[key] > score[best] {
			best = key
		}
	}
	return best
}

// nearMinus reports whether a wire joins a stud to a battery's minus.
func (b *builder) nearMinus(s *circuit.Stud) bool {
	for _, p := range b.circuit.OfKind("battery") {
		for _, w := range b.circuit.Wires {
			neg := p.Terminal("neg").Spot
			if w.From.Spot == neg && w.To.Spot == s.Spot || w.To.Spot == neg && w.From.Spot == s.Spot {
				return true
			}
		}
	}
	return false
}

var shapes = map[string]shape{"fuse": fuse, "fusible link": fusibleLink, "lamp": lamp, "motor": motor, "heater": heater,
	"resistor": resistor, "diode": diode, "led": led, "battery": battery,
	"generator": generator}

// part makes the symbols and boxes of a part.
func (b *builder) part(p *circuit.Part) {
	switch p.Kind.Name {
	case "relay":
		b.relay(p)
	case "switch":
		b.switches(p)
	case "terminator":
		if b.onBus(p) {
			b.box(p, module, p.Terminals)
			return
		}
		b.two(p, terminator, p.Terminals[0], p.Terminals[1], "")
	default:
		if s, ok := shapes[p.Kind.Name]; ok && len(p.Terminals) == 2 {
			b.two(p, s, p.Terminals[0], p.Terminals[1], "")
			return
		}
		b.box(p, module, p.Terminals)
	}
}

// onBus reports whether anything in the circuit has a two-wire bus, so that a terminator hangs on it as a box.
func (b *builder) onBus(p *circuit.Part) bool {
	for _, other := range b.circuit.Parts {
		if other.Module != nil && len(other.Module.Bus) == 2 && p.Terminals[0].Spot != circuit.NoSpot && p.Terminals[1].Spot != circuit.NoSpot {
			return true
		}
	}
	return false
}

func (b *builder) two(p *circuit.Part, s shape, upper, lower *circuit.Terminal, link string) *symbol {
	made := &symbol{shape: s, name: p.Name, part: p, ends: [2]*circuit.Terminal{upper, lower}, link: link}
	b.symbol(made, upper.Spot, lower.Spot)
	return made
}

func (b *builder) box(p *circuit.Part, kind hubKind, pins []*circuit.Terminal) *hub {
	h := b.hub(kind, p.Name)
	h.part, h.terminals = p, pins
	for _, t := range pins {
		at := b.spot(t.Spot)
		b.arms[at] = append(b.arms[at], arm{box: h, pin: t})
	}
	return h
}

// relay makes coil and contact; a change-over contact with both sides wired is a small box.
func (b *builder) relay(p *circuit.Part) {
	common, made, rest := p.Terminal("30"), p.Terminal("87"), p.Terminal("87a")
	b.two(p, coil, p.Terminal("86"), p.Terminal("85"), p.Name)
	wired := func(t *circuit.Terminal) bool { return t != nil && t.Spot != circuit.NoSpot }
	switch {
	case wired(rest) && wired(made), wired(rest) && !wired(common):
		h := b.box(p, throws, []*circuit.Terminal{common, made, rest})
		h.link, h.pairs = p.Name, [][2]string{{common.Pin, made.Pin}, {common.Pin, rest.Pin}}
	case wired(rest):
		b.two(p, contact, common, rest, p.Name).spare = made
	default:
		b.two(p, contact, common, made, p.Name).spare = rest
	}
}

// switches makes one contact, or one box, of each pole of a switch.
func (b *builder) switches(p *circuit.Part) {
	poles := polesOf(p)
	link := ""
	if len(poles) > 1 {
		link = p.Name
	}
	for _, pole := range poles {
		if len(pole) == 2 {
			b.two(p, contact, pole[0], pole[1], link)
			continue
		}
		h := b.box(p, throws, pole)
		h.link = link
		for _, throw := range p.Throws {
			for _, pair := range throw.Pairs {
				if has(pole, pair[0]) && !slices.Contains(h.pairs, pair) {
					h.pairs = append(h.pairs, pair)
				}
			}
		}
	}
}

func has(pins []*circuit.Terminal, pin string) bool {
	return slices.ContainsFunc(pins, func(t *circuit.Terminal) bool { return t.Pin == pin })
}

// polesOf groups the terminals of a switch by what can ever be joined.
func polesOf(p *circuit.Part) [][]*circuit.Terminal {
	of := map[string]int{}
	for i, t := range p.Terminals {
		of[t.Pin] = i
	}
	for _, throw := range p.Throws {
		for _, pair := range throw.Pairs {
			from, to := of[pair[0]], of[pair[1]]
			for pin, at := range of {
				if at == max(from, to) {
					of[pin] = min(from, to)
				}
			}
		}
	}
	var poles [][]*circuit.Terminal
	at := map[int]int{}
	for _, t := range p.Terminals {
		i, ok := at[of[t.Pin]]
		if !ok {
			i = len(poles)
			at[of[t.Pin]] = i
			poles = append(poles, nil)
		}
		poles[i] = append(poles[i], t)
	}
	return poles
}
