package sim

// This file is what can be watched in a run.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/spelling"
	"underload/sim/live"
	"underload/solver"
	"underload/solver/transient"
)

// Channel is one thing watched. It goes on working whatever is done to the circuit, and after stepping back.
type Channel struct {
	Name  string   // as it was asked for
	Unit  string   // V, A, °C, %, rad/s, or "" for a mode
	Words []string // of a mode: the word for each value

	run     *Run
	points  []circuit.Point // of volts
	find    func(a *age) reader
	fetched *fetched
}

type reader func(v live.View) float64

// fetched is the reader for the age it was found in.
type fetched struct {
	age  *age
	read reader
}

// watchWords are the words that something other than volts begins with.
var watchWords = []string{"amps", "light", "heat", "speed", "charge", "mode", "resets", "supply"}

// Watch finds something to be watched:
//
//	B1.pos                 volts against the first battery's minus; any point of the circuit
//	PC1.1 against PC1.8    volts between two points
//	amps W3, amps L1       in a wire along its path, into a terminal, in a part
//	light L1               percent of what the lamp gives at its rated volts
//	heat C14.4, heat F7    °C of a joint or ground stud, a fuse's body, a lamp's filament, a wire
//	speed M1               radians a second
//	charge B1              percent
//	mode PC1, mode K2      what a module or relay does; Words has the word for each value
//	resets PC1             how often a module has reset
//	supply PC1             volts between a module's own supply and its own ground
//
// The error tells the nearest right word.
func (r *Run) Watch(text string) (Channel, error) {
	words := strings.Fields(text)
	c := Channel{Name: strings.Join(words, " "), run: r, fetched: &fetched{}}
	var err error
	switch {
	case len(words) == 3 && words[1] == "against":
		err = c.volts(words[0], words[2])
	case len(words) == 1 && slices.Contains(watchWords, words[0]):
		err = fmt.Errorf("%s of what? write it with a place, such as %q", words[0], words[0]+" "+r.Circuit().Parts[0].Name)
	case len(words) == 1:
		err = c.volts(words[0], "")
	case len(words) == 2 && words[0] == "amps":
		err = c.amps(words[1])
	case len(words) == 2 && words[0] == "heat":
		err = c.heat(words[1])
	case len(words) == 2 && slices.Contains(watchWords, words[0]):
		err = c.part(words[0], words[1])
	case len(words) == 2:
		if near, ok := spelling.Nearest(words[0], watchWords); ok {
			err = fmt.Errorf("%q cannot be watched: did you mean %s %s?", text, near, words[1])
			break
		}
		fallthrough
	default:
		err = fmt.Errorf("%q cannot be watched: write a point, POINT against POINT, or one of %s and a place", text, strings.Join(watchWords, ", "))
	}
	return c, err
}

// Read is the channel's value now, in its unit.
func (c Channel) Read() float64 { return c.reader()(c.heard(c.run.age.run.Now())) }

// ReadAt is its value at a time inside the last step, both ends included; at the end as it was before anything happened
// there. At any other time it is Read.
func (c Channel) ReadAt(seconds float64) float64 {
	return c.reader()(c.heard(c.run.age.run.Look(seconds)))
}

func (c Channel) reader() reader {
	if c.fetched.age != c.run.age {
		*c.fetched = fetched{c.run.age, c.find(c.run.age)}
	}
	return c.fetched.read
}

func (c *Channel) volts(red, black string) error {
	circuit := c.run.Circuit()
	plus, err := circuit.Point(red)
	if err != nil {
		return err
	}
	c.Unit = "V"
	c.points = append(c.points, plus)
	if black == "" {
		c.find = func(a *age) reader {
			n := a.at(plus)
			return func(v live.View) float64 { return v.Volts(n) }
		}
		return nil
	}
	minus, err := circuit.Point(black)
	if err != nil {
		return err
	}
	c.points = append(c.points, minus)
	c.find = func(a *age) reader {
		n, m := a.at(plus), a.at(minus)
		return func(v live.View) float64 { return v.Volts(n) - v.Volts(m) }
	}
	return nil
}

func (a *age) at(p circuit.Point) transient.Node { return transient.Node(a.w.at(p, a.plan.states)) }

// amps are those of a wire, a terminal or a part.
func (c *Channel) amps(place string) error {
	k := c.run.Circuit()
	c.Unit = "A"
	if w := k.Wire(place); w != nil {
		c.find = func(a *age) reader { return a.through(a.w.runs[w].first) }
		return nil
	}
	if t := k.Terminal(place); t != nil {
		c.find = func(a *age) reader { return a.into(t) }
		return nil
	}
	p := k.Part(place)
	switch {
	case p == nil:
		return c.noPlace(place, "amps")
	case p.Kind.Name == "module" || p.Kind.Name == "battery":
		return c.part("amps", place)
	case len(p.Terminals) != 2:
		return fmt.Errorf("amps %s: of which terminal? %s", place, strings.Join(terminalNames(p), ", "))
	}
	c.find = func(a *age) reader { return a.into(p.Terminals[0]) }
	return nil
}

// into is the current that comes to a terminal's crimp from its wire.
func (a *age) into(t *circuit.Terminal) reader {
	j := a.w.joints[t]
	for _, b := range []solver.Branch{j.crimp, j.contact, j.behind} {
		if _, met := a.legs[b]; !met {
			return func(live.View) float64 { return 0 }
		}
	}
	for _, b := range []solver.Branch{j.crimp, j.contact, j.behind} {
		if a.w.net.Ohms(b) > 0 {
			return a.through(b)
		}
	}
	return func(live.View) float64 { return math.NaN() }
}

func (a *age) through(b solver.Branch) reader {
	l := a.legs[b]
	return func(v live.View) float64 { return l.amps(v) }
}

func terminalNames(p *circuit.Part) []string {
	var names []string
	for _, t := range p.Terminals {
		names = append(names, t.Name)
	}
	return names
}

// part is what a part tells of itself.
func (c *Channel) part(what, place string) error {
	p := c.run.Circuit().Part(place)
	if p == nil {
		return c.noPlace(place, what)
	}
	reading, ok := c.run.age.parts[p].Readings[what]
	if !ok {
		return fmt.Errorf("%s %s: a %s has no %s; it has %s", what, place, p.Kind.Name, what, c.has(p))
	}
	c.Unit, c.Words = reading.Unit, reading.Words
	c.find = func(a *age) reader {
		if now, ok := a.parts[p].Readings[what]; ok {
			return now.Read
		}
		return func(live.View) float64 { return math.NaN() }
	}
	return nil
}

// has lists what can be watched of a part besides volts.
func (c *Channel) has(p *circuit.Part) string {
	words := []string{"amps"}
	for name := range c.run.age.parts[p].Readings {
		if name != "amps" {
			words = append(words, name)
		}
	}
	slices.Sort(words)
	return strings.Join(words, ", ")
}

// heat is that of a joint, a wire, or a part that grows hot.
func (c *Channel) heat(place string) error {
	k := c.run.Circuit()
	c.Unit = "°C"
	if t := k.Terminal(place); t != nil {
		c.find = c.run.heatOf(t, t.Name)
		return nil
	}
	if w := k.Wire(place); w != nil {
		c.find = c.run.heatOf(w, w.Name)
		return nil
	}
	if s := k.Stud(place); s != nil {
		c.find = c.run.heatOf(s, s.Name)
		return nil
	}
	if s := k.Splice(place); s != nil {
		c.find = c.run.heatOfSplice(s)
		return nil
	}
	return c.part("heat", place)
}

// noPlace tells the nearest place that can be watched so.
func (c *Channel) noPlace(place, watched string) error {
	k := c.run.Circuit()
	var known []string
	for _, p := range k.Parts {
		if _, has := c.run.age.parts[p].Readings[watched]; has || watched == "amps" {
			known = append(known, p.Name)
		}
	}
	what := "part"
	if watched == "heat" {
		what = "joint, wire or part"
		for _, s := range k.Studs {
			known = append(known, s.Name)
		}
		for _, w := range k.Wires {
			known = append(known, w.Name)
		}
	}
	if watched == "amps" {
		what = "wire, terminal or part"
		for _, w := range k.Wires {
			known = append(known, w.Name)
		}
		for _, p := range k.Parts {
			known = append(known, terminalNames(p)...)
		}
		for _, con := range k.Connectors {
			for _, t := range con.Cavities {
				known = append(known, t.Name)
			}
		}
	}
	if near, ok := spelling.Nearest(place, known); ok {
		return fmt.Errorf("there is no %s %s in this circuit: did you mean %s?", what, place, near)
	}
	return fmt.Errorf("there is no %s %s in this circuit", what, place)
}
