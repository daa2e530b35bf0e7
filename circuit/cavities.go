package circuit

// This file passes the cavities of in-line connectors: a path comes in on side a and leaves on side b, unless the
// step says otherwise.

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// throughCavity meets one cavity of an in-line connector, and makes both where they are met for the first time.
func (r *reader) throughCavity(step *Step, node *yaml.Node, name, rest string, at where) (in, out *place, ok bool) {
	cavity, sides, sided := strings.Cut(rest, ".")
	offset := len(name) + 1
	if _, known := r.claimed[name]; !known && !sided && strings.Contains(cavity, "-") { // only a part is passed by two names
		r.wrong(position(node), fmt.Sprintf("there is no part %s to pass by %s", name, clip(cavity)), r.ask(name, r.partsWith(strings.Cut(cavity, "-")), "Write it under parts"))
		return nil, nil, false
	}
	if !r.name(cavity, r.inside(node, offset)) {
		return nil, nil, false
	}
	if sided && !contains([]string{"a", "b", "a-b", "b-a"}, sides) {
		r.wrong(r.inside(node, offset+len(cavity)+1), fmt.Sprintf("a cavity has no side %s", clip(sides)), "Its sides are a and b: a path comes in at a and leaves at b, unless it says b-a")
		return nil, nil, false
	}
	t := r.cavity(name, cavity, position(node))
	if t == nil {
		return nil, nil, false
	}
	step.Cavity = t
	near, far := "a", "b" // in the order of this path
	switch sides {
	case "b-a":
		near, far = "b", "a"
	case "a", "b":
		if at == middle {
			r.wrong(r.inside(node, offset+len(cavity)+1), fmt.Sprintf("the path goes on past %s", clip(node.Value)), "Write "+t.Name+" to go through it, or end the path here")
			return nil, nil, false
		}
		near, far = sides, sides
	}
	if at != first {
		if in = r.side(t, near, node); in == nil {
			return nil, nil, false
		}
	}
	if at == first || at == middle {
		if out = r.side(t, far, node); out == nil {
			return nil, nil, false
		}
	}
	return in, out, true
}

// partsWith lists the parts that have both terminals.
func (r *reader) partsWith(a, b string, _ bool) []string {
	var names []string
	for _, p := range r.circuit.Parts {
		if r.circuit.terminals[p.Name+"."+a] != nil && r.circuit.terminals[p.Name+"."+b] != nil {
			names = append(names, p.Name)
		}
	}
	return names
}

// cavity finds a cavity, or makes it.
func (r *reader) cavity(name, cavity string, at Pos) *Terminal {
	if t := r.circuit.terminals[name+"."+cavity]; t != nil {
		return t
	}
	k := r.circuit.connectors[name]
	if k == nil {
		if claim, known := r.claimed[name]; known {
			r.wrong(at, fmt.Sprintf("%s is the name of a %s, at line %d, and has no cavities", name, claim.as, claim.at.Line), "")
			return nil
		}
		r.claim(name, "connector", at)
		k = r.connector(name, at)
	}
	if len(k.Cavities) >= mostPins {
		r.wrong(at, fmt.Sprintf("%s has more than %d cavities", name, mostPins), "")
		return nil
	}
	made := r.inline[k]
	t := &Terminal{Name: name + "." + cavity, Owner: name, Pin: cavity, Inline: true, Spot: NoSpot, FarSpot: NoSpot, Pos: at,
		SizeMM: made.sizeMM, Plating: made.plating, Reach: k.Reach}
	t.sizedInline()
	k.Cavities = append(k.Cavities, t)
	r.circuit.terminals[t.Name] = t
	r.tails[t] = &tail{}
	return t
}

// side takes one side of a cavity for a path. Each can be taken once: a terminal holds one wire.
func (r *reader) side(t *Terminal, side string, node *yaml.Node) *place {
	end := r.tails[t]
	met, before := end.nearMet, end.nearAt
	if side == "b" {
		met, before = end.farMet, end.farAt
	}
	if met {
		r.wrong(position(node), fmt.Sprintf("side %s of cavity %s is already used, at line %d", side, t.Name, before.Line), "A cavity holds one wire a side; join wires in a splice")
		return nil
	}
	p := &place{name: t.Name + "." + side}
	if side == "a" {
		p.conductor = r.nearTail(t, position(node))
	} else {
		p.conductor = r.farTail(t, position(node))
	}
	return p
}
