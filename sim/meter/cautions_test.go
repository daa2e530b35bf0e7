package meter

// This file tests that cautions come where they apply: by the tags of a file, by the kind of part, by what the circuit
// does, and by what is put where.

import (
	"slices"
	"strings"
	"testing"

	"underload/circuit/catalog"
	"underload/sim"
)

// cautioned has something of everything: an air bag's connector, a battery, a fuel pump, a starter, a generator, a sensor.
const cautioned = `underload: 1
parts:
  B1:  {is: battery}
  ALT: {is: generator}
  F1:  {is: fuse, rating: 20 A}
  KEY: {is: switch, throws: {off: [], crank: [1-2]}}
  DASH: {is: switch, throws: {off: [], start: [1-2]}}
  ST:  {is: motor, draws: 150 A, at: 10 V, turns: engine}
  FP:  {is: motor, draws: 7 A, tags: [fuel]}
  FAN: {is: motor, draws: 9 A}
  ECU: {is: module, supply: [1], ground: [2], wake: [8], reference: [3], signals: [4], sensor ground: [5], boots as: 20 ohm, outputs: {6: {pulls to: ground, for: R1}}}
  POS: {is: sensor}
  L1:  {is: lamp, bulb: 5 W}
  R1:  {is: resistor, resistance: 50 ohm}
connectors:
  C1: {tags: [srs]}
paths:
  starter: [B1.pos, wire: 50 mm2 1 m, KEY.1-2, wire: 50 mm2 1 m, ST, wire: 50 mm2 0.2 m, G1]
  charge: [ALT.B+, wire: 16 mm2 1 m, B1.pos]
  case: [ALT.case, wire: 16 mm2 0.2 m, G1]
  feed: [B1.pos, wire WF: 4 mm2 1 m, F1, wire, S1]
  dash: [S1, wire, DASH.1-2, wire, G1]
  pump: [S1, wire WP: 1.5 mm2, FP, wire, G1]
  fan: [S1, wire: 1.5 mm2, FAN, wire, G1]
  ecu: [S1, wire, ECU.1]
  wake: [S1, wire, ECU.8]
  ground: [ECU.2, wire, G1]
  bag: [S1, wire WA, C1.1, wire, L1, wire, G1]
  ref: [ECU.3, wire, POS.supply]
  sig: [ECU.4, wire, POS.signal]
  gnd: [ECU.5, wire, POS.ground]
  out: [S1, wire, R1, wire, ECU.6]
grounds:
  G1: {to: B1.neg}
`

func TestCautionsWhereTheyApply(t *testing.T) {
	slimText := "is no feed and no ground"
	says := func(tag string) string {
		i := slices.Index(catalog.Tags(), tag)
		if i < 0 {
			t.Fatalf("there is no tag %s", tag)
		}
		return catalog.Cautions()[i].Says
	}
	lead := func(with, red, black string) Request { return Request{With: with, Red: red, Black: black} }
	for _, row := range []struct {
		set       []string
		q         Request
		want, not []string
	}{
		{nil, lead("volts", "F1.in", "G1"), nil, []string{says("srs"), says("battery"), says("fuel"), says("crank"), says("exhaust"), probeCaution, lampCaution}},
		{nil, lead("volts", "B1.pos", "G1"), []string{says("battery")}, []string{says("srs"), probeCaution}},
		{nil, lead("volts", "C1.1.a", "G1"), []string{says("srs"), probeCaution}, []string{says("battery")}},
		{[]string{"apart C1"}, Request{With: "drag", Red: "C1.1"}, []string{says("srs"), probeCaution}, []string{says("fuel")}},
		{nil, Request{With: "clamp", On: "WA"}, []string{says("srs")}, []string{probeCaution}},
		{nil, Request{With: "clamp", On: "WP"}, []string{says("fuel")}, []string{says("motion"), says("srs")}},
		{nil, Request{With: "clamp", On: "WF"}, []string{says("battery")}, []string{says("fuel")}},
		{nil, lead("volts", "FAN.in", "G1"), []string{says("motion")}, []string{says("fuel")}},
		{nil, lead("volts", "F1.in", "ST.in"), []string{says("crank")}, nil},
		{[]string{"KEY=crank"}, lead("volts", "F1.in", "G1"), []string{says("crank")}, []string{says("exhaust")}},
		{[]string{"ALT=running"}, lead("volts", "F1.in", "G1"), []string{says("exhaust")}, []string{says("crank")}},
		{[]string{"DASH=start"}, lead("volts", "F1.in", "G1"), []string{says("crank")}, nil},
		{[]string{"F1=30 A"}, lead("volts", "F1.in", "G1"), []string{says("fuse")}, nil},
		{[]string{"F1=15 A"}, lead("volts", "F1.in", "G1"), nil, []string{says("fuse")}},
		{nil, lead("test-lamp", "F1.in", "ECU.4"), []string{"ECU.4 " + slimText}, []string{lampCaution, "F1.in " + slimText}},
		{nil, lead("load-lamp", "F1.in", "POS.signal"), []string{"POS.signal " + slimText, lampCaution}, nil},
		{nil, lead("jumper", "F1.in", "ECU.6"), []string{"ECU.6 " + slimText, jumperCaution}, nil},
		{nil, lead("test-lamp", "ECU.1", "ECU.2"), nil, []string{slimText}},
		{nil, lead("test-lamp", "ECU.8", "G1"), nil, []string{slimText}},
		{nil, lead("volts", "ECU.4", "ECU.5"), nil, []string{slimText}},
	} {
		r := take(t, laidAs(t, cautioned, row.set), row.q)
		told := strings.Join(r.Cautions, "\n")
		for _, want := range row.want {
			if !strings.Contains(told, want) {
				t.Errorf("%v %+v: no %q in\n%s", row.set, row.q, want, told)
			}
		}
		for _, not := range row.not {
			if strings.Contains(told, not) {
				t.Errorf("%v %+v: %q in\n%s", row.set, row.q, not, told)
			}
		}
	}
}

// 24 V are seen at the battery.
func TestCautionAt24Volts(t *testing.T) {
	for volts, want := range map[string]bool{"12.6 V": false, "14.6 V": false, "25.2 V": true} {
		b := laidAs(t, strings.Replace(cautioned, "B1:  {is: battery}", "B1:  {is: battery, volts: "+volts+"}", 1), nil)
		r := take(t, b, Request{With: "volts", Red: "F1.in", Black: "G1"})
		if got := slices.Contains(r.Cautions, CautionsOf([]string{"24v"})[0]); got != want {
			t.Errorf("%s: %v", volts, r.Cautions)
		}
	}
}

// Two batteries of 12 V are 24 V in series, and not side by side.
func TestCautionOfBatteriesInSeries(t *testing.T) {
	const two = "underload: 1\nparts:\n  B1: {is: battery}\n  B2: {is: battery}\n  L: {is: lamp, bulb: 5 W}\npaths:\n  lamp: [B1.pos, wire, L, wire, B2.neg]\n"
	for joined, want := range map[string]bool{"  series: [B2.pos, wire, B1.neg]\n": true, "  plus: [B1.pos, wire, B2.pos]\n  minus: [B1.neg, wire, B2.neg]\n": false} {
		r := take(t, laidAs(t, two+joined, nil), Request{With: "volts", Red: "L.in", Black: "B2.neg"})
		if got := slices.Contains(r.Cautions, CautionsOf([]string{"24v"})[0]); got != want {
			t.Errorf("%s: %v", joined, r.Cautions)
		}
	}
}

// A battery that is not of lead has the cautions of its own kind.
func TestCautionOfLithium(t *testing.T) {
	b := laidAs(t, strings.Replace(cautioned, "B1:  {is: battery}", "B1:  {is: battery, tags: [lithium]}", 1), nil)
	r := take(t, b, Request{With: "volts", Red: "B1.pos", Black: "G1"})
	if !slices.Contains(r.Cautions, CautionsOf([]string{"lithium"})[0]) || slices.Contains(r.Cautions, CautionsOf([]string{"battery"})[0]) {
		t.Errorf("%v", r.Cautions)
	}
}

// What is set while an instrument is on a circuit in motion brings its cautions.
func TestCautionsFollowInMotion(t *testing.T) {
	b := laidAs(t, cautioned, nil)
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := Move(r, b, Request{With: "volts", Red: "F1.in", Black: "G1"})
	if err != nil {
		t.Fatal(err)
	}
	exhaust := CautionsOf([]string{"exhaust"})[0]
	if slices.Contains(m.Reading().Cautions, exhaust) {
		t.Error("an engine at rest is cautioned of")
	}
	if err := b.Set("ALT=running"); err != nil {
		t.Fatal(err)
	}
	m.Set(b, nil)
	if !slices.Contains(m.Reading().Cautions, exhaust) {
		t.Errorf("with the engine running: %v", m.Reading().Cautions)
	}
}

// A fuse that a fault has made too large is not given away by a caution.
func TestNoCautionGivesAFaultAway(t *testing.T) {
	b := laidAs(t, cautioned, nil)
	q := Request{With: "volts", Red: "F1.in", Black: "G1"}
	before := take(t, b, q).Cautions
	if err := b.Break("F1 wrong-fuse 40 A"); err != nil {
		t.Fatal(err)
	}
	if after := take(t, b, q).Cautions; !slices.Equal(before, after) {
		t.Errorf("with a wrong fuse: %v, without %v", after, before)
	}
}

// A staircase is cautioned of as a reading is.
func TestStaircaseCautions(t *testing.T) {
	for _, row := range []struct {
		q    StairsRequest
		want []string
	}{
		{StairsRequest{Red: "C1.1.a", Black: "G1"}, append(CautionsOf([]string{"srs"}), probeCaution, lampCaution)},
		{StairsRequest{Red: "C1.1.a", Black: "G1", With: "4 ohm"}, append(CautionsOf([]string{"srs"}), probeCaution)},
		{StairsRequest{Red: "B1.pos", Black: "G1"}, append(CautionsOf([]string{"battery"}), lampCaution)},
		{StairsRequest{Part: "FP"}, CautionsOf([]string{"fuel"})},
		{StairsRequest{Part: "FAN"}, CautionsOf([]string{"motion"})},
		{StairsRequest{Part: "L1"}, nil},
	} {
		s, err := Stairs(laidAs(t, cautioned, nil), row.q)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(s.Cautions, row.want) {
			t.Errorf("%+v: %q, want %q", row.q, s.Cautions, row.want)
		}
	}
}

func laidAs(t *testing.T, text string, set []string) *sim.Bench {
	t.Helper()
	b := laid(t, text)
	for _, s := range set {
		do := b.Set
		if name, ok := strings.CutPrefix(s, "apart "); ok {
			s, do = name, b.Apart
		}
		if err := do(s); err != nil {
			t.Fatal(err)
		}
	}
	return b
}
