package element

// This file checks what elements say of parameters they cannot work with.

import (
	"errors"
	"math"
	"testing"

	"underload/solver/device"
)

func TestCheck(t *testing.T) {
	type checked interface{ Check() error }
	motor, cell, generator, profile := starter(), NewCell(12.6, 0.008, 60), NewRegulator(14.3, 0.002, 70), StartingLevels[0].Profile(1, 0.01)
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
		"InertiaKGM2": &badMotor, "Load.FrictionNM": &badLoad, "AmpHours": &badCell, "Lags.Farads": &badLag,
		"MachineOhms less Ohms": &badGenerator, "Corners.RippleHertz": &badRipple, "Corners": &Profile{Ohms: 1},
	} {
		var wrong *device.ParameterError
		if err := e.Check(); !errors.As(err, &wrong) || wrong.Parameter != parameter {
			t.Errorf("%s: %v", parameter, err)
		}
	}
	crowded := *cell
	crowded.JoulesPerKelvin = 1e4
	if crowded.Check() == nil {
		t.Error("a battery with five states is let through")
	}
}
