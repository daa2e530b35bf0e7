// Package live turns what lies inside a part (a fuse, a relay, a control module) into elements that live in time, one
// file a kind of part, and says what can be read of it: its heat, its light, its mode. Package part does the same for a
// circuit at rest, and a part that has come to rest here is as it is there.
//
// A new kind of part is a file here, its line in the table below, its file in package part, and its entry in
// circuit.Kinds.
package live

import (
	"math"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

// View is a network at one instant.
type View interface {
	Volts(transient.Node) float64
	Amps(transient.Edge) float64
	ElementAmps(transient.ID) float64
	States(transient.ID) []float64
	Marks(transient.ID) []float64
}

// Reading is one thing that can be read of a part.
type Reading struct {
	Unit  string   // V, A, °C, %, rad/s, or "" for a mode
	Words []string // of a mode: the word for each value
	Read  func(v View) float64
}

// Part is a part wired into a network.
type Part struct {
	// Readings by name: heat, light, speed, charge, mode, amps. Amps are there only where they are not simply those of
	// the part's first terminal.
	Readings map[string]Reading
	// Turns is the speed of a motor as a share of that of a sound one at its rating; nil for all else, and where it stands for
	// good.
	Turns func(v View) float64
	// Fate writes what has become of the part by itself into its state. It is nil for a part that never changes.
	Fate func(v View, s *part.State)
	// Speak makes a module drive its bus in a view that is only supposed; nil for what has no bus.
	Speak func(v View)
}

// Place is the network around one part.
type Place struct {
	Net            *transient.Network
	Inside         func(pin string) transient.Node  // the node behind a terminal
	Node           func(name string) transient.Node // a node inside the part
	ContactOhms    func(pin string) float64         // of a terminal's contact now; +Inf where it is apart
	AmbientCelsius float64
	FileCelsius    float64     // at which the file's figures hold
	MostVolts      float64     // that the batteries have in all
	State          *part.State // for reading
	// Placed is told of each element that has a memory, under a name of its own within the part. An element keeps its
	// memory when the circuit is wired anew, as long as its name and its sizes are the same.
	Placed func(name string, id transient.ID, what transient.Element)
}

// Surrounded is an element some of whose marks tell of what is around it, such as the temperature of the air. They are not
// part of what it remembers when the circuit is wired anew.
type Surrounded interface {
	Around() []int // marks
}

// Quick is an element that comes to rest within milliseconds whatever it is started with.
type Quick interface{ Quick() }

// Restless is an element that may have no rest to be started at: a fuse that carries more than it can for ever.
type Restless interface{ Restless() }

// add places an element with a memory.
func (w *Place) add(name string, a, b transient.Node, what transient.Element, sensed ...transient.Node) transient.ID {
	id := w.Net.Element(a, b, what, sensed...)
	w.Placed(name, id, what)
	return id
}

// law places a device without a memory.
func (w *Place) law(a, b transient.Node, law element.Curve) {
	w.Net.Element(a, b, element.Law{Curve: law})
}

// resistor places a resistance, or nothing if it is open.
func (w *Place) resistor(a, b transient.Node, ohms float64) {
	if !math.IsInf(ohms, 1) {
		w.Net.Resistor(a, b, ohms)
	}
}

// Build wires the inside of p into the network.
func Build(p *circuit.Part, w *Place) Part { return table[p.Kind.Name](p, w) }

// Known reports whether this package can build a kind; a test holds it against circuit.Kinds.
func Known(kind string) bool { _, ok := table[kind]; return ok }

var table = map[string]func(*circuit.Part, *Place) Part{
	"battery":      newBattery,
	"generator":    newGenerator,
	"fuse":         newFuse,
	"fusible link": newFuse,
	"switch":       newSwitch,
	"relay":        newRelay,
	"lamp":         newLamp,
	"resistor":     newResistor,
	"heater":       newHeater,
	"terminator":   newResistor,
	"diode":        newDiode,
	"led":          newLED,
	"motor":        newMotor,
	"module":       newModule,
	"sensor":       newSensor,
	"socket":       newSocket,
}
