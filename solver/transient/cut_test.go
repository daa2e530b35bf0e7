package transient_test

// This file holds coils that are cut off all at once, each with something that breaks down across it and across its cut:
// Newton's iteration, with limits for every element by itself, may go round in circles there.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/element"
	"underload/solver/transient"
)

func TestManyCoilsCutOffAtOnce(t *testing.T) {
	clamp := element.Law{Curve: element.Breakdown{Volts: 330, Ohms: 0.1, CornerVolts: 0.5}}
	air := element.Law{Curve: element.Breakdown{Volts: 330, Ohms: 10, CornerVolts: 2}}
	highest := 0.0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 9))
		n := transient.New()
		rail := n.Node()
		n.Source(transient.Ground, rail, 12, 0.01)
		nodes, volts := []transient.Node{transient.Ground, rail}, []float64{0, 12}
		var cuts []transient.Edge
		for range 2 + rng.IntN(6) {
			from, to, behind := rng.IntN(len(nodes)), nodes[rng.IntN(len(nodes))], n.Node()
			cuts = append(cuts, n.Resistor(nodes[from], behind, 0.01))
			n.Element(nodes[from], behind, air)
			n.Element(behind, to, element.Coil{Ohms: math.Pow(10, 4*rng.Float64()), Henries: 0.1})
			n.Element(behind, to, clamp)
			nodes, volts = append(nodes, behind), append(volts, volts[from])
		}
		r := mustStart(t, n, transient.Options{Volts: volts})
		for _, cut := range cuts {
			r.SetOhms(cut, 1e9)
		}
		if err := r.Settle(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for _, node := range nodes {
			highest = math.Max(highest, math.Abs(r.Volts(node)))
		}
		if worst, most := r.Now().Missing(); worst > 1e-3*most+1e-9 {
			t.Errorf("seed %d: %g A of %g A are missing", seed, worst, most)
		}
		mustAdvance(t, r, 1e-3)
	}
	if highest < 330 {
		t.Errorf("no more than %g V", highest)
	}
}
