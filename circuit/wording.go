package circuit

// This file puts what stands on a diagram into short phrases.

import (
	"fmt"
	"strconv"
	"strings"

	"underload/circuit/quantity"
)

// Says is a wire in words: W7 RD/YE 0.75 mm² 2 m.
func (w *Wire) Says() string { return w.Name + " " + w.Made() }

// Made is what a wire is made of, as a person would say it: RD/YE 0.75 mm² 2 m. Every wire has a size or ohms.
func (w *Wire) Made() string {
	var words []string
	if w.Colour != "" {
		words = append(words, w.Colour)
	}
	if w.AreaMM2 > 0 {
		words = append(words, w.Size(), strconv.FormatFloat(w.Metres, 'g', 3, 64)+"\u00a0m")
	} else {
		words = append(words, quantity.Format(w.Ohms, quantity.Ohms, 3))
	}
	if w.Metal != wireMetal {
		words = append(words, w.Metal)
	}
	return strings.Join(words, " ")
}

// Size is a wire's size in the system that the file gives it in, 0.75 mm² or 18 AWG; empty where only its ohms are known.
func (w *Wire) Size() string {
	if name, ok := quantity.Gauge(w.AreaMM2); ok && w.AWG {
		return strings.Replace(name, " ", "\u00a0", 1)
	}
	if w.AreaMM2 == 0 {
		return ""
	}
	return quantity.Format(w.AreaMM2, quantity.SquareMillimetres, 0)
}

// withPlace adds a place to a phrase.
func withPlace(words, place string) string {
	if place == "" {
		return words
	}
	return words + ", " + place
}

// Name is what the diagram calls the thing on the way: W7, C14.1, S1, G2, F7; the metal from a stud on is "G2 on".
func (l Link) Name() string {
	switch {
	case l.Wire != nil:
		return l.Wire.Name
	case l.Cavity != nil:
		return l.Cavity.Name
	case l.Splice != nil:
		return l.Splice.Name
	case l.Stud != nil:
		return l.Stud.Name
	case l.Body != nil:
		return l.Body.Name + " on"
	}
	return l.Part.Name
}

// Says is what the thing is and where it sits, without its name and without what shares it.
func (l Link) Says(c *Circuit) string {
	switch {
	case l.Wire != nil:
		return "wire " + l.Wire.Made()
	case l.Cavity != nil:
		return withPlace("connector, cavity "+l.Cavity.Pin, c.connectors[l.Cavity.Owner].Place)
	case l.Splice != nil:
		return withPlace("splice", l.Splice.Place)
	case l.Stud != nil:
		return withPlace("ground stud", l.Stud.Place)
	case l.Body != nil:
		return "body metal to " + l.Body.To
	}
	words := l.Part.Kind.Name
	switch words {
	case "fuse", "fusible link":
		words += " " + quantity.Format(l.Part.Value("rating"), quantity.Amperes, 0)
	case "switch", "relay":
		words += ", " + l.In.Pin + " to " + l.Out.Pin
	}
	return withPlace(words, l.Part.Place)
}

// Says is the need in words: KEY in run or crank; K2 pulled in (PC1.5 on, asked for M1).
func (n Need) Says() string {
	switch {
	case n.Output != nil:
		return fmt.Sprintf("%s.%s on, asked for %s", n.Part.Name, n.Output.Pin, n.Output.For)
	case n.Part.Kind.Name == "switch":
		return n.Part.Name + " in " + list(n.Positions, "or")
	case !n.PulledIn:
		return n.Part.Name + " at rest"
	case len(n.By) == 0:
		return n.Part.Name + " pulled in"
	}
	return n.Part.Name + " pulled in (" + sayNeeds(n.By) + ")"
}

func sayNeeds(needs []Need) string {
	var words []string
	for _, n := range needs {
		if said := n.Says(); !contains(words, said) {
			words = append(words, said)
		}
	}
	return strings.Join(words, "; ")
}

// When says when the way is closed: always, or with what.
func (f Feed) When() string {
	switch {
	case f.Through != nil:
		return "through " + f.Through.Name
	case f.End == nil:
		return "never: no way was found"
	case len(f.Needs) == 0:
		return "always"
	}
	return "with " + sayNeeds(f.Needs)
}
