package wirelist

// This file reads the second table: what is said of parts, connectors, splices, grounds, terminals and the circuit.

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
	"underload/circuit/tidy"
)

// setting is one row of the second table.
type setting struct {
	of, what, value cell
	yaml            string // the value as it stands in a circuit file
}

// form is how the value of a setting is written.
type form struct {
	list      bool // names, positions, outputs: as in a circuit file, with brackets
	measured  bool
	dimension quantity.Dimension
}

var (
	wordForm = form{}
	listForm = form{list: true}
	ohmsForm = form{measured: true, dimension: quantity.Ohms}
	sizeForm = form{measured: true, dimension: quantity.Millimetres}
)

// What can be said of each class of thing, of a terminal, and of the circuit.
var (
	connectorKeys = map[string]form{"place": wordForm, "terminal size": sizeForm, "reach": wordForm, "plating": wordForm, "tags": listForm}
	spliceKeys    = map[string]form{"place": wordForm, "reach": wordForm, "leg": ohmsForm}
	groundKeys    = map[string]form{"place": wordForm, "to": wordForm, "by": ohmsForm, "stud": ohmsForm, "reach": wordForm}
	terminalKeys  = map[string]form{"size": sizeForm, "plating": wordForm, "crimp": ohmsForm, "contact": ohmsForm, "behind": ohmsForm, "reach": wordForm}
	circuitKeys   = map[string]form{"title": wordForm, "complaint": wordForm, "teaches": wordForm, "tags": listForm, "ambient": {measured: true, dimension: quantity.Celsius}}
)

// said reads the second table and gives each row to the thing it speaks of.
func (m *importer) said() {
	for _, cells := range m.list.settings {
		for len(cells) < len(settingsHead) {
			cells = append(cells, cell{"", cells[0].at})
		}
		s := setting{of: trimmed(cells[0]), what: trimmed(cells[1]), value: trimmed(cells[2])}
		if what, rule, _ := strings.Cut(s.what.text, " "); what == acceptedKey {
			m.accept(s, rule)
			continue
		}
		name, _, terminal := strings.Cut(s.of.text, ".")
		m.settings = append(m.settings, s)
		if s.of.text == "" || terminal {
			continue
		}
		if name != clean(name) || !m.checkName(name, s.of.at) {
			m.wrong(s.of.at, fmt.Sprintf("%.60q is no name", name), "A name has letters, digits, _ and + only")
			continue
		}
		t := m.things[name]
		if t == nil {
			t = &thing{name: name, listed: name, at: s.of.at}
			m.things[name] = t
			m.order = append(m.order, t)
		}
		t.said = append(t.said, s)
	}
}

// acceptedKey begins what is said of a warning that is accepted at a thing: accepted thin wire.
const acceptedKey = "accepted"

// accept reads a warning that is accepted. Whether there is such a thing, the circuit file tells.
func (m *importer) accept(s setting, rule string) {
	var rules []string
	for _, r := range circuit.Rules {
		rules = append(rules, r.Name)
	}
	switch {
	case !slices.Contains(rules, rule):
		m.wrong(s.what.at, fmt.Sprintf("no warning is called %.60q", rule), nearest(rule, rules))
	case s.of.text == "":
		m.wrong(s.of.at, "this says of nothing that its warning is accepted", "Write the name of a thing, as the warning begins with it")
	case s.value.text == "":
		m.wrong(s.value.at, "nothing is said of why it is accepted", "Write it or take the row out")
	default:
		m.accepted = append(m.accepted, fmt.Sprintf("{rule: %s, at: %s, because: %s}", rule, tidy.Scalar(s.of.text, true), tidy.Scalar(s.value.text, true)))
	}
}

func trimmed(c cell) cell { return cell{strings.TrimSpace(c.text), c.at} }

// says finds what is said of a thing under a key, or nil.
func (t *thing) says(key string) *setting {
	for i := range t.said {
		if t.said[i].what.text == key {
			return &t.said[i]
		}
	}
	return nil
}

// isSaid takes from the second table what a thing is. False where it does not say.
func (m *importer) isSaid(t *thing) bool {
	s := t.says("is")
	if s == nil {
		return false
	}
	switch s.value.text {
	case "connector":
		t.class = connectorClass
	case "splice":
		t.class = spliceClass
	case "ground":
		t.class = groundClass
	default:
		t.kind = circuit.KindNamed(s.value.text)
	}
	if t.class == partClass && t.kind == nil {
		known := []string{"connector", "splice", "ground"}
		for _, kind := range circuit.Kinds {
			known = append(known, kind.Name)
		}
		m.wrong(s.value.at, fmt.Sprintf("nothing is called %q", s.value.text), nearest(s.value.text, known))
	}
	return true
}

func nearest(word string, known []string) string {
	if near, ok := spelling.Nearest(word, known); ok {
		return "Did you mean " + near + "?"
	}
	slices.Sort(known)
	return "It can be " + strings.Join(known, ", ")
}

// keys are what can be said of a thing.
func (t *thing) keys() map[string]form {
	switch t.class {
	case connectorClass:
		return connectorKeys
	case spliceClass:
		return spliceKeys
	case groundClass:
		return groundKeys
	}
	keys := map[string]form{}
	own := circuit.CommonKeys
	if t.kind != nil {
		own = append(slices.Clone(t.kind.Keys), own...)
	}
	for _, key := range own {
		switch key.Form {
		case circuit.Quantity:
			keys[key.Name] = form{measured: true, dimension: key.Dimension}
		case circuit.Names, circuit.Throws, circuit.Outputs:
			keys[key.Name] = listForm
		default:
			keys[key.Name] = wordForm
		}
	}
	return keys
}

// checkSettings checks every key and value of the second table, and writes the values as YAML.
func (m *importer) checkSettings() {
	for i := range m.settings {
		s := &m.settings[i]
		switch name, pin, terminal := strings.Cut(s.of.text, "."); {
		case s.of.text == "":
			m.checkSetting(s, circuitKeys, "the circuit")
		case terminal && m.things[name] == nil:
			m.wrong(s.of.at, fmt.Sprintf("no wire comes to %q", name), m.nearestThing(name))
		case terminal && m.checkName(pin, s.of.at):
			m.checkSetting(s, terminalKeys, "a terminal")
		}
	}
	for _, t := range m.order {
		keys, before := t.keys(), map[string]setting{}
		for i := range t.said {
			s := &t.said[i]
			if s.what.text != "is" {
				m.checkSetting(s, keys, t.name)
			}
			if first, twice := before[s.what.text]; twice {
				m.wrong(s.what.at, fmt.Sprintf("%s is said twice of %s, first at line %d", s.what.text, t.name, first.what.at.Line), "Keep one of the two")
			} else {
				before[s.what.text] = *s
			}
		}
	}
}

// nearestThing makes the hint for a thing that no wire comes to.
func (m *importer) nearestThing(name string) string {
	if m.full() {
		return ""
	}
	var names []string
	for _, t := range m.order {
		names = append(names, t.name)
	}
	if near, ok := spelling.Nearest(name, names); ok {
		return "Did you mean " + near + "?"
	}
	return "The second table speaks of what the wires join"
}

func (m *importer) checkSetting(s *setting, keys map[string]form, of string) {
	f, known := keys[s.what.text]
	if !known && m.full() {
		m.wrong(s.what.at, "", "") // counted
		return
	}
	if !known {
		var names []string
		for key := range keys {
			names = append(names, key)
		}
		slices.Sort(names)
		m.wrong(s.what.at, fmt.Sprintf("%q cannot be said of %s", s.what.text, of), nearest(s.what.text, names))
		return
	}
	switch {
	case f.list:
		s.yaml = m.inBrackets(s.value)
	case f.measured:
		if _, err := quantity.Parse(s.value.text, f.dimension); err != nil {
			m.wrong(s.value.at, s.what.text+": "+err.Error(), "")
		}
		s.yaml = tidy.Scalar(s.value.text, true)
	default:
		if s.value.text == "" {
			m.wrong(s.value.at, "nothing is said of "+s.what.text, "Write it or take the row out")
		}
		s.yaml = tidy.Scalar(s.value.text, true)
	}
}

// mostNested is deeper than anything in a circuit file.
const mostNested = 6

// inBrackets reads a value with brackets and writes it again, so that nothing but it can get into the circuit file.
func (m *importer) inBrackets(c cell) string {
	var document yaml.Node
	err := yaml.Unmarshal([]byte(c.text), &document)
	if err != nil || len(document.Content) != 1 {
		m.wrong(c.at, "this is no list", "Write it as in a circuit file, like [1, 2] or {off: [], on: [1-2]}")
		return ""
	}
	text, ok := bracketed(document.Content[0], 0)
	if !ok {
		m.wrong(c.at, "this is no list of names", "Write it as in a circuit file, like [1, 2] or {off: [], on: [1-2]}")
	}
	return text
}

func bracketed(node *yaml.Node, depth int) (string, bool) {
	if depth > mostNested || node.Kind == yaml.AliasNode || node.Anchor != "" || node.Style&yaml.TaggedStyle != 0 {
		return "", false
	}
	if utf8.RuneCountInString(node.Value) > 2*circuit.MostNameLetters+1 { // two names and a dash are the longest
		return "", false
	}
	if node.Kind == yaml.ScalarNode {
		if node.Value == "" && node.Style == 0 {
			return "", true
		}
		return tidy.Scalar(node.Value, true), true
	}
	var parts []string
	for i := 0; i < len(node.Content); i++ {
		text, ok := bracketed(node.Content[i], depth+1)
		if !ok {
			return "", false
		}
		if node.Kind == yaml.MappingNode {
			value, ok := bracketed(node.Content[i+1], depth+1)
			if !ok || text == "" {
				return "", false
			}
			text += ": " + value
			i++
		}
		parts = append(parts, text)
	}
	if node.Kind == yaml.MappingNode {
		return "{" + strings.Join(parts, ", ") + "}", true
	}
	return "[" + strings.Join(parts, ", ") + "]", true
}
