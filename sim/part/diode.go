package part

// This file is the diode and the light-emitting diode with its resistor.

import (
	"math"

	"underload/circuit"
	"underload/solver"
	"underload/solver/device"
)

func newDiode(p *circuit.Part, w *Place) Inner {
	law := Junction(p.Value("drops"))
	return newTwoPole(w, func(*State) solver.Law { return law })
}

func newLED(p *circuit.Part, w *Place) Inner {
	law := LED(p.Value("draws"))
	return newTwoPole(w, func(*State) solver.Law { return law })
}

// LED is a light-emitting diode with a series resistor that makes it draw the given amps at 12 V. It drops 2 V, as red
// ones do (common practice, no source).
func LED(ampsAt12V float64) device.Junction {
	const forwardVolts, ideality, thermalVolts = 2.0, 2.0, 0.02585
	return device.Junction{
		SaturationAmps: ampsAt12V * math.Exp(-forwardVolts/(ideality*thermalVolts)),
		Ideality:       ideality, ThermalVolts: thermalVolts,
		SeriesOhms: (12 - forwardVolts) / ampsAt12V,
	}
}
