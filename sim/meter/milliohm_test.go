package meter

import (
	"math"
	"testing"

	"underload/circuit"
	"underload/sim"
)

const milliohmRail = `underload: 1
title: A tenth of a volt-thousandth over a milliohm, on a 12 V rail
ambient: 20 °C
parts:
  B: {is: battery, volts: 12 V, internal: 10 mohm}
  R: {is: resistor, resistance: 119.9 ohm}
connectors:
  C: {place: bench}
paths:
  loop:
    - B.pos
    - wire W1: 10 mohm
    - C.1
    - wire W2: 10 mohm
    - R
    - wire W3: 10 mohm
    - B.neg
terminals:
  C.1: {crimp: 0.5 mohm, contact: 1 mohm, behind: 0.5 mohm}
`

// A joint of one milliohm that carries a tenth of an ampere loses a tenth of a millivolt. A meter on it and a second
// one across the rail, 10 Mohm each, must not spoil the sixth digit: the answer is worked out beside it from the
// series resistances alone, and has to agree to a microvolt (it does to a picovolt).
func TestTenthOfAMillivoltOverAMilliohm(t *testing.T) {
	c, problems := circuit.Read("rail.yaml", []byte(milliohmRail))
	if c == nil {
		t.Fatal(problems)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	across := sim.Attachment{Red: "C.1.a", Black: "C.1.b", Ohms: 10e6}
	rail := sim.Attachment{Red: "C.1.a", Black: "B.neg", Ohms: 10e6}
	if err := b.Attach(across, rail); err != nil {
		t.Fatal(err)
	}
	// From the battery to C.1.a, from there through the joint and the load, and the rail meter beside the latter.
	upstream := 0.010 + 0.0001 + 0.0001 + 0.0001 + 0.010 + 0.0005
	joint := 1 / (1/0.001 + 1/10e6)
	rest := 0.0005 + 0.010 + 0.0005 + 0.002 + 0.0001 + 119.9 + 0.0001 + 0.002 + 0.0005 + 0.010 + 0.0001 + 0.0001 + 0.0001
	below := 1 / (1/(joint+rest) + 1/10e6)
	want := 12 * below / (upstream + below) * joint / (joint + rest)
	if math.Abs(want-1e-4) > 1e-6 {
		t.Fatalf("the circuit is not the one meant: %g V", want)
	}
	if got := b.AttachedVolts(0); math.Abs(got-want) > 1e-12 {
		t.Errorf("%.15g V over the joint, want %.15g", got, want)
	}
	r := take(t, b, Request{With: "volts", Red: "C.1.a", Black: "C.1.b"})
	near(t, "as the voltmeter has it", r.Value, want, 1e-6)
}
