package circuit

// This file lists the points of a circuit: every place where a lead can touch, how it gets there and what that costs.

import (
	"fmt"
	"strings"
)

// Side says where at a terminal or stud something is.
type Side int

// The sides of a terminal, then those of a stud.
const (
	Tail    Side = iota // the wire before the crimp: the model knows it, a lead never touches it
	Harness             // between crimp and contact: what a back-probe touches
	PinSide             // the pin's side of the contact
	Rings               // the rings on a stud
	Metal               // the bare metal beside a stud
)

// Point is a place where a lead can touch. One of Terminal, Splice and Stud is set; Part beside Terminal where the
// terminal is a part's.
//
// The top of a fuse is one point with its slot's clip: F7.in, on the fuse's side of the contact while the fuse is in;
// with the fuse out the same point is the clip.
type Point struct {
	Name     string
	Terminal *Terminal
	Side     Side
	Splice   *Splice
	Stud     *Stud
	Part     *Part
	Reach    Reach
	Minutes  float64 // to put a lead there
	Says     string  // a short phrase for people
}

// Points lists all points: parts in file order, in-line connectors, splices, studs. The list is not to be changed.
func (c *Circuit) Points() []Point { return c.points }

// Point finds a point by name. The error names the right one where it can.
func (c *Circuit) Point(name string) (Point, error) {
	if i, ok := c.pointAt[name]; ok {
		return c.points[i], nil
	}
	if t := c.terminals[name]; t != nil && t.Inline {
		return Point{}, fmt.Errorf("%s.a or %s.b? A cavity has two sides: a towards the start of its path, b towards the end", name, name)
	}
	if t := c.terminals[name]; t != nil { // nothing is wired to it, or the kind's own word for a pin with another name
		if i, ok := c.pointAt[t.Name]; ok {
			return c.points[i], nil
		}
		return Point{}, fmt.Errorf("no wire comes to %s: its cavity is empty. With the connector apart its pin can be touched: %s.pin", name, name)
	}
	if p := c.parts[name]; p != nil {
		return Point{}, fmt.Errorf("%s has terminals: %s?", name, list(c.pointsOf(name), "or"))
	}
	if k := c.connectors[name]; k != nil {
		return Point{}, fmt.Errorf("%s has cavities: %s?", name, list(c.pointsOf(name), "or"))
	}
	if w := c.wires[name]; w != nil {
		return Point{}, fmt.Errorf("%s is a wire, and a lead does not go through insulation: %s or %s?", name, w.From.Name, w.To.Name)
	}
	head, _, _ := strings.Cut(name, ".")
	if c.parts[head] != nil || c.connectors[head] != nil {
		if near := c.Nearest(name, c.pointsOf(head)...); near != "" {
			return Point{}, fmt.Errorf("there is no point %s; did you mean %s?", clip(name), near)
		}
		return Point{}, fmt.Errorf("there is no point %s; %s has %s", clip(name), head, list(c.pointsOf(head), "and"))
	}
	names := make([]string, len(c.points))
	for i, p := range c.points {
		names[i] = p.Name
	}
	if near := c.Nearest(name, names...); near != "" {
		return Point{}, fmt.Errorf("there is no point %s; did you mean %s?", clip(name), near)
	}
	return Point{}, fmt.Errorf("there is no point %s; a point is a terminal, a side of a cavity, a splice or a stud, like F7.in, C14.4.a, S2, G1", clip(name))
}

// pointsOf lists the points of a part or connector.
func (c *Circuit) pointsOf(owner string) []string {
	var names []string
	for _, p := range c.points {
		if p.Terminal != nil && p.Terminal.Owner == owner {
			names = append(names, p.Name)
		}
	}
	return names
}

// makePoints makes the list once the circuit has been read.
func (c *Circuit) makePoints() {
	for _, part := range c.Parts {
		for _, t := range part.Terminals {
			c.addTerminal(part, t)
		}
	}
	for _, k := range c.Connectors {
		for _, t := range k.Cavities {
			c.add(Point{Name: t.Name + ".a", Terminal: t, Side: Harness, Reach: t.Reach}, "side a of cavity "+t.Pin+" in "+k.Name, k.Place)
			c.add(Point{Name: t.Name + ".b", Terminal: t, Side: PinSide, Reach: t.Reach}, "side b of cavity "+t.Pin+" in "+k.Name, k.Place)
		}
	}
	for _, s := range c.Splices {
		c.add(Point{Name: s.Name, Splice: s, Reach: s.Reach}, "splice "+s.Name, s.Place)
	}
	for _, s := range c.Studs {
		c.add(Point{Name: s.Name, Stud: s, Side: Rings, Reach: s.Reach}, "the rings on stud "+s.Name, s.Place)
		c.add(Point{Name: s.Name + ".frame", Stud: s, Side: Metal, Reach: s.Reach}, "bare metal beside stud "+s.Name, s.Place)
	}
	c.pointAt = make(map[string]int, len(c.points))
	for i, p := range c.points {
		c.pointAt[p.Name] = i
	}
}

// add appends a point with its price and phrase.
func (c *Circuit) add(p Point, says, where string) {
	if where != "" {
		says += ", " + where
	}
	p.Minutes, p.Says = p.Reach.Minutes(), says+": "+p.Reach.Says()
	c.points = append(c.points, p)
}

// addTerminal adds the points of a part's terminal. A terminal without a wire is an empty cavity: only the pin is there.
func (c *Circuit) addTerminal(part *Part, t *Terminal) {
	p := Point{Name: t.Name, Terminal: t, Part: part, Side: Harness, Reach: t.Reach}
	pin := Point{Name: t.Name + ".pin", Terminal: t, Part: part, Side: PinSide, Reach: Apart}
	switch part.Kind.Name {
	case "fuse":
		p.Side = PinSide
		c.add(p, "the fuse top at "+t.Pin, part.Place)
		return
	case "fusible link":
		c.add(p, "the end "+t.Pin+" of the link", part.Place)
		return
	case "generator":
		c.add(p, "the ring on "+t.Pin, part.Place)
		pin.Reach = t.Reach
		c.add(pin, "the stud "+t.Pin, part.Place)
		return
	case "battery":
		c.add(p, "the clamp on "+t.Pin, part.Place)
		pin.Reach = t.Reach
		c.add(pin, "the post "+t.Pin, part.Place)
		return
	}
	if t.Spot != NoSpot {
		c.add(p, "harness side of "+t.Name, part.Place)
	}
	c.add(pin, "pin "+t.Pin+" of "+part.Name+" itself", part.Place)
}
