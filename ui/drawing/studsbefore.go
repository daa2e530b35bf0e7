package drawing

// This file draws the studs of an edited circuit as often, and in the places, as the drawing before has them.

import (
	"slices"

	"underload/circuit"
)

// picture says where the wire of a stud ends: at which drawing of that stud on the frame, or on a sign above some lines.
type picture struct {
	number int
	sign   bool
	over   []string
}

// key is a name for a line that holds from one drawing to the next.
func (h *hub) key() string {
	if h.name != "" || len(h.ends) == 0 || h.ends[0].wire() == nil {
		return h.name
	}
	return "wire " + h.ends[0].wire().Name
}

// pictureOf tells for each wire on a stud to which drawing of it it goes.
func (n *net) pictureOf() map[string]picture {
	of, count := map[string]picture{}, map[*circuit.Stud]int{}
	note := func(e *end, p picture) {
		if name := leadName(e); name != "" {
			of[name] = p
		}
	}
	for _, hub := range n.hubs {
		switch {
		case hub.kind == sign:
			p := picture{sign: true}
			for _, line := range hub.over {
				p.over = append(p.over, line.key())
			}
			note(hub.ends[0], p)
		case hub.kind == frame:
			for _, e := range hub.ends {
				if e.stud == nil {
					continue
				}
				count[e.stud]++
				note(e, picture{number: count[e.stud]})
				if top := e.other().hub; top.stem() == e.other() {
					for _, wire := range top.ends {
						note(wire, picture{number: count[e.stud]})
					}
				}
			}
		}
	}
	return of
}

// likeBefore draws each stud as often as the drawing before does. A new wire on a stud that is drawn more than once gets a
// drawing of its own.
func (n *net) likeBefore(before *Layout) {
	of := before.net.pictureOf()
	n.linesBefore = map[string]int{}
	for _, hub := range before.net.hubs {
		if hub.isLine(before.net) {
			n.linesBefore[hub.key()] = before.h.at(hub.node)
		}
	}
	lines := map[string]*hub{}
	for _, hub := range n.hubs {
		if hub.isLine(n) {
			lines[hub.key()] = hub
		}
	}
	for _, c := range slices.Clone(n.chains) {
		if p, ok := of[leadName(c.bottom)]; ok && p.sign && n.grounding(c.bottom) {
			var over []*hub
			for _, key := range p.over {
				if line := lines[key]; line != nil {
					over = append(over, line)
				}
			}
			n.raise(c.bottom, over)
		}
	}
	for _, hub := range slices.Clone(n.hubs) {
		if stem := hub.stem(); stem != nil {
			n.cutLikeBefore(hub, stem, of)
		}
	}
	for _, hub := range slices.Clone(n.hubs) {
		n.dissolve(hub)
	}
}

// cutLikeBefore parts the wires of a stud as the drawing before does.
func (n *net) cutLikeBefore(hub *hub, stem *end, of map[string]picture) {
	sets := map[int][]*end{}
	var order []int
	fresh := 0
	several := slices.ContainsFunc(hub.ends, func(e *end) bool { return of[leadName(e)].number > 1 })
	for _, e := range hub.ends {
		if e == stem {
			continue
		}
		p, known := of[leadName(e)]
		if !known && several {
			fresh--
			p.number = fresh
		}
		if !known && !several {
			p.number = 1
		}
		if sets[p.number] == nil {
			order = append(order, p.number)
		}
		sets[p.number] = append(sets[p.number], e)
	}
	for i, number := range order {
		if i == 0 {
			hub.ends = append([]*end{stem}, sets[number]...)
			continue
		}
		n.anotherStud(hub, stem, sets[number])
	}
}

// leadName is a name for what comes to a stud: of the wire, or of the part that is bolted to it.
func leadName(e *end) string {
	if w := e.wire(); w != nil {
		return "wire " + w.Name
	}
	for _, it := range e.ordered() {
		if it.symbol != nil {
			return "part " + it.symbol.name
		}
	}
	if other := e.other(); other.pin != nil {
		return "pin " + other.pin.Name
	}
	return ""
}
