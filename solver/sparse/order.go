// The elimination order: approximate minimum degree on a quotient graph.

package sparse

// quotient is the graph that is left after some eliminations (Amestoy, Davis and Duff, "An approximate minimum degree ordering algorithm",
// SIAM J. Matrix Anal. Appl. 17, 1996). An eliminated node becomes an "element" that stands for the clique of its neighbours, so the graph
// never grows. Nodes with the same neighbours are merged into one, and weight counts how many a merged node stands for.
type quotient struct {
	n          int32
	list       []int32 // adjacency of all nodes and elements; a node lists elements first, then nodes
	free       int32   // first unused place in list
	start      []int32 // where a node's or element's adjacency begins in list
	size       []int32 // its length
	elements   []int32 // how many of a node's entries are elements
	weight     []int32 // nodes: members; negative while in the newest element; 0 once eliminated or merged
	degree     []int32 // nodes: bound on the weight of the neighbours; elements: weight of the members
	mark       []int32 // elements: 0 dead, >= stamp: stamp + weight outside the newest element; nodes: scratch
	stamp      int32
	widest     int32   // largest element so far: how far one use of mark can reach above stamp
	head       []int32 // degree -> first node of that degree
	next, prev []int32 // links of the degree lists
	low        int32   // no node has a degree below this
	done       int32   // weight eliminated so far
	bucket     []int32 // hash -> first node of the newest element with that hash
	chain      []int32 // links of the hash buckets
	hash       []int32
	tail       []int32 // last of a node's members
	member     []int32 // next member
	order      []int32 // set-aside nodes, then pivots in order of elimination
	aside      int     // how many nodes were set aside
}

// minimumDegree returns the nodes in an order of elimination that keeps fill low. The neighbours of node i are
// adjacency[start[i]:start[i+1]], both ways, without repeats. Equal input gives equal order.
func minimumDegree(start, adjacency []int32) []int32 {
	q := newQuotient(start, adjacency)
	for q.done < q.n {
		me := q.lightest()
		q.gather(me)
		q.measure(me)
		q.update(me)
		q.merge(me)
		q.restore(me)
	}
	return q.expand()
}

func newQuotient(start, adjacency []int32) *quotient {
	n := int32(len(start) - 1)
	room := make([]int32, 16*int(n)+1)
	take := func(m int32) []int32 { s := room[:m:m]; room = room[m:]; return s }
	q := &quotient{n: n, stamp: 1, free: int32(len(adjacency)),
		start: take(n), size: take(n), elements: take(n), weight: take(n), degree: take(n), mark: take(n),
		head: take(n + 1), next: take(n), prev: take(n), bucket: take(n), chain: take(n), hash: take(n),
		tail: take(n), member: take(n), order: make([]int32, 0, n)}
	q.list = make([]int32, len(adjacency)+len(adjacency)/4+int(n))
	copy(q.list, adjacency)
	for i := range q.head {
		q.head[i] = -1
	}
	for i := range n {
		q.start[i], q.size[i] = start[i], start[i+1]-start[i]
		q.weight[i], q.mark[i] = 1, 1
		q.bucket[i], q.member[i], q.tail[i] = -1, -1, i
	}
	q.link()
	return q
}

// link fills the degree lists. Nodes with very many neighbours (a busbar) would be touched at nearly every step for no gain, so they are
// kept out and come last; the limit is the one of Amestoy, Davis and Duff.
func (q *quotient) link() {
	limit := int32(16)
	for 100*int64(q.n) > int64(limit)*int64(limit) {
		limit += limit/8 + 1
	}
	for i := range q.n {
		if q.size[i] > limit {
			q.weight[i] = 0
			q.order = append(q.order, i)
			q.done++
		}
	}
	q.aside = len(q.order)
	for i := range q.n {
		if q.aside > 0 {
			q.forgetAside(i)
		}
		q.degree[i] = q.size[i]
		if q.weight[i] > 0 {
			q.insert(i)
		}
	}
}

// forgetAside drops the nodes that were set aside from the neighbours of node i.
func (q *quotient) forgetAside(i int32) {
	to := q.start[i]
	for _, j := range q.list[to : to+q.size[i]] {
		if q.weight[j] > 0 && q.weight[i] > 0 {
			q.list[to] = j
			to++
		}
	}
	q.size[i] = to - q.start[i]
}

func (q *quotient) insert(i int32) {
	d := q.degree[i]
	h := q.head[d]
	q.next[i], q.prev[i], q.head[d] = h, -1, i
	if h >= 0 {
		q.prev[h] = i
	}
	q.low = min(q.low, d)
}

func (q *quotient) remove(i int32) {
	before, after := q.prev[i], q.next[i]
	if before >= 0 {
		q.next[before] = after
	} else {
		q.head[q.degree[i]] = after
	}
	if after >= 0 {
		q.prev[after] = before
	}
}

func (q *quotient) lightest() int32 {
	for q.head[q.low] < 0 {
		q.low++
	}
	i := q.head[q.low]
	q.remove(i)
	return i
}

// gather turns node me into an element: the union of its nodes and of the members of its elements, which it swallows.
func (q *quotient) gather(me int32) {
	q.done += q.weight[me]
	q.weight[me] = -q.weight[me]
	if need := q.bound(me); int(q.free)+need > len(q.list) {
		q.compress(need)
	}
	first, count := q.start[me], q.elements[me]
	own := q.list[first+count : first+q.size[me]]
	to := first
	if count > 0 {
		to = q.free
	}
	q.start[me] = to
	heavy := int32(0)
	take := func(nodes []int32) {
		for _, i := range nodes {
			if w := q.weight[i]; w > 0 {
				q.weight[i] = -w
				heavy += w
				q.list[to] = i
				to++
				q.remove(i)
			}
		}
	}
	for _, e := range q.list[first : first+count] {
		take(q.list[q.start[e] : q.start[e]+q.size[e]])
		q.mark[e] = 0
	}
	take(own)
	if count > 0 {
		q.free = to
	}
	q.size[me] = to - q.start[me]
	q.degree[me] = heavy
	q.elements[me] = 0
}

// bound returns how many places the element made from me can take.
func (q *quotient) bound(me int32) int {
	first, count := q.start[me], q.elements[me]
	if count == 0 {
		return 0 // it fits where me's own list stands
	}
	need := q.size[me] - count
	for _, e := range q.list[first : first+count] {
		need += q.size[e]
	}
	return int(need)
}

// compress closes the gaps that swallowed elements and shortened lists left in list.
// It leaves room for at least need more entries.
func (q *quotient) compress(need int) {
	// Entry 0 of every live list is parked in start and replaced by a negative name tag, so one sweep finds the lists in place.
	for i := range q.n {
		live := q.size[i] > 0 && (q.weight[i] != 0 || q.mark[i] != 0)
		if live {
			at := q.start[i]
			q.start[i], q.list[at] = q.list[at], -2-i
		}
	}
	to := int32(0)
	for at := int32(0); at < q.free; {
		tag := q.list[at]
		at++
		if tag > -2 {
			continue
		}
		i := -2 - tag
		q.list[to] = q.start[i]
		q.start[i] = to
		to++
		for range q.size[i] - 1 {
			q.list[to] = q.list[at]
			to++
			at++
		}
	}
	q.free = to
	if short := int(to) + need - len(q.list); short > 0 {
		q.list = append(q.list, make([]int32, short+len(q.list)/2)...)
	}
}

// measure finds, for every element next to me, the weight of its members outside me.
func (q *quotient) measure(me int32) {
	for _, i := range q.members(me) {
		w := -q.weight[i]
		for _, e := range q.list[q.start[i] : q.start[i]+q.elements[i]] {
			switch m := q.mark[e]; {
			case m >= q.stamp:
				q.mark[e] = m - w
			case m != 0:
				q.mark[e] = q.degree[e] + q.stamp - w
			}
		}
	}
}

func (q *quotient) members(me int32) []int32 { return q.list[q.start[me] : q.start[me]+q.size[me]] }

// update shortens the adjacency of every member of me, bounds its degree, and hashes it to find twins.
func (q *quotient) update(me int32) {
	for _, i := range q.members(me) {
		first := q.start[i]
		to, last := first, first+q.size[i]
		middle := first + q.elements[i]
		degree, hash := int32(0), uint32(0)
		for _, e := range q.list[first:middle] {
			outside := q.mark[e] - q.stamp
			switch {
			case q.mark[e] == 0:
			case outside > 0:
				degree += outside
				hash += uint32(e)
				q.list[to] = e
				to++
			default: // all its members are in me: swallow it
				q.mark[e] = 0
			}
		}
		kept := to - first
		nodes := to
		for _, j := range q.list[middle:last] {
			if w := q.weight[j]; w > 0 {
				degree += w
				hash += uint32(j)
				q.list[to] = j
				to++
			}
		}
		if degree == 0 { // nothing but me around it: eliminate it along with me
			w := -q.weight[i]
			q.adopt(me, i)
			q.weight[me] -= w
			q.degree[me] -= w
			q.done += w
			continue
		}
		q.degree[i] = min(q.degree[i], degree)
		// me takes the first place; what stood there moves to the end of its part. Room is sure: me or an element in me has gone.
		q.list[to] = q.list[nodes]
		q.list[nodes] = q.list[first]
		q.list[first] = me
		q.elements[i] = kept + 1
		q.size[i] = to - first + 1
		slot := int32(hash % uint32(q.n))
		q.hash[i] = slot
		q.chain[i] = q.bucket[slot]
		q.bucket[slot] = i
	}
	q.widest = max(q.widest, q.degree[me])
	q.raise()
}

// raise moves stamp above every mark in use.
func (q *quotient) raise() {
	q.stamp += q.widest + 1
	if q.stamp > 1<<30 {
		for i, m := range q.mark {
			if m != 0 {
				q.mark[i] = 1
			}
		}
		q.stamp = 2
	}
}

// adopt makes node i, and all it stands for, a member of node or element keeper.
func (q *quotient) adopt(keeper, i int32) {
	q.member[q.tail[keeper]] = i
	q.tail[keeper] = q.tail[i]
	q.weight[i] = 0
	q.mark[i] = 0
	q.size[i] = 0
}

// merge joins members of me that have the same neighbours: they can be eliminated together.
func (q *quotient) merge(me int32) {
	for _, i := range q.members(me) {
		if q.weight[i] == 0 {
			continue
		}
		first := q.bucket[q.hash[i]]
		q.bucket[q.hash[i]] = -1
		for ; first >= 0 && q.chain[first] >= 0; first = q.chain[first] {
			q.mergeInto(first)
		}
	}
}

// mergeInto joins to node i all of its twins further down its hash chain.
func (q *quotient) mergeInto(i int32) {
	for _, j := range q.list[q.start[i]+1 : q.start[i]+q.size[i]] {
		q.mark[j] = q.stamp
	}
	before := i
	for j := q.chain[i]; j >= 0; j = q.chain[j] {
		if q.size[j] == q.size[i] && q.elements[j] == q.elements[i] && q.marked(j) {
			w := q.weight[j]
			q.adopt(i, j)
			q.weight[i] += w
			q.chain[before] = q.chain[j]
			continue
		}
		before = j
	}
	q.stamp++
}

func (q *quotient) marked(j int32) bool {
	for _, k := range q.list[q.start[j]+1 : q.start[j]+q.size[j]] {
		if q.mark[k] != q.stamp {
			return false
		}
	}
	return true
}

// restore puts the members of me back into the degree lists and drops those that were merged or eliminated.
func (q *quotient) restore(me int32) {
	to := q.start[me]
	heavy := q.degree[me]
	for _, i := range q.members(me) {
		w := -q.weight[i]
		if w == 0 {
			continue
		}
		q.weight[i] = w
		q.degree[i] = min(q.degree[i]+heavy-w, q.n-q.done-w)
		q.insert(i)
		q.list[to] = i
		to++
	}
	q.size[me] = to - q.start[me]
	q.order = append(q.order, me)
	q.weight[me] = 0
	q.mark[me] = 1
	if q.size[me] == 0 {
		q.mark[me] = 0
	}
}

// expand lists every pivot with its members. Nodes set aside by link come last.
func (q *quotient) expand() []int32 {
	all := make([]int32, 0, q.n)
	for _, i := range q.order[q.aside:] {
		for ; i >= 0; i = q.member[i] {
			all = append(all, i)
		}
	}
	return append(all, q.order[:q.aside]...)
}
