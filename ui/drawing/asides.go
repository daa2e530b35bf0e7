package drawing

// This file puts parts where the file wants them drawn: left or right of another part.

// aside is what the file wants: the columns of one part left of those of another.
type aside struct{ left, right []*chain }

// asides lists what the file wants.
func (n *net) asides() []aside {
	columns := n.columnsOfParts()
	var all []aside
	for _, p := range n.circuit.Parts {
		a := aside{columns[p.Name], columns[p.Drawn.LeftOf]}
		if p.Drawn.RightOf != "" {
			a = aside{columns[p.Drawn.RightOf], columns[p.Name]}
		}
		if len(a.left) > 0 && len(a.right) > 0 {
			all = append(all, a)
		}
	}
	return all
}

// columnsOfParts lists the columns that each part is in, or has pins on.
func (n *net) columnsOfParts() map[string][]*chain {
	columns := map[string][]*chain{}
	for _, c := range n.chains {
		if c == n.source {
			continue
		}
		for _, it := range c.items {
			if it.symbol != nil && it.symbol.part != nil {
				columns[it.symbol.part.Name] = append(columns[it.symbol.part.Name], c)
			}
		}
		for _, e := range []*end{c.top, c.bottom} {
			if e.hub.part != nil {
				columns[e.hub.part.Name] = append(columns[e.hub.part.Name], c)
			}
		}
	}
	return columns
}

// asidesOf are those within a group, as indices.
func (n *net) asidesOf(index map[*chain]int) [][2][]int {
	var all [][2][]int
	for _, a := range n.asides() {
		if _, ok := index[a.left[0]]; !ok {
			continue
		}
		if _, ok := index[a.right[0]]; !ok {
			continue
		}
		var both [2][]int
		for i, columns := range [][]*chain{a.left, a.right} {
			for _, c := range columns {
				both[i] = append(both[i], index[c])
			}
		}
		all = append(all, both)
	}
	return all
}

// asideCost is the price of parts that are not where the file wants them, or far from there.
func (p *puzzle) asideCost() int {
	const slot = 16 // fine parts of one
	middle := func(columns []int) int {
		sum := 0
		for _, c := range columns {
			sum += p.slots[c] * slot
		}
		return sum / len(columns)
	}
	sum := 0
	for _, a := range p.asides {
		switch apart := middle(a[1]) - middle(a[0]); {
		case apart <= 0:
			p.faulty = true
			sum += priceAside - apart*priceNear
		case apart > slot:
			sum += (apart - slot) * priceNear
		}
	}
	return sum
}

// asidesBetween are those between groups, as places in their order.
func asidesBetween(groups []*group, asides []aside) [][2]int {
	at := map[*chain]int{}
	for i, g := range groups {
		for _, c := range g.chains {
			at[c] = i
		}
	}
	var between [][2]int
	for _, a := range asides {
		if l, r := at[a.left[0]], at[a.right[0]]; l != r {
			between = append(between, [2]int{l, r})
		}
	}
	return between
}
