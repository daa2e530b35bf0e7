package sim

// This file holds the levels on a pair of bus wires against hand arithmetic and against ISO 11898-2 as transceiver data
// sheets state it: 2.5 V on both lines at rest, a difference of 1.5 to 3.0 V into 60 ohm when a node is dominant.

import (
	"math"
	"testing"

	"underload/circuits"
	"underload/solver"
)

// differenceWhile is the volts between the socket's bus pins while a module drives the pair, and at rest.
func differenceWhile(t *testing.T, b *Bench, speaker string) (dominant, high, low float64) {
	t.Helper()
	at := func(s *solver.Solution, pin string) float64 {
		return s.Volts(b.w.joints[b.c.Terminal("SS."+pin)].harness)
	}
	high, low = at(b.sol, "6"), at(b.sol, "14")
	b.adjust()
	m := b.module(b.c.Part(speaker))
	m.Speak(true)
	defer m.Speak(false)
	said := &solver.Solution{}
	if err := b.w.net.Solve(said); err != nil {
		t.Fatal(err)
	}
	return at(said, "6") - at(said, "14"), high, low
}

func TestBusLevels(t *testing.T) {
	c, err := circuits.Read("donor-bus")
	if err != nil {
		t.Fatal(err)
	}
	// A driver of 3.0 V behind 30 Ω: into R the pair gets 3.0 V x R/(R + 30 Ω), less the loss in the wires to it.
	for _, want := range []struct {
		fault      string
		difference float64
		within     float64
	}{
		{"", 2.0, 0.03},                                // R = 60 Ω
		{"RT1 dead", 2.4, 0.03},                        // R = 120 Ω
		{"LH short-to LL 0.3 ohm", 0.06, 0.04},         // R = 0.65 Ω at the socket; the speaker is farther off
		{"LIFT.H leaks-to LIFT.L 220 ohm", 1.83, 0.03}, // R = 47 Ω
		{"SS.6 leaks-to SS.14 120 ohm", 1.72, 0.03},    // R = 40 Ω
	} {
		b := broken(t, c)
		if want.fault != "" {
			b = broken(t, c, want.fault)
		}
		if err := b.Set("KEY=run"); err != nil {
			t.Fatal(err)
		}
		got, high, low := differenceWhile(t, b, "BODY")
		if math.Abs(got-want.difference) > want.within {
			t.Errorf("%q: %.3f V while BODY speaks, by hand %.2f V", want.fault, got, want.difference)
		}
		if math.Abs(high-2.5) > 0.05 || math.Abs(low-2.5) > 0.05 {
			t.Errorf("%q: at rest %.2f V and %.2f V", want.fault, high, low)
		}
	}
}

// A module that is off holds the pair at its ground: an unpowered bus has no volts, and an ohmmeter can be believed.
func TestBusWithoutPowerIsDead(t *testing.T) {
	c, err := circuits.Read("donor-bus")
	if err != nil {
		t.Fatal(err)
	}
	b := broken(t, c)
	if err := b.Apart("BATT"); err != nil {
		t.Fatal(err)
	}
	body := b.sol.Volts(b.w.studs[c.Stud("G4")].metal) // with the ground clamp off it hangs on the plus through the loads
	for _, pin := range []string{"SS.6", "SS.14"} {
		if v := b.sol.Volts(b.w.joints[c.Terminal(pin)].harness) - body; math.Abs(v) > 0.001 {
			t.Errorf("%s stands at %.3f V with the battery off", pin, v)
		}
	}
}

// A receiver takes the pair for dominant above 0.9 V of difference (ISO 11898-2, from transceiver data sheets). With a
// leak across the socket's pins the pair's 60 ohm become R, and 3.0 V x R/(R + 30 ohm) is what is left to hear.
func TestBusIsHeardAboveItsThreshold(t *testing.T) {
	c, err := circuits.Read("donor-bus")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		leak  string
		heard bool
	}{
		{"25 ohm", true},  // 17.6 ohm: 1.1 V
		{"10 ohm", false}, // 8.6 ohm: 0.67 V
		{"1 ohm", false},
	} {
		b := broken(t, c, "SS.6 leaks-to SS.14 "+row.leak)
		must(t, b.Set("KEY=run"))
		heard, err := b.Hears(c.Part("BODY"), c.Terminal("SS.6"), c.Terminal("SS.14"))
		if err != nil || heard != row.heard {
			t.Errorf("a leak of %s: heard %v, %v", row.leak, heard, err)
		}
	}
}
