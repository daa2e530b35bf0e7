package element

// This file checks what elements say of parameters they cannot work with.

import (
	"errors"
	"math"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

func TestCheck(t *testing.T) {
	type checked interface{ Check() error }
	motor, cell, generator, profile := starter(), NewCell(1, 12.6, 0.008, 60), NewRegulator(14.3, 0.002, 70), StartingLevels[0].Profile(1, 0.01)
	for name, e := range map[string]checked{
		"capacitor": NewCapacitor(1e-3), "coil": Coil{1, 1}, "lamp": NewFilament(device.Filament{RatedVolts: 12, RatedWatts: 5}),
		"motor": motor, "cell": cell, "generator": generator, "profile": profile,
	} {
		if err := e.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	badMotor, badLoad, badCell, badLag, badGenerator, badRipple := *motor, *motor, *cell, *cell, *generator, *profile
	badMotor.InertiaKGM2, badLoad.Load.FrictionNM, badCell.AmpHours = 0, -1, math.NaN()
	badLag.Lags[1].Farads, badGenerator.MachineOhms = 0, 0
	badRipple.Corners = []Corner{{Volts: 5, RippleVolts: 1}}
	for parameter, e := range map[string]checked{
		"farads": NewCapacitor(0), "Henries": Coil{1, math.Inf(1)}, "RatedWatts": NewFilament(device.Filament{RatedVolts: 12}),
		"BurnsVolts":  &Mortal{Filament: NewFilament(device.Filament{RatedVolts: 12, RatedWatts: 5})},
		"InertiaKGM2": &badMotor, "Load.FrictionNM": &badLoad, "AmpHours": &badCell, "Lags.Farads": &badLag,
		"MachineOhms less Ohms": &badGenerator, "Corners.RippleHertz": &badRipple, "Corners": &Profile{Ohms: 1},
	} {
		var wrong *device.ParameterError
		if err := e.Check(); !errors.As(err, &wrong) || wrong.Parameter != parameter {
			t.Errorf("%s: %v", parameter, err)
		}
		refused(t, parameter, e)
	}
	crowded := *cell
	crowded.JoulesPerKelvin = 1e4
	if crowded.Check() == nil {
		t.Error("a battery with five states is let through")
	}
	refused(t, "five states", &crowded)
}

// refused expects that no run starts with an element, and that the error names it and says why.
func refused(t *testing.T, name string, e interface{ Check() error }) {
	t.Helper()
	n := transient.New()
	top := n.Node()
	n.Source(transient.Ground, top, 12, 1)
	n.Element(top, transient.Ground, Coil{1, 1})
	id := n.Element(top, transient.Ground, e.(transient.Element))
	_, err := n.Start(transient.Options{})
	var wrong *transient.ValueError
	if !errors.As(err, &wrong) || wrong.Element != id || wrong.Edge != -1 || wrong.Why != e.Check().Error() {
		t.Errorf("%s: started, or the wrong error: %v", name, err)
	}
}
