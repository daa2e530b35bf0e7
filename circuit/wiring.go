package circuit

// This file turns a circuit into a map that can be walked from any terminal towards the battery: through wires,
// cavities, splices, studs, fuses, links, switches, diodes and relay contacts, but never through a load or a coil.

import "slices"

// hop is one thing that leads from one node to another.
type hop struct {
	link Link
	from int
	to   int
}

// wiring is the map. The nodes are the spots, then the metal of each stud.
type wiring struct {
	circuit  *Circuit
	hops     [][]*hop // out of each node
	splices  map[int][]*Splice
	rings    map[int][]*Stud
	battery  map[int][]*Terminal
	loads    map[int][]*Terminal // where loads, coils and sockets take their current
	outputs  map[int][]*Terminal // module pins that pull to ground or supply, or feed and ground sensors
	plusPins map[*Terminal]bool  // of the outputs: those that are a supply to others
}

// wired makes the map of a circuit.
func wired(c *Circuit) *wiring {
	w := &wiring{circuit: c, hops: make([][]*hop, c.Spots+len(c.Studs)), splices: map[int][]*Splice{}, rings: map[int][]*Stud{}, battery: map[int][]*Terminal{},
		loads: map[int][]*Terminal{}, outputs: map[int][]*Terminal{}, plusPins: map[*Terminal]bool{}}
	for _, s := range c.Splices {
		w.splices[int(s.Spot)] = append(w.splices[int(s.Spot)], s)
	}
	for _, wire := range c.Wires {
		w.both(int(wire.From.Spot), int(wire.To.Spot), Link{Wire: wire})
	}
	for _, k := range c.Connectors {
		for _, t := range k.Cavities {
			w.both(int(t.Spot), int(t.FarSpot), Link{Cavity: t})
		}
	}
	for _, p := range c.Parts {
		w.part(p)
	}
	w.studs()
	return w
}

// both adds a hop each way. A part's terminals are in the order of the first way.
func (w *wiring) both(a, b int, link Link) {
	w.hops[a] = append(w.hops[a], &hop{link, a, b})
	back := link
	back.In, back.Out = link.Out, link.In
	w.hops[b] = append(w.hops[b], &hop{back, b, a})
}

// part adds what a part lets pass, and where it takes current.
func (w *wiring) part(p *Part) {
	switch {
	case p.Kind.Name == "battery":
		for _, t := range p.Terminals {
			if t.Spot != NoSpot {
				w.battery[int(t.Spot)] = append(w.battery[int(t.Spot)], t)
			}
		}
		return
	case p.Kind.Name == "generator": // a second source, and no way on
		return
	case p.Kind.Load, p.Kind.Name == "socket":
		w.takes(p, p.Terminals...)
	case p.Kind.Name == "relay":
		w.takes(p, p.Terminal("85"), p.Terminal("86"))
	}
	if p.Module != nil {
		w.module(p)
	}
	for _, pair := range p.passPairs() {
		if a, b := pair[0], pair[1]; passesOn(p, a, b) && a.Spot != NoSpot && b.Spot != NoSpot {
			w.both(int(a.Spot), int(b.Spot), Link{Part: p, In: a, Out: b, Positions: p.positionsFor(a.Pin, b.Pin)})
		}
	}
}

// takes notes where a part takes its current.
func (w *wiring) takes(p *Part, terminals ...*Terminal) {
	for _, t := range terminals {
		if t.Spot != NoSpot {
			w.loads[int(t.Spot)] = append(w.loads[int(t.Spot)], t)
		}
	}
}

// module notes the pins of a module that other things get their supply or ground from.
func (w *wiring) module(p *Part) {
	give := func(pin string, plus bool) {
		if t := p.Terminal(pin); t != nil && t.Spot != NoSpot {
			w.outputs[int(t.Spot)] = append(w.outputs[int(t.Spot)], t)
			w.plusPins[t] = plus
		}
	}
	for _, out := range p.Module.Outputs {
		give(out.Pin, out.To == "supply")
	}
	for _, pin := range p.Module.Reference {
		give(pin, true)
	}
	for _, pin := range p.Module.SensorGround {
		give(pin, false)
	}
}

// passesOn says that a part carries current on to others between two of its terminals: it is no load, and the two are
// not a coil.
func passesOn(p *Part, a, b *Terminal) bool {
	if p.Kind.Load {
		return false
	}
	return p.Kind.Name != "relay" || !isCoil(p, a) && !isCoil(p, b)
}

func isCoil(p *Part, t *Terminal) bool { return t == p.Terminal("85") || t == p.Terminal("86") }

// positionsFor lists the positions of a switch that join two of its terminals.
func (p *Part) positionsFor(a, b string) []string {
	var names []string
	for _, throw := range p.Throws {
		for _, pair := range throw.Pairs {
			if pair == [2]string{a, b} || pair == [2]string{b, a} {
				names = append(names, throw.Name)
				break
			}
		}
	}
	return names
}

// studs adds the rings, the metal beside them and the metal's way on.
func (w *wiring) studs() {
	metal := map[string]int{}
	for i, s := range w.circuit.Studs {
		metal[s.Name] = w.circuit.Spots + i
		w.rings[int(s.Spot)] = append(w.rings[int(s.Spot)], s)
		w.both(int(s.Spot), metal[s.Name], Link{Stud: s})
	}
	for _, s := range w.circuit.Studs {
		if to, ok := metal[s.To]; ok {
			w.both(metal[s.Name], to, Link{Body: s})
		} else if t := w.circuit.terminals[s.To]; t != nil {
			w.both(metal[s.Name], int(t.Spot), Link{Body: s})
		}
	}
}

// shortest finds the way of fewest hops from a node to one that goal accepts, leaving out the hops that barred refuses.
func (w *wiring) shortest(start int, goal func(node int) bool, barred func(*hop) bool) ([]*hop, int, bool) {
	by := make([]*hop, len(w.hops))
	seen := make([]bool, len(w.hops))
	seen[start] = true
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		node := queue[0]
		if goal(node) {
			var way []*hop
			for at := node; at != start; at = by[at].from {
				way = append(way, by[at])
			}
			for i, j := 0, len(way)-1; i < j; i, j = i+1, j-1 {
				way[i], way[j] = way[j], way[i]
			}
			return way, node, true
		}
		for _, h := range w.hops[node] {
			if !seen[h.to] && !barred(h) && (by[node] == nil || !clash(by[node].link, h.link)) {
				seen[h.to], by[h.to] = true, h
				queue = append(queue, h.to)
			}
		}
	}
	return nil, 0, false
}

// clash says that two passages of one part are never closed together: two throws of a switch without a common position,
// or the working and the rest contact of a relay.
func clash(a, b Link) bool {
	if a.Part == nil || a.Part != b.Part {
		return false
	}
	switch a.Part.Kind.Name {
	case "switch":
		return !slices.ContainsFunc(a.Positions, func(position string) bool { return slices.Contains(b.Positions, position) })
	case "relay":
		return a.rests() != b.rests()
	}
	return false
}

// rests says that a passage of a relay is its rest contact.
func (l Link) rests() bool {
	rest := l.Part.Terminal("87a")
	return l.In == rest || l.Out == rest
}

// firstClash gives a hop that can never be closed together with an earlier one of the same way, or nil.
func firstClash(hops []*hop) *hop {
	passed := map[*Part][]*hop{}
	for _, h := range hops {
		part := h.link.Part
		if part == nil {
			continue
		}
		for _, before := range passed[part] {
			if clash(before.link, h.link) {
				return h
			}
		}
		passed[part] = append(passed[part], h)
	}
	return nil
}

// sharers lists the parts that take their current through a node from its far side: all that can be reached from it
// without the hops that stop refuses and without going past a battery. From a stud's rings it does not go into metal,
// which is everybody's; from metal it does, since all that comes to the metal then goes on together.
func (w *wiring) sharers(start int, stop func(*hop) bool) []*Part {
	met := map[*Part]bool{}
	seen, metal := map[int]bool{start: true}, start >= w.circuit.Spots
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		node := queue[0]
		for _, t := range w.loads[node] {
			met[w.circuit.parts[t.Owner]] = true
		}
		if len(w.battery[node]) > 0 {
			continue
		}
		for _, h := range w.hops[node] {
			if !seen[h.to] && (metal || h.link.Stud == nil && h.link.Body == nil) && !stop(h) {
				seen[h.to] = true
				queue = append(queue, h.to)
			}
		}
	}
	var found []*Part
	for _, p := range w.circuit.Parts {
		if met[p] {
			found = append(found, p)
		}
	}
	return found
}
