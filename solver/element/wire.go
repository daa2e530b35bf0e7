package element

// This file holds the wire that warms up as a whole.

import (
	"math"

	"underload/solver/transient"
)

// Wire is a length of copper wire with one temperature: C T' = I^2 R(T) - G (T - air). What its insulation stands is for
// the reader of the state to say; it opens where copper melts.
type Wire struct {
	overGap
	Ohms            float64 // at 20 degC
	JoulesPerKelvin float64
	WattsPerKelvin  float64
	AirKelvin       float64 // at the start
}

// Marks of a Wire. WireAirKelvin may be changed during a run.
const (
	WireOpen = iota // 1: melted
	WireAirKelvin
)

// Check reports the first parameter that makes no wire.
func (w *Wire) Check() error {
	return first(positive("wire", "Ohms", w.Ohms), positive("wire", "JoulesPerKelvin", w.JoulesPerKelvin),
		positive("wire", "WattsPerKelvin", w.WattsPerKelvin), positive("wire", "AirKelvin", w.AirKelvin))
}

// Size is one state, kelvin; the marks above; and one event: that it melts.
func (w *Wire) Size() transient.Size {
	return transient.Size{States: 1, Marks: 2, Events: 1, Unit: [transient.MaxStates]float64{0.01}}
}

// Start has it as warm as volts keep it, which a quadratic tells, or melted long ago.
func (w *Wire) Start(volts float64, states, marks []float64) {
	marks[WireOpen], marks[WireAirKelvin] = 0, w.AirKelvin
	// With s = R(T)/R(20 degC): G (s - air's s)/perKelvin = V^2/(R s).
	cold := 1 + copperPerKelvin*(w.AirKelvin-coldKelvin)
	warm := (cold + math.Sqrt(cold*cold+4*copperPerKelvin*volts*volts/(w.Ohms*w.WattsPerKelvin))) / 2
	states[0] = coldKelvin + (warm-1)/copperPerKelvin
	if states[0] >= copperMeltKelvin {
		marks[WireOpen], states[0] = 1, w.AirKelvin
	}
}

// Rates gives the current and the balance of heat.
func (w *Wire) Rates(at *transient.Point, rates *transient.Rates) {
	rates.Rate[0] = -w.WattsPerKelvin * (at.States[0] - at.Marks[WireAirKelvin]) / w.JoulesPerKelvin
	rates.RatePerX[0][0] = -w.WattsPerKelvin / w.JoulesPerKelvin
	if at.Marks[WireOpen] != 0 {
		setGap(at, rates)
		return
	}
	siemens := 1 / (w.Ohms * (1 + copperPerKelvin*(at.States[0]-coldKelvin)))
	amps := at.Volts * siemens
	rates.Amps, rates.PerVolt, rates.PerState[0] = amps, siemens, -amps*siemens*w.Ohms*copperPerKelvin
	rates.Rate[0] += at.Volts * amps / w.JoulesPerKelvin
	rates.RatePerV[0] = 2 * amps / w.JoulesPerKelvin
	rates.RatePerX[0][0] += at.Volts * rates.PerState[0] / w.JoulesPerKelvin
}

// Events are that it melts.
func (w *Wire) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[WireOpen] == 0 {
		distance[0] = at.States[0]/copperMeltKelvin - 1
	}
}

// Fire opens it.
func (w *Wire) Fire(_ int, at *transient.Point) { at.Marks[WireOpen] = 1 }

// Power is what goes to the air, and the heat it holds.
func (w *Wire) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	lostWatts = w.WattsPerKelvin * (at.States[0] - at.Marks[WireAirKelvin])
	if at.Marks[WireOpen] != 0 {
		amps, _ := gap(at.Volts)
		lostWatts += amps * at.Volts
	}
	return lostWatts, 0, w.JoulesPerKelvin * at.States[0]
}
