package drawing

// This file seeks the order of the columns.

import (
	"math/rand/v2"
	"slices"
)

// effort is how long orders are sought: steps for each column, and how often it is begun again.
type effort struct{ steps, starts int }

var (
	coldEffort = effort{400, 4}
	warmEffort = effort{60, 1}
)

// order gives every chain its slot. old holds the slots of the drawing before.
func (n *net) order(h *heights, old map[*chain]int) {
	next := 0
	if n.source != nil {
		n.source.slot = 0
		next = 1
	}
	for _, g := range inOrder(interleaved(n.groups(), old), old, n.asides()) {
		p := n.puzzle(g, h, old)
		p.seek()
		used := p.fill()
		for i, c := range g.chains {
			c.slot = next + p.slots[i]
		}
		next += used
	}
	n.ordered = true
	for _, hub := range n.hubs {
		hub.span = span{1 << 30, -1}
		for _, e := range hub.ends {
			hub.span.from, hub.span.to = min(hub.span.from, e.chain.slot), max(hub.span.to, e.chain.slot)
		}
	}
}

// puzzle prepares a group.
func (n *net) puzzle(g *group, h *heights, old map[*chain]int) *puzzle {
	count := len(g.chains)
	p := &puzzle{slots: make([]int, count), shelves: newShelves(count), taken: make([]int, 2*count+2), lifted: newSet(count), reach: 1, warm: len(old) > 0, firm: n.firm}
	index := map[*chain]int{}
	for i, c := range g.chains {
		index[c], p.slots[i] = i, i
	}
	if len(old) == 0 && n.ordered {
		p.known = make([]int, count)
		for i, c := range g.chains {
			p.known[i] = c.slot
		}
		sorted := slices.Clone(p.known)
		slices.Sort(sorted)
		sorted = slices.Compact(sorted)
		for i, slot := range p.known {
			p.known[i], _ = slices.BinarySearch(sorted, slot)
		}
	}
	p.startWarm(g, old)
	for i, a := range g.chains {
		clashes := newSet(count)
		for j, b := range g.chains[:i] {
			if !n.mayShare(h, a, b) {
				clashes.add(j)
			}
		}
		p.clashes = append(p.clashes, clashes)
	}
	var hubs []*hub
	for _, hub := range n.hubs {
		if hub != n.rail && hub != n.frame && len(hub.ends) > 0 {
			if _, ok := index[hub.ends[0].chain]; ok || n.reachesBack(hub) && g.atEdge {
				hubs = append(hubs, hub)
				p.hubs = append(p.hubs, n.puzzleHub(hub, g, h, index))
			}
		}
	}
	p.spans = make([]span, len(hubs))
	for i, a := range hubs {
		for j := i + 1; j < len(hubs); j++ {
			if d := h.at(a.node) - h.at(hubs[j].node); d > -14 && d < 14 {
				p.levels = append(p.levels, [2]int{i, j})
			}
		}
	}
	p.dashes = n.dashesOf(g, h, index)
	p.plugs = plugsOf(g)
	p.asides = n.asidesOf(index)
	return p
}

// startWarm begins with the order of the drawing before; new columns start beside those they share a hub with.
func (p *puzzle) startWarm(g *group, old map[*chain]int) {
	if !p.warm {
		return
	}
	p.old = make([]int, len(g.chains))
	for i, c := range g.chains {
		slot, ok := old[c]
		p.old[i] = -1
		if ok {
			p.old[i] = slot
		}
	}
	rank := make([]int, len(g.chains)) // twice the old slot, odd for new ones
	for i, c := range g.chains {
		rank[i] = 2 * p.old[i]
		if p.old[i] >= 0 {
			continue
		}
		rank[i] = 1 << 20
		for _, e := range []*end{c.top, c.bottom} {
			for _, other := range e.hub.ends {
				if slot, ok := old[other.chain]; ok && other.chain.comp == c.comp && rank[i] == 1<<20 {
					rank[i] = 2*slot + 1
				}
			}
		}
	}
	sorted := slices.Clone(rank)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	for i := range p.slots {
		p.slots[i], _ = slices.BinarySearch(sorted, rank[i])
	}
}

// extent is the range of heights of a chain.
func (h *heights) extent(c *chain) (top, bottom int) {
	return h.at(c.top.hub.node), h.at(c.bottom.hub.node)
}

// mayShare reports whether two columns can stand one above the other.
func (n *net) mayShare(h *heights, a, b *chain) bool {
	at, ab := h.extent(a)
	bt, bb := h.extent(b)
	if a.bottom.hub == b.top.hub || b.bottom.hub == a.top.hub {
		return ab <= bt || bb <= at
	}
	const apart = 40
	return ab+apart <= bt || bb+apart <= at
}

func (n *net) puzzleHub(hub *hub, g *group, h *heights, index map[*chain]int) puzzleHub {
	made := puzzleHub{box: hub.kind == module || hub.kind == throws, edge: n.reachesBack(hub), parts: hub.stem() != nil,
		cover: newSet(len(g.chains)), low: newSet(len(g.chains))}
	y, reach := h.at(hub.node), max(h.nodes[hub.node].up, 6)
	if made.box {
		reach += 4
	}
	for _, e := range hub.ends {
		if i, ok := index[e.chain]; ok {
			made.ends = append(made.ends, i)
			if hub.fans() {
				made.tops = append(made.tops, e.top)
			}
			if len(hub.places) > 1 {
				made.places = append(made.places, e.place)
			}
		}
	}
	for i, c := range g.chains {
		top, bottom := h.extent(c)
		if c.top.hub != hub && c.bottom.hub != hub && top < y+reach && bottom > y-reach {
			if n.wouldLift(h, c, hub) {
				made.low.add(i)
			} else {
				made.cover.add(i)
			}
		}
	}
	return made
}

// dashesOf lists the relays of a group: coil first.
func (n *net) dashesOf(g *group, h *heights, index map[*chain]int) []dash {
	var dashes []dash
	for _, pair := range n.linkedSymbols() {
		from, ok := index[pair[0].chain]
		to, ok2 := index[pair[1].chain]
		if !ok || !ok2 {
			continue
		}
		d := dash{coil: from, contact: to}
		y := h.at(pair[0].node)
		for i, c := range g.chains {
			if top, bottom := h.extent(c); i != from && i != to && top < y && bottom > y {
				d.under = append(d.under, i)
			}
		}
		dashes = append(dashes, d)
	}
	return dashes
}

// linked is one symbol, or box, of a part that is drawn as several.
type linked struct {
	chain *chain
	node  int
	name  string
	sym   *symbol
	hub   *hub
}

// linkedSymbols pairs the symbols of relays and switches with several poles, coils first.
func (n *net) linkedSymbols() [][2]linked {
	byName := map[string][]linked{}
	var names []string
	add := func(l linked, first bool) {
		if byName[l.name] == nil {
			names = append(names, l.name)
		}
		if first {
			byName[l.name] = append([]linked{l}, byName[l.name]...)
		} else {
			byName[l.name] = append(byName[l.name], l)
		}
	}
	for _, c := range n.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.link != "" {
				add(linked{c, s.node, s.link, s, nil}, s.shape == coil)
			}
		}
	}
	for _, hub := range n.hubs {
		if hub.link != "" && len(hub.ends) > 0 {
			add(linked{hub.ends[0].chain, hub.node, hub.link, nil, hub}, false)
		}
	}
	var pairs [][2]linked
	for _, name := range names {
		for i := 1; i < len(byName[name]); i++ {
			pairs = append(pairs, [2]linked{byName[name][i-1], byName[name][i]})
		}
	}
	return pairs
}

func plugsOf(g *group) [][]int {
	byName := map[string][]int{}
	var names []string
	for i, c := range g.chains {
		for _, it := range c.items {
			if it.symbol != nil && it.symbol.shape == cavity {
				name := it.symbol.cavity.Owner
				if byName[name] == nil {
					names = append(names, name)
				}
				byName[name] = append(byName[name], i)
			}
		}
	}
	var plugs [][]int
	for _, name := range names {
		if len(byName[name]) > 1 {
			plugs = append(plugs, byName[name])
		}
	}
	return plugs
}

// seek anneals, several times, and keeps the best.
func (p *puzzle) seek() {
	n := len(p.slots)
	if n < 2 {
		return
	}
	work := coldEffort
	if p.warm {
		p.placeNew()
		p.polish()
		if p.cost(); !p.faulty {
			return
		}
		work = warmEffort
	}
	switch {
	case p.firm:
		work.starts += 2
	case n > 40:
		work.starts = min(work.starts, 2)
	case n > 24:
		work.starts = min(work.starts, 3)
	}
	begin := slices.Clone(p.slots)
	if p.known != nil {
		copy(p.slots, p.known)
		work.starts = min(work.starts, 2)
	}
	best, bestSlots := p.cost(), slices.Clone(p.slots)
	for start := range work.starts {
		hot := 400.0
		if start > 0 && start == work.starts-1 || start == 0 && p.known != nil {
			copy(p.slots, bestSlots)
			hot = 30
		} else {
			copy(p.slots, begin)
		}
		if p.warm {
			hot = 20
		}
		if cost, slots := p.anneal(rand.New(rand.NewPCG(7, uint64(start))), work.steps*n, hot); cost < best {
			best, bestSlots = cost, slots
		}
	}
	copy(p.slots, bestSlots)
	p.polish()
}

// placeNew puts each column that the drawing before did not have where it costs least.
func (p *puzzle) placeNew() {
	best := p.cost()
	bestSlots := slices.Clone(p.slots)
	for c, old := range p.old {
		if old >= 0 {
			continue
		}
		begin := slices.Clone(p.slots)
		for to := range 2*len(p.slots) + 1 {
			copy(p.slots, begin)
			p.put(c, to)
			if cost := p.cost(); cost < best {
				best = cost
				copy(bestSlots, p.slots)
			}
		}
		copy(p.slots, bestSlots)
	}
}

// put moves a column: to a slot that is there, or to a new one before it.
func (p *puzzle) put(c, to int) {
	if to%2 == 0 {
		p.insert([]int{c}, to/2)
	} else {
		p.slots[c] = to / 2
	}
}

// polish tries every single move, and every change of places, until none helps. Now that what crosses is settled, the
// file's order has more say.
func (p *puzzle) polish() {
	const mostPolished, fileReach = 40, 8 // columns: beyond, it takes too long for what it gives
	n := len(p.slots)
	if n > mostPolished {
		return
	}
	p.reach = fileReach
	best := p.cost()
	before := slices.Clone(p.slots)
	for again := true; again; {
		again = false
		try := func(move func()) {
			copy(before, p.slots)
			move()
			if cost := p.cost(); cost < best {
				best, again = cost, true
			} else {
				copy(p.slots, before)
			}
		}
		for c := range n {
			for to := 0; to <= 2*n; to++ {
				try(func() { p.put(c, to) })
			}
			for other := range c {
				try(func() { p.slots[c], p.slots[other] = p.slots[other], p.slots[c] })
			}
		}
	}
}

// anneal walks through orders, ever less willing to accept a worse one, and gives the best it met.
func (p *puzzle) anneal(r *rand.Rand, steps int, hot float64) (int, []int) {
	const cold = 0.2
	cooling := coolingFor(hot/cold, steps)
	now := p.cost()
	best, bestSlots := now, slices.Clone(p.slots)
	before := make([]int, len(p.slots))
	for heat, i := hot, 0; i < steps; i, heat = i+1, heat*cooling {
		copy(before, p.slots)
		p.move(r)
		cost := p.cost()
		if worse := float64(cost - now); worse > 0 && worse > heat*r.ExpFloat64() {
			copy(p.slots, before)
			continue
		}
		if now = cost; now < best {
			best = now
			copy(bestSlots, p.slots)
		}
	}
	return best, bestSlots
}

// coolingFor is the factor whose power to the steps is one over the ratio, found by halving: plain products give the same
// on every machine.
func coolingFor(ratio float64, steps int) float64 {
	low, high := 0.5, 1.0
	for range 40 {
		middle := (low + high) / 2
		power := 1.0
		for n, base := steps, middle; n > 0; n >>= 1 {
			if n&1 == 1 {
				power *= base
			}
			base *= base
		}
		if power*ratio > 1 {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}

// move changes the slots a little.
func (p *puzzle) move(r *rand.Rand) {
	n := len(p.slots)
	used := 0
	for _, s := range p.slots {
		used = max(used, s+1)
	}
	switch k := r.IntN(100); {
	case k < 30:
		p.slots[r.IntN(n)] = r.IntN(used)
	case k < 50:
		p.insert([]int{r.IntN(n)}, r.IntN(used+1))
	case k < 65:
		a, b := r.IntN(used), r.IntN(used)
		for i, s := range p.slots {
			if s == a {
				p.slots[i] = b
			} else if s == b {
				p.slots[i] = a
			}
		}
	case k < 85:
		p.block(r, used)
	default:
		a, b := r.IntN(n), r.IntN(n)
		p.slots[a], p.slots[b] = p.slots[b], p.slots[a]
	}
}

// insert gives chains a slot of their own.
func (p *puzzle) insert(chains []int, at int) {
	for i, s := range p.slots {
		if s >= at {
			p.slots[i]++
		}
	}
	for _, c := range chains {
		p.slots[c] = at
	}
}

// block moves or mirrors a run of slots.
func (p *puzzle) block(r *rand.Rand, used int) {
	from := r.IntN(used)
	to := min(used-1, from+r.IntN(1+used/2))
	if r.IntN(2) == 0 {
		for i, s := range p.slots {
			if s >= from && s <= to {
				p.slots[i] = from + to - s
			}
		}
		return
	}
	width := to - from + 1
	at := r.IntN(used - width + 1) // where the block begins among the others
	for i, s := range p.slots {
		switch {
		case s >= from && s <= to:
			p.slots[i] = at + s - from
		default:
			if s > to {
				s -= width
			}
			if s >= at {
				s += width
			}
			p.slots[i] = s
		}
	}
}
