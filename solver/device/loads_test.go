package device

// This file checks electronic loads, limited sources and motors.

import (
	"math"
	"testing"
)

func TestConstantPowerKeepsItsPower(t *testing.T) {
	p := ConstantPower{Watts: 30, KneeVolts: 4}
	for _, volts := range []float64{4.1, 5, 8.449, 12, 16, 24, -12} {
		if amps, _ := p.At(volts); math.Abs(volts*amps-30) > 1e-12 {
			t.Errorf("%v V: %v W", volts, volts*amps)
		}
	}
	for _, volts := range []float64{0.1, 2, 3.9, -2} {
		if amps, _ := p.At(volts); math.Abs(volts/amps-16./30) > 1e-12 {
			t.Errorf("%v V: %v ohm, want 16/30", volts, volts/amps)
		}
	}
	if amps, _ := p.At(4); amps > 7.5 || amps < 7.5*(1-kneeShare) {
		t.Errorf("at the knee: %v A, want just under 7.5", amps)
	}
}

// T. R. Kuphaldt, Lessons in Electric Circuits, volume I, chapter 11: four cells
// tested with 100 ohm; volts open, ohms inside, volts under load.
func TestLimitedSourceBelowItsLimit(t *testing.T) {
	for _, cell := range []struct{ open, inside, loaded float64 }{{13.2, 0.1, 13.187}, {13.0, 5, 12.381}, {11.5, 20, 9.583}, {7.5, 50, 5.000}} {
		s := LimitedSource{Volts: cell.open, Ohms: cell.inside, LimitAmps: 1}
		low, high := 0.0, cell.open
		for range 60 {
			volts := (low + high) / 2
			if amps, _ := s.At(volts); -amps > volts/100 {
				low = volts
			} else {
				high = volts
			}
		}
		if math.Abs(low-cell.loaded) > 5e-4 {
			t.Errorf("%+v: %v V under load", cell, low)
		}
	}
}

// One way, it takes nothing back; the corner at its own volts is 5 percent of 0.025 V to both sides.
func TestLimitedSourceOneWay(t *testing.T) {
	s := LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5, OneWay: true}
	for volts, want := range map[float64]float64{-12: -0.5, 0: -0.5, 4.99: -0.2, 4.9987: -0.026, 5.0013: 0, 5.01: 0, 12: 0} {
		if amps, _ := s.At(volts); math.Abs(amps-want) > 1e-12 {
			t.Errorf("%v V at its terminals: %v A, want %v", volts, amps, want)
		}
	}
	for volts := 4.998; volts < 5.002; volts += 1e-5 { // it rises steadily, and its slope is that of the curve
		amps, slope := s.At(volts)
		next, _ := s.At(volts + 1e-7)
		if amps > 0 || next < amps-1e-15 || math.Abs((next-amps)/1e-7-slope) > 0.01 {
			t.Errorf("%v V: %v A, slope %v", volts, amps, slope)
		}
	}
}

func TestLimitedSourceAtItsLimit(t *testing.T) {
	s := LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5}
	for volts, want := range map[float64]float64{0: -0.5, 3: -0.5, -12: -0.5, 4.99: -0.2, 5: 0, 5.01: 0.2, 12: 0.5} {
		if amps, _ := s.At(volts); math.Abs(amps-want) > 1e-12 {
			t.Errorf("%v V at its terminals: %v A, want %v", volts, amps, want)
		}
	}
}

// OpenStax, College Physics, chapter 23: a motor of 0.400 ohm on 48.0 V takes 120
// A as it starts; at a back voltage of 40.0 V it takes 20.0 A.
func TestTextbookMotor(t *testing.T) {
	for _, friction := range []float64{0, 0.3, 1} {
		held := SteadyMotor{RatedVolts: 48, RatedAmps: 20, StallAmps: 120, FrictionShare: friction, Held: true}
		if amps, slope := held.At(48); math.Abs(amps-120) > 1e-12 || slope != 1/0.4 || held.SpeedShare(48) != 0 {
			t.Errorf("held fast: %v A, %v S, speed %v", amps, slope, held.SpeedShare(48))
		}
		m := SteadyMotor{RatedVolts: 48, RatedAmps: 20, StallAmps: 120, FrictionShare: friction}
		ohms, back := m.winding()
		if math.Abs(ohms-0.4) > 1e-12 || math.Abs(back-40) > 1e-12 {
			t.Errorf("winding %v ohm, back voltage %v V", ohms, back)
		}
		if amps, _ := m.At(48); math.Abs(amps-20) > 1e-9 || math.Abs(m.SpeedShare(48)-1) > 1e-9 {
			t.Errorf("friction %v: %v A at rating, speed %v", friction, amps, m.SpeedShare(48))
		}
	}
}

func TestMotorLoads(t *testing.T) {
	lift := SteadyMotor{RatedVolts: 12, RatedAmps: 6, StallAmps: 30, FrictionShare: 1}
	// It stands below 6 A * 0.4 ohm = 2.4 V and then takes 6 A at any voltage.
	for volts, want := range map[float64]float64{1: 2.5, 2: 5, 3: 6, 9: 6, 14: 6, -9: -6} {
		if amps, _ := lift.At(volts); math.Abs(amps-want) > 0.02 {
			t.Errorf("constant torque, %v V: %v A, want %v", volts, amps, want)
		}
	}
	if speed := lift.SpeedShare(2); speed > 2e-4 {
		t.Errorf("below what moves it it turns at %v of its speed", speed)
	}
	// (9 - 2.4)/(12 - 2.4): what the winding leaves for back voltage.
	if speed := lift.SpeedShare(9); math.Abs(speed-0.6875) > 1e-9 {
		t.Errorf("at 9 V it turns at %v of its speed, want 0.6875", speed)
	}
	fan := SteadyMotor{RatedVolts: 12, RatedAmps: 6, StallAmps: 30}
	// At half speed a quarter of the current: 6/4 * 0.4 + 9.6/2 = 5.4 V.
	if amps, _ := fan.At(5.4); math.Abs(amps-1.5) > 1e-9 || math.Abs(fan.SpeedShare(5.4)-0.5) > 1e-9 {
		t.Errorf("fan at 5.4 V: %v A at %v of its speed, want 1.5 A at half", amps, fan.SpeedShare(5.4))
	}
	for name, m := range map[string]SteadyMotor{"lift": lift, "fan": fan} {
		for volts := 0.1; volts < 30; volts += 0.37 {
			forward, slope := m.At(volts)
			backward, _ := m.At(-volts)
			if forward != -backward || slope < 0 || forward > volts*30/12+1e-9 {
				t.Fatalf("%s at %v V: %v A forward, %v A backward, slope %v", name, volts, forward, backward, slope)
			}
		}
	}
}
