package meter_test

// This file holds the staircase of a circuit in motion against the one at rest.

import (
	"math"
	"testing"

	"underload/sim"
	"underload/sim/meter"
)

// Where nothing changes any more every step in motion is the step at rest, on the circuit and on the healthy one; and what
// comes at first is not.
func TestStaircaseInMotion(t *testing.T) {
	lampOn := meter.Request{With: "load-lamp", Red: "PC1.1", Black: "PC1.8"}
	for _, row := range []struct {
		q      meter.StairsRequest
		faults []string
		acts   []func(b *sim.Bench) error
		light  bool
	}{
		{meter.StairsRequest{Red: "PC1.1", Black: "PC1.8"}, []string{"C14.4 spread 1.8 ohm"}, []func(b *sim.Bench) error{func(b *sim.Bench) error { return b.Apart("PC1") }}, false},
		{meter.StairsRequest{Red: "PC1.1", Black: "PC1.8"}, []string{"C14.4 spread 1.8 ohm"}, []func(b *sim.Bench) error{func(b *sim.Bench) error { return b.Apart("PC1") }}, true},
		{meter.StairsRequest{Part: "E3"}, []string{"G3 rust 0.4 ohm"}, []func(b *sim.Bench) error{func(b *sim.Bench) error { return b.Set("SW3=on") }}, false},
		{meter.StairsRequest{Part: "PC1"}, []string{"C14.1 fretted 0.3 ohm"}, nil, false},
		{meter.StairsRequest{Part: "M1"}, []string{"C14.1 fretted 0.1 ohm"}, []func(b *sim.Bench) error{func(b *sim.Bench) error { return b.Set("M1=on") }}, false},
	} {
		b, own := sprayer(t, row.faults, row.acts...)
		_, sound := sprayer(t, nil, row.acts...)
		climbed, err := meter.Climb(b, row.q)
		if err != nil {
			t.Fatal(err)
		}
		if row.q.Part == "" {
			q := lampOn
			if row.light {
				q.With = "test-lamp"
			}
			m, err := meter.Move(own, b, q)
			if err == nil {
				err = m.Beside(sound)
			}
			if err != nil {
				t.Fatal(err)
			}
			if first := climbed.At(own, sound, row.light); !row.light && first.Amps < 1.5*climbed.Staircase().Amps || row.light && first.LightAmps < 1.5*climbed.Staircase().LightAmps {
				t.Errorf("%+v: a cold lamp draws %g A, a warm one %g A", row.q, first.Amps, climbed.Staircase().Amps)
			}
		}
		for _, r := range []*sim.Run{own, sound} {
			if err := r.Advance(3, nil); err != nil {
				t.Fatal(err)
			}
		}
		moving, rest := climbed.At(own, sound, row.light), climbed.Staircase()
		if len(moving.Steps) != len(rest.Steps) || len(rest.Steps) < 5 || math.Abs(moving.OpenVolts-rest.OpenVolts) > 1e-3 {
			t.Fatalf("%+v: %d steps from %g V in motion, %d from %g V at rest", row.q, len(moving.Steps), moving.OpenVolts, len(rest.Steps), rest.OpenVolts)
		}
		for i, st := range rest.Steps {
			got := moving.Steps[i]
			for _, level := range []struct {
				name      string
				got, rest meter.Level
			}{{"light", got.Light, st.Light}, {"load", got.UnderLoad, st.UnderLoad}, {"healthy", got.Healthy, st.Healthy}, {"healthy light", got.HealthyLight, st.HealthyLight}} {
				// warm joints and fuses, and a battery that has given current for three seconds
				if math.Abs(level.got.Lost-level.rest.Lost) > 0.05*math.Abs(level.rest.Lost)+0.02 || math.Abs(level.got.Amps-level.rest.Amps) > 0.03*level.rest.Amps+2e-3 {
					t.Errorf("%+v, %s, %s: %g V at %g A in motion, %g V at %g A at rest", row.q, st.Place, level.name, level.got.Lost, level.got.Amps, level.rest.Lost, level.rest.Amps)
				}
			}
		}
		worst, want := moving.Worst(), rest.Worst()
		if (worst == nil) != (want == nil) || worst != nil && worst.Place != want.Place {
			t.Errorf("%+v: the worst step is %+v in motion, %+v at rest", row.q, worst, want)
		}
	}
}
