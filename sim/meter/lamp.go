package meter

// This file is the lamps, and a plain resistance in place of one: test lamp, load lamp, LED light.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/part"
)

func lightWord(share float64) string {
	switch {
	case share > catalog.BrightAbove:
		return "bright"
	case share >= catalog.DimAbove:
		return "dim"
	}
	return "dark"
}

// smallLamp and largeLamp are the bulbs of test lamp and load lamp: those of a 24 V vehicle where the circuit is one.
func smallLamp(c *circuit.Circuit) catalog.Bulb { return bulbOf(catalog.TestLampWatts, c) }

func largeLamp(c *circuit.Circuit) catalog.Bulb {
	if c.SystemVolts() > catalog.MostTwelveVolts {
		return bulbOf(catalog.LoadLampWatts24V, c)
	}
	return bulbOf(catalog.LoadLampWatts, c)
}

func bulbOf(watts float64, c *circuit.Circuit) catalog.Bulb {
	bulb, err := catalog.BulbOfWatts(watts, c.SystemVolts())
	if err != nil {
		panic("meter: " + err.Error()) // its watts are in the catalogue
	}
	return bulb
}

// lit attaches a lamp and reads it.
func lit(b *sim.Bench, q Request, bulb catalog.Bulb, across func(*sim.Bench, Request, sim.Attachment) (raw, error)) (raw, error) {
	r, err := across(b, q, sim.Attachment{Law: part.Filament(bulb, b.Circuit().AmbientCelsius)})
	r.light = bulb.Light(r.value)
	return r, err
}

// acrossLeads attaches a law between the leads, unless it is there already, and reads volts and amps.
func acrossLeads(b *sim.Bench, q Request, a sim.Attachment) (raw, error) {
	return readAcross(b, q, a, b.Attach)
}

// slightlyAcross is acrossLeads for what asks for too little to get a motor going.
func slightlyAcross(b *sim.Bench, q Request, a sim.Attachment) (raw, error) {
	return readAcross(b, q, a, b.AttachSlight)
}

func readAcross(b *sim.Bench, q Request, a sim.Attachment, attach func(...sim.Attachment) error) (raw, error) {
	a.Red, a.Black = q.Red, q.Black
	if !q.again {
		if err := attach(a); err != nil {
			return raw{}, err
		}
	}
	r := raw{has: true, value: b.AttachedVolts(0), amps: b.AttachedAmps(0), after: b}
	if volts, _, ok := b.AttachedKick(0); ok {
		r.kick = &volts
	}
	r.light = largeLamp(b.Circuit()).Light(r.value) // a plain load is told as a lamp in its place would be
	return r, nil
}

var testLamp = instrument{
	name: "test-lamp", minutes: catalog.Minutes(catalog.ReadMeter),
	says: "a 3 W filament lamp between the leads, 0.25 A at 12 V; in a 24 V vehicle a 24 V one, 0.13 A",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		return lit(b, q, smallLamp(b.Circuit()), slightlyAcross)
	},
	tell: func(t telling) (string, string) {
		seen := lampSeen(t.got)
		switch {
		case t.got.light >= catalog.BrightAbove:
			meaning := fmt.Sprintf("A path exists and carries %s.", amps(math.Abs(t.got.amps)))
			if t.load != "" {
				meaning += " " + t.load + "."
			}
			if drop := math.Abs(t.healthy.value) - math.Abs(t.got.value); drop > 0.1 {
				meaning += fmt.Sprintf(" The eye passes this lamp, yet it gets %s less than in the healthy circuit.", volts(drop))
			}
			return seen, meaning + " This test cannot see a joint that fails only under load."
		case t.got.light >= catalog.DimAbove:
			return seen, dimMeaning(t)
		}
		return seen, darkMeaning(t)
	},
}

// dimMeaning tells of a test lamp that is dim: little current of its own, and perhaps other current on the same path.
func dimMeaning(t telling) string {
	lost := math.Abs(t.healthy.value) - math.Abs(t.got.value)
	told := fmt.Sprintf("Something between the battery and these points loses %s at only %s.", volts(lost), amps(math.Abs(t.got.amps)))
	got, err := strain(t.got, t.request)
	healthy, trouble := strain(t.healthy, t.request)
	if others := healthy.open - got.open; err == nil && trouble == nil && others > lost/2 {
		told = fmt.Sprintf("Something between the battery and these points loses %s, and %s of that to other current: it does so without this lamp too.", volts(lost), volts(others))
	}
	return told + " It does not say where."
}

var loadLamp = instrument{
	name: "load-lamp", minutes: catalog.Minutes(catalog.LoadLampOn),
	says: "a 55 W filament lamp between the leads, 4.4 A at 13.2 V, as a substitute load; in a 24 V vehicle a 24 V one of 70 W, 2.7 A at 28 V",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		return lit(b, q, largeLamp(b.Circuit()), acrossLeads)
	},
	tell: tellLoad,
}

// plainLoad is a resistance as a load, for working a case out by hand.
func plainLoad(name string, ohms float64) instrument {
	return instrument{
		name: name, minutes: catalog.Minutes(catalog.LoadLampOn), plain: true, says: "a plain resistance between the leads",
		measure: func(b *sim.Bench, q Request) (raw, error) {
			return acrossLeads(b, q, sim.Attachment{Ohms: ohms})
		},
		tell: func(t telling) (string, string) {
			return voltsSeen(t), loadMeaning(t)
		},
	}
}

func tellLoad(t telling) (string, string) { return lampSeen(t.got), loadMeaning(t) }

func loadMeaning(t telling) string {
	lost := math.Abs(t.healthy.value) - math.Abs(t.got.value)
	current := math.Abs(t.got.amps)
	switch {
	case current < 0.001, t.got.light < catalog.DimAbove && t.healthy.light < catalog.DimAbove:
		return darkMeaning(t)
	case math.Abs(lost) < 0.02*math.Abs(t.healthy.value):
		return fmt.Sprintf("The path to these points carries %s and keeps its volts. It says nothing of what lies past them: of a plugged terminal, the contact itself.", amps(current))
	case lost < 0:
		return fmt.Sprintf("These points get %s more than in the healthy circuit: another source reaches these points.", volts(-lost))
	}
	return overload(t, lost, current)
}

// overload tells what a loss under load comes to.
func overload(t telling, lost, current float64) string {
	got, err := strain(t.got, t.request)
	healthy, trouble := strain(t.healthy, t.request)
	extra := got.ohms - healthy.ohms
	told := fmt.Sprintf("With this load on, %s, these points get %s less than in the healthy circuit", amps(current), volts(lost))
	where := "Measure volts along the path, with this load on, to find where."
	if err != nil || trouble != nil || extra < leastOhms {
		return told + ". " + where
	}
	ohms := quantity.Format(extra, quantity.Ohms, 2)
	if others := healthy.open - got.open; others > 0.1*lost && others > nearVolts {
		return fmt.Sprintf("%s; %s of that is lost without it too, to other current. By what the load itself changes: about %s too much between the battery and these points, or somewhat more, as the other loads share its current. %s",
			told, volts(others), ohms, where)
	}
	return fmt.Sprintf("%s: about %s too much between the battery and these points. %s", told, ohms, where)
}

// leastOhms is too little for a lamp to tell.
const leastOhms = 1e-3

// strained is a path as a load sees it: the volts between the leads without it, and the ohms before them.
type strained struct{ open, ohms float64 }

// strain takes the load off in thought, all else staying as it is with it: open volts less loaded volts, over the amps, are
// the resistance of the source that the load sees (Thévenin's theorem). What other loads draw is in the open volts.
func strain(r raw, q Request) (strained, error) {
	if r.known != nil && r.known.open > 0 {
		return *r.known, nil
	}
	off, err := r.after.Clone()
	if err != nil {
		return strained{}, err
	}
	if err := off.AttachHeld(sim.Attachment{Red: q.Red, Black: q.Black, Ohms: catalog.Voltmeter.InputOhms}); err != nil {
		return strained{}, err
	}
	open := math.Abs(off.AttachedVolts(0))
	found := strained{open, (open - math.Abs(r.value)) / math.Abs(r.amps)}
	if r.known != nil {
		*r.known = found
	}
	return found, nil
}

func lampSeen(r raw) string {
	return lightWord(r.light)
}

func darkMeaning(t telling) string {
	if t.healthy.light < catalog.DimAbove {
		return "The healthy circuit gives no more in this state: nothing is proved. Check which switches feed these points, and what stands before them."
	}
	return "No useful current passes. It does not say whether the supply side or the ground side is at fault: move one lead to the battery."
}

// An LED is at its full light at ledFullAmps; of less than ledFaintShare of that nothing is seen (common practice, no source).
const ledFullAmps, ledFaintShare = 0.010, 0.03

var ledLight = instrument{
	name: "led-light", minutes: catalog.Minutes(catalog.ReadMeter),
	says: "an LED with 1 kΩ between the leads, 10 mA at 12 V, lit from red to black",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		const fullAmps = (catalog.LEDFullVolts - catalog.LEDLightVolts) / catalog.LEDLightOhms
		r, err := slightlyAcross(b, q, sim.Attachment{Law: part.LED(fullAmps)})
		r.value = r.amps
		if _, kickAmps, ok := b.AttachedKick(0); ok && err == nil {
			r.kick = &kickAmps
		}
		return r, err
	},
	tell: func(t telling) (string, string) {
		// An LED's light goes with its current; the eye calls half of it bright.
		const litShare = 0.5
		share := t.got.amps / ledFullAmps
		switch {
		case share >= litShare:
			return "lit", fmt.Sprintf("Some path exists that passes %s. So little gets through almost anything: a bad joint, a relay coil, another lamp. It proves neither a feed nor a ground.", amps(t.got.amps))
		case share >= ledFaintShare:
			return "faint", "Only a milliamp or so passes: a path of kilohms."
		}
		return "dark", "Open, or the leads are the wrong way round: it lights only from red to black."
	},
}

func (i instrument) isLamp() bool {
	return i.leads == twoLeads && i.name != voltmeter.name && i.name != ohmmeter.name && i.name != ammeter.name &&
		i.name != jumper.name && i.name != ledLight.name
}
