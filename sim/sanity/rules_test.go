package sanity

// Every rule against a circuit that breaks it and one that just does not. What is said of the first stands in
// testdata/said.golden: go test ./sim/sanity -run TestRules -update

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
)

var update = flag.Bool("update", false, "write what is now said into the golden file")

// file makes a circuit file of parts and paths beside a battery and a ground.
func file(parts, paths, rest string) string {
	return "underload: 1\nparts:\n  B1: {is: battery}\n" + parts + "paths:\n" + paths + "grounds:\n  G1: {to: B1.neg}\n" + rest
}

func read(t *testing.T, name, text string) *circuit.Circuit {
	t.Helper()
	c, problems := circuit.Read(name, []byte(text))
	if c == nil {
		t.Fatalf("%v\n%s", problems, text)
	}
	return c
}

func checked(t *testing.T, name, text string) Report {
	t.Helper()
	report, err := Check(read(t, name, text))
	if err != nil {
		t.Fatal(err)
	}
	return report
}

const (
	lampOnSwitch = "  F1: {is: fuse, rating: 10 A}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  L1: {is: lamp, bulb: 21 W}\n"
	controller   = "  F1: {is: fuse, rating: 10 A}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  U1: {is: module, supply: [1], wake: [2], ground: [3], runs above: 9 V, resets below: 6 V}\n"
	fed          = "  a: [B1.pos, F1, wire, S1, wire, U1.1]\n  c: [U1.3, wire, G1]\n"
)

const (
	turner  = "  F1: {is: fuse, rating: 15 A}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  K1: {is: relay}\n  M1: {is: motor, draws: 3 A}\n"
	chooser = "  F1: {is: fuse, rating: 5 A}\n  F2: {is: fuse, rating: 15 A}\n  SW: {is: switch, throws: {one: [1-c], two: [2-c]}}\n  L1: {is: lamp, bulb: 21 W}\n"
)

// reverser is a switch that brings a motor's feed in at 1 and out at 2, and in its other position as it is told.
func reverser(down string) string {
	return "  F1: {is: fuse, rating: 15 A}\n  SW: {is: switch, throws: {up: [b-1, 2-g], down: " + down + "}}\n  M1: {is: motor, draws: 3 A}\n"
}

const reversed = "  a: [B1.pos, F1, wire, SW.b]\n  b: [SW.1, wire, M1, wire, SW.2]\n  c: [SW.g, wire, G1]\n"

// series has a second battery under the first load: 24 V.
const series = "  B2: {is: battery}\n  F1: {is: fuse, rating: 10 A}\n"

const seriesPaths = "  s: [B1.pos, wire: 25 mm2 1 m, B2.neg]\n  a: [B2.pos, F1, wire, S1]\n"

func twoFeeds(awake string) string {
	return "  F1: {is: fuse, rating: 5 A}\n  F2: {is: fuse, rating: 5 A}\n  U1: {is: module, supply: [1, 2], ground: [3], awake: " + awake + "}\n"
}

// cases: over breaks the rule, within just does not. Both are checked for that rule alone.
var cases = []struct{ rule, name, over, within string }{
	{"thin wire", "15 A and 10 A on 0.75 mm2",
		file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 0.75 mm2, L1, wire: 0.35 mm2 1 m, G1]\n", ""),
		file("  F1: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 0.75 mm2, L1, wire: 0.35 mm2 1 m, G1]\n", "")},
	{"thin wire", "aluminium counts as the copper of the same ohms",
		file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 1.5 mm2 1 m aluminium, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 2.5 mm2 1 m aluminium, L1, G1]\n", "")},
	{"thin wire", "a wire whose size nobody said is not blamed",
		file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: 0.75 mm2, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire W1: RD 3 m, L1, G1]\n", "")},
	{"thin wire", "behind the next fuse that one counts",
		file("  F1: {is: fuse, rating: 30 A}\n  F2: {is: fuse, rating: 15 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 2.5 mm2 1 m, F2, wire W1: 0.75 mm2, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 30 A}\n  F2: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 2.5 mm2 1 m, F2, wire W1: 0.75 mm2, L1, G1]\n", "")},
	{"thin wire", "thinner than the table",
		file("  F1: {is: fuse, rating: 4 A}\n  L1: {is: lamp, bulb: 5 W}\n", "  a: [B1.pos, F1, wire W1: 0.22 mm2 1 m, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 3 A}\n  L1: {is: lamp, bulb: 5 W}\n", "  a: [B1.pos, F1, wire W1: 0.22 mm2 1 m, L1, G1]\n", "")},
	{"thin wire", "a relay that turns a motor both ways; what hangs on the ground is not behind the fuse",
		file(turner, "  a: [B1.pos, F1, wire: 1 mm2 1 m, S1, wire: 1 mm2 1 m, K1.87-30, wire W1: 0.35 mm2 1 m, M1, wire: 0.35 mm2 1 m, G1]\n  b: [K1.87a, wire: 0.35 mm2 1 m, G1]\n  c: [S1, wire: 1 mm2 1 m, SW, wire: 1 mm2 1 m, K1.86-85, wire: 0.35 mm2 1 m, G1]\n", ""),
		file(turner, "  a: [B1.pos, F1, wire: 1 mm2 1 m, S1, wire: 1 mm2 1 m, K1.87-30, wire W1: 1 mm2 1 m, M1, wire: 0.35 mm2 1 m, G1]\n  b: [K1.87a, wire: 0.35 mm2 1 m, G1]\n  c: [S1, wire: 1 mm2 1 m, SW, wire: 1 mm2 1 m, K1.86-85, wire: 0.35 mm2 1 m, G1]\n", "")},
	{"thin wire", "a change-over switch between two fuses",
		file(chooser, "  a: [B1.pos, F1, wire: 0.5 mm2 1 m, SW.1-c, wire W1: 0.75 mm2 1 m, L1, G1]\n  b: [B1.pos, F2, wire: 1 mm2 1 m, SW.2]\n", ""),
		file(chooser, "  a: [B1.pos, F1, wire: 0.5 mm2 1 m, SW.1-c, wire W1: 1 mm2 1 m, L1, G1]\n  b: [B1.pos, F2, wire: 1 mm2 1 m, SW.2]\n", "")},
	{"no fuse", "two batteries in series",
		file("  B2: {is: battery}\n  F1: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  H1: {is: heater, power: 50 W}\n", "  a: [B1.pos, wire: 25 mm2 1 m, B2.neg]\n  b: [B2.pos, F1, wire, H1, G1]\n  c: [B1.pos, wire W1, L1, G1]\n", ""),
		file("  B2: {is: battery}\n  F1: {is: fuse, rating: 10 A}\n  F2: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  H1: {is: heater, power: 50 W}\n", "  a: [B1.pos, wire: 25 mm2 1 m, B2.neg]\n  b: [B2.pos, F1, wire, H1, G1]\n  c: [B1.pos, F2, wire W1, L1, G1]\n", "")},
	{"overload", "a controller with two feeds takes half through each",
		file(twoFeeds("10.2 A"), "  a: [B1.pos, F1, wire, U1.1]\n  b: [B1.pos, F2, wire, U1.2]\n  c: [U1.3, wire: 2.5 mm2 1 m, G1]\n", ""),
		file(twoFeeds("9.8 A"), "  a: [B1.pos, F1, wire, U1.1]\n  b: [B1.pos, F2, wire, U1.2]\n  c: [U1.3, wire: 2.5 mm2 1 m, G1]\n", "")},
	{"no fuse", "a winch on 10 and 16 mm2",
		file("  M1: {is: motor, draws: 40 A}\n", "  a: [B1.pos, wire W1: 10 mm2 1 m, M1, wire: 10 mm2 1 m, G1]\n", ""),
		file("  M1: {is: motor, draws: 40 A}\n", "  a: [B1.pos, wire W1: 16 mm2 1 m, M1, wire: 10 mm2 1 m, G1]\n", "")},
	{"no fuse", "a controller, and one behind a fusible link",
		file("  U1: {is: module, supply: [1], ground: [2]}\n", "  a: [B1.pos, wire W1, U1.1]\n  b: [U1.2, wire, G1]\n", ""),
		file("  L1: {is: fusible link, rating: 30 A}\n  U1: {is: module, supply: [1], ground: [2]}\n", "  a: [B1.pos, L1, wire W1, U1.1]\n  b: [U1.2, wire, G1]\n", "")},
	{"no fuse", "a relay's coil through a switch",
		file("  F1: {is: fuse, rating: 10 A}\n  K1: {is: relay}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  L1: {is: lamp, bulb: 21 W}\n",
			"  a: [B1.pos, wire W1, SW, wire W2: 0.5 mm2 1 m, K1.86-85, wire, G1]\n  b: [B1.pos, F1, wire, K1.30-87, wire, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 10 A}\n  K1: {is: relay}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  L1: {is: lamp, bulb: 21 W}\n",
			"  a: [F1.out, wire W1, SW, wire W2: 0.5 mm2 1 m, K1.86-85, wire, G1]\n  b: [B1.pos, F1, wire, K1.30-87, wire, L1, G1]\n", "")},
	{"overload", "15.1 A and 15 A on 15 A",
		file("  F1: {is: fuse, rating: 15 A}\n  H1: {is: heater, power: 135 W}\n  H2: {is: heater, power: 69 W}\n", "  a: [B1.pos, F1, wire: 2.5 mm2 1 m, S1, wire, H1, G1]\n  b: [S1, wire, H2, G1]\n", ""),
		file("  F1: {is: fuse, rating: 15 A}\n  H1: {is: heater, power: 135 W}\n  H2: {is: heater, power: 67.5 W}\n", "  a: [B1.pos, F1, wire: 2.5 mm2 1 m, S1, wire, H1, G1]\n  b: [S1, wire, H2, G1]\n", "")},
	{"overload", "two heaters together and in turn",
		file("  F1: {is: fuse, rating: 15 A}\n  SW: {is: switch, throws: {off: [], low: [b-1], high: [b-1, b-2]}}\n  H1: {is: heater, power: 110 W}\n  H2: {is: heater, power: 110 W}\n",
			"  a: [B1.pos, F1, wire: 2.5 mm2 1 m, SW.b-1, wire, H1, G1]\n  b: [SW.2, wire, H2, G1]\n", ""),
		file("  F1: {is: fuse, rating: 15 A}\n  SW: {is: switch, throws: {off: [], low: [b-1], high: [b-2]}}\n  H1: {is: heater, power: 110 W}\n  H2: {is: heater, power: 110 W}\n",
			"  a: [B1.pos, F1, wire: 2.5 mm2 1 m, SW.b-1, wire, H1, G1]\n  b: [SW.2, wire, H2, G1]\n", "")},
	{"overload", "what a controller feeds goes through its own fuse",
		file("  F1: {is: fuse, rating: 10 A}\n  U1: {is: module, supply: [1], ground: [3], awake: 500 mA, outputs: {4: {pulls to: supply, for: H1, through: 10 mohm}}}\n  H1: {is: heater, power: 130 W}\n",
			"  a: [B1.pos, F1, wire: 2.5 mm2 1 m, U1.1]\n  b: [U1.3, wire, G1]\n  c: [U1.4, wire: 2.5 mm2 1 m, H1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 10 A}\n  U1: {is: module, supply: [1], ground: [3], awake: 500 mA, outputs: {4: {pulls to: supply, for: H1, through: 10 mohm}}}\n  H1: {is: heater, power: 128 W}\n",
			"  a: [B1.pos, F1, wire: 2.5 mm2 1 m, U1.1]\n  b: [U1.3, wire, G1]\n  c: [U1.4, wire: 2.5 mm2 1 m, H1, G1]\n", "")},
	{"fuse type", "a miniature blade of 40 A and of 30 A",
		file("  F1: {is: fuse, rating: 40 A, type: miniature}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 4 mm2 1 m, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 30 A, type: miniature}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 4 mm2 1 m, L1, G1]\n", "")},
	{"fuse type", "a slow fuse for a lamp and for a motor",
		file("  F1: {is: fuse, rating: 30 A, type: large}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 4 mm2 1 m, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 30 A, type: large}\n  L1: {is: motor, draws: 12 A}\n", "  a: [B1.pos, F1, wire: 4 mm2 1 m, L1, G1]\n", "")},
	{"fuse type", "a slow fuse before a lamp and before another fuse",
		file("  F1: {is: fuse, rating: 30 A, type: large}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, wire: 16 mm2 1 m, F1, wire: 16 mm2 1 m, L1, G1]\n", ""),
		file("  F1: {is: fuse, rating: 30 A, type: large}\n  F2: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, wire: 16 mm2 1 m, F1, wire: 16 mm2 1 m, S1, F2, wire, L1, G1]\n", "splices: {S1: {}}\n")},
	{"high volts", "a bulb of 12 V and one of 24 V on two batteries in series",
		file(series+"  L1: {is: lamp, bulb: 21 W}\n  L2: {is: lamp, bulb: 5 W}\n", seriesPaths+"  b: [S1, wire, L1, wire, G1]\n  c: [S1, wire, L2, wire, G1]\n", ""),
		file(series+"  L1: {is: lamp, bulb: 21 W 24 V}\n  L2: {is: lamp, bulb: 5 W}\n", seriesPaths+"  b: [S1, wire, L1, wire, G1]\n  c: [B1.pos, wire, L2, wire, G1]\n", "")},
	{"high volts", "a coil, a motor and a heater of 12 V and of 24 V",
		file(series+"  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  K1: {is: relay}\n  M1: {is: motor, draws: 1 A}\n  H1: {is: heater, power: 10 W}\n",
			seriesPaths+"  b: [S1, wire, SW, wire, K1.86-85, wire, G1]\n  c: [S1, wire, K1.30-87, wire, S2, wire, M1, wire, G1]\n  d: [S2, wire, H1, wire, G1]\n", ""),
		file(series+"  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  K1: {is: relay, coil: 340 ohm, pulls in: 14.4 V, lets go: 3.2 V}\n  M1: {is: motor, draws: 1 A, at: 27 V}\n  H1: {is: heater, power: 10 W, at: 27 V}\n",
			seriesPaths+"  b: [S1, wire, SW, wire, K1.86-85, wire, G1]\n  c: [S1, wire, K1.30-87, wire, S2, wire, M1, wire, G1]\n  d: [S2, wire, H1, wire, G1]\n", "")},
	{"high volts", "two bulbs of 12 V in series share 24 V",
		file(series+"  L1: {is: lamp, bulb: 5 W}\n", seriesPaths+"  b: [S1, wire, L1, wire, G1]\n", ""),
		file(series+"  L1: {is: lamp, bulb: 5 W}\n  L2: {is: lamp, bulb: 5 W}\n", seriesPaths+"  b: [S1, wire, L1, wire, L2, wire, G1]\n", "")},
	{"no return", "a lamp between two fuses",
		file("  F1: {is: fuse, rating: 10 A}\n  F2: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  L2: {is: lamp, bulb: 21 W}\n",
			"  a: [B1.pos, F1, wire, L1, wire, F2.out]\n  b: [B1.pos, F2, wire, L2, G1]\n", ""),
		file("  F1: {is: fuse, rating: 10 A}\n  F2: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  L2: {is: lamp, bulb: 21 W}\n",
			"  a: [B1.pos, F1, wire, L1, wire, G1]\n  b: [B1.pos, F2, wire, L2, G1]\n", "")},
	{"no return", "a controller fed through a lamp",
		file("  F1: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  U1: {is: module, supply: [1], ground: [2]}\n", "  a: [B1.pos, F1, wire, L1, wire, U1.1]\n  b: [U1.2, wire, G1]\n", ""),
		file("  F1: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 21 W}\n  U1: {is: module, supply: [1], ground: [2]}\n", "  a: [B1.pos, F1, wire, S1, wire, U1.1]\n  b: [U1.2, wire, G1]\n  c: [S1, wire, L1, G1]\n", "")},
	{"coil", "a relay for good, and one on a switch",
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, S1, wire, SW, wire, K1.30-87, wire, L1, G1]\n  b: [S1, wire, K1.86-85, wire, G1]\n", ""),
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, S1, wire, K1.30-87, wire, L1, G1]\n  b: [S1, wire, SW, wire, K1.86-85, wire, G1]\n", "")},
	{"coil", "a coil on no path, and the relay's rest contact alone",
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, SW, wire, K1.30-87a, wire, L1, G1]\n", ""),
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, S1, wire, K1.30-87a, wire, L1, G1]\n  b: [S1, wire, SW, wire, K1.86-85, wire, G1]\n", "")},
	{"coil", "both ends of a coil on the minus",
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, K1.30-87, wire, L1, G1]\n  b: [G1, wire, SW, wire, K1.86-85, wire, G1]\n", ""),
		file(lampOnSwitch+"  K1: {is: relay}\n", "  a: [B1.pos, F1, wire, K1.30-87, wire, L1, G1]\n  b: [F1.out, wire, SW, wire, K1.86-85, wire, G1]\n", "")},
	{"idle switch", "a switch with a wire past it",
		file(lampOnSwitch, "  a: [B1.pos, F1, wire, S1, wire: 2 mohm, SW, wire: 2 mohm, S2, wire, L1, G1]\n  b: [S1, wire: 2 mohm, S2]\n", ""),
		file(lampOnSwitch, "  a: [B1.pos, F1, wire, S1, wire: 2 mohm, SW, wire: 2 mohm, S2, wire, L1, G1]\n  b: [S1, wire: 5 ohm, S2]\n", "")},
	{"idle switch", "a switch that only a controller reads",
		file(strings.Replace(controller, "wake: [2]", "wake: [2], signals: [5]", 1), fed+"  b: [S1, wire, U1.2]\n  d: [G1, wire, SW, wire, U1.5]\n", ""),
		file(strings.Replace(controller, "wake: [2]", "wake: [2], signals: [5]", 1), fed+"  b: [S1, wire, U1.2]\n  d: [S1, wire, SW, wire, U1.5]\n", "")},
	{"idle switch", "a start button that a relay holds",
		file(lampOnSwitch+"  K1: {is: relay}\n  S0: {is: switch, throws: {shut: [1-2], open: [1-2]}}\n", "  a: [B1.pos, F1, wire, S0, wire, S1, wire, K1.30-87, S2, wire, L1, G1]\n  b: [S1, wire, SW, wire, S3, wire, K1.86-85, wire, G1]\n  c: [S2, wire, S3]\n", ""),
		file(lampOnSwitch+"  K1: {is: relay}\n  S0: {is: switch, throws: {shut: [1-2], open: []}}\n", "  a: [B1.pos, F1, wire, S0, wire, S1, wire, K1.30-87, S2, wire, L1, G1]\n  b: [S1, wire, SW, wire, S3, wire, K1.86-85, wire, G1]\n  c: [S2, wire, S3]\n", "")},
	{"idle switch", "a switch that turns a motor one way, and both ways",
		file(reverser("[b-1, 2-g]"), reversed, ""), file(reverser("[b-2, 1-g]"), reversed, "")},
	{"never woken", "a wake pin on the minus",
		file(controller+"  L1: {is: lamp, bulb: 21 W}\n", fed+"  b: [G1, wire, U1.2]\n  d: [S1, wire, SW, wire, L1, G1]\n", ""),
		file(controller+"  L1: {is: lamp, bulb: 21 W}\n", fed+"  b: [SW.2, wire, U1.2]\n  d: [S1, wire, SW, wire, L1, G1]\n", "")},
	{"never woken", "4.9 V and 5.1 V at a wake pin",
		file(controller+"  RA: {is: resistor, resistance: 157 ohm}\n  RB: {is: resistor, resistance: 100 ohm}\n", fed+"  b: [S1, wire, SW, wire, RA, S2, RB, G1]\n  d: [S2, wire, U1.2]\n", ""),
		file(controller+"  RA: {is: resistor, resistance: 146 ohm}\n  RB: {is: resistor, resistance: 100 ohm}\n", fed+"  b: [S1, wire, SW, wire, RA, S2, RB, G1]\n  d: [S2, wire, U1.2]\n", "")},
	{"never awake", "12.48 V while it boots, for a controller that runs above 12.5 and 12.45 V",
		file(strings.Replace(controller, "9 V", "12.5 V", 1), fed+"  b: [S1, wire, SW, wire, U1.2]\n", ""),
		file(strings.Replace(controller, "9 V", "12.45 V", 1), fed+"  b: [S1, wire, SW, wire, U1.2]\n", "")},
	{"colour", "another base, and another stripe",
		file(lampOnSwitch, "  a: [B1.pos, F1, wire, SW, wire: RD/GY 1 m, C1.1, wire: GY/RD 1 m, L1, G1]\n", "connectors: {C1: {}}\n"),
		file(lampOnSwitch, "  a: [B1.pos, F1, wire: VT 1 m, SW, wire: RD/GY 1 m, C1.1, wire: RD/WH 1 m, S1, wire: BK 1 m, L1, G1]\n", "connectors: {C1: {}}\nsplices: {S1: {}}\n")},
	{"unused pin", "a signal pin",
		file(strings.Replace(controller, "wake: [2]", "wake: [2], signals: [5]", 1), fed+"  b: [S1, wire, SW, wire, U1.2]\n", ""),
		file(strings.Replace(controller, "wake: [2]", "wake: [2], signals: [5]", 1), fed+"  b: [S1, wire, SW, wire, U1.2]\n  d: [SW.2, wire, U1.5]\n", "")},
}

func ofRule(findings []Finding, rule string) []Finding {
	return slices.DeleteFunc(slices.Clone(findings), func(f Finding) bool { return f.Rule != rule })
}

func TestRules(t *testing.T) {
	var said strings.Builder
	for _, c := range cases {
		over := ofRule(checked(t, "over.yaml", c.over).Warnings(), c.rule)
		if len(over) == 0 {
			t.Errorf("%s, %s: nothing was found in\n%s", c.rule, c.name, c.over)
		}
		said.WriteString("== " + c.rule + ": " + c.name + "\n")
		for _, f := range over {
			said.WriteString(f.String() + "\n")
		}
		for _, f := range ofRule(checked(t, "within.yaml", c.within).Warnings(), c.rule) {
			t.Errorf("%s, %s: %v\n%s", c.rule, c.name, f, c.within)
		}
	}
	const golden = "testdata/said.golden"
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(said.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if said.String() != string(want) {
		t.Errorf("said\n%s\nwant\n%s", said.String(), want)
	}
}

// Every rule of the table is broken by a case here; volt drops have tests of their own.
func TestEveryRuleHasACase(t *testing.T) {
	tested := []string{"volt drop"}
	for _, c := range cases {
		tested = append(tested, c.rule)
	}
	for _, rule := range circuit.Rules {
		if !slices.Contains(tested, rule.Name) {
			t.Errorf("no case breaks %s", rule.Name)
		}
	}
	if len(circuit.Rules) < 12 {
		t.Errorf("%d rules", len(circuit.Rules))
	}
}

// 80 % of a fuse's rating is a note from there on, 100 % a warning.
func TestOverloadNotes(t *testing.T) {
	for power, want := range map[string]string{"161 W": "", "163 W": "note", "202 W": "note", "203 W": "warning"} {
		text := file("  F1: {is: fuse, rating: 15 A}\n  H1: {is: heater, power: "+power+"}\n", "  a: [B1.pos, F1, wire: 2.5 mm2 1 m, H1, G1]\n", "")
		got := ""
		for _, f := range ofRule(checked(t, "h.yaml", text).Findings, "overload") {
			got = map[bool]string{true: "note", false: "warning"}[f.Note]
		}
		if got != want {
			t.Errorf("%s on 15 A: %q, want %q", power, got, want)
		}
	}
}

// Of many loads behind one fuse the large ones are named, or some where none is large.
func TestOverloadNamesLoads(t *testing.T) {
	for _, c := range []struct {
		lamps, heaters int
		want           string
	}{{30, 0, ": L0, L1, L2, L3, L4, L5, 24 more ("}, {10, 2, ": H0, H1 ("}, {0, 7, ": H0, H1, H2, H3, H4, H5, 1 more ("}} {
		parts, paths := "  F1: {is: fuse, rating: 5 A}\n", "  a: [B1.pos, F1, wire, S1]\n"
		add := func(name, is string) {
			parts += "  " + name + ": {is: " + is + "}\n"
			paths += "  p" + name + ": [S1, wire, " + name + ", wire, G1]\n"
		}
		for i := range c.heaters {
			add(fmt.Sprintf("H%d", i), "heater, power: 100 W")
		}
		for i := range c.lamps {
			add(fmt.Sprintf("L%d", i), "lamp, bulb: 5 W")
		}
		found := ofRule(checked(t, "many.yaml", file(parts, paths, "")).Findings, "overload")
		if len(found) != 1 || !strings.Contains(found[0].String(), c.want) {
			t.Errorf("%d lamps, %d heaters: %v, want %q", c.lamps, c.heaters, found, c.want)
		}
	}
}
