// Package part turns what lies inside a part (a fuse, a relay, a control module) into branches of a network, one file
// a kind of part, and says how the part changes by itself: a relay pulls in, a fuse blows.
//
// A new kind of part is a file here, its line in the table below, and its entry in circuit.Kinds.
package part

import (
	"underload/circuit"
	"underload/solver"
)

// Inner is a part wired into a network.
type Inner interface {
	// Adjust brings the part's branches to what its state says.
	Adjust(s *State)
	// Step changes the state as the part itself would, given the solved network, and reports whether it did.
	// Modules are stepped by the bench, which has to try their boot (see Module).
	Step(s *State, at *solver.Solution) bool
}

// State is all that can be different about a part without another wire being fitted.
type State struct {
	// What a person has set.
	Position   string          // switch: the throw it stands in
	Out        bool            // fuse: not in its slot
	RatingAmps float64         // fuse: fitted in place of the right one; 0 is the right one
	Support    bool            // battery: a support charger is on its posts
	Running    bool            // generator: the engine turns it
	Idling     bool            // generator: and does so slowly
	Asked      map[string]bool // module: outputs asked for, by pin
	Resting    bool            // load: made to draw nothing (a module: to stay asleep), for a test without load

	// What has become of it.
	Blown    bool   // fuse, link; lamp: burnt out
	PulledIn bool   // relay
	Mode     Mode   // module
	Kicks    Mode   // module that cycles: Booting or Awake, whichever pulls its supply below reset
	Falling  bool   // module that cycles: looked at in the instant in which its supply falls below reset
	Standing bool   // motor: it stood before an instrument of little current was put on, and that has not got it going
	Charge   Charge // battery that charges at other volts than it gives

	// What is wrong with it.
	Flaw Flaw
}

// Clone is a state that can be changed without touching this one.
func (s *State) Clone() *State {
	c := *s
	c.Asked = make(map[string]bool, len(s.Asked))
	for pin, on := range s.Asked {
		c.Asked[pin] = on
	}
	return &c
}

// Flaw is what is wrong inside a part; the zero Flaw is a sound part.
type Flaw struct {
	Dead        bool    // open inside: a burnt-out lamp, a worn-out motor, a module that takes no current
	StuckAt     string  // switch: a position; relay: "open" or "closed"
	CoilOpen    bool    // relay
	ContactOhms float64 // relay, switch: closed contact, in place of the sound figure
	AmpsFactor  float64 // motor: what it draws against a sound one; 0 is 1
	Seized      bool    // motor: held fast, by what it turns or by its own bearings
	Volts, Ohms float64 // battery: in place of the sound figures
	LimitAmps   float64 // generator: the most it gives, in place of the sound figure
	HeldAwake   bool    // module: awake whatever its wake pins say
	WakesEvery  float64 // module: seconds from one waking by itself to the next; 0 is never
	ShortOhms   float64 // sensor, generator: from its supply to its ground, inside; 0 is none
}

// Place is the network around one part.
type Place struct {
	Net            *solver.Network
	Inside         func(pin string) solver.Node  // the node behind a terminal
	Node           func(name string) solver.Node // a new node inside the part
	AmbientCelsius float64
	FileCelsius    float64               // at which the file's figures hold
	Tag            func(b solver.Branch) // told of each branch made
}

func (w *Place) resistor(a, b solver.Node, ohms float64) solver.Branch {
	br := w.Net.AddResistor(a, b, ohms)
	w.Tag(br)
	return br
}

func (w *Place) source(minus, plus solver.Node, volts, ohms float64) solver.Branch {
	br := w.Net.AddSource(minus, plus, volts, ohms)
	w.Tag(br)
	return br
}

func (w *Place) device(a, b solver.Node, law solver.Law) solver.Branch {
	br := w.Net.AddDevice(a, b, law)
	w.Tag(br)
	return br
}

// Build wires the inside of p into the network.
func Build(p *circuit.Part, w *Place) Inner { return table[p.Kind.Name](p, w) }

// Known reports whether this package can build a kind; a test holds it against circuit.Kinds.
func Known(kind string) bool { _, ok := table[kind]; return ok }

var table = map[string]func(*circuit.Part, *Place) Inner{
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

// passive is the Inner of a part that never changes by itself.
type passive struct{}

func (passive) Step(*State, *solver.Solution) bool { return false }
