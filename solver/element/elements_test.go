package element

// This file puts each element through the checks of slopes_test.go.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

func TestCoilSlopesAndEnergy(t *testing.T) {
	c := Coil{Ohms: 85, Henries: 0.3}
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0] = between(r, -40, 40), between(r, -0.3, 0.3)
	}
	checkSlopes(t, c, draw)
	checkEnergy(t, c, draw)
}

func TestFilamentSlopesAndEnergy(t *testing.T) {
	for _, lamp := range []device.Filament{{RatedVolts: 12, RatedWatts: 55}, {RatedVolts: 13.5, RatedWatts: 5.5, AmbientKelvin: 250}} {
		draw := func(r *rand.Rand, at *transient.Point) {
			at.Volts, at.States[0] = between(r, -20, 20), between(r, 240, 3400)
		}
		checkSlopes(t, NewFilament(lamp), draw)
		checkEnergy(t, NewFilament(lamp), draw)
	}
}

func TestMortalSlopesAndEnergy(t *testing.T) {
	lamp := device.Filament{RatedVolts: 13.5, RatedWatts: 25}
	m := &Mortal{Filament: NewFilament(lamp), BurnsVolts: 20}
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0], at.Marks[MortalOpen] = between(r, -28, 28), between(r, 240, 3400), float64(r.IntN(2))
	}
	checkSlopes(t, m, draw)
	checkEnergy(t, m, draw)
}

// Switched on cold it opens as it gets as hot as too many volts keep it, and not before.
func TestMortal(t *testing.T) {
	for volts, want := range map[float64]float64{13.5: 0, 19.9: 0, 20.1: 1, -25: 1} {
		m := &Mortal{Filament: NewFilament(device.Filament{RatedVolts: 13.5, RatedWatts: 25}), BurnsVolts: 20}
		n := transient.New()
		top := n.Node()
		source := n.Source(transient.Ground, top, volts, 0.01)
		id := n.Element(top, transient.Ground, m)
		run, err := n.Start(transient.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for run.Seconds() < 20 {
			if err := run.Step(20); err != nil {
				t.Fatal(err)
			}
		}
		if got := run.Marks(id)[MortalOpen]; got != want {
			t.Errorf("on %g V: open %g", volts, got)
		}
		if amps := math.Abs(run.Now().Amps(source)); (amps < 1e-6) != (want == 1) {
			t.Errorf("on %g V: %g A", volts, amps)
		}
		if m.Start(volts, run.States(id), run.Marks(id)); run.Marks(id)[MortalOpen] != want {
			t.Errorf("long on %g V: open %g", volts, run.Marks(id)[MortalOpen])
		}
	}
}

// starter is one of a small car, at the engine's side: estimates, no source.
func starter() *Motor {
	return &Motor{Ohms: 0.012, Henries: 60e-6, VoltSeconds: 0.355, InertiaKGM2: 0.3,
		Load: Torque{FrictionNM: 60, LinearNMS: 0.9, RippleNM: 35, RipplesPerTurn: 2, SoftRadPerS: 0.5}}
}

func TestMotorSlopesAndEnergy(t *testing.T) {
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0], at.Marks[0] = between(r, -14, 14), between(r, -600, 600), between(r, 0, 2)
		at.States[1] = between(r, -30, 30)
		if r.IntN(3) == 0 {
			at.States[1] = between(r, -1, 1)
		}
		if len(at.States) == 3 {
			at.States[2] = between(r, 0, 20)
		}
	}
	fan := NewMotor(device.SteadyMotor{RatedVolts: 13, RatedAmps: 28, StallAmps: 217})
	for _, m := range []*Motor{starter(), fan} {
		if err := m.Check(); err != nil {
			t.Fatal(err)
		}
		checkSlopes(t, m, draw)
		checkEnergy(t, m, draw)
	}
}

func TestCellSlopesAndEnergy(t *testing.T) {
	plain := NewCell(1, 12.6, 0.008, 60)
	charging := *plain
	charging.ChargingOhms, charging.ChargeStepVolts = 0.04, 0.5
	warming := *plain
	warming.Lags[0].Ohms, warming.JoulesPerKelvin, warming.WattsPerKelvin = 0, 15e3, 2
	deep := warming // charge held back, and a temperature
	warming.AtHandShare = 0
	deep.SurfaceVolts = 0
	bare := *plain
	bare.Lags, bare.SurfaceVolts, bare.AtHandShare, bare.JoulesPerKelvin = [2]Lag{}, 0, 0, 15e3
	for name, c := range map[string]*Cell{"plain": plain, "charging": &charging, "warming": &warming, "deep": &deep, "bare": &bare} {
		p := c.places()
		if err := c.Check(); err != nil || p.states > transient.MaxStates {
			t.Fatal(name, err)
		}
		draw := func(r *rand.Rand, at *transient.Point) {
			at.Volts = between(r, 6, 16)
			at.States[0] = between(r, -0.02, 1.08) * c.AmpHours
			for _, place := range p.lags {
				if place >= 0 {
					at.States[place] = between(r, -1, 1)
				}
			}
			if p.surface >= 0 {
				at.States[p.surface] = between(r, 0, 0.4)
			}
			if p.held >= 0 {
				at.States[p.held] = between(r, 0, 0.3) * c.AmpHours
			}
			if p.kelvin >= 0 {
				at.States[p.kelvin] = between(r, 240, 330)
			}
		}
		checkSlopes(t, c, draw)
		checkEnergy(t, c, draw)
	}
}

func TestRegulatorSlopesAndEnergy(t *testing.T) {
	g := NewRegulator(14.3, 0.002, 70)
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0], at.Marks[0] = between(r, 9, 15), between(r, 9, 18), 1
		switch r.IntN(4) {
		case 0: // close to where it begins to conduct
			at.States[0] = at.Volts + between(r, -0.01, 0.01)
		case 1: // close to the limit
			at.States[0] = at.Volts + between(r, 0.9, 1.1)*g.LimitAmps*g.MachineOhms
		case 2:
			at.Marks[0] = float64(r.IntN(3)) / 2
		}
	}
	checkSlopes(t, g, draw)
	checkEnergy(t, g, draw)
}

func TestLawSlopesAndEnergy(t *testing.T) {
	curves := []Curve{
		device.Junction{SaturationAmps: 1e-9, Ideality: 1.8, ThermalVolts: device.ThermalVolts27C, SeriesOhms: 0.01},
		device.ConstantPower{Watts: 30, KneeVolts: 4},
		device.LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5},
	}
	draw := func(r *rand.Rand, at *transient.Point) { at.Volts = between(r, -1, 12) }
	for _, c := range curves {
		checkSlopes(t, Law{c}, draw)
		checkEnergy(t, Law{c}, draw)
	}
}

func TestProfileSlopesAndEnergy(t *testing.T) {
	p := StartingLevels[1].Profile(1, 0.01)
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.Seconds = between(r, 0, 14), between(r, 0, 13)
		at.Marks[0] = float64(p.passed(at.Seconds))
	}
	checkSlopes(t, p, draw)
	checkEnergy(t, p, draw)
}
