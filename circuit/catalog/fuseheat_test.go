package catalog

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// The rows are those of the fit, and the fit keeps to the sheets: see the comment at FuseHeat. sim/live melts them.
func TestFuseShapesAreThoseOfTheFit(t *testing.T) {
	file, err := os.Open("../../testdata/time/fuse_fit.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range lines[0] {
		column[name] = i
	}
	if len(lines)-1 != fuseShapeRows() {
		t.Fatalf("%d rows in the file, %d here", len(lines)-1, fuseShapeRows())
	}
	for _, line := range lines[1:] {
		number := func(name string) float64 {
			text := line[column[name]]
			if text == "" {
				return 0
			}
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
		kind, amps := FuseType(line[0]), number("amps")
		want := fuseShape{amps, number("neck_share"), number("neck_to_body_per_k"), number("body_to_air_per_k"), number("neck_seconds_per_k"), number("body_seconds_per_k")}
		found := false
		for _, row := range fuseShapes[kind] {
			found = found || row == want
		}
		if !found {
			t.Errorf("%s %g A: the fit's row %v is not in the table", kind, amps, want)
		}
		if published := number("published_ratio"); published > 0 && math.Abs(number("hot_over_cold")/published-1) > 0.004 {
			t.Errorf("%s %g A: volts at rating off by %.2f %%", kind, amps, 100*(number("hot_over_cold")/published-1))
		}
		if least := number("least"); least < 1.15 || least > 1.33 {
			t.Errorf("%s %g A melts from %g times its rating", kind, amps, least)
		}
		for _, limit := range MeltTimes(kind).Limits {
			name, listed := map[float64]string{1.1: "s_110", 1.35: "s_135", 1.6: "s_160", 2: "s_200", 3.5: "s_350", 6: "s_600"}[limit.OfRating]
			if !listed {
				continue // at the rating itself it holds, see the least that melts it
			}
			if seconds := number(name); seconds < limit.MinSeconds || seconds > limit.MaxSeconds {
				t.Errorf("%s %g A: %g s at %g times the rating, %g to %g s wanted", kind, amps, seconds, limit.OfRating, limit.MinSeconds, limit.MaxSeconds)
			}
		}
	}
}

// The heat of a fuse scales with its size; a rating between the rows takes the nearest row's shape.
func TestFuseHeatOfOthers(t *testing.T) {
	for _, c := range []struct {
		kind       FuseType
		amps, like float64
	}{{Miniature, 1, 2}, {Miniature, 40, 30}, {Standard, 15, 20}, {Large, 60, 40}, {BoltIn, 250, 100}, {FusibleLink, 150, 100}} {
		fuse, err := FuseOf(c.kind, c.amps)
		listed, err2 := FuseOf(c.kind, c.like)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		h, l := fuse.Heat(), listed.Heat()
		if math.Abs((h.NeckOhms+h.BodyOhms)/fuse.ColdOhms-1) > 1e-12 {
			t.Errorf("%s %g A: %g + %g ohm of %g", c.kind, c.amps, h.NeckOhms, h.BodyOhms, fuse.ColdOhms)
		}
		watts := fuse.RatedAmps * fuse.RatedAmps * fuse.ColdOhms / (listed.RatedAmps * listed.RatedAmps * listed.ColdOhms)
		for name, pair := range map[string][2]float64{"neck": {h.NeckJoulesPerKelvin, l.NeckJoulesPerKelvin}, "body": {h.BodyJoulesPerKelvin, l.BodyJoulesPerKelvin},
			"between": {h.NeckToBodyWattsPerKelvin, l.NeckToBodyWattsPerKelvin}, "air": {h.BodyToAirWattsPerKelvin, l.BodyToAirWattsPerKelvin}} {
			if math.Abs(pair[0]/pair[1]/watts-1) > 1e-9 {
				t.Errorf("%s %g A: %s is %g, not %g times %g", c.kind, c.amps, name, pair[0], watts, pair[1])
			}
		}
		if (h.MeltCelsius > 1000) != (c.kind == FusibleLink) || h.Source.Seen != Derived {
			t.Errorf("%s: %+v", c.kind, h)
		}
	}
}
