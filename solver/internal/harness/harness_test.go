// The networks are what their comments say, the same everywhere, and the exact solver is exact.

package harness

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"math/big"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func fingerprint(n *Network) uint64 {
	h := fnv.New64a()
	for i, e := range n.Edges {
		for _, x := range []uint64{uint64(uint32(e[0])), uint64(uint32(e[1])), math.Float64bits(n.Siemens[i]), math.Float64bits(n.Volts[i])} {
			h.Write(binary.LittleEndian.AppendUint64(nil, x))
		}
	}
	return h.Sum64()
}

// The kept answers of other solvers are for these very networks.
func TestSameNetworkEverywhere(t *testing.T) {
	if got := fingerprint(Random(1000, 1)); got != 0xe839ff2868e0610e {
		t.Errorf("fingerprint %#x: the generator has changed; renew testdata/harness", got)
	}
	if fingerprint(Random(200, 1)) == fingerprint(Random(200, 2)) {
		t.Error("two seeds, one network")
	}
}

func TestRandomLooksLikeWiring(t *testing.T) {
	for seed := range uint64(3) {
		n := Random(5000, seed)
		degree := make([]int, n.Nodes)
		least, most, floating := math.Inf(1), 0.0, 0
		for i, e := range n.Edges {
			for _, end := range e {
				if end < Ground || int(end) >= n.Nodes {
					t.Fatalf("edge %v", e)
				}
				if end >= 0 {
					degree[end]++
				}
			}
			least, most = min(least, n.Siemens[i]), max(most, n.Siemens[i])
			if n.Volts[i] == 5 {
				floating++
			}
		}
		twos := 0
		for _, d := range degree {
			if d == 0 {
				t.Error("a node without edges")
			}
			if d == 2 {
				twos++
			}
		}
		if share := float64(twos) / float64(n.Nodes); share < 0.76 || share > 0.82 {
			t.Errorf("seed %d: %.3f of the nodes join two edges", seed, share)
		}
		if ratio := float64(len(n.Edges)) / float64(n.Nodes); ratio < 1.26 || ratio > 1.32 {
			t.Errorf("seed %d: %.3f edges a node", seed, ratio)
		}
		if least != 1e-7 || most < 900 || most > 1000 {
			t.Errorf("seed %d: conductances from %g to %g S", seed, least, most)
		}
		if floating != 5 || n.Volts[0] != 12.6 {
			t.Errorf("seed %d: %d references, battery %g V", seed, floating, n.Volts[0])
		}
	}
}

func TestSmallNetworks(t *testing.T) {
	for nodes := 1; nodes < 30; nodes++ {
		n := Random(nodes, 7)
		if len(n.Siemens) != len(n.Edges) || len(n.Volts) != len(n.Edges) || len(n.Amps()) != nodes {
			t.Errorf("%d nodes: %d edges, %d conductances", nodes, len(n.Edges), len(n.Siemens))
		}
	}
}

// The rail is a row of resistances: its voltages follow by proportion, here in exact fractions.
func TestExactOnTheRail(t *testing.T) {
	n := Rail(50)
	ohms := func(siemens float64) *big.Rat { return new(big.Rat).Inv(new(big.Rat).SetFloat64(siemens)) }
	total, below := new(big.Rat), new(big.Rat)
	for _, g := range n.Siemens {
		total.Add(total, ohms(g))
	}
	volts := Exact(n)
	below.Sub(total, ohms(n.Siemens[0]))
	for i := range n.Nodes {
		want := new(big.Rat).SetFloat64(n.Volts[0])
		want.Mul(want, below).Quo(want, total)
		if w, _ := want.Float64(); math.Abs(volts[i]-w) > 1e-15*w {
			t.Errorf("node %d: %.17g V, want %.17g", i, volts[i], w)
		}
		below.Sub(below, ohms(n.Siemens[i+1]))
	}
}

func TestExactAgainstDense(t *testing.T) {
	for seed := range uint64(5) {
		n := Random(60, seed)
		a := mat.NewDense(n.Nodes, n.Nodes, nil)
		for i, e := range n.Edges {
			for side, here := range e {
				if there := e[1-side]; here >= 0 && here != there {
					a.Set(int(here), int(here), a.At(int(here), int(here))+n.Siemens[i])
					if there >= 0 {
						a.Set(int(here), int(there), a.At(int(here), int(there))-n.Siemens[i])
					}
				}
			}
		}
		var want mat.VecDense
		if err := want.SolveVec(a, mat.NewVecDense(n.Nodes, n.Amps())); err != nil {
			if _, onlyIllConditioned := err.(mat.Condition); !onlyIllConditioned {
				t.Fatal(err)
			}
		}
		for i, v := range Exact(n) {
			if math.Abs(v-want.AtVec(i)) > 1e-8 {
				t.Errorf("seed %d: node %d: %g V, dense %g V", seed, i, v, want.AtVec(i))
			}
		}
	}
}

func TestRatiosAreOfTheSameRound(t *testing.T) {
	times := Times{"a": {2, 30, 8}, "b": {1, 10, 2}}
	if m := times.Median("a"); m != 8 {
		t.Errorf("median %g, want 8", m)
	}
	if r := times.Ratio("a", "b"); r != 3 {
		t.Errorf("ratio %g, want 3", r)
	}
}
