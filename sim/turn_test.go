package sim

import (
	"math"
	"testing"

	"underload/sim/fault"
)

// A resistance that is turned again and again reads as one that was laid so from the start.
func TestTurnedIsAsLaid(t *testing.T) {
	for _, row := range []struct {
		place, laid string
	}{{"C14.4", "C14.4 spread 1 ohm"}, {"W21", "W21 corroded 1 ohm"}, {"G2", "G2 rust 1 ohm"}, {"S2", "S2 corroded 1 ohm"}, {"C14.4.b", "C14.4.b bad-crimp 1 ohm"},
		{"K2", "K2 worn 1 ohm"}, {"W14", "W14 short-to-ground 1 ohm"}, {"C14.1", "C14.1 leaks-to C14.2 1 ohm"}} {
		turned := sprayer(t)
		must(t, turned.Break(row.laid), turned.Set("KEY=run"))
		for _, ohms := range []float64{1e-3, 1.8, 1e5, 0.04, 12, 3e3, 0.25} {
			must(t, turned.Turn(row.place, ohms))
			fresh := sprayer(t)
			f, err := fault.Parse(fresh.c, row.laid)
			must(t, err)
			f, err = f.Turned(fresh.c, ohms)
			must(t, err)
			must(t, fresh.Break(f.Text), fresh.Set("KEY=run"))
			if got := turned.Faults()[0]; got.Ohms != ohms || got.Text != f.Text {
				t.Errorf("%s at %g: the fault says %q, %g", row.laid, ohms, got.Text, got.Ohms)
			}
			if turned.State(turned.c.Part("F7")).Blown { // what a short has blown stays blown, as a fuse does
				continue
			}
			for i, point := range turned.c.Points() {
				if a, b := turned.Volts(point), fresh.Volts(fresh.c.Points()[i]); math.Abs(a-b) > 1e-6 {
					t.Fatalf("%s at %g: %s is at %.9g V turned and %.9g V laid", row.laid, ohms, point.Name, a, b)
				}
			}
		}
	}
}

func TestTurnRefuses(t *testing.T) {
	b := sprayer(t)
	must(t, b.Break("F7 blown", "C14.1 backed-out"))
	for _, place := range []string{"C14.4", "F7", "C14.1", "nowhere"} {
		if err := b.Turn(place, 1); err == nil {
			t.Errorf("%s: no error", place)
		}
	}
	if err := b.Turn("C14.1", -1); err == nil {
		t.Error("a resistance below zero was taken")
	}
}
