package drawing

// This file draws a ground stud several times under one name, as wiring diagrams of whole vehicles do, where one stud with
// all its wires would span the drawing.

import "slices"

// mostAtStud is the number of wires that one picture of a stud takes.
const mostAtStud = 5

// splitStuds gives each set of wires that belong together a picture of their stud, where there are more than so many.
func (n *net) splitStuds(most int) {
	of := n.tiedWithoutStuds()
	for _, h := range slices.Clone(n.hubs) {
		stem := h.stem()
		if stem == nil || len(h.ends)-1 <= most {
			continue
		}
		sets := map[int][]*end{}
		var order []int
		for _, e := range h.ends {
			if e == stem {
				continue
			}
			key := of[e.chain]
			if sets[key] == nil {
				order = append(order, key)
			}
			sets[key] = append(sets[key], e)
		}
		first := true
		for _, key := range order {
			for set := range slices.Chunk(sets[key], mostAtStud) {
				if first {
					h.ends = append([]*end{stem}, set...)
					first = false
				} else {
					n.anotherStud(h, stem, set)
				}
			}
		}
		n.dissolve(h)
	}
	for _, h := range slices.Clone(n.hubs) {
		n.dissolve(h)
	}
}

// stem is the end of the piece between a stud's rings and the frame.
func (h *hub) stem() *end {
	if h.kind != junction || h.stud == nil || h.splice != nil {
		return nil
	}
	for _, e := range h.ends {
		if len(e.chain.items) == 0 && e.other().hub.kind == frame {
			return e
		}
	}
	return nil
}

// tiedWithoutStuds numbers the sets of columns that hang together when rail, frame and studs are left out.
func (n *net) tiedWithoutStuds() map[*chain]int {
	group := map[*chain]int{}
	for i, c := range n.chains {
		group[c] = i
	}
	for again := true; again; {
		again = false
		for _, h := range n.hubs {
			if h == n.rail || h.kind == frame || h.stem() != nil || h.bar {
				continue
			}
			least := len(n.chains)
			for _, e := range h.ends {
				least = min(least, group[e.chain])
			}
			for _, e := range h.ends {
				if group[e.chain] != least {
					group[e.chain], again = least, true
				}
			}
		}
	}
	return group
}

// anotherStud makes one more picture of a stud.
func (n *net) anotherStud(h *hub, stem *end, set []*end) {
	copied := n.hub(junction, h.name)
	copied.stud, copied.terminals = h.stud, h.terminals
	for _, e := range set {
		e.hub = copied
		copied.ends = append(copied.ends, e)
	}
	metal := stem.other()
	n.join(&end{hub: copied}, &end{hub: metal.hub, stud: metal.stud}, nil)
	n.dissolve(copied)
}

// dissolve leaves out rings with a single wire, which goes straight to the frame, and those with none.
func (n *net) dissolve(h *hub) {
	stem := h.stem()
	if stem == nil || len(h.ends) > 2 {
		return
	}
	metal := stem.other()
	metal.hub.ends = slices.DeleteFunc(metal.hub.ends, func(e *end) bool { return e == metal })
	n.chains = slices.DeleteFunc(n.chains, func(c *chain) bool { return c == stem.chain })
	n.hubs = slices.DeleteFunc(n.hubs, func(other *hub) bool { return other == h })
	wire := h.ends[0]
	if wire == stem {
		if len(h.ends) == 1 {
			return // all its wires have signs of their own
		}
		wire = h.ends[1]
	}
	wire.hub, wire.stud, wire.pin = metal.hub, metal.stud, nil
	metal.hub.ends = append(metal.hub.ends, wire)
}
