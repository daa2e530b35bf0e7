package sanity

// The limits of volts lost, each from both sides. The losses are added up by hand from the resistances of the file: a
// plain series circuit of 12.6 V, which stands outside the program that solves circuits. The limits are those of the
// trade: 0.1 V a connection, 0.2 V a cable, 0.3 V a switch, 0.5 V a side (a printed repair manual quoting SAE guideline
// figures, read second-hand).

import (
	"fmt"
	"strings"
	"testing"
)

// string of a load of 2 ohm with a cavity, a switch and two wires, each with its own ohms, all else very small.
func seriesFile(cavity, contact, wire, ground float64) string {
	tiny := "crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm"
	return fmt.Sprintf(`underload: 1
parts:
  B1: {is: battery, internal: 1 uohm}
  F1: {is: fuse, rating: 15 A, resistance: 1 uohm}
  SW: {is: switch, throws: {off: [], on: [1-2]}, contact: %.9f ohm}
  R1: {is: resistor, resistance: 2 ohm}
paths:
  a:
    - B1.pos
    - F1
    - wire W1: 1 mohm
    - SW
    - wire W2: %.9f ohm
    - C1.1
    - wire W3: 1 mohm
    - R1
    - wire W4: %.9f ohm
    - G1
grounds:
  G1: {to: B1.neg, by: 1 uohm, stud: 1 uohm}
connectors: {C1: {}}
terminals:
  B1.pos: {%[4]s}
  B1.neg: {%[4]s}
  F1.in: {%[4]s}
  F1.out: {%[4]s}
  SW.1: {%[4]s}
  SW.2: {%[4]s}
  R1.in: {%[4]s}
  R1.out: {%[4]s}
  C1.1: {crimp: 1 uohm, contact: %.9[5]f ohm, behind: 1 uohm}
`, contact, wire, ground, tiny, cavity)
}

func TestDropLimitsFromBothSides(t *testing.T) {
	const volts, load = 12.6, 2.0
	// ohms gives what a place must have to lose so many volts of 12.6 V beside the load and other ohms in series.
	ohms := func(lost, others float64) float64 { return lost * (load + others) / (volts - lost) }
	const small = 0.002 + 30e-6 // W1, W3 and all that is tiny, to a few millionths
	for _, c := range []struct {
		name, at string
		limit    float64
		file     func(lost float64) string
	}{
		{"a connection", "C1.1", 0.1, func(lost float64) string { return seriesFile(ohms(lost, small), 1e-6, 1e-6, 1e-6) }},
		{"a switch", "SW", 0.3, func(lost float64) string { return seriesFile(1e-6, ohms(lost, small), 1e-6, 1e-6) }},
		{"a cable", "W2", 0.2, func(lost float64) string { return seriesFile(1e-6, 1e-6, ohms(lost, small), 1e-6) }},
		// The side: a connection, a switch and a cable that are each within their own limits, W1 and W3 beside them.
		{"a side", "R1", 0.5, func(lost float64) string {
			const fixed = 0.030 + 0.012
			return seriesFile(0.012, 0.030, ohms(lost-fixed*volts/(load+0.089)-small*volts/(load+0.089), fixed+small), 1e-6)
		}},
	} {
		for _, side := range []struct {
			factor float64
			told   bool
		}{{0.985, false}, {1.015, true}} {
			text := c.file(c.limit * side.factor)
			told := false
			for _, f := range ofRule(checked(t, "drop.yaml", text).Warnings(), "volt drop") {
				if told = told || f.At == c.at; f.At != c.at && c.name != "a side" {
					t.Errorf("%s at %g of its limit: %v", c.name, side.factor, f)
				}
			}
			if told != side.told {
				t.Errorf("%s at %g of its limit of %g V: told is %v", c.name, side.factor, c.limit, told)
			}
		}
	}
}

// plain has ordinary spaces between numbers and units.
func plain(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// A long wire of the right size loses what its length asks for, and that is a note; the same current in a wire too thin
// for it is a warning.
func TestLongWireIsNamedAsSuch(t *testing.T) {
	lamp := func(wire string) Report {
		return checked(t, "long.yaml", file("  F1: {is: fuse, rating: 10 A}\n  L1: {is: heater, power: 75 W}\n",
			"  a:\n    - B1.pos\n    - F1\n    - wire W1: "+wire+"\n    - L1\n    - G1\n", ""))
	}
	long, thin := ofRule(lamp("1.5 mm2 4 m").Findings, "volt drop"), ofRule(lamp("0.35 mm2 0.9 m").Findings, "volt drop")
	if len(long) != 1 || !long[0].Note || long[0].At != "W1" ||
		!strings.Contains(plain(long[0].Text), "that is what 4 m of 1.5 mm² has, 50.8 mΩ, and no fault") {
		t.Errorf("a long wire: %v", long)
	}
	if len(thin) != 1 || thin[0].Note || thin[0].At != "W1" || !strings.Contains(plain(thin[0].Text), "this size carries 4.00 A for long") {
		t.Errorf("a thin wire: %v", thin)
	}
}

// A diode or another load in series is no wiring: its volts are not counted against the side.
func TestSeriesLoadsAreLeftAlone(t *testing.T) {
	for name, text := range map[string]string{
		"a diode":    file("  F1: {is: fuse, rating: 10 A}\n  D1: {is: diode}\n  L1: {is: lamp, bulb: 21 W}\n", "  a: [B1.pos, F1, wire: 1 mm2 1 m, D1, wire: 1 mm2 1 m, L1, G1]\n", ""),
		"a resistor": file("  F1: {is: fuse, rating: 10 A}\n  R1: {is: resistor, resistance: 2 ohm}\n  M1: {is: motor, draws: 5 A}\n", "  a: [B1.pos, F1, wire: 1 mm2 1 m, R1, wire: 1 mm2 1 m, M1, G1]\n", ""),
	} {
		if found := checked(t, "series.yaml", text).Warnings(); len(found) > 0 {
			t.Errorf("%s: %v", name, found)
		}
	}
}

// A place is told once, at the load at which it loses most, and not again as a side.
func TestDropIsToldOnce(t *testing.T) {
	text := file("  F1: {is: fuse, rating: 10 A}\n  H1: {is: heater, power: 60 W}\n  H2: {is: heater, power: 40 W}\n",
		"  a: [B1.pos, F1, wire: 2.5 mm2 1 m, S1, wire: 2.5 mm2 1 m, H1, wire: 2.5 mm2 1 m, G1]\n  b: [S1, wire: 2.5 mm2 1 m, H2, G1]\n", "terminals: {H1.in: {contact: 150 mohm}}\n")
	found := ofRule(checked(t, "once.yaml", text).Warnings(), "volt drop")
	if len(found) != 1 || found[0].At != "H1" || !strings.Contains(plain(found[0].Text), "a ground or a connection may lose 100 mV") {
		t.Errorf("%v", found)
	}
}

// Of two loads that work in turn behind one joint, the one at which it loses more is told, whichever stands first.
func TestDropIsToldAtItsWorst(t *testing.T) {
	for _, throws := range []string{"{off: [], a: [b-1], c: [b-2]}", "{off: [], a: [b-2], c: [b-1]}"} {
		for _, watts := range [][2]string{{"60 W", "40 W"}, {"40 W", "60 W"}} {
			text := file("  F1: {is: fuse, rating: 10 A}\n  SW: {is: switch, throws: "+throws+"}\n  H1: {is: heater, power: "+watts[0]+"}\n  H2: {is: heater, power: "+watts[1]+"}\n",
				"  a:\n    - B1.pos\n    - F1\n    - wire: 2.5 mm2 1 m\n    - C1.1\n    - wire: 2.5 mm2 1 m\n    - SW.b-1\n    - wire: 2.5 mm2 1 m\n    - H1\n    - G1\n"+
					"  b:\n    - SW.2\n    - wire: 2.5 mm2 1 m\n    - H2\n    - G1\n", "connectors: {C1: {}}\nterminals: {C1.1: {contact: 50 mohm}}\n")
			found := ofRule(checked(t, "turns.yaml", text).Warnings(), "volt drop")
			want := map[string]string{"60 W": "while H1 works", "40 W": "while H2 works"}[watts[0]]
			if len(found) != 1 || found[0].At != "C1.1" || !strings.Contains(found[0].Text, want) {
				t.Errorf("%s, %s: %v", throws, watts, found)
			}
		}
	}
}
