package wirelist

// This file puts the rows of a list together into paths, as a finger would trace them, and finds which side of a cavity
// each wire is on.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
)

// route is a path: legs that follow one another.
type route struct {
	name string
	legs []leg
}

// leg is a row in the direction it is traced.
type leg struct {
	row      *wireRow
	from, to *end
}

// trace makes routes of the rows: where the list has paths those, else as far as each can be followed.
func (m *importer) trace() {
	for i := 0; i < len(m.rows); i++ {
		row := m.rows[i]
		if row.used || row.path == "" {
			continue
		}
		r := &route{name: row.path, legs: []leg{m.straight(row)}}
		for i+1 < len(m.rows) && m.rows[i+1].path == row.path && continues(r.legs[len(r.legs)-1].to, &m.rows[i+1].from) {
			i++
			r.legs = append(r.legs, m.straight(m.rows[i]))
		}
		m.routes = append(m.routes, r)
	}
	for _, row := range m.rows {
		if !row.used {
			m.routes = append(m.routes, m.follow(row))
		}
	}
	m.nameRoutes()
	for _, r := range m.routes {
		for i, l := range r.legs {
			if l.to.over != "" || l.from.over != "" && i > 0 {
				m.wrong(l.row.at, "two terminals stand where a wire has one end", "Only a path's first wire can be said to lead from two, as in K2.30-87")
			}
		}
	}
}

func (m *importer) straight(row *wireRow) leg {
	row.used = true
	return leg{row, &row.from, &row.to}
}

// nameRoutes gives each route a name of its own.
func (m *importer) nameRoutes() {
	taken := map[string]bool{}
	next := map[string]int{}
	for _, r := range m.routes {
		if r.name != "" && !taken[r.name] {
			taken[r.name] = true
			continue
		}
		base := r.name
		if base == "" {
			base = r.legs[0].from.thing.name + " to " + r.legs[len(r.legs)-1].to.thing.name
		}
		if letters, most := []rune(base), circuit.MostPathLetters-len(" 20000"); len(letters) > most {
			base = string(letters[:most])
		}
		r.name = base
		for n := max(2, next[base]); taken[r.name]; n++ {
			r.name = fmt.Sprintf("%s %d", base, n)
			next[base] = n + 1
		}
		taken[r.name] = true
	}
}

// continues says that a path that arrives at one end can go on from another.
func continues(arrives, leaves *end) bool {
	t := arrives.thing
	if t != leaves.thing {
		return false
	}
	switch t.class {
	case spliceClass, groundClass:
		return true
	case connectorClass:
		return arrives.pin == leaves.pin && (arrives.side != leaves.side || arrives.side == "")
	}
	return t.passes(arrives.pin, leaves.pin)
}

// passes says that current can pass a part between two pins, as far as the list tells.
func (t *thing) passes(in, out string) bool {
	switch {
	case in == "" && out == "":
		return t.kind == nil || len(t.kind.Terminals) == 2
	case in == out || t.kind == nil:
		return false
	case t.kind.Name == "switch":
		return t.says("throws") != nil
	case t.kind.Name == "battery":
		return false
	}
	i, j := t.terminal(in), t.terminal(out)
	if i < 0 || j < 0 {
		return false
	}
	a, b := t.kind.Terminals[i], t.kind.Terminals[j]
	return slices.Contains(t.kind.Pass, [2]string{a, b}) || slices.Contains(t.kind.Pass, [2]string{b, a})
}

// terminal finds which of the kind's terminals a pin is, by the part's own names for them where it has some.
func (t *thing) terminal(pin string) int {
	names := t.kind.Terminals
	if s := t.says("pins"); s != nil {
		own := strings.FieldsFunc(s.yaml, func(c rune) bool { return strings.ContainsRune("[], '", c) })
		if i := slices.Index(own, pin); i >= 0 && len(own) == len(names) {
			return i
		}
	} else if len(names) == 2 {
		own := t.terminals()
		if i := slices.Index(own[:], pin); i >= 0 {
			return i
		}
	}
	return slices.Index(names, pin)
}

// follow traces from a wire as far as it leads both ways: through cavities, and through parts with two terminals.
func (m *importer) follow(row *wireRow) *route {
	r := &route{legs: []leg{m.straight(row)}}
	for {
		last := r.legs[len(r.legs)-1].to
		next := onward(last)
		if next == nil {
			break
		}
		r.legs = append(r.legs, next.leads())
	}
	for {
		next := onward(r.legs[0].from)
		if next == nil {
			break
		}
		back := next.leads()
		r.legs = slices.Insert(r.legs, 0, leg{back.row, back.to, back.from})
	}
	return r
}

// leads is the leg that leads away from an end.
func (e *end) leads() leg {
	e.row.used = true
	if e.last {
		return leg{e.row, &e.row.to, &e.row.from}
	}
	return leg{e.row, &e.row.from, &e.row.to}
}

// onward finds the one end, not traced yet, that a path goes on from; nil where there is none or a choice.
func onward(e *end) *end {
	var found *end
	ends := e.thing.ends
	if e.thing.class == connectorClass {
		ends = e.thing.byPin[e.pin]
	}
	for _, other := range ends {
		switch {
		case other == e:
		case other.pin == e.pin && e.thing.class == partClass && e.pin != "":
			return nil // two wires at one pin: a branch
		case e.thing.class == spliceClass || e.thing.class == groundClass || e.thing.class == partClass && e.pin != "" && len(e.thing.pins) > 2:
			return nil
		case continues(e, other):
			if found != nil {
				return nil
			}
			found = other
		}
	}
	if found == nil || found.row.used || found.row.path != "" || found.row.joined {
		return nil
	}
	for _, other := range e.thing.ends {
		if other != found && other.pin == found.pin && found.pin != "" && e.thing.class == partClass {
			return nil
		}
	}
	return found
}

// cavity is one cavity while its sides are given away.
type cavity struct{ a, b *end }

// assignSides gives each wire at a cavity its side: as the list says, else in at a and out at b.
func (m *importer) assignSides() {
	cavities := map[string]*cavity{}
	take := func(e *end, side string) bool {
		key := e.thing.name + "." + e.pin
		c := cavities[key]
		if c == nil {
			c = &cavity{}
			cavities[key] = c
		}
		holder := &c.a
		if side == "b" {
			holder = &c.b
		}
		if *holder != nil && *holder != e {
			return false
		}
		*holder, e.side = e, side
		return true
	}
	m.eachCavity(func(e *end) {
		if e.pin == "" {
			m.wrong(e.at, e.thing.name+" is a connector, and a wire ends in one of its cavities", "Write it like "+e.thing.name+".1")
		} else if e.side != "" && !take(e, e.side) {
			m.wrong(e.at, fmt.Sprintf("side %s of %s.%s has two wires", e.side, e.thing.name, e.pin), "A cavity holds one wire a side; join wires in a splice")
		}
	})
	m.eachCavity(func(e *end) {
		if e.pin != "" && e.side == "" && !take(e, "a") && !take(e, "b") {
			m.wrong(e.at, fmt.Sprintf("this is the third wire at %s.%s", e.thing.name, e.pin), "A cavity holds one wire a side; join wires in a splice")
		}
	})
}

// eachCavity visits the ends at in-line connectors in the order of the routes.
func (m *importer) eachCavity(visit func(*end)) {
	for _, r := range m.routes {
		for _, l := range r.legs {
			for _, e := range []*end{l.from, l.to} {
				if e.thing.class == connectorClass {
					visit(e)
				}
			}
		}
	}
}
