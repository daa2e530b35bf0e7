package circuit

// This file reads out of a part's place where it is wanted in a drawing.

import "strings"

// Beside is a side of another part: one of the two is a part's name, or neither.
type Beside struct{ LeftOf, RightOf string }

// beside finds a side of another part in the last words of a part's place: cab fuse box, left of F9. A place is free words,
// so what names no part stays at that; only what looks like a misspelt name is an error.
func (r *reader) beside(part *Part, e entry) {
	words := strings.Fields(part.Place[strings.LastIndexByte(part.Place, ',')+1:])
	if len(words) != 3 || words[0] != "left" && words[0] != "right" || words[1] != "of" {
		return
	}
	of := words[2]
	r.later = append(r.later, func() {
		switch as := r.claimed[of].as; {
		case of == part.Name:
			r.wrong(position(e.value), of+" cannot be beside itself", "Name another part")
		case as == "part" && words[0] == "left":
			part.Drawn.LeftOf = of
		case as == "part":
			part.Drawn.RightOf = of
		case as == "" && strings.ToLower(of) != of:
			if ask := r.ask(of, r.partNames(), ""); ask != "" {
				r.wrong(position(e.value), "there is no part "+clip(of), ask)
			}
		}
	})
}
