package solver

// This file checks the choice among several operating points.

import (
	"errors"
	"math"
	"testing"

	"underload/solver/device"
)

// fedLoad is 12 V through a contact into 30 W of constant power with a knee at
// 4 V: the textbook case of a load with falling current. Kirchhoff's voltage law
// gives V^2 - 12 V + 30 R = 0 above the knee, so no operating point there once
// P R > E^2/4 (R > 1.2 ohm), and the divider of R and 16/30 ohm below it.
func fedLoad(contactOhms float64) (n *Network, contact Branch, load Node) {
	n = NewNetwork()
	supply, load := n.AddNode(), n.AddNode()
	n.AddSource(Ground, supply, 12, 0)
	contact = n.AddResistor(supply, load, contactOhms)
	n.AddDevice(load, Ground, device.ConstantPower{Watts: 30, KneeVolts: 4})
	return n, contact, load
}

// upper and lower are the two stable operating points, NaN where there is none.
func upper(ohms float64) float64 { return 6 + math.Sqrt(36-30*ohms) }
func lower(ohms float64) float64 { return 12 * (16. / 30) / (16./30 + ohms) }

func startAt(n *Network, load Node, volts float64) *Solution {
	s := &Solution{}
	s.fits(n)
	s.of = n
	s.volts[1], s.volts[load] = 12, volts
	return s
}

func TestWhichOperatingPoint(t *testing.T) {
	up, down := true, false
	tests := []struct {
		ohms   float64
		starts map[float64]bool // volts at the load -> ends up
	}{
		{0.5, map[float64]bool{0: up, 1: up, 4.5: up, 6: up, 12: up}},
		{1.0, map[float64]bool{0: up, 1: up, 4.5: up, 6: up, 12: up}},
		// The unstable points, 6 - sqrt(36 - 30 R), part the ways: 4.268, 4.658, 5.452 V.
		{1.10, map[float64]bool{0: down, 1: down, 4.2: down, 4.26: down, 4.28: up, 4.5: up, 6: up, 12: up}},
		{1.14, map[float64]bool{0: down, 1: down, 4.5: down, 4.6: down, 4.7: up, 6: up, 12: up}},
		{1.19, map[float64]bool{0: down, 1: down, 4.5: down, 5.4: down, 5.5: up, 6: up, 12: up}},
		{1.2001, map[float64]bool{0: down, 4.5: down, 6: down, 12: down}},
		{1.21, map[float64]bool{0: down, 1: down, 4.5: down, 6: down, 12: down}},
		{3, map[float64]bool{0: down, 12: down}},
	}
	for _, test := range tests {
		for start, isUp := range test.starts {
			n, _, load := fedLoad(test.ohms)
			s := startAt(n, load, start)
			if err := n.Solve(s); err != nil {
				t.Errorf("%v ohm from %v V: %v", test.ohms, start, err)
				continue
			}
			want := lower(test.ohms)
			if isUp {
				want = upper(test.ohms)
			}
			if math.Abs(s.Volts(load)-want) > 1e-8 {
				t.Errorf("%v ohm from %v V: %v V, want %v", test.ohms, start, s.Volts(load), want)
			}
			checkLaws(t, n, s)
			checkStable(t, n, s)
		}
	}
}

// Wherever it starts, the load must go up from above the unstable point, 6 -
// sqrt(36 - 30 R), and down from below it.
func TestUnstablePointPartsTheWays(t *testing.T) {
	for ohms := 1.085; ohms < 1.2; ohms += 0.0043 {
		watershed := 12 - upper(ohms)
		for start := 0.0; start < 14; start += 0.13 {
			if math.Abs(start-watershed) < 0.01 {
				continue
			}
			n, _, load := fedLoad(ohms)
			s := startAt(n, load, start)
			mustSolve(t, n, s)
			want := lower(ohms)
			if start > watershed {
				want = upper(ohms)
			}
			if math.Abs(s.Volts(load)-want) > 0.01 {
				t.Errorf("%v ohm from %v V: %v V, want %v", ohms, start, s.Volts(load), want)
			}
		}
	}
}

// Two equal loads in series cannot share the volts: the middle is a ridge, and
// the network must come off it to either side.
func TestTwoLoadsInSeries(t *testing.T) {
	n := NewNetwork()
	supply, upperEnd, middle := n.AddNode(), n.AddNode(), n.AddNode()
	n.AddSource(Ground, supply, 24, 0)
	n.AddResistor(supply, upperEnd, 0.5)
	n.AddDevice(upperEnd, middle, device.ConstantPower{Watts: 30, KneeVolts: 4})
	n.AddDevice(middle, Ground, device.ConstantPower{Watts: 30, KneeVolts: 4})
	var s Solution
	mustSolve(t, n, &s)
	checkLaws(t, n, &s)
	checkStable(t, n, &s)
	if v := s.Volts(middle); v > 1 && v < 22 {
		t.Errorf("the middle rests at %v V", v)
	}
}

func TestPowerUpEqualsStartFromZero(t *testing.T) {
	n, _, load := fedLoad(1.1)
	var s Solution
	mustSolve(t, n, &s)
	if math.Abs(s.Volts(load)-lower(1.1)) > 1e-8 {
		t.Errorf("power-up ends at %v V, want %v", s.Volts(load), lower(1.1))
	}
}

// Sweeping the contact up and then down shows hysteresis: the load falls off at
// the fold, 1.2 ohm, and comes back only where the lower point ends, at the knee:
// R = 16/30 (12/4 - 1) = 1.0667 ohm.
func TestHysteresis(t *testing.T) {
	n, contact, load := fedLoad(0.9)
	var s Solution
	sweep := func(from, to float64, steps int) (jump float64) {
		for i := range steps + 1 {
			ohms := from + (to-from)*float64(i)/float64(steps)
			n.SetOhms(contact, ohms)
			was := s.Volts(load)
			mustSolve(t, n, &s)
			checkStable(t, n, &s)
			if math.Abs(s.Volts(load)-was) > 1.5 {
				jump = ohms
			}
		}
		return jump
	}
	n.SetOhms(contact, 0.5)
	mustSolve(t, n, &s)
	if r := sweep(0.9, 1.3, 400); math.Abs(r-1.2) > 0.0021 {
		t.Errorf("rising contact: the load falls off at %v ohm, want 1.2", r)
	}
	// The rounded knee ends the lower branch a little before the sharp one would.
	if r := sweep(1.3, 0.9, 400); r < 1.0667 || r > 1.08 {
		t.Errorf("falling contact: the load comes back at %v ohm, want 1.0667 or a little more", r)
	}
}

// The same load at the end of a real harness, loaded to most of what its feed can
// give: whatever the start, what is shown is stable and balanced.
func TestNearMaximumPowerInWiring(t *testing.T) {
	const nodes = 400
	bare := loaded(nodes, 11)
	var open Solution
	mustSolve(t, bare, &open)
	at := Node(nodes - 3)
	tap := bare.Clone()
	probe := tap.AddCurrent(at, Ground, 0.1)
	var drawn Solution
	mustSolve(t, tap, &drawn)
	source := (open.Volts(at) - drawn.Volts(at)) / tap.Drive(probe)
	// A contact that makes the whole feed 1.15 ohm.
	contact := 1.15 - source
	if contact < 0.1 {
		t.Fatalf("the feed has %v ohm by itself: choose another node", source)
	}
	available := open.Volts(at) * open.Volts(at) / (4 * 1.15)
	for _, share := range []float64{0.5, 0.9, 0.97, 1.03} {
		n := bare.Clone()
		load := n.AddNode()
		n.AddResistor(at, load, contact)
		n.AddDevice(load, Ground, device.ConstantPower{Watts: share * available, KneeVolts: 4})
		for _, start := range []float64{0, 1, 3.9, 4.5, 5.5, 6.5, 9, 12} {
			var s Solution
			mustSolve(t, bare, &s)
			s.fits(n)
			s.of = n
			s.volts[load] = start
			if err := n.Solve(&s); err != nil {
				t.Errorf("%v of the maximum from %v V: %v", share, start, err)
				continue
			}
			checkLaws(t, n, &s)
			checkStable(t, n, &s)
			if share > 1 && s.Volts(load) > 4.1 {
				t.Errorf("%v of the maximum: %v V at the load", share, s.Volts(load))
			}
		}
	}
}

// lockout is a load of constant power that switches itself off below 7 V.
type lockout struct{ device.ConstantPower }

func (l lockout) At(volts float64) (amps, siemens float64) {
	if volts < 7 {
		return volts / 1e3, 1e-3
	}
	return l.ConstantPower.At(volts)
}

// Behind 1.5 ohm the load has no operating point: running it pulls its volts
// below 7, off it sees 12. A real one would go on and off for ever.
func TestLoadWithoutRest(t *testing.T) {
	n, contact, load := fedLoad(0.5)
	n.SetLaw(2, lockout{device.ConstantPower{Watts: 30, KneeVolts: 4}})
	s := startAt(n, load, 12)
	mustSolve(t, n, s)
	n.SetOhms(contact, 1.5)
	err := n.Solve(s)
	var none *NoOperatingPointError
	if !errors.As(err, &none) || none.Why != Restless || none.Node != load || none.ResidualAmps < 0.1 {
		t.Fatalf("got %v", err)
	}
	if math.Abs(s.Volts(load)-upper(0.5)) > 1e-8 {
		t.Errorf("a failed Solve changed the solution to %v V", s.Volts(load))
	}
	if none.Iterations > 20000 {
		t.Errorf("gave up only after %d iterations", none.Iterations)
	}
}
