package sim

// Lamps on far too many volts, at rest and in time, and batteries in series in either order of the file.

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// truck has a 12 V lamp, a 24 V one and a relay on two batteries in series.
const truck = `underload: 1
parts:
%s
  S: {is: switch, throws: {off: [], on: [1-2]}}
  L12: {is: lamp, bulb: 21 W}
  L24: {is: lamp, bulb: 21 W 24 V}
paths:
  series: [B1.pos, wire: 25 mm2 1 m, B2.neg]
  feed: [B2.pos, wire: 2.5 mm2 1 m, S, wire: 2.5 mm2 1 m, S1]
  a: [S1, wire: 2.5 mm2 1 m, L12, wire: 2.5 mm2 1 m, G1]
  b: [S1, wire: 2.5 mm2 1 m, L24, wire: 2.5 mm2 1 m, G1]
grounds:
  G1: {to: B1.neg}
`

var orders = []string{"  B1: {is: battery}\n  B2: {is: battery}", "  B2: {is: battery}\n  B1: {is: battery}"}

// 0 V is the minus that grounds refer to, whichever battery the file tells first.
func TestZeroVoltsIsTheLowestMinus(t *testing.T) {
	for _, order := range orders {
		b := benchFrom(t, fmt.Sprintf(truck, order))
		for name, want := range map[string]float64{"G1": 0, "B1.pos": 12.6, "B2.pos": 25.2} {
			p, err := b.c.Point(name)
			if err != nil {
				t.Fatal(err)
			}
			if got := b.Volts(p); math.Abs(got-want) > 1e-6 {
				t.Errorf("%s: %s has %g V, want %g", order, name, got, want)
			}
		}
	}
}

// P21W of 24 V takes 28 W at 28 V and less at 25 V: amps go with volts to the power 0.55 (as in solver/device).
func TestLampBurnsOutAtRest(t *testing.T) {
	b := benchFrom(t, fmt.Sprintf(truck, orders[1]))
	if err := b.SetAll("S=on"); err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(b.Moved(), "L12 burns out") || slices.Contains(b.Moved(), "L24 burns out") {
		t.Errorf("it moved: %q", b.Moved())
	}
	if a := b.PartAmps(b.c.Part("L12")); a > 1e-6 {
		t.Errorf("a burnt lamp takes %g A", a)
	}
	if a, want := b.PartAmps(b.c.Part("L24")), math.Pow(25.1/28, 0.55); math.Abs(a/want-1) > 0.02 {
		t.Errorf("the lamp of 24 V takes %g A, want %g", a, want)
	}
	if err := b.SetAll("S=off"); err != nil {
		t.Fatal(err)
	}
	if s := b.State(b.c.Part("L12")); !s.Blown {
		t.Error("it is whole again")
	}
}

// In time it flashes and is dark, within the tenths of a second that it takes to get that hot, and stays so.
func TestLampBurnsOutInTime(t *testing.T) {
	b := benchFrom(t, fmt.Sprintf(truck, orders[0]))
	r, err := b.Run(RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		set     string
		seconds float64
		burnt   bool
	}{{"", 1, false}, {"S=on", 1, true}, {"S=off", 1, true}, {"S=on", 1, true}} {
		if step.set != "" {
			if err := r.Do(step.set); err != nil {
				t.Fatal(err)
			}
		}
		if err := r.Advance(r.Seconds()+step.seconds, nil); err != nil {
			t.Fatal(err)
		}
		if s12, s24 := r.State(b.c.Part("L12")), r.State(b.c.Part("L24")); s12.Blown != step.burnt || s24.Blown {
			t.Errorf("%q: burnt %v %v", step.set, s12.Blown, s24.Blown)
		}
	}
	told := 0
	for _, c := range r.Cues() {
		if c.Says == "L12 burns out" {
			told++
			if c.Seconds < 1.01 || c.Seconds > 1.5 {
				t.Errorf("told at %g s", c.Seconds)
			}
		}
	}
	if told != 1 {
		t.Errorf("told %d times: %v", told, r.Cues())
	}
}
