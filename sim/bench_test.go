package sim

import (
	"math"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim/part"
	"underload/solver"
)

func sprayer(t testing.TB) *Bench {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func must(t testing.TB, errs ...error) {
	t.Helper()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
}

func (b *Bench) modeOf(name string) part.Mode { return b.State(b.c.Part(name)).Mode }

// Every refusal of a setting or an act is one sentence that says what can be done, and nothing is changed by it.
func TestSettingRefusals(t *testing.T) {
	b := sprayer(t)
	for _, row := range []struct {
		do   func(string) error
		text string
		want string
	}{
		{b.Set, "KEY", "write NAME=STATE"},
		{b.Set, "KEY=rum", "did you mean KEY=run?"},
		{b.Set, "KEY=sideways", "off, acc, run, crank"},
		{b.Set, "KEI=run", "did you mean KEY?"},
		{b.Set, "F7=gone", `F7="25 A"`},
		{b.Set, "F7=-3 A", "in, out"},
		{b.Set, "M1=maybe", "on or off"},
		{b.Set, "E3=on", "set the switch that feeds it"},
		{b.Set, "F7.in=on", "not an output"},
		{b.Set, "PC1.4=on", "PC1.5"},
		{b.Set, "B1=charged", "B1=support"},
		{b.Set, "K2=on", "cannot be switched"},
		{b.Set, "ambient=5000 °C", "between"},
		{b.Set, "ambient=warm", "°C"},
		{b.Apart, "F7", "--set F7=out"},
		{b.Apart, "C41", "did you mean C14?"},
		{b.Mend, "mend C14.4", "repair PLACE"},
		{b.Mend, "repair C14.9", "C14."},
		{b.Mend, "reseat B1", "no connector"},
		{func(s string) error { return b.Break(s) }, "C14.4 sprad", "spread"},
	} {
		err := row.do(row.text)
		if err == nil {
			t.Errorf("%q: no error", row.text)
		} else if !strings.Contains(err.Error(), row.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want one sentence with %q", row.text, err, row.want)
		}
	}
	if len(b.settings) != 0 || len(b.faults) != 0 {
		t.Errorf("a refusal left something behind: %v %v", b.settings, b.faults)
	}
}

// The repair is followed by the same test: a new module does not cure a spread terminal, a repaired terminal does.
func TestRepairAndTestAgain(t *testing.T) {
	b := sprayer(t)
	must(t, b.Break("C14.4 spread 1.8 ohm"), b.Set("KEY=run"))
	for _, step := range []struct {
		act  string
		want part.Mode
	}{
		{"replace PC1", part.Hung},
		{"clean C14.4", part.Hung}, // a lost spring is not a film
		{"repair C14.1", part.Hung},
		{"reseat C14", part.Awake}, // wiped, not mended
		{"repair C14.4", part.Awake},
	} {
		must(t, b.Mend(step.act))
		if got := b.modeOf("PC1"); got != step.want {
			t.Errorf("after %s PC1 is %s, want %s", step.act, got, step.want)
		}
	}
	if len(b.faults) != 0 || len(b.wiped) != 0 {
		t.Errorf("mended, and still: %v %v", b.faults, b.wiped)
	}
}

// The pump runs through its relay when the module is asked for it, and the relay lets go with the key.
func TestAskedLoadRuns(t *testing.T) {
	b := sprayer(t)
	must(t, b.Set("KEY=run"), b.Set("M1=on"))
	if !b.State(b.c.Part("K2")).PulledIn {
		t.Fatal("K2 did not pull in")
	}
	if volts, amps := b.LoadVolts(b.c.Part("M1")); volts < 11 || amps < 9 {
		t.Errorf("the pump gets %.2f V and takes %.2f A", volts, amps)
	}
	must(t, b.Set("KEY=off"))
	if b.State(b.c.Part("K2")).PulledIn {
		t.Error("K2 stays in with the key off")
	}
}

// A fuse carries what is asked of it up to its limit, and blows above: a short after it, and a right-sized one behind.
func TestFuseBlows(t *testing.T) {
	b := sprayer(t)
	must(t, b.Set("SW3=on"), b.Break("W41 short-to-ground 0.1 ohm"))
	if !b.State(b.c.Part("F9")).Blown {
		t.Fatal("F9 holds a short")
	}
	must(t, b.Mend("repair W41"))
	if !b.State(b.c.Part("F9")).Blown {
		t.Error("F9 healed by itself")
	}
	must(t, b.Mend("replace F9"))
	if volts, _ := b.LoadVolts(b.c.Part("E3")); volts < 11 {
		t.Errorf("a new F9, and the lamp gets %.2f V", volts)
	}
}

// Copper at 85 °C has 1.25545 times its resistance at 20 °C (IEC 60028 coefficient, quoted second-hand).
func TestWarmWire(t *testing.T) {
	b := sprayer(t)
	w := b.c.Wire("W7")
	must(t, b.Set("ambient=20 °C"))
	cold := b.w.net.Ohms(b.w.runs[w].first)
	must(t, b.Set("ambient=85 °C"))
	if ratio := b.w.net.Ohms(b.w.runs[w].first) / cold; ratio < 1.2554 || ratio > 1.2556 {
		t.Errorf("85 °C against 20 °C: %g", ratio)
	}
}

// The sound circuit goes through the same settings and none of the faults.
func TestSoundCircuitInTheSameState(t *testing.T) {
	b := sprayer(t)
	must(t, b.Break("C14.4 open"), b.Set("KEY=run"), b.Set("SW3=on"), b.Apart("M1"))
	sound, err := b.Sound()
	must(t, err)
	if sound.modeOf("PC1") != part.Awake || b.modeOf("PC1") == part.Awake {
		t.Errorf("PC1: sound %s, faulty %s", sound.modeOf("PC1"), b.modeOf("PC1"))
	}
	if !sound.apart["M1"] || sound.State(sound.c.Part("SW3")).Position != "on" {
		t.Error("the sound circuit is in another state")
	}
}

// Two faults in one joint are both there: the ohms add up, nothing heals an open one, and whichever order they come in.
func TestFaultsInOneJointAddUp(t *testing.T) {
	for _, row := range []struct {
		faults []string
		joint  string
		want   float64
	}{
		{[]string{"C14.4 spread 1 ohm", "C14.4 corroded 0.5 ohm"}, "contact", 1.5},
		{[]string{"C14.4 corroded 0.5 ohm", "C14.4 spread 1 ohm"}, "contact", 1.5},
		{[]string{"C14.4 open", "C14.4 spread 0.01 ohm"}, "contact", math.Inf(1)},
		{[]string{"C14.4 spread 0.01 ohm", "C14.4 backed-out"}, "contact", math.Inf(1)},
		{[]string{"C14.4.a open", "C14.4.a bad-crimp 0.01 ohm"}, "crimp", math.Inf(1)},
		{[]string{"C14.4.b bad-crimp 0.2 ohm", "C14.4.b high 0.1 ohm"}, "behind", 0.3},
	} {
		b := sprayer(t)
		must(t, b.Break(row.faults...))
		j := b.w.joints[b.c.Terminal("C14.4")]
		branch := map[string]solver.Branch{"contact": j.contact, "crimp": j.crimp, "behind": j.behind}[row.joint]
		if got := b.w.net.Ohms(branch); math.Abs(got-row.want) > 1e-12 && got != row.want {
			t.Errorf("%v: %g ohm in the %s, want %g", row.faults, got, row.joint, row.want)
		}
	}
}

// Swapping 1 with 2 and then 1 with 4 sends every wire to one cavity: 1 has the wire of 4, 2 that of 1, 4 that of 2.
func TestSwapsFollowOneAnother(t *testing.T) {
	b := sprayer(t)
	must(t, b.Break("C14.1 swapped C14.2", "C14.1 swapped C14.4"))
	for cavity, wire := range map[string]string{"C14.1": "C14.4", "C14.2": "C14.1", "C14.4": "C14.2"} {
		if got, want := b.w.joints[b.c.Terminal(cavity)].tail, b.w.spot(b.c.Terminal(wire).Spot); got != want {
			t.Errorf("%s has not the wire of %s", cavity, wire)
		}
	}
	must(t, b.Break("C14.1 swapped C14.4", "C14.1 swapped C14.2")) // and back again
	must(t, b.Set("KEY=run"))
	if got := b.modeOf("PC1"); got != part.Awake {
		t.Errorf("all wires home again, and PC1 is %s", got)
	}
}

// What is wrong between two places is mended at either of them; water is cleaned away, a chafed wire is not.
func TestMendedAtEitherPlace(t *testing.T) {
	for _, row := range []struct {
		fault, act string
		left       int
	}{
		{"C14.1 swapped C14.2", "repair C14.2", 0},
		{"W7 short-to W22", "repair W22", 0},
		{"W7 short-to W22", "clean W22", 1},
		{"C14.1 leaks-to C14.2", "clean C14.2", 0},
		{"C14.1 leaks-to C14.2", "clean C14.4", 1},
	} {
		b := sprayer(t)
		must(t, b.Break(row.fault), b.Mend(row.act))
		if len(b.Faults()) != row.left {
			t.Errorf("%s, %s: %d faults left, want %d", row.fault, row.act, len(b.Faults()), row.left)
		}
	}
}

// Pulling a connector and putting it back leaves each contact what the catalogue says that wiping does to it, and a
// contact that is better than that as it was.
func TestReseatingLeavesTheWipedOhms(t *testing.T) {
	for fault, want := range map[string]float64{
		"C14.4 spread 1.8 ohm":    0.020,
		"C14.4 fretted 0.5 ohm":   0.010,
		"C14.4 corroded 2 ohm":    0.5,
		"C14.4 corroded 0.2 ohm":  0.2,
		"C14.4 high 1 ohm":        1,
		"C14.4 bad-crimp 0.2 ohm": 0.002, // the contact of a sound one; wiping does nothing for a crimp
	} {
		b := sprayer(t)
		must(t, b.Break(fault), b.Mend("reseat C14"))
		if got := b.w.net.Ohms(b.w.joints[b.c.Terminal("C14.4")].contact); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %g ohm after it was pulled, want %g", fault, got, want)
		}
	}
}
