//go:build klu

// The race against SuiteSparse's KLU and LDL, written in C.

package sparse

import (
	"fmt"
	"strings"
	"testing"

	"underload/solver/internal/harness"
)

// BenchmarkPeers prints our speed beside KLU's (default settings) and LDL's on the very same matrices, and our accuracy. Run it with
//
//	CGO_ENABLED=1 go test -tags klu -run '^$' -bench Peers -benchtime 1x -v ./solver/sparse
func BenchmarkPeers(b *testing.B) {
	for b.Loop() {
		var lines strings.Builder
		var bars []bar
		for _, n := range sizes {
			bars = append(bars, peerBars(b, n, &lines)...)
		}
		bars = append(bars, allocationBar(), probeBar())
		b.Log("\n" + lines.String())
		table(b, append(bars, accuracyBars()...))
	}
}

func peerBars(b *testing.B, n int, lines *strings.Builder) []bar {
	c := newCourse(harness.Random(n, 1))
	m := harness.Assemble(c.net)
	k, err := harness.NewKLU(m)
	if err != nil {
		b.Fatal(err)
	}
	defer k.Close()
	l := harness.NewLDL(m)
	defer l.Close()
	x := make([]float64, n)
	race := append(c.contestants(),
		harness.Contestant{Name: "klu refactor", Run: k.Refactor},
		harness.Contestant{Name: "klu refactor+solve", Run: func() { k.Refactor(); copy(x, c.amps); k.Solve(x) }},
		harness.Contestant{Name: "ldl numeric+solve", Run: func() { l.Factor(); copy(x, c.amps); l.Solve(x) }},
		harness.Contestant{Name: "analyse", Run: func() { Analyse(n, c.p.ends) }},
		harness.Contestant{Name: "klu analyze", Run: k.Analyse})
	t := harness.Race(rounds, race...)
	lines.WriteString(medians(n, race, t))

	const own, klu = "refactor+solve", "klu refactor+solve"
	name := func(what string) string { return fmt.Sprintf("%s, n=%d", what, n) }
	bars := []bar{{name("6 fill / KLU's"), float64(c.p.Fill()) / float64(k.Fill()), 1.10, 1.00}}
	switch {
	case n == 20000:
		bars = append(bars, bar{name("2 refactor+solve / KLU's"), t.Ratio(own, klu), 0.95, 0.60})
	case n >= 200:
		bars = append(bars, bar{name("1 refactor+solve / KLU's"), t.Ratio(own, klu), 0.70, 0.45},
			bar{name("4 refactor+solve / LDL's"), t.Ratio(own, "ldl numeric+solve"), 0.85, 0.60})
	}
	if n >= 1000 {
		bars = append(bars, bar{name("10 new edge, all nodes / KLU refactor+solve"), t.Ratio("new edge", klu), 0.15, 0.09})
	}
	if n == 1000 || n == 5000 {
		bars = append(bars, bar{name("12 dictionary, a fault / KLU refactor"), t.Ratio("dictionary", "klu refactor"), 0.07, 0.04})
	}
	if n == 5000 {
		bars = append(bars, bar{name("13 64 probes unguarded, a fault / KLU refactor"), t.Ratio("64 probes, unguarded", "klu refactor"), 0.012, 0.006},
			bar{name("13 64 probes guarded, a fault / KLU refactor"), t.Ratio("64 probes", "klu refactor"), 0.012, 0.006})
	}
	bars = append(bars, bar{name("20 analysis / KLU's"), t.Ratio("analyse", "klu analyze"), 6, 2})
	return append(bars, ownBars(n, t)...)
}
