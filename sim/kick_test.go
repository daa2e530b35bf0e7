package sim

// This file holds the kick of a module that cycles, as the bench at rest tells it, against a run of the same circuit.

import (
	"fmt"
	"math"
	"testing"

	"underload/sim/part"
)

// A module lets go at its reset: the volts over a bad joint are those of the battery less 6.5 V, whether it gets that far
// only once it is up (5.5 and 7 ohm) or falls as it boots. By hand 12.6 V - 6.5 V = 6.1 V in all, and the run gets there too.
func TestKickIsWhatTheRunReaches(t *testing.T) {
	for _, ohms := range []float64{5.5, 7, 20, 30, 200} {
		b := benchFrom(t, `underload: 1
parts:
  B: {is: battery}
  M1: {is: module, supply: [a], ground: [b]}
connectors:
  C: {}
paths:
  loop: [B.pos, C.1, wire W1: 10 mohm, M1.a]
  ground: [M1.b, wire W2: 10 mohm, B.neg]
`)
		must(t, b.Break(fmt.Sprintf("C.1 high %g ohm", ohms)))
		if mode := b.Modules()[0].Mode; mode != part.Cycling {
			t.Fatalf("behind %g ohm the module is %v", ohms, mode)
		}
		before, err := b.Circuit().Point("C.1.a")
		must(t, err)
		after, err := b.Circuit().Point("C.1.b")
		must(t, err)
		high, _ := b.KickVolts(before)
		low, ok := b.KickVolts(after)
		if !ok || math.Abs(high-low-6.1) > 0.05 {
			t.Errorf("%g ohm: the joint kicks to %.3f V", ohms, high-low)
		}
		r := start(t, b, RunOptions{})
		c, err := r.Watch("C.1.a against C.1.b")
		must(t, err)
		most := 0.0
		must(t, r.Advance(2, func() bool { most = math.Max(most, c.Read()); return true }))
		if math.Abs(most-(high-low)) > 0.06 {
			t.Errorf("%g ohm: at rest it kicks to %.3f V, and in time to %.3f V", ohms, high-low, most)
		}
	}
}
