package device

// This file checks what every law must keep: its slope, its sign, its smoothness.

import (
	"errors"
	"math"
	"testing"
)

type law interface {
	At(volts float64) (amps, siemens float64)
	Limit(from, to float64) float64
	Check() error
}

var laws = map[string]law{
	"junction":                 Junction{SaturationAmps: 1e-12, Ideality: 1.7, ThermalVolts: ThermalVolts27C},
	"junction with resistance": Junction{SaturationAmps: 18.8e-9, Ideality: 2, ThermalVolts: ThermalVolts27C, SeriesOhms: 28.6e-3},
	"weak junction":            Junction{SaturationAmps: 1e-18, Ideality: 1, ThermalVolts: ThermalVolts27C, SeriesOhms: 5},
	"headlamp":                 Filament{RatedVolts: 12, RatedWatts: 55},
	"small lamp, cold day":     Filament{RatedVolts: 13.5, RatedWatts: 5, AmbientKelvin: 243},
	"constant power":           ConstantPower{Watts: 30, KneeVolts: 4},
	"limited source":           LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5},
	"fan":                      SteadyMotor{RatedVolts: 12, RatedAmps: 8, StallAmps: 60},
	"fan with friction":        SteadyMotor{RatedVolts: 12, RatedAmps: 8, StallAmps: 60, FrictionShare: 0.1},
	"worm drive":               SteadyMotor{RatedVolts: 12, RatedAmps: 5, StallAmps: 28, FrictionShare: 1},
}

func TestSlopesAreDerivatives(t *testing.T) {
	for name, l := range laws {
		checked := 0
		for volts := -30.0; volts <= 30; volts += 0.0173 {
			const h = 1e-6
			a, g := l.At(volts)
			if math.Abs(a) > 1e5 {
				continue // beyond any real device; the difference loses its digits
			}
			up, gUp := l.At(volts + h)
			down, gDown := l.At(volts - h)
			difference := (up - down) / (2 * h)
			// Amps are known to 1e-16 of themselves, and a slope that bends within the
			// difference may lie anywhere between its ends.
			slack := 1e-6*(1e-3+math.Abs(g)) + 1e-15*math.Abs(a)/h + math.Abs(gUp-gDown)
			if math.Abs(difference-g) > slack {
				t.Errorf("%s at %v V: slope %v S, difference quotient %v", name, volts, g, difference)
				break
			}
			if math.Abs(gUp-gDown) < 0.01*(1e-3+math.Abs(g)) {
				checked++
			}
		}
		if checked < 500 {
			t.Errorf("%s: only %d places where the slope is well defined", name, checked)
		}
	}
}

func TestLawsDoNotJump(t *testing.T) {
	for name, l := range laws {
		const step = 1e-4
		last, lastSlope := l.At(-20)
		for volts := -20 + step; volts < 20; volts += step {
			amps, slope := l.At(volts)
			if math.Abs(amps) > 1e5 {
				break
			}
			most := 3*step*max(math.Abs(slope), math.Abs(lastSlope)) + 1e-4*max(math.Abs(amps), math.Abs(last)) + 1e-9
			if math.Abs(amps-last) > most {
				t.Errorf("%s jumps from %v to %v A at %v V", name, last, amps, volts)
				break
			}
			last, lastSlope = amps, slope
		}
	}
}

func TestLawsAreFinite(t *testing.T) {
	for name, l := range laws {
		for _, volts := range []float64{0, 1e-300, 1e-12, -1e-12, 1, -1, 1e3, -1e3, 1e6, -1e6, 1e9, -1e9} {
			amps, slope := l.At(volts)
			if math.IsNaN(amps+slope) || math.IsInf(amps+slope, 0) {
				t.Errorf("%s at %v V: %v A, %v S", name, volts, amps, slope)
			}
			if amps*volts < 0 && name != "limited source" {
				t.Errorf("%s at %v V gives power: %v A", name, volts, amps)
			}
		}
		if amps, _ := l.At(math.NaN()); !math.IsNaN(amps) {
			t.Errorf("%s at NaN V: %v A", name, amps)
		}
	}
}

func TestLimitsReachTheirGoal(t *testing.T) {
	for name, l := range laws {
		for _, from := range []float64{-15, -0.5, 0, 0.4, 0.7, 3.9, 12} {
			for _, to := range []float64{-12, -0.1, 0, 0.55, 0.9, 4.1, 14} {
				at := from
				for range 200 {
					next := l.Limit(at, to)
					if next < min(at, to)-1e-12 || next > max(at, to)+1e-12 {
						t.Fatalf("%s: a step from %v to %v V may reach %v", name, at, to, next)
					}
					at = next
				}
				if math.Abs(at-to) > 1e-9 {
					t.Errorf("%s: steps from %v toward %v V end at %v", name, from, to, at)
				}
			}
		}
	}
}

func TestCheck(t *testing.T) {
	for name, l := range laws {
		if err := l.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	nan := math.NaN()
	bad := map[string]law{
		"SaturationAmps": Junction{SaturationAmps: 0, Ideality: 1, ThermalVolts: 0.026},
		"Ideality":       Junction{SaturationAmps: 1e-12, Ideality: -1, ThermalVolts: 0.026},
		"ThermalVolts":   Junction{SaturationAmps: 1e-12, Ideality: 1},
		"SeriesOhms":     Junction{SaturationAmps: 1e-12, Ideality: 1, ThermalVolts: 0.026, SeriesOhms: nan},
		"RatedWatts":     Filament{RatedVolts: 12, RatedWatts: math.Inf(1)},
		"RatedVolts":     Filament{RatedVolts: nan, RatedWatts: 5},
		"AmbientKelvin":  Filament{RatedVolts: 12, RatedWatts: 5, AmbientKelvin: 25},
		"HotKelvin":      Filament{RatedVolts: 12, RatedWatts: 5, HotKelvin: 9000},
		"Watts":          ConstantPower{Watts: -3, KneeVolts: 4},
		"KneeVolts":      ConstantPower{Watts: 3},
		"Volts":          LimitedSource{Volts: nan, Ohms: 1, LimitAmps: 1},
		"Ohms":           LimitedSource{Volts: 5, LimitAmps: 1},
		"LimitAmps":      LimitedSource{Volts: 5, Ohms: 1},
		"RatedAmps":      SteadyMotor{RatedVolts: 12, StallAmps: 5},
		"StallAmps":      SteadyMotor{RatedVolts: 12, RatedAmps: 5, StallAmps: 4},
		"FrictionShare":  SteadyMotor{RatedVolts: 12, RatedAmps: 5, StallAmps: 40, FrictionShare: 1.5},
	}
	for parameter, l := range bad {
		var wrong *ParameterError
		if err := l.Check(); !errors.As(err, &wrong) || wrong.Parameter != parameter {
			t.Errorf("%#v: got %v, want a complaint about %s", l, err, parameter)
		}
		l.At(1) // gives no useful number but must return
		l.At(-1)
	}
}
