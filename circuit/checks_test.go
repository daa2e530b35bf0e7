package circuit

// The search for dead ends, held against its definition: a bridge is an edge without which its two ends lose each other.

import (
	"math/rand/v2"
	"testing"
)

// apart says by plain search whether two nodes lose each other without an edge.
func apart(n *net, a, b, without int) bool {
	seen := map[int]bool{a: true}
	for todo := []int{a}; len(todo) > 0; {
		node := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if node == b {
			return false
		}
		for _, e := range n.edges[node] {
			if other := n.ends[e][0] + n.ends[e][1] - node; e != without && !seen[other] {
				seen[other] = true
				todo = append(todo, other)
			}
		}
	}
	return true
}

func TestBridges(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 15))
	bridges, others := 0, 0
	for range 400 {
		n := &net{}
		for range 2 + random.IntN(14) {
			n.node(netNode{})
		}
		for range random.IntN(2 * len(n.nodes)) {
			n.edge(random.IntN(len(n.nodes)), random.IntN(len(n.nodes))) // twins and loops too
		}
		blockOf, _ := n.blocks()
		for e, is := range n.bridges() {
			a, b := n.ends[e][0], n.ends[e][1]
			if want := a != b && apart(n, a, b, e); is != want {
				t.Fatalf("edge %d of %v: bridge %v, want %v", e, n.ends, is, want)
			}
			if (blockOf[a] != blockOf[b]) != is {
				t.Fatalf("edge %d of %v: blocks %d and %d", e, n.ends, blockOf[a], blockOf[b])
			}
			if is {
				bridges++
			} else {
				others++
			}
		}
	}
	if bridges < 500 || others < 500 {
		t.Errorf("only %d bridges and %d other edges were tried", bridges, others)
	}
}

// A stud that two wires are bolted to, and whose metal nothing goes on from, passes current from ring to ring.
func TestStudBetweenTwoWires(t *testing.T) {
	c, problems := Read("studs.yaml", []byte(`underload: 1
parts:
  B1: {is: battery}
  E3: {is: lamp, bulb: 55 W}
paths:
  lamp: [B1.pos, wire, E3, wire, G1, wire, B1.neg]
grounds:
  G1: {place: engine}
`))
	if c == nil || len(problems) > 0 {
		t.Error(problems)
	}
}
