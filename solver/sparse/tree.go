// The elimination tree and the columns of the factor, in the order of elimination.

package sparse

// tree holds the columns in the order of elimination, before they are sorted by height.
type tree struct {
	parent []int32 // column -> first column eliminated after it that it touches, -1 at a root
	height []int32 // longest way down to a leaf
	length []int32 // entries in a column
	begin  []int32 // first entry
	row    []int32 // entry -> column of its other end, in no order
	place  []int32 // column -> its number once sorted; set by Pattern.number
	sorted []int32 // the inverse of place
}

// newTree eliminates the nodes in order, in shape only: a column touches its later neighbours and all that its sons touch but itself.
func newTree(start, adjacency, order []int32) *tree {
	n := int32(len(order))
	t := &tree{parent: make([]int32, n), height: make([]int32, n), length: make([]int32, n), begin: make([]int32, n),
		row: make([]int32, 0, 2*len(adjacency)), place: make([]int32, n)}
	when := t.place // node -> column; place is free until the columns are sorted
	for k, i := range order {
		when[i] = int32(k)
	}
	son, brother := make([]int32, n), make([]int32, n)
	seen := make([]int32, n) // column -> last column it was listed in, plus 1
	for k := range n {
		son[k] = -1
	}
	for k := range n {
		t.begin[k] = int32(len(t.row))
		up := n
		seen[k] = k + 1
		list := func(r int32) {
			if r > k && seen[r] != k+1 {
				seen[r] = k + 1
				t.row = append(t.row, r)
				up = min(up, r)
			}
		}
		i := order[k]
		for _, j := range adjacency[start[i]:start[i+1]] {
			list(when[j])
		}
		for c := son[k]; c >= 0; c = brother[c] {
			t.height[k] = max(t.height[k], t.height[c]+1)
			for _, r := range t.row[t.begin[c] : t.begin[c]+t.length[c]] {
				list(r)
			}
		}
		t.length[k] = int32(len(t.row)) - t.begin[k]
		t.parent[k] = -1
		if up < n {
			t.parent[k] = up
			brother[k], son[up] = son[up], k
		}
	}
	return t
}

// schedule returns the columns in the order they will be worked through: sons before parents, and otherwise as many of equal length in a row
// as can be had, first come first served.
func (t *tree) schedule() []int32 {
	n := int32(len(t.parent))
	waits := make([]int32, n) // sons still to come
	most := int32(0)
	for k, up := range t.parent {
		if up >= 0 {
			waits[up]++
		}
		most = max(most, t.length[k])
	}
	head, tail := make([]int32, most+1), make([]int32, most+1)
	for i := range head {
		head[i] = -1
	}
	next := make([]int32, n)
	ready := func(k int32) {
		m := t.length[k]
		next[k] = -1
		if head[m] < 0 {
			head[m] = k
		} else {
			next[tail[m]] = k
		}
		tail[m] = k
	}
	for k := range n {
		if waits[k] == 0 {
			ready(k)
		}
	}
	out := make([]int32, 0, n)
	for m := int32(0); m <= most; m++ {
		for head[m] >= 0 {
			k := head[m]
			head[m] = next[k]
			out = append(out, k)
			if up := t.parent[k]; up >= 0 {
				if waits[up]--; waits[up] == 0 {
					ready(up)
				}
			}
		}
		if m == most && int32(len(out)) < n {
			m = -1
		}
	}
	return out
}
