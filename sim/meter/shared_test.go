package meter

// This file tests what is told where a path carries other current than that of the instrument or of the load in question.

import (
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/sim"
)

// laid puts a circuit on the bench.
func laid(t *testing.T, text string, settings ...string) *sim.Bench {
	t.Helper()
	c, problems := circuit.Read("shared.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	b, err := sim.New(c)
	if err == nil {
		err = b.SetAll(settings...)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// plainly has plain spaces in place of those that hold a number and its unit together.
func plainly(words string) string { return strings.ReplaceAll(words, "\u00a0", " ") }

// tooMuch is the resistance that a reading under load tells.
func tooMuch(t *testing.T, r Reading) float64 {
	t.Helper()
	_, rest, ok := strings.Cut(plainly(r.Meaning), ": about ")
	told, _, found := strings.Cut(rest, " too much between")
	ohms, err := quantity.Parse(told, quantity.Ohms)
	if !ok || !found || err != nil {
		t.Fatalf("no resistance in %q", r.Meaning)
	}
	return ohms
}

// Two loads share a rusty ground stud. By hand (voltage divider and source resistance, as any text on circuits has them): a
// heater of 4 ohm on the same 0.5 ohm of stud. Between the battery's plus and the ground side of the heater stand
// 12 V x 4/4.5 = 10.67 V behind 0.5 x 4/4.5 = 0.444 ohm; with the heater off, 12 V behind 0.5 ohm. A load of 6 ohm there
// shows those ohms, whatever else flows.
func TestOtherCurrentIsNotTheLampsOwn(t *testing.T) {
	const text = "underload: 1\nparts:\n  B1: {is: battery, volts: 12 V, internal: 0.1 mohm}\n  SW: {is: switch, throws: {on: [1-2], off: []}}\n  H1: {is: resistor, resistance: 4 ohm}\n" +
		"paths:\n  a: [B1.pos, wire: 0.1 mohm, SW, wire: 0.1 mohm, H1, wire: 0.1 mohm, S1, wire: 0.1 mohm, G1]\n  b: [G0, wire: 0.1 mohm, B1.neg]\n" +
		"grounds:\n  G0: {stud: 0.1 mohm}\n  G1: {to: G0, by: 0.1 mohm, stud: 0.1 mohm}\nsplices:\n  S1: {reach: open}\n"
	for _, row := range []struct {
		set   string
		want  float64
		other string // what the other current loses alone
		bound string
	}{
		{"SW=on", 0.444, "1.3", "or somewhat more"},
		{"SW=off", 0.5, "", ""},
	} {
		for _, with := range []string{"6 ohm", "load-lamp"} {
			b := laid(t, text, row.set)
			if err := b.Break("G1 rust 0.5 ohm"); err != nil {
				t.Fatal(err)
			}
			r := take(t, b, Request{With: with, Red: "B1.pos", Black: "S1"})
			if got := tooMuch(t, r); math.Abs(got-row.want) > 0.03*row.want {
				t.Errorf("%s, %s: %g ohm too much, by hand %g: %q", row.set, with, got, row.want, r.Meaning)
			}
			words := plainly(r.Meaning)
			if other := strings.Contains(words, "other current"); other != (row.other != "") || !strings.Contains(words, row.other) || !strings.Contains(words, row.bound) {
				t.Errorf("%s, %s: %q, want %q lost to other current", row.set, with, words, row.other)
			}
		}
	}
}

// The blower's lamps share the stud with the computer. What the load lamp on the computer's plug changes is the stud's, less
// what the work lamps beside it take over; never the three times as much that the loss of both over the lamp's amps would be.
func TestLoadLampOnASharedGround(t *testing.T) {
	for _, ohms := range []float64{0.2, 0.5, 0.9} {
		b := on(t, "mist-blower", []string{"G2 rust " + quantity.Format(ohms, quantity.Ohms, 3)}, "KEY=run", "SW3=on")
		for _, q := range []Request{{With: "load-lamp", Red: "BATT.pos", Black: "S3"}, {With: "load-lamp", Red: "BOOM.A1", Black: "BOOM.B6"}} {
			if got := tooMuch(t, take(t, b, q)); got > ohms*1.02 || got < ohms/2 {
				t.Errorf("G2 with %g ohm, %s and %s: %g ohm told", ohms, q.Red, q.Black, got)
			}
		}
	}
}

// A dim test lamp is not blamed for what other current loses.
func TestDimLampOnASharedGround(t *testing.T) {
	for settings, want := range map[string]string{"SW3=on": "to other current", "SW3=off": "at only"} {
		fault := map[string]string{"SW3=on": "G2 rust 0.9 ohm", "SW3=off": "G2 rust 20 ohm"}[settings]
		r := take(t, on(t, "mist-blower", []string{fault}, "KEY=run", settings, "apart BOOM"), Request{With: "test-lamp", Red: "BATT.pos", Black: "S3"})
		if r.Seen != "dim" || !strings.Contains(r.Meaning, want) {
			t.Errorf("%s, %s: %s, %q, want words on %q", fault, settings, r.Seen, r.Meaning, want)
		}
	}
}

// A staircase says only of a lamp what an eye sees, and agrees with the same lamp's own reading. Of a load that does not work
// it says so, and whose the loss is.
func TestStaircaseOverOtherCurrent(t *testing.T) {
	for _, row := range []struct {
		q         StairsRequest
		fault     string
		want, not []string
	}{
		{StairsRequest{Red: "BATT.pos", Black: "S3"}, "G2 rust 0.9 ohm", []string{"Under load G2 loses", "the light test loses 5.60 V there, and its lamp is dim"}, []string{"no eye"}},
		{StairsRequest{Part: "BOOM"}, "G2 rust 0.9 ohm", []string{"BOOM draws only 170 µA, where it draws 720 mA in the healthy circuit", "not a test under load", "Other current shares its path", "G2 loses 5.48 V", "900 mΩ at 6.1 A"},
			[]string{"no eye", "light test", "Under load"}},
		{StairsRequest{Part: "BOOM"}, "G2 rust 0.1 ohm", []string{"Under load G2 loses", "with BOOM at rest it still loses 800 mV to other current, which a voltmeter shows"}, []string{"no eye", "lamp"}},
		{StairsRequest{Part: "BOOM"}, "S3.WB corroded 20 kohm", []string{"BOOM draws only", "not a test under load", "S3 loses"}, []string{"no eye", "Under load", "Other current"}},
		{StairsRequest{Red: "BOOM.A1", Black: "BOOM.B6"}, "C12.4 spread 1 ohm", []string{"Under load C12.4 loses", "which no eye sees"}, []string{"Other"}},
	} {
		s, err := Stairs(on(t, "mist-blower", []string{row.fault}, "KEY=run", "SW3=on"), row.q)
		if err != nil {
			t.Fatal(err)
		}
		words := plainly(s.Verdict)
		for _, want := range row.want {
			if !strings.Contains(words, want) {
				t.Errorf("%s, %+v: %q lacks %q", row.fault, row.q, words, want)
			}
		}
		for _, not := range row.not {
			if strings.Contains(words, not) {
				t.Errorf("%s, %+v: %q says %q", row.fault, row.q, words, not)
			}
		}
	}
}

// A side that loses too much says in which step, where most of it is in one: 12 mohm of contact and some
// 4 mohm in its plugged terminals, between the points on it, against some 4 mohm of wire.
func TestAWholeSideMostlyInOneStep(t *testing.T) {
	const text = "underload: 1\nparts:\n  B1: {is: battery, volts: 12 V, internal: 1 mohm}\n  K1: {is: relay, contact: 12 mohm}\n  M1: {is: resistor, resistance: 100 mohm}\n" +
		"paths:\n  a: [B1.pos, wire: 2 mohm, K1.30-87, wire: 2 mohm, M1, wire: 0.1 mohm, G1]\n  coil: [B1.pos, wire: 1 mohm, K1.86-85, wire: 1 mohm, G1]\n  b: [G1, wire: 0.1 mohm, B1.neg]\ngrounds:\n  G1: {stud: 0.1 mohm}\n"
	s, err := Stairs(laid(t, text), StairsRequest{Part: "M1"})
	if err != nil {
		t.Fatal(err)
	}
	words := plainly(s.Verdict)
	if !strings.Contains(words, "over the 500 mV") || !strings.Contains(words, "of it at K1") || !strings.Contains(words, "16 mΩ, as in the healthy circuit") || strings.Contains(words, "no single") {
		t.Errorf("%q", words)
	}
}
