package meter

import (
	"encoding/json"
	"math"
	"testing"

	"underload/circuits"
	"underload/sim"
)

// An instrument that stays on while a terminal is turned reads as one that is put on afresh, and so does the staircase.
func TestHeldReadsAsFresh(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	made := func() *sim.Bench {
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range []error{b.Break("C14.4 spread 1 ohm"), b.Set("KEY=run"), b.Apart("PC1")} {
			if err != nil {
				t.Fatal(err)
			}
		}
		return b
	}
	for _, q := range []Request{{With: "volts"}, {With: "test-lamp"}, {With: "load-lamp"}, {With: "led-light"}, {With: "ohms"}, {With: "jumper"}, {With: "2.4 ohm"},
		{With: "clamp", On: "W22"}, {With: "look"}, {With: "roll-call"}} {
		if q.On == "" && q.With != "look" && q.With != "roll-call" {
			q.Red, q.Black = "PC1.1", "PC1.8"
		}
		b := made()
		h, err := Hold(b, q)
		if err != nil {
			t.Fatalf("%s: %v", q.With, err)
		}
		for _, ohms := range []float64{1e-3, 1.8, 300, 0.05} {
			fresh := made()
			for _, err := range []error{b.Turn("C14.4", ohms), h.Follow(), fresh.Turn("C14.4", ohms)} {
				if err != nil {
					t.Fatal(err)
				}
			}
			want, err := Take(fresh, q)
			if err != nil {
				t.Fatal(err)
			}
			got := h.Reading()
			if got.Value != nil && math.Abs(*got.Value-*want.Value) < 1e-6 {
				got.Value, got.Amps, got.LightPercent, got.Uncertainty, got.Kick = want.Value, want.Amps, want.LightPercent, want.Uncertainty, want.Kick
			}
			if a, b := text(t, got), text(t, want); a != b {
				t.Errorf("%s at %g ohm: held %s, fresh %s", q.With, ohms, a, b)
			}
		}
	}
}

func text(t *testing.T, r Reading) string {
	t.Helper()
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// The staircase of a part's own current and of a lamp follow the turning.
func TestClimbedReadsAsFresh(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range []StairsRequest{{Part: "PC1"}, {Red: "B1.pos", Black: "C14.4.a", With: "load-lamp"}} {
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range []error{b.Break("C14.4 spread 1 ohm"), b.Set("KEY=run")} {
			if err != nil {
				t.Fatal(err)
			}
		}
		climbed, err := Climb(b, q)
		if err != nil {
			t.Fatal(err)
		}
		for _, ohms := range []float64{1e-3, 0.6, 1.8, 300} {
			if err := b.Turn("C14.4", ohms); err != nil {
				t.Fatal(err)
			}
			if err := climbed.Follow(); err != nil {
				t.Fatal(err)
			}
			want, err := Stairs(b, q)
			if err != nil {
				t.Fatal(err)
			}
			got := climbed.Staircase()
			for i, st := range want.Steps {
				for k, l := range st.levels() {
					if g := got.Steps[i].levels()[k]; math.Abs(g.Volts-l.Volts) > 1e-6 || math.Abs(g.Lost-l.Lost) > 1e-6 || g.Missing != l.Missing {
						t.Errorf("%+v at %g ohm, step %s, pass %d: followed %+v, fresh %+v", q, ohms, st.Place, k, *g, *l)
					}
				}
			}
			if got.Verdict != want.Verdict {
				t.Errorf("%+v at %g ohm: %s / %s", q, ohms, got.Verdict, want.Verdict)
			}
		}
	}
}
