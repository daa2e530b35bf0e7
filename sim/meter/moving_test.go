package meter_test

// This file holds instruments on a run against the same instruments at rest: where nothing changes, they agree.

import (
	"math"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
)

func TestMovingAgreesWithRest(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break("C14.4 spread 1.8 ohm"); err != nil {
		t.Fatal(err)
	}
	if err := b.Set("KEY=run"); err != nil {
		t.Fatal(err)
	}
	if err := b.Apart("PC1"); err != nil {
		t.Fatal(err)
	}
	for _, q := range []meter.Request{{With: "volts", Red: "PC1.1", Black: "PC1.8"}, {With: "test-lamp", Red: "PC1.1", Black: "PC1.8"},
		{With: "led-light", Red: "PC1.1", Black: "PC1.8"}, {With: "load-lamp", Red: "PC1.1", Black: "PC1.8"}, {With: "2.4 ohm", Red: "PC1.1", Black: "PC1.8"}, {With: "clamp", On: "W30"}} {
		rest, err := meter.Take(b, q)
		if err != nil {
			t.Fatal(err)
		}
		r, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := meter.Move(r, b, q)
		if err != nil {
			t.Fatal(err)
		}
		cold := m.Reading()
		if cold.LightPercent != nil && (cold.Seen != "dark" || *cold.Amps < 1.5**rest.Amps) {
			t.Errorf("%s, just put on, is %s with %g A: a cold filament is dark and takes a surge", q.With, cold.Seen, *cold.Amps)
		}
		// The filament grows hot; so do, more slowly, the contact and the fuses: what is left after five seconds is that.
		if err := r.Advance(5, nil); err != nil {
			t.Fatal(err)
		}
		got := m.Reading()
		if math.Abs(*got.Value-*rest.Value) > 0.01*math.Abs(*rest.Value)+1e-4 || got.Unit != rest.Unit {
			t.Errorf("%s in motion %g %s, at rest %g %s", q.With, *got.Value, got.Unit, *rest.Value, rest.Unit)
		}
		if rest.LightPercent != nil && (got.Seen != rest.Seen || math.Abs(*got.Amps-*rest.Amps) > 0.01**rest.Amps) {
			t.Errorf("%s in motion %s, %g A, at rest %s, %g A", q.With, got.Seen, *got.Amps, rest.Seen, *rest.Amps)
		}
	}
}

func TestMovingRefuses(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		q    meter.Request
		says string
	}{{meter.Request{With: "ohms", Red: "PC1.1", Black: "PC1.8"}, "time at rest"}, {meter.Request{With: "volts", Red: "PC1.1"}, "--black"},
		{meter.Request{With: "volts", Red: "PC1.8.pin", Black: "PC1.1"}, "apart"}, {meter.Request{With: "clamp", On: "W77"}, "W77"}} {
		if _, err := meter.Move(r, b, row.q); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%v: %v, want %q", row.q, err, row.says)
		}
	}
}

// A voltmeter of 10 megohm on a run reads a point behind 10 megohm at half of the volts, as at rest; a lamp gives the light that it
// gives at rest, within what its light by its heat differs from its light by its volts.
func TestMovingInstrumentsLoadAsAtRest(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{b.Set("KEY=run"), b.Apart("PC1"), b.Break("C14.4 high 10000000 ohm")} {
		if err != nil {
			t.Fatal(err)
		}
	}
	lead := meter.Request{With: "volts", Red: "PC1.1", Black: "PC1.8"}
	for _, q := range []meter.Request{lead, {With: "test-lamp", Red: "B1.pos", Black: "B1.neg"}, {With: "load-lamp", Red: "B1.pos", Black: "B1.neg"}} {
		rest, err := meter.Take(b, q)
		if err != nil {
			t.Fatal(err)
		}
		r, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := meter.Move(r, b, q)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Advance(2, nil); err != nil {
			t.Fatal(err)
		}
		got := m.Reading()
		if math.Abs(*got.Value-*rest.Value) > 0.005*math.Abs(*rest.Value) {
			t.Errorf("%s: %g V in motion, %g V at rest", q.With, *got.Value, *rest.Value)
		}
		if rest.LightPercent != nil && math.Abs(*got.LightPercent-*rest.LightPercent) > 0.04**rest.LightPercent {
			t.Errorf("%s: %.1f %% of its light in motion, %.1f %% at rest", q.With, *got.LightPercent, *rest.LightPercent)
		}
		if q.With == lead.With && (*got.Value < 5 || *got.Value > 7.5) {
			t.Errorf("%g V behind 10 megohm, want about half", *got.Value)
		}
	}
}
