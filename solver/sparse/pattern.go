// Analysis of a network's shape: the columns of the factor and the lists that make refactoring a straight run through memory.

package sparse

import (
	"cmp"
	"slices"
)

// Pattern is what can be known of a network before its conductances are: the elimination order, the factor's columns, and where each
// elimination step adds to. It does not change after [Analyse].
//
// Inside, nodes are numbered by place in the elimination order, "column k". Columns are sorted by their height in the elimination tree and,
// within a height, by length, so neighbours in memory do not depend on each other and equal ones follow each other.
type Pattern struct {
	nodes, edges int
	ends         []Edge
	node         []int32 // column -> node
	column       []int32 // node -> column
	parent       []int32 // column -> the next column it touches, -1 at a root
	begin        []int32 // column k has entries begin[k] ... begin[k+1]
	row          []int32 // entry -> the column of its other end, ascending within a column
	slot         []int32 // edge -> place in Factor.sum: a column (to ground), nodes + an entry, or the spare place at the end
	runs         []run
	tape         []int32 // targets of the pairs of entries of columns below taped, as entries
	taped        int32   // columns from here to dense find their targets by merging
	dense        int32   // columns from here on touch all that follow
	touch        []touch // for each column, who adds to it
	touchBegin   []int32
	holder       []int32 // edge -> the column that holds it, nodes for an edge that is ignored
	wired        []int32 // edges by holder
	wiredBegin   []int32
	longestPath  int // most columns on a way to a root
	widestPath   int // most entries in the columns of one such way
}

// run is a stretch of columns with equally many entries.
type run struct{ first, last, length, entry, tape int32 }

// touch says that an entry of column from ends in the column at hand, and where on the tape its pairs begin.
type touch struct{ from, entry, tape int32 }

// tapeLimit bounds the length of a tape (80 MB). Networks with longer ones have large dense parts, where a tape would not pay anyway.
const tapeLimit = 20_000_000

// Nodes returns the number of nodes.
func (p *Pattern) Nodes() int { return p.nodes }

// Edges returns the number of edges.
func (p *Pattern) Edges() int { return p.edges }

// Fill returns the number of non-zero places in L and U together, with the diagonal counted once.
func (p *Pattern) Fill() int { return 2*len(p.row) + p.nodes }

// Analyse prepares a network of the given number of nodes. Edge ends must be Ground or below nodes. Two equal calls give equal patterns.
func Analyse(nodes int, edges []Edge) *Pattern { return analyse(nodes, edges, tapeLimit) }

func analyse(nodes int, edges []Edge, limit int) *Pattern {
	start, adjacency := neighbours(nodes, edges)
	order := minimumDegree(start, adjacency)
	t := newTree(start, adjacency, order)
	p := &Pattern{nodes: nodes, edges: len(edges), ends: slices.Clone(edges)}
	p.number(order, t)
	p.sortColumns(t)
	p.findDense()
	p.writeTape(limit)
	p.writeRuns()
	p.place(edges)
	p.measurePaths()
	return p
}

// neighbours lists, for every node, the nodes it shares an edge with, once each.
func neighbours(nodes int, edges []Edge) (start, adjacency []int32) {
	start = make([]int32, nodes+1)
	for _, e := range edges {
		if e.A != e.B && e.A >= 0 && e.B >= 0 {
			start[e.A]++
			start[e.B]++
		}
	}
	total := int32(0)
	for i, c := range start {
		start[i] = total
		total += c
	}
	adjacency = make([]int32, total)
	next := slices.Clone(start)
	for _, e := range edges {
		if e.A != e.B && e.A >= 0 && e.B >= 0 {
			adjacency[next[e.A]] = e.B
			adjacency[next[e.B]] = e.A
			next[e.A]++
			next[e.B]++
		}
	}
	seen := make([]int32, nodes) // node -> last node it was listed for, plus 1
	to := int32(0)
	for i := range nodes {
		list := adjacency[start[i]:start[i+1]]
		start[i] = to
		for _, j := range list {
			if seen[j] != int32(i)+1 {
				seen[j] = int32(i) + 1
				adjacency[to] = j
				to++
			}
		}
	}
	start[nodes] = to
	return start, adjacency[:to]
}

// number takes over the elimination order, sorted by height in the tree and column length. Sons stay below their parents, so the fill is
// the same.
func (p *Pattern) number(order []int32, t *tree) {
	n := p.nodes
	sorted := t.schedule()
	p.node = make([]int32, n)
	p.column = make([]int32, n)
	for k, old := range sorted {
		p.node[k] = order[old]
		p.column[order[old]] = int32(k)
		t.place[old] = int32(k)
	}
	p.parent = make([]int32, n)
	p.begin = make([]int32, n+1)
	for k, old := range sorted {
		p.parent[k] = -1
		if t.parent[old] >= 0 {
			p.parent[k] = t.place[t.parent[old]]
		}
		p.begin[k+1] = p.begin[k] + t.length[old]
	}
	t.sorted = sorted
}

// countingSort returns the items, given in the order first (0, 1, 2 ... if nil), sorted by key; equal keys keep their order.
func countingSort(n int, key, first []int32) []int32 {
	most := int32(0)
	for _, k := range key {
		most = max(most, k)
	}
	next := make([]int32, most+2)
	for _, k := range key {
		next[k+1]++
	}
	for i := range most + 1 {
		next[i+1] += next[i]
	}
	out := make([]int32, n)
	for i := range n {
		item := int32(i)
		if first != nil {
			item = first[i]
		}
		out[next[key[item]]] = item
		next[key[item]]++
	}
	return out
}

// sortColumns renumbers the tree's columns and sorts them by going through them twice, rows first.
func (p *Pattern) sortColumns(t *tree) {
	n := p.nodes
	p.touchBegin = make([]int32, n+1)
	for _, r := range t.row {
		p.touchBegin[t.place[r]+1]++
	}
	for k := range n {
		p.touchBegin[k+1] += p.touchBegin[k]
	}
	next := slices.Clone(p.touchBegin)
	p.touch = make([]touch, len(t.row))
	for k, old := range t.sorted {
		for _, r := range t.row[t.begin[old] : t.begin[old]+t.length[old]] {
			c := t.place[r]
			p.touch[next[c]].from = int32(k)
			next[c]++
		}
	}
	p.row = make([]int32, len(t.row))
	copy(next, p.begin)
	for c := range int32(n) {
		for i := p.touchBegin[c]; i < p.touchBegin[c+1]; i++ {
			from := p.touch[i].from
			p.touch[i].entry = next[from]
			p.row[next[from]] = c
			next[from]++
		}
	}
}

// findDense finds the columns at the end that touch all that follow.
func (p *Pattern) findDense() {
	k := int32(p.nodes)
	for k > 0 && p.begin[k]-p.begin[k-1] == int32(p.nodes)-k {
		k--
	}
	p.dense = k
}

// writeTape notes where each pair of entries of a column adds to, column by column until limit is reached.
func (p *Pattern) writeTape(limit int) {
	total := 0
	next := append(make([]int32, 0, p.dense+1), 0) // column -> its first pair on the tape, then the first not yet written
	for k := range p.dense {
		m := int(p.begin[k+1] - p.begin[k])
		total += m * (m - 1) / 2
		if total > limit {
			break
		}
		next = append(next, int32(total))
	}
	p.taped = int32(len(next) - 1)
	p.tape = make([]int32, next[p.taped])
	at := make([]int32, p.nodes) // column of the other end -> entry in column c
	for c := range int32(p.nodes) {
		for i := p.begin[c]; i < p.begin[c+1]; i++ {
			at[p.row[i]] = i
		}
		for i := p.touchBegin[c]; i < p.touchBegin[c+1] && p.touch[i].from < p.taped; i++ {
			t := &p.touch[i]
			t.tape = next[t.from]
			others := p.row[t.entry+1 : p.begin[t.from+1]]
			targets := p.tape[t.tape:][:len(others)]
			next[t.from] += int32(len(others))
			for j, r := range others {
				targets[j] = at[r]
			}
		}
	}
}

func (p *Pattern) writeRuns() {
	tape := int32(0)
	for k := int32(0); k < p.taped; k++ {
		m := p.begin[k+1] - p.begin[k]
		if last := len(p.runs) - 1; last >= 0 && p.runs[last].length == m {
			p.runs[last].last = k + 1
		} else {
			p.runs = append(p.runs, run{first: k, last: k + 1, length: m, entry: p.begin[k], tape: tape})
		}
		tape += m * (m - 1) / 2
	}
}

// place finds the place of every edge in Factor.sum and lists the edges by column.
func (p *Pattern) place(edges []Edge) {
	n := int32(p.nodes)
	p.slot = make([]int32, len(edges))
	p.holder = make([]int32, len(edges))
	for i, e := range edges {
		a, b := p.at(e.A), p.at(e.B)
		if a > b {
			a, b = b, a
		}
		switch {
		case a == b:
			p.slot[i], p.holder[i] = n+int32(len(p.row)), n
		case a < 0:
			p.slot[i], p.holder[i] = b, b
		default:
			place, _ := slices.BinarySearchFunc(p.row[p.begin[a]:p.begin[a+1]], b, cmp.Compare[int32])
			p.slot[i], p.holder[i] = n+p.begin[a]+int32(place), a
		}
	}
	p.wired = countingSort(len(edges), p.holder, nil)
	p.wiredBegin = make([]int32, n+2)
	for _, k := range p.holder {
		p.wiredBegin[k+1]++
	}
	for k := range n + 1 {
		p.wiredBegin[k+1] += p.wiredBegin[k]
	}
}

// at returns the column of a node, -1 for Ground.
func (p *Pattern) at(node int32) int32 {
	if node < 0 {
		return -1
	}
	return p.column[node]
}

func (p *Pattern) measurePaths() {
	long, wide := make([]int, p.nodes), make([]int, p.nodes)
	for k := p.nodes - 1; k >= 0; k-- {
		long[k], wide[k] = 1, int(p.begin[k+1]-p.begin[k])
		if up := p.parent[k]; up >= 0 {
			long[k] += long[up]
			wide[k] += wide[up]
		}
		p.longestPath = max(p.longestPath, long[k])
		p.widestPath = max(p.widestPath, wide[k])
	}
}
