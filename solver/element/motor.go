package element

// This file holds the permanent-magnet direct-current motor with what it turns.

import (
	"math"

	"underload/solver/device"
	"underload/solver/transient"
)

// Torque is what a shaft must overcome at a speed w (rad/s) and an angle:
//
//	(FrictionNM + RippleNM sin(RipplesPerTurn angle)) tanh(w/SoftRadPerS) + LinearNMS w + SquareNMS2 w|w|
//
// Friction is the same at any speed (a lift, a worm drive), the linear part is that of oil and eddy currents, the square
// that of a fan or a pump. The ripple is that of an engine being cranked, against compression and with it again: two a
// turn for four cylinders of a four-stroke engine. The tanh lets all of that build up over a small speed, so that a shaft
// at rest feels none.
type Torque struct {
	FrictionNM, LinearNMS, SquareNMS2 float64
	RippleNM, RipplesPerTurn          float64
	SoftRadPerS                       float64
}

// at returns the torque, its slope by speed and its slope by angle.
func (l *Torque) at(speed, angle float64) (torque, perSpeed, perAngle float64) {
	grip := math.Tanh(speed / l.SoftRadPerS)
	torque, perSpeed = l.drag(speed, grip)
	if l.RippleNM != 0 {
		sine, cosine := math.Sincos(l.RipplesPerTurn * angle)
		torque += l.RippleNM * sine * grip
		perSpeed += l.RippleNM * sine * (1 - grip*grip) / l.SoftRadPerS
		perAngle = l.RippleNM * l.RipplesPerTurn * cosine * grip
	}
	return torque, perSpeed, perAngle
}

// drag is the torque without the ripple, and its slope.
func (l *Torque) drag(speed, grip float64) (torque, perSpeed float64) {
	size := math.Abs(speed)
	return l.FrictionNM*grip + (l.LinearNMS+l.SquareNMS2*size)*speed,
		l.FrictionNM*(1-grip*grip)/l.SoftRadPerS + l.LinearNMS + 2*l.SquareNMS2*size
}

// Motor is a permanent-magnet motor, all seen at the shaft that Load is given for:
//
//	V = R I + L dI/dt + k w,   J dw/dt = k I - share load(w, angle)
//
// States are amps, speed in rad/s and, where the load has a ripple, the angle in rad. Its one mark is the share of the
// load that is at hand, 1 at the start: 0 lets it run free, more than 1 is a stiff load. Without current it runs down
// under its load.
type Motor struct {
	Ohms, Henries float64 // winding
	VoltSeconds   float64 // k: volts for each rad/s, and newton metres for each ampere
	InertiaKGM2   float64 // of everything that turns with it
	Load          Torque
}

// What a maker's sheet of a small motor rarely states: turns at rating (2500 a minute), the time constant of the winding,
// and that of running up. Common practice, no source.
const (
	ratedRadPerS   = 2 * math.Pi * 2500 / 60
	windingSeconds = 0.001
	runUpSeconds   = 0.15
)

// softShare is the share of rated speed over which friction builds up, as in device.SteadyMotor.
const softShare = 1e-4

// NewMotor returns a motor that comes to rest where steady says: same winding, same current at every voltage. Speed,
// inductance and inertia are those of a small fan; the fields may be set otherwise before use.
func NewMotor(steady device.SteadyMotor) *Motor {
	ohms := steady.RatedVolts / steady.StallAmps
	k := (steady.RatedVolts - steady.RatedAmps*ohms) / ratedRadPerS
	torque := k * steady.RatedAmps
	return &Motor{
		Ohms: ohms, Henries: ohms * windingSeconds, VoltSeconds: k, InertiaKGM2: runUpSeconds * k * k / ohms,
		Load: Torque{
			FrictionNM:  steady.FrictionShare * torque,
			SquareNMS2:  (1 - steady.FrictionShare) * torque / (ratedRadPerS * ratedRadPerS),
			SoftRadPerS: softShare * ratedRadPerS,
		},
	}
}

// Check reports the first parameter that makes no motor.
func (m *Motor) Check() error {
	return first(
		positive("motor", "Ohms", m.Ohms),
		positive("motor", "Henries", m.Henries),
		positive("motor", "VoltSeconds", m.VoltSeconds),
		positive("motor", "InertiaKGM2", m.InertiaKGM2),
		notNegative("motor", "Load.FrictionNM", m.Load.FrictionNM),
		notNegative("motor", "Load.LinearNMS", m.Load.LinearNMS),
		notNegative("motor", "Load.SquareNMS2", m.Load.SquareNMS2),
		notNegative("motor", "Load.RippleNM", m.Load.RippleNM),
		notNegative("motor", "Load.RipplesPerTurn", m.Load.RipplesPerTurn),
		positive("motor", "Load.SoftRadPerS", m.Load.SoftRadPerS),
	)
}

// Size is amps, speed, and the angle if it matters; and the share of the load.
func (m *Motor) Size() transient.Size {
	size := transient.Size{States: 2, Marks: 1, Unit: [transient.MaxStates]float64{1e-3, 1e-4, 1e-4}}
	if m.Load.RippleNM != 0 {
		size.States = 3
	}
	return size
}

// Start has it at the speed that volts keep up, the ripple left out.
func (m *Motor) Start(volts float64, states, marks []float64) {
	marks[0] = 1
	speed := m.restSpeed(volts)
	states[0], states[1] = (volts-m.VoltSeconds*speed)/m.Ohms, speed
}

// restSpeed solves V = R T(w)/k + k w, in which both terms rise with w, by Newton inside a bracket.
func (m *Motor) restSpeed(volts float64) float64 {
	size := math.Abs(volts)
	low, high := 0.0, size/m.VoltSeconds
	speed := high
	for range 200 {
		torque, slope := m.Load.drag(speed, math.Tanh(speed/m.Load.SoftRadPerS))
		over := m.Ohms*torque/m.VoltSeconds + m.VoltSeconds*speed - size
		if over > 0 {
			high = speed
		} else {
			low = speed
		}
		next := speed - over/(m.Ohms*slope/m.VoltSeconds+m.VoltSeconds)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		done := math.Abs(next-speed) <= 1e-15*high
		speed = next
		if done {
			break
		}
	}
	return math.Copysign(speed, volts)
}

// Rates gives its current, which is its first state, and how amps, speed and angle change.
func (m *Motor) Rates(at *transient.Point, rates *transient.Rates) {
	amps, speed, angle := at.States[0], at.States[1], 0.0
	turns := len(at.States) == 3
	if turns {
		angle = at.States[2]
	}
	share := at.Marks[0]
	torque, perSpeed, perAngle := m.Load.at(speed, angle)
	rates.Amps = amps
	rates.PerState[0] = 1
	rates.Rate[0] = (at.Volts - m.Ohms*amps - m.VoltSeconds*speed) / m.Henries
	rates.RatePerV[0] = 1 / m.Henries
	rates.RatePerX[0] = [transient.MaxStates]float64{-m.Ohms / m.Henries, -m.VoltSeconds / m.Henries}
	rates.Rate[1] = (m.VoltSeconds*amps - share*torque) / m.InertiaKGM2
	rates.RatePerX[1] = [transient.MaxStates]float64{m.VoltSeconds / m.InertiaKGM2, -share * perSpeed / m.InertiaKGM2}
	if turns {
		rates.RatePerX[1][2] = -share * perAngle / m.InertiaKGM2
		rates.Rate[2] = speed
		rates.RatePerX[2][1] = 1
	}
}

// Power is the heat of the winding and the work done on the load, which with a ripple comes back for part of a turn; and
// what field and spin hold.
func (m *Motor) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	amps, speed, angle := at.States[0], at.States[1], 0.0
	if len(at.States) == 3 {
		angle = at.States[2]
	}
	torque, _, _ := m.Load.at(speed, angle)
	return m.Ohms*amps*amps + at.Marks[0]*torque*speed, 0, (m.Henries*amps*amps + m.InertiaKGM2*speed*speed) / 2
}
