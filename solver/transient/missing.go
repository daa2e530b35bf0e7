package transient

// This file holds an instant of a run against Kirchhoff's current law.

import "math"

// Missing is the largest current that Kirchhoff's current law misses at any node, and the largest there is anywhere: a
// check of the run, in amperes. What leaks across elements counts as current; joined nodes count as one.
func (w *View) Missing() (worst, most float64) {
	r := w.run
	left, folded := make([]float64, r.count+1), make([]float64, len(r.left))
	at := func(n Node) *float64 {
		switch u := r.unknown[n]; {
		case u < 0:
			return &left[r.count]
		case r.left[u] < 0:
			return &folded[u]
		default:
			return &left[r.left[u]]
		}
	}
	for i, e := range w.lin.edges {
		if amps := w.Amps(Edge(i)); e.ohms > 0 {
			*at(e.a) += amps
			*at(e.b) -= amps
			most = max(most, math.Abs(amps))
		}
	}
	for i, m := range r.members {
		amps := w.ElementAmps(ID(i)) + leakSiemens*w.ElementVolts(ID(i))
		left[m.a] += amps
		left[m.b] -= amps
		most = max(most, math.Abs(amps))
	}
	for _, amps := range left[:r.count] {
		worst = max(worst, math.Abs(amps))
	}
	for u, amps := range folded {
		if r.left[u] < 0 {
			worst = max(worst, math.Abs(amps))
		}
	}
	return worst, most
}
