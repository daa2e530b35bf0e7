package circuit

// This file reads mappings, lists, words and quantities out of YAML nodes, and tells what is wrong with them.

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"underload/circuit/quantity"
)

// mostNameLetters is how long a name may be: it has to fit beside a symbol on a drawing.
const mostNameLetters = 40

// entry is one key of a mapping.
type entry struct {
	key   string
	at    Pos // of the key
	node  *yaml.Node
	value *yaml.Node
}

// nothing says that no value stands after a key.
func nothing(node *yaml.Node) bool {
	return node.Kind == yaml.ScalarNode && node.Style == 0 && node.Value == ""
}

// entries gives the keys of a mapping in file order, each once. What names the mapping for a message.
func (r *reader) entries(node *yaml.Node, what string) []entry {
	if nothing(node) {
		return nil
	}
	if node.Kind != yaml.MappingNode {
		r.wrong(position(node), what+" must be keys with values", "Write each as a key, a colon and a value")
		return nil
	}
	found := make([]entry, 0, len(node.Content)/2)
	first := make(map[string]Pos, len(node.Content)/2)
	for i := 0; i+1 < len(node.Content); i += 2 {
		key, value := node.Content[i], node.Content[i+1]
		at := position(key)
		if key.Kind != yaml.ScalarNode || key.Value == "" {
			r.wrong(at, "a key must be a word", "")
			continue
		}
		if word, rest, colon := strings.Cut(key.Value, ":"); colon && nothing(value) {
			r.wrong(at, fmt.Sprintf("%s has no space after its colon", clip(key.Value)), "Write "+clip(word)+": "+clip(rest))
			value = &yaml.Node{Kind: yaml.ScalarNode, Value: rest, Line: key.Line, Column: key.Column + utf8.RuneCountInString(word) + 1}
			key = &yaml.Node{Kind: yaml.ScalarNode, Value: word, Line: key.Line, Column: key.Column}
		}
		if before, twice := first[key.Value]; twice {
			r.wrong(at, fmt.Sprintf("%s is written twice, first at line %d", clip(key.Value), before.Line), "Keep one of the two")
			continue
		}
		first[key.Value] = at
		found = append(found, entry{key.Value, at, key, value})
	}
	return found
}

// fields is entries for a mapping with a fixed set of keys.
func (r *reader) fields(node *yaml.Node, what string, allowed ...string) map[string]entry {
	found := map[string]entry{}
	for _, e := range r.entries(node, what) {
		if !contains(allowed, e.key) {
			r.wrong(e.at, fmt.Sprintf("%s has no key %s", what, clip(e.key)), r.ask(e.key, allowed, "It can have "+list(allowed, "and")))
			continue
		}
		found[e.key] = e
	}
	return found
}

func contains(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// text reads words.
func (r *reader) text(e entry) (string, bool) {
	switch {
	case e.value.Kind != yaml.ScalarNode:
		r.wrong(position(e.value), e.key+" must be a text", "")
	case nothing(e.value):
		r.wrong(e.at, "nothing is written after "+e.key, "Write it or leave the key out")
	case utf8.RuneCountInString(e.value.Value) > mostTextRunes:
		r.wrong(position(e.value), fmt.Sprintf("%s is longer than %d characters", e.key, mostTextRunes), "")
	default:
		return strings.TrimSpace(e.value.Value), true
	}
	return "", false
}

// choice reads one of a few words.
func (r *reader) choice(e entry, choices []string) (string, bool) {
	word, ok := r.text(e)
	if ok && !contains(choices, word) {
		r.wrong(position(e.value), fmt.Sprintf("%s cannot be %s", e.key, clip(word)), r.ask(word, choices, "It is "+list(choices, "or")))
		return "", false
	}
	return word, ok
}

// reach reads how a lead gets there.
func (r *reader) reach(e entry, otherwise Reach) Reach {
	if word, ok := r.choice(e, reachNames()); ok {
		for reach := range reaches {
			if reaches[reach].name == word {
				return Reach(reach)
			}
		}
	}
	return otherwise
}

// words reads a list of words, or a single one; each comes as an entry whose key is the word.
func (r *reader) words(e entry, what, example string) []entry {
	nodes := e.value.Content
	switch {
	case nothing(e.value):
		return nil
	case e.value.Kind == yaml.ScalarNode:
		nodes = []*yaml.Node{e.value}
	case e.value.Kind != yaml.SequenceNode:
		r.wrong(position(e.value), e.key+" must be a list of "+what, "Write it like "+example)
		return nil
	}
	found := make([]entry, 0, len(nodes))
	for _, node := range nodes {
		if node.Kind != yaml.ScalarNode || node.Value == "" {
			r.wrong(position(node), e.key+" must be a list of "+what, "Write it like "+example)
			continue
		}
		found = append(found, entry{node.Value, position(node), node, node})
	}
	return found
}

// name checks that a word can be the name of a thing or pin.
func (r *reader) name(word string, at Pos) bool {
	letters := 0
	for _, c := range word {
		letters++
		if !unicode.IsLetter(c) && !unicode.IsDigit(c) && c != '_' && c != '+' {
			hint := "A name has letters, digits, _ and + only"
			switch c {
			case '.', '-':
				hint += "; " + string(c) + " has a meaning of its own in paths"
			case ':':
				hint = "A colon is followed by a space"
				if strings.Contains(word, ": ") { // only quotes make one word of it
					hint = "Take the quotes away, and it is read as " + word[:strings.Index(word, ": ")] + " and what is said of it"
				}
			case ',':
				hint = "A list stands in brackets, like [A1, A2]"
			}
			r.wrong(at, fmt.Sprintf("the name %s holds %q", clip(word), c), hint)
			return false
		}
	}
	if letters == 0 || letters > mostNameLetters {
		r.wrong(at, fmt.Sprintf("the name %s is %d characters long", clip(word), letters), fmt.Sprintf("A name has 1 to %d", mostNameLetters))
		return false
	}
	return true
}

// quantity reads a number with its unit, in base units.
func (r *reader) quantity(e entry, dimension quantity.Dimension, positive bool) (float64, bool) {
	if e.value.Kind != yaml.ScalarNode {
		r.wrong(position(e.value), e.key+" must be one value", "Write it like "+dimension.Examples())
		return 0, false
	}
	if nothing(e.value) {
		r.wrong(e.at, "nothing is written after "+e.key, "Write it like "+dimension.Examples()+", or leave the key out")
		return 0, false
	}
	return r.measure(e.key, e.value.Value, position(e.value), dimension, positive)
}

// measure reads a number with its unit from a text.
func (r *reader) measure(key, text string, at Pos, dimension quantity.Dimension, positive bool) (float64, bool) {
	value, err := quantity.Parse(text, dimension)
	var refused *quantity.ParseError
	switch {
	case errors.As(err, &refused):
		r.wrong(at, key+": "+strings.TrimSuffix(err.Error(), "; "+refused.Advice), sentence(refused.Advice))
	case err != nil:
		r.wrong(at, key+": "+err.Error(), "")
	case dimension != quantity.Celsius && value < 0:
		r.wrong(at, fmt.Sprintf("%s: %s is below zero", key, clip(text)), "")
	case positive && value == 0:
		r.wrong(at, fmt.Sprintf("%s cannot be zero", key), "")
	default:
		return value, true
	}
	return 0, false
}

// sentence makes the first letter a capital.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	c, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(c)) + text[size:]
}
