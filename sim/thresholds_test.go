package sim

// This file holds fuses and relays against their own thresholds, on circuits whose amps follow from Ohm's law.

import (
	"fmt"
	"math"
	"testing"
)

// A battery of 12 V behind 10 milliohm, a 10 A fuse, and one resistance.
const loaded = `underload: 1
parts:
  B: {is: battery, volts: 12 V, internal: 10 mohm}
  F: {is: fuse, rating: 10 A}
  R: {is: resistor, resistance: %g ohm}
paths:
  feed: [B.pos, wire: RD 1 mohm, F, wire: RD 1 mohm, R, wire: BK 1 mohm, B.neg]
`

// A blade fuse holds 110 percent of its rating for 100 hours and melts at 135 (the table that part.BlowShare names);
// between the two it is taken to hold.
func TestFuseHoldsUpToItsLimit(t *testing.T) {
	for _, row := range []struct {
		amps  float64
		blows bool
	}{{9, false}, {11.1, false}, {13.3, false}, {13.7, true}, {30, true}} {
		circuitOhms := 12 / row.amps
		b, err := New(read(t, fmt.Sprintf(loaded, circuitOhms-0.030)))
		if err != nil {
			t.Fatal(err)
		}
		if got := b.State(b.c.Part("F")).Blown; got != row.blows {
			t.Errorf("10 A fuse at %g A: blown %v", row.amps, got)
		}
		if _, amps := b.LoadVolts(b.c.Part("R")); !row.blows && math.Abs(amps/row.amps-1) > 0.01 {
			t.Errorf("%g A were meant, %g flow", row.amps, amps)
		}
	}
}

// Of two fuses on the way to a short, the smaller one blows and the larger one is saved by that.
func TestTheSmallerFuseSavesTheLarger(t *testing.T) {
	b := sprayer(t)
	must(t, b.Set("KEY=run"), b.Break("F7.out short-to-ground 1 mohm"))
	if !b.State(b.c.Part("F7")).Blown || b.State(b.c.Part("F1")).Blown {
		t.Errorf("F7 blown %v, F1 blown %v", b.State(b.c.Part("F7")).Blown, b.State(b.c.Part("F1")).Blown)
	}
	must(t, b.Break("S1 high 1 mohm"), b.Set("F7=100 A")) // a bar in place of the fuse
	if b.State(b.c.Part("F7")).Blown || !b.State(b.c.Part("F1")).Blown {
		t.Errorf("with 100 A in F7's place: F7 blown %v, F1 blown %v", b.State(b.c.Part("F7")).Blown, b.State(b.c.Part("F1")).Blown)
	}
}

// A relay behind one resistance. Its coil of 85 ohm pulls in at 7.2 V and lets go at 1.6 V, cold.
const pulled = `underload: 1
ambient: %s
parts:
  B: {is: battery, volts: 12 V, internal: 1 mohm}
  K: {is: relay}
  R: {is: resistor, resistance: 1 ohm}
paths:
  coil: [B.pos, wire W: RD 1 mohm, K.86-85, wire: BK 1 mohm, B.neg]
  load: [B.pos, wire, K.30-87, wire, R, wire, B.neg]
`

// A resistance in the coil's feed: 12 V times 85/(85+R) on the coil. It pulls in down to 7.2 V; pulled in, it holds down
// to 1.6 V. A warm coil has more ohms (copper, 3.93e-3 a kelvin, IEC 60028) and takes the same amps to pull in: 60 K make
// it 105 ohm and 8.9 V.
func TestRelayPullsInHoldsAndLetsGo(t *testing.T) {
	for _, row := range []struct {
		ambient  string
		ohms     []float64 // in this order
		pulledIn []bool
	}{
		{"20 °C", []float64{55, 58}, []bool{true, true}},
		{"20 °C", []float64{58, 55, 58, 540, 560, 58}, []bool{false, true, true, true, false, false}},
		{"80 °C", []float64{38}, []bool{false}},
		{"80 °C", []float64{34}, []bool{true}},
	} {
		b, err := New(read(t, fmt.Sprintf(pulled, row.ambient)))
		if err != nil {
			t.Fatal(err)
		}
		must(t, b.Break("W high 1 Mohm"))
		for i, ohms := range row.ohms {
			must(t, b.Turn("W", ohms))
			if got := b.State(b.c.Part("K")).PulledIn; got != row.pulledIn[i] {
				t.Errorf("%s, %v, %g ohm: pulled in %v", row.ambient, row.ohms, ohms, got)
			}
		}
	}
}
