package element

// This file holds wire that warms up, whole or hanging by a few strands.

import (
	"math"

	"underload/solver/transient"
)

// Copper. Resistivity: 100 % IACS (IEC 60028, read second-hand); the rest from memory.
const (
	copperOhmMM2PerM   = 1.0 / 58 // at 20 degC
	copperWattsPerMK   = 390
	copperJoulesPerM3K = 3.45e6
	copperMeltKelvin   = 1357.8
)

// strandLoss is what a bare thin strand in air loses from its surface, in W/(m2 K). It is what the textbook rule for the
// current that melts a copper wire in air, 80 A times (diameter in mm)^1.5 (from memory), comes to between 20 degC and
// the melting point: I^2 rho/(pi d^2/4) = loss pi d dT, the same for every diameter.
const strandLoss = 80 * 80 * 1e9 * 4 * copperOhmMM2PerM * 1e-6 * (1 + copperPerKelvin*(copperMeltKelvin-coldKelvin)) /
	(math.Pi * math.Pi * (copperMeltKelvin - coldKelvin))

// Neck is a copper wire of which a short length hangs by a few strands. The neck and the rest of the wire each have a
// temperature, n and w, with R each part's ohms at it:
//
//	Cn n' = I^2 Rneck - K (n - w) - Gn (n - air)
//	Cw w' = I^2 Rwire + K (n - w) - Gw (w - air)
//
// Where either comes to the melting point of copper it opens. What the insulation stands is for the reader of the state
// to say. Air and neck may be changed during a run.
type Neck struct {
	overGap
	WireOhms, NeckOhms                               float64 // at 20 degC
	WireJoulesPerKelvin, NeckJoulesPerKelvin         float64
	NeckToWireWattsPerKelvin                         float64 // K
	WireToAirWattsPerKelvin, NeckToAirWattsPerKelvin float64
	AirKelvin                                        float64 // at the start
}

// States of a Neck.
const (
	NeckKelvin = iota // of the hottest place
	NeckWireKelvin
)

// Marks of a Neck.
const (
	NeckOpen = iota // 1: melted
	NeckAirKelvin
)

// NewNeck returns a wire of wireOhms at 20 degC, which holds wireJoulesPerKelvin and loses wireWattsPerKelvin, of which a
// length in metres hangs by some strands of a diameter in mm.
//
// The strands conduct heat to both ends, which makes the hottest place P L/(8 k A) hotter than those for a power P, and
// dies away with L^2/(pi^2 k/c): K = 8 k A/L and Cn = 8/pi^2 of the strands' heat capacity (the bar with ends held, in
// any book on the conduction of heat). In the open the strands also lose heat to the air.
func NewNeck(wireOhms, wireJoulesPerKelvin, wireWattsPerKelvin, airKelvin float64, strands int, strandMM, metres float64) *Neck {
	areaMM2 := float64(strands) * math.Pi / 4 * strandMM * strandMM
	return &Neck{
		WireOhms: wireOhms, NeckOhms: copperOhmMM2PerM * metres / areaMM2,
		WireJoulesPerKelvin:      wireJoulesPerKelvin,
		NeckJoulesPerKelvin:      8 / (math.Pi * math.Pi) * copperJoulesPerM3K * areaMM2 * 1e-6 * metres,
		NeckToWireWattsPerKelvin: 8 * copperWattsPerMK * areaMM2 * 1e-6 / metres,
		WireToAirWattsPerKelvin:  wireWattsPerKelvin,
		NeckToAirWattsPerKelvin:  strandLoss * math.Pi * strandMM * 1e-3 * metres * float64(strands),
		AirKelvin:                airKelvin,
	}
}

// Check reports the first parameter that makes no wire.
func (n *Neck) Check() error {
	return first(
		positive("neck", "WireOhms", n.WireOhms), positive("neck", "NeckOhms", n.NeckOhms),
		positive("neck", "WireJoulesPerKelvin", n.WireJoulesPerKelvin), positive("neck", "NeckJoulesPerKelvin", n.NeckJoulesPerKelvin),
		positive("neck", "NeckToWireWattsPerKelvin", n.NeckToWireWattsPerKelvin),
		positive("neck", "WireToAirWattsPerKelvin", n.WireToAirWattsPerKelvin),
		notNegative("neck", "NeckToAirWattsPerKelvin", n.NeckToAirWattsPerKelvin), positive("neck", "AirKelvin", n.AirKelvin),
	)
}

// Size is the states and marks above, and one event: that it melts.
func (n *Neck) Size() transient.Size {
	return transient.Size{States: 2, Marks: 2, Events: 1, Unit: [transient.MaxStates]float64{0.01, 0.01}}
}

func (n *Neck) twin(marks []float64) twin {
	return twin{
		smallOhms: n.NeckOhms, largeOhms: n.WireOhms, perKelvin: copperPerKelvin,
		smallJoules: n.NeckJoulesPerKelvin, largeJoules: n.WireJoulesPerKelvin,
		between: n.NeckToWireWattsPerKelvin, smallToAir: n.NeckToAirWattsPerKelvin, largeToAir: n.WireToAirWattsPerKelvin,
		airKelvin: marks[NeckAirKelvin],
	}
}

// Start has it as warm as volts keep it, or melted long ago.
func (n *Neck) Start(volts float64, states, marks []float64) {
	marks[NeckOpen], marks[NeckAirKelvin] = 0, n.AirKelvin
	w := n.twin(marks)
	neck, wire, holds := w.rest(volts, copperMeltKelvin)
	states[NeckKelvin], states[NeckWireKelvin] = neck, wire
	if !holds {
		marks[NeckOpen], states[NeckKelvin], states[NeckWireKelvin] = 1, n.AirKelvin, n.AirKelvin
	}
}

// Rates gives the current through both parts, and their balances of heat.
func (n *Neck) Rates(at *transient.Point, rates *transient.Rates) {
	w := n.twin(at.Marks)
	if at.Marks[NeckOpen] != 0 {
		w.cooling(at, at.States[NeckKelvin], at.States[NeckWireKelvin], rates)
		return
	}
	w.rates(at.Volts, at.States[NeckKelvin], at.States[NeckWireKelvin], rates)
}

// Events are that it melts.
func (n *Neck) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[NeckOpen] == 0 {
		distance[0] = max(at.States[NeckKelvin], at.States[NeckWireKelvin])/copperMeltKelvin - 1
	}
}

// Fire opens it.
func (n *Neck) Fire(_ int, at *transient.Point) { at.Marks[NeckOpen] = 1 }

// Power is what goes to the air, and the heat it holds.
func (n *Neck) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	w := n.twin(at.Marks)
	neck, wire := at.States[NeckKelvin], at.States[NeckWireKelvin]
	lostWatts = w.lostWatts(neck, wire)
	if at.Marks[NeckOpen] != 0 {
		amps, _ := gap(at.Volts)
		lostWatts += amps * at.Volts
	}
	return lostWatts, 0, n.NeckJoulesPerKelvin*neck + n.WireJoulesPerKelvin*wire
}
