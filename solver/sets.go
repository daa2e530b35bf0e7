package solver

// This file holds the disjoint sets that connected parts are found with.

// find returns the representative of x and halves the path to it.
func find(parent []int32, x int32) int32 {
	for parent[x] != x {
		parent[x] = parent[parent[x]]
		x = parent[x]
	}
	return x
}

// unite joins two sets; the smaller representative stays.
func unite(parent []int32, x, y int32) {
	x, y = find(parent, x), find(parent, y)
	if x < y {
		parent[y] = x
	} else {
		parent[x] = y
	}
}

// sets returns size sets of one unknown each.
func (w *workspace) sets(size int) []int32 {
	if w.parent == nil {
		w.parent = make([]int32, size)
	}
	for i := range w.parent {
		w.parent[i] = int32(i)
	}
	return w.parent
}
