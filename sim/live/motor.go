package live

// This file is the motor: it takes what it takes held fast until it turns, and for good if it is held. A starter turns an engine, whose compression it
// feels.

import (
	"math"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver/device"
	"underload/solver/element"
)

func newMotor(p *circuit.Part, w *Place) Part {
	if idle(w.State) {
		return Part{Readings: map[string]Reading{"speed": constant("rad/s", 0)}}
	}
	running := part.Running(p, w.State)
	motor := element.NewMotor(running)
	if p.Text("turns") == "engine" {
		motor = crankingMotor(running)
	}
	in, out := w.Inside("in"), w.Inside("out")
	if running.Held {
		w.add("winding", in, out, element.Coil{Ohms: motor.Ohms, Henries: motor.Henries})
		w.winding(in, out)
		return Part{Readings: map[string]Reading{"speed": constant("rad/s", 0)}}
	}
	id := w.add("motor", in, out, motor)
	w.winding(in, out)
	return Part{
		Readings: map[string]Reading{
			"speed": {Unit: "rad/s", Read: func(v View) float64 { return v.States(id)[1] }},
		},
		Turns: func(v View) float64 { return math.Abs(motor.VoltSeconds*v.States(id)[1]) / part.OwnVolts(p) },
	}
}

// A starter as seen at the crankshaft: speed at its rating, inertia of crankshaft, flywheel and of its own armature through
// the gear, winding, and how the torque of four cylinders with a compression stroke twice a turn swings, as a share of the
// mean. Estimates, no source.
const (
	crankRadPerS    = 20 // 190 turns a minute
	crankKGM2       = 0.3
	crankWindingS   = 0.005
	crankRipple     = 0.5
	crankSoftRadPer = 0.5
)

// crankingMotor has the steady current of a motor with the same torque at any speed.
func crankingMotor(steady device.SteadyMotor) *element.Motor {
	m := element.NewMotor(steady)
	back := steady.RatedVolts - steady.RatedAmps*m.Ohms
	m.VoltSeconds = back / crankRadPerS
	m.Henries = m.Ohms * crankWindingS
	m.InertiaKGM2 = crankKGM2
	torque := m.VoltSeconds * steady.RatedAmps
	m.Load = element.Torque{FrictionNM: torque, RippleNM: crankRipple * torque, RipplesPerTurn: 2, SoftRadPerS: crankSoftRadPer}
	return m
}
