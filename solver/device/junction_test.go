package device

// This file checks the junction against a published table.

import (
	"math"
	"testing"
)

// T. R. Kuphaldt, Lessons in Electric Circuits, volume III, chapter 3: a diode
// with IS = 18.8 nA, N = 2, with and without RS = 28.6 milliohm, at 27 degrees
// Celsius; volts and printed amps. 0.1 percent covers the constants of the book.
func TestPublishedDiode(t *testing.T) {
	tests := []struct{ ohms, volts, amps float64 }{
		{28.6e-3, 0.701, 1.432463e-2}, {28.6e-3, 0.800, 9.297594e-2}, {28.6e-3, 0.900, 0.5102139},
		{28.6e-3, 0.925, 0.7318536}, {28.6e-3, 1.000, 1.763520}, {28.6e-3, 1.100, 3.848553},
		{28.6e-3, 1.200, 6.419621}, {28.6e-3, 1.300, 9.254581}, {28.6e-3, 1.400, 12.24470},
		{0, 0.700, 1.416211e-2}, {0, 0.900, 0.6764928}, {0, 0.925, 1.096870}, {0, 1.000, 4.675526},
	}
	for _, test := range tests {
		j := Junction{SaturationAmps: 18.8e-9, Ideality: 2, ThermalVolts: ThermalVolts27C, SeriesOhms: test.ohms}
		if amps, _ := j.At(test.volts); math.Abs(amps/test.amps-1) > 1e-3 {
			t.Errorf("%v ohm, %v V: %v A, printed %v", test.ohms, test.volts, amps, test.amps)
		}
	}
}

// Whatever the voltage, the equation itself must hold.
func TestJunctionSolvesItsEquation(t *testing.T) {
	for _, ohms := range []float64{1e-6, 1e-3, 0.5, 1e3, 1e6} {
		for _, saturation := range []float64{1e-18, 1e-12, 1e-6} {
			j := Junction{SaturationAmps: saturation, Ideality: 1.3, ThermalVolts: ThermalVolts27C, SeriesOhms: ohms}
			for _, volts := range []float64{-20, -1, -0.01, 1e-6, 0.05, 0.4, 0.8, 2, 12, 400} {
				amps, _ := j.At(volts)
				a := j.Ideality * j.ThermalVolts
				inner := a * math.Log1p(amps/saturation)
				if 1+amps/saturation < 1e-6 {
					// All but saturated in reverse: the logarithm has no digits left, but
					// the junction must then hold at least a ln(1e6) in reverse.
					if inner = volts - amps*ohms; inner > -a*math.Log(1e6) {
						t.Errorf("%v ohm, %v A: %v V makes %v A", ohms, saturation, volts, amps)
					}
				}
				back := amps*ohms + inner
				if math.Abs(back-volts) > 1e-9*(1+math.Abs(volts)) {
					t.Errorf("%v ohm, %v A: %v V makes %v A, which takes %v V", ohms, saturation, volts, amps, back)
				}
			}
		}
	}
}
