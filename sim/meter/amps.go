package meter

// This file is what reads amps: the ammeter in line, the clamp, and the fused jumper.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/part"
)

// What is seen of a bridge whose own fuse has melted.
const meterFuseBlew, jumperFuseBlew = "the meter's own fuse blew", "the jumper's fuse blew"

var ammeter = instrument{
	name: "amps", blows: meterFuseBlew, minutes: catalog.Minutes(catalog.InLine), says: "an ammeter in line, 10 mΩ and its own 10 A fuse; it needs a gap to sit in",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		if err := needsGap(b, q); err != nil {
			return raw{}, err
		}
		return throughFuse(b, q, catalog.Ammeter.InputOhms, catalog.Ammeter.FuseAmps, meterFuseBlew)
	},
	tell: func(t telling) (string, string) {
		if t.got.seen != "" {
			return t.got.seen, "An ammeter is a short circuit to whatever it is put across. Put it into a gap in the path: a fuse pulled, a connector apart."
		}
		return "steady", ampsMeaning(t)
	},
}

// throughFuse bridges the leads by a small resistance with a fuse of its own. In a short the smallest fuse goes first:
// if that is the bridge's, the circuit is left as it was.
func throughFuse(b *sim.Bench, q Request, ohms, ratingAmps float64, blown string) (raw, error) {
	bridge := sim.Attachment{Red: q.Red, Black: q.Black, Ohms: ohms}
	if err := b.AttachHeld(bridge); err != nil {
		return raw{}, err
	}
	first := math.Abs(b.AttachedAmps(0))
	if weakest := b.WeakestOverloaded(); first > part.BlowShare*ratingAmps && (weakest == 0 || weakest >= ratingAmps) {
		return gone(b, blown, first)
	}
	r, err := acrossLeads(b, q, sim.Attachment{Ohms: ohms})
	if err != nil {
		return raw{}, err
	}
	if math.Abs(r.amps) > part.BlowShare*ratingAmps {
		return gone(b, blown, math.Abs(r.amps))
	}
	r.value, r.kick = r.amps, nil
	if _, kickAmps, ok := b.AttachedKick(0); ok {
		r.kick = &kickAmps
	}
	return r, nil
}

// gone is a reading through a fuse that has blown: nothing is left between the leads.
func gone(b *sim.Bench, blown string, at float64) (raw, error) {
	return raw{has: true, seen: fmt.Sprintf("%s at %s", blown, amps(at)), after: b}, b.Attach()
}

// needsGap refuses an ammeter across something that is closed, which would only share the current with it.
func needsGap(b *sim.Bench, q Request) error {
	red, err := b.Circuit().Point(q.Red)
	if err != nil {
		return err
	}
	black, err := b.Circuit().Point(q.Black)
	if err != nil {
		return err
	}
	for _, point := range []circuit.Point{red, black} {
		if point.Terminal != nil && b.IsApart(point.Terminal) {
			return nil
		}
	}
	if red.Terminal != nil && red.Terminal == black.Terminal {
		return fmt.Errorf("amps needs a gap to sit in: take %s apart first (--apart %s)", red.Terminal.Owner, red.Terminal.Owner)
	}
	if f := sameFuse(b, q); f != nil {
		return fmt.Errorf("amps needs a gap to sit in: pull %s first (--set %s=out)", f.Name, f.Name)
	}
	sound, err := b.Sound()
	if err != nil {
		return err
	}
	if joined, err := joinedAlready(sound, q); err != nil || !joined {
		return err
	}
	return fmt.Errorf("amps needs a gap to sit in: %s and %s are joined already, so that it would only share the current; pull a fuse of that path (--set F7=out) or take a connector apart (--apart C14), and put the leads on both sides of the gap", q.Red, q.Black)
}

// Leads with less than joinedVolts between them and less than joinedOhms behind those sit on one closed path.
const joinedVolts, joinedOhms = 0.5, 1.0

// joinedAlready reports whether current passes between the leads without the meter.
func joinedAlready(b *sim.Bench, q Request) (bool, error) {
	if err := b.AttachHeld(sim.Attachment{Red: q.Red, Black: q.Black, Ohms: catalog.Voltmeter.InputOhms}); err != nil {
		return false, err
	}
	before := math.Abs(b.AttachedVolts(0))
	if err := b.AttachHeld(sim.Attachment{Red: q.Red, Black: q.Black, Ohms: catalog.Ammeter.InputOhms}); err != nil {
		return false, err
	}
	through := math.Abs(b.AttachedAmps(0))
	return before < joinedVolts && through > noAmps && before/through < joinedOhms, nil
}

func ampsMeaning(t telling) string {
	got, healthy := math.Abs(t.got.value), math.Abs(t.healthy.value)
	switch {
	case got < 0.001 && healthy < 0.001:
		return "Nothing flows, nor would it in the healthy circuit in this state: nothing is proved."
	case math.Abs(got-healthy) < math.Max(0.03, 0.05*healthy):
		return "As in the healthy circuit: the whole path carries what its load asks for."
	case got < healthy:
		return fmt.Sprintf("%s where the healthy circuit takes %s: something in this path, or the load itself, holds the current back. Amps do not say where; volts lost along the path do.", amps(got), amps(healthy))
	}
	return fmt.Sprintf("%s where the healthy circuit takes %s: a load draws too much, a module cannot finish its boot, or current goes where it should not.", amps(got), amps(healthy))
}

var clampMeter = instrument{
	name: "clamp", leads: oneWire, minutes: catalog.Minutes(catalog.ClampOn), says: "a clamp around one wire, given with --on; positive along its path",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		wire := b.Circuit().Wire(q.On)
		value, kick, cycles := b.WireAmps(wire)
		r := raw{has: true, value: value, amps: value, after: b}
		if cycles {
			r.kick = &kick
		}
		return r, nil
	},
	tell: func(t telling) (string, string) {
		seen := "steady"
		if t.got.kick != nil && math.Abs(*t.got.kick-t.got.value) > catalog.Clamp.Accuracy.Fixed {
			seen = fmt.Sprintf("rests at %s and kicks to %s again and again", amps(t.got.value), amps(*t.got.kick))
		}
		meaning := ampsMeaning(t)
		if math.Abs(t.got.value) < 2*catalog.Clamp.Accuracy.Fixed {
			meaning += " A clamp wanders by tens of milliamps: zero it here, and trust nothing smaller."
		}
		return seen, meaning
	},
}

var jumper = instrument{
	name: "jumper", blows: jumperFuseBlew, minutes: catalog.Minutes(catalog.InLine), says: "a jumper lead with a 10 A fuse between two points",
	measure: func(b *sim.Bench, q Request) (raw, error) {
		spare, err := b.Clone()
		if err != nil {
			return raw{}, err
		}
		before, err := acrossLeads(spare, q, sim.Attachment{Ohms: catalog.Voltmeter.InputOhms})
		if err != nil {
			return raw{}, err
		}
		r, err := throughFuse(b, q, catalog.JumperOhms, catalog.JumperFuseAmps, jumperFuseBlew)
		if err != nil {
			return r, err
		}
		r.lines = works(b)
		r.changed = slices.Clone(b.Moved())
		for _, line := range r.lines {
			if !slices.Contains(works(spare), line) {
				r.changed = append(r.changed, line)
			}
		}
		if math.Abs(before.value) > shortVolts && r.seen != "" {
			r.misuse = fmt.Sprintf("%s stand between these points: a jumper here shorts a feed to ground. Only its fuse saved the wiring.", volts(math.Abs(before.value)))
		}
		return r, nil
	},
	tell: func(t telling) (string, string) {
		if t.got.seen != "" {
			return t.got.seen, "The jumper carried a short. Bridge along one path, never from a feed to ground."
		}
		seen := "fuse holds"
		if len(t.got.changed) == 0 {
			return seen, fmt.Sprintf("It carries %s and nothing in the circuit changes: what it bridges is not what fails, or the loads here are off.", amps(math.Abs(t.got.value)))
		}
		return seen, fmt.Sprintf("It carries %s, and with it: %s. If the complaint goes with it and comes back without it, the fault lies in what it bridges.",
			amps(math.Abs(t.got.value)), strings.Join(t.got.changed, "; "))
	},
}

// shortVolts between two points make a jumper there a short.
const shortVolts = 6.0

// works lists what the loads do.
func works(b *sim.Bench) []string {
	var lines []string
	for _, p := range b.Circuit().Parts {
		if line := loadSeen(b, p); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// loadSeen is what a person notices of a load, or "" for what shows nothing. A dead one does nothing, whatever its volts.
func loadSeen(b *sim.Bench, p *circuit.Part) string {
	v, a := b.LoadVolts(p)
	if b.State(p).Flaw.Dead {
		v, a = 0, 0
	}
	switch p.Kind.Name {
	case "lamp":
		state := b.State(p)
		if state.Blown {
			return p.Name + " is burnt out: dark"
		}
		return p.Name + " is " + lightWord(part.Light(p, &state, v))
	case "led":
		if a > 0.3*p.Value("draws") {
			return p.Name + " is lit"
		}
		return p.Name + " is dark"
	case "motor":
		state := b.State(p)
		pace := part.PaceAt(math.Abs(part.SpeedShare(p, &state, v)))
		if v < 0 && pace != part.Stands {
			return p.Name + " " + pace.Says(p) + ", backwards"
		}
		return p.Name + " " + pace.Says(p)
	case "heater":
		if math.Abs(v) > 0.5*p.Value("at") {
			return p.Name + " warms up"
		}
		return p.Name + " stays cold"
	}
	return ""
}

// newtons writes a force for people.
func newtons(v float64) string { return quantity.Format(v, quantity.Newtons, 2) }
