// Package sim is a circuit on the bench: its state (switches, connectors, fuses), the faults laid over it, and what
// the circuit then does. Instruments that read it are in sim/meter.
package sim

// This file is the bench itself.

import (
	"maps"
	"slices"

	"underload/circuit"
	"underload/sim/fault"
	"underload/sim/part"
	"underload/solver"
)

// Bench is a circuit with its state. It is not safe for use by two goroutines at once.
type Bench struct {
	c        *circuit.Circuit
	faults   []fault.Fault
	overlay  *fault.Overlay
	apart    map[string]bool
	states   map[*circuit.Part]*part.State
	attached []Attachment
	ambient  float64                       // °C
	wiped    map[*circuit.Terminal]float64 // contacts that reseating has wiped, and their ohms now
	settings []setting                     // in order, so that the sound circuit can be brought to the same state
	moving   bool                          // it is the plan of a run, which wires it anew after every act
	glowing  map[*circuit.Wire]float64     // of such a plan: wires reckoned with their heat, and their °C when wired
	burnt    map[half]bool                 // of such a plan: wires that have burnt through

	w        *wiring
	sol      *solver.Solution
	kick     *solver.Solution // with every cycling module in its boot and chattering relay in; nil when there is none
	chatters []*circuit.Part
	near     map[solver.Node][]step // the branches at every node, as solved; nil until asked for
	moved    []string               // what happened by itself in the last settling
}

type setting struct{ verb, text string }

// Attachment is what an instrument puts between two points: a law, or a resistance, or a source behind a resistance
// with its plus at Red. On a run a resistance may have a fuse among it; on a bench whoever attaches it sees to that.
type Attachment struct {
	Red, Black string
	Ohms       float64
	FuseAmps   float64 // its rating
	Volts      float64
	Law        solver.Law
}

// New puts a circuit on the bench: every switch in its first position, everything together, no faults.
func New(c *circuit.Circuit) (*Bench, error) {
	b := &Bench{c: c, apart: map[string]bool{}, states: map[*circuit.Part]*part.State{}, overlay: fault.Lay(nil),
		ambient: c.AmbientCelsius, wiped: map[*circuit.Terminal]float64{}}
	for _, p := range c.Parts {
		s := &part.State{Asked: map[string]bool{}}
		if len(p.Throws) > 0 {
			s.Position = p.Throws[0].Name
		}
		b.states[p] = s
	}
	b.rewire()
	return b, b.settle()
}

// Circuit is what lies on the bench.
func (b *Bench) Circuit() *circuit.Circuit { return b.c }

// Faults are those laid over the circuit, in the order they were laid.
func (b *Bench) Faults() []fault.Fault { return b.faults }

// Overlay is what the faults change.
func (b *Bench) Overlay() *fault.Overlay { return b.overlay }

// Clone is a bench in the same state that can be changed without touching this one.
func (b *Bench) Clone() (*Bench, error) {
	n := &Bench{
		c: b.c, faults: slices.Clone(b.faults), overlay: b.overlay, apart: maps.Clone(b.apart),
		states: map[*circuit.Part]*part.State{}, attached: slices.Clone(b.attached), settings: slices.Clone(b.settings),
		ambient: b.ambient, wiped: maps.Clone(b.wiped),
	}
	for p, s := range b.states {
		n.states[p] = s.Clone()
	}
	n.rewire()
	return n, n.settle()
}

// Sound is the same circuit without faults, brought to the same state by the same settings and with the same things
// attached.
func (b *Bench) Sound() (*Bench, error) {
	n, err := New(b.c)
	if err != nil {
		return nil, err
	}
	for _, s := range b.settings {
		if err := n.do(s); err != nil {
			return nil, err
		}
	}
	n.attached = slices.Clone(b.attached)
	n.rewire()
	return n, n.settle()
}

// Attach puts instruments on and lets the circuit settle. It replaces what was attached before.
func (b *Bench) Attach(attached ...Attachment) error {
	b.attached = attached
	b.rewire()
	return b.settle()
}

// AttachSlight is Attach for instruments of little current, from which no motor that stands begins to turn.
func (b *Bench) AttachSlight(attached ...Attachment) error {
	for _, p := range b.c.OfKind("motor") {
		if b.loadAmps(b.sol, p) < smallestAmps {
			b.states[p].Standing = true
		}
	}
	return b.Attach(attached...)
}

// AttachHeld puts instruments on and reads the circuit in the moment before anything in it has had time to move: no fuse
// has blown yet, no relay has let go.
func (b *Bench) AttachHeld(attached ...Attachment) error {
	b.attached = attached
	b.rewire()
	return b.solve(b.sol)
}

// WeakestOverloaded is the rating of the smallest fuse that carries more than it holds, or 0.
func (b *Bench) WeakestOverloaded() (ratingAmps float64) {
	for _, p := range b.c.Parts {
		if p.Kind.Name != "fuse" && p.Kind.Name != "fusible link" {
			continue
		}
		s := b.states[p].Clone()
		if !b.w.inner[p].Step(s, b.sol) {
			continue
		}
		fitted := p.Value("rating")
		if s.RatingAmps > 0 {
			fitted = s.RatingAmps
		}
		if ratingAmps == 0 || fitted < ratingAmps {
			ratingAmps = fitted
		}
	}
	return ratingAmps
}

// Rest makes a load draw nothing, for a test of its path without load.
func (b *Bench) Rest(p *circuit.Part) error {
	b.states[p].Resting = true
	return b.settle()
}

// Moved is what happened by itself in the last settling: relays, fuses, modules.
func (b *Bench) Moved() []string { return b.moved }

// State is the state of a part, for reading only.
func (b *Bench) State(p *circuit.Part) part.State { return *b.states[p] }

// Chatters reports whether a relay pulls in and lets go without end.
func (b *Bench) Chatters(p *circuit.Part) bool { return slices.Contains(b.chatters, p) }
