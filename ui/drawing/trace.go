package drawing

// This file walks from hub to hub and so finds the columns.

import "underload/circuit"

// junctions makes a hub of each spot where three or more things meet, and of each open end.
func (b *builder) junctions() {
	b.hubAt = make([]*hub, len(b.arms))
	for spot, arms := range b.arms {
		switch {
		case len(arms) == 1 && len(b.splices[spot]) > 0:
			b.hubAt[spot] = b.junction(spot)
		case len(arms) == 1:
			b.hubAt[spot] = b.hub(open, "")
		case len(arms) > 2:
			b.hubAt[spot] = b.junction(spot)
		}
	}
}

func (b *builder) junction(spot int) *hub {
	h := b.hub(junction, "")
	if named := b.splices[spot]; len(named) > 0 {
		h.splice, h.more, h.name = named[0], named[1:], named[0].Name
		for _, s := range h.more {
			h.name += "/" + s.Name
		}
		h.bar = named[0].Reach == circuit.Open
	}
	if s := b.studs[spot]; s != nil {
		h.stud, h.bar = s, false
		if h.name == "" {
			h.name = s.Name
		}
	}
	for _, a := range b.arms[spot] { // what is screwed on without a wire gives its name to a joint without one
		if t := a.terminal(); t != nil {
			h.terminals = append(h.terminals, t)
		}
	}
	return h
}

// terminal is the terminal by which an arm hangs on its spot, or nil.
func (a arm) terminal() *circuit.Terminal {
	switch {
	case a.symbol != nil && a.second:
		return a.symbol.ends[1]
	case a.symbol != nil:
		return a.symbol.ends[0]
	}
	return a.pin
}

// trace makes the chains, starting from each end of each hub.
func (b *builder) trace() {
	for spot, arms := range b.arms {
		h := b.hubAt[spot]
		for _, a := range arms {
			switch {
			case a.box != nil && h == nil:
				b.walk(&end{hub: a.box, pin: a.pin}, spot, a)
			case a.metal != nil && h == nil:
				b.walk(&end{hub: a.metal, stud: a.stud}, spot, a)
			case a.box != nil:
				b.join(&end{hub: h}, &end{hub: a.box, pin: a.pin}, nil)
			case a.metal != nil:
				b.join(&end{hub: h}, &end{hub: a.metal, stud: a.stud}, nil)
			case h != nil:
				b.follow(&end{hub: h}, a)
			}
		}
	}
	b.ringsOfBatteries()
	for spot, arms := range b.arms { // other rings that touch no hub
		if len(arms) == 2 && (arms[0].wire != nil || arms[0].symbol != nil) && !b.used(arms[0]) {
			b.hubAt[spot] = b.junction(spot)
			b.follow(&end{hub: b.hubAt[spot]}, arms[0])
		}
	}
}

// ringsOfBatteries makes hubs of the two clamps of a battery that is in a ring without any hub.
func (b *builder) ringsOfBatteries() {
	for spot, arms := range b.arms {
		for _, a := range arms {
			if a.symbol == nil || a.symbol.shape != battery || a.second || b.used(a) {
				continue
			}
			b.hubAt[spot], b.hubAt[a.far] = b.junction(spot), b.junction(a.far)
			for _, from := range []int{spot, a.far} {
				for _, start := range b.arms[from] {
					b.follow(&end{hub: b.hubAt[from]}, start)
				}
			}
		}
	}
}

func (a arm) key() any {
	if a.wire != nil {
		return a.wire
	}
	return a.symbol
}

func (b *builder) used(a arm) bool { return b.done[a.key()] }

// walk starts a chain at a pin or stud whose spot is no hub.
func (b *builder) walk(from *end, spot int, start arm) {
	key := [2]any{start.pin, start.stud}
	if b.done[key] {
		return
	}
	b.done[key] = true
	for _, next := range b.arms[spot] {
		if next == start {
			continue
		}
		switch {
		case next.box != nil:
			b.done[[2]any{next.pin, next.stud}] = true
			b.join(from, &end{hub: next.box, pin: next.pin}, b.dot(nil, spot))
		case next.metal != nil:
			b.done[[2]any{next.pin, next.stud}] = true
			b.join(from, &end{hub: next.metal, stud: next.stud}, b.dot(nil, spot))
		default:
			b.followFrom(from, b.dot(nil, spot), next)
		}
		return
	}
}

// dot adds the splice at a spot that a column passes.
func (b *builder) dot(items []item, spot int) []item {
	for _, s := range b.splices[spot] {
		items = append(items, item{splice: s})
	}
	return items
}

func (b *builder) follow(from *end, a arm) { b.followFrom(from, nil, a) }

// followFrom runs along wires and symbols to the next hub.
func (b *builder) followFrom(from *end, items []item, a arm) {
	if b.used(a) {
		return
	}
	for {
		b.done[a.key()] = true
		items = append(items, b.itemOf(a))
		spot := a.far
		if h := b.hubAt[spot]; h != nil {
			b.join(from, &end{hub: h}, items)
			return
		}
		items = b.dot(items, spot)
		var next arm
		for _, other := range b.arms[spot] {
			if other.key() != a.key() || other.box != nil || other.metal != nil {
				next = other
			}
		}
		switch {
		case next.box != nil:
			b.done[[2]any{next.pin, next.stud}] = true
			b.join(from, &end{hub: next.box, pin: next.pin}, items)
			return
		case next.metal != nil:
			b.done[[2]any{next.pin, next.stud}] = true
			b.join(from, &end{hub: next.metal, stud: next.stud}, items)
			return
		case next.wire == nil && next.symbol == nil: // a wire whose two ends meet
			b.join(from, &end{hub: b.hub(open, "")}, items)
			return
		}
		a = next
	}
}

// itemOf makes the item of an arm. A symbol walked from its second end stands on its head.
func (b *builder) itemOf(a arm) item {
	if s := a.symbol; s != nil {
		if a.second {
			s.ends[0], s.ends[1] = s.ends[1], s.ends[0]
			s.aAbove = !s.aAbove
		}
		return item{symbol: s}
	}
	return item{wire: a.wire}
}

// findSource finds the column with the first battery; its upper hub is the rail. A battery whose plus is the hub
// itself has a column that begins with it.
func (b *builder) findSource() {
	for _, c := range b.chains {
		for _, it := range c.items {
			if s := it.symbol; s == nil || s.shape != battery {
				continue
			} else if s.ends[0].Pin != s.part.Kind.Terminals[0] && s.ends[0] != s.part.Terminals[0] {
				c.flip()
			}
			c.fixed, c.battery = true, b.source == nil
			if b.source == nil {
				b.source, b.rail = c, c.top.hub
			}
			break
		}
	}
}
