package circuit

// This file numbers the spots, and checks on the whole net that current which goes in somewhere can come back to the
// battery.

import "fmt"

// number gives every wired terminal, splice, stud and wire end its spot.
func (r *reader) number() {
	spots, count := r.joints.numbered()
	c := r.circuit
	c.Spots = count
	for t, end := range r.tails {
		if end.nearMet {
			t.Spot = spots[end.near]
		}
		if end.farMet {
			t.FarSpot = spots[end.far]
		}
	}
	for s, met := range r.splices {
		s.Spot = spots[met.conductor]
	}
	for s, met := range r.studs {
		s.Spot = spots[met.conductor]
	}
	for _, w := range c.Wires {
		w.From.Spot, w.To.Spot = spots[w.From.Spot], spots[w.To.Spot]
	}
}

// checkJoins tells of things whose two sides are joined outside, so that no current would ever pass them.
func (r *reader) checkJoins() {
	for _, w := range r.circuit.Wires {
		if w.From.Spot == w.To.Spot {
			r.wrong(w.Pos, fmt.Sprintf("%s and %s, the ends of this wire, are one and the same place", w.From.Name, w.To.Name), "")
		}
	}
	for _, k := range r.circuit.Connectors {
		for _, t := range k.Cavities {
			if t.Spot == t.FarSpot {
				r.wrong(t.Pos, fmt.Sprintf("both sides of %s are one and the same place", t.Name), "")
			}
		}
	}
	for _, part := range r.circuit.Parts {
		for _, pair := range part.passPairs() {
			if a, b := pair[0], pair[1]; a.Spot != NoSpot && a.Spot == b.Spot {
				r.wrong(part.Pos, fmt.Sprintf("%s and %s are joined outside of %s: no current would pass it", a.Name, b.Name, part.Name), "Put a wire between them where there is one")
				break
			}
		}
	}
}

// passPairs lists the pairs of terminals between which current can pass, in any position of a switch.
func (p *Part) passPairs() [][2]*Terminal {
	var pairs [][2]*Terminal
	add := func(a, b string) {
		if from, to := p.Terminal(a), p.Terminal(b); from != nil && to != nil {
			pairs = append(pairs, [2]*Terminal{from, to})
		}
	}
	for _, pair := range p.Kind.Pass {
		add(pair[0], pair[1])
	}
	for _, throw := range p.Throws {
		for _, pair := range throw.Pairs {
			add(pair[0], pair[1])
		}
	}
	return pairs
}

// net is the circuit as nodes and edges that current can take in either direction.
type net struct {
	nodes []netNode
	ends  [][2]int // of each edge
	edges [][]int  // at each node
}

// netNode is a spot, the inside of a terminal, the inside of a module, or a stud's metal.
type netNode struct {
	name    string
	hint    string
	at      Pos
	rank    int // which node of several speaks for them: the lowest
	battery bool
}

// Who speaks for a stretch that current cannot leave.
const (
	rankStud = iota
	rankSplice
	rankPart
	rankSpot
)

func (n *net) node(node netNode) int {
	n.nodes = append(n.nodes, node)
	n.edges = append(n.edges, nil)
	return len(n.nodes) - 1
}

func (n *net) edge(a, b int) {
	n.ends = append(n.ends, [2]int{a, b})
	n.edges[a] = append(n.edges[a], len(n.ends)-1)
	n.edges[b] = append(n.edges[b], len(n.ends)-1)
}

// netOf makes the net of a numbered circuit.
func netOf(c *Circuit) *net {
	n := &net{}
	for range c.Spots {
		n.node(netNode{rank: rankSpot})
	}
	for _, w := range c.Wires {
		n.edge(int(w.From.Spot), int(w.To.Spot))
		for _, end := range []End{w.From, w.To} {
			if node := &n.nodes[end.Spot]; node.name == "" {
				node.name, node.at = end.Name, w.Pos
			}
		}
	}
	for _, k := range c.Connectors {
		for _, t := range k.Cavities {
			n.edge(int(t.Spot), int(t.FarSpot))
		}
	}
	for _, s := range c.Splices {
		n.nodes[s.Spot] = netNode{name: s.Name, at: s.Pos, hint: "If it is bolted to metal, it stands under grounds", rank: rankSplice}
	}
	minus := -1 // the inside of a battery's minus post
	for _, p := range c.OfKind("battery") {
		minus = n.part(p, -1)
	}
	for _, p := range c.Parts {
		if p.Kind.Name != "battery" {
			n.part(p, minus)
		}
	}
	n.studs(c)
	return n
}

// part adds a part. A module is one node, since its pins are all joined inside by something. A diagnostic socket takes
// no current, but is a lawful end of wires; an edge to the battery's minus stands for that.
func (n *net) part(p *Part, minus int) (firstInside int) {
	inside := map[*Terminal]int{}
	hub := -1
	for _, t := range p.Terminals {
		if t.Spot == NoSpot {
			continue
		}
		if node := &n.nodes[t.Spot]; node.name == "" {
			node.name, node.at = t.Name, p.Pos
		}
		if p.Module != nil && hub >= 0 {
			n.edge(int(t.Spot), hub)
			continue
		}
		node := n.node(netNode{name: t.Name, at: p.Pos, rank: rankPart, battery: p.Kind.Name == "battery"})
		hub, inside[t] = node, node
		n.edge(int(t.Spot), node)
	}
	if p.Kind.Name == "socket" && minus >= 0 {
		n.edge(hub, minus)
	}
	for _, pair := range p.passPairs() {
		a, wiredA := inside[pair[0]]
		b, wiredB := inside[pair[1]]
		if wiredA && wiredB {
			n.edge(a, b)
		}
	}
	return hub
}

// studs adds the rings, the metal, and the metal's way on.
func (n *net) studs(c *Circuit) {
	metal := map[string]int{}
	onward := map[string]bool{} // studs whose metal carries current on; of the others only the rings do
	for _, s := range c.Studs {
		onward[s.To] = true
		onward[s.Name] = onward[s.Name] || s.To != ""
	}
	for _, s := range c.Studs {
		node := netNode{name: s.Name, at: s.Pos, hint: "Say where its metal goes, with to:, or run a wire on from it", rank: rankStud}
		bolted := len(n.edges[s.Spot]) > 0 // else it only stands for the metal there
		if bolted {
			n.nodes[s.Spot] = node
		}
		if onward[s.Name] || !bolted {
			metal[s.Name] = n.node(node)
		}
		if onward[s.Name] && bolted {
			n.edge(int(s.Spot), metal[s.Name])
		}
	}
	for _, s := range c.Studs {
		if on, ok := metal[s.To]; ok {
			n.edge(metal[s.Name], on)
		} else if t := c.terminals[s.To]; t != nil {
			n.edge(metal[s.Name], int(t.Spot))
		}
	}
}

// blocks cuts the net at its bridges, the edges that lie on no round trip and so can carry no current. It gives the
// block of each node, and the number of bridges at each block.
func (n *net) blocks() (blockOf []int, bridges []int) {
	bridge := n.bridges()
	blockOf = make([]int, len(n.nodes))
	for i := range blockOf {
		blockOf[i] = -1
	}
	count := 0
	for start := range n.nodes {
		if blockOf[start] >= 0 {
			continue
		}
		blockOf[start] = count
		for todo := []int{start}; len(todo) > 0; {
			node := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, e := range n.edges[node] {
				other := n.ends[e][0] + n.ends[e][1] - node
				if !bridge[e] && blockOf[other] < 0 {
					blockOf[other] = count
					todo = append(todo, other)
				}
			}
		}
		count++
	}
	bridges = make([]int, count)
	for e, is := range bridge {
		if is {
			bridges[blockOf[n.ends[e][0]]]++
			bridges[blockOf[n.ends[e][1]]]++
		}
	}
	return blockOf, bridges
}

// bridges finds the edges without which the net falls apart, by Tarjan's depth-first numbering (R. E. Tarjan, A note on
// finding the bridges of a graph, 1974; from memory), with its own stack since nets can be deep.
func (n *net) bridges() []bool {
	type visit struct{ node, by, next int }
	bridge := make([]bool, len(n.ends))
	order, low, count := make([]int, len(n.nodes)), make([]int, len(n.nodes)), 0
	for start := range n.nodes {
		if order[start] > 0 {
			continue
		}
		count++
		order[start], low[start] = count, count
		for stack := []visit{{start, -1, 0}}; len(stack) > 0; {
			v := &stack[len(stack)-1]
			if v.next < len(n.edges[v.node]) {
				e := n.edges[v.node][v.next]
				v.next++
				other := n.ends[e][0] + n.ends[e][1] - v.node
				switch {
				case e == v.by:
				case order[other] > 0:
					low[v.node] = min(low[v.node], order[other])
				default:
					count++
					order[other], low[other] = count, count
					stack = append(stack, visit{other, e, 0})
				}
				continue
			}
			done := *v
			stack = stack[:len(stack)-1]
			if len(stack) > 0 {
				parent := stack[len(stack)-1].node
				low[parent] = min(low[parent], low[done.node])
				bridge[done.by] = low[done.node] > order[parent]
			}
		}
	}
	return bridge
}

// checkReturn tells of stretches that current can enter and not leave, and of those that no battery feeds.
func (r *reader) checkReturn() {
	n := netOf(r.circuit)
	blockOf, bridges := n.blocks()
	speaker := make([]int, len(bridges))
	battery := make([]bool, len(bridges))
	for i := range speaker {
		speaker[i] = -1
	}
	for i, node := range n.nodes {
		block := blockOf[i]
		battery[block] = battery[block] || node.battery
		if s := speaker[block]; node.name != "" && (s < 0 || node.rank < n.nodes[s].rank) {
			speaker[block] = i
		}
	}
	for block, count := range bridges {
		if battery[block] || count > 1 || speaker[block] < 0 {
			continue
		}
		node := n.nodes[speaker[block]]
		if count == 0 {
			r.wrong(node.at, node.name+" and what is joined to it have no connection to a battery", node.hint)
		} else {
			r.wrong(node.at, node.name+" is a dead end: current that comes there has no way back to the battery", node.hint)
		}
	}
	if !r.bad() && !n.roundTrip(blockOf, battery) {
		minus := r.circuit.OfKind("battery")[0]
		r.wrong(minus.Pos, "nothing leads from the plus of "+minus.Name+" back to its minus", "")
	}
}

// roundTrip says that a battery lies in a block of more than one node, so that current can go round.
func (n *net) roundTrip(blockOf []int, battery []bool) bool {
	size := make([]int, len(battery))
	for _, block := range blockOf {
		if size[block]++; battery[block] && size[block] > 1 {
			return true
		}
	}
	return false
}
