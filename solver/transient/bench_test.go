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

// BenchmarkFolding sets a pass of Newton's iteration with the nodes folded where nothing happens against one with all
// nodes: at most 0.7.
func BenchmarkFolding(b *testing.B) {
	for _, nodes := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			folded := turning(b, nodes/15, transient.Options{})
			var all transient.Options
			all.KeepAll()
			whole := turning(b, nodes/15, all)
			for b.Loop() {
				times := harness.Race(rounds, []harness.Contestant{pass("folded", folded), pass("all", whole)})
				b.ReportMetric(times.Ratio("folded", "all"), "folded/all")
				b.ReportMetric(times.Median("folded"), "ns/pass")
			}
			b.ReportMetric(float64(folded.Unknowns()), "unknowns")
		})
	}
}

// BenchmarkPass sets a pass against filling, factoring and solving the same matrix alone: at most 4. pass is one for which
// all is asked and factored anew, run is what the passes of a run take on the average, all the rest of the run included.
func BenchmarkPass(b *testing.B) {
	for _, nodes := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
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
			for b.Loop() {
				times := harness.Race(rounds, []harness.Contestant{
					pass("pass", r), {Name: "bare", Run: r.Bare}, {Name: "run", Run: again, Each: passes},
				})
				b.ReportMetric(times.Ratio("pass", "bare"), "pass/bare")
				b.ReportMetric(times.Ratio("run", "bare"), "run/bare")
			}
		})
	}
}

// BenchmarkSnapshot sets saving and restoring against a pass: at most 0.2.
func BenchmarkSnapshot(b *testing.B) {
	for _, nodes := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			r := turning(b, nodes/15, transient.Options{})
			var s transient.Snapshot
			for b.Loop() {
				times := harness.Race(rounds, []harness.Contestant{
					pass("pass", r),
					{Name: "save", Run: func() { r.Save(&s) }},
					{Name: "restore", Run: func() { r.Restore(&s) }},
				})
				b.ReportMetric(times.Ratio("save", "pass"), "save/pass")
				b.ReportMetric(times.Ratio("restore", "pass"), "restore/pass")
			}
		})
	}
}

// BenchmarkGrowth sets a crank in a harness of ten times the nodes against the smaller one: about 10 is in proportion.
func BenchmarkGrowth(b *testing.B) {
	var contestants []harness.Contestant
	for _, nodes := range []int{30, 300, 3000} {
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
		times := harness.Race(5, contestants)
		b.ReportMetric(times.Ratio("300", "30"), "300/30")
		b.ReportMetric(times.Ratio("3000", "300"), "3000/300")
	}
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
				var stats transient.Stats
				for b.Loop() {
					r.Restore(&start)
					before, began := r.Stats(), processorSeconds()
					mustAdvance(b, r, s.seconds)
					best = max(best, s.seconds/(processorSeconds()-began))
					stats = r.Stats()
					stats.Steps, stats.Newtons, stats.Stages, stats.Fired = stats.Steps-before.Steps, stats.Newtons-before.Newtons, stats.Stages-before.Stages, stats.Fired-before.Fired
				}
				b.ReportMetric(best, "s/s")
				b.ReportMetric(float64(stats.Steps), "steps")
				b.ReportMetric(float64(stats.Newtons), "passes")
				b.ReportMetric(float64(stats.Newtons)/float64(stats.Stages), "passes/stage")
				b.ReportMetric(float64(stats.Fired), "happenings")
			})
		}
	}
}
