package meter

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim"
)

func example(t testing.TB, name string) *circuit.Circuit {
	t.Helper()
	c, err := circuits.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// on puts an example on the bench: faults first, then settings ("KEY=run", "apart PC1").
func on(t testing.TB, name string, faults []string, settings ...string) *sim.Bench {
	t.Helper()
	b, err := sim.New(example(t, name))
	if err == nil {
		err = b.Break(faults...)
	}
	for _, s := range settings {
		if err == nil {
			if part, ok := strings.CutPrefix(s, "apart "); ok {
				err = b.Apart(part)
			} else {
				err = b.Set(s)
			}
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func take(t testing.TB, b *sim.Bench, q Request) Reading {
	t.Helper()
	r, err := Take(b, q)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := json.Marshal(r); err != nil {
		t.Fatalf("%s: %v", q.With, err)
	}
	return r
}

func near(t testing.TB, what string, got *float64, want, within float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s: no value, want %g", what, want)
	} else if !(math.Abs(*got-want) <= within) {
		t.Errorf("%s: %g, want %g ± %g", what, *got, want, within)
	}
}

const spread = "C14.4 spread 1.8 ohm"

// The sprayer by hand: 12.6 V behind 15 mohm of battery and about 0.1 ohm of feed and ground, with 1.8 ohm in C14.4.
// A plain 2.4 ohm takes 12.6/(2.4 + 1.8 + 0.115) = 2.92 A, so the joint loses 5.25 V; 48 ohm takes 0.2524 A and loses
// 0.454 V; the module's 3 ohm takes 12.6/4.915 = 2.56 A and gets 7.7 V.
func TestSprayerAgainstOhmsLaw(t *testing.T) {
	apart := []string{"KEY=run", "apart PC1"}
	q := Request{With: "2.4 ohm", Red: "C14.4.a", Black: "C14.4.b"}
	stairs := func(with string) Level {
		s, err := Stairs(on(t, "orchard-sprayer", []string{spread}, apart...), StairsRequest{With: with, Red: "PC1.1", Black: "PC1.8"})
		if err != nil {
			t.Fatal(err)
		}
		if s.Worst() == nil || s.Worst().Place != "C14.4" {
			t.Fatalf("%s: the worst step is %+v", with, s.Worst())
		}
		return s.Worst().UnderLoad
	}
	for _, row := range []struct {
		with       string
		lost, amps float64
		lostWithin float64
	}{{"2.4 ohm", 5.25, 2.92, 0.02}, {"48 ohm", 0.454, 0.2524, 0.002}, {"load-lamp", 5.5, 3.05, 0.08}} {
		l := stairs(row.with)
		near(t, row.with+" volts lost", &l.Lost, row.lost, row.lostWithin)
		near(t, row.with+" amps", &l.Amps, row.amps, 0.05)
		near(t, row.with+" ohms", &l.Ohms, 1.8, 1e-6) // the contact; its crimps are steps of their own
	}
	b := on(t, "orchard-sprayer", []string{spread}, "KEY=run")
	r := take(t, b, Request{With: "volts", Red: "PC1.1", Black: "PC1.8"})
	near(t, "PC1 as it boots", r.Value, 7.7, 0.05)
	if r.State != "hung" {
		t.Errorf("PC1 is %q, want hung", r.State)
	}
	q.With = "volts"
	r = take(t, b, q)
	near(t, "across C14.4 as PC1 boots", r.Value, 1.8*2.56, 0.03)
}

func TestLampWords(t *testing.T) {
	b := on(t, "orchard-sprayer", []string{spread}, "KEY=run", "apart PC1")
	light := take(t, b, Request{With: "test-lamp", Red: "PC1.1", Black: "PC1.8"})
	if light.Seen != "bright" || light.HealthySeen != "bright" {
		t.Errorf("test lamp: %s, healthy %s", light.Seen, light.HealthySeen)
	}
	load := take(t, b, Request{With: "load-lamp", Red: "PC1.1", Black: "PC1.8"})
	if load.Seen != "dim" || load.HealthySeen != "bright" {
		t.Errorf("load lamp: %s, healthy %s", load.Seen, load.HealthySeen)
	}
	if dark := take(t, on(t, "orchard-sprayer", nil, "apart PC1", "F7=out"), Request{With: "test-lamp", Red: "PC1.1", Black: "PC1.8"}); dark.Seen != "dark" {
		t.Errorf("no feed: %s", dark.Seen)
	}
}

// Every refusal is one sentence that says what to do, and the nearest right name where there is one.
func TestRefusals(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "KEY=run")
	for _, row := range []struct {
		q    Request
		want string
	}{
		{Request{With: "volt", Red: "B1.pos", Black: "G1"}, "did you mean volts?"},
		{Request{With: "oscillator"}, "choose one of"},
		{Request{With: "volts"}, "--red POINT and --black POINT"},
		{Request{With: "volts", Red: "B1.pos"}, "--red POINT and --black POINT"},
		{Request{With: "volts", Red: "B1.pos", Black: "B1.pos"}, "two points"},
		{Request{With: "volts", Red: "PC1.9", Black: "G1"}, "PC1."},
		{Request{With: "volts", Red: "C14.4", Black: "G1"}, "C14.4.a or C14.4.b?"},
		{Request{With: "volts", Red: "PC1.8.pin", Black: "G1"}, "--apart PC1"},
		{Request{With: "volts", Red: "S2", Black: "G1"}, "--any-reach"},
		{Request{With: "volts", Red: "B1.pos", Black: "G1", On: "W7"}, "--on is for the clamp"},
		{Request{With: "clamp"}, "--on WIRE"},
		{Request{With: "clamp", On: "W77"}, "did you mean W7?"},
		{Request{With: "clamp", Red: "B1.pos"}, "--on WIRE"},
		{Request{With: "roll-call", Red: "B1.pos"}, "no leads"},
		{Request{With: "look", On: "W7"}, "no leads"},
		{Request{With: "drag", Red: "C14.4"}, "--apart C14"},
		{Request{With: "drag", Red: "F7.in"}, "--set F7=out"},
		{Request{With: "drag", Red: "C14.44"}, "C14.4"},
		{Request{With: "drag", Red: "C14.9"}, "did you mean C14."},
		{Request{With: "drag", Red: "F7"}, "it has F1.in, F1.out, F3.in, "}, // and neither what is bolted nor what is clamped
		{Request{With: "drag", Red: "B1.neg"}, "no spring to test"},         // a clamp around a post
		{Request{With: "drag", Red: "G2"}, "no spring to test"},
		{Request{With: "drag", Red: "S2"}, "no spring to test"},
		{Request{With: "drag", Red: "PC1.8.pin"}, "the terminal that grips it has, PC1.8"},
		{Request{With: "amps", Red: "F7.in", Black: "F7.out"}, "--set F7=out"},
		{Request{With: "amps", Red: "C14.1.a", Black: "C14.1.b"}, "--apart C14"},
	} {
		_, err := Take(b, row.q)
		if err == nil {
			t.Errorf("%+v: no error", row.q)
		} else if !strings.Contains(err.Error(), row.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%+v: %v, want one sentence with %q", row.q, err, row.want)
		}
	}
}

// An ammeter in the place of F7 reads what a clamp on the wire reads, and blows its own fuse across the battery.
func TestAmmeter(t *testing.T) {
	gap := on(t, "orchard-sprayer", nil, "KEY=run", "F7=out")
	inLine := take(t, gap, Request{With: "amps", Red: "F7.in", Black: "F7.out"})
	clamp := take(t, on(t, "orchard-sprayer", nil, "KEY=run"), Request{With: "clamp", On: "W7"})
	near(t, "in line against clamp", inLine.Value, *clamp.Value, 0.005)
	short := take(t, gap, Request{With: "amps", Red: "B1.pos", Black: "B1.neg"})
	near(t, "after its fuse blew", short.Value, 0, 0)
	if !strings.Contains(short.Seen, "fuse blew") {
		t.Errorf("across the battery: %s", short.Seen)
	}
	// Across a path that is closed it would share the current with it, on the sound circuit or not.
	for _, faults := range [][]string{nil, {"C14.4 spread 1.8 ohm"}} {
		for _, leads := range [][2]string{{"C14.4.a", "G2"}, {"KEY.b", "KEY.ign"}, {"S1", "F7.in"}, {"G1", "G2"}} {
			_, err := Take(on(t, "orchard-sprayer", faults, "KEY=run"), Request{With: "amps", Red: leads[0], Black: leads[1]})
			if err == nil || !strings.Contains(err.Error(), "amps needs a gap") || strings.Contains(err.Error(), "healthy") {
				t.Errorf("%v across %v: %v", faults, leads, err)
			}
		}
	}
	apart := take(t, on(t, "orchard-sprayer", nil, "KEY=run", "apart C14"), Request{With: "amps", Red: "C14.4.a", Black: "C14.4.b"})
	near(t, "in a gap of which the feed is apart too", apart.Value, 0, 1e-6)
}

// The textbook's fuse: 15 A miniature, 4.58 mohm cold: 1 mV is 218 mA (data sheet of a fuse maker, and a published
// chart that agrees).
func TestMillivoltsOverAFuseAreAmps(t *testing.T) {
	r := take(t, on(t, "orchard-sprayer", nil, "KEY=run"), Request{With: "volts", Red: "F7.in", Black: "F7.out"})
	if !strings.Contains(r.Meaning, "Over fuse F7") {
		t.Errorf("meaning: %s", r.Meaning)
	}
	near(t, "drop over F7", r.Value, 0.649*0.00458, 2e-5)
}

func TestJumper(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "KEY=run")
	short := take(t, b, Request{With: "jumper", Red: "B1.pos", Black: "G2"})
	if !strings.Contains(short.Seen, "fuse blew") || len(short.Cautions) < 2 {
		t.Errorf("feed to ground: %s, %v", short.Seen, short.Cautions)
	}
	// The module's ground bridged to the stud wakes it: the bad joint is in what was bridged.
	sick := on(t, "orchard-sprayer", []string{spread}, "KEY=run")
	cure := take(t, sick, Request{With: "jumper", Red: "PC1.8", Black: "G2"})
	if cure.State != "" || !strings.Contains(cure.Effect, "PC1 is awake") {
		t.Errorf("bridged ground: state %q, effect %s", cure.State, cure.Effect)
	}
}

// 12 V across an ohmmeter's leads makes its number worthless, and it says so; in a dead circuit it reads the path.
func TestOhmmeter(t *testing.T) {
	live := take(t, on(t, "orchard-sprayer", nil, "KEY=run"), Request{With: "ohms", Red: "PC1.1", Black: "PC1.8"})
	if !strings.Contains(live.Meaning, "cannot be believed") {
		t.Errorf("live: %s", live.Meaning)
	}
	// 0.65 A over the 2 milliohm of a sound contact are 1.3 mV, and those over the meter's own milliamp 1.3 ohm.
	joint := take(t, on(t, "orchard-sprayer", nil, "KEY=run"), Request{With: "ohms", Red: "C14.4.a", Black: "C14.4.b"})
	near(t, "a joint with current", joint.Value, 1.3, 0.05)
	if !strings.Contains(joint.Meaning, "cannot be believed") || !strings.Contains(plainly(joint.Seen), "1.3 mV stands") {
		t.Errorf("a joint with current: %s, %s", joint.Seen, joint.Meaning)
	}
	// Even the 0.3 mV of a stud of half a milliohm are three times what the last digit stands for.
	if stud := take(t, on(t, "orchard-sprayer", nil, "KEY=run"), Request{With: "ohms", Red: "G2", Black: "G2.frame"}); !strings.Contains(stud.Meaning, "believed") {
		t.Errorf("a stud with current: %s, %s", stud.Seen, stud.Meaning)
	}
	if asleep := take(t, on(t, "orchard-sprayer", nil), Request{With: "ohms", Red: "C14.4.a", Black: "C14.4.b"}); strings.Contains(asleep.Meaning, "believed") {
		t.Errorf("a joint with 0.3 mA: %s, %s", asleep.Seen, asleep.Meaning)
	}
	// W21, C14.4, W22, S2 and W23: some 25 milliohm, below the meter's last digit.
	wire := take(t, on(t, "orchard-sprayer", nil, "apart PC1"), Request{With: "ohms", Red: "PC1.8", Black: "G2"})
	near(t, "ground wire", wire.Value, 0.025, 0.015)
	near(t, "its uncertainty", wire.Uncertainty, 0.2, 0.01)
	open := take(t, on(t, "orchard-sprayer", []string{"W21 open"}, "apart PC1"), Request{With: "ohms", Red: "PC1.8", Black: "G2"})
	if open.Value != nil || open.Seen != "over range" {
		t.Errorf("open wire: %v %s", open.Value, open.Seen)
	}
}

// A 10 Mohm meter on a lead that hangs free reads nothing, and says that this is no supply.
func TestFloatingLead(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "F7=out", "apart PC1", "apart C14")
	r := take(t, b, Request{With: "volts", Red: "PC1.1", Black: "B1.neg"})
	near(t, "free end", r.Value, 0, 1e-9)
	if !strings.Contains(r.Meaning, "hangs on nothing") {
		t.Errorf("meaning: %s", r.Meaning)
	}
}

func TestDragGauge(t *testing.T) {
	b := on(t, "orchard-sprayer", []string{spread}, "apart C14")
	r := take(t, b, Request{With: "drag", Red: "C14.4"})
	near(t, "spread", r.Value, 0.16*4.4, 0.05)
	near(t, "sound", r.Healthy, 4.4, 0.01) // 2 lbf at the sixth withdrawal, 2.8 mm (product specification 108-2043)
	for fault, want := range map[string]string{
		"C14.4 spread": "lost its spring", "C14.4 burnt": "weaker than that, and not yet", "C14.4 corroded": "weaker than that", "C14.4 fretted": "It grips as it should",
		"C14.4 backed-out": "Nothing grips",
	} {
		if r := take(t, on(t, "orchard-sprayer", []string{fault}, "apart C14"), Request{With: "drag", Red: "C14.4"}); !strings.Contains(r.Meaning, want) {
			t.Errorf("%s, %g N: %s, want %q", fault, *r.Value, r.Meaning, want)
		}
	}
	// A bolt has no spring, a blade has: the same slot with another fuse in it.
	blade := take(t, on(t, "orchard-sprayer", nil, "F1=out"), Request{With: "drag", Red: "F1.in"})
	near(t, "a fuse slot", blade.Value, 4.4, 0.01)
	if _, err := Take(on(t, "orchard-sprayer", nil, "F1=125 A", "F1=out"), Request{With: "drag", Red: "F1.in"}); err == nil {
		t.Error("a bolted fuse has a spring")
	}
	// Of two conditions in one terminal the gauge feels the weaker grip, whichever came first.
	for _, faults := range [][]string{{"C14.4 spread", "C14.4 fretted"}, {"C14.4 fretted", "C14.4 spread"}} {
		near(t, strings.Join(faults, " and "), take(t, on(t, "orchard-sprayer", faults, "apart C14"), Request{With: "drag", Red: "C14.4"}).Value, 0.16*4.4, 0.05)
	}
	if fretted := take(t, on(t, "orchard-sprayer", []string{"C14.4 fretted"}, "apart C14"), Request{With: "drag", Red: "C14.4"}); *fretted.Value < 0.8*4.4 {
		t.Errorf("a fretted terminal grips: %g N", *fretted.Value)
	}
}

// A relay's coil is no load of its own; the sentence says how its way is climbed, and that works.
func TestStairsOfACoil(t *testing.T) {
	b := on(t, "orchard-sprayer", []string{"K2.86 corroded 20 ohm"}, "KEY=run", "M1=on")
	_, err := Stairs(b, StairsRequest{Part: "K2"})
	if err == nil || !strings.Contains(err.Error(), `--apart K2 --red K2.86 --black K2.85 --with "85 ohm"`) {
		t.Fatalf("%v", err)
	}
	if err := b.Apart("K2"); err != nil {
		t.Fatal(err)
	}
	if _, err := Stairs(b, StairsRequest{Red: "K2.86", Black: "K2.85", With: "85 ohm"}); err != nil {
		t.Error(err)
	}
}

// Going down the stairs loses all of the battery's volts, in every pass, whatever is wrong.
func TestStairsAddUp(t *testing.T) {
	for _, faults := range [][]string{nil, {spread}, {"C14.4 open"}, {"W7 high 3 ohm", "G2 rust 0.9 ohm"}, {"B1 weak"}} {
		b := on(t, "orchard-sprayer", faults, "KEY=run")
		s, err := Stairs(b, StairsRequest{Part: "PC1"})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, st := range s.Steps {
			sum += st.UnderLoad.Lost
		}
		near(t, strings.Join(faults, ", "), &sum, s.OpenVolts, 1e-9)
		if len(s.Steps) < 20 {
			t.Errorf("only %d steps", len(s.Steps))
		}
		if worst := s.Worst(); (worst != nil) != (len(faults) > 0 && faults[0] != "B1 weak") && worst == nil {
			t.Errorf("%v: no worst step", faults)
		}
	}
}

// What is told of a reading holds for the reading: a shortfall that the meter can tell is told, a drop is not called a
// supply, nothing proves nothing, and a dark lamp has not kept its volts.
func TestMeaningsFitTheirReadings(t *testing.T) {
	spread := []string{"C14.4 spread 1.8 ohm"}
	lamps := []string{"KEY=run", "apart PC1"}
	for _, row := range []struct {
		faults   []string
		settings []string
		q        Request
		want     string
		not      string
	}{
		{spread, []string{"KEY=run"}, Request{With: "volts", Red: "PC1.1", Black: "B1.neg"}, "180 mV less", "As in the healthy"},
		{nil, []string{"KEY=run"}, Request{With: "volts", Red: "PC1.8", Black: "B1.neg"}, "With 650 mA flowing here", "good volts"},
		{[]string{"PC1.8 spread 1.8 ohm"}, []string{"KEY=run"}, Request{With: "volts", Red: "PC1.8", Black: "G2"}, "2.6 A flows here in place of 650 mA", "more than"},
		{nil, []string{"SW3=on"}, Request{With: "volts", Red: "F7.out", Black: "B1.neg"}, "good volts", "flowing"}, // only the ground carries the lamp
		{nil, []string{"KEY=run"}, Request{With: "volts", Red: "G2", Black: "G1"}, "A drop is worth", "good volts"},
		{spread, []string{"KEY=run"}, Request{With: "ohms", Red: "C14.4.b", Black: "G2"}, "cannot be believed", "A path"},
		{[]string{"C14.4 spread 3 ohm"}, []string{"KEY=run"}, Request{With: "volts", Red: "PC1.1", Black: "B1.neg"}, "come up over and over", "As in"}, // 2 A through 0.1 ohm
		{spread, []string{"KEY=run"}, Request{With: "volts", Red: "C14.4.b", Black: "B1.neg"}, "Within 50 mV of the healthy circuit. With 2.6 A", "As in"},
		{spread, []string{"KEY=run"}, Request{With: "volts", Red: "C14.4.a", Black: "B1.neg"}, "more than in the healthy circuit", "Volt for amp"},
		{nil, []string{"apart B1"}, Request{With: "volts", Red: "F7.out", Black: "G1"}, "nothing is proved", "As in"},
		{spread, lamps, Request{With: "ohms", Red: "PC1.8", Black: "B1.neg"}, "1.8 Ω more than in the healthy circuit", "As in"},
		{nil, lamps, Request{With: "ohms", Red: "PC1.8", Black: "B1.neg"}, "As in the healthy circuit", "more than in"},
		{[]string{"W22 open"}, lamps, Request{With: "ohms", Red: "PC1.8", Black: "B1.neg"}, "No path", "As in"},
		{nil, []string{"KEY=run", "apart PC1"}, Request{With: "load-lamp", Red: "K2.85", Black: "G2"}, "nothing is proved", "keeps its volts"},
		{spread, lamps, Request{With: "2.4 ohm", Red: "PC1.1", Black: "PC1.8"}, "with this load on", "lamp"},
	} {
		r := take(t, on(t, "orchard-sprayer", row.faults, row.settings...), row.q)
		meaning := strings.ReplaceAll(r.Meaning, "\u00a0", " ")
		if !strings.Contains(meaning, row.want) || strings.Contains(meaning, row.not) {
			t.Errorf("%v %v %+v reads %s: %q, want words on %q and not %q", row.faults, row.settings, row.q, r.NearestText(), meaning, row.want, row.not)
		}
	}
}

// A lamp lights either way round: its amps have no sign, and the volts between the leads keep theirs.
func TestReversedLamp(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "KEY=run", "apart PC1")
	for _, with := range []string{"test-lamp", "load-lamp", "48 ohm"} {
		right, wrong := take(t, b, Request{With: with, Red: "PC1.1", Black: "PC1.8"}), take(t, b, Request{With: with, Red: "PC1.8", Black: "PC1.1"})
		if *right.Amps <= 0.1 || *wrong.Amps <= 0.1 || math.Abs(*right.Amps-*wrong.Amps) > 1e-9 {
			t.Errorf("%s: %g A, and %g A the other way round", with, *right.Amps, *wrong.Amps)
		}
		if *right.Value <= 10 || math.Abs(*right.Value+*wrong.Value) > 1e-9 {
			t.Errorf("%s: %g V, and %g V the other way round", with, *right.Value, *wrong.Value)
		}
	}
}

// A plain load gives no light, and one that is a short or a meter is refused without a word of the solver's.
func TestPlainLoads(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "KEY=run", "apart PC1")
	r := take(t, b, Request{With: "48 ohm", Red: "PC1.1", Black: "PC1.8"})
	if r.LightPercent != nil || r.Amps == nil || r.Seen != "steady" {
		t.Errorf("a plain load: %+v", r)
	}
	for _, with := range []string{"0 ohm", "1e-9 ohm", "5 mohm", "20 Mohm"} {
		if _, err := Take(b, Request{With: with, Red: "PC1.1", Black: "PC1.8"}); err == nil || !strings.Contains(err.Error(), "is no load to test with") {
			t.Errorf("%s: %v", with, err)
		}
	}
}

// A reading of nothing still says within what it is nothing.
func TestNothingHasItsUncertainty(t *testing.T) {
	b := on(t, "orchard-sprayer", nil, "apart B1")
	r := take(t, b, Request{With: "volts", Red: "B1.pos", Black: "G1"})
	if got := r.NearestText(); got != "0\u00a0V ± 200\u00a0µV" {
		t.Errorf("nothing reads %q", got)
	}
	r = take(t, on(t, "orchard-sprayer", nil), Request{With: "led-light", Red: "G2", Black: "B1.neg"})
	if got := r.NearestText(); got != "0\u00a0A ± 300\u00a0µA" || r.Seen != "dark" { // what is too faint for the eye
		t.Errorf("a dark LED reads %q: %s", got, r.Seen)
	}
}

// A joint that loses a tenth of a volt under the load lamp is marked, though no light shows it.
func TestATenthOfAVoltIsMarked(t *testing.T) {
	s, err := Stairs(on(t, "orchard-sprayer", []string{"C14.4 fretted 30 mohm"}, "KEY=run", "apart PC1"), StairsRequest{Red: "PC1.1", Black: "PC1.8"})
	if err != nil {
		t.Fatal(err)
	}
	worst := s.Worst()
	if worst == nil || worst.Place != "C14.4" {
		t.Fatalf("marked: %+v", worst)
	}
	if excess := worst.Excess(); math.Abs(excess-0.028*s.Amps) > 0.002 { // 30 milliohm in place of the pair's 2
		t.Errorf("C14.4 loses %g V too much at %g A", excess, s.Amps)
	}
}

// So is one that loses little more than the least worth a mark: 9 milliohm too much at some 4 A.
func TestFortyMillivoltsAreMarked(t *testing.T) {
	for ohms, want := range map[string]string{"11 mohm": "C14.4", "5 mohm": ""} {
		s, err := Stairs(on(t, "orchard-sprayer", []string{"C14.4 fretted " + ohms}, "KEY=run", "apart PC1"), StairsRequest{Red: "PC1.1", Black: "PC1.8"})
		if err != nil {
			t.Fatal(err)
		}
		if worst := s.Worst(); (worst != nil) != (want != "") || worst != nil && worst.Place != want {
			t.Errorf("%s: marked %+v, want %q", ohms, worst, want)
		}
	}
}

// Warm to a finger from 2 W on, hot to the nose from 8 W on: 12 V over 6 ohm and the joint.
func TestLookFeelsWarmth(t *testing.T) {
	const text = "underload: 1\nparts:\n  B1: {is: battery, volts: 12 V, internal: 1 mohm}\n  R1: {is: resistor, resistance: 6 ohm}\n" +
		"paths:\n  a: [B1.pos, wire: 1 mohm, C1.1, wire: 1 mohm, R1, wire: 1 mohm, B1.neg]\nconnectors:\n  C1: {}\n"
	for _, row := range []struct{ fault, want string }{ // I²R by hand: 1.84, 2.12, 5.9 (at 3.5 ohm) and never more than 6 W
		{"C1.1 spread 0.55 ohm", "nothing to be noticed"}, {"C1.1 spread 0.65 ohm", "C1.1 is warm to the touch"}, {"C1.1 spread 3.5 ohm", "C1.1 is warm to the touch"},
	} {
		b := laid(t, text)
		if err := b.Break(row.fault); err != nil {
			t.Fatal(err)
		}
		if r := take(t, b, Request{With: "look"}); r.Seen != row.want {
			t.Errorf("%s: seen %q, want %q", row.fault, r.Seen, row.want)
		}
	}
}

// A load wired the other way round works: a lamp and a heater do not care, a motor runs backwards, and each has a staircase.
func TestLoadsWiredTheOtherWayRound(t *testing.T) {
	b := laid(t, `underload: 1
parts:
  B1: {is: battery}
  L1: {is: lamp, bulb: 55 W}
  H1: {is: heater, power: 100 W}
  M1: {is: motor, draws: 5 A}
paths:
  lamp: [B1.pos, wire, L1.out-in, wire, S1, wire: 4 mm2 1 m, B1.neg]
  heater: [B1.pos, wire, H1.out-in, wire, S1]
  motor: [B1.pos, wire, M1.out-in, wire, S1]
`)
	if r := take(t, b, Request{With: "look"}); r.Seen != "L1 is bright; H1 warms up; M1 runs, backwards" {
		t.Errorf("seen %q", r.Seen)
	}
	for load, amps := range map[string]float64{"L1": 4.2, "H1": 6.7, "M1": 4.4} {
		s, err := Stairs(b, StairsRequest{Part: load})
		if err != nil {
			t.Error(err)
			continue
		}
		lost, places := 0.0, []string{}
		for _, st := range s.Steps {
			lost += st.UnderLoad.Lost
			if st.UnderLoad.Lost < -1e-9 || st.Load && st.UnderLoad.Lost < 0.9*s.OpenVolts {
				t.Errorf("%s: %g V are lost over %s", load, st.UnderLoad.Lost, st.Place)
			}
			if n := len(places); n == 0 || places[n-1] != st.Place {
				places = append(places, st.Place)
			}
		}
		if math.Abs(s.Amps-amps) > 0.05*amps || math.Abs(lost-s.OpenVolts) > 1e-6 {
			t.Errorf("%s: %g A, %g V of %g V", load, s.Amps, lost, s.OpenVolts)
		}
		want := []string{"B1", "B1.pos", "B1.pos~" + load + ".out", load, load + ".in~S1", "S1", "S1~B1.neg", "B1.neg"}
		if places = slices.DeleteFunc(places, func(place string) bool { return !slices.Contains(want, place) }); !slices.Equal(places, want) {
			t.Errorf("%s: by %q, want %q", load, places, want)
		}
	}
}

// A motor that stands is its winding alone to whatever asks for little: 13 V over the 50 A that it takes held fast are
// 0.26 ohm. A test lamp finds the way through it as good as a ground; a load lamp gets it going, and loses volts in it.
func TestAMotorThatStandsIsItsWinding(t *testing.T) {
	text := func(draws string) string {
		return "underload: 1\nparts:\n  B1: {is: battery, volts: 12 V, internal: 1 mohm}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  M1: {is: motor, draws: " + draws + "}\n" +
			"paths:\n  a: [B1.pos, wire: 1 mohm, SW, wire: 1 mohm, M1, wire: 1 mohm, B1.neg]\n"
	}
	fan := func(settings ...string) *sim.Bench { return laid(t, text("10 A"), settings...) }
	winding := take(t, fan(), Request{With: "ohms", Red: "M1.in", Black: "M1.out"})
	near(t, "its winding", winding.Value, 0.26, 0.02)
	lamp := take(t, fan(), Request{With: "test-lamp", Red: "B1.pos", Black: "M1.in"})
	near(t, "a test lamp through it", lamp.Value, 12-0.25*0.26, 0.02)
	load := take(t, fan(), Request{With: "load-lamp", Red: "B1.pos", Black: "M1.in"})
	if *load.Value > 8 || *load.Amps < 2.5 {
		t.Errorf("a load lamp through it gets %g V at %g A", *load.Value, *load.Amps)
	}
	// One of half an ampere is got going by a quarter.
	small := take(t, laid(t, text("0.5 A")), Request{With: "test-lamp", Red: "B1.pos", Black: "M1.in"})
	if *small.Value > 8 {
		t.Errorf("a small one stands, with %g V for the lamp", *small.Value)
	}
	// One that runs goes on running with a meter on it.
	running := take(t, fan("SW=on"), Request{With: "volts", Red: "SW.1", Black: "M1.out"})
	near(t, "volts of one that runs", running.Value, 12, 0.1)
	if amps := take(t, fan("SW=on"), Request{With: "clamp", On: "SW.2~M1.in"}); *amps.Value > 10 {
		t.Errorf("one that runs takes %g A", *amps.Value)
	}
}

// A motor of 5 A at some volts U that stalls at 25 A makes 0.8 U at its speed; what a steady one turns always asks for 5 A,
// which take 0.2 U. On 12.6 V it is heard to run where that is three quarters of its speed or more, up to U = 15.75 V, and
// to turn from a twentieth on, up to U = 52.5 V: at rest and in time in the same words.
func TestHowAMotorTurns(t *testing.T) {
	for _, c := range []struct{ at, turns, want string }{
		{"15.5 V", "steady", "runs"}, {"16 V", "steady", "turns slowly"}, {"51 V", "steady", "turns slowly"}, {"54 V", "steady", "stands still"},
		{"15.5 V", "engine", "cranks"}, {"16 V", "engine", "cranks slowly"},
	} {
		b := laid(t, "underload: 1\nparts:\n  B1: {is: battery, volts: 12.6 V, internal: 1 mohm}\n  SW: {is: switch, throws: {off: [], on: [1-2]}, contact: 1 mohm}\n"+
			"  M1: {is: motor, draws: 5 A, at: "+c.at+", turns: "+c.turns+"}\npaths:\n  a: [B1.pos, wire: 1 mohm, SW.1-2, wire: 1 mohm, M1, wire: 1 mohm, B1.neg]\n")
		r, err := b.Run(sim.RunOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for _, err := range []error{b.Set("SW=on"), r.Do("SW=on"), r.Advance(8, nil)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		if seen := take(t, b, Request{With: "look"}).Seen; seen != "M1 "+c.want {
			t.Errorf("%s, %s: seen %q, want %q", c.at, c.turns, seen, c.want)
		}
		heard := "M1 stands still"
		for _, cue := range r.Cues() {
			if cue.Place == "M1" {
				heard = cue.Says
			}
		}
		if heard != "M1 "+c.want {
			t.Errorf("%s, %s: in time heard %q, want %q", c.at, c.turns, heard, c.want)
		}
	}
}

// A module that runs on less than 10.5 V records that its supply was low.
func TestRollCallRecordsLowSupply(t *testing.T) {
	for volts, want := range map[string]bool{"10.8 V": false, "10.3 V": true} {
		r := take(t, on(t, "orchard-sprayer", []string{"B1 weak " + volts + " 15 mohm"}, "KEY=run"), Request{With: "roll-call"})
		if got := slices.Contains(r.Lines, "PC1 has recorded: supply was low"); got != want || !strings.Contains(r.Seen, "answers: PC1") {
			t.Errorf("%s: %s, %v", volts, r.Seen, r.Lines)
		}
	}
}

// From a tenth of an ampere on, good volts are told as volts under load.
func TestVoltsUnderLoad(t *testing.T) {
	for ohms, want := range map[string]string{"100 ohm": "120 mA flowing here", "150 ohm": "A meter asks for a microamp"} {
		b := laid(t, "underload: 1\nparts:\n  B1: {is: battery, volts: 12 V}\n  R1: {is: resistor, resistance: "+ohms+"}\npaths:\n  a: [B1.pos, wire, R1, wire, B1.neg]\n")
		if r := take(t, b, Request{With: "volts", Red: "R1.in", Black: "R1.out"}); !strings.Contains(plainly(r.Meaning), want) {
			t.Errorf("%s: %s, want %q", ohms, r.Meaning, want)
		}
	}
}

// A look finds where it is hot, once a place, and neither watts nor that it is a short.
func TestLookFindsHeatAndNotItsCause(t *testing.T) {
	for fault, want := range map[string]string{
		"C14.4 spread 1.8 ohm":         "C14.4 is hot and smells",
		"W7 short-to PC1.8.pin 1 ohm":  "W7 is hot and smells",
		"W7 short-to-ground 1.2 ohm":   "W7 is hot and smells",
		"W7 short-to-ground 100 kohm":  "",
		"C14.1 short-to C14.4 1.2 ohm": "C14.1 is hot and smells",
	} {
		r := take(t, on(t, "orchard-sprayer", []string{fault}, "KEY=run"), Request{With: "look"})
		if want != "" && strings.Count(r.Seen, want) != 1 || want == "" && strings.Contains(r.Seen, "smells") {
			t.Errorf("%s: seen %q, want %q once", fault, r.Seen, want)
		}
		if strings.Contains(r.Seen, "short") || strings.Contains(r.Seen, "W goes") {
			t.Errorf("%s: %q gives the fault away", fault, r.Seen)
		}
	}
}

// A motor that is held fast, or gets too few volts to turn over what it has to, stands still however many volts it gets.
func TestLookAtAMotorThatStands(t *testing.T) {
	for fault, want := range map[string]string{
		"F1 blown": "ST stands still", "ST seized": "ST stands still", "ST stiff 1.2": "ST cranks",
		"BATT weak 12.6 V 16 mohm": "ST cranks slowly", "BATT weak 7 V 9 mohm": "ST stands still",
	} {
		if r := take(t, on(t, "snow-groomer", []string{fault}, "KEY=crank"), Request{With: "look"}); !strings.Contains(r.Seen, want) {
			t.Errorf("%s: seen %q, want %q", fault, r.Seen, want)
		}
	}
}

// A side of sound but thin wire is told whole, and without what the battery loses inside itself: 4.3 A over 0.16 ohm of
// wire is some 0.7 V, and over the battery's 0.2 ohm as much again.
func TestAWholeSide(t *testing.T) {
	c, problems := circuit.Read("side.yaml", []byte("underload: 1\nparts:\n  B1: {is: battery, internal: 200 mohm}\n  F1: {is: fuse, rating: 10 A}\n  L1: {is: lamp, bulb: 55 W}\n"+
		"paths:\n  a: [B1.pos, wire: 80 mohm, F1, wire: 80 mohm, L1, wire: 1 mohm, B1.neg]\n"))
	if c == nil {
		t.Fatal(problems)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Stairs(b, StairsRequest{Part: "L1"})
	if err != nil {
		t.Fatal(err)
	}
	var millivolts float64
	words := strings.ReplaceAll(s.Verdict, "\u00a0", " ")
	if _, err := fmt.Sscanf(words, "The battery + side loses %f mV in all outside the battery at ", &millivolts); err != nil || math.Abs(millivolts-1000*s.Amps*0.167) > 30 {
		t.Errorf("%q at %g A", words, s.Amps)
	}
}
