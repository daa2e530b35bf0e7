package element

// This file runs worked examples of open textbooks through time and holds them to the printed digits.

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"underload/solver/device"
	"underload/solver/transient"
)

func mustStart(t testing.TB, n *transient.Network, o transient.Options) *transient.Run {
	t.Helper()
	r, err := n.Start(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func mustAdvance(t testing.TB, r *transient.Run, until float64) {
	t.Helper()
	if err := r.Advance(until); err != nil {
		t.Fatal(err)
	}
}

// prints fails unless got, rounded to as many decimals, is what the book prints.
func prints(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	want, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		t.Fatal(err)
	}
	decimals := 0
	if _, after, found := strings.Cut(printed, "."); found {
		decimals = len(after)
	}
	if math.Abs(got-want) > 0.5000001*math.Pow10(-decimals) {
		t.Errorf("%s: %v, printed %s", what, got, printed)
	}
}

// when is the first time at which f is 0 or above, found inside the step in which that happens.
func when(t *testing.T, r *transient.Run, until float64, f func(w *transient.View) float64) float64 {
	t.Helper()
	for r.Seconds() < until {
		before := r.Seconds()
		if err := r.Step(until); err != nil {
			t.Fatal(err)
		}
		if f(r.Now()) < 0 {
			continue
		}
		low, high := before, r.Seconds()
		for range 60 {
			middle := (low + high) / 2
			if f(r.Look(middle)) < 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return high
	}
	t.Fatalf("it does not happen until %v s", until)
	return 0
}

var fine = transient.Options{Tolerance: 1e-6}

// charging is a source that charges an empty capacitor through a resistance.
func charging(volts, ohms, farads float64) (n *transient.Network, plate transient.Node, source transient.Edge) {
	n = transient.New()
	plate = n.Node()
	source = n.Source(transient.Ground, plate, volts, ohms)
	n.Element(plate, transient.Ground, NewCapacitor(farads))
	return n, plate, source
}

// T. R. Kuphaldt, Lessons in Electric Circuits, volume I, chapter 16: 15 V, 10 kohm, 100 uF; volts and microamperes.
func TestPrintedCharging(t *testing.T) {
	n, plate, source := charging(15, 10e3, 100e-6)
	r := mustStart(t, n, fine)
	for _, row := range []struct {
		seconds     float64
		volts, amps string
	}{
		{0.5, "5.902", "909.8"}, {1, "9.482", "551.8"}, {2, "12.970", "203.0"}, {3, "14.253", "74.68"}, {4, "14.725", "27.47"},
		{5, "14.899", "10.11"}, {6, "14.963", "3.718"}, {7.25, "14.989", "1.065"}, {10, "14.999", "0.068"},
	} {
		mustAdvance(t, r, row.seconds)
		prints(t, "volts", r.Volts(plate), row.volts)
		prints(t, "microamperes", 1e6*r.Amps(source), row.amps)
	}
}

// The same book: 20 V, 2 kohm and 3 kohm in series to 100 uF with 500 ohm across; after 60 ms.
func TestPrintedChargingThroughThreeResistors(t *testing.T) {
	n := transient.New()
	middle, plate := n.Node(), n.Node()
	n.Source(transient.Ground, middle, 20, 2000)
	n.Resistor(middle, plate, 3000)
	n.Resistor(plate, transient.Ground, 500)
	n.Element(plate, transient.Ground, NewCapacitor(100e-6))
	r := mustStart(t, n, fine)
	mustAdvance(t, r, 0.06)
	prints(t, "volts", r.Volts(plate), "1.3325")
	mustAdvance(t, r, 10)
	prints(t, "volts in the end", r.Volts(plate), "1.8182")
}

// OpenStax, University Physics volume 2, examples 10.8 and 10.9 and a problem beside them; College Physics, the
// defibrillator of chapter 21.
func TestPrintedTimeConstants(t *testing.T) {
	n, plate, _ := charging(100, 101, 0.050)
	prints(t, "seconds to 80 V", when(t, mustStart(t, n, fine), 20, func(w *transient.View) float64 { return w.Volts(plate) - 80 }), "8.13")

	n, plate, _ = charging(12, 558.11, 0.010)
	prints(t, "seconds to 10 V", when(t, mustStart(t, n, fine), 20, func(w *transient.View) float64 { return w.Volts(plate) - 10 }), "10.00")
	n, plate, _ = charging(12, 10e3, 0.010)
	prints(t, "seconds to 10 V", when(t, mustStart(t, n, fine), 400, func(w *transient.View) float64 { return w.Volts(plate) - 10 }), "179.18")

	n, plate, source := charging(6.16, 500, 1.50e-6)
	r := mustStart(t, n, fine)
	prints(t, "milliamperes at once", 1e3*r.Amps(source), "12.3")
	mustAdvance(t, r, 7.50e-4)
	prints(t, "milliamperes after one time constant", 1e3*r.Amps(source), "4.53")
	prints(t, "volts after one time constant", r.Volts(plate), "3.89")

	n = transient.New()
	plate = n.Node()
	n.Resistor(plate, transient.Ground, 1000)
	n.Element(plate, transient.Ground, NewCapacitor(8.00e-6))
	r = mustStart(t, n, transient.Options{Tolerance: 1e-6, Volts: []float64{0, 10e3}})
	mustAdvance(t, r, 0.024)
	prints(t, "volts after 24 ms", r.Volts(plate), "498")
}

// Lessons in Electric Circuits, volume I, chapter 16: 15 V, 1 ohm, 1 H; amps, and volts across what has no resistance.
func TestPrintedCoil(t *testing.T) {
	n := transient.New()
	top, inner := n.Node(), n.Node()
	n.Source(transient.Ground, top, 15, 1e-6)
	winding := n.Resistor(top, inner, 0.999)
	const rest = 0.001 - 1e-6 // the coil needs some resistance of its own
	coil := n.Element(inner, transient.Ground, Coil{Ohms: rest, Henries: 1})
	r := mustStart(t, n, fine)
	for _, row := range []struct {
		seconds     float64
		amps, volts string
	}{{0.5, "5.902", "9.098"}, {1, "9.482", "5.518"}, {2, "12.970", "2.030"}, {3.5, "14.547", "0.453"}} {
		mustAdvance(t, r, row.seconds)
		prints(t, "amps", r.ElementAmps(coil), row.amps)
		prints(t, "volts", r.Volts(inner)-rest*r.Amps(winding), row.volts)
	}
}

// The same chapter: 2 ohm and 1 ohm in series with 1 H on 15 V; the 1 ohm is shorted.
func TestPrintedCoilThatLosesOhms(t *testing.T) {
	n := transient.New()
	top, inner := n.Node(), n.Node()
	n.Source(transient.Ground, top, 15, 1e-7)
	shorted := n.Resistor(top, inner, 1)
	coil := n.Element(inner, transient.Ground, Coil{Ohms: 2, Henries: 1})
	r := mustStart(t, n, transient.Options{Tolerance: 1e-6, Volts: []float64{0, 15, 10}})
	prints(t, "amps before", r.ElementAmps(coil), "5.000")
	r.SetOhms(shorted, 1e-7)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		seconds     float64
		amps, volts string
	}{{0.1, "5.453", "4.094"}, {0.25, "5.984", "3.033"}, {0.5, "6.580", "1.839"}, {1, "7.162", "0.677"}, {2, "7.454", "0.092"}, {3, "7.494", "0.012"}} {
		mustAdvance(t, r, row.seconds)
		prints(t, "amps", r.ElementAmps(coil), row.amps)
		prints(t, "volts", r.Volts(inner)-2*r.ElementAmps(coil), row.volts)
	}
}

// University Physics volume 2, examples 14.4 and 14.5: 2.0 V, 4.0 ohm, 4.0 H, and what is left when the source is taken
// away; College Physics, example 23.9: 7.50 mH, 3.00 ohm, 10.0 A at first.
func TestPrintedDecay(t *testing.T) {
	n := transient.New()
	top := n.Node()
	n.Source(transient.Ground, top, 2, 1e-7)
	coil := n.Element(top, transient.Ground, Coil{Ohms: 4, Henries: 4})
	r := mustStart(t, n, fine)
	mustAdvance(t, r, 2)
	prints(t, "amps", r.ElementAmps(coil), "0.43")
	prints(t, "volts of the coil", r.Volts(top)-4*r.ElementAmps(coil), "0.27")

	fall := func(ohms, henries, amps float64) *transient.Run {
		n := transient.New()
		top := n.Node()
		n.Resistor(top, transient.Ground, 1e-7)
		n.Element(top, transient.Ground, Coil{Ohms: ohms, Henries: henries})
		return mustStart(t, n, transient.Options{Tolerance: 1e-6, Volts: []float64{0, amps * ohms}})
	}
	const only = transient.ID(0)
	prints(t, "seconds to half the amps", when(t, fall(4, 4, 0.5), 9, func(w *transient.View) float64 { return 0.25 - w.States(only)[0] }), "0.69")
	prints(t, "seconds to a hundredth of the energy", when(t, fall(4, 4, 0.5), 9, func(w *transient.View) float64 { return 0.05 - w.States(only)[0] }), "2.3")
	r = fall(3.00, 7.50e-3, 10)
	for seconds, printed := range map[float64]string{2.50e-3: "3.68", 5.00e-3: "1.35"} {
		one := fall(3.00, 7.50e-3, 10)
		mustAdvance(t, one, seconds)
		prints(t, "amps", one.ElementAmps(only), printed)
	}
	prints(t, "amps at first", r.ElementAmps(only), "10.0")
}

// College Physics, chapter 23: a motor of 0.400 ohm on 48.0 V takes 120 A and 5.76 kW as it starts; at a back voltage of
// 40.0 V it takes 20.0 A, and 160 W heat its coil.
func TestPrintedMotor(t *testing.T) {
	m := NewMotor(device.SteadyMotor{RatedVolts: 48, RatedAmps: 20, StallAmps: 120})
	heavy := *m
	heavy.InertiaKGM2 *= 1e6 // so that it still stands when the coil has its current
	n := transient.New()
	top := n.Node()
	n.Source(transient.Ground, top, 48, 1e-7)
	starting := n.Element(top, transient.Ground, &heavy)
	running := n.Element(top, transient.Ground, m)
	r := mustStart(t, n, fine)
	mustAdvance(t, r, 0.02)
	prints(t, "amps as it starts", r.ElementAmps(starting), "120")
	prints(t, "kilowatts as it starts", r.ElementAmps(starting)*r.Volts(top)/1e3, "5.76")
	mustAdvance(t, r, 10)
	prints(t, "amps as it runs", r.ElementAmps(running), "20.0")
	prints(t, "back volts", m.VoltSeconds*r.States(running)[1], "40.0")
	prints(t, "watts in the coil", m.Ohms*math.Pow(r.ElementAmps(running), 2), "160")
}
