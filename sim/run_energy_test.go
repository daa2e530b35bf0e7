package sim

// This file holds the account of energy, and of charge, against what a battery gives.

import (
	"fmt"
	"math"
	"testing"

	"underload/solver/element"
)

// A slot that has lost its grip heats the fuse in it: that heat comes from the battery, whose volts times its amps are all
// that is given (14.2 V stand for battery and generator in this circuit).
func TestHotSlotGivesNothing(t *testing.T) {
	b := benchOf(t, "street-sweeper", "F4.out burnt 45 mohm")
	must(t, b.Set("KEY=run"), b.Set("FAN=on"))
	r := start(t, b, RunOptions{})
	amps := watching(t, r, "amps BATT")
	must(t, r.Advance(10, nil))
	const span, parts = 120, 120
	given, wanted, last := r.Balance().Given, 0.0, amps.Read()
	for range parts {
		must(t, r.Advance(r.Seconds()+span/parts, nil))
		now := amps.Read()
		wanted += 14.2 * (last + now) / 2 * span / parts
		last = now
	}
	given = r.Balance().Given - given
	if last < 20 || math.Abs(given/wanted-1) > 2e-3 {
		t.Errorf("at %.1f A %.0f J are given, and the battery gave %.0f J", last, given, wanted)
	}
	accounted(t, r)
}

// holds is all that a battery holds which gives so many ampere hours in 20 hours.
func holds(ampHours float64) float64 { return element.NewCell(1, 12.6, 0.008, ampHours).AmpHours }

// Lamps that are left on empty a battery: it gives what it had, by its charge, and no more, and its volts are gone.
func TestAFlatBatteryGivesNoMore(t *testing.T) {
	b := benchOf(t, "mist-blower")
	must(t, b.Set("KEY=run"), b.Set("SW3=on"))
	r := start(t, b, RunOptions{})
	amps, charge, volts := watching(t, r, "amps BATT"), watching(t, r, "charge BATT"), watching(t, r, "BATT.pos")
	begins, out := charge.Read(), 0.0
	const stride = 60. // s
	for last := amps.Read(); r.Seconds() < 20*3600; {
		must(t, r.Advance(r.Seconds()+stride, nil))
		now := amps.Read()
		out += (last + now) / 2 * stride / 3600
		last = now
	}
	if left := charge.Read(); left > 0.1 || left < -2 {
		t.Errorf("%.2f %% are left", left)
	}
	if had := holds(60) * begins / 100; out < had-0.1 || out > had+0.022*holds(60) {
		t.Errorf("of %.1f Ah it gave %.1f Ah", had, out)
	}
	if v := volts.Read(); v > 3 || amps.Read() > 0.1 {
		t.Errorf("it still has %.1f V and gives %.2f A", v, amps.Read())
	}
	accounted(t, r)
}

// A battery of 24 or 6 V begins a run where it rests, with cold cranking amps or without, weak or not, and lasts as long
// as its ampere hours say.
func TestBatteriesOfOtherVolts(t *testing.T) {
	for _, c := range []struct {
		keys, fault string
		volts       float64
	}{
		{"volts: 25.2 V, internal: 10 mohm", "", 25.2}, {"volts: 25.2 V, cold cranking: 600 A", "", 25.2},
		{"volts: 6.3 V, internal: 5 mohm", "", 6.3}, {"volts: 6.3 V, cold cranking: 400 A", "", 6.3},
		{"volts: 25.2 V, internal: 10 mohm", "B1 weak 23.8 V 50 mohm", 23.8}, {"volts: 25.2 V, internal: 10 mohm", "B1 weak 17 V 50 mohm", 17},
	} {
		b, err := New(read(t, fmt.Sprintf(`
underload: 1
parts:
  B1: {is: battery, %s}
  R1: {is: resistor, resistance: 10 ohm}
paths:
  feed:
    - B1.pos
    - wire: RD 2.5 mm2 1 m
    - R1
    - wire: BK 2.5 mm2 1 m
    - B1.neg
`, c.keys)))
		if err != nil {
			t.Fatal(err)
		}
		if c.fault != "" {
			must(t, b.Break(c.fault))
		}
		r := start(t, b, RunOptions{})
		post, charge := watching(t, r, "B1.pos"), watching(t, r, "charge B1")
		begins, full := post.Read(), charge.Read()
		if math.Abs(begins/c.volts-1) > 0.01 {
			t.Errorf("%s, %s: begins at %.2f V", c.keys, c.fault, begins)
		}
		must(t, r.Advance(3600, nil))
		// An hour at so many amps takes them away from what it holds, of one that has them.
		if want := full - c.volts/10/holds(60)*100; full > 20 && math.Abs(charge.Read()-want) > 0.2 || full > 20 && post.Read() < 0.97*begins {
			t.Errorf("%s: %.2f %% at first, %.2f %% an hour later, want %.2f %%; %.2f V", c.keys, full, charge.Read(), want, post.Read())
		}
	}
}
