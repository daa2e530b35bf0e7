package transient_test

// This file measures in one run all that the stepping is asked to keep, and prints it as a table:
//
//	go test ./solver/transient -run '^$' -bench Bars -benchtime 1x
//	go test -tags scipy ./solver/transient -run '^$' -bench Bars -benchtime 1x
//
// the second with row 9, which sets it beside SciPy and wants a Python 3 with SciPy on the path. It fails where a limit is not kept.
// Errors, steps and counts are the same on every machine; times are of the processor, and ratios are of contestants that
// run in turn.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit/catalog"
	"underload/solver/element"
	"underload/solver/transient"
)

// bar is one thing measured: it must keep to one limit, and would do well to keep to the other.
type bar struct {
	row                 int
	what                string
	must, stretch, ours float64 // limits that are no number: nothing is asked
	least               bool    // the limits are the least wanted, and not the most
}

func (m bar) keeps(limit float64) bool {
	if m.least {
		return m.ours >= limit
	}
	return m.ours <= limit
}

func (m bar) verdict() string {
	switch {
	case math.IsNaN(m.must):
		return "-"
	case m.keeps(m.stretch):
		return "stretch"
	case m.keeps(m.must):
		return "must"
	}
	return "MISSED"
}

// besideSciPy measures against SciPy where the build tag scipy is set.
var besideSciPy = func(*testing.B, *golden) []bar { return nil }

func BenchmarkBars(b *testing.B) {
	g := readGolden(b)
	for b.Loop() {
		measured := besideSciPy(b, g)
		for _, measure := range []func(*testing.B, *golden) []bar{errorBars, eventBars, workBars, timeBars, repeatBars, fuseBars, switchingBars} {
			measured = append(measured, measure(b, g)...)
		}
		slices.SortStableFunc(measured, func(x, y bar) int { return x.row - y.row })
		fmt.Print("\n" + table(measured)) // the log of a benchmark is cut off after some lines
		for _, m := range measured {
			if m.verdict() == "MISSED" {
				b.Errorf("row %d, %s: %.3g, and must be %.3g", m.row, m.what, m.ours, m.must)
			}
		}
	}
}

func table(measured []bar) string {
	widest := 0
	for _, m := range measured {
		widest = max(widest, len(m.what))
	}
	var out strings.Builder
	fmt.Fprintf(&out, "row  %-*s  %9s  %9s  %9s  verdict\n", widest, "what", "must", "stretch", "ours")
	for _, m := range measured {
		sign := "<="
		if m.least {
			sign = ">="
		}
		limit := func(x float64) string {
			if math.IsNaN(x) {
				return "-"
			}
			return fmt.Sprintf("%s %.3g", sign, x)
		}
		fmt.Fprintf(&out, "%3d  %-*s  %9s  %9s  %9.3g  %s\n", m.row, widest, m.what, limit(m.must), limit(m.stretch), m.ours, m.verdict())
	}
	return out.String()
}

// errorBars are rows 1 to 6: errors against closed forms and SciPy.
func errorBars(b *testing.B, g *golden) (measured []bar) {
	for _, m := range methods[:2] {
		add := func(row int, what string, must, stretch, ours float64) {
			measured = append(measured, bar{row, fmt.Sprintf("%s, %v", what, m), must, stretch, ours, false})
		}
		fine, _ := decaysError(b, m, 1e-8)
		add(1, "error of circuits in books at 1e-8", 1e-7, 5e-9, fine)
		coarse, _ := decaysError(b, m, 1e-4)
		add(1, "error of circuits in books at 1e-4", 1e-4, 1e-5, coarse)
		var errors []float64
		ofTolerance := 0.0
		for _, tol := range crankTolerances {
			worst, _ := crankError(b, g, transient.Options{Method: m, Tolerance: tol})
			errors = append(errors, worst)
			if tol == 1e-4 || tol == 1e-6 {
				ofTolerance = max(ofTolerance, worst/tol)
			}
		}
		add(2, "error of a crank over tolerance, 1e-4 and 1e-6", 5, 1, ofTolerance)
		add(3, "error of a lamp's inrush at 1e-4", 2e-4, 2e-5, inrushError(b, g, m))
		add(3, "error of melting times at 1e-4", 2e-4, 2e-5, meltError(b, g, m))
		add(3, "error of a hiccup's period at 1e-4", 2e-4, 2e-5, hiccupError(b, g, transient.Options{Method: m, Tolerance: 1e-4}))
		measured = append(measured, bar{4, fmt.Sprintf("errors go with this power of the tolerance, %v", m), 0.8, 0.95, slope(crankTolerances, errors), true})
		apart := 0.0
		for _, row := range g.Hiccups {
			apart = max(apart, relative(period(b, row[0], transient.Options{Method: m, Tolerance: 1e-3}), period(b, row[0], transient.Options{Method: m, Tolerance: 1e-6})))
		}
		add(5, "a hiccup's period at 1e-3 against 1e-6", 1e-3, 1e-4, apart)
		add(6, "energy not accounted for in a crank at 1e-4", 1e-4, 1e-6, energyOff(b, m))
	}
	return measured
}

// eventBars are row 7: of five lock-outs, 100 to 1 mV above the lowest volts of a ripple, those with as many resets as
// SciPy finds, counted until the first with another number.
func eventBars(b *testing.B, g *golden) (measured []bar) {
	for _, m := range methods[:2] {
		right := 0
		for _, row := range g.Resets {
			if resets(b, g.RippleMinimum+row[0], transient.Options{Method: m, Tolerance: 1e-3}) != row[1] {
				break
			}
			right++
		}
		measured = append(measured, bar{7, fmt.Sprintf("lock-outs of five with all resets at 1e-3, %v", m), 4, 5, float64(right), true})
	}
	return measured
}

// workBars are rows 8 and 10: steps and passes, which no load of the machine changes.
func workBars(b *testing.B, g *golden) (measured []bar) {
	for _, c := range g.Cranks {
		r, worst := crankThrough(b, newWiring(c.Nodes/15, kit{}), c.Starter, transient.Options{Tolerance: 1e-4})
		if worst > 1e-4 {
			b.Errorf("%d nodes: a crank at 1e-4 is off by %.2e", c.Nodes, worst)
		}
		steps := float64(r.Stats().Steps) / likeError(c.Radau, worst)
		measured = append(measured, bar{8, fmt.Sprintf("steps of a crank over SciPy's at like error, %d nodes", c.Nodes), 3, 1.5, steps, false})
	}
	_, work := crankError(b, g, transient.Options{Tolerance: 1e-4})
	return append(measured, bar{10, "Newton passes a stage, crank at 1e-4", 2, 1.2, float64(work.Newtons) / float64(work.Stages), false})
}

// timeBars are rows 11 to 13 and 16: what passes, scenes and snapshots cost.
func timeBars(b *testing.B, _ *golden) (measured []bar) {
	folded, _ := raceFolding(b, 3000)
	measured = append(measured, bar{11, "a pass with nodes folded over one with all, 3000 nodes", 0.7, 0.4, folded.Ratio("folded", "all"), false})
	for _, nodes := range sizes {
		passes, snapshots := racePass(b, nodes), raceSnapshot(b, nodes)
		measured = append(measured,
			bar{12, fmt.Sprintf("a pass over its matrix alone, %d nodes", nodes), 4, 2, passes.Ratio("pass", "bare"), false},
			bar{16, fmt.Sprintf("saving a snapshot over a pass, %d nodes", nodes), 0.2, 0.02, snapshots.Ratio("save", "pass"), false})
	}
	for i, limits := range [][2]float64{{100, 700}, {3e4, 3e5}, {5e4, 5e5}, {5, 40}} {
		s := scenes[i]
		r := mustStart(b, s.build().Network, transient.Options{Seed: 42})
		var start transient.Snapshot
		r.Save(&start)
		best := 0.0
		for range rounds {
			perSecond, _ := speed(b, r, &start, s)
			best = max(best, perSecond)
		}
		measured = append(measured, bar{13, fmt.Sprintf("seconds of %s in a second, %d nodes, at 1e-4", s.name, s.nodes), limits[0], limits[1], best, true})
	}
	return measured
}

// repeatBars are rows 14 and 15: allocations, and that a run is the same every time.
func repeatBars(b *testing.B, _ *golden) []bar {
	most := 0.0
	for _, s := range scenes {
		most = max(most, allocations(b, s))
	}
	const seconds = 10
	differ, others := 0, 0
	fired, resets, end := wiggle(b, seconds, transient.Options{Tolerance: 1e-3, Seed: 42})
	if _, _, again := wiggle(b, seconds, transient.Options{Tolerance: 1e-3, Seed: 42}); !slices.Equal(end, again) {
		differ++
	}
	for _, o := range []transient.Options{{Tolerance: 1e-4}, {Tolerance: 1e-5}, {Tolerance: 1e-6}, {Method: transient.ESDIRK32, Tolerance: 1e-3}} {
		o.Seed = 42
		if f, n, _ := wiggle(b, seconds, o); f != fired || n != resets {
			others++
		}
	}
	return []bar{
		{14, "allocations a step", 0, 0, most, false},
		{15, "runs of the same seed that differ in a bit", 0, 0, float64(differ), false},
		{15, fmt.Sprintf("runs at 1e-3 to 1e-6 without the same %d happenings", fired), 0, 0, float64(others), false},
	}
}

// published are the fuses of sheets that tell the ohms, the volts and when they melt.
var published = []struct {
	kind catalog.FuseType
	amps []float64
}{
	{catalog.Miniature, []float64{5, 7.5, 10, 15, 20, 25, 30}}, {catalog.Standard, []float64{40}}, {catalog.Large, []float64{40}},
}

// melts runs a fuse of the catalogue at constant amps until it is through, for so many seconds at most. It gives when it
// was, or +Inf, and the volts across it.
func melts(b *testing.B, f catalog.Fuse, amps, seconds float64) (through, volts float64) {
	b.Helper()
	const kelvin = 273.15 // of 0 °C
	h := f.Heat()
	n := transient.New()
	plus := n.Node()
	n.Source(transient.Ground, plus, 1e5, 1e5/amps) // volts that make little of the fuse's own
	id := n.Element(plus, transient.Ground, &element.Strip{
		NeckOhms: h.NeckOhms, BodyOhms: h.BodyOhms, OhmsPerKelvin: h.OhmsPerKelvin,
		NeckJoulesPerKelvin: h.NeckJoulesPerKelvin, BodyJoulesPerKelvin: h.BodyJoulesPerKelvin,
		NeckToBodyWattsPerKelvin: h.NeckToBodyWattsPerKelvin, BodyToAirWattsPerKelvin: h.BodyToAirWattsPerKelvin,
		MeltKelvin: h.MeltCelsius + kelvin, LatentKelvins: h.LatentKelvins, AirKelvin: 20 + kelvin,
	})
	r := mustStart(b, n, transient.Options{})
	for r.Seconds() < seconds {
		if err := r.Step(seconds); err != nil {
			b.Fatal(err)
		}
		if slices.ContainsFunc(r.Fired(), func(f transient.Firing) bool { return f.Element == id && f.Event == element.StripOpens }) {
			return r.Seconds(), r.Volts(plus)
		}
	}
	return math.Inf(1), r.Volts(plus)
}

// fuseBars are row 17: the fuses of the catalogue against their maker's sheets. At 10 and 20 A the sheet's melting
// integral and its least time at 6 times the rating contradict each other.
func fuseBars(b *testing.B, _ *golden) []bar {
	outside, drop, integral, strict := 0, 0.0, 0.0, 0.0
	for _, of := range published {
		for _, amps := range of.amps {
			f, err := catalog.FuseOf(of.kind, amps)
			if err != nil {
				b.Fatal(err)
			}
			for _, limit := range catalog.MeltTimes(of.kind).Limits {
				until := 2 * limit.MaxSeconds
				if math.IsInf(until, 1) {
					until = limit.MinSeconds
				}
				if through, _ := melts(b, f, limit.OfRating*amps, until); through < limit.MinSeconds || through > limit.MaxSeconds {
					outside++
				}
			}
			_, volts := melts(b, f, amps, 36000)
			drop = max(drop, relative(volts, f.RatedVolts))
			through, _ := melts(b, f, 10*amps, 10)
			off := relative(100*amps*amps*through, f.MeltA2S)
			if integral = max(integral, off); amps != 10 && amps != 20 {
				strict = max(strict, off)
			}
		}
	}
	return []bar{
		{17, "fuses of 5 to 40 A: times outside their band", 0, 0, float64(outside), false},
		{17, "fuses of 5 to 40 A: volts at the rating off by", 0.02, 0.02, drop, false},
		{17, "fuses of 5 to 40 A: melting integral off by", 0.2, 0.2, integral, false},
		{17, "the same without those of 10 and 20 A", 0.2, 0.1, strict, false},
	}
}

// switchingBars are row 18: what a coil does when it is switched off, and steps kept although they were longer than a
// load of constant power can be followed.
func switchingBars(b *testing.B, g *golden) (measured []bar) {
	for _, m := range methods {
		most := 0
		for _, tol := range []float64{1e-2, 1e-3, 1e-4} {
			most = max(most, coilFlips(b, m, tol))
		}
		measured = append(measured, bar{18, fmt.Sprintf("changes of sign of a coil switched off, %v", m), 1, 1, float64(most), false})
	}
	return append(measured, bar{18, "steps kept with a negative pivot", 0, 0, float64(negativePivots(b, g)), false})
}
