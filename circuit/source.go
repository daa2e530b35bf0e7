package circuit

// This file takes the bytes of a file and, before anything is made of them, refuses what is too big, is not text, or
// would cost too much to parse; then it parses them as YAML with every node's place.

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// The limits of a file. A large vehicle's whole diagram is some thousands of lines of about 25 bytes.
const (
	mostBytes      = 2_000_000
	mostMarks      = 400_000 // line ends, colons, commas and brackets: each can begin a node of a few hundred bytes
	mostDepth      = 8       // a module's outputs, the deepest thing there is, lie 5 deep
	mostFlowDepth  = 64      // brackets inside brackets before parsing; the depth is told precisely afterwards
	mostTextRunes  = 2_000   // one title, complaint or place
	longLine       = 2_000   // bytes of a line up to which tokens are found inside values
	narrowingBytes = 200_000 // a syntax error is narrowed down to its line by parsing again in files up to here
)

// source is a file's text, by lines, to find tokens in.
type source struct {
	lines []string
}

// parse gives the top node of the file, or nil after telling what is wrong.
func (r *reader) parse(data []byte) *yaml.Node {
	if len(data) > mostBytes {
		r.wrong(Pos{1, 1}, fmt.Sprintf("the file is larger than %d bytes, the most that is read", mostBytes), "A circuit file is text of some thousand lines")
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !r.readable(data) {
		return nil
	}
	r.source.lines = strings.Split(string(data), "\n")
	document, err := parseYAML(data)
	if err != nil {
		r.syntax(data, err)
		return nil
	}
	if document == nil {
		r.wrong(Pos{1, 1}, "the file is empty", "It begins with underload: 1")
		return nil
	}
	top := document.Content[0]
	if !r.plain(top) {
		return nil
	}
	return top
}

// errSecond tells of a second document in the file.
var errSecond = errors.New("second document")

// parseYAML gives the document node, or nil where the file holds none. The YAML package promises not to panic; the
// promise of this package rests on its own recover.
func parseYAML(data []byte) (document *yaml.Node, err error) {
	defer func() {
		if caught := recover(); caught != nil {
			document, err = nil, fmt.Errorf("yaml: %v", caught)
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var first, second yaml.Node
	if err := decoder.Decode(&first); err == io.EOF {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	if len(first.Content) == 0 {
		return nil, nil
	}
	if err := decoder.Decode(&second); err == nil {
		return nil, errSecond
	} else if err != io.EOF {
		return nil, err
	}
	return &first, nil
}

// readable refuses bytes that are not text, and text that would be costly to parse.
func (r *reader) readable(data []byte) bool {
	at, marks, depth := Pos{1, 1}, 0, 0
	for i := 0; i < len(data); {
		c, size := utf8.DecodeRune(data[i:])
		switch {
		case c == utf8.RuneError && size <= 1:
			r.wrong(at, "the file is not text in UTF-8", "Save it as UTF-8 text")
			return false
		case c < ' ' && c != '\n' && c != '\r' && c != '\t' || c == 0x7f || c == '\u0085' || c == '\u2028' || c == '\u2029' || c == '\ufeff':
			r.wrong(at, fmt.Sprintf("the character U+%04X does not belong in a text file", c), "Delete it")
			return false
		}
		switch c {
		case '[', '{':
			depth++
			marks++
		case ']', '}':
			depth = max(0, depth-1)
		case '\n':
			depth = 0 // a bracket inside a text must not add up over a file; brackets over many lines are caught by marks
			marks++
		case '\r', ':', ',', '-', '?':
			marks++
		}
		if depth > mostFlowDepth || marks > mostMarks {
			r.wrong(at, "the file nests too deep or holds too many things to be a circuit", "")
			return false
		}
		i += size
		if at.Column++; c == '\n' {
			at = Pos{at.Line + 1, 1}
		}
	}
	return true
}

// plain refuses what a circuit file has no use for: anchors and aliases (a short file could stand for a huge one),
// type tags, and depth.
func (r *reader) plain(node *yaml.Node) bool {
	bad, what, hint := NotPlain(node, mostDepth)
	if bad == nil {
		return true
	}
	r.wrong(position(bad), what, hint)
	return false
}

// NotPlain finds the first thing in YAML that no file of this program has: anchors and aliases, type tags, or what is
// nested deeper than depth. It gives the node, what is wrong with it and what to do; nil where all is plain.
func NotPlain(node *yaml.Node, depth int) (bad *yaml.Node, what, hint string) {
	switch {
	case depth < 0:
		return node, "this is nested deeper than anything in such a file", ""
	case node.Kind == yaml.AliasNode || node.Anchor != "":
		return node, "anchors (&) and aliases (*) are not read", "Write the thing out where it is needed; put a text that begins with & or * in quotes"
	case node.Style&yaml.TaggedStyle != 0:
		return node, "type tags (" + clip(node.Tag) + ") are not read", "Write the value alone; put a text that begins with ! in quotes"
	}
	for _, child := range node.Content {
		if bad, what, hint := NotPlain(child, depth-1); bad != nil {
			return bad, what, hint
		}
	}
	return nil, "", ""
}

var yamlLine = regexp.MustCompile(`^yaml: line (\d+): `)

// syntax tells of a file that is not YAML, at the line where parsing breaks off.
func (r *reader) syntax(data []byte, err error) {
	text, at := err.Error(), Pos{1, 1}
	if found := yamlLine.FindStringSubmatch(text); found != nil {
		at.Line, _ = strconv.Atoi(found[1])
		text = text[len(found[0]):]
	}
	text = strings.TrimPrefix(text, "yaml: ")
	if len(data) <= narrowingBytes {
		at.Line = brokenLine(data)
	}
	at.Line = min(max(at.Line, 1), len(r.source.lines))
	line := r.source.lines[at.Line-1]
	indent := line[:len(line)-len(strings.TrimLeft(line, " \t\r"))]
	at.Column = utf8.RuneCountInString(indent) + 1
	if tab := strings.IndexByte(indent, '\t'); tab >= 0 {
		r.wrong(Pos{at.Line, tab + 1}, "a tab stands before the text", "Indent with spaces")
		return
	}
	wrong, hint := inOwnWords(text)
	r.wrong(at, wrong, hint)
}

// inOwnWords turns what the YAML package says into what to do about it.
func inOwnWords(text string) (wrong, hint string) {
	for _, known := range []struct{ said, wrong, hint string }{
		{errSecond.Error(), "a second document begins in the file (---)", "One file holds one circuit"},
		{"unknown anchor", "anchors (&) and aliases (*) are not read", "Write the thing out where it is needed; put a text that begins with & or * in quotes"},
		{"mapping values are not allowed", "a colon stands where none can be", "Put a text with a colon in quotes, and check the indent"},
		{"could not find expected ':'", "a colon is missing after a key, or a quote or bracket above is not closed", ""},
		{"found unexpected end of stream", "a quote is not closed", ""},
		{"did not find expected ',' or", "a bracket is not closed, or a comma is missing", ""},
		{"did not find expected", "the indent or the punctuation is wrong here or on the line above", "Steps of a path begin with a dash, one below the other"},
		{"cannot start any token", "a character stands here that needs quotes around its text", ""},
		{"exceeded max depth", "the file nests too deep to be a circuit", ""},
	} {
		if strings.Contains(text, known.said) {
			return known.wrong, known.hint
		}
	}
	return "this is not YAML: " + text, ""
}

// brokenLine finds the line after the longest run of whole lines from the top that parses. The parser's own line is
// often that of the block around the error.
func brokenLine(data []byte) int {
	ends := []int{0}
	for i, c := range data {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	good, bad := 0, len(ends) // lines known to parse, lines known not to
	for bad-good > 1 {
		middle := (good + bad) / 2
		if _, err := parseYAML(data[:ends[middle]]); err == nil {
			good = middle
		} else {
			bad = middle
		}
	}
	return good + 1
}

// position is where a node begins.
func position(node *yaml.Node) Pos { return Pos{max(node.Line, 1), max(node.Column, 1)} }

// inside is the place of a token that lies offset bytes into a scalar, or the scalar's own where it cannot be told.
func (r *reader) inside(node *yaml.Node, offset int) Pos {
	at := position(node)
	if offset <= 0 || offset > len(node.Value) || at.Line > len(r.source.lines) {
		return at
	}
	column := at.Column
	if node.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		column++
	}
	if len(r.source.lines[at.Line-1]) > longLine {
		return at // looking for tokens in a line of a megabyte, once for each, would take hours
	}
	line := []rune(r.source.lines[at.Line-1])
	if column-1 > len(line) || !strings.HasPrefix(string(line[column-1:]), node.Value) {
		return at
	}
	return Pos{at.Line, column + utf8.RuneCountInString(node.Value[:offset])}
}

// clip shortens a text for a message and makes it one line.
func clip(text string) string {
	const most = 40
	var b strings.Builder
	count := 0
	for _, c := range text {
		if count++; count > most {
			b.WriteString("…")
			break
		}
		if !unicode.IsPrint(c) {
			c = ' '
		}
		b.WriteRune(c)
	}
	return b.String()
}
