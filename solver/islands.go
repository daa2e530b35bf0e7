package solver

// This file finds parts of a network that nothing, or nothing firm, joins to
// Ground.

// islandSet is which parts of a network have no conducting path to Ground. It is
// never changed once made.
type islandSet struct {
	groups [][]Node
	of     []int32 // unknown -> 1 + number of its group; 0 for what is grounded. Empty if nothing floats.
}

var allGrounded = &islandSet{}

// findIslands unites unknowns over everything that conducts. A device always
// counts, for the leak across it.
func (n *Network) findIslands() *islandSet {
	p, w := n.plan, n.work
	set := w.sets(p.count + 1)
	for e, b := range p.branch {
		if e >= p.linear || n.siemens[b] > 0 {
			unite(set, p.a[e], p.b[e])
		}
	}
	ground := find(set, int32(p.count))
	floats := false
	for u := range p.count {
		floats = floats || find(set, int32(u)) != ground
	}
	if !floats {
		return allGrounded
	}
	s := &islandSet{of: make([]int32, p.count)}
	number := make(map[int32]int32)
	for v := range n.nodes {
		u := p.unknown[v]
		top := find(set, u)
		if top == ground {
			continue
		}
		if number[top] == 0 {
			s.groups = append(s.groups, nil)
			number[top] = int32(len(s.groups))
		}
		k := number[top]
		s.of[u] = k
		s.groups[k-1] = append(s.groups[k-1], Node(v))
	}
	return s
}

// weakSiemens parts the branches that hold a part of the network firmly from
// those that only give it a potential: leaks and meters.
const weakSiemens = 0.01

// hangsWeakly tells whether some part is joined to the rest by weak branches only
// and has sources inside. Their currents are large and cancel; what rounding
// leaves of them then flows through the weak branches and shifts the whole part.
func (n *Network) hangsWeakly() bool {
	p, w := n.plan, n.work
	set := w.sets(p.count + 1)
	for e, g := range w.siemens[:p.linear] {
		if g >= weakSiemens {
			unite(set, p.a[e], p.b[e])
		}
	}
	ground := find(set, int32(p.count))
	for _, e := range w.driven {
		if w.siemens[e] >= weakSiemens && find(set, p.a[e]) != ground {
			return true
		}
	}
	for _, b := range p.drives {
		if find(set, p.unknown[n.ends[b][0]]) != ground && find(set, p.unknown[n.ends[b][1]]) != ground {
			return true
		}
	}
	return false
}
