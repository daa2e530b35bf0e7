package catalog

import (
	"math"
	"testing"
)

func TestFuseTablesAreOrderly(t *testing.T) {
	for _, kind := range FuseTypes() {
		ratings := ratingsOf(kind)
		if len(ratings) < 3 {
			t.Fatalf("%s: only %d ratings", kind, len(ratings))
		}
		last := Fuse{}
		for _, amps := range ratings {
			fuse, err := FuseOf(kind, amps)
			if err != nil {
				t.Fatal(err)
			}
			if last.RatedAmps > 0 && (fuse.ColdOhms >= last.ColdOhms || fuse.MeltA2S <= last.MeltA2S) {
				t.Errorf("%s %g A: ohms or I²t out of order: %+v after %+v", kind, amps, fuse, last)
			}
			if fuse.RatedVolts < 0.05 || fuse.RatedVolts > 0.30 {
				t.Errorf("%s %g A: %g V at its rating", kind, amps, fuse.RatedVolts)
			}
			if hot := fuse.RatedVolts / amps / fuse.ColdOhms; hot < 1.25 || hot > 1.70 {
				t.Errorf("%s %g A: hot over cold ohms %.2f", kind, amps, hot)
			}
			last = fuse
		}
	}
}

// A published chart of millivolts over a fuse (a second source, read): amps at
// 1 mV, cold.
func TestFuseMillivoltChart(t *testing.T) {
	for _, c := range []struct {
		kind FuseType
		amps float64
		at1  float64 // mA
	}{{Miniature, 15, 218}, {Standard, 10, 130}} {
		fuse, err := FuseOf(c.kind, c.amps)
		if got := 1 / fuse.ColdOhms; err != nil || math.Abs(got-c.at1) > 0.5 {
			t.Errorf("%s %g A: 1 mV is %.1f mA, the chart says %g", c.kind, c.amps, got, c.at1)
		}
	}
}

// Leave each inner miniature rating out and the rule must give it back within
// the 14 % by which the sheet itself strays from a smooth line in ohms.
func TestFuseRuleFindsListedRatings(t *testing.T) {
	full := fuseTables[Miniature]
	for i := 1; i < len(full.rows)-1; i++ {
		part := full
		part.rows = append(append([]fuseRow(nil), full.rows[:i]...), full.rows[i+1:]...)
		want := full.rows[i].milliohms
		got, listed := part.at(full.rows[i].amps, func(r fuseRow) float64 { return r.milliohms })
		if listed || math.Abs(got/want-1) > 0.14 {
			t.Errorf("%g A: %.2f mΩ by the rule, %.2f by the sheet", full.rows[i].amps, got, want)
		}
	}
}

func TestFuseOfOthers(t *testing.T) {
	between, err := FuseOf(Standard, 15)
	if err != nil || between.Source.Seen != Derived || between.ColdOhms <= 0.00338 || between.ColdOhms >= 0.0077 {
		t.Errorf("standard 15 A: %+v, %v", between, err)
	}
	beyond, err := FuseOf(Large, 60)
	if err != nil || beyond.Source.Seen != Derived || beyond.ColdOhms >= 0.0014 || beyond.ColdOhms < 0.0007 {
		t.Errorf("large 60 A: %+v, %v", beyond, err)
	}
	for _, amps := range []float64{0, -5, 5000, math.NaN(), math.Inf(1)} {
		if _, err := FuseOf(Miniature, amps); err == nil {
			t.Errorf("a miniature fuse of %g A was accepted", amps)
		}
	}
	if _, err := FuseOf("glass", 10); err == nil {
		t.Error("an unknown build was accepted")
	}
	for amps, want := range map[float64]FuseType{5: Miniature, 30: Miniature, 60: Large, 80: Large, 150: BoltIn} {
		got := UsualFuseType(amps)
		if _, err := FuseOf(got, amps); got != want || err != nil {
			t.Errorf("%g A: %s, %v", amps, got, err)
		}
	}
}

// The upper limits fall as the current rises; the lower ones never pass them.
func TestMeltTimes(t *testing.T) {
	for _, kind := range FuseTypes() {
		limits := MeltTimes(kind).Limits
		if len(limits) < 4 {
			t.Fatalf("%s: only %d limits", kind, len(limits))
		}
		for i, l := range limits {
			if l.MinSeconds >= l.MaxSeconds {
				t.Errorf("%s at %g: %g to %g s", kind, l.OfRating, l.MinSeconds, l.MaxSeconds)
			}
			if i > 0 && (l.OfRating <= limits[i-1].OfRating || l.MaxSeconds >= limits[i-1].MaxSeconds || l.MinSeconds >= limits[i-1].MinSeconds) {
				t.Errorf("%s at %g: out of order", kind, l.OfRating)
			}
		}
	}
}

// Without heat loss a fuse melts after I²t/I². Real melting takes a little
// longer, so at 6 times its rating the printed I²t must give a time below the
// band's upper limit and no less than half its lower one.
func TestMeltEnergyFitsMeltTimes(t *testing.T) {
	for _, kind := range []FuseType{Miniature, Large} {
		limits := MeltTimes(kind).Limits
		six := limits[len(limits)-1]
		for _, amps := range ratingsOf(kind) {
			fuse, err := FuseOf(kind, amps)
			if seconds := fuse.MeltA2S / (36 * amps * amps); err != nil || seconds > six.MaxSeconds || seconds < six.MinSeconds/2 {
				t.Errorf("%s %g A: %.0f ms adiabatic at 6 times, band %g to %g s", kind, amps, seconds*1000, six.MinSeconds, six.MaxSeconds)
			}
		}
	}
}

// ratingsOf lists the ratings of a build that are in its table.
func ratingsOf(kind FuseType) []float64 {
	var ratings []float64
	for _, row := range fuseTables[kind].rows {
		ratings = append(ratings, row.amps)
	}
	return ratings
}
