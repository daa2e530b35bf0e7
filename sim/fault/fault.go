// Package fault says what can be wrong with a circuit and how bad: it reads one line of the fault grammar,
//
//	PLACE CONDITION [VALUE ...]
//
// holds it against the circuit, and collects the differences that a set of faults makes to the sound circuit.
package fault

import (
	"fmt"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
	"underload/sim/part"
	"underload/solver"
)

// Fault is one thing that is wrong.
type Fault struct {
	Place     string
	Condition string
	Other     string  // the second place of a short, a leak or a swap; "" where there is none
	Ohms      float64 // the resistance it brings; +Inf is open
	Text      string  // the line as it was read

	apply func(o *Overlay)
}

// String is the line as it was read.
func (f Fault) String() string { return f.Text }

// Contradicts reports whether two faults cannot both be: one part stuck in two ways, two wrong fuses in one slot. Ohms
// in one joint add up instead.
func (f Fault) Contradicts(other Fault) bool {
	return f.Condition != "swapped" && f.Place == other.Place && f.Condition == other.Condition && f.Ohms == 0 && f.Text != other.Text
}

// Parse reads one fault and holds it against the circuit. The error says what is wrong and the nearest right word.
func Parse(c *circuit.Circuit, text string) (Fault, error) {
	words := strings.Fields(text)
	if len(words) < 2 {
		return Fault{}, fmt.Errorf("%q is not a fault: write PLACE CONDITION [VALUE], such as %q", text, "C14.4 spread 1.8 ohm")
	}
	t, err := find(c, words[0])
	if err != nil {
		return Fault{}, err
	}
	name := strings.ReplaceAll(strings.ToLower(words[1]), "_", "-")
	rest := words[2:]
	known := t.conditions()
	if len(rest) > 0 { // two words may stand for one: backed out, coil open
		if joined := name + "-" + strings.ToLower(rest[0]); known[joined] != nil {
			name, rest = joined, rest[1:]
		}
	}
	read := known[name]
	if read == nil {
		return Fault{}, unknownCondition(t, name)
	}
	f := Fault{Place: t.name, Condition: name, Text: strings.Join(words, " ")}
	if err := read(&f, t, strings.Join(rest, " ")); err != nil {
		return Fault{}, fmt.Errorf("fault %q: %w", f.Text, err)
	}
	return f, nil
}

// Turned is the same fault with another resistance, above zero. The error says that its condition has none to turn.
func (f Fault) Turned(c *circuit.Circuit, ohms float64) (Fault, error) {
	text := f.Place + " " + f.Condition
	if f.Other != "" {
		text += " " + f.Other
	}
	turned, err := Parse(c, text+" "+strconv.FormatFloat(ohms, 'g', -1, 64)+" ohm")
	if err != nil || turned.Ohms == 0 {
		return Fault{}, fmt.Errorf("%s: no resistance can be turned there", f.Text)
	}
	return turned, nil
}

func unknownCondition(t *target, name string) error {
	known := t.conditionNames()
	message := fmt.Sprintf("%s cannot be %q", t.says(), name)
	if near, ok := spelling.Nearest(name, known); ok {
		return fmt.Errorf("%s: did you mean %q?", message, near)
	}
	return fmt.Errorf("%s: it can be %s", message, strings.Join(known, ", "))
}

// ohms reads a resistance, or takes the condition's central figure where none is given.
func ohms(text string, central float64) (float64, error) {
	if text == "" {
		return central, nil
	}
	v, err := quantity.Parse(text, quantity.Ohms)
	if err != nil {
		return 0, err
	}
	if v <= 0 {
		return 0, fmt.Errorf("%q: a resistance above zero is wanted, such as \"1.8 ohm\"", text)
	}
	if v < solver.MinOhms || v > solver.MaxOhms {
		return 0, fmt.Errorf("%q: a resistance from %s on is wanted, such as \"1.8 ohm\"; a break is written open", text,
			quantity.Format(solver.MinOhms, quantity.Ohms, 1))
	}
	return v, nil
}

func none(text string) error {
	if text != "" {
		return fmt.Errorf("%q is too much: nothing follows the condition here", text)
	}
	return nil
}

// Overlay is all that a set of faults changes on the sound circuit. Ohms are in place of the sound figure unless the
// name says added; of two faults in one joint the ohms add up.
type Overlay struct {
	Contact    map[*circuit.Terminal]float64
	Film       map[*circuit.Terminal]bool // contacts with a film, which breaks through under some volts
	Crimp      map[*circuit.Terminal]float64
	FarCrimp   map[*circuit.Terminal]float64
	WireAdded  map[*circuit.Wire]float64
	LegAdded   map[Leg]float64
	Necks      map[*circuit.Wire]Neck // beside what they add
	Stud       map[*circuit.Stud]float64
	Flaws      map[*circuit.Part]part.Flaw
	RatingAmps map[*circuit.Part]float64
	Blown      map[*circuit.Part]bool
	Shorts     []Short
	WireOf     map[*circuit.Terminal]*circuit.Terminal // whose wire a terminal has, where wires sit in each other's cavity
	Grip       map[*circuit.Terminal]catalog.Condition // what a drag gauge or an eye finds there
}

// Neck is a place where a wire hangs by some of its strands.
type Neck struct {
	Wire      *circuit.Wire
	Left, Of  int // strands
	Metres    float64
	AddedOhms float64 // at the file's ambient temperature
}

// Leg is where one wire enters a splice.
type Leg struct {
	Splice *circuit.Splice
	Wire   *circuit.Wire
}

// Short is a path where there should be none, from a place to another.
type Short struct {
	FromWire     *circuit.Wire // from the middle of a wire, or
	FromTerminal *circuit.Terminal
	To           string // a point; "" is the body
	Ohms         float64
}

// wireOf is the terminal whose wire a terminal has.
func (o *Overlay) wireOf(t *circuit.Terminal) *circuit.Terminal {
	if other, ok := o.WireOf[t]; ok {
		return other
	}
	return t
}

// grip notes what a terminal's contact suffers from. Of two conditions the one with the weaker grip is what is found.
func (o *Overlay) grip(t *circuit.Terminal, c catalog.Condition) {
	if had, ok := o.Grip[t]; !ok || c.DragShare < had.DragShare {
		o.Grip[t] = c
	}
}

// Lay collects what the faults change.
func Lay(faults []Fault) *Overlay {
	o := &Overlay{
		Contact: map[*circuit.Terminal]float64{}, Film: map[*circuit.Terminal]bool{}, Crimp: map[*circuit.Terminal]float64{},
		FarCrimp: map[*circuit.Terminal]float64{}, WireAdded: map[*circuit.Wire]float64{},
		LegAdded: map[Leg]float64{}, Necks: map[*circuit.Wire]Neck{}, Stud: map[*circuit.Stud]float64{}, Flaws: map[*circuit.Part]part.Flaw{},
		RatingAmps: map[*circuit.Part]float64{}, Blown: map[*circuit.Part]bool{},
		Grip: map[*circuit.Terminal]catalog.Condition{}, WireOf: map[*circuit.Terminal]*circuit.Terminal{},
	}
	for _, f := range faults {
		f.apply(o)
	}
	return o
}
