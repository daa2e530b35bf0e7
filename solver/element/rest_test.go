package element

// This file checks where elements begin: at rest, as they are when volts have been there since long ago.

import (
	"math"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

// rest is the point of an element that has had volts across it since long ago.
func rest(e transient.Element, volts float64) *transient.Point {
	at := pointFor(e)
	at.Volts = volts
	e.Start(volts, at.States, at.Marks)
	return at
}

// At rest the current is that of the same device without time, and nothing moves.
func TestRestIsThatOfTheSteadyLaw(t *testing.T) {
	lamp := device.Filament{RatedVolts: 12, RatedWatts: 55}
	fan := device.SteadyMotor{RatedVolts: 13, RatedAmps: 28, StallAmps: 217}
	worm := device.SteadyMotor{RatedVolts: 12, RatedAmps: 6, StallAmps: 30, FrictionShare: 1}
	mixed := device.SteadyMotor{RatedVolts: 12, RatedAmps: 6, StallAmps: 30, FrictionShare: 0.2}
	for name, pair := range map[string]struct {
		moving transient.Element
		steady Curve
	}{
		"lamp": {NewFilament(lamp), lamp}, "fan": {NewMotor(fan), fan}, "worm drive": {NewMotor(worm), worm}, "mixed": {NewMotor(mixed), mixed},
		"coil": {Coil{Ohms: 85, Henries: 0.3}, resistor(85)},
	} {
		for _, volts := range []float64{-24, -12, -1, 0.3, 1, 2, 3, 6, 9, 12, 14.4, 24} {
			at := rest(pair.moving, volts)
			rates := ratesAt(pair.moving, at)
			if want, _ := pair.steady.At(volts); math.Abs(rates.Amps-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s at %v V: %v A, steady %v A", name, volts, rates.Amps, want)
			}
			for k := range at.States {
				most := math.Abs(rates.RatePerV[k] * volts) // what a rate would be if nothing cancelled
				for j, x := range at.States {
					most += math.Abs(rates.RatePerX[k][j] * x)
				}
				if math.Abs(rates.Rate[k]) > 1e-10*most {
					t.Errorf("%s at %v V: state %d is %v and changes by %v a second", name, volts, k, at.States[k], rates.Rate[k])
				}
			}
		}
	}
}

// resistor is a steady law.
type resistor float64

func (r resistor) At(volts float64) (amps, siemens float64) {
	return volts / float64(r), 1 / float64(r)
}
func (resistor) Limit(_, to float64) float64 { return to }

// What is at rest stays there: each element behind a resistance, begun with the volts it has in the end.
func TestRestStays(t *testing.T) {
	for name, e := range map[string]transient.Element{
		"capacitor": NewCapacitor(1e-3),
		"coil":      Coil{Ohms: 85, Henries: 0.3},
		"lamp":      NewFilament(device.Filament{RatedVolts: 12, RatedWatts: 21}),
		"motor":     NewMotor(device.SteadyMotor{RatedVolts: 13, RatedAmps: 10, StallAmps: 60, FrictionShare: 0.3}),
		"generator": NewRegulator(14.3, 0.002, 70),
		"junction":  Law{device.Junction{SaturationAmps: 1e-9, Ideality: 1.8, ThermalVolts: device.ThermalVolts27C}},
	} {
		t.Log(name)
		build := func() (*transient.Network, transient.Node) {
			n := transient.New()
			top := n.Node()
			n.Source(transient.Ground, top, 13, 0.4)
			n.Element(top, transient.Ground, e)
			return n, top
		}
		n, top := build()
		r := mustStart(t, n, transient.Options{Tolerance: 1e-8, Volts: []float64{0, 13}})
		mustAdvance(t, r, 100)
		end := r.Volts(top)
		states := append([]float64(nil), r.States(0)...)
		r = mustStart(t, n, transient.Options{Tolerance: 1e-8, Volts: []float64{0, end}})
		for _, seconds := range []float64{0, 1e-3, 0.03, 1, 100} {
			mustAdvance(t, r, seconds)
			if math.Abs(r.Volts(top)-end) > 1e-6 {
				t.Errorf("%s after %v s: %v V, at rest %v V", name, seconds, r.Volts(top), end)
			}
			for k, x := range r.States(0) {
				if math.Abs(x-states[k]) > 1e-6*(1+math.Abs(states[k])) {
					t.Errorf("%s after %v s: state %d is %v, at rest %v", name, seconds, k, x, states[k])
				}
			}
		}
	}
}
