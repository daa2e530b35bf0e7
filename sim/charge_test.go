package sim_test

// This file holds the generator and the battery on charge against sums done by hand.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim"
)

// charging is a generator and a lamp's worth of load beside a battery, all wires of known ohms. All terminals are made
// small beside them.
const charging = `
underload: 1
parts:
  BATT: {is: battery, volts: 12.5 V, internal: 6 mohm, charges from: 13.0 V, charging: 30 mohm}
  ALT: {is: generator, volts: 14.3 V, internal: 2 mohm, limit: 70 A}
  SW: {is: switch, contact: 1 mohm, throws: {off: [], on: [1-2]}}
  R: {is: resistor, resistance: %s}
paths:
  plus: [ALT.B+, wire: 10 mohm, BATT.pos]
  load: [BATT.pos, wire: 1 mohm, SW, R, G1]
  minus: [ALT.case, G1]
  home: [G1, wire: 1 mohm, BATT.neg]
grounds: {G1: {stud: 1 uohm}}
terminals:
  ALT.B+: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  ALT.case: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  BATT.pos: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  BATT.neg: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  SW.1: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  SW.2: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  R.in: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
  R.out: {crimp: 1 uohm, contact: 1 uohm, behind: 1 uohm}
`

func chargingBench(t *testing.T, load, fault string, settings ...string) *sim.Bench {
	t.Helper()
	c, problems := circuit.Read("charging.yaml", []byte(fmt.Sprintf(charging, load)))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if fault != "" {
		if err := b.Break(fault); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range settings {
		if err := b.Set(s); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

func between(t *testing.T, b *sim.Bench, red, black string) float64 {
	t.Helper()
	r, err := b.Circuit().Point(red)
	if err != nil {
		t.Fatal(err)
	}
	k, err := b.Circuit().Point(black)
	if err != nil {
		t.Fatal(err)
	}
	return b.Volts(r) - b.Volts(k)
}

func TestChargingByHand(t *testing.T) {
	for _, c := range []struct {
		name, load, fault string
		settings          []string
		battery, at       float64 // volts at the battery's posts and at the generator
	}{
		{"stands", "1 ohm", "", nil, 12.5, 12.5},
		{"stands, loaded", "0.6 ohm", "", []string{"SW=on"}, 12.5 - 12.5/0.609*0.006, 12.5 - 12.5/0.609*0.007},
		// 1.3 V over 2 + 10 + 30 + 1 mΩ: 30.2 A of charge.
		{"charges", "1 ohm", "", []string{"ALT=running"}, 13 + 1.3/0.043*0.030, 14.3 - 1.3/0.043*0.002},
		{"runs and stands again", "1 ohm", "", []string{"ALT=running", "ALT=still"}, 12.5, 12.5},
		// 15 A is all it gives, and charge takes it all.
		{"belt slips", "1 ohm", "ALT slips 15 A", []string{"ALT=running"}, 13 + 15*0.030, 13 + 15*0.041},
		// 15 A is all it gives; of the load's 25 A the battery gives the rest: 15 A + (12.5 V - v) / 6 mΩ = v / 0.502 Ω,
		// the 1 mΩ home wire neglected.
		{"belt slips, loaded", "0.5 ohm", "ALT slips 15 A", []string{"ALT=running", "SW=on"}, (15 + 12.5/0.006) / (1/0.502 + 1/0.006), math.NaN()},
		// The engine idles: of the load's 41 A it gives 35, and a slipping belt does not make that more.
		{"idles, loaded", "0.3 ohm", "", []string{"ALT=idling", "SW=on"}, (35 + 12.5/0.006) / (1/0.302 + 1/0.006), math.NaN()},
		{"idles, belt slips a little", "0.3 ohm", "ALT slips 50 A", []string{"ALT=idling", "SW=on"}, (35 + 12.5/0.006) / (1/0.302 + 1/0.006), math.NaN()},
		{"idles and runs again", "1 ohm", "", []string{"ALT=idling", "ALT=running"}, 13 + 1.3/0.043*0.030, 14.3 - 1.3/0.043*0.002},
		// 20 A is less than half of what the load takes at 12.75 V, and more than it takes at 12.5: the battery rests.
		{"battery neither gives nor takes", "0.628 ohm", "ALT slips 20 A", []string{"ALT=running", "SW=on"}, 20 * 0.630, math.NaN()},
		{"does not charge", "1 ohm", "ALT dead", []string{"ALT=running"}, 12.5, 12.5},
		// A bad diode of 25 Ω: half an ampere goes home through the block.
		{"leaks", "1 ohm", "ALT leaks 25 ohm", nil, 12.5 - 0.5*0.006, 12.5 - 0.5*0.017},
	} {
		b := chargingBench(t, c.load, c.fault, c.settings...)
		if got := between(t, b, "BATT.pos.pin", "BATT.neg.pin"); math.Abs(got-c.battery) > 0.002 {
			t.Errorf("%s: %.4f V at the battery, by hand %.4f V", c.name, got, c.battery)
		}
		if got := between(t, b, "ALT.B+", "ALT.case"); !math.IsNaN(c.at) && math.Abs(got-c.at) > 0.002 {
			t.Errorf("%s: %.4f V at the generator, by hand %.4f V", c.name, got, c.at)
		}
	}
}

// A generator's diodes let nothing back: a charger on the battery does not feed the generator.
func TestNothingFlowsBackIntoAGenerator(t *testing.T) {
	b := chargingBench(t, "1 ohm", "", "ALT=running")
	if err := b.Attach(sim.Attachment{Red: "BATT.pos", Black: "BATT.neg", Volts: 15.5, Ohms: 0.001}); err != nil {
		t.Fatal(err)
	}
	amps, _, _ := b.WireAmps(b.Circuit().Wire("ALT.B+~BATT.pos"))
	if math.Abs(amps) > 0.001 {
		t.Errorf("%.3f A in the generator's feed", amps)
	}
}

func TestGeneratorSettings(t *testing.T) {
	b := chargingBench(t, "1 ohm", "")
	err := b.Set("ALT=on")
	if err == nil || !strings.Contains(err.Error(), "ALT=running") {
		t.Errorf("%v", err)
	}
}

// With the generator running, the way of a load's current begins in it.
func TestWayBeginsInTheGenerator(t *testing.T) {
	b := chargingBench(t, "1 ohm", "", "ALT=running", "SW=on")
	way, err := b.TracePart(b.Circuit().Part("R"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if way.Battery.Name != "ALT" {
		t.Errorf("it begins in %s", way.Battery.Name)
	}
	if open, _, _ := b.Ends(way.Up[0], false); math.Abs(open-between(t, b, "ALT.case.pin", "BATT.neg.pin")-14.3) > 0.001 {
		t.Errorf("it begins at %.3f V", open)
	}
}

// A module held awake takes its current with the key off.
func TestHeldAwake(t *testing.T) {
	c, err := circuits.Read("cinema-van")
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break("TEL awake"); err != nil {
		t.Fatal(err)
	}
	for _, m := range b.Modules() {
		if want := 0.004 * m.SupplyVolts / 12.5; m.Part.Name == "TEL" && m.Amps < 10*want {
			t.Errorf("TEL takes %.4f A", m.Amps)
		}
	}
}
