package meter_test

// This file holds instruments on a run against the same instruments at rest: where nothing changes, they agree.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/catalog"
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
		rest, r, m := bothWays(t, b, q)
		cold := m.Reading()
		if cold.LightPercent != nil && (cold.Seen != "dark" || *cold.Amps < 1.5**rest.Amps) {
			t.Errorf("%s, just put on, is %s with %g A: a cold filament is dark and takes a surge", q.With, cold.Seen, *cold.Amps)
		}
		// The filament grows hot; so do, more slowly, the contact and the fuses: what is left after five seconds is that.
		if err := r.Advance(5, nil); err != nil {
			t.Fatal(err)
		}
		got := m.Reading()
		if math.Abs(*got.Value-*rest.Value) > 0.01*math.Abs(*rest.Value)+1e-4 || got.Unit != rest.Unit || !slices.Equal(got.Cautions, rest.Cautions) {
			t.Errorf("%s in motion %g %s with %q, at rest %g %s with %q", q.With, *got.Value, got.Unit, got.Cautions, *rest.Value, rest.Unit, rest.Cautions)
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

// bothWays is an instrument on a bench at rest, and on a run of that bench that has just begun.
func bothWays(t *testing.T, b *sim.Bench, q meter.Request) (meter.Reading, *sim.Run, *meter.Moving) {
	t.Helper()
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
	return rest, r, m
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
		rest, r, m := bothWays(t, b, q)
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

// sprayer is the orchard sprayer with its key on, with faults, on its bench and in motion.
func sprayer(t *testing.T, faults []string, acts ...func(b *sim.Bench) error) (*sim.Bench, *sim.Run) {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err == nil {
		err = b.Break(faults...)
	}
	if err == nil {
		err = b.Set("KEY=run")
	}
	for _, act := range acts {
		if err == nil {
			err = act(b)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return b, r
}

// An ammeter in the gap of a pulled fuse reads the same in motion as at rest, and drives what the fuse drove.
func TestAmmeterInMotion(t *testing.T) {
	pull := func(b *sim.Bench) error { return b.Set("F9=out") }
	on := func(b *sim.Bench) error { return b.Set("SW3=on") }
	b, r := sprayer(t, nil, pull, on)
	q := meter.Request{With: "amps", Red: "F9.in", Black: "F9.out"}
	rest, err := meter.Take(b, q)
	if err != nil {
		t.Fatal(err)
	}
	m, err := meter.Move(r, b, q)
	if err != nil {
		t.Fatal(err)
	}
	surge := *m.Reading().Value
	if err := r.Advance(2, nil); err != nil {
		t.Fatal(err)
	}
	got := m.Reading()
	if math.Abs(*got.Value-*rest.Value) > 0.01**rest.Value || surge < 5**got.Value || got.Unit != "A" {
		t.Errorf("in motion it reads %g A at first and %g A then, at rest %g A", surge, *got.Value, *rest.Value)
	}
	if _, err := meter.Move(r, b, meter.Request{With: "amps", Red: "C14.1.a", Black: "C14.1.b"}); err == nil || !strings.Contains(err.Error(), "gap") {
		t.Errorf("in a path that is closed: %v", err)
	}
}

// Across a battery an ammeter is a short circuit, until its own fuse melts.
func TestAmmeterAcrossABatteryInMotion(t *testing.T) {
	b, r := sprayer(t, nil)
	m, err := meter.Move(r, b, meter.Request{With: "amps", Red: "B1.pos", Black: "B1.neg"})
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Reading(); got.Seen != "" || *got.Value < 100 {
		t.Fatalf("as it is put on it reads %g A: %s", *got.Value, got.Seen)
	}
	if err := r.Advance(0.1, nil); err != nil {
		t.Fatal(err)
	}
	got := m.Reading()
	if got.Seen != "the meter's own fuse blew" || math.Abs(*got.Value) > 1e-3 || !strings.Contains(got.Meaning, "short circuit") || !strings.Contains(got.Meaning, "A new fuse") {
		t.Errorf("after 0.1 s it reads %g A: %s: %s", *got.Value, got.Seen, got.Meaning)
	}
}

// The ohms of a jumper are those of its lead and its fuse together.
func TestJumperOhmsInMotion(t *testing.T) {
	b, r := sprayer(t, nil, func(b *sim.Bench) error { return b.Set("F9=out") }, func(b *sim.Bench) error { return b.Set("SW3=on") })
	m, err := meter.Move(r, b, meter.Request{With: "jumper", Red: "F9.in", Black: "F9.out"})
	if err != nil {
		t.Fatal(err)
	}
	across, err := r.Watch("F9.in against F9.out")
	if err != nil {
		t.Fatal(err)
	}
	if ohms := across.Read() / *m.Reading().Value; math.Abs(ohms/catalog.JumperOhms-1) > 0.03 { // cold, but at 31 °C
		t.Errorf("%g ohm, want %g", ohms, catalog.JumperOhms)
	}
}

// The fuse of a jumper across the battery melts within what is published for so much current, and stays gone until the
// leads are put on anew; the fuse of one across a gap holds.
func TestJumperInMotion(t *testing.T) {
	b, r := sprayer(t, nil)
	q := meter.Request{With: "jumper", Red: "F7.out", Black: "G1"}
	m, err := meter.Move(r, b, q)
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Reading(); got.Seen != "fuse holds" || *got.Value < 60 {
		t.Fatalf("across the feed it reads %g A: %s", *got.Value, got.Seen)
	}
	if err := r.Advance(0.1, nil); err != nil { // 600 % for 0.03 to 0.1 s (time-current table of a fuse maker's data sheet)
		t.Fatal(err)
	}
	if got := m.Reading(); got.Seen != "the jumper's fuse blew" || math.Abs(*got.Value) > 1e-3 {
		t.Errorf("after 0.1 s it reads %g A: %s", *got.Value, got.Seen)
	}
	if err := r.Do("KEY=off"); err != nil || m.Reading().Seen != "the jumper's fuse blew" {
		t.Errorf("after another act its fuse is whole again: %v", err)
	}
	if m, err = meter.Move(r, b, q); err != nil || m.Reading().Seen != "fuse holds" {
		t.Errorf("put on anew its fuse is gone: %v", err)
	}
	b, r = sprayer(t, nil, func(b *sim.Bench) error { return b.Set("F9=out") }, func(b *sim.Bench) error { return b.Set("SW3=on") })
	if m, err = meter.Move(r, b, meter.Request{With: "jumper", Red: "F9.in", Black: "F9.out"}); err != nil {
		t.Fatal(err)
	}
	if err := r.Advance(60, nil); err != nil {
		t.Fatal(err)
	}
	if got := m.Reading(); got.Seen != "fuse holds" || *got.Value < 3 || len(got.Cautions) == 0 {
		t.Errorf("in place of F9 it carries %g A: %s", *got.Value, got.Seen)
	}
}

// Who answers in motion is who answers at rest once all has come to rest, and nobody who still boots.
func TestRollCallInMotion(t *testing.T) {
	const reports = "reports: "
	inMotion := strings.NewReplacer("has recorded: supply was", reports+"supply is", "has recorded: lost", reports+"no")
	for _, row := range []struct {
		example string
		faults  []string
		begins  string
		lines   int
	}{
		{"donor-bus", nil, "answers: ENG, DASH, BODY, LIFT, FRIDGE;", 0}, {"donor-bus", []string{"SS.6 open"}, "answers: none;", 0},
		{"donor-bus", []string{"LH short-to-supply 200 ohm", "LL short-to-ground 200 ohm"}, "answers: none;", 0}, // stuck dominant
		{"donor-bus", []string{"LH open"}, "answers: ENG, DASH, BODY, FRIDGE; silent: LIFT", 4},
		{"orchard-sprayer", []string{"C14.4 spread 1.8 ohm"}, "answers: none;", 0}, {"orchard-sprayer", []string{"B1 weak 10.3 V 15 mohm"}, "answers: PC1;", 1},
	} {
		c, err := circuits.Read(row.example)
		if err != nil {
			t.Fatal(err)
		}
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		if err := b.Break(row.faults...); err != nil {
			t.Fatal(err)
		}
		r, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := meter.Move(r, b, meter.Request{With: "roll-call"})
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range []error{b.Set("KEY=run"), r.Do("KEY=run")} {
			if err != nil {
				t.Fatal(err)
			}
		}
		if got := m.Reading(); !strings.HasPrefix(got.Seen, "answers: none") {
			t.Errorf("%s %q, as the key is turned: %s", row.example, row.faults, got.Seen)
		}
		if err := r.Advance(8, nil); err != nil {
			t.Fatal(err)
		}
		rest, err := meter.Take(b, meter.Request{With: "roll-call"})
		if err != nil {
			t.Fatal(err)
		}
		got := m.Reading()
		if got.Seen != rest.Seen || got.Value != nil || !strings.HasPrefix(got.Seen, row.begins) {
			t.Errorf("%s %q: in motion %s, at rest %s, want %s", row.example, row.faults, got.Seen, rest.Seen, row.begins)
		}
		if told := inMotion.Replace(strings.Join(rest.Lines, "\n")); strings.Join(got.Lines, "\n") != told || strings.Count(told, reports) != row.lines {
			t.Errorf("%s %q: in motion %q, at rest %q", row.example, row.faults, got.Lines, rest.Lines)
		}
	}
}

// Beside a reading in motion stands that of the healthy circuit at the same instant, and only then.
func TestHealthyBesideMotion(t *testing.T) {
	_, sound := sprayer(t, nil)
	b, r := sprayer(t, []string{"C14.4 spread 1.8 ohm"})
	m, err := meter.Move(r, b, meter.Request{With: "load-lamp", Red: "F7.out", Black: "C14.4.a"})
	if err == nil {
		err = m.Beside(sound)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, run := range []*sim.Run{r, sound} {
		if err := run.Advance(1, nil); err != nil {
			t.Fatal(err)
		}
	}
	got := m.Reading()
	if got.Healthy == nil || math.Abs(*got.Healthy-*got.Value) < 1 || got.HealthySeen == "" || !strings.Contains(got.Meaning, "less than in the healthy circuit") {
		t.Errorf("it reads %v, healthy %v: %s", *got.Value, got.Healthy, got.Meaning)
	}
	if err := r.Advance(1.5, nil); err != nil {
		t.Fatal(err)
	}
	if got := m.Reading(); got.Healthy != nil || got.HealthySeen != "" {
		t.Errorf("half a second later it still has %g V of the healthy circuit", *got.Healthy)
	}
}

// An ohmmeter reads as at rest where nothing is live, and refuses where something is; a drag gauge asks for no rest.
func TestStillInstruments(t *testing.T) {
	apart := func(b *sim.Bench) error { return b.Apart("PC1") }
	b, r := sprayer(t, []string{"PC1.8 spread 1.8 ohm"}, apart)
	for _, row := range []struct {
		q    meter.Request
		live bool
	}{{meter.Request{With: "ohms", Red: "PC1.8", Black: "G1"}, false}, {meter.Request{With: "ohms", Red: "PC1.1", Black: "PC1.8"}, true},
		{meter.Request{With: "drag", Red: "PC1.8"}, false}} {
		h, err := meter.Hold(b, row.q)
		if err != nil {
			t.Fatal(err)
		}
		m, err := meter.Still(r, h)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Advance(r.Seconds()+0.1, nil); err != nil {
			t.Fatal(err)
		}
		got, rest := m.Reading(), h.Reading()
		switch {
		case row.live && (got.Value != nil || !strings.Contains(got.Seen, "stands between the leads") || !strings.Contains(got.Meaning, "dead circuit")):
			t.Errorf("%+v in a live circuit: %v, %s", row.q, got.Value, got.Seen)
		case !row.live && (got.Value == nil || *got.Value != *rest.Value || got.Seen != rest.Seen):
			t.Errorf("%+v: in motion %v %s, at rest %v %s", row.q, got.Value, got.Seen, rest.Value, rest.Seen)
		}
	}
}

// What is set while an ohmmeter stays on is read, as at rest.
func TestStillInstrumentsFollow(t *testing.T) {
	b, r := sprayer(t, nil, func(b *sim.Bench) error { return b.Apart("B1") })
	q := meter.Request{With: "ohms", Red: "SW3.1", Black: "SW3.2"}
	h, err := meter.Hold(b, q)
	if err != nil {
		t.Fatal(err)
	}
	m, err := meter.Still(r, h)
	if err != nil {
		t.Fatal(err)
	}
	ohms := func(of meter.Reading) float64 {
		if of.Value == nil {
			return math.Inf(1)
		}
		return *of.Value
	}
	open := ohms(m.Reading())
	for _, err := range []error{b.Set("SW3=on"), r.Do("SW3=on")} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if h, err = meter.Hold(b, q); err != nil {
		t.Fatal(err)
	}
	m.Set(b, h)
	if shut, rest := ohms(m.Reading()), ohms(h.Reading()); shut != rest || shut > 1 || open < 100 {
		t.Errorf("open it reads %g ohm, shut %g, at rest %g", open, shut, rest)
	}
}

// Volts the wrong way round are told as that, however near in size, and not as a little less.
func TestPolarityInMotion(t *testing.T) {
	const feed = "underload: 1\nparts:\n  B: {is: battery, volts: %s V}\n  L: {is: lamp, bulb: 5 W}\npaths:\n  a: [B.%s, wire, L, wire, B.%s]\n"
	on := func(volts, first, last string) (*sim.Bench, *sim.Run) {
		c, problems := circuit.Read("feed.yaml", fmt.Appendf(nil, feed, volts, first, last))
		if c == nil {
			t.Fatal(problems)
		}
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		r, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return b, r
	}
	for _, row := range []struct{ volts, first, last, says string }{
		{"12.6", "neg", "pos", "the other way round than in the healthy circuit"}, {"12", "neg", "pos", "the other way round than in the healthy circuit"},
		{"12.6", "pos", "neg", "as in the healthy circuit"}, {"12.1", "pos", "neg", "V less than in the healthy circuit"}, {"14", "pos", "neg", "V more than in the healthy circuit"},
	} {
		b, r := on(row.volts, row.first, row.last)
		m, err := meter.Move(r, b, meter.Request{With: "volts", Red: "L.in", Black: "L.out", AnyReach: true})
		if err != nil {
			t.Fatal(err)
		}
		_, sound := on("12.6", "pos", "neg")
		if err := m.Beside(sound); err != nil {
			t.Fatal(err)
		}
		if got := m.Reading().Meaning; !strings.Contains(got, row.says) {
			t.Errorf("%s V from %s: %q does not say %q", row.volts, row.first, got, row.says)
		}
	}
}
