package sanity

// A circuit of 3000 parts is looked at within a fixed number of states, and what is wrong in one corner of it is found.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
)

// large is a vehicle of n boxes, each with a fuse, a switch, a relay, two lamps and a motor, every tenth with a controller
// that works the relay. Box 7 has a wire of 0.35 mm² behind its 15 A fuse, and the motor of box 11 a
// terminal that loses a little more than it may.
func large(n int) string {
	var parts, paths strings.Builder
	for i := range n {
		thin := "1.0 mm2 1 m"
		if i == 7 {
			thin = "0.35 mm2 0.1 m"
		}
		fmt.Fprintf(&parts, "  F%d: {is: fuse, rating: 15 A}\n  S%d: {is: switch, throws: {off: [], on: [1-2]}}\n  K%d: {is: relay}\n", i, i, i)
		fmt.Fprintf(&parts, "  LA%d: {is: lamp, bulb: 21 W}\n  LB%d: {is: lamp, bulb: 5 W}\n  M%d: {is: motor, draws: 5 A}\n", i, i, i)
		fmt.Fprintf(&paths, "  a%d:\n    - BAR\n    - F%d\n    - wire: 1.5 mm2 1 m\n    - N%d\n    - wire: 1.0 mm2 1 m\n    - S%d\n    - wire: 1.0 mm2 1 m\n    - P%d\n    - wire: %s\n    - LA%d\n    - wire: 1.0 mm2 1 m\n    - G1\n", i, i, i, i, i, thin, i)
		fmt.Fprintf(&paths, "  b%d:\n    - P%d\n    - wire: 1.0 mm2 1 m\n    - LB%d\n    - wire: 1.0 mm2 1 m\n    - G1\n", i, i, i)
		fmt.Fprintf(&paths, "  c%d:\n    - N%d\n    - wire: 1.5 mm2 1 m\n    - K%d.30-87\n    - wire: 1.5 mm2 1 m\n    - M%d\n    - wire: 1.5 mm2 1 m\n    - G1\n", i, i, i, i)
		if i%10 == 0 {
			fmt.Fprintf(&parts, "  U%d: {is: module, supply: [1], wake: [2], ground: [3], outputs: {4: {pulls to: ground, for: M%d}}}\n", i, i)
			fmt.Fprintf(&paths, "  d%d:\n    - N%d\n    - wire: 1.0 mm2 1 m\n    - U%d.1\n  e%d:\n    - IGN\n    - wire: 1.0 mm2 1 m\n    - U%d.2\n", i, i, i, i, i)
			fmt.Fprintf(&paths, "  f%d:\n    - U%d.3\n    - wire: 1.0 mm2 1 m\n    - G1\n  g%d:\n    - N%d\n    - wire: 1.0 mm2 1 m\n    - K%d.86-85\n    - wire: 1.0 mm2 1 m\n    - U%d.4\n", i, i, i, i, i, i)
		} else {
			fmt.Fprintf(&paths, "  h%d:\n    - P%d\n    - wire: 1.0 mm2 1 m\n    - K%d.86-85\n    - wire: 1.0 mm2 1 m\n    - G1\n", i, i, i)
		}
	}
	return "underload: 1\nparts:\n  B: {is: battery, internal: 1 mohm}\n  FK: {is: fuse, rating: 10 A}\n  KEY: {is: switch, throws: {off: [], run: [b-ign]}}\n" + parts.String() +
		"paths:\n  main:\n    - B.pos\n    - wire: 50 mm2 0.1 m\n    - BAR\n  key:\n    - BAR\n    - FK\n    - wire: 1.0 mm2 1 m\n    - KEY.b-ign\n    - wire: 1.0 mm2 1 m\n    - IGN\n" + paths.String() +
		"grounds:\n  G1: {to: B.neg, by: 0.1 mohm}\nsplices:\n  BAR: {}\n  IGN: {}\nterminals:\n  M11.in: {contact: 22 mohm}\n"
}

func TestLargeCircuitIsBounded(t *testing.T) {
	c, problems := circuit.Read("large.yaml", []byte(large(490)))
	if c == nil {
		t.Fatal(problems)
	}
	if len(c.Parts) < 2900 {
		t.Fatalf("only %d parts", len(c.Parts))
	}
	report, err := Check(c)
	if err != nil {
		t.Fatal(err)
	}
	if most := 1 + 2*mostStates + mostAgain + mostTurns; report.Visits > most || report.Visits < mostPacked {
		t.Errorf("%d states were set up, want %d to %d", report.Visits, mostPacked, most)
	}
	t.Logf("%d parts, %d states", len(c.Parts), report.Visits)
	var told []string
	for _, f := range report.Warnings() {
		told = append(told, f.Rule+" "+f.At)
	}
	if want := []string{"volt drop M11", "thin wire F7"}; !slices.Equal(told, want) {
		t.Errorf("found %v, want %v", told, want)
		for _, f := range report.Findings[:min(20, len(report.Findings))] {
			t.Log(f)
		}
	}
}
