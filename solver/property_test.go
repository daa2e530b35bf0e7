package solver

// This file checks on random networks what must hold in any network.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
)

func randomLaw(g *rand.Rand) func() Law {
	return func() Law {
		switch g.IntN(6) {
		case 0:
			return device.Junction{SaturationAmps: math.Pow(10, -15+9*g.Float64()), Ideality: 1 + g.Float64(), ThermalVolts: device.ThermalVolts27C}
		case 1:
			return device.Junction{SaturationAmps: 1e-9, Ideality: 2, ThermalVolts: device.ThermalVolts27C, SeriesOhms: g.Float64()}
		case 2:
			return device.Filament{RatedVolts: 12, RatedWatts: 1 + 60*g.Float64()}
		case 3:
			return device.ConstantPower{Watts: 30 * g.Float64(), KneeVolts: 1 + 5*g.Float64()}
		case 4:
			return device.LimitedSource{Volts: 12 * g.Float64(), Ohms: 0.01 + g.Float64(), LimitAmps: 0.1 + 5*g.Float64()}
		}
		return device.SteadyMotor{RatedVolts: 12, RatedAmps: 5, StallAmps: 10 + 40*g.Float64(), FrictionShare: g.Float64()}
	}
}

// Every operating point that is shown must obey every law, Kirchhoff and Tellegen,
// and be stable: no negative eigenvalue in the matrix of slopes.
func TestOperatingPointsObeyTheLaws(t *testing.T) {
	const networks = 400
	failed := 0
	for seed := range uint64(networks) {
		g := rand.New(rand.NewPCG(seed, 2))
		n := random(g, 2+g.IntN(60), randomLaw(g))
		var s Solution
		err := n.Solve(&s)
		var none *NoOperatingPointError
		if errors.As(err, &none) {
			t.Logf("seed %d: %v", seed, err)
			failed++
			continue
		}
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		checkLaws(t, n, &s)
		checkStable(t, n, &s)
		again := s.Volts(1)
		mustSolve(t, n, &s)
		if math.Abs(s.Volts(1)-again) > 1e-6 {
			t.Errorf("seed %d: solving again moved node 1 from %v to %v V", seed, again, s.Volts(1))
		}
	}
	if failed > 0 {
		t.Errorf("%d of %d networks without an operating point", failed, networks)
	}
}

// checkStable factors the matrix of slopes at the solution afresh.
func checkStable(t *testing.T, n *Network, s *Solution) {
	t.Helper()
	p := n.plan
	siemens := make([]float64, len(p.branch))
	for e, b := range p.branch {
		siemens[e] = n.siemens[b]
		if e >= p.linear {
			_, g := n.Law(b).At(s.Drop(b))
			siemens[e] = g + LeakSiemens
		}
	}
	f := p.pattern.NewFactor()
	f.Refactor(siemens)
	if f.NegativePivots() > 0 {
		t.Fatalf("accepted an unstable operating point: %d negative pivots", f.NegativePivots())
	}
}
