package meter_test

// This file puts every instrument on points all over every example, sound and with its headline fault, and holds the
// readings to what no meter may show.

import (
	"math"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
)

// headline is one fault of each example that its complaint is about.
var headline = map[string]string{
	"orchard-sprayer":    "PC1.8 spread 6 ohm",
	"library-van":        "STEP.A8 spread 22 ohm",
	"rescue-buggy":       "C3.6 spread 9 ohm",
	"mist-blower":        "G2 rust 0.9 ohm",
	"snow-groomer":       "LUG.1 corroded 9 mohm",
	"ice-cream-van":      "F12 blown",
	"street-sweeper":     "F4.out spread 18 mohm",
	"donor-bus":          "LH short-to LL 0.3 ohm",
	"vineyard-harvester": "BOOST shorted 8 ohm",
	"bread-van":          "WG open",
	"quarry-tanker":      "STRAP open",
	"cinema-van":         "GLSW stuck open",
	"ambulance-trailer":  "PLUG.3 corroded 3 ohm",
}

var touching = []string{"volts", "test-lamp", "ohms", "load-lamp", "led-light", "jumper", "2.4 ohm"}

func TestEveryInstrumentEverywhere(t *testing.T) {
	taken := 0
	for _, example := range circuits.Names() {
		fault, ok := headline[example]
		if !ok {
			t.Errorf("%s: what is wrong with it?", example)
			continue
		}
		b := bench(t, example, []string{fault}, everythingOn[example]...)
		battery := b.Circuit().OfKind("battery")[0]
		most := battery.Value("volts")
		for _, g := range b.Circuit().OfKind("generator") {
			most = max(most, g.Value("volts")+1) // and the block may stand a volt below the battery's minus
		}
		posts := [2]string{battery.Terminals[0].Name, battery.Terminals[1].Name}
		for i, p := range b.Circuit().Points() {
			if i%3 != 0 {
				continue
			}
			q := meter.Request{With: touching[taken%len(touching)], Red: p.Name, Black: posts[taken%2], AnyReach: true}
			if q.Red == q.Black {
				continue
			}
			taken++
			r, err := meter.Take(b, q)
			if err != nil {
				t.Errorf("%s: %+v: %v", example, q, err)
				continue
			}
			if why := impossible(r, most); why != "" {
				t.Errorf("%s: %+v: %s\n%+v", example, q, why, r)
			}
		}
		for _, w := range b.Circuit().Wires {
			r, err := meter.Take(b, meter.Request{With: "clamp", On: w.Name})
			if err != nil || impossible(r, 0) != "" {
				t.Errorf("%s: clamp on %s: %v %s", example, w.Name, err, impossible(r, 0))
			}
		}
		everyStair(t, example, b)
	}
	if taken < 200 {
		t.Errorf("only %d readings were taken", taken)
	}
}

// impossible says what is wrong with a reading that no meter may show, or "". Over 0 batteryVolts, none may be more.
func impossible(r meter.Reading, batteryVolts float64) string {
	for _, v := range []*float64{r.Value, r.Healthy, r.Kick, r.Amps, r.LightPercent, r.Resolution, r.Uncertainty} {
		if v != nil && (math.IsNaN(*v) || math.IsInf(*v, 0)) {
			return "no number"
		}
	}
	switch {
	case r.Seen == "" || r.HealthySeen == "" || r.Meaning == "" || r.Effect == "":
		return "without words"
	case strings.Contains(r.Seen+r.Meaning+r.Effect, "NaN"):
		return "NaN in the words"
	case r.Unit == "V" && batteryVolts > 0 && r.Value != nil && math.Abs(*r.Value) > batteryVolts+0.01:
		return "more volts than the battery has"
	case r.Amps != nil && r.Value != nil && *r.Amps < 0:
		return "a lamp that delivers power"
	case r.Minutes < 0:
		return "taken before it was begun"
	}
	return ""
}

// everyStair climbs the staircase of every load that draws something. What is lost on the way must add up to what the
// battery gives: the last level is that of its minus post.
func everyStair(t *testing.T, example string, b *sim.Bench) {
	t.Helper()
	sound, err := b.Sound()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range b.Circuit().Parts {
		if !p.Kind.Load || sound.PartAmps(p) < 0.01 {
			continue
		}
		s, err := meter.Stairs(b, meter.StairsRequest{Part: p.Name})
		if err != nil {
			t.Errorf("%s: stairs of %s: %v", example, p.Name, err)
			continue
		}
		leadsRead(t, example, b, s)
		for _, pass := range []func(meter.Step) meter.Level{
			func(st meter.Step) meter.Level { return st.UnderLoad }, func(st meter.Step) meter.Level { return st.Healthy },
		} {
			volts, missing := s.OpenVolts, false
			for _, st := range s.Steps {
				volts -= pass(st).Lost
				missing = missing || pass(st).Missing
			}
			if !missing && math.Abs(volts) > 1e-6 {
				t.Errorf("%s: %g V of the stairs of %s go missing", example, volts, p.Name)
			}
		}
	}
}

// leadsRead holds the volts of every step that ends under a lead against what a lead reads there.
func leadsRead(t *testing.T, example string, b *sim.Bench, s meter.Staircase) {
	t.Helper()
	ended := 0
	for _, st := range s.Steps {
		if st.Point == "" {
			continue
		}
		point, err := b.Circuit().Point(st.Point)
		if err != nil {
			t.Fatal(err)
		}
		want, kicks := b.KickVolts(point)
		if !kicks {
			want = b.Volts(point)
		}
		if ended++; math.Abs(st.UnderLoad.Volts-want) > 1e-6 {
			t.Errorf("%s: the stairs of %s have %.4f V behind %s %s, and a lead on %s reads %.4f V", example, s.Load, st.UnderLoad.Volts, st.Place, st.Piece, st.Point, want)
		}
	}
	if ended < 4 {
		t.Errorf("%s: only %d steps of %s end under a lead", example, ended, s.Load)
	}
}
