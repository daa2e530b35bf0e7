package wirelist

// This file writes a circuit as a wire list from which Import makes the same circuit again.

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/tidy"
)

// exportHead are the columns of the first table.
var exportHead = []string{"wire", "path", "from", "to", "colour", "size (mm2)", "length (m)", "metal", "resistance (ohm)"}

// Export writes a circuit as CSV with commas: its wires by path, then what is said of its things.
//
// What is said must be told apart from what stands where nothing is said. So the list is written with little first, read
// back, and what is then otherwise than in c is added: first sizes, then ohms, which follow from sizes.
func Export(c *circuit.Circuit) ([]byte, error) {
	e := &exporter{circuit: c}
	e.describe()
	for _, add := range []func(*circuit.Circuit){e.sizes, e.ohms} {
		back, err := e.back()
		if err != nil {
			return nil, err
		}
		add(back)
	}
	return e.bytes()
}

// exporter gathers the rows of the second table.
type exporter struct {
	circuit *circuit.Circuit
	said    [][]string
}

// say adds a row where there is something to say.
func (e *exporter) say(of, what, value string) {
	if value != "" {
		e.said = append(e.said, []string{of, what, value})
	}
}

// back gives the circuit that Import makes of what there is so far.
func (e *exporter) back() (*circuit.Circuit, error) {
	list, err := e.bytes()
	if err != nil {
		return nil, err
	}
	text, err := Import("list.csv", list)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be written as a wire list: %w", e.circuit.File, err)
	}
	back, problems := circuit.Read("list.yaml", text)
	if back == nil {
		return nil, fmt.Errorf("%s cannot be written as a wire list: %w", e.circuit.File, problems)
	}
	return back, nil
}

// bytes writes both tables.
func (e *exporter) bytes() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write(exportHead) // what can go wrong is kept and told by Error
	for _, p := range e.circuit.Paths {
		for i, l := range p.Legs() {
			w.Write(legRow(p, l, i == 0))
		}
	}
	w.Flush()
	b.WriteByte('\n')
	w.Write(settingsHead)
	w.WriteAll(e.said)
	return b.Bytes(), w.Error()
}

// legRow is a row of the first table.
func legRow(p *circuit.Path, l circuit.Leg, first bool) []string {
	from := l.From
	if step := p.Steps[0]; first && step.Part != nil && step.Out != nil {
		from = step.In.Name + "-" + step.Out.Pin
	}
	if l.Wire == nil {
		return []string{joinedMark, p.Name, from, l.To, "", "", "", "", ""}
	}
	w := l.Wire
	row := []string{w.Name, p.Name, from, l.To, w.Colour, "", "", "", ""}
	if strings.Contains(w.Name, "~") { // it has no name of its own
		row[0] = ""
	}
	if w.AreaMM2 == 0 {
		row[8] = plain(w.Ohms)
		return row
	}
	row[5], row[6] = plain(w.AreaMM2), plain(w.Metres)
	if name, ok := quantity.Gauge(w.AreaMM2); ok && w.AWG {
		row[5] = name
	}
	if w.Metal != "copper" {
		row[7] = w.Metal
	}
	return row
}

// plain writes a number so that the same is read again.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// describe says what the circuit and its things are, sizes and ohms apart.
func (e *exporter) describe() {
	c := e.circuit
	e.say("", "title", c.Title)
	e.say("", "complaint", c.Complaint)
	e.say("", "teaches", c.Teaches)
	e.say("", "ambient", quantity.Written(c.AmbientCelsius, quantity.Celsius))
	e.say("", "tags", list(c.Tags))
	for _, p := range c.Parts {
		e.part(p)
	}
	for _, k := range c.Connectors {
		e.say(k.Name, "is", "connector")
		e.say(k.Name, "place", k.Place)
		e.say(k.Name, "tags", list(k.Tags))
	}
	for _, s := range c.Splices {
		e.say(s.Name, "is", "splice")
		e.say(s.Name, "place", s.Place)
	}
	for _, s := range c.Studs {
		e.say(s.Name, "is", "ground")
		e.say(s.Name, "place", s.Place)
		e.say(s.Name, "to", s.To)
	}
	for _, a := range c.Accepted {
		e.say(a.At, acceptedKey+" "+a.Rule, a.Because)
	}
}

// part says what a part is.
func (e *exporter) part(p *circuit.Part) {
	e.say(p.Name, "is", p.Kind.Name)
	for _, key := range p.Kind.Keys {
		switch {
		case key.Form == circuit.Throws:
			e.say(p.Name, key.Name, throws(p.Throws))
		case key.Form == circuit.Names:
			e.say(p.Name, key.Name, list(pinsFor(p.Module, key.Name)))
		case key.Form == circuit.Outputs:
			e.say(p.Name, key.Name, outputs(p.Module.Outputs))
		case !p.Has(key.Name):
		case key.Form == circuit.Quantity:
			e.say(p.Name, key.Name, quantity.Written(p.Value(key.Name), key.Dimension))
		default:
			e.say(p.Name, key.Name, p.Text(key.Name))
		}
	}
	e.say(p.Name, "place", p.Place)
	e.say(p.Name, "tags", list(p.Tags))
	var pins []string
	own := false
	for i, kinds := range p.Kind.Terminals {
		pins = append(pins, p.Terminals[i].Pin)
		own = own || p.Terminals[i].Pin != kinds
	}
	if own {
		e.say(p.Name, "pins", list(pins))
	}
}

// pinsFor gives the pins of a module that are listed under a key.
func pinsFor(m *circuit.Module, key string) []string {
	return map[string][]string{"supply": m.Supply, "ground": m.Ground, "wake": m.Wake, "sensor ground": m.SensorGround,
		"reference": m.Reference, "signals": m.Signals, "bus": m.Bus}[key]
}

// list writes names in brackets, or nothing.
func list(names []string) string {
	if len(names) == 0 {
		return ""
	}
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = tidy.Scalar(name, true)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

func throws(all []circuit.Throw) string {
	var parts []string
	for _, throw := range all {
		var pairs []string
		for _, pair := range throw.Pairs {
			pairs = append(pairs, pair[0]+"-"+pair[1])
		}
		parts = append(parts, tidy.Scalar(throw.Name, true)+": ["+strings.Join(pairs, ", ")+"]")
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

func outputs(all []circuit.Output) string {
	if len(all) == 0 {
		return ""
	}
	var parts []string
	for _, out := range all {
		parts = append(parts, fmt.Sprintf("%s: {pulls to: %s, for: %s, through: %s}", tidy.Scalar(out.Pin, true), out.To,
			tidy.Scalar(out.For, true), quantity.Written(out.Ohms, quantity.Ohms)))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// sizes adds how things are reached, and the sizes and platings of terminals, where they are not as in back.
func (e *exporter) sizes(back *circuit.Circuit) {
	for _, p := range e.circuit.Parts {
		was := back.Part(p.Name)
		e.reach(p.Name, p.Reach, was.Reach)
		e.blades(p.Name, p.Terminals, was.Terminals, p.Reach)
	}
	for _, k := range e.circuit.Connectors {
		was := back.Connector(k.Name)
		e.reach(k.Name, k.Reach, was.Reach)
		e.blades(k.Name, k.Cavities, was.Cavities, k.Reach)
	}
	for _, s := range e.circuit.Splices {
		e.reach(s.Name, s.Reach, back.Splice(s.Name).Reach)
	}
	for _, s := range e.circuit.Studs {
		e.reach(s.Name, s.Reach, back.Stud(s.Name).Reach)
	}
}

func (e *exporter) reach(of string, now, was circuit.Reach) {
	if now != was {
		e.say(of, "reach", now.String())
	}
}

// blades adds the sizes, platings and reaches of one thing's terminals: once where they are alike.
func (e *exporter) blades(of string, now, was []*circuit.Terminal, reach circuit.Reach) {
	size := func(t *circuit.Terminal) string { return quantity.Written(t.SizeMM, quantity.Millimetres) }
	plating := func(t *circuit.Terminal) string { return t.Plating }
	for _, trait := range []struct {
		all, one string
		of       func(*circuit.Terminal) string
	}{{"terminal size", "size", size}, {"plating", "plating", plating}} {
		alike := true
		for _, t := range now {
			alike = alike && trait.of(t) == trait.of(now[0])
		}
		if alike && len(now) > 0 && trait.of(now[0]) != trait.of(was[0]) {
			e.say(of, trait.all, trait.of(now[0]))
			continue
		}
		for i, t := range now {
			if trait.of(t) != trait.of(was[i]) {
				e.say(t.Name, trait.one, trait.of(t))
			}
		}
	}
	for _, t := range now {
		e.reach(t.Name, t.Reach, reach)
	}
}

// ohms adds the resistances that are not as in back.
func (e *exporter) ohms(back *circuit.Circuit) {
	differs := func(of, what string, now, was float64) {
		if now != was {
			e.say(of, what, quantity.Written(now, quantity.Ohms))
		}
	}
	for _, s := range e.circuit.Splices {
		differs(s.Name, "leg", s.LegOhms, back.Splice(s.Name).LegOhms)
	}
	for _, s := range e.circuit.Studs {
		was := back.Stud(s.Name)
		differs(s.Name, "by", s.ByOhms, was.ByOhms)
		differs(s.Name, "stud", s.ContactOhms, was.ContactOhms)
	}
	terminal := func(t *circuit.Terminal) {
		was := back.Terminal(t.Name)
		differs(t.Name, "crimp", t.CrimpOhms, was.CrimpOhms)
		differs(t.Name, "contact", t.ContactOhms, was.ContactOhms)
		differs(t.Name, "behind", t.BehindOhms, was.BehindOhms)
	}
	for _, p := range e.circuit.Parts {
		for _, t := range p.Terminals {
			terminal(t)
		}
	}
	for _, k := range e.circuit.Connectors {
		for _, t := range k.Cavities {
			terminal(t)
		}
	}
}
