package device

// This file holds the permanent-magnet motor that runs steadily.

import "math"

// creepShare is the share of rated speed over which constant friction builds up.
const creepShare = 1e-4

// SteadyMotor is a permanent-magnet direct-current motor that has come up to the
// speed its load allows.
//
// The winding gives V = I R + k w with w the speed, and the torque k I equals
// that of the load, T(w). Standing still, all of V lies across the winding, so R
// = RatedVolts/StallAmps. In units of rated torque and of rated back voltage E =
// RatedVolts - RatedAmps R, with e = k w/E the relative speed, the load asks for
//
//	I = RatedAmps (f tanh(e/0.0001) + (1-f) e|e|)
//
// where f is FrictionShare: 1 for a torque that is the same at any speed (a lift,
// a worm drive), 0 for one that rises with the square of the speed (a fan, a
// pump). The steep tanh stands for friction that must be overcome first: below
// V = f RatedAmps R the motor stands and takes V/R. Given V, V = I(e) R + e E is
// solved for e inside; both terms rise with e, so there is one answer. The law is
// odd: reversed volts turn it backwards.
type SteadyMotor struct {
	RatedVolts, RatedAmps float64 // at its load, running
	StallAmps             float64 // held still at RatedVolts
	FrictionShare         float64 // 0 to 1, of the rated torque
	Held                  bool    // fast: it does not turn, and takes V/R
}

// Check reports the first parameter that makes no motor.
func (m SteadyMotor) Check() error {
	err := first(
		positive("motor", "RatedVolts", m.RatedVolts),
		positive("motor", "RatedAmps", m.RatedAmps),
		positive("motor", "StallAmps", m.StallAmps),
		within("motor", "FrictionShare", m.FrictionShare, 0, 1),
	)
	if err == nil && m.StallAmps <= m.RatedAmps {
		err = &ParameterError{"motor", "StallAmps", m.StallAmps, "more than RatedAmps"}
	}
	return err
}

// At returns the motor's amps and their slope in siemens.
func (m SteadyMotor) At(volts float64) (amps, siemens float64) {
	ohms, back := m.winding()
	if m.Held {
		return volts / ohms, 1 / ohms
	}
	amps, slope := m.load(m.SpeedShare(volts))
	return amps, slope / (slope*ohms + back)
}

// SpeedShare returns the speed at volts as a share of that at RatedVolts.
func (m SteadyMotor) SpeedShare(volts float64) float64 {
	if m.Held {
		return 0
	}
	ohms, back := m.winding()
	size := math.Abs(volts)
	low, high := 0.0, size/back
	e := high
	for range 200 {
		amps, slope := m.load(e)
		over := amps*ohms + e*back - size
		if over > 0 {
			high = e
		} else {
			low = e
		}
		next := e - over/(slope*ohms+back)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-e) <= 1e-15*high {
			e = next
			break
		}
		e = next
	}
	return math.Copysign(e, volts)
}

// winding returns its resistance and the back voltage at rating.
func (m SteadyMotor) winding() (ohms, backVolts float64) {
	ohms = m.RatedVolts / m.StallAmps
	return ohms, m.RatedVolts - m.RatedAmps*ohms
}

// load returns the amps the load asks for at relative speed e, and their slope.
func (m SteadyMotor) load(e float64) (amps, slope float64) {
	grip := math.Tanh(e / creepShare)
	amps = m.RatedAmps * (m.FrictionShare*grip + (1-m.FrictionShare)*e*math.Abs(e))
	slope = m.RatedAmps * (m.FrictionShare*(1-grip*grip)/creepShare + 2*(1-m.FrictionShare)*math.Abs(e))
	return amps, slope
}

// Limit stops a step that would turn the motor around at standstill.
func (m SteadyMotor) Limit(from, to float64) float64 {
	if from*to < 0 {
		return 0
	}
	return to
}
