package sim

// This file holds the account of energy, and of charge, against what a battery gives.

import (
	"math"
	"testing"
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
	if left := charge.Read(); left > 0 || left < -2 {
		t.Errorf("%.2f %% are left", left)
	}
	if had := 60 * begins / 100; out < had || out > had+1.2 {
		t.Errorf("of %.1f Ah it gave %.1f Ah", had, out)
	}
	if v := volts.Read(); v > 3 || amps.Read() > 0.1 {
		t.Errorf("it still has %.1f V and gives %.2f A", v, amps.Read())
	}
	accounted(t, r)
}
