package live

// This file melts every fuse of the catalogue, against what its sheet publishes.

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"underload/circuit/catalog"
	"underload/solver/element"
	"underload/solver/transient"
)

// tabulated are the ratings that the makers' sheets list (testdata/fuse-*.yaml), and for bolt-in fuses and links, of which
// only common practice tells, some ratings of the catalogue.
var tabulated = map[catalog.FuseType][]float64{
	catalog.Miniature:   {2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30},
	catalog.Standard:    {10, 20, 25, 40},
	catalog.Large:       {30, 35, 40},
	catalog.BoltIn:      {50, 100, 150, 300},
	catalog.FusibleLink: {30, 40, 50, 60, 80, 100},
}

// other ratings are in no sheet; they must keep to the bands as well.
var other = map[catalog.FuseType][]float64{
	catalog.Miniature: {1, 2.5, 6, 12, 35, 40}, catalog.Standard: {5, 15, 30}, catalog.Large: {20, 50, 60, 80, 120}, catalog.BoltIn: {30, 500},
	catalog.FusibleLink: {20, 70, 150},
}

// fuseAt runs a fuse at constant amps from cold, at 20 degC, until it opens or for so many seconds. slotWatts go into its
// body from contacts beside it. It returns when it opened, or +Inf, and the volts across it at the end.
func fuseAt(t *testing.T, fuse catalog.Fuse, amps, slotWatts, seconds float64) (opened, volts float64) {
	t.Helper()
	h := fuse.Heat()
	n := transient.New()
	top := n.Node()
	const source = 1e5 // V: the strip's own ohms change the current by a millionth
	n.Source(transient.Ground, top, source, source/amps)
	id := n.Element(top, transient.Ground, &element.Strip{
		NeckOhms: h.NeckOhms, BodyOhms: h.BodyOhms, OhmsPerKelvin: h.OhmsPerKelvin,
		NeckJoulesPerKelvin: h.NeckJoulesPerKelvin, BodyJoulesPerKelvin: h.BodyJoulesPerKelvin,
		NeckToBodyWattsPerKelvin: h.NeckToBodyWattsPerKelvin, BodyToAirWattsPerKelvin: h.BodyToAirWattsPerKelvin,
		MeltKelvin: h.MeltCelsius + ZeroCelsius, LatentKelvins: h.LatentKelvins, AirKelvin: 20 + ZeroCelsius,
		HeatOhms: slotWatts / (amps * amps),
	})
	r, err := n.Start(transient.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for r.Seconds() < seconds {
		if err := r.Step(seconds); err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Fired() {
			if f.Element == id && f.Event == element.StripOpens {
				return f.Seconds, r.Volts(top)
			}
		}
	}
	return math.Inf(1), r.Volts(top)
}

func mustFuse(t *testing.T, kind catalog.FuseType, amps float64) catalog.Fuse {
	t.Helper()
	fuse, err := catalog.FuseOf(kind, amps)
	if err != nil {
		t.Fatal(err)
	}
	return fuse
}

// Within its band at every share of the rating: not before the least, and by the most. Sheets of a maker's 297, 287 and
// 299 series; bolt-in fuses and links: common practice, no source.
func TestFusesMeltWithinTheirBands(t *testing.T) {
	for _, kind := range catalog.FuseTypes() {
		for _, amps := range append(append([]float64(nil), tabulated[kind]...), other[kind]...) {
			fuse, times := mustFuse(t, kind, amps), ""
			for _, limit := range catalog.MeltTimes(kind).Limits {
				until := limit.MaxSeconds * 2
				if math.IsInf(until, 1) {
					until = limit.MinSeconds
				}
				opened, _ := fuseAt(t, fuse, limit.OfRating*amps, 0, until)
				if opened < limit.MinSeconds || opened > limit.MaxSeconds {
					t.Errorf("%s %g A at %g times: %g s, wanted %g to %g s", kind, amps, limit.OfRating, opened, limit.MinSeconds, limit.MaxSeconds)
				}
				times += fmt.Sprintf(" %g: %.4g s", limit.OfRating, opened)
			}
			t.Logf("%s %g A%s", kind, amps, times)
		}
	}
}

// Volts at the rated current to 2 %, of the sheet or, where it gives none, of the catalogue's rule for them; and the melting integral at 10 times the rating to 10 %, or 20 % at 10 and 20 A, whose
// sheet holds them for 30 ms at 6 times and publishes an integral that would melt them sooner.
func TestFusesKeepToTheirSheets(t *testing.T) {
	for _, kind := range []catalog.FuseType{catalog.Miniature, catalog.Standard, catalog.Large} {
		for _, amps := range tabulated[kind] {
			fuse := mustFuse(t, kind, amps)
			_, volts := fuseAt(t, fuse, amps, 0, 36000)
			if math.Abs(volts/fuse.RatedVolts-1) > 0.02 {
				t.Errorf("%s %g A: %.2f mV at its rating, the sheet says %.2f", kind, amps, volts*1e3, fuse.RatedVolts*1e3)
			}
			if kind == catalog.Standard && amps < 25 {
				continue // the sheet gives no integral
			}
			opened, _ := fuseAt(t, fuse, 10*amps, 0, 10)
			a2s, within := 100*amps*amps*opened, 0.10
			if kind == catalog.Miniature && (amps == 10 || amps == 20) {
				within = 0.20
			}
			t.Logf("%s %g A: %.1f mV (%+.2f %%), melts at %.4g A2s (%+.1f %%)", kind, amps, volts*1e3, 100*(volts/fuse.RatedVolts-1), a2s, 100*(a2s/fuse.MeltA2S-1))
			if math.Abs(a2s/fuse.MeltA2S-1) > within {
				t.Errorf("%s %g A: melts at %.4g A2s, the sheet says %.4g", kind, amps, a2s, fuse.MeltA2S)
			}
		}
	}
}

// Of the 28 W of a hot slot, 10 to 15 W into a large 40 A fuse open it below its rating; at 27 A from 10.5 W on. Without
// them it holds 40 A for ever.
func TestHotSlotOpensAFuseBelowItsRating(t *testing.T) {
	fuse := mustFuse(t, catalog.Large, 40)
	for _, c := range []struct {
		amps, watts float64
		opens       bool
	}{{40, 0, false}, {27, 0, false}, {27, 5, false}, {34, 10, true}, {27, 10.5, true}, {27, 12.5, true}, {27, 15, true}} {
		opened, _ := fuseAt(t, fuse, c.amps, c.watts, 36000)
		if t.Logf("%g A with %g W from the slot: %.0f s", c.amps, c.watts, opened); math.IsInf(opened, 1) == c.opens {
			t.Errorf("%g A with %g W from the slot: opens after %g s, wanted %v", c.amps, c.watts, opened, c.opens)
		}
	}
	for _, c := range []struct {
		kind catalog.FuseType
		amps float64
	}{{catalog.Miniature, 30}, {catalog.Miniature, 15}, {catalog.Standard, 40}, {catalog.Large, 30}} {
		if opened, _ := fuseAt(t, mustFuse(t, c.kind, c.amps), 0.9*c.amps, 10, 36000); math.IsInf(opened, 1) {
			t.Errorf("%s %g A holds nine tenths of its rating with 10 W from the slot", c.kind, c.amps)
		}
	}
}

// At constant amps the strip's equations are linear and have a closed form, which testdata/time/fuse_fit.py evaluates apart
// from the program: every fitted fuse, every time it gives, to a thousandth.
func TestFusesMeltWhenTheClosedFormSays(t *testing.T) {
	file, err := os.Open("../../testdata/time/fuse_fit.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	shares := map[string]float64{"s_110": 1.1, "s_135": 1.35, "s_160": 1.6, "s_200": 2, "s_350": 3.5, "s_600": 6}
	compared, worst := 0, 0.0
	for _, line := range lines[1:] {
		kind := catalog.FuseType(line[0])
		amps, err := strconv.ParseFloat(line[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		for i, name := range lines[0] {
			share, ok := shares[name]
			if !ok {
				continue
			}
			want, err := strconv.ParseFloat(line[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			opened, _ := fuseAt(t, mustFuse(t, kind, amps), share*amps, 0, math.Min(want*2, 1e6))
			compared++
			if math.IsInf(want, 1) && math.IsInf(opened, 1) {
				continue
			}
			off := math.Abs(opened/want - 1)
			if worst = math.Max(worst, off); !(off < 1e-3) {
				t.Errorf("%s %g A at %g times: %g s, closed form %g s", kind, amps, share, opened, want)
			}
		}
	}
	if t.Logf("%d times, worst off by %.1e", compared, worst); compared < 6*20 {
		t.Errorf("only %d times compared", compared)
	}
}
