package element

// This file holds what an open gap conducts.

import (
	"math"

	"underload/solver/transient"
)

// AirVolts is what an open gap bears: the least that breaks down air is 327 V, whatever its width (Paschen's minimum,
// from memory).
const AirVolts = 330

const openSiemens = 1e-9 // of dirt and damp across an open gap; common practice, no source

// coldKelvin is 20 degrees Celsius, at which resistances are stated.
const coldKelvin = 293.15

// Breakdown lets current pass beyond some volts, either way round. It has half a volt to round its corner and a tenth of
// an ohm behind it (no source), so that a coil's current has somewhere to go whatever is opened or pulled.
type Breakdown struct{ Volts float64 }

const breakdownOhms, breakdownCorner = 0.1, 0.5

// At is its current, and its slope.
func (b Breakdown) At(volts float64) (amps, siemens float64) {
	over := (math.Abs(volts) - b.Volts) / breakdownCorner
	switch {
	case over < -40:
		return 0, 0
	case over > 40:
		return math.Copysign(over*breakdownCorner/breakdownOhms, volts), 1 / breakdownOhms
	}
	e := math.Exp(over)
	return math.Copysign(math.Log1p(e)*breakdownCorner/breakdownOhms, volts), e / (1 + e) / breakdownOhms
}

// Limit lets every step be: its corner is the only bend.
func (Breakdown) Limit(_, to float64) float64 { return to }

// gap gives the current over an open gap in air, and its slope.
func gap(volts float64) (amps, siemens float64) {
	amps, siemens = Breakdown{AirVolts}.At(volts)
	return amps + openSiemens*volts, siemens + openSiemens
}

// setGap makes the current of a point that of an open gap.
func setGap(at *transient.Point, rates *transient.Rates) { rates.Amps, rates.PerVolt = gap(at.Volts) }
