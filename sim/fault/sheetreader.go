package fault

// This file reads the pieces that a fault sheet is made of, and keeps what is wrong with each, with its place.

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// MostBytes is the most of a file of faults that is read. The sheets that come with the program have some thousand.
const MostBytes = 2_000_000

// The other limits of a file of faults.
const (
	mostSheetMarks    = 200_000 // line ends, colons, commas and brackets, each of which can begin a node
	mostSheetDepth    = 8
	mostSheetProblems = 200
)

type sheetReader struct {
	file        string
	circuit     *circuit.Circuit
	instruments []string
	problems    circuit.Problems
	left        int
	ids         []pair // faults that others name
}

// pair is a key of a mapping with its value.
type pair struct {
	key   string
	at    circuit.Pos
	value *yaml.Node
}

func at(node *yaml.Node) circuit.Pos {
	return circuit.Pos{Line: max(node.Line, 1), Column: max(node.Column, 1)}
}

// wrong notes an error.
func (r *sheetReader) wrong(pos circuit.Pos, text, hint string) {
	if len(r.problems) >= mostSheetProblems {
		r.left++
		return
	}
	r.problems = append(r.problems, circuit.Problem{File: r.file, Pos: pos, Text: strings.TrimSuffix(text, "."), Hint: hint})
}

// found is what is wrong, in the order of the file.
func (r *sheetReader) found() circuit.Problems {
	sort.SliceStable(r.problems, func(i, j int) bool {
		a, b := r.problems[i].Pos, r.problems[j].Pos
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	if r.left > 0 {
		last := r.problems[len(r.problems)-1].Pos
		return append(r.problems, circuit.Problem{File: r.file, Pos: last, Text: fmt.Sprintf("there are %d more errors, not told here", r.left), Hint: "Mend these first"})
	}
	return r.problems
}

// nearest is a hint at what was meant.
func (r *sheetReader) nearest(word string, known []string) string {
	if len(r.problems) >= mostSheetProblems {
		return "" // it would not be told
	}
	if near, ok := spelling.Nearest(word, known); ok {
		return "Did you mean " + near + "?"
	}
	if len(known) > 20 {
		known = append(known[:20:20], "…")
	}
	return "There is " + strings.Join(known, ", ")
}

// short is a word made fit for a message.
func short(word string) string {
	const most = 40
	if utf8.RuneCountInString(word) > most {
		word = string([]rune(word)[:most]) + "…"
	}
	return strings.Join(strings.Fields(strconv.Quote(word)), " ")
}

var sheetLine = regexp.MustCompile(`^yaml: line (\d+): `)

// text refuses what is too long or no text.
func (r *sheetReader) text(data []byte) bool {
	start := circuit.Pos{Line: 1, Column: 1}
	marks := 0
	for _, c := range data[:min(len(data), MostBytes)] {
		if strings.IndexByte("\n:,[]{}-?", c) >= 0 {
			marks++
		}
	}
	switch {
	case len(data) > MostBytes:
		r.wrong(start, fmt.Sprintf("the file is larger than %d bytes, the most that is read", MostBytes), "")
	case marks > mostSheetMarks:
		r.wrong(start, "the file holds too many things for a list of faults", "")
	case !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0:
		r.wrong(start, "the file is not text in UTF-8", "Save it as UTF-8 text")
	default:
		return true
	}
	return false
}

// parse gives the top of the file, or nil after telling what is wrong.
func (r *sheetReader) parse(data []byte) *yaml.Node {
	if !r.text(data) {
		return nil
	}
	document, err := decode(data)
	if err != nil {
		text, pos := err.Error(), circuit.Pos{Line: 1, Column: 1}
		if found := sheetLine.FindStringSubmatch(text); found != nil {
			pos.Line, _ = strconv.Atoi(found[1])
			text = text[len(found[0]):]
		}
		r.wrong(pos, "this is not YAML: "+short(strings.TrimPrefix(text, "yaml: ")), "Check the indent, the quotes and the brackets here and on the line above")
		return nil
	}
	if document == nil || len(document.Content) == 0 {
		r.wrong(circuit.Pos{Line: 1, Column: 1}, "the file is empty", "It begins with underload faults: 1")
		return nil
	}
	top := document.Content[0]
	if !r.plain(top) {
		return nil
	}
	return top
}

// decode parses one document. The YAML package promises not to panic; the promise of this package rests on its own
// recover.
func decode(data []byte) (document *yaml.Node, err error) {
	defer func() {
		if caught := recover(); caught != nil {
			document, err = nil, fmt.Errorf("%v", caught)
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var first, second yaml.Node
	if err := decoder.Decode(&first); errors.Is(err, io.EOF) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	if err := decoder.Decode(&second); !errors.Is(err, io.EOF) {
		return nil, errors.New("a second document begins in the file")
	}
	return &first, nil
}

// plain refuses aliases, with which a short file could stand for a huge one, type tags, and depth.
func (r *sheetReader) plain(node *yaml.Node) bool {
	bad, what, hint := circuit.NotPlain(node, mostSheetDepth)
	if bad == nil {
		return true
	}
	r.wrong(at(bad), what, hint)
	return false
}

// nothing says that a key stands there with no value.
func nothing(node *yaml.Node) bool { return node.Kind == yaml.ScalarNode && node.Tag == "!!null" }

// pairs gives the keys of a mapping and their values.
func (r *sheetReader) pairs(node *yaml.Node, what string) []pair {
	if node == nil {
		return nil
	}
	if node.Kind != yaml.MappingNode {
		r.wrong(at(node), what+" must be keys with values", "Write them like key: value, one below the other")
		return nil
	}
	var all []pair
	seen := map[string]bool{}
	for i := 0; i+1 < len(node.Content); i += 2 {
		key, value := node.Content[i], node.Content[i+1]
		switch {
		case key.Kind != yaml.ScalarNode:
			r.wrong(at(key), "a key must be a word", "")
		case seen[key.Value]:
			r.wrong(at(key), short(key.Value)+" is written twice", "")
		case nothing(value):
			r.wrong(at(key), "nothing is written after "+short(key.Value), "Write it or leave the key out")
			seen[key.Value] = true
		default:
			seen[key.Value] = true
			all = append(all, pair{key.Value, at(key), value})
		}
	}
	return all
}

// fields gives the values of known keys, and tells the unknown and the missing ones.
func (r *sheetReader) fields(node *yaml.Node, what string, known []string, needed ...string) map[string]*yaml.Node {
	found := map[string]*yaml.Node{}
	if node == nil {
		return found
	}
	before := len(r.problems) + r.left
	for _, p := range r.pairs(node, what) {
		ok := false
		for _, key := range known {
			ok = ok || key == p.key
		}
		if !ok {
			r.wrong(p.at, what+" has no key "+short(p.key), r.nearest(p.key, known))
			continue
		}
		found[p.key] = p.value
	}
	if len(r.problems)+r.left > before { // a misspelt key is not told again as a missing one
		return found
	}
	for _, key := range needed {
		if found[key] == nil {
			r.wrong(at(node), what+" must have "+key, "")
		}
	}
	return found
}

// items gives the items of a list.
func (r *sheetReader) items(node *yaml.Node, what string) []*yaml.Node {
	if node == nil {
		return nil
	}
	if node.Kind != yaml.SequenceNode {
		r.wrong(at(node), what+" must be a list", "Begin each item with a dash, or write it in square brackets")
		return nil
	}
	return node.Content
}

// mostWords is the most a text of a sheet can have, in bytes.
const mostWords = 2000

// word gives a text, "" for none.
func (r *sheetReader) word(node *yaml.Node) string {
	switch {
	case node == nil:
		return ""
	case node.Kind != yaml.ScalarNode || nothing(node):
		r.wrong(at(node), "a word or a sentence is wanted here", "")
		return ""
	case len(node.Value) > mostWords:
		r.wrong(at(node), fmt.Sprintf("this text is longer than %d bytes", mostWords), "")
		return ""
	}
	return strings.TrimSpace(node.Value)
}

// yes gives a true or false, false for none.
func (r *sheetReader) yes(node *yaml.Node) bool {
	word := r.word(node)
	if node != nil && word != "true" && word != "false" {
		r.wrong(at(node), "true or false is wanted here", "")
	}
	return word == "true"
}

func (r *sheetReader) minutes(node *yaml.Node) float64 {
	if node == nil {
		return 0
	}
	m, err := strconv.ParseFloat(r.word(node), 64)
	if err != nil || !(m > 0 && m <= 1000) {
		r.wrong(at(node), short(node.Value)+" is no number of minutes", "Write a plain number such as 2.5")
		return 0
	}
	return m
}

// amounts are the dimensions that an instrument reads in, with the units that readings name.
var amounts = []struct {
	dimension quantity.Dimension
	unit      string
}{{quantity.Volts, "V"}, {quantity.Amperes, "A"}, {quantity.Ohms, "ohm"}, {quantity.Newtons, "N"}}

func (r *sheetReader) amount(node *yaml.Node) *Amount {
	if node == nil {
		return nil
	}
	word := r.word(node)
	negative := strings.HasPrefix(word, "-") || strings.HasPrefix(word, "−")
	for _, a := range amounts {
		if value, err := quantity.Parse(strings.TrimLeft(word, "-−"), a.dimension); err == nil {
			if negative {
				value = -value
			}
			return &Amount{value, a.unit}
		}
	}
	r.wrong(at(node), short(word)+" is no reading", "Write a number with V, A, ohm or N, such as 6.7 V")
	return nil
}

// state reads what brings the circuit to a state, as on the command line: "KEY=run", "F7=out", and "apart C7".
func (r *sheetReader) state(node *yaml.Node) []string {
	if node == nil {
		return nil
	}
	words := []string{}
	for _, item := range r.items(node, "state") {
		word := r.word(item)
		if word == "" {
			continue
		}
		if wrong, hint := r.unsettable(word); wrong != "" {
			r.wrong(at(item), wrong, hint)
			continue
		}
		words = append(words, word)
	}
	return words
}

// unsettable says why a setting cannot be, as far as names go; what a part can be set to, the bench knows.
func (r *sheetReader) unsettable(word string) (wrong, hint string) {
	var names []string
	for _, p := range r.circuit.Parts {
		names = append(names, p.Name)
	}
	if name, ok := strings.CutPrefix(word, "apart "); ok {
		if r.circuit.Connector(name) != nil || r.circuit.Part(name) != nil {
			return "", ""
		}
		for _, k := range r.circuit.Connectors {
			names = append(names, k.Name)
		}
		return "there is no connector or part " + short(name), r.nearest(name, names)
	}
	name, value, ok := strings.Cut(word, "=")
	if !ok || value == "" {
		return short(word) + " is no setting", "Write NAME=STATE, such as KEY=run, or apart NAME"
	}
	name, _, _ = strings.Cut(name, ".")
	p := r.circuit.Part(name)
	if p == nil && name != "ambient" {
		return "there is no part " + short(name), r.nearest(name, names)
	}
	if p == nil || len(p.Throws) == 0 {
		return "", ""
	}
	var positions []string
	for _, t := range p.Throws {
		if t.Name == value {
			return "", ""
		}
		positions = append(positions, t.Name)
	}
	return p.Name + " has no position " + short(value), r.nearest(value, positions)
}
