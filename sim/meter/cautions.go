package meter

// This file is the cautions that go with a reading. The maker's procedure, local law and licensed practice come first.

import (
	"slices"

	"underload/circuit"
)

const (
	lampCaution   = "A load lamp is hot glass and several amps: use it on fused feeds and grounds only, never on outputs, sensors, the bus or anything made for milliamps, and for seconds at a time."
	jumperCaution = "Fuse a jumper at or below the wire's own fuse. Never put battery volts on an output, a sensor, the 5 V line or the bus."
	probeCaution  = "Touch a terminal from the wire side, or with the mating pin of its own series. A tip pushed into its mouth spreads it: the next fault is then yours."
)

// tagCautions are told wherever a part, connector or circuit carries the tag.
var tagCautions = map[string]string{
	"srs":     "Air bag or belt tensioner: no lamp, no meter, no back-probe on its circuits unless the maker's procedure orders it. Power down and wait as the maker says.",
	"hv":      "Orange cables and their boxes are high voltage: do not touch, probe or pierce them. Work on them is for people trained and licensed for it.",
	"battery": "Lead-acid batteries give off hydrogen and can drive hundreds of amps through a tool: no sparks, eye protection, rings off; ground lead off first and on last.",
	"fuel":    "Fuel vapour: no sparks, no lamps, no live unplugging here.",
	"crank":   "Before you crank: out of gear, brake set, wheels blocked, engine kept from starting; nobody and no lead near belts and fans. Never longer than ten seconds at a time.",
	"motion":  "Current may start something moving: lock out and isolate pumps, tools and hydraulics first.",
	"fan":     "The fan is electric: it may start by itself, key off or not.",
	"brakes":  "A brake, steering or lifting system: after work, test it in a safe place before use.",
	"residue": "Sprayers, tankers and ambulances carry what you do not want on your hands or in a cut: gloves, and wash.",
	"lift":    "Nobody goes under a vehicle, a raised body or a boom that hangs on a jack or on oil pressure: prop it and lock it first.",
	"24v":     "24 V here: 12 V lamps and tools burn, and the polarity of jump leads matters even more.",
}

// KnownTags lists the tags that bring a caution, in order.
func KnownTags() []string {
	var names []string
	for tag := range tagCautions {
		names = append(names, tag)
	}
	slices.Sort(names)
	return names
}

// CautionsOf are the cautions that a list of tags brings.
func CautionsOf(tags []string) []string {
	var told []string
	for _, tag := range tags {
		if caution, ok := tagCautions[tag]; ok && !slices.Contains(told, caution) {
			told = append(told, caution)
		}
	}
	return told
}

func cautionsFor(t telling) []string {
	c := t.bench.Circuit()
	tags := slices.Clone(c.Tags)
	probed := false
	for _, name := range []string{t.request.Red, t.request.Black} {
		point, err := c.Point(name)
		if err != nil || point.Terminal == nil {
			continue
		}
		if owner := c.Part(point.Terminal.Owner); owner != nil {
			tags = append(tags, owner.Tags...)
		}
		if con := c.Connector(point.Terminal.Owner); con != nil {
			tags = append(tags, con.Tags...)
		}
		probed = probed || point.Reach != circuit.Open
	}
	told := CautionsOf(tags)
	if probed {
		told = append(told, probeCaution)
	}
	return told
}
