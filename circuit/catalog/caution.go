// What to beware of at a vehicle, by the tags that a circuit file puts on a part, a connector, or the whole.
// The maker's procedure, local law and licensed practice come before any of it.

package catalog

import "slices"

// Caution is a warning and the tag that brings it.
type Caution struct {
	Tag    string
	On     string // what such a tag is put on
	Says   string
	Source Source
}

// The tags that the program puts on by itself, where it sees the kind of part or what it does.
const (
	TagBattery = "battery"
	TagLithium = "lithium" // takes the place of battery
	TagCrank   = "crank"
	TagMotion  = "motion"
	TagExhaust = "exhaust"
	TagFuse    = "fuse"
	Tag24V     = "24v"
)

var (
	airBagTexts    = Source{"four vehicle makers' workshop texts", Read}
	batteryTexts   = Source{"public safety pages and battery makers' leaflets", Read}
	repairSafety   = Source{"a public safety body's pages on vehicle repair", Read}
	orangeCables   = Source{"UN Regulation 100, 5.1.1.5.3, in a national text that repeats it", SecondHand}
	stored         = Source{"ISO 12100 and national rules on locking out", Memory}
	fumes          = Source{"HSG261, title seen only", Memory}
	sparkLabels    = Source{"makers' labels on coils, ballasts and injectors", Memory}
	burningHarness = Source{"a public report on highway vehicle fires: wire insulation is the first to burn in 29 %", Read}
	systemVolts    = Source{"ISO 16750-2, edition 2023: electronics of 12 V systems are tested at 26 V for a minute", SecondHand}
)

var cautions = []Caution{
	{"srs", "air bags and belt tensioners, and what their loom shares",
		"Air bag or belt tensioner: no lamp, no meter, no back-probe on its circuits unless the maker's procedure orders it. Power down and wait as the maker says.", airBagTexts},
	{"hv", "orange cables and their boxes, hybrid or electric",
		"Orange cables and their boxes are high voltage: do not touch, probe or pierce them. Work on them is for people trained and licensed for it.", orangeCables},
	{"spark", "ignition coils, lamp ballasts, injectors with a high voltage of their own",
		"This makes 60 V to over 20 kV of its own while it runs: never back-probe it running.", sparkLabels},
	{TagBattery, "batteries, by itself but for lithium",
		"Lead-acid batteries give off hydrogen and can drive hundreds of amps through a tool: no sparks, eye protection, rings off; ground lead off first and on last.", batteryTexts},
	{TagLithium, "a lithium battery of 12 V",
		"A lithium battery drives hundreds of amps through a tool as well: eye protection, rings off; no lead-acid charger and no jump start without its maker's word; keep away from one that is swollen or hot.", fromPractice},
	{"fuel", "fuel pumps, and tanks with what hangs on them",
		"Fuel vapour: no sparks, no lamps, no live unplugging here.", repairSafety},
	{TagCrank, "starters, by itself while one is fed",
		"Before you crank: out of gear, brake set, wheels blocked, engine kept from starting; nobody and no lead near belts and fans. Never longer than ten seconds at a time.", repairSafety},
	{TagExhaust, "engines, by itself while one turns a generator",
		"An engine that runs makes carbon monoxide: outdoors, or with the exhaust drawn off.", fumes},
	{TagMotion, "pumps, tools, hydraulics, steps; by itself on motors without a tag",
		"Current may start something moving: lock out and isolate pumps, tools and hydraulics first.", stored},
	{"fan", "electric fans", "The fan is electric: it may start by itself, key off or not.", fromPractice},
	{"brakes", "brakes, steering, lifts", "A brake, steering or lifting system: after work, test it in a safe place before use.", fromPractice},
	{"residue", "sprayers, tankers, ambulances",
		"Sprayers, tankers and ambulances carry what you do not want on your hands or in a cut: gloves, and wash.", fromPractice},
	{"lift", "what is worked on under a raised body, boom or vehicle",
		"Nobody goes under a vehicle, a raised body or a boom that hangs on a jack or on oil pressure: prop it and lock it first.", repairSafety},
	{Tag24V, "24 V systems; by itself where the posts of batteries have more than 18 V between them", "24 V here: 12 V lamps and tools burn, and the polarity of jump leads matters even more.", systemVolts},
	{TagFuse, "what is behind a fuse of more than its slot is for, by itself",
		"A fuse larger than its slot is for: the loom burns before it does. Fit the rated one before anything is switched on.", burningHarness},
}

// Cautions lists them all.
func Cautions() []Caution { return slices.Clone(cautions) }

// Tags lists the tags, in the order of Cautions.
func Tags() []string {
	names := make([]string, len(cautions))
	for i, c := range cautions {
		names[i] = c.Tag
	}
	return names
}
