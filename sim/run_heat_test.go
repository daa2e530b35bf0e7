package sim

// This file checks heat where it comes from a fault or from too much current: bad places in wires and splices, wires that
// burn through, joints that grow worse; and what the air does to it.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/solver/element"
	"underload/solver/transient"
)

// spliced is a lamp behind two wires and a splice.
const spliced = `
underload: 1
title: a lamp behind a splice
parts:
  B1: {is: battery, volts: 12.6 V}
  F1: {is: fuse, rating: 20 A}
  R1: {is: heater, power: 60 W}
splices:
  S1: {}
paths:
  feed: [B1.pos, {wire: RD 2.5 mm2 0.5 m}, F1, {wire: RD 1 mm2 1 m}, S1, {wire: RD 1 mm2 1 m}, R1.in]
  ground: [R1.out, {wire: BN 1 mm2 1 m}, G1]
grounds:
  G1: {place: floor, to: B1.neg, by: 1 mohm}
`

// A bad place in a wire or a splice holds 2 J and loses 0.02 W for each kelvin on 1 mm2 of copper, like a terminal: it
// comes to P/0.02, within minutes. Before it is bad, nothing is warm there.
func TestBadPlacesInWiresAndSplicesGrowHot(t *testing.T) {
	for _, place := range []string{"S1~R1.in", "S1"} {
		r := start(t, benchFrom(t, spliced), RunOptions{})
		heat, amps := watching(t, r, "heat "+place), watching(t, r, "amps R1")
		if warm := heat.Read(); warm > 35 {
			t.Errorf("%s: %.1f °C while it is sound", place, warm)
		}
		must(t, r.Do("break "+place+" high 200 mohm"), r.Advance(1800, nil))
		i := amps.Read()
		if want := 20 + i*i*0.2/0.02; math.Abs(heat.Read()/want-1) > 0.05 || !strings.Contains(cuesOf(r), place+" smells") {
			t.Errorf("%s: %.1f °C with %.2f A, want %.1f: %s", place, heat.Read(), i, want, cuesOf(r))
		}
		accounted(t, r)
		must(t, r.Do("repair "+place), r.Advance(r.Seconds()+1800, nil))
		if warm := heat.Read(); warm > 35 {
			t.Errorf("%s: %.1f °C once it is repaired", place, warm)
		}
	}
}

// A wire with no fuse before it melts under a short. While it heats, all of its power goes into copper and insulation
// (its loss is small within seconds): with u volts across it, the ohms grow with the heat, so that
// C R/u^2 integrated from 20 °C to 1084.6 °C takes C R20 (x + 0.00393 x^2/2)/u^2 seconds for x = 1064.6 K.
func TestUnfusedWireBurnsThrough(t *testing.T) {
	text := strings.Replace(shared, "rating: 20 A", "rating: 500 A, type: bolt-in", 1)
	text = strings.Replace(text, "volts: 12.6 V}", "volts: 12.6 V, internal: 1 mohm}", 1)
	text = strings.Replace(text, "RD 2.5 mm2 0.5 m}, R1", "RD 0.75 mm2 2 m}, R1", 1)
	b := benchFrom(t, text)
	r := start(t, b, RunOptions{})
	heat, amps := watching(t, r, "heat S1~R1.in"), watching(t, r, "amps S1~R1.in")
	volts := watching(t, r, "S1 against R1.in")
	must(t, r.Do("break R1.in short-to-ground 1 mohm"))
	hottest, square, last, seen := 0.0, 0.0, 0.0, 0.0
	must(t, r.Advance(60, func() bool {
		if cueAt(r, "S1~R1.in burns through") >= 0 {
			return true
		}
		now := volts.Read()
		square += now * now * (r.Seconds() - last)
		last, seen = r.Seconds(), now
		hottest = math.Max(hottest, heat.Read())
		return true
	}))
	at := cueAt(r, "S1~R1.in burns through")
	w := b.c.Wire("S1~R1.in")
	x := 1357.8 - 293.15
	want := 5.2 * 2 * 0.75 * w.Ohms * (x + 0.00393*x*x/2)
	if !(square > 0.95*want && square < 1.25*want) || seen == 0 {
		t.Errorf("burns through at %.2f s after %.1f V2s, want %.1f and a little more for what is lost", at, square, want)
	}
	if burnt := r.Burnt(); len(burnt) != 1 || burnt[0] != w {
		t.Errorf("burnt: %v", burnt)
	}
	if hottest > 1090 || hottest < 900 || math.Abs(amps.Read()) > 1e-6 {
		t.Errorf("the wire comes to %.0f °C; %.3g A after it has melted", hottest, amps.Read())
	}
	accounted(t, r)
	must(t, r.Back(60-at/2))
	if amps.Read() < 50 || strings.Contains(cuesOf(r), "burns") || len(r.Burnt()) > 0 {
		t.Errorf("%.1f A before it melts: %s", amps.Read(), cuesOf(r))
	}
	must(t, r.Advance(60, nil))
	if again := cueAt(r, "S1~R1.in burns through"); math.Abs(again/at-1) > 1e-4 {
		t.Errorf("again at %.6f s, before at %.6f s", again, at)
	}
	must(t, r.Do("repair R1.in"), r.Do("replace S1~R1.in"), r.Advance(61, nil))
	if now := amps.Read(); now < 4 || len(r.Burnt()) > 0 {
		t.Errorf("%.2f A in a new wire", now)
	}
}

// The last strand of a wire melts, and then the wire is as broken as any. The textbook's rule for a bare copper wire in air,
// 80 A times (diameter in mm)^1.5 (from memory), gives one of 7 strands of 1.5 mm2 31 A over a long neck; over one of 10 mm
// the rest of the wire cools it, so that it takes more.
func TestTheLastStrandBurnsThrough(t *testing.T) {
	for _, row := range []struct {
		load  string
		burns bool
	}{{"300 mohm", false}, {"150 mohm", true}} {
		b := benchFrom(t, `
underload: 1
title: a wire that hangs by a strand
parts:
  B1: {is: battery, volts: 12.6 V, internal: 2 mohm, capacity: 200 Ah}
  R1: {is: resistor, resistance: `+row.load+`}
paths:
  feed: [B1.pos, wire: RD 1.5 mm2 0.3 m, R1, wire: BN 16 mm2 0.3 m, B1.neg]
`)
		must(t, b.Break("B1.pos~R1.in strands 1/7 20 mm"))
		r := start(t, b, RunOptions{})
		amps := watching(t, r, "amps R1")
		most := amps.Read()
		must(t, r.Advance(30, nil))
		if burnt := len(r.Burnt()) == 1; burnt != row.burns || burnt != strings.Contains(cuesOf(r), "burns through") || burnt != (amps.Read() < 1e-6) {
			t.Errorf("at %.0f A: burnt %v, then %.3g A; %s", most, burnt, amps.Read(), cuesOf(r))
		}
		accounted(t, r)
		must(t, r.Do("repair B1.pos~R1.in"), r.Advance(31, nil))
		if now := amps.Read(); now < 30 {
			t.Errorf("%.2f A in a new wire", now)
		}
	}
}

// A short in the middle of a wire heats the half that carries it, and a wire that is shorted when time begins begins cold.
func TestHalfAWireBurnsThrough(t *testing.T) {
	text := strings.Replace(shared, "rating: 20 A", "rating: 500 A, type: bolt-in", 1)
	b := benchFrom(t, strings.Replace(text, "RD 2.5 mm2 0.5 m}, R1", "RD 0.75 mm2 4 m}, R1", 1))
	must(t, b.Break("S1~R1.in short-to-ground 1 mohm"))
	r := start(t, b, RunOptions{})
	if warm := watching(t, r, "heat S1~R1.in").Read(); warm > 200 {
		t.Errorf("%.0f °C at once", warm)
	}
	must(t, r.Advance(60, nil))
	if at := cueAt(r, "S1~R1.in burns through"); !(at > 0.1 && at < 20) || strings.Count(cuesOf(r), "burns") != 1 {
		t.Errorf("heard: %s", cuesOf(r))
	}
	accounted(t, r)
}

// Warmer air warms sound joints and wires in their own time, and no faster.
func TestAmbientChangesNothingAtOnce(t *testing.T) {
	b := benchOf(t, "mist-blower")
	must(t, b.Set("KEY=run"), b.Set("SW3=on"))
	r := start(t, b, RunOptions{})
	for _, name := range []string{"K3.30", "G2", "C14.2"} {
		heat := watching(t, r, "heat "+name)
		must(t, r.Advance(r.Seconds()+300, nil))
		before := heat.Read()
		must(t, r.Do("ambient=60 °C"))
		if now := heat.Read(); math.Abs(now-before) > 0.1 {
			t.Errorf("%s jumps from %.2f to %.2f °C", name, before, now)
		}
		must(t, r.Advance(r.Seconds()+100, nil))
		if share := (heat.Read() - before) / 40; math.Abs(share-(1-math.Exp(-1))) > 0.05 {
			t.Errorf("%s has come %.2f of its way after its time constant", name, share)
		}
		must(t, r.Do("ambient=20 °C"), r.Advance(r.Seconds()+1500, nil))
	}
}

// A bad joint 200 K too warm has two and a half times its ohms after half a day, one 60 K too warm after two days and a
// half (common practice, no source).
func TestBadJointsGrowWorse(t *testing.T) {
	for _, row := range []struct{ kelvin, hours float64 }{{200, 12}, {60, 57}} {
		a := start(t, benchFrom(t, spliced), RunOptions{}).age
		what, body, _ := a.bad(badJoint{times: 1}, 0.05)
		at := &transient.Point{States: make([]float64, what.Size().States), Marks: make([]float64, what.Size().Marks)}
		what.Start(0, at.States, at.Marks)
		at.States[body] += row.kelvin
		var rates transient.Rates
		what.Rates(at, &rates)
		if times := math.Exp(rates.Rate[element.OhmicLnOhms] * 3600 * row.hours); math.Abs(times-2.5) > 0.1 {
			t.Errorf("%v K too warm for %v hours: %.2f times its ohms", row.kelvin, row.hours, times)
		}
	}
}

// What a slot leaves in its fuse is what its contacts take by then: a film that has broken through takes a tenth of a volt,
// not its ohms times the square of the amps, which would be a megawatt; a contact that was nudged and holds again takes
// nothing; one that has grown worse takes more. Each is held against a slot that has been so from the start.
func TestAFuseIsWarmedByItsSlotAsItIsNow(t *testing.T) {
	const soon = 1800 // s, in which a fuse and its slot settle
	begun := func() *Run {
		return start(t, benchFrom(t, strings.Replace(spliced, "power: 60 W", "power: 120 W", 1)), RunOptions{Seed: 3})
	}
	for _, c := range []struct {
		fault, act  string
		hours       float64
		least, most float64 // ohms in the end
	}{
		{"filmed 10 kohm", "still F1", 0, 1e-3, 0.02}, {"spread 60 mohm", "disturb F1", 0, 1e-4, 0.03}, {"burnt 70 mohm", "still F1", 40, 0.08, 0.2},
	} {
		r := begun()
		must(t, r.Do("B1=support"), r.Do("break F1.in "+c.fault), r.Advance(soon, nil), r.Do(c.act))
		must(t, r.Advance(r.Seconds()+3600*c.hours+soon, nil))
		accounted(t, r)
		from, to := r.age.w.net.Ends(r.age.w.joints[r.Circuit().Terminal("F1.in")].contact)
		ohms := (r.age.run.Volts(transient.Node(from)) - r.age.run.Volts(transient.Node(to))) / watching(t, r, "amps F1").Read()
		if !(ohms > c.least && ohms < c.most) {
			t.Errorf("%s: in the end the contact has %.4g ohm", c.fault, ohms)
		}
		heat, want := watching(t, r, "heat F1").Read(), begun()
		must(t, want.Do("B1=support"), want.Do(fmt.Sprintf("break F1.in burnt %.9f ohm", ohms)), want.Advance(soon, nil))
		if as := watching(t, want, "heat F1").Read(); math.Abs(heat-as) > 1 || heat < 35 {
			t.Errorf("%s, %.4g ohm by now: the fuse is at %.1f °C, in a slot that began so at %.1f °C", c.fault, ohms, heat, as)
		}
	}
}

// What a lead on top of a fuse takes does not pass the contact behind it, and so does not warm it.
func TestALeadOnAFuseLeavesItsContactCold(t *testing.T) {
	heat := func(faults ...string) float64 {
		b := benchFrom(t, strings.Replace(spliced, "power: 60 W", "power: 6 W", 1))
		must(t, b.Break(faults...))
		r := start(t, b, RunOptions{})
		must(t, r.Advance(1, nil), r.Attach(Attachment{Red: "F1.out", Black: "G1", Ohms: 1}), r.Advance(300, nil))
		accounted(t, r)
		return watching(t, r, "heat F1").Read()
	}
	// Even the sound contact of the other run, of 0.6 milliohm, is worth some kelvin to it.
	sound, bad := heat(), heat("F1.out burnt 200 mohm")
	if sound < 50 || math.Abs(bad-sound) > 5 {
		t.Errorf("the fuse is at %.1f °C in a sound slot and at %.1f °C behind a lead", sound, bad)
	}
}
