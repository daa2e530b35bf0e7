package element

// This file holds the coil that moves a contact.

import (
	"math"

	"underload/solver/transient"
)

// Armature is a coil, V = R I + L dI/dt, and the armature that it pulls in at PullInAmps and lets go at ReleaseAmps,
// whichever way the current flows. The contacts that hang on it move some time after, and are Followers: they read its
// marks. What suppresses its voltage when it is cut off is an element of its own.
//
// A contact that makes closes InSeconds after pulling in, and opens OutSeconds after letting go. One that breaks opens
// FlightSeconds before the other closes; while the armature flies neither is made. Bounces is how often the contact that
// makes opens again after it first closed: for BounceSeconds, each time half as long as the last, and closed before each
// for as long. The coil's inductance does not change as the armature moves.
type Armature struct {
	Ohms, Henries           float64 // of copper, at 20 degC
	Kelvin                  float64 // of the coil, at the start
	PullInAmps, ReleaseAmps float64
	InSeconds, OutSeconds   float64
	FlightSeconds           float64
	Bounces                 int
	BounceSeconds           float64
}

// copperPerKelvin is how copper's ohms rise from 20 degC (IEC 60028, read second-hand).
const copperPerKelvin = 0.00393

// Marks of an Armature. ArmatureKelvin may be changed during a run.
const (
	ArmaturePlace = iota
	ArmatureDriven
	armatureNext // seconds of the next move, or +Inf
	armatureBounces
	ArmatureKelvin
	armatureMarks
)

// Values of ArmaturePlace.
const (
	ArmatureOut    = 0.0
	ArmatureFlying = 0.5
	ArmatureIn     = 1.0
)

// Events of an Armature.
const (
	ArmaturePullsIn = iota
	ArmatureLetsGo
)

// Check reports the first parameter that makes no armature.
func (a *Armature) Check() error {
	return first(
		positive("armature", "Ohms", a.Ohms), positive("armature", "Henries", a.Henries), positive("armature", "Kelvin", a.Kelvin),
		positive("armature", "ReleaseAmps", a.ReleaseAmps), positive("armature", "PullInAmps", a.PullInAmps-a.ReleaseAmps),
		positive("armature", "InSeconds", a.InSeconds), positive("armature", "OutSeconds", a.OutSeconds),
		notNegative("armature", "FlightSeconds", min(a.FlightSeconds, a.InSeconds-a.FlightSeconds, a.OutSeconds-a.FlightSeconds)),
		notNegative("armature", "Bounces", float64(a.Bounces)), notNegative("armature", "BounceSeconds", a.BounceSeconds),
	)
}

// Size is one state, amps, with the marks and events above.
func (a *Armature) Size() transient.Size {
	return transient.Size{States: 1, Marks: armatureMarks, Events: 2, Unit: [transient.MaxStates]float64{1e-4}}
}

// Start has the amps that its resistance lets through, and is in if they pull it in.
func (a *Armature) Start(volts float64, states, marks []float64) {
	marks[ArmatureKelvin] = a.Kelvin
	marks[armatureNext] = math.Inf(1)
	states[0] = volts / a.warmOhms(marks)
	marks[ArmaturePlace], marks[ArmatureDriven], marks[armatureBounces] = ArmatureOut, 0, 0
	if math.Abs(states[0]) >= a.PullInAmps {
		marks[ArmaturePlace], marks[ArmatureDriven] = ArmatureIn, 1
	}
}

func (a *Armature) warmOhms(marks []float64) float64 {
	return a.Ohms * (1 + copperPerKelvin*(marks[ArmatureKelvin]-coldKelvin))
}

// Rates gives its current, which is its state.
func (a *Armature) Rates(at *transient.Point, rates *transient.Rates) {
	ohms := a.warmOhms(at.Marks)
	rates.Amps, rates.PerState[0] = at.States[0], 1
	rates.Rate[0] = (at.Volts - ohms*at.States[0]) / a.Henries
	rates.RatePerV[0], rates.RatePerX[0][0] = 1/a.Henries, -ohms/a.Henries
}

// Events are that it pulls in and that it lets go.
func (a *Armature) Events(at *transient.Point, distance []float64) {
	distance[ArmaturePullsIn], distance[ArmatureLetsGo] = -1, -1
	amps := math.Abs(at.States[0])
	if at.Marks[ArmatureDriven] == 0 {
		distance[ArmaturePullsIn] = amps/a.PullInAmps - 1
	} else {
		distance[ArmatureLetsGo] = 1 - amps/a.ReleaseAmps
	}
}

// Fire sets the next move: out of rest after its delay less the flight, back from a flight after the time of a flight.
func (a *Armature) Fire(k int, at *transient.Point) {
	bouncing := at.Marks[armatureBounces] > 0
	at.Marks[armatureBounces] = 0
	driven, rest, delay := 1.0, ArmatureOut, a.InSeconds
	if k == ArmatureLetsGo {
		driven, rest, delay = 0, ArmatureIn, a.OutSeconds
	}
	at.Marks[ArmatureDriven] = driven
	switch place := at.Marks[ArmaturePlace]; {
	case place == rest:
		at.Marks[armatureNext] = at.Seconds + delay - a.FlightSeconds
	case bouncing: // its contact happens to be open
		at.Marks[armatureNext] = at.Seconds + delay
	case place == ArmatureFlying:
		at.Marks[armatureNext] = at.Seconds + a.FlightSeconds
	default: // it had not left yet
		at.Marks[armatureNext] = math.Inf(1)
	}
}

// leastBounce keeps a bounce from being over before it began.
const leastBounce = 1e-6

// Next is when the armature moves.
func (a *Armature) Next(marks []float64) float64 { return marks[armatureNext] }

// Tick moves it: off, or on to where it is driven, or a bounce.
func (a *Armature) Tick(at *transient.Point) {
	marks := at.Marks
	target := marks[ArmatureDriven]
	switch {
	case marks[ArmaturePlace] != ArmatureFlying && marks[ArmaturePlace] != target && a.FlightSeconds > 0:
		marks[ArmaturePlace] = ArmatureFlying
		marks[armatureNext] += a.FlightSeconds
		return
	case marks[ArmaturePlace] == ArmatureIn && target == ArmatureIn: // a bounce opens
		marks[ArmaturePlace] = ArmatureFlying
		marks[armatureNext] += a.bounceSeconds(marks)
		marks[armatureBounces]++
		return
	}
	marks[ArmaturePlace] = target
	if target == ArmatureIn && int(marks[armatureBounces]) < a.Bounces {
		marks[armatureNext] += a.bounceSeconds(marks)
		return
	}
	marks[armatureNext] = math.Inf(1)
}

// bounceSeconds is how long the contact stands as it now is.
func (a *Armature) bounceSeconds(marks []float64) float64 {
	return max(math.Ldexp(a.BounceSeconds, -int(marks[armatureBounces])), leastBounce)
}

// Power is the heat of the winding, and half of henries times amps squared in its field.
func (a *Armature) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	square := at.States[0] * at.States[0]
	return a.warmOhms(at.Marks) * square, 0, a.Henries * square / 2
}
