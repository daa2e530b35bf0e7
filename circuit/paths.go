package circuit

// This file follows the paths, step by step, and makes wires, cavities and splices where it meets them.

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// place is one side of a step: a conductor that a wire or the next step can be joined to.
type place struct {
	conductor int
	name      string // F7.out, C14.1.a, S2
	splice    *Splice
}

// track is where a finger stands on a path.
type track struct {
	path    *Path
	here    *place // nil at the start and after a step that could not be read
	lost    bool   // a step could not be read: what joins it is not told as wrong too
	wire    *Wire  // begun, its other end not met yet
	pending *yaml.Node
}

// readPaths reads the paths section.
func (r *reader) readPaths(section entry) {
	entries := r.entries(section.value, "paths")
	if len(entries) == 0 && !r.bad() {
		r.wrong(section.at, "there are no paths", "Write each path as a name and its steps, from the supply down to ground")
	}
	for _, e := range entries {
		if utf8.RuneCountInString(e.key) > mostPathName {
			r.wrong(e.at, fmt.Sprintf("a path's name is longer than %d characters", mostPathName), "")
		}
		if e.value.Kind != yaml.SequenceNode {
			r.stepLost = true
			r.wrong(position(e.value), fmt.Sprintf("path %q must be a list of steps", clip(e.key)), "Write each step on a line of its own, after a dash and a space")
			continue
		}
		r.readPath(e)
	}
}

func (r *reader) readPath(e entry) {
	t := &track{path: &Path{Name: e.key, Pos: e.at}}
	r.circuit.Paths = append(r.circuit.Paths, t.path)
	steps := e.value.Content
	if len(steps) < 2 {
		r.wrong(e.at, fmt.Sprintf("path %q leads nowhere", clip(e.key)), "A path has two steps or more")
	}
	for i, node := range steps {
		where := middle
		switch {
		case len(steps) == 1:
			where = alone
		case i == 0:
			where = first
		case i == len(steps)-1:
			where = last
		}
		r.readStep(t, node, where)
	}
	if t.wire != nil {
		r.wrong(position(t.pending), fmt.Sprintf("path %q ends with a wire", clip(e.key)), "Say where the wire goes")
	}
}

// where a step lies on its path.
type where int

const (
	first where = iota
	middle
	last
	alone
)

// readStep reads one step and joins it to what was met before.
func (r *reader) readStep(t *track, node *yaml.Node, at where) {
	if text, name, isWire := r.wireStep(node); isWire {
		r.beginWire(t, node, text, name)
		return
	} else if node.Kind != yaml.ScalarNode || node.Value == "" {
		r.stepLost = true
		r.wrong(position(node), "a step is a name, or a wire", "Write it like - F7, - C14.4, or - wire: RD 1.0 mm2 2.8 m")
		r.lose(t)
		return
	}
	step := Step{Pos: position(node)}
	in, out, ok := r.resolve(&step, node, at)
	if !ok {
		r.lose(t)
		return
	}
	t.path.Steps = append(t.path.Steps, step)
	if in != nil {
		r.arrive(t, in, step.Pos)
	}
	t.here, t.lost = out, false
	if out == nil {
		t.here = in
	}
}

// lose forgets where the finger stands, so that one wrong step does not make the next ones wrong.
func (r *reader) lose(t *track) { t.here, t.lost, t.wire = nil, true, nil }

// arrive joins a place to what was met before it, by the wire in between or metal to metal.
func (r *reader) arrive(t *track, in *place, at Pos) {
	switch {
	case t.wire != nil && t.here != nil:
		r.endWire(t, in)
	case t.here != nil:
		if r.joints.root(t.here.conductor) == r.joints.root(in.conductor) {
			r.wrong(at, fmt.Sprintf("%s and %s are one and the same place already", t.here.name, in.name), "Put a wire or a part between them, or leave one out")
		}
		r.joints.join(t.here.conductor, in.conductor)
	}
	t.wire = nil
}

// wireStep tells whether a step is a wire, and gives the node of its text and its name.
func (r *reader) wireStep(node *yaml.Node) (text *yaml.Node, name *yaml.Node, is bool) {
	key := node
	if node.Kind == yaml.MappingNode && len(node.Content) > 0 {
		key = node.Content[0]
		text = node.Content[1]
	}
	word, _, _ := strings.Cut(key.Value, " ")
	if key.Kind != yaml.ScalarNode || !strings.EqualFold(word, "wire") {
		return nil, nil, false
	}
	if word != "wire" { // as a splice of that name it would join what it stands between
		r.wrong(position(key), word+" is written in small letters: wire", "")
	}
	if len(node.Content) > 2 {
		r.wrong(position(node.Content[2]), "a wire is one line", "Write colour, size and length after the first colon: - wire: RD 1.0 mm2 2.8 m")
	}
	return text, key, true
}

// beginWire starts a wire at the place the finger stands on.
func (r *reader) beginWire(t *track, node, text, key *yaml.Node) {
	at := position(node)
	said, ok := wireText{}, true
	if text != nil && text.Kind != yaml.ScalarNode {
		r.wrong(position(text), "what a wire is like is written in one line", "Write it like - wire: RD 1.0 mm2 2.8 m")
		ok = false
	} else if text != nil {
		said, ok = r.readWireText(text)
	}
	_, name, _ := strings.Cut(key.Value, " ")
	name = strings.TrimSpace(name)
	nameAt := r.inside(key, len(key.Value)-len(name))
	if name != "" && !r.wireName(name, nameAt, text == nil) {
		name, ok = "", false
	}
	switch {
	case t.wire != nil:
		r.wrong(at, "two wires in a row", "Put the splice or connector that joins them between the two")
		r.lose(t)
		return
	case t.here == nil && !t.lost:
		r.wrong(at, fmt.Sprintf("path %q begins with a wire", clip(t.path.Name)), "Say where the wire comes from")
		r.lose(t)
		return
	case t.here == nil || !ok:
		r.lose(t)
		return
	case len(r.circuit.Wires) >= mostWires:
		if len(r.circuit.Wires) == mostWires && !r.tooMany {
			r.wrong(at, fmt.Sprintf("there are more than %d wires", mostWires), "")
			r.tooMany = true
		}
		r.lose(t)
		return
	}
	t.wire = said.build(r.circuit.AmbientCelsius)
	t.wire.Name, t.wire.Pos, t.wire.Path = name, at, t.path.Name
	t.pending = node
}

// wireName checks and takes the name of a wire.
func (r *reader) wireName(name string, at Pos, bare bool) bool {
	if bare && strings.Contains(name, " ") {
		r.wrong(at, "a colon is missing in "+clip("wire "+name), "Write it like - wire: RD 1.0 mm2 2.8 m, or - wire W7: RD")
		return false
	}
	return r.name(name, at) && r.claim(name, "wire", at)
}

// endWire finishes a wire at the place the finger has come to.
func (r *reader) endWire(t *track, in *place) {
	w, from := t.wire, t.here
	if r.joints.root(from.conductor) == r.joints.root(in.conductor) {
		r.wrong(w.Pos, fmt.Sprintf("this wire begins and ends at %s", in.name), "")
		return
	}
	w.From = End{Spot: Spot(from.conductor), Name: from.name, Splice: from.splice}
	w.To = End{Spot: Spot(in.conductor), Name: in.name, Splice: in.splice}
	if w.Name == "" {
		w.Name = from.name + "~" + in.name
		r.twins[w.Name]++
		if twin := r.twins[w.Name]; twin > 1 {
			w.Name += fmt.Sprintf("#%d", twin)
		}
	}
	r.circuit.Wires = append(r.circuit.Wires, w)
	r.circuit.wires[w.Name] = w
	steps := t.path.Steps
	this := steps[len(steps)-1]
	t.path.Steps = append(steps[:len(steps)-1], Step{Wire: w, Pos: w.Pos}, this)
}
