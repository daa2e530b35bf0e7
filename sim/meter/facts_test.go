package meter_test

// This file holds facts that every electrician meets, each on an example vehicle. They are common practice, no source;
// what makes them checks is that the program was given resistances only, and none of these outcomes.

import (
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
	"underload/sim/part"
)

func TestUnfedFeedReadsAsGround(t *testing.T) {
	for _, c := range []struct {
		example  string
		faults   []string
		settings []string
		red, at  string
	}{
		{"orchard-sprayer", nil, nil, "B1.pos", "SW3.2"},                          // through the work lamp, its switch open
		{"ice-cream-van", []string{"F12 blown"}, []string{"KEY=run"}, "FB", "N1"}, // through the tell-tale
		{"mist-blower", nil, []string{"KEY=off"}, "BATT.pos", "K2.86"},            // through a relay coil
	} {
		b := bench(t, c.example, c.faults, c.settings...)
		if led := take(t, b, "led-light "+c.red+" "+c.at); led.Seen != "lit" {
			t.Errorf("%s: an LED light from battery plus to %s is %s: it should take it for a ground", c.example, c.at, led.Seen)
		}
		if v := take(t, b, "volts "+c.red+" "+c.at); *v.Value < 0.9*12.6 {
			t.Errorf("%s: %.2f V from battery plus to %s, which a meter should take for a ground", c.example, *v.Value, c.at)
		}
	}
	// A coil of 85 Ω cannot carry a lamp: the same point is no ground to a test lamp.
	b := bench(t, "mist-blower", nil, "KEY=off")
	if lamp := take(t, b, "test-lamp BATT.pos K2.86"); lamp.Seen == "bright" {
		t.Errorf("a 3 W lamp on a relay coil is %s, %.1f V", lamp.Seen, *lamp.Value)
	}
}

func TestLightTestPassesAndLoadTestFails(t *testing.T) {
	for _, c := range []struct{ example, fault, red, black string }{
		{"rescue-buggy", "G3 painted 1.2 ohm", "BATT.pos", "G3"},
		{"mist-blower", "G2 rust 0.9 ohm", "BATT.pos", "S3"},
		{"orchard-sprayer", "G2 rust 2 ohm", "B1.pos", "G2"},
	} {
		b := bench(t, c.example, []string{c.fault})
		light, load := take(t, b, "test-lamp "+c.red+" "+c.black), take(t, b, "load-lamp "+c.red+" "+c.black)
		if light.Seen != "bright" || light.HealthySeen != "bright" {
			t.Errorf("%s, %s: the test lamp is %s, healthy %s", c.example, c.fault, light.Seen, light.HealthySeen)
		}
		if load.Seen == "bright" || load.HealthySeen != "bright" || *load.Value > 0.75**load.Healthy {
			t.Errorf("%s, %s: the load lamp is %s at %.2f V, healthy %s at %.2f V", c.example, c.fault, load.Seen, *load.Value, load.HealthySeen, *load.Healthy)
		}
	}
}

// spreadGround is the terminal of a module's own plug with the harness side of it, a second pin on the same inside node,
// and the battery.
var spreadGround = []struct{ example, fault, harness, own, plus, minus, plug string }{
	{"library-van", "STEP.A8 spread 22 ohm", "STEP.A8", "STEP.A12", "BATT.pos", "BATT.neg", "STEP"},
	{"orchard-sprayer", "PC1.8 spread 6 ohm", "PC1.8", "PC1.8.pin", "B1.pos", "B1.neg", "PC1"},
}

func TestHarnessSideGoodWhileModulesGroundIsVoltsAway(t *testing.T) {
	for _, c := range spreadGround {
		b := bench(t, c.example, []string{c.fault}, "KEY=run")
		for _, test := range []string{"volts " + c.harness + " " + c.minus, "load-lamp " + c.plus + " " + c.harness} {
			r := take(t, b, test)
			if off := math.Abs(*r.Value - *r.Healthy); off > 0.05 {
				t.Errorf("%s: %s is off by %.3f V: the contact lies behind it", c.example, test, off)
			}
		}
		own := take(t, b, "!volts "+c.own+" "+c.minus)
		if own.Kick == nil || *own.Kick < 3 {
			t.Errorf("%s: the module's own ground kicks to %v, not volts away", c.example, own.Kick)
		}
	}
}

func TestSpreadTerminalPassesLoadLampApart(t *testing.T) {
	for _, c := range spreadGround {
		b := bench(t, c.example, []string{c.fault}, "KEY=run", "-"+c.plug)
		r := take(t, b, "load-lamp "+c.plus+" "+c.harness)
		if r.Seen != "bright" || math.Abs(*r.Value-*r.Healthy) > 0.001 {
			t.Errorf("%s apart: the load lamp is %s at %.4f V, healthy %.4f V", c.example, r.Seen, *r.Value, *r.Healthy)
		}
	}
}

func TestOneSilentModuleOrAShortedBus(t *testing.T) {
	silent := func(fault string) int {
		b := bench(t, "donor-bus", []string{fault}, "KEY=run")
		r, count := take(t, b, "roll-call"), 0
		for _, m := range b.Modules() {
			alone := "silent: " + m.Part.Name
			if len(r.Seen) >= len(alone) && r.Seen[len(r.Seen)-len(alone):] == alone {
				count = 1
			}
		}
		if r.Seen == "answers: none; silent: ENG, DASH, BODY, LIFT, FRIDGE" {
			count = 5
		}
		return count
	}
	for _, own := range []string{"LIFT.1 open", "LIFT.4 spread 40 ohm", "LIFT.2 backed-out", "F19 blown", "LIFT dead", "LIFT.L backed-out"} {
		if n := silent(own); n != 1 {
			t.Errorf("%s: %d silent, want LIFT alone", own, n)
		}
	}
	for _, shared := range []string{"LH short-to LL 0.3 ohm", "LIFT.H short-to LIFT.L", "LH short-to-ground"} {
		if n := silent(shared); n != 5 {
			t.Errorf("%s: %d silent, want all", shared, n)
		}
	}
}

// 12.1 V at rest is well below full (12.6 V and more), and still turns an engine that is in good order: the starter has
// nine tenths of its speed, far from stalling.
func TestHalfEmptyBatteryStillCranks(t *testing.T) {
	b := bench(t, "snow-groomer", []string{"BATT weak 12.1 V 5.5 mohm"})
	if r := take(t, b, "volts BATT.pos BATT.neg"); math.Abs(*r.Value-12.1) > 0.01 || *r.Healthy < 12.55 {
		t.Errorf("at rest %.2f V, healthy %.2f V", *r.Value, *r.Healthy)
	}
	b = bench(t, "snow-groomer", []string{"BATT weak 12.1 V 5.5 mohm"}, "KEY=crank")
	volts, amps := b.LoadVolts(b.Circuit().Part("ST"))
	const armatureOhms = 0.012
	speed := (volts - amps*armatureOhms) / (10.43 - 260*armatureOhms)
	if speed < 0.85 || speed > 0.95 {
		t.Errorf("the starter turns at %.0f %% of its speed", 100*speed)
	}
	for _, m := range b.Modules() {
		if m.Mode != part.Awake {
			t.Errorf("%s is %v while cranking", m.Part.Name, m.Mode)
		}
	}
}

// A support charger of 13.5 V and 30 mΩ beside a battery of 12.6 V and 6 mΩ, which takes charge from 13.0 V on, and, being
// nearly full, 14 times less willingly than it gives: 0.5 V over 30 mΩ and some 45 mΩ, so that the posts have 13.3 V.
func TestSupportChargerHoldsTheBatteryUp(t *testing.T) {
	b := bench(t, "library-van", nil, "BATT=support")
	want := (13.5/0.030 + 13.0/0.045) / (1/0.030 + 1/0.045)
	if r := take(t, b, "volts BATT.pos BATT.neg"); math.Abs(*r.Value-want) > 0.03 {
		t.Errorf("%.3f V, by hand %.3f V", *r.Value, want)
	}
}

// Between pulling in and letting go a relay stays as it was: the same volts on the same coil find it out in a morning,
// and in after the freezer has run once.
func TestRelayRemembers(t *testing.T) {
	coil := func(settings ...string) (volts float64, in bool) {
		b := bench(t, "ice-cream-van", []string{"F12 blown"}, settings...)
		return *take(t, b, "volts K7.86 K7.85").Value, b.State(b.Circuit().Part("K7")).PulledIn
	}
	morning, inAtMorning := coil("KEY=run")
	after, inAfter := coil("KEY=run", "COMP=on", "COMP=off")
	keyed, inKeyed := coil("KEY=run", "COMP=on", "COMP=off", "KEY=off", "KEY=run")
	if inAtMorning || !inAfter || inKeyed {
		t.Errorf("K7 is in: at first %v, after the freezer ran %v, after the key %v", inAtMorning, inAfter, inKeyed)
	}
	for _, volts := range []float64{morning, after, keyed} {
		if math.Abs(volts-5.8) > 0.2 { // the fan's own amps take a little off the bus
			t.Errorf("%.2f V on the coil", volts)
		}
	}
	// A new fuse takes the sneak path away, and the relay lets go.
	b := bench(t, "ice-cream-van", []string{"F12 blown"}, "KEY=run", "COMP=on", "COMP=off")
	if err := b.Mend("replace F12"); err != nil {
		t.Fatal(err)
	}
	if b.State(b.Circuit().Part("K7")).PulledIn {
		t.Error("K7 stays in with F12 replaced")
	}
}

// everythingOn has the settings that bring each example to its main loads.
var everythingOn = map[string][]string{
	"orchard-sprayer":    {"KEY=run", "SW3=on", "M1=on"},
	"library-van":        {"KEY=run", "M5=on"},
	"rescue-buggy":       {"KEY=run", "WM=on"},
	"mist-blower":        {"KEY=run", "SW3=on", "VALVES=on"},
	"snow-groomer":       {"KEY=crank"},
	"ice-cream-van":      {"KEY=run", "COMP=on"},
	"street-sweeper":     {"KEY=run", "FAN=on"},
	"donor-bus":          {"KEY=run"},
	"vineyard-harvester": {"KEY=run"},
	"bread-van":          {"KEY=run", "SW1=on", "TL=on", "BOLT=on"},
	"quarry-tanker":      {"ALT=running", "KEY=run"},
	"cinema-van":         {"KEY=run", "PROJSW=on", "GLSW=open", "FSW=on"},
	"ambulance-trailer":  {"KEY=run", "LIGHTS=side", "STOP=on", "FLASH=hazard", "FOG=on"},
}

// overLimit names what a healthy example loses beyond the limits of practice, and why: a limit without the amps and the
// length beside it condemns good wires. A side is that of any load.
var overLimit = map[string]string{
	"ambulance-trailer PLUG.6.b~S16": "6 m of 1.5 mm2: 76 mΩ x 3.4 A",
	"ambulance-trailer SL~S11":       "4.7 m of 1 mm2: 87 mΩ x 3.5 A",
	"ambulance-trailer SR~S14":       "4.7 m of 1 mm2: 87 mΩ x 3.5 A",
	"ambulance-trailer STOP.2~S6":    "5 m of 1.5 mm2: 64 mΩ x 7 A",
	"ambulance-trailer TG~PLUG.3.a":  "6 m of 2.5 mm2: 46 mΩ x 10.5 A, every lamp of the trailer at once",
	"ambulance-trailer feed side":    "11 m of thin wire to the trailer, with everything on",
	"ambulance-trailer ground side":  "7.5 m of wire from the trailer, with everything on",
	"bread-van K9.87~C20.1.a":        "4.2 m of 2.5 mm2: 32 mΩ x 12.3 A",
	"bread-van feed side":            "the same wire, and the window's last metre",
	"ice-cream-van K5.87~COMP.in":    "2 m of 2.5 mm2: 15.2 mΩ x 16 A",
	"ice-cream-van feed side":        "the same wire, and 23 A through the van's main feed",
	"orchard-sprayer W3":             "3.2 m of 2.5 mm2 at 31 °C: 25.4 mΩ x 10 A",
	"orchard-sprayer W41":            "4.5 m of 1 mm2 at 31 °C: 86.9 mΩ x 4.1 A",
	"orchard-sprayer feed side":      "the same wires",
	"snow-groomer feed side":         "0.53 V with the solenoid's contact, which practice counts apart",
	"street-sweeper feed side":       "28 A through relay, fuse and 3.7 m of wire, each within its limit",
}

func TestDropLimitsHoldOnHealthyExamples(t *testing.T) {
	seen := map[string]bool{}
	for _, example := range circuits.Names() {
		settings, ok := everythingOn[example]
		if !ok {
			t.Errorf("%s: what brings its main loads on?", example)
			continue
		}
		b := bench(t, example, nil, settings...)
		for _, p := range b.Circuit().Parts {
			if !p.Kind.Load || b.PartAmps(p) < 0.05 {
				continue
			}
			stairs, err := meter.Stairs(b, meter.StairsRequest{Part: p.Name})
			if err != nil {
				t.Errorf("%s, %s: %v", example, p.Name, err)
				continue
			}
			for place, lost := range overLimits(b, stairs) {
				key := example + " " + place
				seen[key] = true
				if overLimit[key] == "" {
					t.Errorf("%s loses %.3f V while %s takes %.1f A", key, lost, p.Name, stairs.Amps)
				}
			}
		}
	}
	for key, why := range overLimit {
		if !seen[key] {
			t.Errorf("%s is within its limit after all (%s)", key, why)
		}
	}
}

// overLimits lists the places of a staircase, and its two sides, that lose more than practice allows.
func overLimits(b *sim.Bench, s meter.Staircase) map[string]float64 {
	over := map[string]float64{}
	side, name := 0.0, "feed side"
	for _, st := range s.Steps {
		lost := st.UnderLoad.Lost
		limit := catalog.JointLimitVolts
		switch p := b.Circuit().Part(st.Place); {
		case st.Load:
			if side > catalog.SideLimitVolts {
				over[name] = side
			}
			side, name = 0, "ground side"
			continue
		case p != nil && (p.Kind.Name == "battery" || p.Kind.Name == "generator"):
			continue // its inside is no joint
		case p != nil && (p.Kind.Name == "switch" || p.Kind.Name == "relay"):
			limit = catalog.SwitchLimitVolts
		case b.Circuit().Wire(st.Place) != nil:
			limit = catalog.CableLimitVolts
		case p != nil && p.Kind.Name == "module":
			continue // its output, a transistor
		}
		side += lost
		if lost > limit {
			over[st.Place] = lost
		}
	}
	if side > catalog.SideLimitVolts {
		over[name] = side
	}
	return over
}

// In a short the smallest fuse goes first: a jumper's 10 A before a 15 A one, and a 5 A one before the jumper's.
func TestSmallestFuseGoesFirst(t *testing.T) {
	for _, c := range []struct {
		example, feed, minus, seen, effect string
	}{
		{"mist-blower", "F9.out", "BATT.neg", "the jumper's fuse blew", ""},
		{"rescue-buggy", "F6.out", "BATT.neg", "fuse holds", "F6 blows"},
	} {
		r := take(t, bench(t, c.example, nil, "KEY=run"), "jumper "+c.feed+" "+c.minus)
		if !strings.HasPrefix(r.Seen, c.seen) || !strings.Contains(r.Effect, c.effect) || (c.effect == "" && strings.Contains(r.Effect, "blows")) {
			t.Errorf("%s: jumper from %s to ground: %q, %q", c.example, c.feed, r.Seen, r.Effect)
		}
	}
}

// A lead clipped from the trailer's lamp metal to the car cures all: that is the proof.
func TestJumperCuresTheTrailer(t *testing.T) {
	b := bench(t, "ambulance-trailer", []string{"PLUG.3 corroded 3 ohm"}, everythingOn["ambulance-trailer"]...)
	r := take(t, b, "jumper TG BATT.neg")
	for _, lamp := range []string{"TL1", "TR1", "TS1", "TFL"} {
		if !strings.Contains(r.Meaning, lamp+" is bright") {
			t.Errorf("%s is not told to be cured: %s", lamp, r.Meaning)
		}
	}
	// With nothing wrong the same lead changes nothing.
	r = take(t, bench(t, "ambulance-trailer", nil, everythingOn["ambulance-trailer"]...), "jumper TG BATT.neg")
	if !strings.Contains(r.Meaning, "nothing in the circuit changes") {
		t.Error(r.Meaning)
	}
}

// Names within names: PC1 answers and PC10 does not, which makes one silent of two and not two of two.
func TestRollCallCountsByModule(t *testing.T) {
	const text = `underload: 1
parts:
  B: {is: battery}
  F: {is: fuse, rating: 10 A}
  PC1: {is: module, supply: [1], ground: [2]}
  PC10: {is: module, supply: [1], ground: [2]}
paths:
  one: [B.pos, F, wire, PC1.1]
  other: [F.out, wire, PC10.1]
  ground: [PC1.2, wire, B.neg]
  other ground: [PC10.2, wire W: BK 1.0 mm2 1 m, B.neg]
`
	c, problems := circuit.Read("two.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break("W open"); err != nil {
		t.Fatal(err)
	}
	r := take(t, b, "roll-call")
	if !strings.HasPrefix(r.Meaning, "1 of 2 silent") {
		t.Errorf("%s: %s", r.Seen, r.Meaning)
	}
	if len(r.Lines) != 1 || r.Lines[0] != "PC1 has recorded: lost contact with PC10" {
		t.Errorf("recorded: %q", r.Lines)
	}
}
