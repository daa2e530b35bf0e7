package element

// This file holds what an open gap conducts.

import (
	"math"

	"underload/solver/transient"
)

const (
	openSiemens = 1e-9 // of dirt and damp across it; common practice, no source
	sparkVolts  = 330  // below this no gap in air breaks down: 327 V (Paschen's minimum, from memory)
	sparkOhms   = 10   // of the discharge beyond, so that a coil that is cut off does not reach millions of volts; no source
	sparkWidth  = 10.0 // volts over which the discharge sets in
)

// coldKelvin is 20 degrees Celsius, at which resistances are stated.
const coldKelvin = 293.15

// gap gives the current over an open gap, and its slope.
func gap(volts float64) (amps, siemens float64) {
	beyond, slope := above(math.Abs(volts)-sparkVolts, sparkWidth)
	return openSiemens*volts + math.Copysign(beyond, volts)/sparkOhms, openSiemens + slope/sparkOhms
}

// setGap makes the current of a point that of an open gap.
func setGap(at *transient.Point, rates *transient.Rates) { rates.Amps, rates.PerVolt = gap(at.Volts) }
