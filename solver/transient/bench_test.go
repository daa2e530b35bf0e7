package transient_test

// This file measures, as ratios taken side by side in one run and as simulated seconds a second.

import (
	"fmt"
	"testing"

	harness "underload/solver/internal/harness"

	"underload/solver/transient"
)

const (
	rounds   = 11
	passStep = 1e-4 // seconds times gamma
)

// sizes are nodes of harnesses.
var sizes = []int{30, 300, 3000}

// turning is a harness in the middle of a crank.
func turning(b *testing.B, loads int, o transient.Options) *transient.Run {
	b.Helper()
	r := mustStart(b, newWiring(loads, kit{}).Network, o)
	mustAdvance(b, r, 0.5)
	return r
}

func pass(name string, r *transient.Run) harness.Contestant {
	return harness.Contestant{Name: name, Run: func() { r.Pass(passStep) }}
}

// raceFolding sets a pass of Newton's iteration with the nodes folded where nothing happens against one with all nodes.
func raceFolding(b *testing.B, nodes int) (times harness.Times, unknowns int) {
	b.Helper()
	folded := turning(b, nodes/15, transient.Options{})
	var all transient.Options
	all.KeepAll()
	times = harness.Race(rounds, pass("folded", folded), pass("all", turning(b, nodes/15, all)))
	return times, folded.Unknowns()
}

// racePass sets a pass against filling, factoring and solving the same matrix alone. pass is one for which all is asked
// and factored anew, run is what the passes of a run take on the average, all the rest of the run included.
func racePass(b *testing.B, nodes int) harness.Times {
	b.Helper()
	r := turning(b, nodes/15, transient.Options{})
	run := turning(b, nodes/15, transient.Options{})
	var start transient.Snapshot
	run.Save(&start)
	before := run.Stats().Newtons
	again := func() {
		run.Restore(&start)
		mustAdvance(b, run, 0.7)
	}
	again()
	passes := run.Stats().Newtons - before
	return harness.Race(rounds, pass("pass", r), harness.Contestant{Name: "bare", Run: r.Bare}, harness.Contestant{Name: "run", Run: again, Each: passes})
}

// raceSnapshot sets saving and restoring against a pass.
func raceSnapshot(b *testing.B, nodes int) harness.Times {
	b.Helper()
	r := turning(b, nodes/15, transient.Options{})
	var s transient.Snapshot
	r.Save(&s)
	return harness.Race(rounds, pass("pass", r),
		harness.Contestant{Name: "save", Run: func() { r.Save(&s) }},
		harness.Contestant{Name: "restore", Run: func() { r.Restore(&s) }})
}

// benchmarkSizes runs a benchmark for harnesses of three sizes.
func benchmarkSizes(b *testing.B, measure func(b *testing.B, nodes int)) {
	for _, nodes := range sizes {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			for b.Loop() {
				measure(b, nodes)
			}
		})
	}
}

// BenchmarkFolding: at most 0.7.
func BenchmarkFolding(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, nodes int) {
		times, unknowns := raceFolding(b, nodes)
		b.ReportMetric(times.Ratio("folded", "all"), "folded/all")
		b.ReportMetric(times.Median("folded"), "ns/pass")
		b.ReportMetric(float64(unknowns), "unknowns")
	})
}

// BenchmarkPass: at most 4.
func BenchmarkPass(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, nodes int) {
		times := racePass(b, nodes)
		b.ReportMetric(times.Ratio("pass", "bare"), "pass/bare")
		b.ReportMetric(times.Ratio("run", "bare"), "run/bare")
	})
}

// BenchmarkSnapshot: at most 0.2.
func BenchmarkSnapshot(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, nodes int) {
		times := raceSnapshot(b, nodes)
		b.ReportMetric(times.Ratio("save", "pass"), "save/pass")
		b.ReportMetric(times.Ratio("restore", "pass"), "restore/pass")
	})
}

// BenchmarkGrowth sets a crank in a harness of ten times the nodes against the smaller one: about 10 is in proportion.
func BenchmarkGrowth(b *testing.B) {
	var contestants []harness.Contestant
	for _, nodes := range sizes {
		w := newWiring(nodes/15, kit{})
		var start transient.Snapshot
		r := mustStart(b, w.Network, transient.Options{Tolerance: 1e-4})
		r.Save(&start)
		contestants = append(contestants, harness.Contestant{Name: fmt.Sprint(nodes), Run: func() {
			r.Restore(&start)
			mustAdvance(b, r, crankEnds)
		}})
	}
	for b.Loop() {
		times := harness.Race(5, contestants...)
		b.ReportMetric(times.Ratio("300", "30"), "300/30")
		b.ReportMetric(times.Ratio("3000", "300"), "3000/300")
	}
}

// speed lets a scene go on once from its start, and gives simulated seconds a second of the processor, and the work.
func speed(b *testing.B, r *transient.Run, start *transient.Snapshot, s scene) (perSecond float64, work transient.Stats) {
	b.Helper()
	r.Restore(start)
	before, began := r.Stats(), harness.ProcessorSeconds()
	mustAdvance(b, r, s.seconds)
	perSecond = s.seconds / (harness.ProcessorSeconds() - began)
	work = r.Stats()
	work.Steps, work.Newtons, work.Stages, work.Fired = work.Steps-before.Steps, work.Newtons-before.Newtons, work.Stages-before.Stages, work.Fired-before.Fired
	return perSecond, work
}

// BenchmarkScenes gives simulated seconds a second of the processor, and the work done.
func BenchmarkScenes(b *testing.B) {
	for _, s := range scenes {
		for _, o := range []transient.Options{
			{Method: transient.ESDIRK43, Tolerance: 1e-4}, {Method: transient.ESDIRK43, Tolerance: 1e-3}, {Method: transient.ESDIRK32, Tolerance: 1e-3},
		} {
			b.Run(fmt.Sprintf("%s/%v at %.0e", s.name, o.Method, o.Tolerance), func(b *testing.B) {
				o.Seed = 42
				r := mustStart(b, s.build().Network, o)
				var start transient.Snapshot
				r.Save(&start)
				best := 0.0
				var work transient.Stats
				for b.Loop() {
					var perSecond float64
					perSecond, work = speed(b, r, &start, s)
					best = max(best, perSecond)
				}
				b.ReportMetric(best, "s/s")
				b.ReportMetric(float64(work.Steps), "steps")
				b.ReportMetric(float64(work.Newtons), "passes")
				b.ReportMetric(float64(work.Newtons)/float64(work.Stages), "passes/stage")
				b.ReportMetric(float64(work.Fired), "happenings")
			})
		}
	}
}
