package circuit

// This file cuts a path into legs: what lies between two things that are met one after the other.

// Leg is the way from one thing on a path to the next: a wire, or metal to metal.
type Leg struct {
	From, To string // F7.out, C14.1.a, S2, G2
	Wire     *Wire  // nil where the two are joined metal to metal
}

// Legs lists the legs of a path in its order: always at least one, as a path has at least two steps that are no wires.
func (p *Path) Legs() []Leg {
	var legs []Leg
	var last *Step // what was met last
	var wire *Wire // the wire that leads on from it, if one does
	arrived := ""
	for i := range p.Steps {
		step := &p.Steps[i]
		if step.Wire != nil {
			wire = step.Wire
			continue
		}
		if last != nil {
			leg := Leg{Wire: wire}
			if wire != nil {
				leg.From, leg.To = wire.From.Name, wire.To.Name
			} else {
				leg.From, leg.To = joint(last.leaves(arrived), step.arrives())
			}
			legs = append(legs, leg)
			arrived = leg.To
		}
		last, wire = step, nil
	}
	return legs
}

// side is a side of something on a path, and the spot there.
type side struct {
	name string
	spot Spot
}

// joint finds the two sides that are joined metal to metal.
func joint(leaves, arrives []side) (from, to string) {
	for _, a := range leaves {
		for _, b := range arrives {
			if a.spot == b.spot {
				return a.name, b.name
			}
		}
	}
	panic("circuit: two steps of a path are not joined")
}

// arrives lists the sides by which a path can come to a step.
func (s *Step) arrives() []side {
	switch {
	case s.Cavity != nil:
		return []side{{s.Cavity.Name + ".a", s.Cavity.Spot}, {s.Cavity.Name + ".b", s.Cavity.FarSpot}}
	case s.Splice != nil:
		return []side{{s.Splice.Name, s.Splice.Spot}}
	case s.Stud != nil:
		return []side{{s.Stud.Name, s.Stud.Spot}}
	}
	return []side{{s.In.Name, s.In.Spot}}
}

// leaves lists the sides by which a path that arrived on one side of a step, or "" where it starts, can leave it.
func (s *Step) leaves(arrived string) []side {
	switch {
	case s.Part != nil && s.Out != nil:
		return []side{{s.Out.Name, s.Out.Spot}}
	case s.Cavity != nil:
		sides := s.arrives()
		if sides[1].name == arrived {
			return sides[:1]
		} else if sides[0].name == arrived {
			return sides[1:]
		}
		return []side{sides[1], sides[0]}
	}
	return s.arrives()
}
