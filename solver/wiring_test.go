package solver

// This file makes the networks that the tests share.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/device"
	"underload/solver/internal/harness"
)

// fromHarness builds a Network with the harness's nodes 0.. as nodes 1.. and one
// branch per edge, in order. It replaces the harness's conductances by those the
// Network really uses, 1/(1/g).
func fromHarness(h *harness.Network) *Network {
	n := NewNetwork()
	for range h.Nodes {
		n.AddNode()
	}
	for i, e := range h.Edges {
		ohms := 1 / h.Siemens[i]
		h.Siemens[i] = 1 / ohms
		a, b := Node(e[0]+1), Node(e[1]+1)
		if h.Volts[i] != 0 {
			n.AddSource(b, a, h.Volts[i], ohms)
		} else {
			n.AddResistor(a, b, ohms)
		}
	}
	return n
}

// loaded is wiring of the harness's shape with 1 to 3 percent of its branches
// made lamps, diodes and constant-power loads. An ideal source feeds it, and one
// of 20 milliohms every hundred nodes, so that most of it stays near 12 V.
func loaded(nodes int, seed uint64) *Network {
	h := harness.Random(nodes, seed)
	g := rand.New(rand.NewPCG(seed, 77))
	n := NewNetwork()
	for range h.Nodes {
		n.AddNode()
	}
	for v := 100; v < nodes; v += 100 {
		n.AddSource(Ground, Node(v), 12.6, 0.02)
	}
	for i, e := range h.Edges {
		a, b := Node(e[0]+1), Node(e[1]+1)
		isLoad := h.Siemens[i] >= 1e-3 && h.Siemens[i] < 10 && h.Volts[i] == 0
		switch u := g.Float64(); {
		case i == 0:
			n.AddSource(b, a, h.Volts[i], 0)
		case h.Volts[i] != 0:
			n.AddSource(b, a, h.Volts[i], 1/h.Siemens[i])
		case !isLoad:
			n.AddResistor(a, b, 1/h.Siemens[i])
		case u < 0.06:
			n.AddDevice(a, Ground, device.Filament{RatedVolts: 12, RatedWatts: 2 + 20*g.Float64()})
		case u < 0.09:
			d := device.Junction{SaturationAmps: 1e-12, Ideality: 1.7, ThermalVolts: device.ThermalVolts27C, SeriesOhms: 0.02 * float64(i%2)}
			k := n.AddNode()
			n.AddDevice(a, k, d)
			n.AddResistor(k, Ground, 20+200*g.Float64())
		case u < 0.14:
			n.AddDevice(a, Ground, device.ConstantPower{Watts: 0.5 + 4*g.Float64(), KneeVolts: 4})
		default:
			n.AddResistor(a, b, 100/h.Siemens[i])
		}
	}
	return n
}

func devices(n *Network) int {
	count := 0
	for _, k := range n.kinds {
		if k == isDevice {
			count++
		}
	}
	return count
}

// mustSolve solves and fails the test on any error.
func mustSolve(t testing.TB, n *Network, into *Solution) {
	t.Helper()
	if err := n.Solve(into); err != nil {
		t.Fatalf("solve: %v", err)
	}
}

// checkLaws makes sure that a solution obeys every branch's law and Kirchhoff's
// current law at every node but Ground, and that power balances (Tellegen). It
// uses nothing but what a Solution answers.
func checkLaws(t testing.TB, n *Network, s *Solution) {
	t.Helper()
	leaving := make([]float64, n.Nodes())
	power, turnover := 0.0, 0.0
	for b := range Branch(n.Branches()) {
		from, to := n.Ends(b)
		amps, drop := s.Amps(b), s.Drop(b)
		leaving[from] += amps
		leaving[to] -= amps
		power += s.Watts(b)
		turnover += math.Abs(s.Watts(b))
		var wrong float64
		switch n.kinds[b] {
		case isDevice:
			want, _ := n.Law(b).At(drop)
			wrong = amps - want - LeakSiemens*drop
		case isCurrent:
			wrong = amps - n.Drive(b)
		case isResistor:
			if wrong = drop - amps*n.Ohms(b); math.IsInf(n.Ohms(b), 1) {
				wrong = amps
			}
		case isSource:
			if wrong = drop + n.EMF(b) - amps*n.Ohms(b); math.IsInf(n.Ohms(b), 1) {
				wrong = amps
			}
		}
		if !(math.Abs(wrong) <= 1e-9*(1+math.Abs(amps))) {
			t.Fatalf("branch %d (kind %d, %v V, %v A) misses its law by %g", b, n.kinds[b], drop, amps, wrong)
		}
	}
	for v, i := range leaving {
		if Node(v) != Ground && !(math.Abs(i) <= worstAmps) {
			t.Fatalf("node %d: %g A do not balance", v, i)
		}
	}
	// Ground takes what the rest leaves over, so it must balance as well.
	if !(math.Abs(leaving[Ground]) <= worstAmps*float64(n.Nodes())) {
		t.Fatalf("ground: %g A do not balance", leaving[Ground])
	}
	if !(math.Abs(power) <= 1e-6*(1+turnover)) {
		t.Fatalf("%g W of %g W do not balance", power, turnover)
	}
}
