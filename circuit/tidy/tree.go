package tidy

// This file turns YAML nodes into items, the rows and brackets of the tidy form, still in the order of the source.

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"underload/circuit/quantity"
)

// value is the node that an entry's key stands before.
type value struct{ node *yaml.Node }

// is gives what a part says it is.
func (v value) is() string {
	if v.node.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(v.node.Content); i += 2 {
			if v.node.Content[i].Value == "is" {
				return strings.TrimSpace(v.node.Content[i+1].Value)
			}
		}
	}
	return ""
}

// remark is a comment on a line of its own.
type remark struct {
	text string
	gap  bool // an empty line stands before it
}

// item is a key with its value, an entry of a list, or the whole file.
type item struct {
	shape   *shape
	name    string // the key
	keyed   bool   // it has a key
	list    bool   // its kids are entries of a list
	leaf    bool   // it has a text and no kids
	text    string
	written bool // the text is as it is to be written, quotes and all
	kids    []*item
	parent  *item

	start  int  // byte offset of the key, or of the entry; -1 for what the source leaves out
	value  int  // byte offset of the value
	flow   bool // in the source the kids stand in brackets
	end    int  // of brackets: the offset after the closing one
	column int  // of the kids in the source, a list's dashes; from 0

	gap    bool // an empty line stands before it
	above  []remark
	beside []string
	foot   []remark
}

// tree makes the item of a whole file.
func (s *source) tree(root *yaml.Node) *item {
	top := &item{shape: whole, start: s.places[root]}
	s.fill(top, root)
	return top
}

// nothing says that no value stands after a key.
func nothing(node *yaml.Node) bool {
	return node.Kind == yaml.ScalarNode && node.Style == 0 && node.Value == ""
}

// fill gives an item the value of a node.
func (s *source) fill(it *item, node *yaml.Node) {
	it.value = s.places[node]
	if nothing(node) {
		it.value = it.start // an absent value has no place to speak of
	}
	switch {
	case node.Kind == yaml.MappingNode:
		s.fillKeys(it, node)
	case node.Kind == yaml.SequenceNode:
		s.fillList(it, node)
	case nothing(node) && (it.shape.form == keyed || it.shape.form == list || it.shape.form == steps):
		it.list = it.shape.form != keyed
	case it.shape.form == list:
		it.list = true
		it.kids = []*item{{shape: words, leaf: true, text: node.Value, parent: it, start: -1}}
	default:
		it.leaf, it.text = true, leafText(it.shape, node.Value)
	}
}

// brackets notes where the brackets of an item end, if it has some.
func (s *source) brackets(it *item, node *yaml.Node) {
	it.end, it.flow = s.flows[s.places[node]]
	it.flow = it.flow && node.Style&yaml.FlowStyle != 0
}

func (s *source) fillKeys(it *item, node *yaml.Node) {
	s.brackets(it, node)
	for i := 0; i+1 < len(node.Content); i += 2 {
		key, content := node.Content[i], node.Content[i+1]
		kid := &item{shape: words, name: key.Value, keyed: true, parent: it, start: s.places[key]}
		if it.shape.form == keyed {
			kid.shape = it.shape.each(key.Value, value{content})
		}
		kid.gap = s.gapBefore(kid.start)
		s.fill(kid, content)
		it.kids = append(it.kids, kid)
	}
	if len(it.kids) > 0 {
		it.column = s.columnOf(it.kids[0].start)
	}
}

func (s *source) fillList(it *item, node *yaml.Node) {
	it.list = true
	s.brackets(it, node)
	for _, entry := range node.Content {
		kid := &item{shape: words, parent: it, start: s.places[entry]}
		if it.shape.each != nil {
			kid.shape = it.shape.each("", value{entry})
		}
		kid.gap = s.gapBefore(kid.start)
		if step, ok := wireStep(entry); ok && it.shape.form == steps {
			kid.leaf, kid.written, kid.text, kid.value = true, true, step, kid.start
			if entry.Kind == yaml.MappingNode && !nothing(entry.Content[1]) {
				kid.value = s.places[entry.Content[1]]
			}
		} else {
			s.fill(kid, entry)
		}
		it.kids = append(it.kids, kid)
	}
	if len(it.kids) > 0 {
		it.column = s.columnOf(it.kids[0].start)
		before := strings.TrimRight(s.text[it.kids[0].start-it.column:it.kids[0].start], " ")
		if !it.flow && strings.HasSuffix(before, "-") {
			it.column = len(before) - 1
		}
	}
}

func (s *source) columnOf(offset int) int { return offset - s.lines[s.lineOf(offset)] }

// gapBefore says that an entry begins a line and the line above is empty.
func (s *source) gapBefore(offset int) bool {
	n := s.lineOf(offset)
	return strings.Trim(s.text[s.lines[n]:offset], " \t-?") == "" && s.empty(n-1)
}

func (s *source) empty(line int) bool { return line >= 0 && strings.TrimSpace(s.line(line)) == "" }

// leafText is the text of a value as it is to be read again.
func leafText(of *shape, text string) string {
	switch of.form {
	case measured:
		return quantity.Respell(strings.TrimSpace(text), of.dimension)
	case list, steps, keyed:
		return text
	}
	return strings.TrimSpace(text)
}

// wireStep writes a wire of a path as one text: wire W7: RD/YE 0.75 mm2 2.0 m.
func wireStep(node *yaml.Node) (string, bool) {
	key, said := node, ""
	if node.Kind == yaml.MappingNode && len(node.Content) == 2 && node.Content[1].Kind == yaml.ScalarNode {
		key, said = node.Content[0], node.Content[1].Value
	} else if node.Kind != yaml.ScalarNode {
		return "", false
	}
	if key.Kind != yaml.ScalarNode || key.Value != "wire" && !strings.HasPrefix(key.Value, "wire ") {
		return "", false
	}
	step := strings.Join(strings.Fields(key.Value), " ")
	if said = wireText(said); said != "" {
		return scalar(step, false) + ": " + scalar(said, false), true
	}
	return scalar(step, false), true
}

// The places of a wire's words, in the order they are written.
const (
	colourWord = iota
	sizeWord
	lengthWord
	ohmsWord
	metalWord
)

// wireText puts the words of a wire in order: colour, size, length, metal; or colour and ohms. A word that is none of
// these keeps the place after the one before it.
func wireText(said string) string {
	type placed struct {
		word  string
		place int
	}
	var all []placed
	for _, word := range wireWords(said) {
		at := colourWord
		switch {
		case word == "aluminum" || word == "aluminium" || word == "copper":
			at = metalWord
			word = strings.Replace(word, "aluminum", "aluminium", 1)
		case measures(word, quantity.SquareMillimetres):
			at, word = sizeWord, quantity.Respell(word, quantity.SquareMillimetres)
		case measures(word, quantity.Metres):
			at, word = lengthWord, quantity.Respell(word, quantity.Metres)
		case measures(word, quantity.Ohms):
			at, word = ohmsWord, quantity.Respell(word, quantity.Ohms)
		}
		all = append(all, placed{word, at})
	}
	slices.SortStableFunc(all, func(a, b placed) int { return a.place - b.place })
	var out []string
	for _, p := range all {
		out = append(out, p.word)
	}
	return strings.Join(out, " ")
}

func measures(word string, d quantity.Dimension) bool {
	_, err := quantity.Parse(word, d)
	return err == nil
}

// wireWords cuts a text at blanks and puts a number together with its unit.
func wireWords(said string) []string {
	var words []string
	raw := strings.Fields(said)
	for i := 0; i < len(raw); i++ {
		if i+1 < len(raw) {
			pair := raw[i] + " " + raw[i+1]
			if !wireValue(raw[i]) && !wireValue(raw[i+1]) && wireValue(pair) {
				words = append(words, pair)
				i++
				continue
			}
		}
		words = append(words, raw[i])
	}
	return words
}

// wireValue says that a text is a size, a length or ohms.
func wireValue(text string) bool {
	return measures(text, quantity.SquareMillimetres) || measures(text, quantity.Metres) || measures(text, quantity.Ohms)
}
