package wirelist

// This file reads the ends of wires and keeps what they are ends at.

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"underload/circuit"
)

// thing is a part, connector, splice or ground.
type thing struct {
	name   string // in the circuit
	listed string // as the list has it
	at     circuit.Pos
	class  class
	kind   *circuit.Kind // parts whose kind is known
	said   []setting     // what the second table says of it
	pins   []string      // met, in the order of the list
	bare   bool          // met without a pin
	ends   []*end
	byPin  map[string][]*end // by the pin that the list gives
	ask    string            // what the list does not say, for a comment
}

// class is what a thing is, apart from its kind.
type class int

const (
	partClass class = iota
	connectorClass
	spliceClass
	groundClass
)

// end reads a cell with a thing, or with a thing and its pin.
func (m *importer) end(c, pinCell cell, row *wireRow, last bool) end {
	e := end{row: row, at: c.at, last: last}
	if c.text == "" {
		if c.at == (circuit.Pos{}) {
			e.at = row.at // the row is too short
		}
		m.wrong(e.at, "this wire has only one end", "Write what it leads from and to, like F7.out and C14.1")
		return e
	}
	name, pin := c.text, pinCell.text
	if base, sign, ok := signed(name, pin); ok {
		name, pin = base, sign
	} else if pin == "" || pin == "-" {
		name, pin = split(c.text)
		if base, sign, ok := signed(name, pin); ok {
			name, pin = base, sign
		}
	}
	cleaned := clean(name)
	if !m.checkName(cleaned, c.at) {
		return e
	}
	e.thing = m.things[cleaned]
	if e.thing == nil {
		e.thing = &thing{name: cleaned, listed: name, at: c.at}
		m.things[cleaned] = e.thing
		m.order = append(m.order, e.thing)
	} else if e.thing.listed != name {
		m.wrong(c.at, fmt.Sprintf("%q and %q, at line %d, would both be called %s", name, e.thing.listed, e.thing.at.Line, cleaned), "Write one of them otherwise")
	}
	m.pin(&e, pin)
	return e
}

// split cuts an end into a thing and its pin: F7.out, C14:1, C14/1, K2-30, K2 30.
func split(text string) (name, pin string) {
	if i := strings.IndexAny(text, ".:/"); i > 0 {
		return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
	}
	if i := strings.IndexAny(text, "- "); i > 0 {
		name, pin = text[:i], strings.TrimSpace(text[i+1:])
		if lettersOnly.MatchString(name) && digitsOnly.MatchString(pin) {
			return name + pin, "" // F-7, G 104
		}
		return name, pin
	}
	return text, ""
}

var (
	lettersOnly = regexp.MustCompile(`^\pL+$`)
	digitsOnly  = regexp.MustCompile(`^\d+$`)
	battery     = regexp.MustCompile(`(?i)^(B|BAT|BATT|BATTERY)_?\d*[+-]?$`)
	fuse        = regexp.MustCompile(`(?i)^(F|FUSE)_?\d+\pL?$`)
	relay       = regexp.MustCompile(`(?i)^(K|RLY|RELAY)_?\d+\pL?$`)
	splice      = regexp.MustCompile(`(?i)^(S|SP|SPLICE)_?\d+\pL?$`)
	ground      = regexp.MustCompile(`(?i)^(G|GND|GROUND)_?\d*\pL?$`)
	connector   = regexp.MustCompile(`(?i)^(C|X)_?\d+\pL?$`)
)

// signed reads the posts of a battery: BATT.+, BATT-, B1 with pin -.
func signed(name, pin string) (base, post string, ok bool) {
	for sign, post := range map[string]string{"+": "pos", "-": "neg", "\u2212": "neg"} {
		switch {
		case pin == sign && battery.MatchString(name):
			return name, post, true
		case pin == "" && strings.HasSuffix(name, sign) && battery.MatchString(name):
			return strings.TrimSuffix(name, sign), post, true
		}
	}
	return name, pin, false
}

// pin takes apart what stands behind a thing's name: a pin, a cavity with its side, or two pins of a part.
func (m *importer) pin(e *end, pin string) {
	if pin == "" {
		e.thing.bare = true
		return
	}
	if cavity, side, ok := strings.Cut(pin, "."); ok && (side == "a" || side == "b") {
		pin, e.side = cavity, side
	}
	if in, out, ok := strings.Cut(pin, "-"); ok && in == clean(in) && out == clean(out) && in != "" && out != "" {
		pin, e.over = in, out
		e.thing.pins = appendNew(e.thing.pins, out)
	}
	pin = clean(pin)
	if !m.checkName(pin, e.at) {
		return
	}
	e.pin = pin
	e.thing.pins = appendNew(e.thing.pins, pin)
}

func appendNew(list []string, word string) []string {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

// classify finds what each thing is: by the second table, else by its name.
func (m *importer) classify() {
	for _, row := range m.rows {
		row.from.thing.ends = append(row.from.thing.ends, &row.from)
		row.to.thing.ends = append(row.to.thing.ends, &row.to)
	}
	for _, t := range m.order {
		t.byPin = map[string][]*end{}
		for _, e := range t.ends {
			t.byPin[e.pin] = append(t.byPin[e.pin], e)
		}
	}
	slices.SortStableFunc(m.order, func(a, b *thing) int { return a.told() - b.told() })
	for _, t := range m.order {
		if !m.isSaid(t) {
			t.guess()
		}
		t.usualPins()
	}
}

// told puts things in the order of the second table, those that are not in it last.
func (t *thing) told() int {
	if len(t.said) == 0 {
		return math.MaxInt32
	}
	return t.said[0].of.at.Line
}

// guess takes a thing's name for what it is, where its pins agree with that.
func (t *thing) guess() {
	pinned := len(t.pins) > 0
	switch {
	case splice.MatchString(t.name) && !pinned:
		t.class = spliceClass
	case ground.MatchString(t.name) && !pinned:
		t.class = groundClass
	case connector.MatchString(t.name) && pinned && t.twoSided():
		t.class = connectorClass
	case fuse.MatchString(t.name) && len(t.pins) <= 2:
		t.kind = circuit.KindNamed("fuse")
	case relay.MatchString(t.name):
		t.kind = circuit.KindNamed("relay")
	case battery.MatchString(t.name) && !slices.ContainsFunc(t.pins, func(pin string) bool { return pin != "pos" && pin != "neg" }):
		t.kind = circuit.KindNamed("battery")
	}
	t.ask = t.question()
}

// twoSided says that a cavity of a connector has a wire on both sides, which no component's plug has.
func (t *thing) twoSided() bool {
	count := map[string]int{}
	for _, e := range t.ends {
		if count[e.pin]++; count[e.pin] > 1 || e.side != "" {
			return true
		}
	}
	return false
}

// question is what the circuit file asks of a thing that was taken for something.
func (t *thing) question() string {
	if t.class != partClass {
		return ""
	}
	if t.kind == nil {
		pins := "say what this is"
		if len(t.pins) > 0 {
			pins += ", and what its pins are for: " + strings.Join(t.pins[:min(len(t.pins), 20)], ", ")
		}
		return pins
	}
	for _, key := range t.kind.Keys {
		if key.Required {
			return "say its " + key.Name
		}
	}
	return ""
}

// usualPins gives the pins of a part the case of its kind's, and a bare end of a part with two terminals one of them.
func (t *thing) usualPins() {
	if t.class != partClass || t.kind == nil {
		return
	}
	for _, e := range t.ends {
		for _, own := range t.kind.Terminals {
			if strings.EqualFold(e.pin, own) && t.says("pins") == nil {
				e.pin = own
			}
		}
	}
	if len(t.kind.Terminals) != 2 || t.kind.Name == "battery" {
		return
	}
	names := t.terminals()
	taken := map[string]bool{}
	for _, e := range t.ends {
		taken[e.pin] = true
	}
	for _, e := range t.ends {
		if e.pin != "" {
			continue
		}
		want, other := names[1], names[0] // a wire leads from the out terminal and to the in terminal
		if e.last {
			want, other = other, want
		}
		if taken[want] && !taken[other] {
			want = other
		}
		e.pin, taken[want] = want, true
	}
}

// terminals gives the names of the two terminals of a fuse or the like: the kind's, or those that the list has.
func (t *thing) terminals() [2]string {
	names := [2]string{t.kind.Terminals[0], t.kind.Terminals[1]}
	var own []string
	for _, pin := range t.pins {
		if pin != names[0] && pin != names[1] {
			own = append(own, pin)
		}
	}
	switch {
	case t.says("pins") != nil || len(own) == 0 || len(own) > 2:
	case len(own) == 2:
		names = [2]string{own[0], own[1]}
	case slices.Contains(t.pins, names[0]):
		names[1] = own[0]
	default:
		names[0] = own[0]
	}
	return names
}
