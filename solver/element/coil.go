package element

// This file holds the coil with its winding.

import "underload/solver/transient"

// Coil is a winding with resistance and inductance in series: V = R I + L dI/dt. Its state is its amps.
type Coil struct {
	Ohms, Henries float64
}

// Check reports the first parameter that makes no coil.
func (c Coil) Check() error {
	return first(positive("coil", "Ohms", c.Ohms), positive("coil", "Henries", c.Henries))
}

// Size is one state: amps.
func (c Coil) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{1e-3}}
}

// Start has the amps that its resistance lets through.
func (c Coil) Start(volts float64, states, _ []float64) { states[0] = volts / c.Ohms }

// Rates gives its current, which is its state.
func (c Coil) Rates(at *transient.Point, rates *transient.Rates) {
	amps := at.States[0]
	rates.Amps = amps
	rates.PerState[0] = 1
	rates.Rate[0] = (at.Volts - c.Ohms*amps) / c.Henries
	rates.RatePerV[0] = 1 / c.Henries
	rates.RatePerX[0][0] = -c.Ohms / c.Henries
}

// Power is the heat of the winding, and half of henries times amps squared in its field.
func (c Coil) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	square := at.States[0] * at.States[0]
	return c.Ohms * square, 0, c.Henries * square / 2
}
