package element

// This file holds the generator with its regulator.

import (
	"math"

	"underload/solver/transient"
)

const (
	machineOhms      = 0.05  // by which volts sag before the regulator has answered
	regulatorSeconds = 0.1   // in which it answers
	blockVolts       = 0.005 // half the corner at which the rectifier begins to conduct
	limitShare       = 0.05  // half the corner at the limit, as a share of it
	leakSiemens      = 1e-6  // of the rectifier in reverse
)

// Regulator is a generator whose regulator holds Volts less Ohms times its amps, up to LimitAmps; more it does not give,
// and its rectifier lets nothing back in. The first terminal is plus. Its state is what the machine makes inside, in
// volts. Those stand behind MachineOhms and follow what the regulator asks for with a lag:
//
//	dx/dt = (Volts + (MachineOhms - Ohms) amps - x)/LagSeconds
//
// so that a load makes its volts sag and come back. Its one mark is the share of LimitAmps that its speed allows, 1 at
// full speed and 0 while it stands.
type Regulator struct {
	Volts, Ohms, LimitAmps  float64
	MachineOhms, LagSeconds float64 // 50 mohm and 0.1 s by NewRegulator: common practice, no source
	Turning                 float64 // the mark at the start
}

// NewRegulator returns a generator of which only what it holds and its limit are known, at full speed from the start. At
// rest it does what device.LimitedSource with OneWay does.
func NewRegulator(volts, ohms, limitAmps float64) *Regulator {
	return &Regulator{Volts: volts, Ohms: ohms, LimitAmps: limitAmps, MachineOhms: math.Max(machineOhms, ohms), LagSeconds: regulatorSeconds, Turning: 1}
}

// Check reports the first parameter that makes no generator.
func (g *Regulator) Check() error {
	const name = "generator"
	return first(
		positive(name, "Volts", g.Volts),
		positive(name, "Ohms", g.Ohms),
		positive(name, "LimitAmps", g.LimitAmps),
		positive(name, "LagSeconds", g.LagSeconds),
		notNegative(name, "MachineOhms less Ohms", g.MachineOhms-g.Ohms),
		notNegative(name, "Turning", g.Turning),
	)
}

// Size is one state, volts inside, and the share of the limit.
func (g *Regulator) Size() transient.Size {
	return transient.Size{States: 1, Marks: 1, Unit: [transient.MaxStates]float64{1e-3}}
}

// given is the amps that come out where the machine makes over more than there is outside, and their slope.
func (g *Regulator) given(over, limit float64) (amps, perVolt float64) {
	size, slope := above(over+blockVolts, 2*blockVolts)
	amps = size / g.MachineOhms
	// The limit is rounded off in the same way, from below: amps - limit is cut where it passes 0.
	corner := 2 * limitShare * limit
	if corner == 0 {
		return 0, 0
	}
	cut, cutSlope := above(amps-limit+corner/2, corner)
	return amps - cut, slope * (1 - cutSlope) / g.MachineOhms
}

// Start has the regulator at rest with volts outside.
func (g *Regulator) Start(volts float64, states, marks []float64) {
	marks[0] = g.Turning
	if g.Turning == 0 {
		states[0] = 0
		return
	}
	low, high := math.Min(volts, 0)-g.Volts, math.Max(volts, g.Volts)+g.MachineOhms*g.LimitAmps
	for range 100 {
		middle := (low + high) / 2
		amps, _ := g.given(middle-volts, g.LimitAmps*g.Turning)
		if g.wants(amps) > middle {
			low = middle
		} else {
			high = middle
		}
	}
	states[0] = (low + high) / 2
}

// wants is what the regulator asks the machine for.
func (g *Regulator) wants(amps float64) float64 { return g.Volts + (g.MachineOhms-g.Ohms)*amps }

// Rates gives the current and how fast the machine follows its regulator.
func (g *Regulator) Rates(at *transient.Point, rates *transient.Rates) {
	amps, slope := g.given(at.States[0]-at.Volts, g.LimitAmps*at.Marks[0])
	rates.Amps = leakSiemens*at.Volts - amps
	rates.PerVolt = leakSiemens + slope
	rates.PerState[0] = -slope
	wants, perAmp := 0.0, 0.0
	if at.Marks[0] > 0 {
		wants, perAmp = g.wants(amps), g.MachineOhms-g.Ohms
	}
	rates.Rate[0] = (wants - at.States[0]) / g.LagSeconds
	rates.RatePerV[0] = -perAmp * slope / g.LagSeconds
	rates.RatePerX[0][0] = (perAmp*slope - 1) / g.LagSeconds
}

// Limit stops a step that would cross the volts at which it regulates, between the limit and the rectifier's block: in
// both its current hardly depends on volts, and an iteration could hop between them for ever.
func (g *Regulator) Limit(from, to float64) float64 {
	if (from-g.Volts)*(to-g.Volts) < 0 {
		return g.Volts
	}
	return to
}

// Power is what comes out, and what leaks.
func (g *Regulator) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	amps, _ := g.given(at.States[0]-at.Volts, g.LimitAmps*at.Marks[0])
	return leakSiemens * at.Volts * at.Volts, at.Volts * amps, 0
}
