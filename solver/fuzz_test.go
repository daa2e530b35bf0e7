package solver

// This file edits small networks at random.

import (
	"errors"
	"math"
	"testing"

	"underload/solver/device"
)

var fuzzLaws = []Law{
	device.Junction{SaturationAmps: 1e-12, Ideality: 1.5, ThermalVolts: device.ThermalVolts27C},
	device.Junction{SaturationAmps: 1e-9, Ideality: 2, ThermalVolts: device.ThermalVolts27C, SeriesOhms: 0.1},
	device.Filament{RatedVolts: 12, RatedWatts: 21},
	device.ConstantPower{Watts: 30, KneeVolts: 4},
	device.LimitedSource{Volts: 5, Ohms: 0.05, LimitAmps: 0.5},
	device.SteadyMotor{RatedVolts: 12, RatedAmps: 4, StallAmps: 30, FrictionShare: 0.2},
	device.Filament{RatedVolts: math.NaN(), RatedWatts: -1},
}

// Whatever is built, changed and solved: no panic, and either an error of a known
// type or an operating point that obeys the laws.
func FuzzNetworkEdits(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 1, 0, 1, 60, 1, 0, 1, 100, 7, 0, 0, 0})
	f.Add([]byte{0, 0, 0, 1, 1, 90, 2, 1, 2, 30, 4, 2, 0, 3, 7, 0, 0, 0, 5, 1, 0, 255, 7, 0, 0, 0})
	f.Add([]byte{0, 0, 0, 1, 1, 200, 4, 1, 0, 2, 4, 1, 2, 0, 7, 0, 0, 0, 6, 0, 0, 20, 8, 1, 0, 7})
	f.Fuzz(func(t *testing.T, edits []byte) {
		n := NewNetwork()
		n.AddNode()
		var s Solution
		var dialled []Branch
		if len(edits) > 400 {
			edits = edits[:400]
		}
		for ; len(edits) >= 4; edits = edits[4:] {
			a, b := Node(int(edits[1])%n.Nodes()), Node(int(edits[2])%n.Nodes())
			value := float64(edits[3])
			ohms := []float64{0, math.Inf(1), math.Pow(10, value/16-7)}[min(2, int(edits[3])%16)]
			pick := Branch(0)
			if n.Branches() > 0 {
				pick = Branch((int(edits[1]) + 256*int(edits[2])) % n.Branches())
			}
			switch edits[0] % 9 {
			case 0:
				n.AddNode()
				n.AddResistor(a, Node(n.Nodes()-1), ohms)
			case 1:
				n.AddResistor(a, b, ohms)
			case 2:
				n.AddSource(a, b, value/10-12, ohms)
			case 3:
				n.AddCurrent(a, b, value/100-1)
			case 4:
				n.AddDevice(a, b, fuzzLaws[int(edits[3])%len(fuzzLaws)])
			case 5, 6:
				change(n, pick, value, ohms)
			case 7:
				checkSolve(t, n, n.Solve(&s), &s)
			case 8:
				if n.Branches() == 0 || n.kinds[pick] != isResistor || !s.Solved() {
					continue
				}
				dialled = append(dialled[:0], pick)
				d, err := n.Dial(&s, dialled...)
				if err == nil {
					var turned Solution
					err = d.Turn([]float64{ohms}, &turned)
				}
				known(t, err)
			}
		}
		checkSolve(t, n, n.Solve(&s), &s)
	})
}

func change(n *Network, b Branch, value, ohms float64) {
	if int(b) >= n.Branches() {
		return
	}
	switch n.kinds[b] {
	case isResistor:
		n.SetOhms(b, ohms)
	case isSource:
		if n.SetOhms(b, ohms); value > 100 {
			n.SetVolts(b, value/10-12)
		}
	case isCurrent:
		n.SetAmps(b, value/100-1)
	case isDevice:
		n.SetLaw(b, fuzzLaws[int(value)%len(fuzzLaws)])
	}
}

func known(t *testing.T, err error) {
	t.Helper()
	var value *ValueError
	var loop *DisagreementError
	var none *NoOperatingPointError
	if err != nil && !errors.As(err, &value) && !errors.As(err, &loop) && !errors.As(err, &none) {
		t.Fatalf("unknown error %v", err)
	}
}

func checkSolve(t *testing.T, n *Network, err error, s *Solution) {
	t.Helper()
	known(t, err)
	if err != nil {
		return
	}
	top := 0.0
	for v := range Node(n.Nodes()) {
		if math.IsNaN(s.Volts(v)) || math.IsInf(s.Volts(v), 0) {
			t.Fatalf("node %d at %v V", v, s.Volts(v))
		}
		top = max(top, math.Abs(s.Volts(v)))
	}
	if top < 100 {
		checkLaws(t, n, s)
	}
	if !(s.ResidualAmps <= max(worstAmps, n.rounding())) {
		t.Fatalf("accepted with %g A unbalanced", s.ResidualAmps)
	}
}
