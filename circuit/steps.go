package circuit

// This file finds what a step of a path names, and by which sides the path comes in and leaves.

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// resolve finds what a step names. In is the side the path comes in by, nil where it starts here; out the side it
// leaves by, nil where it ends here.
func (r *reader) resolve(step *Step, node *yaml.Node, at where) (in, out *place, ok bool) {
	head, rest, dotted := strings.Cut(node.Value, ".")
	if !r.name(head, position(node)) {
		r.stepLost = true
		return nil, nil, false
	}
	claim, known := r.claimed[head]
	if known && claim.as == "part" {
		part := r.circuit.parts[head]
		if part == nil { // its kind could not be read
			return nil, nil, false
		}
		if dotted {
			in, out, ok = r.throughPins(step, node, part, rest, at)
		} else {
			in, out, ok = r.throughPart(step, node, part, at)
		}
		r.meant[head] = r.meant[head] || !ok
		return in, out, ok
	}
	if dotted {
		in, out, ok = r.throughCavity(step, node, head, rest, at)
		r.meant[head] = r.meant[head] || !ok
		return in, out, ok
	}
	switch {
	case !known:
		if head == "wire" || !r.claim(head, "splice", position(node)) {
			return nil, nil, false
		}
		return r.throughJoint(step, r.splice(head, position(node)), nil, at)
	case claim.as == "splice":
		return r.throughJoint(step, r.circuit.splices[head], nil, at)
	case claim.as == "ground":
		return r.throughJoint(step, nil, r.circuit.studs[head], at)
	case claim.as == "connector":
		r.wrong(position(node), head+" is a connector, and a path goes through one of its cavities", "Write it like "+head+".1")
	default:
		r.wrong(position(node), fmt.Sprintf("%s is the name of a %s, at line %d", head, claim.as, claim.at.Line), "A wire stands as - wire "+head+":")
	}
	return nil, nil, false
}

// throughJoint meets a splice or stud.
func (r *reader) throughJoint(step *Step, splice *Splice, stud *Stud, at where) (in, out *place, ok bool) {
	step.Splice, step.Stud = splice, stud
	var met *meeting
	p := &place{splice: splice}
	if splice != nil {
		met, p.name = r.splices[splice], splice.Name
	} else {
		met, p.name = r.studs[stud], stud.Name
	}
	met.times++
	met.middle = met.middle || at == middle
	p.conductor = met.conductor
	switch at {
	case first:
		return nil, p, true
	case middle:
		return p, p, true
	}
	return p, nil, true
}

// throughPart passes a part named without its terminals.
func (r *reader) throughPart(step *Step, node *yaml.Node, part *Part, at where) (in, out *place, ok bool) {
	if len(part.Terminals) != 2 || part.Kind.Name == "battery" || part.Kind.Name == "generator" || part.Kind.Name == "module" || part.Kind.Name == "socket" {
		hint := "Write the terminal it comes to, like " + part.Name + ".1"
		if len(part.Terminals) > 0 {
			hint = "Write one of its terminals, like " + part.Terminals[0].Name
			if pair, found := anyPass(part); found && part.Kind.Name != "battery" && part.Kind.Name != "generator" {
				hint += ", or the two it passes, like " + part.Name + "." + pair[0] + "-" + pair[1]
			}
		}
		r.wrong(position(node), fmt.Sprintf("%s is a %s: the path must say by which terminals it passes", part.Name, part.Kind.Name), hint)
		return nil, nil, false
	}
	return r.throughTerminals(step, node, part, part.Terminals[0], part.Terminals[1], at)
}

// anyPass gives a pair of a part's terminals that current can pass between.
func anyPass(part *Part) ([2]string, bool) {
	for _, throw := range part.Throws {
		if len(throw.Pairs) > 0 {
			return throw.Pairs[0], true
		}
	}
	if len(part.Kind.Pass) > 0 {
		return part.Kind.Pass[0], true
	}
	return [2]string{}, false
}

// throughPins passes a part by the terminals that the step names: one where the path starts or ends, else two.
func (r *reader) throughPins(step *Step, node *yaml.Node, part *Part, rest string, at where) (in, out *place, ok bool) {
	offset := len(part.Name) + 1
	a, b, two := strings.Cut(rest, "-")
	from, to := r.pin(part, a, node, offset), (*Terminal)(nil)
	if two {
		to = r.pin(part, b, node, offset+len(a)+1)
	}
	if from == nil || two && to == nil {
		return nil, nil, false
	}
	switch {
	case two && from == to:
		r.wrong(position(node), fmt.Sprintf("%s comes in and leaves by the same terminal", clip(node.Value)), "")
		return nil, nil, false
	case two && !r.passes(part, from, to):
		r.wrong(r.inside(node, offset), fmt.Sprintf("no current passes inside %s between %s and %s", part.Name, from.Pin, to.Pin), r.passHint(part))
		return nil, nil, false
	case two:
		return r.throughTerminals(step, node, part, from, to, at)
	case at == middle:
		hint := "End this path here and start another at " + from.Name
		if pair, found := anyPass(part); found {
			hint = "Write both, like " + part.Name + "." + pair[0] + "-" + pair[1] + ", or end the path here and start another at " + from.Name
		}
		r.wrong(position(node), fmt.Sprintf("the path comes to %s and does not say by which terminal it leaves", from.Name), hint)
		return nil, nil, false
	}
	step.Part, step.In = part, from
	p := &place{conductor: r.nearTail(from, step.Pos), name: from.Name}
	if at == first {
		return nil, p, true
	}
	return p, nil, true
}

// passHint says between which terminals current passes.
func (r *reader) passHint(part *Part) string {
	var pairs []string
	for _, pair := range part.Kind.Pass {
		pairs = append(pairs, pair[0]+"-"+pair[1])
	}
	for _, throw := range part.Throws {
		for _, pair := range throw.Pairs {
			if joined := pair[0] + "-" + pair[1]; !contains(pairs, joined) && len(pairs) < 20 {
				pairs = append(pairs, joined)
			}
		}
	}
	if len(pairs) == 0 {
		return "A path ends at a terminal of a " + part.Kind.Name + ", and another starts at the next"
	}
	return "Its pairs are " + list(pairs, "and")
}

// pin finds a terminal of a part by its pin.
func (r *reader) pin(part *Part, pin string, node *yaml.Node, offset int) *Terminal {
	if t := r.circuit.terminals[part.Name+"."+pin]; t != nil {
		return t
	}
	at := r.inside(node, offset)
	if base, isPin := strings.CutSuffix(pin, ".pin"); isPin && r.circuit.terminals[part.Name+"."+base] != nil {
		r.wrong(at, clip(node.Value)+" is a point for a lead, not a step", "A path comes to "+part.Name+"."+base)
		return nil
	}
	pins := make([]string, len(part.Terminals))
	for i, t := range part.Terminals {
		pins[i] = t.Pin
	}
	hint := "Its terminals are " + list(pins, "and")
	switch part.Kind.Name {
	case "module", "socket":
		hint += "; list the pin where " + part.Name + " says what its pins are for"
	case "switch":
		hint += "; list the terminal in its throws"
	}
	if near := r.speller.nearest(pin, pins); near != "" && len(pins) > 12 {
		hint = "Did you mean " + part.Name + "." + near + "?"
	}
	r.wrong(at, fmt.Sprintf("%s has no terminal %s", part.Name, clip(pin)), hint)
	return nil
}

// throughTerminals passes a part from one terminal to another. A path that starts here uses only the second, one that
// ends here only the first.
func (r *reader) throughTerminals(step *Step, node *yaml.Node, part *Part, from, to *Terminal, at where) (in, out *place, ok bool) {
	step.Part = part
	if at == first {
		step.In = to
		if strings.Contains(node.Value, "-") {
			step.In, step.Out = from, to
		}
		return nil, &place{conductor: r.nearTail(to, step.Pos), name: to.Name}, true
	}
	step.In = from
	if at == last || at == alone {
		return &place{conductor: r.nearTail(from, step.Pos), name: from.Name}, nil, true
	}
	step.Out = to
	for _, t := range []*Terminal{from, to} {
		if before := r.tails[t].passed; before.Line > 0 {
			r.wrong(position(node), fmt.Sprintf("%s was traced at line %d", t.Name, before.Line),
				fmt.Sprintf("Start this path at %s, or at a splice before it", to.Name))
			return nil, nil, false
		}
	}
	r.tails[from].passed, r.tails[to].passed = step.Pos, step.Pos
	return &place{conductor: r.nearTail(from, step.Pos), name: from.Name}, &place{conductor: r.nearTail(to, step.Pos), name: to.Name}, true
}
