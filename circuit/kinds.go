package circuit

// This file is the table of the kinds of part: their terminals, the keys a file may give, and the default of each
// key. The reader, the points list and the format page are all made from it.

import (
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// Form says how the value of a key is written.
type Form int

// The forms of a key's value.
const (
	Quantity Form = iota // a number with a unit
	Text                 // any words
	Choice               // one of Choices
	Names                // a list of pin names
	Throws               // a switch's positions: {off: [], run: [b-ign]}
	Outputs              // a module's outputs: {5: {pulls to: ground, for: M1, through: 0.6 ohm}}
)

// Key is one thing a part may say of itself.
type Key struct {
	Name        string
	Form        Form
	Dimension   quantity.Dimension // Quantity only; Default is in its base unit
	Choices     []string
	Required    bool
	Default     float64
	DefaultText string
	Positive    bool   // zero is refused; a negative value always is
	Says        string // what the key means, for people
}

// Kind is a kind of part.
type Kind struct {
	Name      string
	Says      string
	Terminals []string    // fixed terminals; empty where the file names them
	Pass      [][2]string // terminals between which current can pass inside
	Load      bool        // it takes current to do work
	Plugged   bool        // its terminals can be pulled apart
	Keys      []Key
}

func (k *Kind) key(name string) Key {
	for _, key := range k.Keys {
		if key.Name == name {
			return key
		}
	}
	panic("circuit: a " + k.Name + " has no key " + name)
}

// Two-terminal parts are met at in and left at out, in the order of the path.
var inOut = []string{"in", "out"}
var inToOut = [][2]string{{"in", "out"}}

// KindNamed finds a kind, or nil.
func KindNamed(name string) *Kind {
	for i := range Kinds {
		if Kinds[i].Name == name {
			return &Kinds[i]
		}
	}
	return nil
}

// Kinds is the table. A new kind of part is one entry here, one file in sim/part and one in sim/live.
var Kinds = []Kind{
	{
		Name: "battery", Says: "the source; of several in series the lowest minus post is 0 V",
		Terminals: []string{"pos", "neg"}, Pass: [][2]string{{"neg", "pos"}},
		Keys: []Key{
			{Name: "volts", Dimension: quantity.Volts, Default: 12.6, Positive: true, Says: "rested volts, nothing running"},
			{Name: "internal", Dimension: quantity.Ohms, Default: 0.008, Positive: true, Says: "inner resistance"},
			{Name: "charges from", Dimension: quantity.Volts, Positive: true, Says: "volts above which it takes charge; 0.4 V above its rested volts where left out"},
			{Name: "charging", Dimension: quantity.Ohms, Positive: true, Says: "inner resistance while it takes charge; where left out it goes by how full it is"},
			{Name: "capacity", Dimension: quantity.AmpereHours, Default: 60, Positive: true, Says: "what it gives within 20 hours when full; how full it is goes by its rested volts"},
			{Name: "cold cranking", Dimension: quantity.Amperes, Positive: true, Says: "amps it gives for 30 s at -18 °C; its inner resistance goes by these where internal is left out"},
		},
	},
	{
		Name: "generator", Says: "the engine's generator with its regulator; it gives nothing until it is set running",
		Terminals: []string{"B+", "case"}, Pass: [][2]string{{"case", "B+"}},
		Keys: []Key{
			{Name: "volts", Dimension: quantity.Volts, Default: 14.3, Positive: true, Says: "what its regulator holds between its own terminals"},
			{Name: "internal", Dimension: quantity.Ohms, Default: 0.002, Positive: true, Says: "what the regulator gives way per ampere"},
			{Name: "limit", Dimension: quantity.Amperes, Default: 70, Positive: true, Says: "the most it gives"},
		},
	},
	{
		Name: "fuse", Says: "a blade or bolt-in fuse in its slot",
		Terminals: inOut, Pass: inToOut, Plugged: true,
		Keys: []Key{
			{Name: "rating", Dimension: quantity.Amperes, Required: true, Positive: true, Says: "rated amps"},
			{Name: "type", Form: Choice, Choices: []string{"miniature", "standard", "large", "bolt-in"}, Says: "miniature up to 30 A, large up to 80 A and bolt-in above, where left out"},
			{Name: "resistance", Dimension: quantity.Ohms, Positive: true, Says: "cold resistance; from the catalogue where left out"},
		},
	},
	{
		Name: "fusible link", Says: "a length of thin wire that melts, part of the loom",
		Terminals: inOut, Pass: inToOut,
		Keys: []Key{
			{Name: "rating", Dimension: quantity.Amperes, Required: true, Positive: true, Says: "amps it carries for good"},
			{Name: "resistance", Dimension: quantity.Ohms, Default: 0.002, Positive: true, Says: "cold resistance"},
		},
	},
	{
		Name: "switch", Says: "any poles and throws; the first position is the one at rest",
		Plugged: true,
		Keys: []Key{
			{Name: "throws", Form: Throws, Required: true, Says: "each position and the pairs of terminals it joins"},
			{Name: "contact", Dimension: quantity.Ohms, Default: 0.010, Positive: true, Says: "a closed contact"},
		},
	},
	{
		Name: "relay", Says: "coil 85-86, contact 30-87, and 30-87a at rest",
		Terminals: []string{"30", "85", "86", "87", "87a"}, Pass: [][2]string{{"30", "87"}, {"30", "87a"}, {"86", "85"}},
		Plugged: true,
		Keys: []Key{
			{Name: "coil", Dimension: quantity.Ohms, Default: catalog.PlugInRelay.CoilOhms, Positive: true, Says: "coil at 20 °C"},
			{Name: "pulls in", Dimension: quantity.Volts, Default: catalog.PlugInRelay.PullInVolts, Positive: true, Says: "coil volts that surely pull it in, coil at 20 °C"},
			{Name: "lets go", Dimension: quantity.Volts, Default: catalog.PlugInRelay.ReleaseVolts, Positive: true, Says: "coil volts at which it lets go"},
			{Name: "contact", Dimension: quantity.Ohms, Default: catalog.PlugInRelay.ContactOhms, Positive: true, Says: "a closed contact"},
			{Name: "travel", Dimension: quantity.Seconds, Default: 0.003, Positive: true, Says: "how long its contact is on the way when it pulls in; half of that when it lets go"},
			{Name: "suppressed by", Form: Choice, Choices: []string{"nothing", "resistor", "diode"}, DefaultText: "nothing", Says: "what lies across the coil: 680 ohm, or a diode that wants + on 86"},
		},
	},
	{
		Name: "lamp", Says: "a filament lamp",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "bulb", Form: Text, Required: true, Says: "a lamp type such as P21W, or its watts"},
		},
	},
	{
		Name: "resistor", Says: "a plain resistance",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "resistance", Dimension: quantity.Ohms, Required: true, Positive: true, Says: "ohms"},
		},
	},
	{
		Name: "heater", Says: "a heating element, a plain resistance given by its watts",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "power", Dimension: quantity.Watts, Required: true, Positive: true, Says: "watts at its volts"},
			{Name: "at", Dimension: quantity.Volts, Default: 13.5, Positive: true, Says: "the volts its watts are given for"},
		},
	},
	{
		Name: "diode", Says: "conducts from in to out",
		Terminals: inOut, Pass: inToOut, Plugged: true,
		Keys: []Key{
			{Name: "drops", Dimension: quantity.Volts, Default: 0.8, Positive: true, Says: "forward volts at 1 A"},
		},
	},
	{
		Name: "led", Says: "a light-emitting diode with its series resistor; lights from in to out",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "draws", Dimension: quantity.Amperes, Default: 0.010, Positive: true, Says: "amps at 12 V"},
		},
	},
	{
		Name: "motor", Says: "a permanent-magnet motor, running steadily whenever it is fed",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "draws", Dimension: quantity.Amperes, Required: true, Positive: true, Says: "amps when it runs at its volts"},
			{Name: "at", Dimension: quantity.Volts, Default: 13.0, Positive: true, Says: "the volts its amps are given for"},
			{Name: "stalls at", Dimension: quantity.Amperes, Positive: true, Says: "amps when held fast at its volts; five times its draw where left out"},
			{Name: "turns", Form: Choice, Choices: []string{"fan", "steady", "engine"}, DefaultText: "fan", Says: "fan: torque grows with speed squared (fans, pumps); steady: torque always the same (winches); engine: a starter, which feels the engine's compression"},
		},
	},
	{
		Name: "module", Says: "a control module",
		Load: true, Plugged: true,
		Keys: []Key{
			{Name: "supply", Form: Names, Required: true, Says: "pins that feed it"},
			{Name: "ground", Form: Names, Required: true, Says: "its ground pins"},
			{Name: "wake", Form: Names, Says: "pins that must be above 5 V for it to wake; none: it wakes when it is fed"},
			{Name: "sensor ground", Form: Names, Says: "pins on its inside ground, meant for sensors"},
			{Name: "reference", Form: Names, Says: "5 V out, for sensors"},
			{Name: "signals", Form: Names, Says: "inputs"},
			{Name: "bus", Form: Names, Says: "two pins: high, low"},
			{Name: "outputs", Form: Outputs, Says: "pins that switch to ground or to supply"},
			{Name: "boots as", Dimension: quantity.Ohms, Default: catalog.OrdinaryModule.BootOhms, Positive: true, Says: "its resistance while it boots"},
			{Name: "awake", Dimension: quantity.Amperes, Default: catalog.OrdinaryModule.AwakeAmps, Positive: true, Says: "amps awake at 12.5 V; it takes the same power at other volts"},
			{Name: "asleep", Dimension: quantity.Amperes, Default: catalog.OrdinaryModule.AsleepAmps, Positive: true, Says: "amps asleep at 12.5 V"},
			{Name: "locked out", Dimension: quantity.Amperes, Default: catalog.OrdinaryModule.LockedAmps, Positive: true, Says: "amps between two attempts to boot, at 12.5 V"},
			{Name: "boots for", Dimension: quantity.Seconds, Default: catalog.OrdinaryModule.BootSeconds, Positive: true, Says: "how long a boot takes"},
			{Name: "waits", Dimension: quantity.Seconds, Default: catalog.OrdinaryModule.WaitSeconds, Positive: true, Says: "how long it waits after a reset until it boots again"},
			{Name: "sleeps after", Dimension: quantity.Seconds, Default: catalog.OrdinaryModule.SleepsAfterSeconds, Positive: true, Says: "how long it stays awake once its wake pins are down"},
			{Name: "input capacitance", Dimension: quantity.Farads, Default: catalog.OrdinaryModule.InputFarads, Positive: true, Says: "the capacitor behind its supply pins, which carries it over short dips"},
			{Name: "runs above", Dimension: quantity.Volts, Default: catalog.OrdinaryModule.RunsAbove, Positive: true, Says: "volts between its supply and its own ground that it needs to start"},
			{Name: "resets below", Dimension: quantity.Volts, Default: catalog.OrdinaryModule.ResetsBelow, Positive: true, Says: "volts at which it resets"},
			{Name: "wakes above", Dimension: quantity.Volts, Default: catalog.OrdinaryModule.WakesAbove, Positive: true, Says: "volts on a wake pin, against its own ground, that wake it"},
			{Name: "wake input", Dimension: quantity.Ohms, Default: catalog.OrdinaryModule.InputOhms, Positive: true, Says: "what a wake pin or an input shows to its own ground"},
			{Name: "reference limit", Dimension: quantity.Amperes, Default: catalog.OrdinaryModule.ReferenceAmps, Positive: true, Says: "amps at which the 5 V output gives way"},
			{Name: "terminator", Dimension: quantity.Ohms, Positive: true, Says: "120 ohm where the module ends the bus; none where left out"},
		},
	},
	{
		Name: "sensor", Says: "a sensor on a 5 V reference: supply, signal, ground",
		Terminals: []string{"supply", "signal", "ground"}, Pass: [][2]string{{"supply", "ground"}, {"supply", "signal"}, {"signal", "ground"}},
		Load: true, Plugged: true,
		Keys: []Key{
			{Name: "draws", Dimension: quantity.Amperes, Default: 0.008, Positive: true, Says: "amps at 5 V"},
			{Name: "reads", Dimension: quantity.Percent, Default: 0.5, Says: "signal as a share of its supply"},
		},
	},
	{
		Name: "terminator", Says: "a resistor that ends a two-wire bus",
		Terminals: inOut, Pass: inToOut, Load: true, Plugged: true,
		Keys: []Key{
			{Name: "resistance", Dimension: quantity.Ohms, Default: catalog.TerminatorOhms, Positive: true, Says: "ohms"},
		},
	},
	{
		Name: "socket", Says: "the diagnostic socket: a way in, it takes no current",
		Keys: []Key{
			{Name: "supply", Form: Names, Says: "its feed pins"},
			{Name: "ground", Form: Names, Says: "its ground pins"},
			{Name: "bus", Form: Names, Says: "two pins: high, low"},
		},
	},
}

// CommonKeys are the keys that every part may carry beside those of its kind.
var CommonKeys = []Key{
	{Name: "is", Form: Text, Required: true, Says: "the kind of part"},
	{Name: "place", Form: Text, Says: "where it sits, in words; left of F9, or right of F9, at the end also moves it in a drawing"},
	{Name: "reach", Form: Choice, Choices: reachNames(), Says: "how its terminals are reached"},
	{Name: "pins", Form: Names, Says: "other names for its terminals, in the kind's order"},
	{Name: "terminal size", Dimension: quantity.Millimetres, Positive: true, Says: "size of its terminals"},
	{Name: "plating", Form: Choice, Choices: platings, DefaultText: platingTold, Says: "plating of its terminals"},
	{Name: "tags", Form: Names, Says: "cautions that apply here, such as srs, hv, fuel"},
}
