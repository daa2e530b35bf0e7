// Package circuit says what is wired to what: it reads a circuit file and hands over a checked Circuit,
// or every error of the file with its place. It computes no volts.
package circuit

// This file holds what a checked circuit consists of.

// Pos is a place in the file, counted from 1.
type Pos struct{ Line, Column int }

// Spot is a place where conductors are joined outside of any terminal: the tail of a terminal where its wire is
// crimped, a splice, the rings on a stud. Spots are numbered from 0 in each circuit.
type Spot int

// NoSpot marks a terminal with no wire.
const NoSpot Spot = -1

// Circuit is a vehicle circuit that has passed every check. It is never changed after reading: what is switched,
// unplugged or broken is laid over it elsewhere.
type Circuit struct {
	File           string
	Title          string
	Complaint      string // the customer's words, may be empty
	Teaches        string // what the circuit is good for, may be empty
	AmbientCelsius float64
	Tags           []string // cautions that apply to the whole vehicle, such as srs or hv

	Parts      []*Part      // in file order
	Connectors []*Connector // in-line connectors, in the order they are met
	Splices    []*Splice
	Studs      []*Stud
	Wires      []*Wire
	Paths      []*Path
	Accepted   []Accepted // oddities that the file says are right
	Spots      int        // how many spots there are

	stack      stack
	parts      map[string]*Part
	connectors map[string]*Connector
	splices    map[string]*Splice
	studs      map[string]*Stud
	wires      map[string]*Wire
	terminals  map[string]*Terminal
	points     []Point
	pointAt    map[string]int // index in points
}

// Part is one thing with terminals: a battery, a fuse, a module.
type Part struct {
	Name  string
	Kind  *Kind
	Pos   Pos
	Place string // where it sits, in words
	Drawn Beside // where it is wanted in a drawing, out of its place
	Reach Reach  // how its terminals are reached
	Tags  []string

	Terminals []*Terminal // in the order of the kind, or of the file
	Throws    []Throw     // switches only; the first is the position at rest
	Module    *Module     // modules and sockets only

	values map[string]float64
	texts  map[string]string
}

// Value is a quantity of the part in base units, or the kind's default where the file leaves it out.
// Asking for a key that the kind does not have is a programmer's mistake and panics.
func (p *Part) Value(key string) float64 {
	if v, ok := p.values[key]; ok {
		return v
	}
	return p.Kind.key(key).Default
}

// Text is a word of the part, or the kind's default.
func (p *Part) Text(key string) string {
	if v, ok := p.texts[key]; ok {
		return v
	}
	return p.Kind.key(key).DefaultText
}

// Has reports whether the file gives the key itself.
func (p *Part) Has(key string) bool {
	_, number := p.values[key]
	_, text := p.texts[key]
	return number || text
}

// Terminal finds a terminal of the part by its pin name, or nil. Where the file gives the pins names of their own,
// those of the kind find them too.
func (p *Part) Terminal(pin string) *Terminal {
	for _, t := range p.Terminals {
		if t.Pin == pin {
			return t
		}
	}
	for i, own := range p.Kind.Terminals {
		if own == pin && i < len(p.Terminals) {
			return p.Terminals[i]
		}
	}
	return nil
}

// Throw is one position of a switch and the pairs of terminals it joins.
type Throw struct {
	Name  string
	Pairs [][2]string
}

// Module lists the pins of a control module, or of a diagnostic socket, by what they are for.
type Module struct {
	Supply       []string
	Wake         []string
	Ground       []string
	SensorGround []string // pins on the module's own inside ground, meant for sensors
	Reference    []string // 5 V out for sensors
	Signals      []string // inputs
	Bus          []string // none, or two: high, low
	Outputs      []Output
}

// Output is a module pin that switches something.
type Output struct {
	Pin  string
	To   string  // "ground" or "supply"
	For  string  // the part that runs when the output is on; asking for that part switches the output
	Ohms float64 // on-resistance
}

// Terminal is one terminal with its three resistances in series: wire to terminal (the crimp), terminal to pin (the
// contact), and pin to what lies behind. An in-line terminal has a second crimp in place of the last.
// A lead touches it between crimp and contact, or on the pin's side of the contact.
type Terminal struct {
	Name    string // PC1.8, F7.in, C14.4
	Owner   string // PC1, F7, C14
	Pin     string // 8, in, 4
	Inline  bool
	Spot    Spot // where the wire on the harness side ends; for an in-line terminal the .a side
	FarSpot Spot // in-line only: the .b side
	Pos     Pos

	SizeMM      float64
	Plating     string
	CrimpOhms   float64
	ContactOhms float64
	BehindOhms  float64 // pin to component; for an in-line terminal the .b crimp
	Reach       Reach
}

// Connector is an in-line connector: two halves, one terminal pair a cavity.
type Connector struct {
	Name     string
	Place    string
	Reach    Reach
	Tags     []string
	Pos      Pos
	Cavities []*Terminal
}

// Splice joins wires inside the loom, or on an open bar.
type Splice struct {
	Name    string
	Place   string
	Spot    Spot
	Reach   Reach
	LegOhms float64 // what each wire's leg adds
	Pos     Pos
}

// Stud is a ground stud: rings of wires bolted to metal, and that metal's own way on.
type Stud struct {
	Name        string
	Place       string
	Spot        Spot // the rings
	ContactOhms float64
	To          string  // another stud's name, a battery terminal, or "" where a wire alone carries on
	ByOhms      float64 // the metal between here and there
	Reach       Reach
	Pos         Pos
}

// Wire is one length of wire.
type Wire struct {
	Name     string
	Path     string
	From, To End
	Colour   string  // IEC 60757 code, stripe after a slash; may be empty
	AreaMM2  float64 // zero where the file gives only ohms
	AWG      bool    // given as a wire gauge
	Unsaid   bool    // the file gives no size, and AreaMM2 is the ordinary one
	Metres   float64 // zero where the file gives only ohms
	Metal    string  // copper or aluminium
	Ohms     float64
	Pos      Pos
}

// End is where a wire ends.
type End struct {
	Spot   Spot
	Name   string // F7.out, C14.1.a, S2, G2
	Splice *Splice
}

// Path is a traced line of the file, kept for the order in which things are met.
type Path struct {
	Name  string
	Steps []Step
	Pos   Pos
}

// Step is one thing on a path: a wire, a cavity, a splice, a stud, or a part with the terminals it is passed by.
type Step struct {
	Wire   *Wire
	Cavity *Terminal
	Splice *Splice
	Stud   *Stud
	Part   *Part
	In     *Terminal // part: the terminal met first
	Out    *Terminal // part: the terminal left by; nil where the path ends or starts there
	Pos    Pos
}

// Part finds a part by name, or nil. The finders below do the same for other things.
func (c *Circuit) Part(name string) *Part { return c.parts[name] }

// Connector finds an in-line connector.
func (c *Circuit) Connector(name string) *Connector { return c.connectors[name] }

// Splice finds a splice.
func (c *Circuit) Splice(name string) *Splice { return c.splices[name] }

// Stud finds a ground stud.
func (c *Circuit) Stud(name string) *Stud { return c.studs[name] }

// Wire finds a wire.
func (c *Circuit) Wire(name string) *Wire { return c.wires[name] }

// Terminal finds a terminal by its full name, PC1.8 or C14.4.
func (c *Circuit) Terminal(name string) *Terminal { return c.terminals[name] }

// OfKind lists the parts of one kind in file order.
func (c *Circuit) OfKind(kind string) []*Part {
	var found []*Part
	for _, p := range c.Parts {
		if p.Kind.Name == kind {
			found = append(found, p)
		}
	}
	return found
}
