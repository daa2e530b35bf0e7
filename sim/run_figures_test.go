package sim

// This file holds what a run does against the figures that it is made of: time constants, chances, times, thresholds.
// They are common practice, no source, unless a check names one.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"underload/solver/element"
	"underload/solver/transient"
)

// switched is a relay, with a lamp at its contact.
const switched = `
underload: 1
title: a relay with a lamp
parts:
  B1:  {is: battery, volts: 12.6 V, internal: 5 mohm}
  SW1: {is: switch, throws: {off: [], on: [1-2]}}
  K1:  {is: relay, coil: 85 ohm, suppressed by: %s}
  L1:  {is: lamp, bulb: 21 W}
paths:
  feed: [B1.pos, {wire: RD 2.5 mm2 0.5 m}, SW1.1]
  coil: [SW1.2, {wire: GN 0.5 mm2 0.5 m}, K1.86]
  back: [K1.85, {wire: BN 0.5 mm2 0.5 m}, G1]
  contact: [B1.pos, {wire: RD 2.5 mm2 0.5 m}, K1.30]
  lamp: [K1.87, {wire: RD 1 mm2 0.5 m}, L1, {wire: BN 1 mm2 0.5 m}, G1]
grounds:
  G1: {place: floor, to: B1.neg, by: 1 mohm}
`

// A coil of 85 ohm has 0.3 H: its current has 63 % of its end after 3.5 ms. Once its circuit is opened, a diode across it
// holds the kick to its own volts, and it takes no current while the coil is fed; without it the kick is that of an opening
// contact, hundreds of volts.
func TestCoilAndItsDiode(t *testing.T) {
	for _, row := range []struct {
		suppressed string
		kick       [2]float64 // least and most volts the other way round
	}{{"diode", [2]float64{0.4, 1.5}}, {"nothing", [2]float64{100, 400}}} {
		b := benchFrom(t, fmt.Sprintf(switched, row.suppressed))
		r := start(t, b, RunOptions{})
		amps, volts := watching(t, r, "amps K1.86"), watching(t, r, "K1.86 against K1.85")
		must(t, r.At(0.1, "SW1=on"), r.Advance(0.1, nil), r.Advance(0.1035, nil))
		early := amps.Read()
		must(t, r.Advance(0.3, nil))
		late := amps.Read()
		if want := volts.Read() / 85; math.Abs(late/want-1) > 0.01 {
			t.Errorf("%s: %.4f A in the coil, want %.4f", row.suppressed, late, want)
		}
		if share := early / late; math.Abs(share-(1-math.Exp(-1))) > 0.02 {
			t.Errorf("%s: %.3f of its current after 3.5 ms", row.suppressed, share)
		}
		kick := 0.0
		look := func() bool { kick = math.Max(kick, -volts.Read()); return true }
		must(t, r.At(0.3, "SW1=off"), r.Advance(0.35, look))
		if kick < row.kick[0] || kick > row.kick[1] {
			t.Errorf("%s: a kick of %.2f V, want %v", row.suppressed, kick, row.kick)
		}
		accounted(t, r)
	}
}

// While an engine is cranked its compression shows in the starter's amps: they swing twice a turn, by some tens of percent.
func TestCrankingSwingsTwiceATurn(t *testing.T) {
	b := benchOf(t, "snow-groomer")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	must(t, r.Do("KEY=crank"), r.Advance(1, nil))
	amps, speed := watching(t, r, "amps ST"), watching(t, r, "speed ST")
	least, most, peaks, rising, last, turned, at := math.Inf(1), 0.0, 0, false, 0.0, 0.0, r.Seconds()
	must(t, r.Advance(3, func() bool {
		now := amps.Read()
		if now < last && rising {
			peaks++
		}
		rising = now > last
		turned += speed.Read() * (r.Seconds() - at) / (2 * math.Pi)
		least, most, last, at = math.Min(least, now), math.Max(most, now), now, r.Seconds()
		return true
	}))
	if swing := (most - least) / (most + least); swing < 0.1 || swing > 0.6 {
		t.Errorf("the amps swing from %.0f to %.0f A", least, most)
	}
	if turned < 2 || math.Abs(float64(peaks)-2*turned) > 1.5 {
		t.Errorf("%d peaks in %.2f turns", peaks, turned)
	}
}

// A module falls asleep as long after its wake pin fell as its file says.
func TestModulesSleepWhenTheyShould(t *testing.T) {
	b := benchFrom(t, night())
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	must(t, r.At(1, "KEY=off"), r.Advance(3600, nil))
	for name, after := range map[string]float64{"M1": 20, "M2": 180, "M3": 900, "M4": 2700} {
		if at := cueAt(r, name+" falls asleep"); !(math.Abs(at-1-after) < 0.01) {
			t.Errorf("%s falls asleep %.3f s after the key, want %v: %s", name, at-1, after, cuesOf(r))
		}
	}
}

// Half of the time that has passed goes by the watts before it, and half by those after.
func TestWarmthGoesByTheMean(t *testing.T) {
	b := benchOf(t, "mist-blower")
	must(t, b.Set("KEY=run"), b.Set("SW3=on"))
	r := start(t, b, RunOptions{})
	must(t, r.Advance(10, nil))
	i := r.warm.plan.at[b.c.Terminal("K3.30")]
	w := r.warm
	w.read(r)
	watts := w.watts[i]
	w.watts, w.kelvin, w.since = make([]float64, len(w.watts)), make([]float64, len(w.kelvin)), r.Seconds()-200
	w.pass(r)
	want := watts * w.plan.perWatt[i] * -math.Expm1(-100/w.plan.seconds[i])
	if got := w.kelvin[i]; watts <= 0 || math.Abs(got/want-1) > 1e-9 {
		t.Errorf("%v K after 200 s of which half carried %v W, want %v", got, watts, want)
	}
}

// The ln of a wiped contact's ohms goes back with a time constant of a day.
func TestAWipedContactGoesBackInADay(t *testing.T) {
	c := contact{&element.Ohmic{Ohms: 3, BodyJoulesPerKelvin: 2, BodyWattsPerKelvin: 0.02, AirKelvin: 293.15, HealedOhms: 0.01}, 0.02}
	n := transient.New()
	a := n.Node()
	n.Source(transient.Ground, a, 1e-6, 1e-3)
	id := n.Element(a, transient.Ground, c)
	r, err := n.Start(transient.Options{})
	must(t, err)
	if got := math.Exp(r.States(id)[element.OhmicLnOhms]); math.Abs(got-0.02) > 1e-9 {
		t.Errorf("begins with %v ohm", got)
	}
	must(t, r.Advance(86400))
	want := 3 * math.Pow(0.02/3, math.Exp(-1))
	if got := math.Exp(r.States(id)[element.OhmicLnOhms]); math.Abs(got/want-1) > 0.01 {
		t.Errorf("%.4f ohm after a day, want %.4f", got, want)
	}
}

// lifts counts how often a contact lifts in so many seconds of wiggling.
func lifts(t *testing.T, fault, wiggle, ambient string, seconds float64) (lifted float64, r *Run) {
	b := benchFrom(t, strings.Replace(starved, "is: module, supply: [1], ground: [2], resets below: %g V, runs above: 9 V", "is: module, supply: [1], ground: [2], awake: 1 mA", 1))
	must(t, b.Break(fault), b.Set("ambient="+ambient))
	r = start(t, b, RunOptions{Seed: 11, MemoryBytes: -1})
	must(t, r.Do("wiggle C1 "+wiggle))
	up := false
	must(t, r.Advance(seconds, func() bool {
		now := r.age.run.Marks(r.age.flutters[0].id)[element.FlutterLifted] == 1
		if now && !up {
			lifted++
		}
		up = now
		return true
	}))
	return lifted, r
}

// A contact that is wiggled lifts in a share of 0.3 x strength of 200 half-waves a second; twice as often where it is
// corroded, since that is wet, and twice as often for every 30 K. So many draws are within four standard deviations.
func TestContactsLiftByChance(t *testing.T) {
	const seconds, halfWaves = 8, 200 * 8
	for _, row := range []struct {
		fault, wiggle, ambient string
		chance                 float64
	}{
		{"C1.1 spread 20 mohm", "100 %", "20 °C", 0.3},
		{"C1.1 spread 20 mohm", "50 %", "20 °C", 0.15},
		{"C1.1 corroded 20 mohm", "50 %", "20 °C", 0.3},
		{"C1.1 spread 20 mohm", "50 %", "50 °C", 0.3},
	} {
		got, r := lifts(t, row.fault, row.wiggle, row.ambient, seconds)
		want, wide := halfWaves*row.chance, 4*math.Sqrt(halfWaves*row.chance*(1-row.chance))
		if math.Abs(got-want) > wide+2 {
			t.Errorf("%s, %s at %s: lifts %v times in %d half-waves, want %.0f", row.fault, row.wiggle, row.ambient, got, halfWaves, want)
		}
		f := r.age.flutters[0]
		if warm := r.age.run.Marks(f.id)[element.FlutterKelvin]; warm != r.age.run.States(f.joint)[f.body] {
			t.Errorf("it is taken for %v K, its joint has %v", warm, r.age.run.States(f.joint)[f.body])
		}
	}
}

// A lamp flares from 2.4 times its light at 12 V on. With light going by the 3.4th power of its volts (a rule of lamp
// makers' handbooks, from memory) that is at 15.5 V.
func TestLampsFlare(t *testing.T) {
	for volts, want := range map[float64]bool{15: false, 16: true} {
		r := start(t, benchFrom(t, fmt.Sprintf(switched, "nothing")), RunOptions{})
		must(t, r.Attach(Attachment{Red: "L1.in", Black: "L1.out", Volts: volts, Ohms: 1e-3}), r.Advance(3, nil))
		if got := strings.Contains(cuesOf(r), "L1 flares"); got != want || !got && !strings.Contains(cuesOf(r), "L1 is bright") {
			t.Errorf("at %v V: %s", volts, cuesOf(r))
		}
	}
}

// An eye does not see what is over in less than 0.15 s.
func TestAnEyeMissesWhatIsShort(t *testing.T) {
	off := func(seconds float64) (dark float64) {
		b := benchOf(t, "mist-blower")
		must(t, b.Set("KEY=run"), b.Set("SW3=on"))
		r := start(t, b, RunOptions{})
		must(t, r.At(1, "F9=out"), r.At(1+seconds, "F9=in"), r.Advance(5, nil))
		return cueAt(r, "L1 goes dark")
	}
	dark := off(3) - 1 // how long it glows on
	if !(dark > 0.02 && dark < 0.5) {
		t.Fatalf("the lamp goes dark after %.3f s", dark)
	}
	if seen := off(dark + 0.08); !math.IsNaN(seen) {
		t.Errorf("an eye sees 0.08 s of dark, at %.3f s", seen)
	}
	if seen := off(dark + 0.25); math.IsNaN(seen) {
		t.Error("an eye misses a quarter of a second of dark")
	}
}

// The first mark and the newest quarter outlive thinning, of the others every second.
func TestTrailIsThinnedByHalves(t *testing.T) {
	var tr trail
	for i := range 100 {
		tr.marks = append(tr.marks, &mark{seconds: float64(i)})
	}
	tr.thin()
	var got []string
	bytes := 0
	for _, m := range tr.marks {
		got = append(got, fmt.Sprint(m.seconds))
		bytes += m.bytes()
	}
	var want []string
	for i := range 100 {
		if i >= 75 || i%2 == 0 {
			want = append(want, fmt.Sprint(i))
		}
	}
	if strings.Join(got, " ") != strings.Join(want, " ") || bytes != tr.bytes {
		t.Errorf("left are %v of %d bytes, told %d", got, bytes, tr.bytes)
	}
}
