package sim

// This file is runs of minutes and hours: a module programmed with the key on, and a night in which modules fall asleep.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/sim/part"
)

// programming is a tired battery half full, with the draws of a key that is on: modules, and blower and lamps that somebody
// forgot, 22 A in all. The module that is programmed gives up below 11 V.
const programming = `
underload: 1
title: a module to be programmed
parts:
  B1:  {is: battery, volts: 12.25 V, internal: 35 mohm, capacity: 60 Ah}
  F1:  {is: fuse, rating: 30 A}
  F2:  {is: fuse, rating: 15 A}
  KEY: {is: switch, throws: {off: [], run: [b-ign]}}
  R1:  {is: heater, power: 230 W}
  GW:  {is: module, supply: [1], ground: [2], awake: 0.9 A, runs above: 11.2 V, resets below: 11 V}
  PC1: {is: module, supply: [1], ground: [2], wake: [3], awake: 2.5 A}
paths:
  feed:
    - B1.pos
    - wire: RD 6 mm2 1.5 m
    - F1
    - wire: RD 6 mm2 0.5 m
    - S1
    - wire: RD 6 mm2 0.5 m
    - KEY.b-ign
    - wire: RD 6 mm2 2.0 m
    - R1
    - wire: BN 6 mm2 1.0 m
    - G1
  module feed:
    - S1
    - F2
    - wire: RD 1.5 mm2 1.0 m
    - S2
    - wire: RD 1.5 mm2 1.0 m
    - GW.1
  module ground:
    - GW.2
    - wire: BN 1.5 mm2 1.0 m
    - G1
  second feed:
    - S2
    - wire: RD 1.5 mm2 1.0 m
    - PC1.1
  second ground:
    - PC1.2
    - wire: BN 1.5 mm2 1.0 m
    - G1
  wake:
    - KEY.ign
    - wire: GN 0.5 mm2 1.0 m
    - PC1.3
grounds:
  G1: {place: floor, to: B1.neg, by: 1 mohm}
`

// Programming takes forty minutes (tens of minutes: common practice). On a tired battery of 60 Ah that is half full, 22 A
// take 15 Ah: the module that gives up below 11 V does not stay up to the end, and one that resets below 6.5 V does. With a
// support supply every module does.
// What is gone from the battery is the integral of its amps.
func TestProgrammingNeedsASupport(t *testing.T) {
	const minutes = 40
	run := func(support bool, runs, resetsBelow string) (lost float64, r *Run) {
		b := benchFrom(t, strings.Replace(programming, "runs above: 11.2 V, resets below: 11 V", "runs above: "+runs+", resets below: "+resetsBelow, 1))
		if support {
			must(t, b.Set("B1=support"))
		}
		r = start(t, b, RunOptions{})
		must(t, r.Do("KEY=run"))
		resets, amps, charge := watching(t, r, "resets GW"), watching(t, r, "amps B1"), watching(t, r, "charge B1")
		before, taken, last, at := charge.Read(), 0.0, amps.Read(), 0.0
		lost = math.Inf(1)
		must(t, r.Advance(60*minutes, func() bool {
			now := amps.Read()
			taken += (now + last) / 2 * (r.Seconds() - at)
			last, at = now, r.Seconds()
			if resets.Read() > 0 && math.IsInf(lost, 1) {
				lost = r.Seconds()
			}
			return true
		}))
		accounted(t, r)
		if gone := (before - charge.Read()) / 100 * holds(60) * 3600; !support && math.Abs(gone/taken-1) > 1e-2 {
			t.Errorf("%.1f As gone from the battery, %.1f As by its amps", gone, taken)
		}
		return lost, r
	}
	stays := func(r *Run, names ...string) {
		t.Helper()
		for _, name := range names {
			if mode, n := r.State(r.Circuit().Part(name)).Mode, watching(t, r, "resets "+name).Read(); mode != part.Awake || n > 0 {
				t.Errorf("%s is %v at the end, after %v resets", name, mode, n)
			}
		}
	}
	alone, r := run(false, "11.2 V", "11 V")
	if alone < 300 || alone > 60*minutes {
		t.Errorf("on the battery alone the module resets at %.0f s", alone)
	}
	stays(r, "PC1")
	t.Logf("alone: resets after %.1f min, charge at the end %.1f %%, %d steps", alone/60, watching(t, r, "charge B1").Read(), r.Stats().Steps)
	supported, r := run(true, "11.2 V", "11 V")
	if !math.IsInf(supported, 1) {
		t.Errorf("with a support the module resets at %.0f s", supported)
	}
	stays(r, "GW", "PC1")
	t.Logf("with a support: %.2f V at the end, charge %.1f %%, %d steps", watching(t, r, "B1.pos against B1.neg").Read(), watching(t, r, "charge B1").Read(), r.Stats().Steps)
	for _, support := range []bool{false, true} { // as modules ordinarily are
		_, r := run(support, "9 V", "6.5 V")
		stays(r, "GW", "PC1")
	}
}

// night is four modules that fall asleep one after another.
func night() string {
	text := `
underload: 1
title: a van overnight
parts:
  B1:  {is: battery, volts: 12.6 V, internal: 8 mohm, capacity: 70 Ah}
  F1:  {is: fuse, rating: 20 A}
  KEY: {is: switch, throws: {off: [], run: [b-ign]}}
`
	paths := `
paths:
  feed:
    - B1.pos
    - wire: RD 4 mm2 1.0 m
    - S1
    - F1
    - wire: RD 2.5 mm2 1.0 m
    - S2
  key:
    - S1
    - wire: VT 1 mm2 1.0 m
    - KEY.b-ign
    - wire: GN 1 mm2 1.0 m
    - S3
`
	for i, after := range []string{"20 s", "3 min", "15 min", "45 min"} {
		text += fmt.Sprintf("  M%d:  {is: module, supply: [1], ground: [2], wake: [3], awake: 0.5 A, asleep: 0.4 mA, sleeps after: %s}\n", i+1, after)
		paths += fmt.Sprintf("  feed %d: [S2, {wire: RD 1 mm2 1.0 m}, M%d.1]\n  ground %d: [M%d.2, {wire: BN 1 mm2 1.0 m}, G1]\n  wake %d: [S3, {wire: GN 0.5 mm2 1.0 m}, M%d.3]\n", i+1, i+1, i+1, i+1, i+1, i+1)
	}
	return text + paths + "\ngrounds:\n  G1: {place: floor, to: B1.neg, by: 1 mohm}\n"
}

// A clamp on the battery is watched for eight hours: the draw falls by one module's worth each time one falls asleep, to
// 4 x 0.4 mA. One that is held awake keeps its half ampere, and the night then costs 4 Ah. Eight hours are some hundred
// steps.
func TestModulesFallAsleepOneAfterAnother(t *testing.T) {
	const hours = 8
	run := func(faults ...string) (r *Run, amps, volts []float64) {
		b := benchFrom(t, night())
		must(t, b.Break(faults...), b.Set("KEY=run"))
		r = start(t, b, RunOptions{})
		draw, supply := watching(t, r, "amps B1"), watching(t, r, "supply M4")
		must(t, r.Advance(1, nil), r.Do("KEY=off"))
		for _, s := range []float64{10, 60, 600, 1800, 3600, 3600 * hours} {
			must(t, r.Advance(s, nil))
			amps, volts = append(amps, draw.Read()), append(volts, supply.Read())
		}
		accounted(t, r)
		return r, amps, volts
	}
	r, amps, volts := run()
	for i, got := range amps {
		awake, asleep := 0.5*12.5/volts[i], 0.0004*volts[i]/12.5
		n := float64(max(4-i, 0))
		if want := n*awake + (4-n)*asleep; math.Abs(got-want) > 0.005*want {
			t.Errorf("%d: %.5f A, want %.5f", i, got, want)
		}
	}
	if steps := r.Stats().Steps; steps > 1000 {
		t.Errorf("%d steps for %d hours", steps, hours)
	}
	t.Logf("asleep one after another: %v A, %d steps", amps, r.Stats().Steps)

	r, amps, volts = run("M3 awake")
	awake, asleep := 0.5*12.5/volts[5], 0.0004*volts[5]/12.5
	if want := awake + 3*asleep; math.Abs(amps[5]-want) > 0.01*want {
		t.Errorf("with one held awake: %.5f A after the night, want %.5f", amps[5], want)
	}
	charge := watching(t, r, "charge B1").Read()
	fresh := start(t, benchFrom(t, night()), RunOptions{})
	if cost := (watching(t, fresh, "charge B1").Read() - charge) / 100 * holds(70); math.Abs(cost-awake*hours) > 0.6 {
		t.Errorf("the night cost %.2f Ah, want about %.2f", cost, awake*hours)
	}
}

// A module that wakes every twenty minutes of a night and stays awake for twenty seconds each time: a clamp that is read
// now and then finds it asleep, one that is watched finds a pattern. What it costs is its amps times the share of the time
// in which it is awake (arithmetic), 0.5 A x 20 s/1200 s = 8 mA in the mean, twenty times what it takes asleep.
func TestModuleThatWakesAtNight(t *testing.T) {
	const hours, every, awakeFor = 8, 1200.0, 20.0
	b := benchFrom(t, night())
	must(t, b.Break("M1 wakes every 20 min"), b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	draw, volts := watching(t, r, "amps M1.1"), watching(t, r, "supply M1")
	must(t, r.Advance(1, nil), r.Do("KEY=off"), r.Advance(100, nil))
	var woke, slept []float64
	up, taken, last, at := false, 0.0, draw.Read(), r.Seconds()
	must(t, r.Advance(3600*hours+60, func() bool {
		now := draw.Read()
		if is := now > 0.1; is != up {
			if up = is; up {
				woke = append(woke, r.Seconds())
			} else {
				slept = append(slept, r.Seconds())
			}
		}
		taken += (now + last) / 2 * (r.Seconds() - at)
		last, at = now, r.Seconds()
		return true
	}))
	if len(woke) != 24 || len(slept) != 24 {
		t.Fatalf("it wakes %d times and falls asleep %d times", len(woke), len(slept))
	}
	for i := range woke {
		if math.Abs(woke[i]-every*float64(i+1)) > 0.01 || math.Abs(slept[i]-woke[i]-awakeFor) > 0.01 {
			t.Errorf("it is awake from %.3f to %.3f s", woke[i], slept[i])
		}
	}
	awake := 0.5 * 12.5 / volts.Read()
	if mean := taken / (3600*hours - 40); math.Abs(mean/(awake*awakeFor/every+0.0004)-1) > 0.02 {
		t.Errorf("%.5f A in the mean, by its share of the time %.5f A", mean, awake*awakeFor/every+0.0004)
	}
	must(t, r.Do("repair M1"))
	boots := r.age.plan.states[r.Circuit().Part("M1")].Mode
	must(t, r.Advance(3600*(hours+1), nil))
	if told := r.Cues(); boots != part.Asleep || told[len(told)-1].Seconds > 3600*hours+60 {
		t.Errorf("mended it still wakes: %v", told[len(told)-1])
	}
	must(t, r.Do("break M1 wakes every 5 min"), r.Advance(3600*(hours+1)+300.1, nil))
	if told := r.Cues(); told[len(told)-1].Says != "M1 boots" {
		t.Errorf("broken again it does not wake: %v", told[len(told)-1])
	}
	accounted(t, r)
}

// A full battery gives its cold cranking amps for 30 s at -18 °C and has 7.2 V left (the definition of the rating, SAE J537
// as trade pages quote it); at 20 °C it has a good deal more; and one in a file that gives another resistance goes by that.
func TestColdCranking(t *testing.T) {
	volts := func(battery, ambient string) float64 {
		text := strings.Replace(shared, "volts: 12.6 V", battery, 1)
		b := benchFrom(t, text)
		must(t, b.Set("F1=out"), b.Set("ambient="+ambient))
		r := start(t, b, RunOptions{})
		v := watching(t, r, "B1.pos.pin against B1.neg.pin") // the posts themselves
		must(t, r.Attach(Attachment{Red: "B1.pos.pin", Black: "B1.neg.pin", Ohms: 7.2 / 500}))
		amps := 0.0
		must(t, r.Advance(30, func() bool { amps = r.age.attached[0].amps(view{r.age.run.Now()}); return true }))
		accounted(t, r)
		if math.Abs(amps-v.Read()/7.2*500) > 1 {
			t.Errorf("%.1f A at %.3f V", amps, v.Read())
		}
		return v.Read()
	}
	const rated = "volts: 12.65 V, capacity: 60 Ah, cold cranking: 500 A"
	cold, warm, other := volts(rated, "-18 °C"), volts(rated, "20 °C"), volts(rated+", internal: 8 mohm", "20 °C")
	if cold < 7.2 || cold > 7.5 {
		t.Errorf("%.2f V after 30 s at -18 °C", cold)
	}
	if warm < cold+1 || warm > 11 || math.Abs(other-12.5*7.2/500/(7.2/500+0.007)) > 0.5 {
		t.Errorf("%.2f V at 20 °C, with 8 milliohm %.2f V", warm, other)
	}
	t.Logf("%.2f V at -18 °C, %.2f V at 20 °C, %.2f V with 8 milliohm", cold, warm, other)
}
