package sim

// This file tells stories in time: what a bench at rest can only say in words happens here.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/circuit/catalog"
	"underload/sim/part"
	"underload/solver/element"
)

// The shared ground: the work lamps go on, their current lifts the controller's ground, and it resets. A light test on
// the same stud in their place takes so little that nothing happens; so does the load the lamps make on a sound stud.
// The controller tries again once the lamps are off.
func TestSharedGroundInTime(t *testing.T) {
	story := func(fault string, lamps bool) (r *Run) {
		b := benchOf(t, "mist-blower")
		if fault != "" {
			must(t, b.Break(fault))
		}
		must(t, b.Set("KEY=run"))
		r = start(t, b, RunOptions{})
		must(t, r.Advance(0.5, nil))
		if lamps {
			must(t, r.Do("SW3=on"))
		} else {
			lamp, err := catalog.BulbOf("3 W")
			must(t, err)
			law := part.Filament(lamp, 20)
			must(t, r.Attach(Attachment{Red: "BATT.pos", Black: "C14.2.b", Law: law}))
		}
		must(t, r.Advance(2.5, nil))
		accounted(t, r)
		return r
	}
	const fault = "G2 rust 0.9 ohm"
	r := story(fault, true)
	if cues := cuesOf(r); !strings.Contains(cues, "K3 clicks in; BOOM resets") {
		t.Errorf("with the lamps: %s", cues)
	}
	if mode := r.State(r.Circuit().Part("BOOM")).Mode; mode == part.Awake {
		t.Errorf("with the lamps the controller is %v", mode)
	}
	must(t, r.Do("SW3=off"), r.Advance(4, nil))
	if mode := r.State(r.Circuit().Part("BOOM")).Mode; mode != part.Awake || !strings.Contains(cuesOf(r), "BOOM boots") {
		t.Errorf("with the lamps off again the controller is %v: %s", mode, cuesOf(r))
	}
	if r := story(fault, false); watching(t, r, "resets BOOM").Read() != 0 {
		t.Errorf("with a light test: %s", cuesOf(r))
	}
	if r := story("", true); watching(t, r, "resets BOOM").Read() != 0 {
		t.Errorf("with a sound ground: %s", cuesOf(r))
	}
}

// starved is a battery and a module that takes 8.125 W (0.65 A at 12.5 V), with a joint between.
const starved = `
underload: 1
title: a module behind a joint
parts:
  B1:  {is: battery, volts: 12.6 V, internal: 1 mohm}
  F1:  {is: fuse, rating: 10 A}
  PC1: {is: module, supply: [1], ground: [2], resets below: %g V, runs above: 9 V}
connectors:
  C1: {place: under the seat}
paths:
  feed:
    - B1.pos
    - wire: RD 2.5 mm2 0.5 m
    - F1
    - wire: RD 2.5 mm2 0.5 m
    - C1.1
    - wire: RD 2.5 mm2 0.5 m
    - PC1.1
  ground:
    - PC1.2
    - wire: BN 2.5 mm2 0.5 m
    - G1
grounds:
  G1: {place: floor, to: B1.neg, by: 1 mohm}
`

const starvedWatts = 0.65 * 12.5

// loses reports whether a module that runs well resets when the joint comes to some ohms.
func loses(t *testing.T, b *Bench, ohms float64) bool {
	r := start(t, b, RunOptions{MemoryBytes: -1})
	must(t, r.Do(fmt.Sprintf("break C1.1 high %.9g ohm", ohms)), r.Advance(4, nil))
	return watching(t, r, "resets PC1").Read() > 0
}

// A load of constant power behind a resistance has an operating point up to R = V^2/4P, where it has half of the volts
// (algebra: V - R P/v = v has real roots up to there). A module that resets above that loses it at R = (V - reset)
// reset/P. In time it resets at that resistance, to 0.1 percent.
func TestOperatingPointIsLostWhereAlgebraSays(t *testing.T) {
	for _, row := range []struct{ resets, ohms float64 }{
		{4, 12.6 * 12.6 / (4 * starvedWatts)},
		{5.5, 12.6 * 12.6 / (4 * starvedWatts)},
		{7.5, (12.6 - 7.5) * 7.5 / starvedWatts},
		{8.5, (12.6 - 8.5) * 8.5 / starvedWatts},
	} {
		b := benchFrom(t, fmt.Sprintf(starved, row.resets))
		if b.modeOf("PC1") != part.Awake {
			t.Fatalf("the module is %v", b.modeOf("PC1"))
		}
		m := b.module(b.c.Part("PC1"))
		rest := (12.6 - m.SupplyVolts(b.sol)) / m.Amps(b.sol) // battery, wires, sound joints
		low, high := 0.5*row.ohms, 1.5*row.ohms
		for high-low > 2e-4*row.ohms {
			if middle := (low + high) / 2; loses(t, b, middle) {
				high = middle
			} else {
				low = middle
			}
		}
		if got := (low+high)/2 + rest; math.Abs(got/row.ohms-1) > 1e-3 {
			t.Errorf("resets below %v V: lost at %.5f ohm in all, want %.5f", row.resets, got, row.ohms)
		}
	}
}

// Past that resistance the loop is there: the module resets, draws next to nothing, gets its volts back, boots, wakes,
// and resets again. Its period is that of the boot and the wait, and a little more for the falls and rises between; it
// does not depend on how finely it is computed.
func TestResetLoopHasItsPeriod(t *testing.T) {
	period := func(tolerance float64) float64 {
		b := benchFrom(t, fmt.Sprintf(starved, 6.5))
		r := start(t, b, RunOptions{Tolerance: tolerance})
		must(t, r.Do("break C1.1 high 5.2 ohm"))
		resets := watching(t, r, "resets PC1")
		var at []float64
		last := 0.0
		must(t, r.Advance(6, func() bool {
			if now := resets.Read(); now > last {
				last = now
				at = append(at, r.Seconds())
			}
			return true
		}))
		accounted(t, r)
		if len(at) < 10 {
			t.Fatalf("%d resets in 6 s: %s", len(at), cuesOf(r))
		}
		for i := 2; i < len(at)-1; i++ {
			if one, next := at[i]-at[i-1], at[i+1]-at[i]; math.Abs(next/one-1) > 1e-3 {
				t.Errorf("tolerance %g: periods of %.6f and %.6f s", tolerance, one, next)
			}
		}
		return (at[len(at)-1] - at[1]) / float64(len(at)-2)
	}
	coarse, usual, fine := period(1e-3), period(1e-4), period(1e-6)
	for _, p := range []float64{coarse, usual} {
		if math.Abs(p/fine-1) > 1e-3 {
			t.Errorf("period %.7f s, computed finely %.7f s", p, fine)
		}
	}
	boot, wait := 0.3, 0.05
	if fine < boot+wait || fine > boot+wait+0.05 {
		t.Errorf("period %.4f s; boot and wait take %.2f s", fine, boot+wait)
	}
	t.Logf("period %.7f s at 1e-3, %.7f s at 1e-4, %.7f s at 1e-6", coarse, usual, fine)
}

// A short blows the fuse of its branch within the time that the fuse's sheet gives it at that many times its rating, and
// what the fuse feeds goes out.
func TestShortBlowsAFuseInTime(t *testing.T) {
	b := benchOf(t, "mist-blower")
	must(t, b.Set("KEY=run"), b.Set("SW3=on"))
	fuse := b.c.Part("F9")
	for _, row := range []struct {
		ohms     string
		from, to float64 // s
	}{{"0.35 ohm", 0.15, 5}, {"0.17 ohm", 0.03, 0.5}} {
		r := start(t, b, RunOptions{})
		must(t, r.Advance(1, nil), r.Do("break C14.1 short-to-ground "+row.ohms))
		amps := watching(t, r, "amps F9").Read()
		blown := 0.0
		must(t, r.Advance(61, func() bool {
			if r.State(fuse).Blown {
				blown = r.Seconds() - 1
				return false
			}
			return true
		}))
		times := amps / fuse.Value("rating")
		if blown < row.from || blown > row.to || !strings.Contains(cuesOf(r), "F9 blows") {
			t.Errorf("%s: %.1f A, %.2f times its rating: blown after %.3f s, want %v to %v: %s", row.ohms, amps, times, blown, row.from, row.to, cuesOf(r))
		}
		must(t, r.Advance(r.Seconds()+1, nil))
		if light := watching(t, r, "light L1").Read(); light > 1 {
			t.Errorf("the lamp still gives %v %%", light)
		}
		must(t, r.Do("repair C14.1"), r.Do("replace F9"), r.Advance(r.Seconds()+1, nil))
		if light := watching(t, r, "light L1").Read(); light < 30 {
			t.Errorf("with a new fuse the lamp gives %v %%", light)
		}
		accounted(t, r)
	}
}

// A 40 A fuse whose slot has lost its grip on one side (45 milliohm: the sweeper's sheet) opens at 25 A, after minutes on a
// hot afternoon and somewhat later on a cool day: of the 27 W in the slot, 10 to 15 go into its body. In a sound slot it
// holds for ten hours. Its joint comes to where plastic goes brown.
func TestHotSlotOpensAFuseBelowItsRating(t *testing.T) {
	run := func(fault, ambient string) (blown, amps, joint, smelt float64) {
		b := benchOf(t, "street-sweeper")
		must(t, b.Set("ambient="+ambient), b.Set("KEY=run"))
		r := start(t, b, RunOptions{})
		if fault != "" {
			must(t, r.Do("break "+fault))
		}
		must(t, r.Do("FAN=on"), r.Advance(10, nil))
		heat, now := watching(t, r, "heat F4.out"), watching(t, r, "amps F4")
		fuse := r.Circuit().Part("F4")
		blown = math.Inf(1)
		must(t, r.Advance(36000, func() bool {
			if r.State(fuse).Blown {
				blown = r.Seconds()
				return false
			}
			amps, joint = now.Read(), math.Max(joint, heat.Read())
			return true
		}))
		for _, c := range r.Cues() {
			if c.Place == "F4.out" && smelt == 0 {
				smelt = c.Seconds
			}
		}
		accounted(t, r)
		return blown, amps, joint, smelt
	}
	const fault = "F4.out burnt 45 mohm"
	hot, amps, joint, smelt := run(fault, "60 °C")
	cool, _, _, _ := run(fault, "20 °C")
	if amps > 0.65*40 || hot < 120 || hot > 1800 || cool < hot || cool > 3600 {
		t.Errorf("at %.1f A of 40 A it blows after %.0f s at 60 °C and %.0f s at 20 °C", amps, hot, cool)
	}
	if joint < 120 || joint > 250 || smelt == 0 || smelt > hot {
		t.Errorf("its joint comes to %.0f °C and smells after %.0f s", joint, smelt)
	}
	if sound, _, _, _ := run("", "60 °C"); !math.IsInf(sound, 1) {
		t.Errorf("in a sound slot it blows after %.0f s", sound)
	}
	t.Logf("%.1f A of 40 A: blows after %.0f s at 60 °C, %.0f s at 20 °C; joint %.0f °C, smelt after %.0f s", amps, hot, cool, joint, smelt)
}

// A contact that is wiped reads well at once, and is on its way back within a day; one that is wiggled comes and goes, and
// the module behind it with it. A sound one stands any wiggling.
func TestContactsThatAreMoved(t *testing.T) {
	b := benchOf(t, "mist-blower", "C12.7 fretted 3 ohm")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	supply := watching(t, r, "supply BOOM")
	must(t, r.Advance(1, nil))
	starved := supply.Read()
	must(t, r.Do("reseat C12"), r.Advance(5, nil))
	wiped := supply.Read()
	if starved > 11 || wiped < 12 || !strings.Contains(cuesOf(r), "BOOM resets") {
		t.Errorf("%.2f V before, %.2f V once its connector is reseated: %s", starved, wiped, cuesOf(r))
	}
	must(t, r.Advance(48*3600, nil))
	if back := supply.Read(); back > wiped-0.3 || back < starved-0.1 {
		t.Errorf("two days later %.2f V", back)
	}
	accounted(t, r)

	wiggle := func(fault string) (resets float64) {
		b := benchOf(t, "mist-blower")
		if fault != "" {
			must(t, b.Break(fault))
		}
		must(t, b.Set("KEY=run"))
		r := start(t, b, RunOptions{Seed: 3})
		must(t, r.At(1, "wiggle C12 80 %"), r.At(4, "still C12"), r.Advance(1, nil))
		if n := watching(t, r, "resets BOOM").Read(); n != 0 {
			t.Errorf("%s: resets before it is wiggled", fault)
		}
		must(t, r.Advance(6, nil))
		if mode := r.State(r.Circuit().Part("BOOM")).Mode; mode != part.Awake {
			t.Errorf("%s: %v once the wiggling is over", fault, mode)
		}
		return watching(t, r, "resets BOOM").Read()
	}
	if bad := wiggle("C12.7 spread 20 mohm"); bad < 2 {
		t.Errorf("a loose contact that is wiggled: %v resets", bad)
	}
	if sound := wiggle(""); sound != 0 {
		t.Errorf("a sound contact that is wiggled: %v resets", sound)
	}
}

// shared is a module and a heater behind one fuse.
const shared = `
underload: 1
title: a module and a heater behind one fuse
parts:
  B1:  {is: battery, volts: 12.6 V}
  F1:  {is: fuse, rating: 20 A}
  R1:  {is: heater, power: 60 W}
  PC1: {is: module, supply: [1], ground: [2], input capacitance: 2200 uF}
paths:
  feed: [B1.pos, {wire: RD 2.5 mm2 0.5 m}, F1, {wire: RD 2.5 mm2 0.5 m}, S1, {wire: RD 2.5 mm2 0.5 m}, PC1.1]
  heater: [S1, {wire: RD 2.5 mm2 0.5 m}, R1, {wire: BN 2.5 mm2 0.5 m}, G1]
  ground: [PC1.2, {wire: BN 2.5 mm2 0.5 m}, G1]
grounds:
  G1: {place: floor, to: B1.neg, by: 1 mohm}
`

// Over a short loss of its feed a module lives on its capacitor, for C (u^2 - reset^2)/2P, whatever else hangs behind the
// same fuse: nothing flows back into that.
func TestModuleLivesOnItsCapacitor(t *testing.T) {
	b := benchFrom(t, shared)
	u := watching(t, start(t, b, RunOptions{}), "supply PC1").Read()
	holds := 2200e-6 * (u*u - 6.5*6.5) / (2 * starvedWatts)
	for _, row := range []struct{ share, resets float64 }{{0.97, 0}, {1.03, 1}} {
		r := start(t, b, RunOptions{})
		must(t, r.At(1, "F1=out"), r.At(1+row.share*holds, "F1=in"), r.Advance(3, nil))
		if got := watching(t, r, "resets PC1").Read(); got != row.resets {
			t.Errorf("without a feed for %.2f ms of %.2f: %v resets", 1e3*row.share*holds, 1e3*holds, got)
		}
		if mode := r.State(r.Circuit().Part("PC1")).Mode; mode != part.Awake {
			t.Errorf("%v in the end", mode)
		}
		accounted(t, r)
	}
}

// Sound joints and wires warm up too, with time constants of a minute or two, to where their current keeps them; going
// back in time cools them again. A sound terminal with a lamp's current stays lukewarm.
func TestSoundJointsWarmUp(t *testing.T) {
	b := benchOf(t, "mist-blower")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	wire := b.c.Terminal("K3.30").Name
	for _, w := range b.c.Wires {
		if w.To.Name == "K3.30" || w.From.Name == "K3.30" {
			wire = w.Name
		}
	}
	joint, run, amps := watching(t, r, "heat K3.30"), watching(t, r, "heat "+wire), watching(t, r, "amps "+wire)
	must(t, r.Do("SW3=on"), r.Advance(100, nil))
	early, earlyWire := joint.Read()-20, run.Read()-20
	must(t, r.Advance(3600, nil))
	late, lateWire, i := joint.Read()-20, run.Read()-20, amps.Read()
	k := b.c.Terminal("K3.30")
	if want := i * i * (k.CrimpOhms + k.ContactOhms) / (0.02 * 2.5); math.Abs(late/want-1) > 0.02 || late > 30 {
		t.Errorf("K3.30 is %.2f K too warm after an hour, want %.2f", late, want)
	}
	if share := early / late; math.Abs(share-(1-math.Exp(-1))) > 0.03 {
		t.Errorf("K3.30 has come %.3f of its way after its time constant", share)
	}
	if lateWire < 2 || lateWire > 40 || earlyWire < 0.6*lateWire || earlyWire > lateWire {
		t.Errorf("its wire is %.1f K too warm after 100 s and %.1f K after an hour", earlyWire, lateWire)
	}
	must(t, r.Back(3500))
	if again := joint.Read() - 20; again != early {
		t.Errorf("back at 100 s: %v K, there were %v", again, early)
	}
}

// A wire that carries a short with no fuse before it smells within seconds.
func TestShortedWireSmells(t *testing.T) {
	b := benchFrom(t, strings.Replace(strings.Replace(shared, "rating: 20 A", "rating: 300 A, type: bolt-in", 1), "RD 2.5 mm2 0.5 m}, R1", "RD 0.75 mm2 2 m}, R1", 1))
	r := start(t, b, RunOptions{})
	must(t, r.Do("break R1.in short-to-ground 1 mohm"), r.Advance(60, nil))
	if cues := cuesOf(r); !strings.Contains(cues, "S1~R1.in smells of hot plastic") {
		t.Errorf("heard: %s", cues)
	}
}

// A fretted contact grows worse for as long as it is moved, by a factor of e in half a minute of firm wiggling (see
// frettingSeconds), and stays so when it is held still; one that is merely spread does not.
func TestMovementFrets(t *testing.T) {
	run := func(fault string) *Run {
		r := start(t, benchOf(t, "mist-blower", fault), RunOptions{Seed: 4})
		must(t, r.Do("wiggle C14"), r.Advance(6, nil), r.Do("still C14"), r.Advance(60, nil))
		return r
	}
	ohms := func(r *Run) float64 {
		for _, f := range r.age.flutters {
			if f.at.Name == "C14.2" {
				return math.Exp(r.age.run.States(f.joint)[element.OhmicLnOhms])
			}
		}
		return math.NaN()
	}
	if got, want := ohms(run("C14.2 fretted 50 mohm")), 0.050*math.Exp(6.0/30); math.Abs(got/want-1) > 0.03 {
		t.Errorf("fretted: %.4f ohm, want %.4f", got, want)
	}
	if got := ohms(run("C14.2 spread 50 mohm")); math.Abs(got/0.050-1) > 0.01 {
		t.Errorf("spread: %.4f ohm", got)
	}
}
