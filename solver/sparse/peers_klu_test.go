//go:build klu

// The race against SuiteSparse's KLU and LDL, written in C.

package sparse

import (
	"fmt"
	"testing"

	"underload/solver/internal/harness"
)

func BenchmarkPeers(b *testing.B) {
	for b.Loop() {
		for _, n := range []int{50, 200, 1000, 5000, 20000} {
			c := newCourse(harness.Random(n, 1))
			m := harness.Assemble(c.net)
			k, err := harness.NewKLU(m)
			if err != nil {
				b.Fatal(err)
			}
			l := harness.NewLDL(m)
			x := make([]float64, n)
			race := append(c.contestants(),
				harness.Contestant{Name: "klu refactor", Run: k.Refactor},
				harness.Contestant{Name: "klu solve", Run: func() { copy(x, c.amps); k.Solve(x) }},
				harness.Contestant{Name: "klu", Run: func() { k.Refactor(); copy(x, c.amps); k.Solve(x) }},
				harness.Contestant{Name: "ldl", Run: func() { l.Factor(); copy(x, c.amps); l.Solve(x) }},
				harness.Contestant{Name: "analyse", Run: func() { Analyse(n, c.p.ends) }},
				harness.Contestant{Name: "klu analyse", Run: k.Analyse})
			t := harness.Race(rounds, race)
			fmt.Printf("n=%d fill %d klu %d\n", n, c.p.Fill(), k.Fill())
			for _, r := range race {
				fmt.Printf("   %-16s %10.2f us\n", r.Name, t.Median(r.Name)/1000)
			}
			rs := "refactor+solve"
			fmt.Printf("   refactor/klu %.3f solve/klu %.3f r+s/klu %.3f  r+s/ldl %.3f tick/r+s %.3f new/klu %.3f path/r+s %.3f dict/klu refactor %.4f analyse/klu %.2f fill %.3f\n",
				t.Ratio("refactor", "klu refactor"), t.Ratio("solve", "klu solve"), t.Ratio(rs, "klu"), t.Ratio(rs, "ldl"), t.Ratio("tick", rs), t.Ratio("new edge", "klu"),
				t.Ratio("path", rs), t.Ratio("dictionary", "klu refactor"), t.Ratio("analyse", "klu analyse"), float64(c.p.Fill())/float64(k.Fill()))
			k.Close()
			l.Close()
		}
	}
}
