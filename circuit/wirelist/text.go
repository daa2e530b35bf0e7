package wirelist

// This file writes what was made of a list as a circuit file, with a comment wherever the list does not say enough.

import (
	"fmt"
	"strings"
	"unicode"

	"underload/circuit/tidy"
)

// text is the circuit file, not laid out yet.
func (m *importer) text() string {
	var b strings.Builder
	m.assumeReturns()
	m.asks(&b)
	b.WriteString("underload: 1\n")
	for _, s := range m.settings {
		if s.of.text == "" {
			fmt.Fprintf(&b, "%s: %s\n", s.what.text, s.yaml)
		}
	}
	m.section(&b, "parts", partClass)
	m.section(&b, "connectors", connectorClass)
	m.paths(&b)
	m.section(&b, "grounds", groundClass)
	m.section(&b, "splices", spliceClass)
	m.terminals(&b)
	for i, a := range m.accepted {
		if i == 0 {
			b.WriteString("accepted:\n")
		}
		fmt.Fprintf(&b, "  - %s\n", a)
	}
	return b.String()
}

// asks heads the file with what is left to do.
func (m *importer) asks(b *strings.Builder) {
	asked := 0
	for _, t := range m.order {
		if t.ask != "" {
			asked++
		}
	}
	if asked > 0 {
		fmt.Fprintf(b, "# From a wire list of %d wires. %d of its things are not told in full: see the comments that begin with say.\n\n", len(m.rows), asked)
	}
}

// section writes the things of one class.
func (m *importer) section(b *strings.Builder, name string, of class) {
	begun := false
	for _, t := range m.order {
		if t.class != of || of == spliceClass && len(t.said) == 0 {
			continue
		}
		if !begun {
			b.WriteString(name + ":\n")
			begun = true
		}
		fmt.Fprintf(b, "  %s: {%s}%s\n", tidy.Scalar(t.name, false), strings.Join(t.fields(), ", "), remark(t.remarks()))
	}
	if !begun && name == "parts" {
		b.WriteString("parts: {}\n")
	}
}

// fields are what a thing's entry says.
func (t *thing) fields() []string {
	var fields []string
	if t.kind != nil {
		fields = append(fields, "is: "+t.kind.Name)
	}
	for _, s := range t.said {
		if s.what.text != "is" {
			fields = append(fields, s.what.text+": "+s.yaml)
		}
	}
	if t.kind != nil && len(t.kind.Terminals) == 2 && t.says("pins") == nil && t.kind.Name != "battery" {
		if names := t.terminals(); names[0] != t.kind.Terminals[0] || names[1] != t.kind.Terminals[1] {
			fields = append(fields, fmt.Sprintf("pins: [%s, %s]", tidy.Scalar(names[0], true), tidy.Scalar(names[1], true)))
		}
	}
	return fields
}

// remarks are the comments beside a thing.
func (t *thing) remarks() []string {
	var remarks []string
	if t.ask != "" {
		remarks = append(remarks, t.ask)
	}
	if t.listed != t.name {
		remarks = append(remarks, note("on the list", t.listed))
	}
	return remarks
}

// remark writes a comment on the line it ends.
func remark(texts []string) string {
	if len(texts) == 0 {
		return ""
	}
	text := strings.Map(func(c rune) rune {
		if unicode.IsGraphic(c) {
			return c
		}
		return ' '
	}, strings.Join(texts, "; "))
	return "  # " + strings.TrimSpace(text)
}

// assumeReturns lets the metal of a ground lead to the battery where the list leaves it at that. A list of wires never
// tells what the body joins, and without a way back no circuit is whole.
func (m *importer) assumeReturns() {
	minus := ""
	for _, t := range m.order {
		if t.kind != nil && t.kind.Name == "battery" {
			minus = t.name + ".neg"
			break
		}
	}
	if minus == "" {
		return
	}
	strap := map[*thing]bool{}
	for _, row := range m.rows {
		for _, pair := range [][2]*end{{&row.from, &row.to}, {&row.to, &row.from}} {
			if pair[0].thing.class == groundClass && pair[1].thing.name+"."+pair[1].pin == minus {
				strap[pair[0].thing] = true
			}
		}
	}
	for _, t := range m.order {
		if t.class == groundClass && len(t.said) == 0 && !strap[t] {
			t.said = append(t.said, setting{what: cell{text: "to"}, yaml: minus})
			t.ask = "say where its metal leads; taken to be the battery"
		}
	}
}

// paths writes the routes.
func (m *importer) paths(b *strings.Builder) {
	b.WriteString("paths:\n")
	for _, r := range m.routes {
		fmt.Fprintf(b, "  %s:\n", tidy.Scalar(r.name, false))
		fmt.Fprintf(b, "    - %s\n", tidy.Scalar(r.legs[0].from.step(), false))
		for i, l := range r.legs {
			if !l.row.joined {
				fmt.Fprintf(b, "    - %s%s\n", l.row.step(), remark(l.row.notes))
			}
			step := l.to.step()
			if i+1 < len(r.legs) {
				step = through(l.to, r.legs[i+1].from)
			}
			fmt.Fprintf(b, "    - %s\n", tidy.Scalar(step, false))
		}
	}
}

// step writes a wire.
func (row *wireRow) step() string {
	step := "wire"
	if row.name != "" {
		step += " " + row.name
	}
	if row.text != "" {
		step += ": " + row.text
	}
	return step
}

// step writes an end where a path begins or ends.
func (e *end) step() string {
	text := e.thing.name
	if e.pin != "" {
		text += "." + e.pin
	}
	if e.side != "" {
		text += "." + e.side
	}
	if e.over != "" {
		text += "-" + e.over
	}
	return text
}

// through writes what a path passes.
func through(in, out *end) string {
	t := in.thing
	switch {
	case t.class == connectorClass && in.side == "b":
		return t.name + "." + in.pin + ".b-a"
	case t.class == connectorClass:
		return t.name + "." + in.pin
	case t.class == partClass && in.pin != "" && (len(t.kind.Terminals) != 2 || t.terminal(in.pin) != 0):
		return t.name + "." + in.pin + "-" + out.pin
	}
	return t.name
}

// terminals writes what is said of single terminals.
func (m *importer) terminals(b *strings.Builder) {
	var order []string
	fields := map[string][]string{}
	for _, s := range m.settings {
		if !strings.Contains(s.of.text, ".") {
			continue
		}
		if fields[s.of.text] == nil {
			order = append(order, s.of.text)
		}
		fields[s.of.text] = append(fields[s.of.text], s.what.text+": "+s.yaml)
	}
	for i, name := range order {
		if i == 0 {
			b.WriteString("terminals:\n")
		}
		fmt.Fprintf(b, "  %s: {%s}\n", tidy.Scalar(name, false), strings.Join(fields[name], ", "))
	}
}
