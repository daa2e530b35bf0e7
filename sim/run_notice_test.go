package sim

// This file checks what is told of a run: when lamps change, that every reset counts, and what can be watched.

import (
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/part"
)

func running(t *testing.T, name string, faults []string, settings ...string) *Run {
	t.Helper()
	c, err := circuits.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	b := broken(t, c, faults...)
	for _, s := range settings {
		if err := b.Set(s); err != nil {
			t.Fatal(err)
		}
	}
	r, err := b.Run(RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func cueAt(r *Run, says string) float64 {
	for _, c := range r.Cues() {
		if c.Says == says {
			return c.Seconds
		}
	}
	return math.NaN()
}

// A lamp goes dark when it does, whatever else happens later and however long the steps are.
func TestLampsChangeInTheirOwnTime(t *testing.T) {
	dark := func(acts ...string) float64 {
		r := running(t, "mist-blower", nil, "KEY=run", "SW3=on")
		if err := r.At(1, "SW3=off"); err != nil {
			t.Fatal(err)
		}
		for _, a := range acts {
			if err := r.At(1.3, a); err != nil {
				t.Fatal(err)
			}
		}
		if err := r.Advance(4, nil); err != nil {
			t.Fatal(err)
		}
		return cueAt(r, "L1 goes dark")
	}
	alone, beside := dark(), dark("VALVES=on")
	if !(alone > 1.05 && alone < 1.3) || math.Abs(alone-beside) > 0.01 {
		t.Errorf("the lamp goes dark at %.3f s, and with something else going on at %.3f s", alone, beside)
	}
}

// A glow is told if it lasts for as long as an eye needs, 0.15 s, and not if it is shorter, however long the steps are. How
// long it lasts is read from its light: dim from 3 % of that at 12 V on.
func TestShortGlowsAreTold(t *testing.T) {
	told, short := 0, 0
	for i := range 30 {
		r := running(t, "mist-blower", nil, "KEY=run")
		light, err := r.Watch("light L1")
		if err != nil {
			t.Fatal(err)
		}
		usual := part.Filament(part.Bulb(r.Circuit().Part("L1")), 20).LightShare(12)
		on := 0.02 + 0.008*float64(i)
		for at, act := range map[float64]string{1: "SW3=on", 1 + on: "SW3=off"} {
			if err := r.At(at, act); err != nil {
				t.Fatal(err)
			}
		}
		lasts, last := 0.0, 0.0
		if err := r.Advance(4, func() bool {
			for at := last; at < r.Seconds(); at += 1e-3 { // inside of the step
				if light.ReadAt(max(at, last)) >= 3*usual {
					lasts += min(1e-3, r.Seconds()-at)
				}
			}
			last = r.Seconds()
			return true
		}); err != nil {
			t.Fatal(err)
		}
		glows := !math.IsNaN(cueAt(r, "L1 glows dimly")) || !math.IsNaN(cueAt(r, "L1 is bright"))
		if math.Abs(lasts-0.15) > 3e-3 && glows != (lasts > 0.15) {
			t.Errorf("it glows for %.4f s, told: %v", lasts, glows)
		}
		if glows {
			told++
		} else {
			short++
		}
	}
	if told < 5 || short < 2 {
		t.Errorf("%d told, %d too short", told, short)
	}
}

func TestEveryResetIsTold(t *testing.T) {
	r := running(t, "orchard-sprayer", []string{"C14.4 spread 1.8 ohm"})
	resets, err := r.Watch("resets PC1")
	if err != nil {
		t.Fatal(err)
	}
	for at, act := range map[float64]string{0.1: "KEY=run", 0.5: "wiggle C14"} {
		if err := r.At(at, act); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.Advance(20, nil); err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, c := range r.Cues() {
		if c.Says == "PC1 resets" {
			told++
		}
	}
	if n := int(resets.Read()); n < 3 || told != n {
		t.Errorf("%d resets, %d told", n, told)
	}
}

func TestAtTheVeryStart(t *testing.T) {
	r := running(t, "mist-blower", nil, "KEY=run", "SW3=on")
	if err := r.At(0, "VALVES=on"); err != nil {
		t.Error(err)
	}
	if err := r.At(-1, "VALVES=on"); err == nil {
		t.Error("the past can be changed")
	}
}

func TestHeatOfAStud(t *testing.T) {
	for fault, bad := range map[string]bool{"": false, "G2 rust 0.2 ohm": true} {
		var faults []string
		if bad {
			faults = []string{fault}
		}
		r := running(t, "mist-blower", faults, "KEY=run")
		heat, err := r.Watch("heat G2")
		if err != nil {
			t.Fatal(err)
		}
		start := heat.Read()
		if err := r.Do("SW3=on"); err != nil {
			t.Fatal(err)
		}
		if err := r.Advance(120, nil); err != nil {
			t.Fatal(err)
		}
		// 0.2 ohm at some 6 A are 7 W into a stud that loses 0.2 W/K.
		if rise := heat.Read() - start; bad != (rise > 15) || !bad && rise > 1 {
			t.Errorf("%q: the stud warms by %.1f K", fault, rise)
		}
	}
	r := running(t, "mist-blower", nil)
	if _, err := r.Watch("heat G22"); err == nil || !strings.Contains(err.Error(), "G2") {
		t.Errorf("%v", err)
	}
}

// A battery told by its cold cranking amps alone has about half of (12.6 V - 7.2 V) over those amps at 25 degrees, in which
// SAE J537 defines them at -18 degrees; and a run begins where the bench rests.
func TestColdCrankingAtRest(t *testing.T) {
	c, problems := circuit.Read("cold.yaml", []byte(`underload: 1
title: cold
ambient: 25 °C
parts:
  B1: {is: battery, cold cranking: 600 A}
  R1: {is: resistor, resistance: 1 ohm}
paths:
  load: [B1.pos, wire: 1 mohm, R1, wire: 1 mohm, B1.neg]
`))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	b := broken(t, c)
	ohms := part.RestedOf(c.Part("B1"), &part.State{}, 25, 25).Ohms
	if most := (12.6 - 7.2) / 600; ohms > 0.8*most || ohms < 0.3*most {
		t.Errorf("%.2g ohm at 25 degrees, at most %.2g at -18 degrees", ohms, most)
	}
	r, err := b.Run(RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	post, err := r.Watch("B1.pos")
	if err != nil {
		t.Fatal(err)
	}
	point, err := c.Point("B1.pos")
	if err != nil {
		t.Fatal(err)
	}
	if run, rest := post.Read(), b.Volts(point); math.Abs(run-rest) > 2e-3 {
		t.Errorf("%.4f V in a run, %.4f V at rest", run, rest)
	}
}

// What a file says of a battery holds at the file's ambient temperature: 43 K colder its inner resistance is doubled, at rest
// and as a run begins.
func TestColdBatteryAtRest(t *testing.T) {
	for _, row := range []struct {
		file, ambient string
		ohms          float64
	}{{"20 °C", "20 °C", 0.008}, {"20 °C", "-23 °C", 0.016}, {"-10 °C", "-10 °C", 0.008}, {"-10 °C", "33 °C", 0.004}} {
		b := benchFrom(t, `underload: 1
title: cold
ambient: `+row.file+`
parts:
  B1: {is: battery, volts: 12.5 V, internal: 8 mohm}
  R1: {is: resistor, resistance: 100 mohm}
paths:
  load: [B1.pos, wire: 1 mohm, R1, wire: 1 mohm, B1.neg]
`)
		must(t, b.Set("ambient="+row.ambient))
		point, err := b.c.Point("B1.pos.pin")
		must(t, err)
		amps, post := b.PartAmps(b.c.Part("R1")), b.Volts(point)
		if got := (12.5 - post) / amps; math.Abs(got-row.ohms) > 0.0008 { // half a millivolt a kelvin of its own volts, and its posts
			t.Errorf("%s in a file of %s: %.2f mohm", row.ambient, row.file, 1e3*got)
		}
		r := start(t, b, RunOptions{})
		if run := watching(t, r, "B1.pos.pin").Read(); math.Abs(run-post) > 5e-3 {
			t.Errorf("%s in a file of %s: %.4f V in a run, %.4f V at rest", row.ambient, row.file, run, post)
		}
	}
}
