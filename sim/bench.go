// Package sim is a circuit on the bench: its state (switches, connectors, fuses), the faults laid over it, and what
// the circuit then does. Instruments that read it are in sim/meter.
package sim

// This file is the bench itself: what can be set, taken apart, broken and mended.

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
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

	w        *wiring
	sol      *solver.Solution
	kick     *solver.Solution // with every cycling module in its boot and chattering relay in; nil when there is none
	chatters []*circuit.Part
	near     map[solver.Node][]step // the branches at every node, as solved; nil until asked for
	moved    []string               // what happened by itself in the last settling
}

type setting struct{ verb, text string }

// Attachment is what an instrument puts between two points: a law, or a resistance, or a source behind a resistance
// with its plus at Red.
type Attachment struct {
	Red, Black string
	Ohms       float64
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

// Break lays faults over the circuit, one a line of the fault grammar, beside those already there. On an error nothing
// is changed.
func (b *Bench) Break(texts ...string) error {
	faults := slices.Clone(b.faults)
	for _, text := range texts {
		f, err := fault.Parse(b.c, text)
		if err != nil {
			return err
		}
		for _, old := range faults {
			if f.Contradicts(old) {
				return fmt.Errorf("%q and %q cannot both be: take one of them away", old, f)
			}
		}
		faults = append(faults, f)
	}
	return b.lay(faults)
}

// Turn gives the last fault at a place another resistance, as if it had been laid so: for a slider that is dragged. It
// is far quicker than laying faults anew, since nothing is wired again. On an error nothing is changed.
func (b *Bench) Turn(place string, ohms float64) error {
	for i := len(b.faults) - 1; i >= 0; i-- {
		if b.faults[i].Place != place {
			continue
		}
		turned, err := b.faults[i].Turned(b.c, ohms)
		if err != nil {
			return err
		}
		faults := slices.Clone(b.faults)
		faults[i] = turned
		return b.overlayWith(faults, len(b.overlay.Shorts) > 0)
	}
	return fmt.Errorf("%s has no fault to turn", place)
}

// Follow brings the faults and the states of all parts over from another bench of the same circuit, and lets the circuit
// settle with what is attached here: as if this bench were a copy of that one to which the instruments were then put. A
// load that rests here goes on resting.
func (b *Bench) Follow(other *Bench) error {
	anew := len(b.overlay.Shorts)+len(other.overlay.Shorts) > 0
	b.faults, b.overlay, b.wiped = other.faults, other.overlay, maps.Clone(other.wiped)
	for p, s := range other.states {
		resting := b.states[p].Resting
		b.states[p] = s.Clone()
		b.states[p].Resting = b.states[p].Resting || resting
	}
	if anew {
		b.rewire()
	}
	return b.settle()
}

func (b *Bench) lay(faults []fault.Fault) error { return b.overlayWith(faults, true) }

// overlayWith lays the faults and lets the circuit settle. A short is a path of its own, so that it needs the circuit
// wired anew.
func (b *Bench) overlayWith(faults []fault.Fault, anew bool) error {
	before := b.overlay
	b.faults = faults
	b.overlay = fault.Lay(faults)
	for t := range b.wiped {
		if b.overlay.Contact[t] != before.Contact[t] { // mended, or broken anew
			delete(b.wiped, t)
		}
	}
	for _, p := range b.c.Parts {
		s := b.states[p]
		s.Flaw = b.overlay.Flaws[p]
		if b.overlay.Blown[p] {
			s.Blown = true
		}
		if amps, ok := b.overlay.RatingAmps[p]; ok {
			s.RatingAmps = amps
		}
		// A fault was there before the key was turned: every module has to boot with it.
		s.Mode = part.Off
	}
	if anew {
		b.rewire()
	}
	return b.settle()
}

// Set brings one thing to a state, written as on the command line:
//
//	KEY=run       a switch in a position
//	F7=out        a fuse pulled; F7=in; F7="25 A" fitted in its place
//	M1=on         a load that a module switches, asked to run; M1=off; PC1.5=on names the output itself
//	B1=support    a support charger on a battery; B1=alone
//	ALT=running   a generator turned by the engine; ALT=still
//	ambient=60 °C everything at another temperature
func (b *Bench) Set(text string) error { return b.do(setting{"set", text}) }

// SetAll brings several things to their states at once, and lets the circuit settle only then. Those before one that
// cannot be set stay as they were asked.
func (b *Bench) SetAll(texts ...string) error {
	for _, text := range texts {
		if err := b.set(text); err != nil {
			return err
		}
		b.settings = append(b.settings, setting{"set", text})
	}
	return b.settle()
}

// Apart takes an in-line connector, a plugged part, or a battery's ground clamp apart.
func (b *Bench) Apart(name string) error { return b.do(setting{"apart", name}) }

// Together puts it together again.
func (b *Bench) Together(name string) error { return b.do(setting{"together", name}) }

func (b *Bench) do(s setting) error {
	var err error
	switch s.verb {
	case "set":
		err = b.set(s.text)
	case "apart", "together":
		err = b.plug(s.text, s.verb == "apart")
	}
	if err != nil {
		return err
	}
	b.settings = append(b.settings, s)
	return b.settle()
}

func (b *Bench) plug(name string, apart bool) error {
	if b.c.Connector(name) != nil {
		b.apart[name] = apart
		return nil
	}
	p := b.c.Part(name)
	switch {
	case p == nil:
		return b.unknown(name, "connector or part")
	case p.Kind.Name == "battery":
		b.apart[p.Terminals[1].Name] = apart
	case p.Kind.Name == "fuse":
		return fmt.Errorf("%s is a fuse: pull it with --set %s=out", name, name)
	case !p.Kind.Plugged:
		return fmt.Errorf("%s is a %s: it has no connector to take apart", name, p.Kind.Name)
	default:
		b.apart[name] = apart
	}
	return nil
}

// IsApart reports whether a connector, part or terminal is apart.
func (b *Bench) IsApart(t *circuit.Terminal) bool {
	if b.apart[t.Owner] || b.apart[t.Name] {
		return true
	}
	p := b.c.Part(t.Owner)
	return p != nil && b.states[p].Out
}

func (b *Bench) unknown(name, what string) error {
	var known []string
	for _, p := range b.c.Parts {
		known = append(known, p.Name)
	}
	for _, c := range b.c.Connectors {
		known = append(known, c.Name)
	}
	if near, ok := spelling.Nearest(name, known); ok {
		return fmt.Errorf("there is no %s %s in this circuit: did you mean %s?", what, name, near)
	}
	return fmt.Errorf("there is no %s %s in this circuit: it has %s", what, name, strings.Join(known, ", "))
}

func (b *Bench) set(text string) error {
	name, value, ok := strings.Cut(text, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !ok || name == "" || value == "" {
		return fmt.Errorf("%q is not a setting: write NAME=STATE, such as KEY=run or F7=out", text)
	}
	if owner, pin, ok := strings.Cut(name, "."); ok {
		return b.ask(owner, pin, value)
	}
	p := b.c.Part(name)
	if p == nil && name == "ambient" {
		return b.warm(value)
	}
	if p == nil {
		return b.unknown(name, "part")
	}
	s := b.states[p]
	switch p.Kind.Name {
	case "switch":
		return setSwitch(p, s, value)
	case "fuse":
		return setFuse(p, s, value)
	case "battery":
		if value != "support" && value != "alone" {
			return fmt.Errorf("%s=%s: a battery stands alone or with a support charger: %s=support, %s=alone", name, value, name, name)
		}
		s.Support = value == "support"
		return nil
	case "generator":
		if value != "running" && value != "still" {
			return fmt.Errorf("%s=%s: a generator runs or stands: %s=running, %s=still", name, value, name, name)
		}
		s.Running = value == "running"
		return nil
	}
	return b.askFor(p, value)
}

func setSwitch(p *circuit.Part, s *part.State, value string) error {
	var names []string
	for _, throw := range p.Throws {
		if throw.Name == value {
			s.Position = value
			return nil
		}
		names = append(names, throw.Name)
	}
	if near, ok := spelling.Nearest(value, names); ok {
		return fmt.Errorf("%s has no position %q: did you mean %s=%s?", p.Name, value, p.Name, near)
	}
	return fmt.Errorf("%s has no position %q: it has %s", p.Name, value, strings.Join(names, ", "))
}

func setFuse(p *circuit.Part, s *part.State, value string) error {
	switch value {
	case "in":
		s.Out = false
		return nil
	case "out":
		s.Out = true
		return nil
	}
	amps, err := quantity.Parse(value, quantity.Amperes)
	if err != nil || amps <= 0 || amps > 1000 {
		return fmt.Errorf("%s=%s: a fuse is in, out, or another rating such as %s=\"25 A\"", p.Name, value, p.Name)
	}
	s.RatingAmps, s.Out, s.Blown = amps, false, false
	return nil
}

// Temperatures that vehicle wiring is made for (ISO 6722 class D ends at 150 °C, from memory).
const coldest, hottest = -50, 150

func (b *Bench) warm(value string) error {
	celsius, err := quantity.Parse(value, quantity.Celsius)
	if err != nil {
		return err
	}
	if celsius < coldest || celsius > hottest {
		return fmt.Errorf("ambient=%s: vehicle wiring lives between %d and %d °C", value, coldest, hottest)
	}
	b.ambient = celsius
	b.rewire()
	return nil
}

func onOff(text string) (bool, error) {
	if text != "on" && text != "off" {
		return false, fmt.Errorf("%q: on or off is wanted", text)
	}
	return text == "on", nil
}

// ask switches a module's output by its pin.
func (b *Bench) ask(owner, pin, value string) error {
	p := b.c.Part(owner)
	if p == nil {
		return b.unknown(owner, "part")
	}
	on, err := onOff(value)
	if err != nil {
		return err
	}
	var pins []string
	if p.Module != nil {
		for _, out := range p.Module.Outputs {
			if out.Pin == pin {
				b.states[p].Asked[pin] = on
				return nil
			}
			pins = append(pins, owner+"."+out.Pin)
		}
	}
	if len(pins) == 0 {
		return fmt.Errorf("%s.%s is not an output of a module, so it cannot be switched", owner, pin)
	}
	return fmt.Errorf("%s.%s is no output: %s has %s", owner, pin, owner, strings.Join(pins, ", "))
}

// askFor asks a load to run through the module output that is there for it.
func (b *Bench) askFor(p *circuit.Part, value string) error {
	on, err := onOff(value)
	if err != nil {
		return fmt.Errorf("%s=%s: %w", p.Name, value, err)
	}
	found := false
	for _, m := range b.c.OfKind("module") {
		for _, out := range m.Module.Outputs {
			if out.For == p.Name {
				b.states[m].Asked[out.Pin] = on
				found = true
			}
		}
	}
	if found {
		return nil
	}
	if p.Kind.Load {
		return fmt.Errorf("no module switches %s: it runs whenever it is fed; set the switch that feeds it", p.Name)
	}
	return fmt.Errorf("%s is a %s: it cannot be switched on or off", p.Name, p.Kind.Name)
}

// Reseat pulls a connector, part or fuse apart and puts it together again. That wipes the contacts: a film may read
// well for days, and is not cured. It returns what was wiped.
func (b *Bench) Reseat(name string) ([]string, error) {
	terminals, err := b.terminalsOf(name)
	if err != nil {
		return nil, err
	}
	var told []string
	for _, t := range terminals {
		grip, bad := b.overlay.Grip[t]
		if !bad || b.overlay.Contact[t] <= grip.Unplug.Ohms || grip.Unplug.Heals == 0 {
			continue
		}
		b.wiped[t] = grip.Unplug.Ohms
		told = append(told, fmt.Sprintf("%s: pulling it %s. It is not mended", t.Name, grip.Unplug.Says))
	}
	for _, p := range b.c.OfKind("module") {
		b.states[p].Mode = part.Off // whatever was unplugged has to boot again
	}
	return told, b.settle()
}

func (b *Bench) terminalsOf(name string) ([]*circuit.Terminal, error) {
	if con := b.c.Connector(name); con != nil {
		return con.Cavities, nil
	}
	p := b.c.Part(name)
	if p == nil {
		return nil, b.unknown(name, "connector or part")
	}
	if !p.Kind.Plugged {
		return nil, fmt.Errorf("%s is a %s: it has no connector to reseat", name, p.Kind.Name)
	}
	return p.Terminals, nil
}

// Mend takes away what is wrong at a place, as a person would: "repair C14.4", "clean G2", "replace F7", and "reseat C14",
// which only wipes the contacts of a connector. A new fuse is of the right rating. Mending a sound place is no error: it costs its minutes and changes nothing.
func (b *Bench) Mend(text string) error {
	verb, place, ok := strings.Cut(strings.TrimSpace(text), " ")
	place = strings.TrimSpace(place)
	if ok && verb == "reseat" {
		_, err := b.Reseat(place)
		return err
	}
	if !ok || !slices.Contains([]string{"repair", "clean", "replace"}, verb) {
		return fmt.Errorf("%q is no act: write repair PLACE, clean PLACE, replace PLACE or reseat CONNECTOR", text)
	}
	if _, err := fault.Conditions(b.c, place); err != nil {
		return err
	}
	var left []fault.Fault
	for _, f := range b.faults {
		if !cures(verb, place, f) {
			left = append(left, f)
		}
	}
	if p := b.c.Part(place); p != nil && verb != "clean" { // a fuse is never repaired but by another
		s := b.states[p]
		s.Blown, s.RatingAmps = false, 0
	}
	return b.lay(left)
}

// cures says whether an act at a place takes a fault away. A new part brings sound pins of its own, but the terminals
// of the harness stay as they are: a new module does not cure a spread terminal. Cleaning cures a film, rust or a leak,
// and nothing mechanical. What is wrong between two places is mended at either.
func cures(verb, place string, f fault.Fault) bool {
	if f.Place != place && f.Other != place {
		return false
	}
	if verb == "clean" {
		return slices.Contains([]string{"corroded", "fretted", "rust", "painted", "leaks-to"}, f.Condition)
	}
	return true
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
