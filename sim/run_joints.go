package sim

// This file is the joints of a run that are bad: they grow hot, and may come and go when they are shaken.

import (
	"underload/circuit"
	"underload/sim/live"
	"underload/solver"
)

// joint is the contact of a bad terminal.
func (a *age) joint(b solver.Branch, t *circuit.Terminal) { a.plain(b) }

func (a *age) jointHeat(t *circuit.Terminal) reader {
	celsius := a.w.ambient
	return func(live.View) float64 { return celsius }
}

func (a *age) wireHeat(w *circuit.Wire) reader {
	celsius := a.w.ambient
	return func(live.View) float64 { return celsius }
}
