package meter

// This file is the voltmeter and the ohmmeter.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
)

var voltmeter = instrument{
	name: "volts", minutes: catalog.Minutes(catalog.ReadMeter), says: "a voltmeter, 10 MΩ between the leads",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		return slightlyAcross(b, q, sim.Attachment{Ohms: catalog.Voltmeter.InputOhms})
	},
	tell: func(t telling) (string, string) {
		return voltsSeen(t), voltsMeaning(t)
	},
}

// kickCounts is how many counts of its display a meter must jump by for a person to call it a kick.
const kickCounts = 5

func voltsSeen(t telling) string {
	resolution, _, _ := accuracy(catalog.Voltmeter, t.got.value)
	if t.got.kick != nil && math.Abs(*t.got.kick-t.got.value) > kickCounts*resolution {
		return fmt.Sprintf("rests at %s and kicks to %s again and again", volts(t.got.value), volts(*t.got.kick))
	}
	return "steady"
}

func voltsMeaning(t telling) string {
	told := ""
	if f := sameFuse(t.bench, t.request); f != nil {
		ohms := fuseOhms(t.bench, f)
		told = fmt.Sprintf("Over fuse %s, cold, this is %s, and %s in the healthy circuit.", f.Name, amps(t.got.value/ohms), amps(t.healthy.value/ohms))
	}
	red, errRed := t.bench.Circuit().Point(t.request.Red)
	black, errBlack := t.bench.Circuit().Point(t.request.Black)
	floating := errRed == nil && errBlack == nil && t.bench.Floats(red) != t.bench.Floats(black)
	difference := math.Abs(t.got.value - t.healthy.value)
	switch {
	case t.got.kick != nil && math.Abs(*t.got.kick-t.got.value) > kickVolts:
		return sentence(told, fmt.Sprintf("A module tries to come up over and over: each time it asks for current, these points move by %s. A plain meter shows the rest between two attempts; keep the extremes (min/max) to catch the kick.", volts(math.Abs(*t.got.kick-t.got.value))))
	case floating:
		return sentence(told, "One of the leads hangs on nothing that leads to the battery: what shows is the meter's own pull, not a supply.")
	case difference <= math.Max(nearVolts, sure(t.healthy.value)):
		return sentence(told, alikeMeaning(t, difference))
	case sameOhms(t):
		return sentence(told, fmt.Sprintf("Volt for amp as in the healthy circuit: %s flows here in place of %s. What changes the current lies elsewhere.",
			amps(passing(t.got.after, t.request)), amps(passing(t.healthy.after, t.request))))
	case math.Abs(t.got.value) < math.Abs(t.healthy.value):
		return sentence(told, fmt.Sprintf("%s less than in the healthy circuit. It says how much is missing between these points, not where: move one lead along the path while the load works.", volts(difference)))
	}
	return sentence(told, fmt.Sprintf("%s more than in the healthy circuit. If both points lie on one path, the loss, or a break, sits between them; if not, current comes another way.", volts(difference)))
}

// Readings closer than nearVolts are not told apart. Below dropVolts a reading is a drop and not a supply.
const nearVolts, dropVolts = 0.05, 0.5

// sure is how far a voltmeter's reading may be off.
func sure(volts float64) float64 {
	_, plusMinus, _ := accuracy(catalog.Voltmeter, volts)
	return plusMinus
}

// alikeMeaning tells what a reading proves that is close to the healthy circuit's.
func alikeMeaning(t telling, difference float64) string {
	healthy := math.Abs(t.healthy.value)
	if healthy < noVolts && math.Abs(t.got.value) < noVolts {
		return "Nothing stands between these points, nor would it in the healthy circuit in this state: nothing is proved."
	}
	like := "As in the healthy circuit."
	if difference > sure(healthy) {
		like = fmt.Sprintf("Within %s of the healthy circuit.", volts(nearVolts))
	}
	if passed := passing(t.got.after, t.request); passed >= loadedAmps {
		return fmt.Sprintf("%s With %s flowing here the way to these points holds; with more it may not, and past them, of a plugged terminal the contact itself, it says nothing.", like, amps(passed))
	}
	if healthy < dropVolts {
		return like + " A drop is worth as much as the current behind it: with the load off, or starved elsewhere, it proves nothing."
	}
	return like + " A meter asks for a microamp: good volts prove that something connects, not that it carries the load."
}

// loadedAmps through the points of a reading make it one under load.
const loadedAmps = 0.1

// passing is the current through the terminals that the leads are on, the smaller of the two; 0 where neither is on one.
func passing(b *sim.Bench, q Request) float64 {
	least := math.Inf(1)
	for _, name := range []string{q.Red, q.Black} {
		if point, err := b.Circuit().Point(name); err == nil && point.Terminal != nil {
			least = math.Min(least, b.TerminalAmps(point.Terminal))
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// sameOhms reports whether a drop under load differs from the healthy circuit's only because another current flows.
func sameOhms(t telling) bool {
	own, healthy := passing(t.got.after, t.request), passing(t.healthy.after, t.request)
	if own < loadedAmps || healthy < loadedAmps || math.Abs(t.healthy.value) > dropVolts {
		return false
	}
	const alike = 0.1 // a tenth
	return math.Abs(t.got.value/own*healthy/t.healthy.value-1) < alike
}

// noVolts is less than a voltmeter shows.
const noVolts = 1e-4

// kickVolts is how far a reading must jump, as a module boots, to be the news in it.
const kickVolts = 0.1

// sameFuse is the fuse whose two tops the leads are on, or nil.
func sameFuse(b *sim.Bench, q Request) *circuit.Part {
	for _, f := range b.Circuit().OfKind("fuse") {
		in, out := f.Terminals[0].Name, f.Terminals[1].Name
		if (q.Red == in && q.Black == out || q.Red == out && q.Black == in) && !b.State(f).Out {
			return f
		}
	}
	return nil
}

// fuseOhms is the cold resistance that the mark on the fuse stands for.
func fuseOhms(b *sim.Bench, f *circuit.Part) float64 {
	if own := f.Value("resistance"); own > 0 {
		return own
	}
	made, err := catalog.FuseOf(fuseType(b, f), fuseAmps(b, f))
	if err != nil {
		return math.NaN()
	}
	return made.ColdOhms
}

// fuseAmps is the rating of the fuse that sits there.
func fuseAmps(b *sim.Bench, f *circuit.Part) float64 {
	if s := b.State(f); s.RatingAmps > 0 {
		return s.RatingAmps
	}
	return f.Value("rating")
}

func fuseType(b *sim.Bench, f *circuit.Part) catalog.FuseType {
	if kind := catalog.FuseType(f.Text("type")); kind != "" {
		return kind
	}
	return catalog.UsualFuseType(fuseAmps(b, f))
}

var ohmmeter = instrument{
	name: "ohms", minutes: catalog.Minutes(catalog.ReadMeter), says: "an ohmmeter: its own source of up to 3.2 V and about 1 mA, leads zeroed",
	measure: measureOhms,
	tell: func(t telling) (string, string) {
		seen := "steady"
		if !t.got.has {
			seen = "over range"
		}
		if t.got.seen != "" {
			return t.got.seen, "The circuit is live between these points, so the number cannot be believed: it is the meter's own source against the circuit's. Take the feed away first."
		}
		switch {
		case !t.got.has:
			return seen, "No path that the meter's milliamp can find."
		case t.got.value < 10:
			return seen, sentence("A path exists.", ohmsApart(t), "The last digit is a tenth of an ohm: a joint of less, which can lose a volt to a load of ten amps, does not show, and neither does a wire that hangs by a strand. Only amps through it can tell.")
		}
		return seen, sentence("All paths between the points together, loads of other circuits too.", ohmsApart(t), "It does not say which path.")
	},
}

// ohmsApart tells how far a resistance is from the healthy circuit's, where the meter can tell them apart.
func ohmsApart(t telling) string {
	if !t.healthy.has {
		return "The healthy circuit has none here."
	}
	_, plusMinus, _ := accuracy(catalog.Ohmmeter, t.healthy.value)
	switch more := t.got.value - t.healthy.value; {
	case more > plusMinus:
		return fmt.Sprintf("It has %s more than in the healthy circuit.", ohmsText(more))
	case more < -plusMinus:
		return fmt.Sprintf("It has %s less than in the healthy circuit.", ohmsText(-more))
	}
	return "As in the healthy circuit."
}

// liveVolts makes an ohmmeter's number worthless in any range; in the lowest one less does.
const liveVolts = 0.005

func measureOhms(b *sim.Bench, q Request) (raw, error) {
	if err := b.AttachSlight(sim.Attachment{Red: q.Red, Black: q.Black, Ohms: catalog.Voltmeter.InputOhms}); err != nil {
		return raw{}, err
	}
	r := raw{after: b}
	live := b.AttachedVolts(0)
	tellLive := func() { r.seen = fmt.Sprintf("%s stands between the leads", volts(live)) }
	if math.Abs(live) > liveVolts {
		tellLive()
	}
	for _, scale := range catalog.Ohmmeter.Ranges {
		inner := scale.OpenVolts / scale.TestAmps
		if err := b.AttachSlight(sim.Attachment{Red: q.Red, Black: q.Black, Volts: scale.OpenVolts, Ohms: inner}); err != nil {
			return raw{}, err
		}
		across := b.AttachedVolts(0)
		shows := inner * across / (scale.OpenVolts - across)
		if across < scale.OpenVolts && math.Abs(shows) <= scale.FullScale {
			r.has, r.value = true, shows
			// The meter takes the circuit's volts for those that its own current makes.
			if _, plusMinus, _ := accuracy(catalog.Ohmmeter, shows); math.Abs(live) > plusMinus*scale.TestAmps {
				tellLive()
			}
			return r, nil
		}
	}
	return r, nil
}

// scale gives unit, resolution and uncertainty of an instrument at a value.
func (i instrument) scale(value float64) (unit string, resolution, uncertainty *float64) {
	meter := catalog.Voltmeter
	unit = volt
	switch i.name {
	case ohmmeter.name:
		unit, meter = ohm, catalog.Ohmmeter
	case ammeter.name:
		unit, meter = ampere, catalog.Ammeter
	case clampMeter.name:
		unit, meter = ampere, catalog.Clamp
	case jumper.name:
		unit, meter = ampere, catalog.Clamp // read with a clamp around it
	case ledLight.name:
		// By eye: half as much or half as much again, and nothing of what is too faint to be seen.
		return ampere, p(0.001), p(math.Max(0.5*math.Abs(value), ledFaintShare*ledFullAmps))
	case dragGauge.name:
		return newton, p(catalog.DragGaugeNewtons), p(2 * catalog.DragGaugeNewtons)
	case rollCall.name, look.name:
		return "", nil, nil
	}
	step, plusMinus, _ := accuracy(meter, value)
	return unit, p(step), p(plusMinus)
}

// ohmsText writes a resistance for people.
func ohmsText(v float64) string {
	if math.IsInf(v, 1) {
		return "open"
	}
	return quantity.Format(v, quantity.Ohms, 2)
}
