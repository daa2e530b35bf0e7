package sim

// This file is what a run costs beside the engine that steps it.

import (
	"testing"
	"time"

	"underload/solver/transient"
)

// BenchmarkRunBesideItsEngine shakes a connector for two seconds and reports, as a ratio measured in the same process, the
// time with all that a run adds (what a person notices, warmth, snapshots) over that of the bare engine on the same
// network, and how many simulated seconds a second brings.
func BenchmarkRunBesideItsEngine(b *testing.B) {
	bench := benchOf(b, "mist-blower", "C12.7 spread 0.05 ohm")
	must(b, bench.Set("KEY=run"), bench.Set("SW3=on"))
	const seconds = 2
	var whole, bare time.Duration
	for b.Loop() {
		r, err := bench.Run(RunOptions{Seed: 1})
		must(b, err)
		must(b, r.Do("wiggle C12"))
		var s transient.Snapshot
		r.age.run.Save(&s)
		began := time.Now()
		must(b, r.Advance(seconds, nil))
		whole += time.Since(began)
		r.age.run.Restore(&s)
		began = time.Now()
		must(b, r.age.run.Advance(seconds))
		bare += time.Since(began)
	}
	b.ReportMetric(float64(whole)/float64(bare), "run/engine")
	b.ReportMetric(seconds*float64(b.N)/whole.Seconds(), "simulated-s/s")
}
