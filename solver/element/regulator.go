package element

// This file holds the generator with its regulator.

import (
	"math"

	"underload/solver/transient"
)

const (
	machineVolts     = 3.5   // by which volts sag at the limit before the regulator has answered; common practice, no source
	regulatorSeconds = 0.1   // in which it answers; common practice, no source
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
// so that a load makes its volts sag and come back. Its one mark is the share of its strength that its speed allows, 1 at
// full speed and 0 while it stands.
type Regulator struct {
	Volts, Ohms, LimitAmps  float64
	MachineOhms, LagSeconds float64
	Turning                 float64 // the mark at the start
}

// NewRegulator returns a generator of which only what it holds and its limit are known, at full speed from the start. At
// rest it does what device.LimitedSource with OneWay does.
func NewRegulator(volts, ohms, limitAmps float64) *Regulator {
	return &Regulator{Volts: volts, Ohms: ohms, LimitAmps: limitAmps, MachineOhms: math.Max(machineVolts/limitAmps, ohms), LagSeconds: regulatorSeconds, Turning: 1}
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

// given is the amps that come out where the machine makes over more than there is outside, and their slope; share is
// the mark. A slow machine is weaker in all: what it gives is that share of what it would give at full speed.
func (g *Regulator) given(over, share float64) (amps, perVolt float64) {
	size, slope := above(over+blockVolts, 2*blockVolts)
	amps = size / g.MachineOhms
	// The limit is rounded off in the same way, from below: what is over it is cut.
	corner := 2 * limitShare * g.LimitAmps
	cut, cutSlope := above(amps-g.LimitAmps+corner/2, corner)
	return share * (amps - cut), share * slope * (1 - cutSlope) / g.MachineOhms
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
		amps, _ := g.given(middle-volts, g.Turning)
		if wants, _ := g.wants(amps, g.Turning); wants > middle {
			low = middle
		} else {
			high = middle
		}
	}
	states[0] = (low + high) / 2
}

// wants is what the regulator asks the machine for, and its slope by amps.
func (g *Regulator) wants(amps, share float64) (volts, perAmp float64) {
	if share <= 0 {
		return 0, 0
	}
	perAmp = g.MachineOhms/share - g.Ohms
	return g.Volts + perAmp*amps, perAmp
}

// Rates gives the current and how fast the machine follows its regulator.
func (g *Regulator) Rates(at *transient.Point, rates *transient.Rates) {
	amps, slope := g.given(at.States[0]-at.Volts, at.Marks[0])
	rates.Amps = leakSiemens*at.Volts - amps
	rates.PerVolt = leakSiemens + slope
	rates.PerState[0] = -slope
	wants, perAmp := g.wants(amps, at.Marks[0])
	rates.Rate[0] = (wants - at.States[0]) / g.LagSeconds
	rates.RatePerV[0] = -perAmp * slope / g.LagSeconds
	rates.RatePerX[0][0] = (perAmp*slope - 1) / g.LagSeconds
}

// Limit walks through the volts at which current may depend on them, which is a span of MachineOhms times LimitAmps
// somewhere between the ends below, in strides of half that span. To both sides of the span, limit and block, it hardly
// does, and an iteration that leapt over it would hop from one side to the other for ever.
func (g *Regulator) Limit(from, to float64) float64 {
	span := g.MachineOhms * g.LimitAmps
	low, high := -span, g.Volts+span
	switch {
	case to > from && from < high:
		return math.Min(to, math.Max(from, low)+span/2)
	case to < from && from > low:
		return math.Max(to, math.Min(from, high)-span/2)
	}
	return to
}

// Power is what comes out, and what leaks.
func (g *Regulator) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	amps, _ := g.given(at.States[0]-at.Volts, at.Marks[0])
	return leakSiemens * at.Volts * at.Volts, at.Volts * amps, 0
}
