package element

// This file checks the contact under vibration: that it is random as it should be, and the same for the same seed.

import (
	"math"
	"testing"

	"underload/solver/transient"
)

func testFlutter() *Flutter {
	return &Flutter{ClosedOhms: 0.005, LiftChance: 0.3, OpenShare: 0.25, LowOhms: 0.1, HighOhms: 1e4, Kelvin: coldKelvin, Strength: 1, Hertz: 100}
}

// lift is one time that the contact was up.
type lift struct{ from, until, ohms float64 } // ohms +Inf: a gap

// shaken runs a contact in series with a lamp-like load and returns when it was up.
func shaken(t *testing.T, f *Flutter, o transient.Options, seconds float64) (lifts []lift, r *transient.Run) {
	t.Helper()
	n := transient.New()
	feed, load := n.Node(), n.Node()
	n.Source(transient.Ground, feed, 12, 0.05)
	id := n.Element(feed, load, f)
	n.Resistor(load, transient.Ground, 20)
	n.Element(load, transient.Ground, NewCapacitor(100e-6))
	r = mustStart(t, n, o)
	up := false
	for {
		marks := r.Marks(id)
		if now := marks[FlutterLifted] == 1; now != up || now && lifts[len(lifts)-1].from < r.Seconds() && len(r.Fired()) > 0 {
			if up {
				lifts[len(lifts)-1].until = r.Seconds()
			}
			if now {
				lifts = append(lifts, lift{from: r.Seconds(), ohms: 1 / marks[flutterSiemens]})
			}
			up = now
		}
		if r.Seconds() >= seconds {
			return lifts, r
		}
		if err := r.Step(seconds); err != nil {
			t.Fatal(err)
		}
	}
}

func TestFlutterIsTheSameForASeed(t *testing.T) {
	first, r := shaken(t, testFlutter(), transient.Options{Seed: 42}, 2)
	again, s := shaken(t, testFlutter(), transient.Options{Seed: 42}, 2)
	if len(first) < 80 {
		t.Fatalf("%d lifts", len(first))
	}
	same := func(a, b []lift) bool {
		if len(a) != len(b) {
			return false
		}
		for i := range a {
			if a[i] != b[i] {
				return false
			}
		}
		return true
	}
	if !same(first, again) || r.States(1)[0] != s.States(1)[0] {
		t.Error("the same seed gave another run")
	}
	for _, tolerance := range []float64{1e-3, 1e-6} {
		if other, _ := shaken(t, testFlutter(), transient.Options{Seed: 42, Tolerance: tolerance}, 2); !same(first, other) {
			t.Errorf("at a tolerance of %v other things happened", tolerance)
		}
	}
	if other, _ := shaken(t, testFlutter(), transient.Options{Seed: 43}, 2); same(first, other) {
		t.Error("another seed gave the same run")
	}
	quiet := testFlutter()
	quiet.Strength = 0
	if lifts, r := shaken(t, quiet, transient.Options{Seed: 42}, 2); len(lifts) != 0 || r.Stats().Fired != 0 {
		t.Errorf("at rest it lifted %d times", len(lifts))
	}
}

// Chi-square of the counts against the chances, 99.9 % point; seeds are fixed. The chance follows strength, warmth and damp.
func TestFlutterFollowsItsChances(t *testing.T) {
	for _, c := range []struct {
		strength, kelvin, moisture, chance float64
	}{{1, coldKelvin, 0, 0.3}, {0.5, coldKelvin, 0, 0.15}, {0.5, coldKelvin + 30, 0, 0.3}, {0.25, coldKelvin + 30, 1, 0.3}, {3, coldKelvin, 1, 0.95}} {
		f := testFlutter()
		f.Strength, f.Kelvin, f.Moisture = c.strength, c.kelvin, c.moisture
		const seconds, halves = 20.0, 4000
		lifts, _ := shaken(t, f, transient.Options{Seed: 5, Tolerance: 1e-2}, seconds)
		expected := halves * c.chance
		n := float64(len(lifts))
		chi := (n-expected)*(n-expected)/expected + (n-expected)*(n-expected)/(halves-expected)
		if chi > 10.83 { // one degree of freedom
			t.Errorf("%+v: %v lifts of %v half-waves, %v expected; chi-square %.1f", c, n, halves, expected, chi)
		}
		opens, followed, follows := 0.0, 0.0, 0.0
		var decades, shares [5]float64 // log-even ohms, even shares of the half-wave
		for i, l := range lifts {
			share := (l.until - l.from) / 0.005
			if l.until == 0 || share <= 0 || share > 1+1e-6 {
				if l.until != 0 {
					t.Fatalf("a lift of %v half-waves", share)
				}
				continue // the last one, still up
			}
			shares[min(int(share*5), 4)]++
			if math.IsInf(l.ohms, 1) {
				opens++
				// Whether the next half-wave lifts has nothing to do with what this one was.
				if i+1 < len(lifts) {
					followed++
					if math.Floor(lifts[i+1].from/0.005+0.5) == math.Floor(l.from/0.005+0.5)+1 {
						follows++
					}
				}
				continue
			}
			if l.ohms < f.LowOhms*(1-1e-9) || l.ohms > f.HighOhms*(1+1e-9) {
				t.Fatalf("%v ohm", l.ohms)
			}
			decades[min(int(math.Log10(l.ohms/f.LowOhms)), 4)]++
		}
		if chi := (opens - n*0.25) * (opens - n*0.25) / (n * 0.25 * 0.75); chi > 10.83 {
			t.Errorf("%+v: %v of %v are gaps; chi-square %.1f", c, opens, n, chi)
		}
		if expected := followed * c.chance; (follows-expected)*(follows-expected)/(expected*(1-c.chance)) > 10.83 {
			t.Errorf("%+v: %v of %v gaps are followed by a lift", c, follows, followed)
		}
		for name, counts := range map[string][5]float64{"decades of ohms": decades, "fifths of a half-wave": shares} {
			total, chi := 0.0, 0.0
			for _, k := range counts {
				total += k
			}
			for _, k := range counts {
				chi += (k - total/5) * (k - total/5) / (total / 5)
			}
			if chi > 18.47 || total < 200 { // four degrees of freedom
				t.Errorf("%+v: %s %v, chi-square %.1f", c, name, counts, chi)
			}
		}
	}
}

// A wiggle that begins and ends during a run.
func TestFlutterIsShakenAndLeft(t *testing.T) {
	f := testFlutter()
	f.Strength = 0
	n := transient.New()
	top := n.Node()
	n.Source(transient.Ground, top, 12, 10)
	id := n.Element(top, transient.Ground, f)
	r := mustStart(t, n, transient.Options{Seed: 1})
	mustAdvance(t, r, 1.2345)
	shake := func(strength float64) {
		f.Shake(r.Marks(id), r.Seconds(), strength, 50)
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
	}
	before := r.Stats().Fired
	shake(1)
	mustAdvance(t, r, 2.2345)
	during := r.Stats().Fired - before
	if during < 100 || during > 200 { // 100 half-waves and as many as two moves in each
		t.Errorf("%d moves in a second at 50 Hz", during)
	}
	shake(0)
	before = r.Stats().Fired
	mustAdvance(t, r, 100)
	if r.Stats().Fired != before || r.Marks(id)[FlutterLifted] != 0 {
		t.Errorf("left alone it moved %d times; lifted: %v", r.Stats().Fired-before, r.Marks(id)[FlutterLifted])
	}
}
