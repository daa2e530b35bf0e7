package circuit

// This file reads where a part is wanted in a drawing.

import "strings"

// Beside is a side of another part: one of the two is a part's name, or neither.
type Beside struct{ LeftOf, RightOf string }

// String is how the file says it.
func (b Beside) String() string {
	switch {
	case b.LeftOf != "":
		return "left of " + b.LeftOf
	case b.RightOf != "":
		return "right of " + b.RightOf
	}
	return ""
}

// beside reads on which side of which other part a part is wanted.
func (r *reader) beside(part *Part, e entry) {
	words, ok := r.text(e)
	if !ok {
		return
	}
	side, of, _ := strings.Cut(strings.Join(strings.Fields(words), " "), " of ")
	switch side {
	case "left":
		part.Drawn.LeftOf = of
	case "right":
		part.Drawn.RightOf = of
	default:
		r.wrong(position(e.value), "drawn: "+clip(words)+" is no side of another part", "Write left of, or right of, and the name of a part")
		return
	}
	r.later = append(r.later, func() {
		switch {
		case of == part.Name:
			r.wrong(position(e.value), of+" cannot be beside itself", "Name another part")
		case r.claimed[of].as != "part":
			r.wrong(position(e.value), "there is no part "+clip(of), r.ask(of, r.partNames(), "drawn: names a part of this file"))
		}
	})
}
