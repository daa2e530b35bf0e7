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

// Breakdown lets current pass beyond some volts, either way round, behind a resistance and with its corner rounded, so
// that a coil's current has somewhere to go whatever is opened or pulled.
type Breakdown struct{ Volts, Ohms, CornerVolts float64 }

// air is an open gap between contacts. Its ohms and corner are estimates, no source.
var air = Breakdown{AirVolts, 10, 2}

// At is its current, and its slope.
func (b Breakdown) At(volts float64) (amps, siemens float64) {
	over := (math.Abs(volts) - b.Volts) / b.CornerVolts
	switch {
	case over < -40:
		return 0, 0
	case over > 40:
		return math.Copysign(over*b.CornerVolts/b.Ohms, volts), 1 / b.Ohms
	}
	e := math.Exp(over)
	return math.Copysign(math.Log1p(e)*b.CornerVolts/b.Ohms, volts), e / (1 + e) / b.Ohms
}

// Limit lets every step be: its corner is the only bend.
func (Breakdown) Limit(_, to float64) float64 { return to }

// gap gives the current over an open gap in air, and its slope.
func gap(volts float64) (amps, siemens float64) {
	amps, siemens = air.At(volts)
	return amps + openSiemens*volts, siemens + openSiemens
}

// overGap is part of what may open to a gap.
type overGap struct{}

// Bends is near the volts that break it down.
func (overGap) Bends(from, to float64) bool {
	return math.Max(math.Abs(from), math.Abs(to)) > AirVolts-40*air.CornerVolts
}

// setGap makes the current of a point that of an open gap.
func setGap(at *transient.Point, rates *transient.Rates) { rates.Amps, rates.PerVolt = gap(at.Volts) }
