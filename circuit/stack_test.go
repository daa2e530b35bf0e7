package circuit

// How batteries stand on one another, in either order of the file.

import (
	"testing"
)

func TestStack(t *testing.T) {
	const lamp, batteries = "  L: {is: lamp, bulb: 5 W 24 V}\n", "  LOW: {is: battery, volts: 12.5 V}\n"
	const swapped = "  HIGH: {is: battery, volts: 12.7 V}\n"
	const paths = "paths:\n  l: [HIGH.pos, wire, L, wire, G1]\ngrounds:\n  G1: {to: LOW.neg}\n"
	for name, c := range map[string]struct {
		parts, path     string
		lowest, highest string
		volts, system   float64
	}{
		"lower first":      {batteries + swapped, "  s: [LOW.pos, wire, HIGH.neg]\n", "LOW", "HIGH", 25.2, 24},
		"upper first":      {swapped + batteries, "  s: [LOW.pos, wire, HIGH.neg]\n", "LOW", "HIGH", 25.2, 24},
		"fuse and switch":  {swapped + batteries + "  F: {is: fuse, rating: 80 A}\n  S: {is: switch, throws: {off: [], on: [1-2]}}\n", "  s: [LOW.pos, wire, F, wire, S, wire, HIGH.neg]\n", "LOW", "HIGH", 25.2, 24},
		"through a stud":   {swapped + batteries, "  s: [LOW.pos, wire, C1.1, wire, HIGH.neg]\n  c: [LOW.pos, wire, C1.2, wire, HIGH.neg]\n", "LOW", "HIGH", 25.2, 24},
		"side by side":     {swapped + batteries, "  p: [LOW.pos, wire, HIGH.pos]\n  m: [LOW.neg, wire, HIGH.neg]\n", "HIGH", "HIGH", 12.7, 12},
		"through a lamp":   {swapped + batteries + "  L2: {is: lamp, bulb: 5 W}\n", "  s: [LOW.pos, wire, L2, wire, HIGH.neg]\n  m: [HIGH.neg, wire, LOW.neg]\n", "HIGH", "HIGH", 12.7, 12},
		"one of 24 V":      {"  LOW: {is: battery, volts: 25 V}\n  HIGH: {is: battery, volts: 25 V}\n", "  p: [LOW.pos, wire, HIGH.pos]\n  m: [LOW.neg, wire, HIGH.neg]\n", "LOW", "LOW", 25, 24},
		"three of them":    {"  TOP: {is: battery}\n" + swapped + batteries, "  s: [LOW.pos, wire, HIGH.neg]\n  t: [HIGH.pos, wire, TOP.neg]\n  l2: [TOP.pos, wire: 1 ohm, L3, wire, LOW.neg]\n", "LOW", "TOP", 37.8, 24},
		"a ring, in error": {"  LOW: {is: battery}\n  HIGH: {is: battery}\n", "  a: [LOW.pos, wire, HIGH.neg]\n  b: [HIGH.pos, wire, LOW.neg]\n", "LOW", "LOW", 25.2, 24},
	} {
		text := "underload: 1\nparts:\n" + c.parts + lamp
		if name == "three of them" {
			text += "  L3: {is: lamp, bulb: 5 W 24 V}\n"
		}
		got, problems := Read(name, []byte(text+paths[:7]+c.path+paths[7:]))
		if got == nil {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		if got.Lowest().Name != c.lowest || got.Highest().Name != c.highest || !near(got.BatteryVolts(), c.volts) || got.SystemVolts() != c.system {
			t.Errorf("%s: lowest %s, highest %s, %g V, a vehicle of %g V", name, got.Lowest().Name, got.Highest().Name, got.BatteryVolts(), got.SystemVolts())
		}
	}
}
