package sim

// This file holds how circuits come to rest, or do not: small circuits of which the outcome follows from the parts'
// own thresholds by hand.

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"underload/circuit"
	"underload/sim/part"
)

// A relay whose coil is fed through its own resting contact is a buzzer.
const buzzer = `underload: 1
parts:
  B: {is: battery}
  K1: {is: relay}
paths:
  coil through the resting contact:
    - B.pos
    - wire
    - K1.30-87a
    - wire
    - K1.86-85
    - wire
    - B.neg
`

func read(t *testing.T, text string) *circuit.Circuit {
	t.Helper()
	c, problems := circuit.Read("test.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	return c
}

// A relay that breaks its own coil's feed buzzes: let go, its coil has the battery's volts before it; pulled in, none.
func TestBuzzerChatters(t *testing.T) {
	b, err := New(read(t, buzzer))
	if err != nil {
		t.Fatal(err)
	}
	if !b.Chatters(b.c.Part("K1")) || !slices.Contains(b.Moved(), "K1 chatters") {
		t.Fatalf("K1 does not chatter: %v", b.Moved())
	}
	coil, err := b.c.Point("K1.86")
	if err != nil {
		t.Fatal(err)
	}
	kick, ok := b.KickVolts(coil)
	if b.Volts(coil) < 12 || !ok || kick > 0.1 {
		t.Errorf("coil %.2f V let go, %.2f V pulled in", b.Volts(coil), kick)
	}
}

// Two modules behind one resistance.
const twoModules = `underload: 1
parts:
  B: {is: battery}
  M1: {is: module, supply: [a], ground: [b]}
  M2: {is: module, supply: [a], ground: [b]}
connectors:
  C: {}
paths:
  first:
    - B.pos
    - C.1
    - S1
    - wire
    - M1.a
  second:
    - S1
    - wire
    - M2.a
  grounds:
    - M1.b
    - wire
    - B.neg
  more:
    - M2.b
    - wire
    - B.neg
`

// Whatever stands in their common feed, each module's volts fit its mode.
func TestTwoModulesOnOneBadFeed(t *testing.T) {
	c := read(t, twoModules)
	const runs, resets = 9, 6.5
	seen := map[part.Mode]bool{}
	for ohms := 0.1; ohms < 1e5; ohms *= 1.1 {
		b := broken(t, c, fmt.Sprintf("C.1 high %.4g ohm", ohms))
		for _, m := range b.Modules() {
			seen[m.Mode] = true
			fits := map[part.Mode]bool{
				part.Awake:   m.SupplyVolts >= resets,
				part.Hung:    m.SupplyVolts >= resets && m.SupplyVolts < runs,
				part.Cycling: m.KickVolts < resets+0.002,
				part.Off:     m.SupplyVolts < runs,
			}
			if !fits[m.Mode] {
				t.Errorf("%.3g Ω: %s is %v at %.2f V, kick %.2f V", ohms, m.Part.Name, m.Mode, m.SupplyVolts, m.KickVolts)
			}
		}
	}
	for _, m := range []part.Mode{part.Awake, part.Hung, part.Cycling, part.Off} {
		if !seen[m] {
			t.Errorf("no resistance brought a module to %v", m)
		}
	}
}

// Two alike modules behind one resistance fare alike: they boot at the same moment, whatever their order in the file. 18 Ω
// each is 9 Ω together, which leaves 9 V of 12.6 V up to 3.6 Ω less the wires, and 6.5 V up to 8.4 Ω.
func TestAlikeModulesFareAlike(t *testing.T) {
	c := read(t, twoModules)
	for ohms, want := range map[string]part.Mode{"2 ohm": part.Awake, "5 ohm": part.Hung, "12 ohm": part.Cycling} {
		for _, m := range broken(t, c, "C.1 high "+ohms).Modules() {
			if m.Mode != want {
				t.Errorf("%s: %s is %v, want %v", ohms, m.Part.Name, m.Mode, want)
			}
		}
	}
}

func broken(t *testing.T, c *circuit.Circuit, faults ...string) *Bench {
	t.Helper()
	b, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break(faults...); err != nil {
		t.Fatal(err)
	}
	return b
}

// One module behind R on 12.6 V, which boots as 18 Ω, draws 8.125 W awake, needs 9 V to start and 6.5 V to stay:
// awake it stays while V(12.6 - V)/8.125 W > R at 6.5 V, R < 4.88 Ω; it gets through its boot while 18 Ω leaves it 9 V,
// R < 7.2 Ω, and does not reset in it while that is 6.5 V, R < 16.9 Ω; asleep at 0.3 mA it has 9 V up to 16.7 kΩ.
func TestModesOfOneModuleBehindAResistance(t *testing.T) {
	c := read(t, `underload: 1
parts:
  B: {is: battery}
  M1: {is: module, supply: [a], ground: [b]}
connectors:
  C: {}
paths:
  loop:
    - B.pos
    - C.1
    - wire
    - M1.a
  ground:
    - M1.b
    - wire
    - B.neg
`)
	for _, want := range []struct {
		ohms float64
		mode part.Mode
	}{
		{0.01, part.Awake}, {1, part.Awake}, {4.7, part.Awake},
		{5.0, part.Cycling}, {7.0, part.Cycling},
		{7.4, part.Hung}, {16.5, part.Hung},
		{17.3, part.Cycling}, {1000, part.Cycling}, {16000, part.Cycling},
		{17400, part.Off}, {1e6, part.Off},
	} {
		b := broken(t, c, fmt.Sprintf("C.1 high %.4g ohm", want.ohms))
		if got := b.Modules()[0]; got.Mode != want.mode {
			t.Errorf("%g Ω: %v at %.2f V, by hand %v", want.ohms, got.Mode, got.SupplyVolts, want.mode)
		}
	}
}

const fused = `underload: 1
parts:
  B: {is: battery}
  F1: {is: fuse, rating: 10 A}
  F2: {is: fuse, rating: 30 A}
  R1: {is: resistor, resistance: 2.4 ohm}
  R2: {is: resistor, resistance: 2.4 ohm}
paths:
  first:
    - B.pos
    - F2
    - S1
    - F1
    - wire W1: 10 mohm
    - R1
    - wire
    - B.neg
  second:
    - S1
    - wire
    - R2
    - wire
    - B.neg
`

// A chafed wire blows its own fuse and not the larger one before it. The fuse stays blown until it is replaced, and
// then blows again until the wire is mended.
func TestFuseBlowsAndStaysBlown(t *testing.T) {
	c := read(t, fused)
	b := broken(t, c, "W1 short-to B.neg 0.5 ohm")
	blown := func(name string) bool { return b.State(c.Part(name)).Blown }
	if !blown("F1") || blown("F2") || !slices.Contains(b.Moved(), "F1 blows") {
		t.Fatalf("F1 %v, F2 %v, %v", blown("F1"), blown("F2"), b.Moved())
	}
	if _, amps := b.LoadVolts(c.Part("R2")); math.Abs(amps-5.1) > 0.2 {
		t.Errorf("the other branch takes %.2f A", amps)
	}
	for _, act := range []struct {
		mend  string
		blown bool
	}{{"replace F1", true}, {"repair W1", true}, {"replace F1", false}} {
		if err := b.Mend(act.mend); err != nil {
			t.Fatal(err)
		}
		if blown("F1") != act.blown {
			t.Errorf("after %s F1 is blown: %v", act.mend, blown("F1"))
		}
	}
}

// A wire given by its ohms has no strands to count.
func TestStrandsNeedASize(t *testing.T) {
	b := broken(t, read(t, fused))
	if err := b.Break("W1 strands 1/16"); err == nil || len(b.Faults()) > 0 {
		t.Errorf("%v", err)
	}
}

// The wrong fuse goes when the fuse is seen to, whatever the act is called.
func TestWrongFuseIsPutRight(t *testing.T) {
	c := read(t, fused)
	for _, act := range []string{"replace F1", "repair F1"} {
		b := broken(t, c, "F1 wrong-fuse 3 A")
		if !b.State(c.Part("F1")).Blown {
			t.Fatal("a 3 A fuse carries 5 A")
		}
		if err := b.Mend(act); err != nil {
			t.Fatal(err)
		}
		if s := b.State(c.Part("F1")); s.Blown || s.RatingAmps != 0 {
			t.Errorf("after %s: %+v", act, s)
		}
	}
}

// A fuse that is put in place of a blown or wrong one stays what it is when something else is broken.
func TestAFittedFuseStays(t *testing.T) {
	c := read(t, fused)
	for _, wrong := range []string{"F1 blown", "F1 wrong-fuse 3 A"} {
		b := broken(t, c, wrong)
		if err := b.Set("F1=15 A"); err != nil {
			t.Fatal(err)
		}
		if _, is := b.Overlay().RatingAmps[c.Part("F1")]; is || b.Overlay().Blown[c.Part("F1")] || len(b.Faults()) > 0 {
			t.Errorf("%s is still laid, and another is fitted", wrong)
		}
		for _, text := range []string{"W1 high 0.1 ohm", wrong} {
			s := b.State(c.Part("F1"))
			if s.Blown || s.RatingAmps != 15 {
				t.Errorf("%s, and another fitted: %+v", wrong, s)
			}
			if err := b.Break(text); err != nil {
				t.Fatal(err)
			}
		}
		if !b.State(c.Part("F1")).Blown {
			t.Errorf("%s again, and it is whole", wrong)
		}
	}
}

// Two modules of 8.1 W behind one resistance, each of which runs alone, and one of them behind two ohms more. Both
// awake would need more than the feed can give at any volts; it is the far one that falls into reset.
func TestTheWeakestModuleResets(t *testing.T) {
	const text = `underload: 1
parts:
  B: {is: battery, volts: 12.6 V, internal: 10 mohm}
  FAR: {is: module, supply: [1], ground: [2], boots as: 100 ohm, runs above: 7 V, resets below: 3 V}
  NEAR: {is: module, supply: [1], ground: [2], boots as: 100 ohm, runs above: 7 V, resets below: 3 V}
splices: {S1: {}}
paths:
  feed: [B.pos, wire W: RD 2.2 ohm, S1]
  far: [S1, wire: RD 1 ohm, FAR.1]
  near: [S1, wire: RD 1 mohm, NEAR.1]
  far ground: [FAR.2, wire: BK 1 ohm, B.neg]
  near ground: [NEAR.2, wire: BK 1 mohm, B.neg]
`
	b, err := New(read(t, text))
	if err != nil {
		t.Fatal(err)
	}
	if far, near := b.modeOf("FAR"), b.modeOf("NEAR"); far != part.Cycling || near != part.Awake {
		t.Errorf("FAR is %s, NEAR is %s", far, near)
	}
}
