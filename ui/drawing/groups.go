package drawing

// This file parts the columns into groups that can be put in order one by one, and puts the groups in order.

import "slices"

// group is a set of columns tied together by hubs and relays.
type group struct {
	chains []*chain
	atEdge bool // reaches back to the battery's column
}

// groups parts the columns. What is joined only by the rail or the frame is not together.
func (n *net) groups() []*group {
	of := make([]int, len(n.chains))
	for i, c := range n.chains {
		c.id, of[i] = i, i
	}
	root := func(i int) int {
		for of[i] != i {
			i = of[i]
		}
		return i
	}
	join := func(chains []*chain) {
		for _, c := range chains[min(1, len(chains)):] {
			a, b := root(chains[0].id), root(c.id)
			of[max(a, b)] = min(a, b)
		}
	}
	for _, h := range n.hubs {
		if h == n.rail || h == n.frame {
			continue
		}
		var chains []*chain
		for _, e := range h.ends {
			if e.chain != n.source {
				chains = append(chains, e.chain)
			}
		}
		join(chains)
	}
	for _, linked := range n.links() {
		join(linked)
	}
	var groups []*group
	at := map[int]*group{}
	for _, c := range n.chains {
		if c == n.source {
			continue
		}
		g := at[root(c.id)]
		if g == nil {
			g = &group{}
			at[root(c.id)] = g
			groups = append(groups, g)
		}
		c.comp = slices.Index(groups, g)
		g.chains = append(g.chains, c)
		g.atEdge = g.atEdge || n.reachesBack(c.top.hub) || n.reachesBack(c.bottom.hub)
	}
	return groups
}

// reachesBack reports whether a hub hangs on the battery's own column.
func (n *net) reachesBack(h *hub) bool {
	return n.source != nil && h != n.rail && h != n.frame && h == n.source.bottom.hub
}

// links lists, for each part that is drawn as several symbols, the columns they are in.
func (n *net) links() [][]*chain {
	byName := map[string][]*chain{}
	var names []string
	add := func(name string, c *chain) {
		if name == "" || c == n.source {
			return
		}
		if byName[name] == nil {
			names = append(names, name)
		}
		byName[name] = append(byName[name], c)
	}
	for _, c := range n.chains {
		for _, it := range c.items {
			if it.symbol != nil {
				add(it.symbol.link, c)
			}
		}
	}
	for _, h := range n.hubs {
		if h.link != "" && len(h.ends) > 0 {
			add(h.link, h.ends[0].chain)
		}
	}
	var all [][]*chain
	for _, name := range names {
		all = append(all, byName[name])
	}
	return all
}

// connectors lists the in-line connectors that a group passes.
func (g *group) connectors() map[string]bool {
	found := map[string]bool{}
	for _, c := range g.chains {
		for _, it := range c.items {
			if it.symbol != nil && it.symbol.shape == cavity {
				found[it.symbol.cavity.Owner] = true
			}
		}
	}
	return found
}

// interleaved makes one group of those whose columns stood among each other's in the drawing before.
func interleaved(groups []*group, old map[*chain]int) []*group {
	reach := func(g *group) span {
		s := span{1 << 30, -1}
		for _, c := range g.chains {
			if slot, ok := old[c]; ok {
				s = span{min(s.from, slot), max(s.to, slot)}
			}
		}
		return s
	}
	for again := true; again; {
		again = false
		for i := 0; i < len(groups) && !again; i++ {
			for j := i + 1; j < len(groups) && !again; j++ {
				a, b := reach(groups[i]), reach(groups[j])
				if a.from > b.to || b.from > a.to {
					continue
				}
				groups[i].chains = append(groups[i].chains, groups[j].chains...)
				groups[i].atEdge = groups[i].atEdge || groups[j].atEdge
				groups, again = slices.Delete(groups, j, j+1), true
			}
		}
	}
	for i, g := range groups {
		for _, c := range g.chains {
			c.comp = i
		}
	}
	return groups
}

// inOrder puts the groups in order: as in the file, but what reaches back to the battery first, and those that share a
// connector beside each other. Known groups keep the order they had, unless the file wants one elsewhere.
func inOrder(groups []*group, old map[*chain]int, asides []aside) []*group {
	order := slices.Clone(groups)
	rank := func(g *group) int {
		best := 1 << 30
		if g.atEdge {
			return -1
		}
		for _, c := range g.chains {
			if slot, ok := old[c]; ok {
				best = min(best, slot)
			}
		}
		return best
	}
	slices.SortStableFunc(order, func(a, b *group) int { return rank(a) - rank(b) })
	between := asidesBetween(order, asides)
	if len(old) > 0 && len(between) == 0 {
		return order
	}
	shares := make([]map[string]bool, len(order))
	if len(old) == 0 {
		for i, g := range order {
			shares[i] = g.connectors()
		}
	}
	index := make([]int, len(order))
	for i := range index {
		index[i] = i
	}
	best := groupCost(index, order, shares, between)
	for again := true; again; {
		again = false
		for from := range index {
			for to := range index {
				tried := slices.Clone(index)
				moved := tried[from]
				tried = slices.Insert(slices.Delete(tried, from, from+1), to, moved)
				if cost := groupCost(tried, order, shares, between); cost < best {
					best, index, again = cost, tried, true
				}
			}
		}
	}
	sorted := make([]*group, len(order))
	for i, at := range index {
		sorted[i] = order[at]
	}
	return sorted
}

// groupCost counts groups between those that share a connector, or that the file wants side by side, and departures from
// the order they come in.
func groupCost(index []int, groups []*group, shares []map[string]bool, between [][2]int) int {
	cost := 0
	last := map[string]int{}
	place := make([]int, len(index))
	for i, at := range index {
		place[at] = i
		for name := range shares[at] {
			if before, ok := last[name]; ok {
				cost += 8 * (i - before - 1)
			}
			last[name] = i
		}
		for _, other := range index[i+1:] {
			if other < at {
				cost++
			}
			if groups[other].atEdge && !groups[at].atEdge {
				cost += 1000
			}
		}
	}
	for _, pair := range between {
		if apart := place[pair[1]] - place[pair[0]]; apart < 0 {
			cost += 200
		} else {
			cost += 8 * (apart - 1)
		}
	}
	return cost
}
