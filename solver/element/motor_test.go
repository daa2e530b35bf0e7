package element

// This file checks the motor against closed forms.

import (
	"math"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

// Let go, a shaft with a linear load runs down exponentially, one with friction in a straight line to a stop, and one
// whose load is taken away keeps its speed.
func TestMotorLetGo(t *testing.T) {
	build := func(m *Motor) (*transient.Run, transient.Edge, transient.ID) {
		n := transient.New()
		top := n.Node()
		source := n.Source(transient.Ground, top, 12, 0.01)
		id := n.Element(top, transient.Ground, m)
		return mustStart(t, n, transient.Options{Tolerance: 1e-7, Volts: []float64{0, 12}}), source, id
	}
	letGo := func(r *transient.Run, source transient.Edge) {
		r.SetOhms(source, 1e5)
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
	}
	linear := &Motor{Ohms: 0.3, Henries: 3e-4, VoltSeconds: 0.04, InertiaKGM2: 2e-4, Load: Torque{LinearNMS: 4e-4, SoftRadPerS: 0.01}}
	r, source, id := build(linear)
	letGo(r, source)
	mustAdvance(t, r, 0.05) // the coil is empty
	first := r.States(id)[1]
	mustAdvance(t, r, 0.55)
	if want := first * math.Exp(-0.5*4e-4/2e-4); math.Abs(r.States(id)[1]/want-1) > 2e-4 { // 0.1 mA still brake it
		t.Errorf("linear load: %v rad/s after half a second, want %v", r.States(id)[1], want)
	}

	rubbing := &Motor{Ohms: 0.3, Henries: 3e-4, VoltSeconds: 0.04, InertiaKGM2: 2e-4, Load: Torque{FrictionNM: 0.08, SoftRadPerS: 0.01}}
	r, source, id = build(rubbing)
	letGo(r, source)
	mustAdvance(t, r, 0.05)
	first = r.States(id)[1]
	mustAdvance(t, r, 0.25)
	if want := first - 0.2*0.08/2e-4; math.Abs(r.States(id)[1]/want-1) > 2e-4 {
		t.Errorf("friction: %v rad/s after 0.2 s, want %v", r.States(id)[1], want)
	}
	mustAdvance(t, r, 2)
	if speed := r.States(id)[1]; math.Abs(speed) > 1e-3 {
		t.Errorf("friction: it still turns at %v rad/s after two seconds", speed)
	}

	r, source, id = build(rubbing)
	r.Marks(id)[0] = 0
	letGo(r, source)
	mustAdvance(t, r, 1)
	free := r.States(id)[1]
	mustAdvance(t, r, 2)
	if first <= 0 || math.Abs(r.States(id)[1]/free-1) > 0.02 { // what the meter of 100 kohm takes
		t.Errorf("without a load: from %v to %v rad/s in a second", free, r.States(id)[1])
	}
}

// A motor whose winding is quick against its spin runs up with the time constant J R/k^2 to V/k.
func TestMotorRunsUp(t *testing.T) {
	m := NewMotor(device.SteadyMotor{RatedVolts: 12, RatedAmps: 1e-9, StallAmps: 40})
	m.Henries = m.Ohms * 1e-7
	n := transient.New()
	top := n.Node()
	n.Source(transient.Ground, top, 12, 1e-7)
	id := n.Element(top, transient.Ground, m)
	r := mustStart(t, n, transient.Options{Tolerance: 1e-7})
	for _, share := range []float64{0.3, 1, 2, 5} {
		mustAdvance(t, r, share*runUpSeconds)
		if want := -math.Expm1(-share) * 12 / m.VoltSeconds; math.Abs(r.States(id)[1]/want-1) > 1e-5 {
			t.Errorf("after %v time constants: %v rad/s, want %v", share, r.States(id)[1], want)
		}
	}
}
