package fault

import (
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
)

func sprayer(t testing.TB) *circuit.Circuit {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What each line of the grammar changes. Figures in place of a stated value are the catalogue's central ones.
func TestParseAndLay(t *testing.T) {
	c := sprayer(t)
	terminal, wire, part := c.Terminal, c.Wire, c.Part
	for _, row := range []struct {
		text string
		got  func(o *Overlay) float64
		want float64
	}{
		{"C14.4 spread 1.8 ohm", func(o *Overlay) float64 { return o.Contact[terminal("C14.4")] }, 1.8},
		{"C14.4 spread 1800 mΩ", func(o *Overlay) float64 { return o.Contact[terminal("C14.4")] }, 1.8},
		{"C14.4 spread", func(o *Overlay) float64 { return o.Contact[terminal("C14.4")] }, 6},
		{"PC1.8 corroded", func(o *Overlay) float64 { return o.Contact[terminal("PC1.8")] }, 2},
		{"C14.4 backed-out", func(o *Overlay) float64 { return o.Contact[terminal("C14.4")] }, math.Inf(1)},
		{"C14.4 backed out", func(o *Overlay) float64 { return o.Contact[terminal("C14.4")] }, math.Inf(1)},
		{"F7.in burnt 45 mohm", func(o *Overlay) float64 { return o.Contact[terminal("F7.in")] }, 0.045},
		{"C14.4.a bad-crimp 0.5 ohm", func(o *Overlay) float64 { return o.Crimp[terminal("C14.4")] }, 0.5},
		{"C14.4.b bad-crimp", func(o *Overlay) float64 { return o.FarCrimp[terminal("C14.4")] }, 0.2},
		{"PC1.1 bad-crimp 2 ohm", func(o *Overlay) float64 { return o.Crimp[terminal("PC1.1")] }, 2},
		{"W7 open", func(o *Overlay) float64 { return o.WireAdded[wire("W7")] }, math.Inf(1)},
		{"W7 high 3 ohm", func(o *Overlay) float64 { return o.WireAdded[wire("W7")] }, 3},
		{"S2 corroded 3 ohm", func(o *Overlay) float64 { return o.LegAdded[Leg{c.Splice("S2"), wire("W22")}] }, 3},
		{"S2.W22 corroded 3 ohm", func(o *Overlay) float64 { return o.LegAdded[Leg{c.Splice("S2"), wire("W22")}] }, 3},
		{"S2.W22 corroded 3 ohm", func(o *Overlay) float64 { return o.LegAdded[Leg{c.Splice("S2"), wire("W23")}] }, 0},
		{"G2 rust 0.9 ohm", func(o *Overlay) float64 { return o.Stud[c.Stud("G2")] }, 0.9},
		{"B1 weak 11.9 V 90 mohm", func(o *Overlay) float64 { return o.Flaws[part("B1")].Volts }, 11.9},
		{"B1 weak 11.9 V 90 mohm", func(o *Overlay) float64 { return o.Flaws[part("B1")].Ohms }, 0.09},
		{"B1 weak 11.9V 90mohm", func(o *Overlay) float64 { return o.Flaws[part("B1")].Ohms }, 0.09},
		{"F7 wrong-fuse 25 A", func(o *Overlay) float64 { return o.RatingAmps[part("F7")] }, 25},
		{"M1 stiff 1.5", func(o *Overlay) float64 { return o.Flaws[part("M1")].AmpsFactor }, 1.5},
		{"PC1 wakes every 20 min", func(o *Overlay) float64 { return o.Flaws[part("PC1")].WakesEvery }, 1200},
		{"PC1 wakes-every", func(o *Overlay) float64 { return o.Flaws[part("PC1")].WakesEvery }, 900},
		{"K2 worn 0.2 ohm", func(o *Overlay) float64 { return o.Flaws[part("K2")].ContactOhms }, 0.2},
		{"C14.1 short-to C14.2 1 ohm", func(o *Overlay) float64 { return o.Shorts[0].Ohms }, 1},
		{"C14.1 leaks-to C14.2 20 kohm", func(o *Overlay) float64 { return o.Shorts[0].Ohms }, 20000},
		{"W7 short-to-ground", func(o *Overlay) float64 { return o.Shorts[0].Ohms }, 0.2},
		{"C14.1 swapped C14.2", func(o *Overlay) float64 { return float64(len(o.WireOf)) }, 2},
	} {
		f, err := Parse(c, row.text)
		if err != nil {
			t.Errorf("%s: %v", row.text, err)
			continue
		}
		if got := row.got(Lay([]Fault{f})); math.Abs(got-row.want) > 1e-12 && got != row.want {
			t.Errorf("%s: %g, want %g", row.text, got, row.want)
		}
	}
}

// One of 16 strands of 0.5 mm2 over 10 mm adds 5.6 milliohm: 37.1 milliohm a metre for the whole wire (road-vehicle
// cable, from memory), fifteen times more of it over the neck.
func TestStrandsAgainstArithmetic(t *testing.T) {
	c := sprayer(t)
	f, err := Parse(c, "W10 strands 1/16")
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0371 * (1 + 0.00393*(c.AmbientCelsius-20)) * 0.010 * 15
	if math.Abs(f.Ohms-want) > 0.01*want {
		t.Errorf("%g ohm, want %g", f.Ohms, want)
	}
}

// Every error is one sentence that names the nearest right word.
func TestParseErrors(t *testing.T) {
	c := sprayer(t)
	for _, row := range []struct{ text, want string }{
		{"", "is not a fault"},
		{"C14.4", "is not a fault"},
		{"C14.5 spread", "C14."},
		{"C14 spread", "whole connector"},
		{"C14.4 spred 1 ohm", `did you mean "spread"`},
		{"C14.4 spread 1.8", "ohm"},
		{"C14.4 spread 1.8 V", "V"},
		{"C14.4 spread -1 ohm", "below zero"},
		{"W7 spread", "a wire, cannot be"},
		{"F7 blown now", "too much"},
		{"W7 strands 16/1", "1/16"},
		{"W7 strands", "1/16"},
		{"K2 stuck halfway", "open or closed"},
		{"K2 stuck", "say how it sticks: open or closed"},
		{"KEY stuck", "say in which position it sticks: off, acc, run, crank"},
		{"PC1 stuck", "say which output sticks: 5"},
		{"F7 wrong-fuse", "say what the fuse is rated for"},
		{"KEY stuck sideways", "off, acc, run, crank"},
		{"C14.1 swapped PC1.1", "another cavity of C14"},
		{"C14.1 short-to", "say where to"},
		{"C14.1 short-to C14.9", "C14."},
		{"C14.1 short-to C14.1", "name another place"},
		{"W7 leaks-to W7", "name another place"},
		{"S2.W7 corroded", "no wire W7 enters splice S2"},
		{"B1 weak strong", "11.9 V 90 mohm"},
		{"M1 stiff 0.5", "1.5"},
		{"PC1 stuck 9", "it has 5"},
		{"PC1 wakes every 20 V", "V"},
		{"PC1 wakes every 0 s", "20 min"},
	} {
		_, err := Parse(c, row.text)
		if err == nil {
			t.Errorf("%q: no error", row.text)
			continue
		}
		if !strings.Contains(err.Error(), row.want) {
			t.Errorf("%q: %v, want something with %q", row.text, err, row.want)
		}
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: more than one line: %v", row.text, err)
		}
	}
}

// Whatever a place can be, the grammar reads in its plainest form, or asks for what is missing.
func TestEveryConditionOfEveryPlace(t *testing.T) {
	c := sprayer(t)
	places := Places(c)
	if len(places) < 50 {
		t.Fatalf("only %d places", len(places))
	}
	for _, place := range places {
		conditions, err := Conditions(c, place)
		if err != nil {
			t.Errorf("%s: %v", place, err)
		}
		for _, condition := range conditions {
			if f, err := Parse(c, place+" "+condition); err == nil {
				Lay([]Fault{f})
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	c := sprayer(f)
	for _, place := range Places(c) {
		if conditions, err := Conditions(c, place); err == nil {
			for _, condition := range conditions {
				f.Add(place + " " + condition + " 1 ohm")
			}
		}
	}
	f.Add("B1 weak 11.9 V 90 mohm")
	f.Add("W7 strands 1/16 20 mm")
	f.Fuzz(func(t *testing.T, text string) {
		fault, err := Parse(c, text)
		if err != nil {
			return
		}
		if math.IsNaN(fault.Ohms) || fault.Ohms < 0 {
			t.Fatalf("%q reads as %g ohm", text, fault.Ohms)
		}
		Lay([]Fault{fault})
		again, err := Parse(c, fault.String())
		if err != nil || again.Ohms != fault.Ohms || again.Place != fault.Place {
			t.Fatalf("%q does not read back: %v", fault.String(), err)
		}
	})
}
