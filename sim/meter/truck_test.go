package meter_test

// This file is a vehicle of 24 V: two batteries in series, in either order of the file.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/sim"
	"underload/sim/meter"
)

func truck(t *testing.T, batteries, bulb string) *sim.Bench {
	t.Helper()
	const text = "underload: 1\nparts:\n%s  F: {is: fuse, rating: 10 A}\n  L: {is: lamp, bulb: %s}\npaths:\n" +
		"  series: [LOW.pos, wire: 25 mm2 1 m, TOP.neg]\n  l: [TOP.pos, F, wire: 2.5 mm2 1 m, L, wire: 2.5 mm2 1 m, G1]\ngrounds:\n  G1: {to: LOW.neg}\n"
	c, problems := circuit.Read("truck.yaml", fmt.Appendf(nil, text, batteries, bulb))
	if c == nil {
		t.Fatal(problems)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

var lowFirst, topFirst = "  LOW: {is: battery}\n  TOP: {is: battery}\n", "  TOP: {is: battery}\n  LOW: {is: battery}\n"

// Lamps are those of 24 V: 70 W takes 75 W at 28 V (UN Regulation 37, from memory), 3 W an eighth of an ampere at 24 V;
// amps go with volts to the power 0.55.
func TestLampsOf24Volts(t *testing.T) {
	for with, want := range map[string]float64{"load-lamp": 75.0 / 28 * math.Pow(25.0/28, 0.55), "test-lamp": 0.125 * math.Pow(25.2/24, 0.55)} {
		b := truck(t, topFirst, "21 W 24 V")
		r, err := meter.Take(b, meter.Request{With: with, Red: "F.out", Black: "G1"})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(*r.Amps/want-1) > 0.02 || r.Seen != "bright" || *r.LightPercent < 100 || *r.LightPercent > 120 {
			t.Errorf("%s: %g A, want %g; %s, %g %%", with, *r.Amps, want, r.Seen, *r.LightPercent)
		}
		if !slices.ContainsFunc(r.Cautions, func(c string) bool { return strings.Contains(c, "one of 12 V burns out here") }) {
			t.Errorf("%s: %q", with, r.Cautions)
		}
		run, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := meter.Move(run, b, meter.Request{With: with, Red: "F.out", Black: "G1"})
		if err != nil {
			t.Fatal(err)
		}
		if err := run.Advance(2, nil); err != nil {
			t.Fatal(err)
		}
		if got := m.Reading(); math.Abs(*got.Amps/want-1) > 0.02 || got.Seen != "bright" || *got.LightPercent > 125 {
			t.Errorf("%s in motion: %g A, %s, %g %%", with, *got.Amps, got.Seen, *got.LightPercent)
		}
	}
}

// A bulb of 12 V is burnt out, and does not shine at several times its light.
func TestBulbOf12VoltsOn24(t *testing.T) {
	for bulb, want := range map[string]string{"21 W": "L is burnt out: dark", "21 W 24 V": "L is bright"} {
		r, err := meter.Take(truck(t, lowFirst, bulb), meter.Request{With: "look"})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(r.Lines, want) {
			t.Errorf("%s: %q", bulb, r.Lines)
		}
	}
}

// No battery has a resistance below zero, whichever the file tells first.
func TestStaircaseOfBatteriesInSeries(t *testing.T) {
	for _, order := range []string{lowFirst, topFirst} {
		s, err := meter.Stairs(truck(t, order, "21 W 24 V"), meter.StairsRequest{Part: "L"})
		if err != nil {
			t.Fatal(err)
		}
		gives := 0
		for _, st := range s.Steps {
			if st.UnderLoad.Ohms < 0 || st.Light.Ohms < 0 {
				t.Errorf("%s (%s): %g ohm", st.Place, st.Says, st.UnderLoad.Ohms)
			}
			if st.Says == "inside, gives" {
				gives++
			}
			if st.Place == "G1" && math.Abs(st.UnderLoad.Volts) > 0.1 {
				t.Errorf("G1 has %g V", st.UnderLoad.Volts)
			}
		}
		if gives != 1 {
			t.Errorf("%d batteries give on the way from %s", gives, s.Battery)
		}
	}
}
