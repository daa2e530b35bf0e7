package solver

// This file merges nodes that zero-ohm joins and ideal sources hold at a known
// difference of potential. Each group of merged nodes becomes one unknown, the
// potential of its root; the other nodes lie at a known offset from it.

import (
	"math"
	"slices"
)

// join is one branch of the tree that holds a group together. The offset of
// child is that of parent plus sign times the volts of the branch.
type join struct {
	branch        Branch
	child, parent Node
	sign          float64
}

// forest is a spanning forest of the joins. The joins are in breadth-first
// order, so a parent always comes before its children.
//
// In a loop of joins the division of current is not determined by Kirchhoff's
// laws. The tree carries all of it and a closing branch carries none.
type forest struct {
	joins   []join
	closing []Branch
	root    []Node // per node; Ground is the root of its own group
}

// merge builds the forest. Ground is visited first and thus a root; within a
// group the branch that reaches a node over the fewest joins is in the tree.
func (n *Network) merge() forest {
	f := forest{root: make([]Node, n.nodes)}
	for i := range f.root {
		f.root[i] = -1
	}
	first, next := n.joinLists()
	seen := make([]bool, len(n.kinds))
	queue := make([]Node, 0, 16)
	for start := range n.nodes {
		if f.root[start] >= 0 {
			continue
		}
		root := Node(start)
		f.root[start] = root
		queue = append(queue[:0], root)
		for len(queue) > 0 {
			at := queue[0]
			queue = queue[1:]
			for half := first[at]; half >= 0; half = next[half] {
				b, side := Branch(half/2), half%2
				if seen[b] {
					continue
				}
				seen[b] = true
				other := n.ends[b][1-side]
				if f.root[other] >= 0 {
					f.closing = append(f.closing, b)
					continue
				}
				sign := 1.0
				if side == 1 {
					sign = -1
				}
				f.root[other] = root
				f.joins = append(f.joins, join{b, other, at, sign})
				queue = append(queue, other)
			}
		}
	}
	return f
}

// joinLists links the joins at every node: first[node] is a half branch
// (2*branch + side) and next[half] the one after it, in rising branch order.
func (n *Network) joinLists() (first, next []int32) {
	first = make([]int32, n.nodes)
	for i := range first {
		first[i] = -1
	}
	next = make([]int32, 2*len(n.kinds))
	for b := len(n.kinds) - 1; b >= 0; b-- {
		if n.ohms[b] != 0 {
			continue
		}
		for side := 1; side >= 0; side-- {
			half := int32(2*b + side)
			at := n.ends[b][side]
			next[half] = first[at]
			first[at] = half
		}
	}
	return first, next
}

// emf is the volts that b lifts its second end above its first.
func (n *Network) emf(b Branch) float64 {
	if n.kinds[b] == isSource {
		return n.values[b]
	}
	return 0
}

// findOffsets fills offset, in volts per node above its root, and checks every
// loop of joins.
func (n *Network) findOffsets(f *forest, offset []float64) error {
	clear(offset)
	for _, j := range f.joins {
		offset[j.child] = offset[j.parent] + j.sign*n.emf(j.branch)
	}
	for _, b := range f.closing {
		a, z := n.ends[b][0], n.ends[b][1]
		e := n.emf(b)
		left := offset[z] - offset[a] - e
		if scale := math.Abs(offset[z]) + math.Abs(offset[a]) + math.Abs(e); math.Abs(left) > 1e-9+1e-12*scale {
			return &DisagreementError{Branches: f.loop(b, a, z), Volts: math.Abs(left)}
		}
	}
	return nil
}

// loop names the branches of the loop that b, from a to z, closes.
func (f *forest) loop(b Branch, a, z Node) []Branch {
	up := make(map[Node]join, len(f.joins))
	for _, j := range f.joins {
		up[j.child] = j
	}
	climb := func(at Node) []Branch {
		var path []Branch
		for j, ok := up[at]; ok; j, ok = up[j.parent] {
			path = append(path, j.branch)
		}
		return path
	}
	left, right := climb(a), climb(z)
	for len(left) > 0 && len(right) > 0 && left[len(left)-1] == right[len(right)-1] {
		left, right = left[:len(left)-1], right[:len(right)-1]
	}
	loop := append(append([]Branch{b}, left...), right...)
	slices.Sort(loop)
	return loop
}
