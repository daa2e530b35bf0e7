package transient_test

// This file holds what hangs in the air between two junctions that block each other: its volts are a matter of picoamperes,
// and a voltmeter of 10 megohm reads them all the same.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/element"
	"underload/solver/transient"
)

func TestWhatHangsBetweenJunctions(t *testing.T) {
	const (
		leakSiemens = 1e-12
		meterOhms   = 1e7
		wrongVolts  = 5e-3 // that the meter may read at an instant
	)
	instants := 0
	for seed := range uint64(100) {
		rng := rand.New(rand.NewPCG(seed, 5))
		junction := func() element.Law {
			return element.Law{Curve: device.Junction{SaturationAmps: math.Pow(10, -14+8*rng.Float64()), Ideality: 1 + rng.Float64(), ThermalVolts: device.ThermalVolts27C, SeriesOhms: 0.02}}
		}
		n := transient.New()
		in, between := n.Node(), n.Node()
		source := n.Source(transient.Ground, in, 1, 0.01)
		one, other, way := n.Element(in, between, junction()), n.Element(transient.Ground, between, junction()), 1.0
		if seed%2 == 0 { // the other way round
			n = transient.New()
			in, between = n.Node(), n.Node()
			source = n.Source(transient.Ground, in, 1, 0.01)
			one, other, way = n.Element(between, in, junction()), n.Element(between, transient.Ground, junction()), -1
		}
		meter := math.Inf(1)
		if seed%4 < 2 {
			meter = meterOhms
		}
		n.Resistor(between, transient.Ground, meter)
		r := mustStart(t, n, transient.Options{})
		for range 30 {
			r.SetVolts(source, 30*rng.Float64()-15)
			if err := r.Settle(); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			now := r.Now()
			amps := func(id transient.ID) float64 { return way * (now.ElementAmps(id) + leakSiemens*now.ElementVolts(id)) }
			if left := amps(one) + amps(other) - now.Volts(between)/meter; math.Abs(left) > wrongVolts/meterOhms {
				t.Fatalf("seed %d: %g A come from nowhere, with %g V across one and %g V across the other", seed, left, now.ElementVolts(one), now.ElementVolts(other))
			}
			mustAdvance(t, r, r.Seconds()+1e-3)
			instants++
		}
	}
	if instants != 3000 {
		t.Errorf("%d instants", instants)
	}
}
