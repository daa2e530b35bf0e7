package circuits_test

// The examples read without a word against them, and the orchard sprayer measures what its lesson needs. The sums here
// are plain series resistances, added up by hand along the path: they stand outside the program that solves circuits.

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/tidy"
	"underload/circuits"
)

func TestEveryExampleReads(t *testing.T) {
	names := circuits.Names()
	if len(names) == 0 || !slices.IsSorted(names) {
		t.Fatalf("examples %v", names)
	}
	for _, name := range names {
		source, err := circuits.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		c, problems := circuit.Read(name+".yaml", source)
		if c == nil || len(problems) > 0 {
			t.Errorf("%s:\n%v", name, problems)
			continue
		}
		if c.Title == "" || c.Complaint == "" || c.Teaches == "" {
			t.Errorf("%s lacks a title, a complaint or what it teaches", name)
		}
		if again, err := circuits.Read(name); err != nil || again.Title != c.Title {
			t.Errorf("Read(%s): %v", name, err)
		}
	}
}

// The examples are a pattern for those who type: they stand in the form that fmt writes.
func TestExamplesAreInForm(t *testing.T) {
	names := circuits.Names()
	if len(names) == 0 {
		t.Fatal("no examples")
	}
	for _, name := range names {
		source, err := circuits.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		formed, err := tidy.File(name+".yaml", source)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(formed, source) {
			t.Errorf("%s is not as fmt writes it: go run . fmt circuits/%s.yaml", name, name)
		}
	}
}

func TestNoSuchExample(t *testing.T) {
	for name, want := range map[string]string{
		"orchard-spryer":   `there is no example "orchard-spryer"; did you mean orchard-sprayer?`,
		"../circuits":      "the examples are ",
		"orchard-sprayer/": "did you mean orchard-sprayer?",
		"":                 "the examples are ",
	} {
		if c, err := circuits.Read(name); c != nil || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Read(%q): %v", name, err)
		}
	}
}

// along adds up the ohms of a feed, from the harness side of its terminal to the battery's post and through the
// battery: crimps, contacts, wires, splice legs, studs, metal and fuses. What the contact of C14.4 has is left out.
func along(t *testing.T, c *circuit.Circuit, f circuit.Feed) (ohms float64) {
	t.Helper()
	ohms = f.Terminal.CrimpOhms
	for _, l := range f.Way {
		switch {
		case l.Wire != nil:
			ohms += l.Wire.Ohms
			for _, end := range []circuit.End{l.Wire.From, l.Wire.To} {
				if end.Splice != nil {
					ohms += end.Splice.LegOhms
				}
			}
		case l.Cavity != nil:
			ohms += l.Cavity.CrimpOhms + l.Cavity.BehindOhms
			if l.Cavity.Name != "C14.4" {
				ohms += l.Cavity.ContactOhms
			}
		case l.Stud != nil:
			ohms += l.Stud.ContactOhms
		case l.Body != nil:
			ohms += l.Body.ByOhms
		case l.Part != nil && l.Part.Kind.Name == "fuse":
			fuse, err := catalog.FuseOf(l.Part.FuseType(), l.Part.Value("rating"))
			if err != nil {
				t.Fatal(err)
			}
			ohms += fuse.ColdOhms + series(l.In) + series(l.Out)
		case l.Splice == nil:
			t.Fatalf("%s is not expected on this way", l.Name())
		}
	}
	return ohms + series(f.End)
}

// series is a terminal from its wire to what lies behind it.
func series(terminal *circuit.Terminal) float64 {
	return terminal.CrimpOhms + terminal.ContactOhms + terminal.BehindOhms
}

// With 1.8 ohm in the contact of C14.4 and PC1 unplugged, a plain 2.4 ohm in its place loses about 5.25 V there and a
// plain 48 ohm about 0.45 V; plugged in and booting, PC1 gets about 7.7 V, between its two thresholds.
func TestOrchardSprayerLesson(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	feeds, err := c.Feeds("PC1")
	if err != nil {
		t.Fatal(err)
	}
	battery, pc1 := c.Part("B1"), c.Part("PC1")
	rest, plugs := battery.Value("internal"), 0.0
	for _, f := range feeds {
		if f.Purpose != "wake" {
			rest += along(t, c, f)
			plugs += f.Terminal.ContactOhms + f.Terminal.BehindOhms
		}
	}
	if rest < 0.115 || rest > 0.125 {
		t.Errorf("everything but C14.4 and the load is %.4f ohm, want 0.12", rest)
	}
	const bad = 1.8
	volts := battery.Value("volts")
	boots := pc1.Value("boots as")
	for _, want := range []struct {
		what            string
		got, volts, tol float64
	}{
		{"C14.4 under 2.4 ohm", volts * bad / (2.4 + bad + rest), 5.25, 0.01},
		{"C14.4 under 48 ohm", volts * bad / (48 + bad + rest), 0.454, 0.001},
		{"PC1 booting", volts * boots / (boots + bad + rest + plugs), 7.67, 0.02},
	} {
		if math.Abs(want.got-want.volts) > want.tol {
			t.Errorf("%s: %.3f V, want %.3f V", want.what, want.got, want.volts)
		}
	}
	if got := volts * boots / (boots + bad + rest + plugs); got > pc1.Value("runs above") || got < pc1.Value("resets below") {
		t.Errorf("booting at %.2f V, PC1 does not hang between %g and %g V", got, pc1.Value("resets below"), pc1.Value("runs above"))
	}
}
