package drawing

// This file holds what a circuit is cut into before anything has a place: columns and hubs.

import "underload/circuit"

// hubKind says how a hub is drawn.
type hubKind int

const (
	junction hubKind = iota // a splice, a stud's rings, a terminal with several wires
	frame                   // the metal that studs are bolted to
	plate                   // other metal, not joined to the frame
	module                  // a box with pins: module, sensor, socket
	throws                  // a switch or contact with more than two terminals
	bend                    // where a wire turns back
	open                    // an end with nothing on it
	sign                    // a ground sign by itself: a stud drawn once more, off the frame
)

// hub is what several columns end on. It is drawn as one horizontal line or box.
type hub struct {
	id        int
	kind      hubKind
	name      string // of the splice, stud or part; empty where the file has no name for it
	part      *circuit.Part
	splice    *circuit.Splice
	more      []*circuit.Splice // further splices on the same spot
	stud      *circuit.Stud
	terminals []*circuit.Terminal // module, throws: the pins; junction: those screwed on without a wire
	pairs     [][2]string         // throws: what can be joined, upper pin first
	bar       bool                // a plate that wires are bolted to side by side
	paired    bool                // two lanes: a two-wire bus
	places    []place             // paired: where wires leave the trunk, in order along it
	ends      []*end
	over      []*hub // sign: the lines that it stands above

	comp      int  // which part of the drawing it belongs to
	satellite bool // a box that lives off another box
	signal    bool // joins signal pins only
	level     int  // potential, in millionths of the supply
	node      int  // height
	span      span // slots it reaches over
	lanes     lanes
	link      string // throws: other symbols of the same part carry the same
}

// place is a pair of splices on a two-wire trunk.
type place struct {
	high, low *circuit.Splice
	wires     [2]*circuit.Wire // to the next place
}

// span is a range of slots, both ends included.
type span struct{ from, to int }

// end is where a column meets a hub.
type end struct {
	hub   *hub
	pin   *circuit.Terminal
	pin2  *circuit.Terminal // the other wire's pin, in a pair
	stud  *circuit.Stud     // on a frame: the stud that stands there
	place int               // on a paired trunk
	lane  int               // on a paired trunk: 0 both, 1 high only, 2 low only
	chain *chain
	top   bool // the upper end of its chain
}

// chain is a run of things in series between two hubs, drawn as one straight column.
type chain struct {
	id          int
	top, bottom *end
	items       []item
	paired      bool
	battery     bool
	fixed       bool // its direction is given
	comp        int
	slot        int
	x           int
}

// item is a wire or a symbol of a column; exactly one of wire, symbol and splice is set.
type item struct {
	wire, wire2 *circuit.Wire
	symbol      *symbol
	splice      *circuit.Splice
	splice2     *circuit.Splice // on the other wire of a pair
	part        int             // a wire cut in two by a bend: 1 the first half, 2 the second
	node        int             // of a splice
}

// shape is what a symbol looks like.
type shape int

const (
	fuse shape = iota
	fusibleLink
	contact
	coil
	lamp
	motor
	heater
	resistor
	diode
	led
	terminator
	battery
	generator
	cavity
)

// symbol is a thing with two ends in a column.
type symbol struct {
	shape   shape
	name    string // of the part, or of the cavity
	part    *circuit.Part
	cavity  *circuit.Terminal
	cavity2 *circuit.Terminal
	ends    [2]*circuit.Terminal // upper, lower; the same for a cavity
	aAbove  bool                 // a cavity: its .a side is the upper one
	spare   *circuit.Terminal    // a contact's third terminal without a wire
	link    string               // other symbols of the same part carry the same
	chain   *chain
	node    int
}

// net is the circuit, cut up.
type net struct {
	circuit     *circuit.Circuit
	hubs        []*hub
	chains      []*chain
	rail        *hub
	frame       *hub
	source      *chain         // with the first battery
	linesBefore map[string]int // heights of lines in the drawing before
	ordered     bool           // the columns have an order already
	firm        bool           // an order was found that leaves a column in a box: look harder
}

func (n *net) hub(kind hubKind, name string) *hub {
	h := &hub{id: len(n.hubs), kind: kind, name: name, comp: -1}
	n.hubs = append(n.hubs, h)
	return h
}

// join makes a chain between two ends.
func (n *net) join(a, b *end, items []item) *chain {
	c := &chain{id: len(n.chains), items: items, comp: -1}
	c.set(a, b)
	a.hub.ends = append(a.hub.ends, a)
	b.hub.ends = append(b.hub.ends, b)
	for _, it := range items {
		if it.symbol != nil {
			it.symbol.chain = c
		}
	}
	n.chains = append(n.chains, c)
	return c
}

// set puts a at the top and b at the bottom.
func (c *chain) set(a, b *end) {
	c.top, c.bottom = a, b
	a.chain, a.top, b.chain, b.top = c, true, c, false
}

// flip turns a chain upside down.
func (c *chain) flip() {
	c.set(c.bottom, c.top)
	for i, j := 0, len(c.items)-1; i < j; i, j = i+1, j-1 {
		c.items[i], c.items[j] = c.items[j], c.items[i]
	}
	for _, it := range c.items {
		if s := it.symbol; s != nil {
			s.ends[0], s.ends[1] = s.ends[1], s.ends[0]
			s.aAbove = !s.aAbove
		}
	}
}

// other is the far end.
func (e *end) other() *end {
	if e.top {
		return e.chain.bottom
	}
	return e.chain.top
}

// first and last wire, as seen from an end; nil where metal meets metal.
func (e *end) wire() *circuit.Wire {
	items := e.chain.items
	if len(items) == 0 {
		return nil
	}
	if e.top {
		return items[0].wire
	}
	return items[len(items)-1].wire
}
