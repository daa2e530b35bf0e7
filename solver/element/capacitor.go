package element

// This file holds the ideal capacitor.

import "underload/solver/transient"

// Capacitor holds charge: amps are farads times the change of volts. Its state is its volts. A run treats it natively,
// by Farads, because a capacitor behind a tiny resistance would lose digits; so it is never asked for rates.
type Capacitor struct {
	farads float64
}

// NewCapacitor returns a capacitor.
func NewCapacitor(farads float64) Capacitor { return Capacitor{farads} }

// Check reports a capacity that makes no capacitor.
func (c Capacitor) Check() error { return positive("capacitor", "farads", c.farads) }

// Farads is its capacity.
func (c Capacitor) Farads() float64 { return c.farads }

// Size is one state: volts.
func (c Capacitor) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{1e-5}}
}

// Start has it charged to volts.
func (c Capacitor) Start(volts float64, states, _ []float64) { states[0] = volts }

// Rates panics: its current does not follow from volts and state.
func (c Capacitor) Rates(*transient.Point, *transient.Rates) {
	panic("element: a capacitor has no rates; see Farads")
}

// Power is only what is stored: half of farads times volts squared.
func (c Capacitor) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	return 0, 0, c.farads * at.States[0] * at.States[0] / 2
}
