package device

// This file holds the semiconductor junction.

import "math"

// ThermalVolts27C is kT/q at 27 degrees Celsius: 1.380649e-23 J/K * 300.15 K /
// 1.602176634e-19 C (constants of the SI).
const ThermalVolts27C = 0.0258649

// hardAmps is where a junction without series resistance leaves its exponential
// and goes on along the tangent, so that no voltage overflows.
const hardAmps = 1e6

// Junction is a diode: I = Is (exp((V - I Rs)/(n Vt)) - 1), Shockley's law with
// an ideality factor n and a series resistance Rs, solved for I inside. The first
// terminal is the anode. It does not break down in reverse.
type Junction struct {
	SaturationAmps float64
	Ideality       float64
	ThermalVolts   float64 // kT/q
	SeriesOhms     float64 // may be 0
}

// Check reports the first parameter that makes no diode.
func (j Junction) Check() error {
	return first(
		positive("junction", "SaturationAmps", j.SaturationAmps),
		positive("junction", "Ideality", j.Ideality),
		positive("junction", "ThermalVolts", j.ThermalVolts),
		within("junction", "SeriesOhms", j.SeriesOhms, 0, 1e9),
	)
}

// At returns amps from anode to cathode and their slope in siemens.
func (j Junction) At(volts float64) (amps, siemens float64) {
	a := j.Ideality * j.ThermalVolts
	inner := volts
	if j.SeriesOhms > 0 {
		inner = j.innerVolts(volts, a)
	}
	amps, siemens = j.bare(inner, a)
	if j.SeriesOhms > 0 {
		siemens /= 1 + siemens*j.SeriesOhms
		if forward := (volts - inner) / j.SeriesOhms; forward > 1e3*j.SaturationAmps && inner < 0.5*volts {
			amps = forward
		}
	}
	return amps, siemens
}

// bare is the law without series resistance.
func (j Junction) bare(volts, a float64) (amps, siemens float64) {
	hard := j.hardVolts(a)
	if volts > hard {
		siemens = (hardAmps + j.SaturationAmps) / a
		return hardAmps + siemens*(volts-hard), siemens
	}
	e := math.Expm1(volts / a)
	return j.SaturationAmps * e, j.SaturationAmps * (e + 1) / a
}

// hardVolts is where the bare junction carries hardAmps.
func (j Junction) hardVolts(a float64) float64 {
	return a * math.Log(hardAmps/j.SaturationAmps)
}

// innerVolts solves u + Rs Is (exp(u/a) - 1) = volts for the volts u of the bare
// junction. Left of 0 the curve is almost straight; right of it the equation is
// solved in the logarithm of the current, where it is nearly straight too.
func (j Junction) innerVolts(volts, a float64) float64 {
	// With w = I/Is + 1 and c = Rs Is/a: ln w + c w = (volts + Rs Is)/a, in y = ln w.
	c := j.SeriesOhms * j.SaturationAmps / a
	right := volts/a + c
	y := right - c
	if y > 0 {
		y = min(y, math.Log1p(right/c))
	}
	for range 60 {
		e := c * math.Exp(y)
		step := (y + e - right) / (1 + e)
		y -= step
		if math.Abs(step) <= 1e-15*(1+math.Abs(y)) {
			break
		}
	}
	return a * y
}

// Limit keeps a Newton step out of the steep part of the exponential: a rise
// goes no further than the voltage at which the diode really carries the current
// that the tangent promises, and from a diode that is off no further than the
// knee. This is the logarithmic step limiting usual for pn junctions, carried
// over to a junction with series resistance.
func (j Junction) Limit(from, to float64) float64 {
	a := j.Ideality * j.ThermalVolts
	if to-from <= 2*a || from >= j.hardVolts(a) {
		return to
	}
	knee := j.voltsAt(a/math.Sqrt2, a)
	if to <= knee {
		return to
	}
	if from < knee {
		return knee
	}
	amps, siemens := j.At(from)
	return min(to, j.voltsAt(amps+siemens*(to-from), a))
}

// voltsAt is the forward voltage at the given current.
func (j Junction) voltsAt(amps, a float64) float64 {
	return a*math.Log1p(amps/j.SaturationAmps) + amps*j.SeriesOhms
}
