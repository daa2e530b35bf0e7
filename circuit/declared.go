package circuit

// This file reads what stands beside the parts: in-line connectors, splices, grounds, and what is said of single
// terminals.

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// inline is what an in-line connector's terminals are made like.
type inline struct {
	declared bool
	sizeMM   float64
	plating  string
}

// connector makes an in-line connector.
func (r *reader) connector(name string, at Pos) *Connector {
	k := &Connector{Name: name, Reach: cavityReach, Pos: at}
	r.circuit.Connectors = append(r.circuit.Connectors, k)
	r.circuit.connectors[name] = k
	r.inline[k] = &inline{sizeMM: mediumTerminalMM, plating: platingTold}
	return k
}

// readConnectors reads the in-line connectors that are declared. Others are made where a path meets them.
func (r *reader) readConnectors(section entry) {
	for _, e := range r.entries(section.value, "connectors") {
		if !r.name(e.key, e.at) || !r.claim(e.key, "connector", e.at) {
			continue
		}
		k := r.connector(e.key, e.at)
		made := r.inline[k]
		made.declared = true
		fields := r.fields(e.value, "a connector", keyNames(connectorKeys)...)
		if f, ok := fields["place"]; ok {
			k.Place, _ = r.text(f)
		}
		if f, ok := fields["reach"]; ok {
			k.Reach = r.reach(f, k.Reach)
		}
		if f, ok := fields["tags"]; ok {
			k.Tags = r.tags(f)
		}
		if f, ok := fields["terminal size"]; ok {
			made.sizeMM, _ = r.terminalSize(f, made.sizeMM)
		}
		if f, ok := fields["plating"]; ok {
			made.plating, _ = r.choice(f, platings)
		}
	}
}

// terminalSize reads a blade width that the catalogue has figures for, or gives the size it had.
func (r *reader) terminalSize(e entry, had float64) (sizeMM float64, given bool) {
	mm, ok := r.quantity(e, quantity.Millimetres, true)
	if !ok {
		return had, false
	}
	if _, err := catalog.TerminalOf(mm); err != nil {
		r.wrong(position(e.value), err.Error(), "")
		return had, false
	}
	return mm, true
}

// splice makes a splice.
func (r *reader) splice(name string, at Pos) *Splice {
	s := &Splice{Name: name, Reach: spliceReach, LegOhms: spliceOhms, Pos: at}
	r.circuit.Splices = append(r.circuit.Splices, s)
	r.circuit.splices[name] = s
	r.splices[s] = &meeting{conductor: r.joints.add()}
	return s
}

// readSplices reads the splices that are declared. Others are made where a path meets them.
func (r *reader) readSplices(section entry) {
	for _, e := range r.entries(section.value, "splices") {
		if !r.name(e.key, e.at) || !r.claim(e.key, "splice", e.at) {
			continue
		}
		s := r.splice(e.key, e.at)
		r.splices[s].declared = true
		fields := r.fields(e.value, "a splice", keyNames(spliceKeys)...)
		if f, ok := fields["place"]; ok {
			s.Place, _ = r.text(f)
		}
		if f, ok := fields["reach"]; ok {
			s.Reach = r.reach(f, s.Reach)
		}
		if f, ok := fields["leg"]; ok {
			if ohms, ok := r.quantity(f, quantity.Ohms, true); ok {
				s.LegOhms = ohms
			}
		}
	}
}

// readGrounds reads the ground studs.
func (r *reader) readGrounds(section entry) {
	for _, e := range r.entries(section.value, "grounds") {
		if !r.name(e.key, e.at) || !r.claim(e.key, "ground", e.at) {
			continue
		}
		stud := &Stud{Name: e.key, Reach: studReach, ContactOhms: studOhms, ByOhms: bodyOhms, Pos: e.at}
		r.circuit.Studs = append(r.circuit.Studs, stud)
		r.circuit.studs[stud.Name] = stud
		r.studs[stud] = &meeting{conductor: r.joints.add(), declared: true}
		r.readGround(stud, e)
	}
	for _, stud := range r.circuit.Studs {
		r.readTo(stud)
	}
	r.refuseCircles()
}

// readGround reads what is said of one stud, but for where its metal goes: that needs all studs.
func (r *reader) readGround(stud *Stud, e entry) {
	fields := r.fields(e.value, "a ground", keyNames(groundKeys)...)
	if f, ok := fields["place"]; ok {
		stud.Place, _ = r.text(f)
	}
	if f, ok := fields["reach"]; ok {
		stud.Reach = r.reach(f, stud.Reach)
	}
	if f, ok := fields["stud"]; ok {
		if ohms, ok := r.quantity(f, quantity.Ohms, true); ok {
			stud.ContactOhms = ohms
		}
	}
	if f, ok := fields["by"]; ok {
		if ohms, ok := r.quantity(f, quantity.Ohms, true); ok {
			stud.ByOhms = ohms
		}
		if _, ok := fields["to"]; !ok {
			r.wrong(f.at, fmt.Sprintf("%s says by: but not where its metal goes", stud.Name), "Write to: and a ground or a battery terminal")
		}
	}
	if f, ok := fields["to"]; ok {
		r.asked[stud] = f
	}
}

// readTo finds where a stud's metal goes.
func (r *reader) readTo(stud *Stud) {
	e, ok := r.asked[stud]
	if !ok {
		return
	}
	word, ok := r.text(e)
	if !ok {
		return
	}
	at := position(e.value)
	if word == stud.Name {
		r.wrong(at, stud.Name+" cannot go to itself", "Name another ground or a battery terminal")
		return
	}
	if r.circuit.studs[word] != nil {
		stud.To = word
		return
	}
	if t := r.circuit.terminals[word]; t != nil && r.circuit.parts[t.Owner].Kind.Name == "battery" {
		stud.To = t.Name
		r.nearTail(t, at)
		return
	}
	if head, _, _ := strings.Cut(word, "."); r.claimed[head].as == "part" && r.circuit.parts[head] == nil {
		return // its kind could not be read, and that was told
	}
	r.wrong(at, fmt.Sprintf("%s is neither a ground nor a battery terminal", clip(word)),
		r.ask(word, r.returns(), "It can be "+list(r.returns(), "or")))
}

// returns lists where a stud's metal can go.
func (r *reader) returns() []string {
	var names []string
	for _, p := range r.circuit.OfKind("battery") {
		for _, t := range p.Terminals {
			names = append(names, t.Name)
		}
	}
	for _, stud := range r.circuit.Studs {
		names = append(names, stud.Name)
	}
	return names
}

// refuseCircles tells of grounds whose metal only goes round among themselves.
func (r *reader) refuseCircles() {
	const walking, done = 1, 2
	state := map[*Stud]int{}
	for _, start := range r.circuit.Studs {
		var way []*Stud
		stud := start
		for stud != nil && state[stud] == 0 {
			state[stud] = walking
			way = append(way, stud)
			stud = r.circuit.studs[stud.To]
		}
		if stud != nil && state[stud] == walking {
			var round []string
			for i := len(way) - 1; i >= 0; i-- {
				round = append([]string{way[i].Name}, round...)
				if way[i] == stud || len(round) > 8 {
					break
				}
			}
			e := r.asked[way[len(way)-1]]
			r.wrong(position(e.value), "the grounds go round in a circle: "+strings.Join(append(round, stud.Name), " to "),
				"One of them must go to a battery terminal, or have a wire that does")
		}
		for _, stud := range way {
			state[stud] = done
		}
	}
}

// readTerminals keeps what is said of single terminals until all of them are known.
func (r *reader) readTerminals(section entry) {
	r.overlaid = r.entries(section.value, "terminals")
}

// overlay lays what is said of single terminals over their ordinary values.
func (r *reader) overlay() {
	var names []string
	for _, e := range r.overlaid {
		t := r.circuit.terminals[e.key]
		if t == nil {
			if names == nil {
				names = slices.Sorted(maps.Keys(r.circuit.terminals))
			}
			r.wrong(e.at, "there is no terminal "+clip(e.key), r.ask(e.key, names, "A terminal is a part or connector with a pin, like F7.in or C12.7"))
			continue
		}
		r.overlayOne(t, e)
	}
}

func (r *reader) overlayOne(t *Terminal, e entry) {
	fields := r.fields(e.value, "a terminal", keyNames(terminalKeys)...)
	if f, ok := fields["size"]; ok {
		if mm, ok := r.terminalSize(f, t.SizeMM); ok {
			t.SizeMM = mm
			if t.Inline {
				t.sizedInline()
			} else {
				t.sizedFor(r.circuit.parts[t.Owner].Kind)
			}
		}
	}
	if f, ok := fields["plating"]; ok {
		if word, ok := r.choice(f, platings); ok {
			t.Plating = word
		}
	}
	if f, ok := fields["reach"]; ok {
		t.Reach = r.reach(f, t.Reach)
	}
	for key, to := range map[string]*float64{"crimp": &t.CrimpOhms, "contact": &t.ContactOhms, "behind": &t.BehindOhms} {
		if f, ok := fields[key]; ok {
			if ohms, ok := r.quantity(f, quantity.Ohms, true); ok {
				*to = ohms
			}
		}
	}
}
