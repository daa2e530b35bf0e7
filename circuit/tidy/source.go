package tidy

// This file finds the comments of a YAML text. The YAML package hands comments over with nodes, but drops or moves some
// (between a key and its value, inside brackets); so they are found here, outside of quoted and block texts, whose
// places the nodes tell.

import (
	"sort"
	"strings"

	"gopkg.in/yaml.v3"
)

// comment is one comment of the text.
type comment struct {
	text  string // with its #, without the blanks after it
	start int    // byte offset
	own   bool   // nothing else stands on its line
}

// source is a YAML text with the places of what is in it.
type source struct {
	text     string
	lines    []int // byte offset of the start of each line
	comments []comment
	places   map[*yaml.Node]int // byte offset of each node
	skips    map[int]int        // quoted and block texts: start to end
	flows    map[int]int        // brackets: start to the offset after the closing one
	last     struct{ line, column, offset int }
}

func newSource(text string, root *yaml.Node) *source {
	s := &source{text: text, lines: []int{0}, places: map[*yaml.Node]int{}, skips: map[int]int{}, flows: map[int]int{}}
	for i := range len(text) {
		if text[i] == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	s.place(root, 0)
	s.scan()
	return s
}

// offset turns a node's line and column, counted in letters from 1, into bytes. Nodes come in the order of the text, so
// that each line is walked once.
func (s *source) offset(line, column int) int {
	if line < 1 || line > len(s.lines) {
		return len(s.text)
	}
	at := &s.last
	if line != at.line || column < at.column {
		at.line, at.column, at.offset = line, 1, s.lines[line-1]
	}
	for at.column < column && at.offset < len(s.text) && s.text[at.offset] != '\n' {
		at.offset++
		for at.offset < len(s.text) && s.text[at.offset]&0xc0 == 0x80 { // the further bytes of a letter
			at.offset++
		}
		at.column++
	}
	return at.offset
}

// place notes where a node and all in it begin, and where texts end in which a # is no comment. Indent is the column,
// from 0, of the block the node stands in.
func (s *source) place(node *yaml.Node, indent int) {
	start := s.offset(node.Line, node.Column)
	s.places[node] = start
	switch {
	case node.Kind == yaml.ScalarNode:
		if end := s.scalarEnd(node, start, indent); end > start {
			s.skips[start] = end
		}
		return
	case node.Style&yaml.FlowStyle != 0:
		s.flows[start] = len(s.text)
	}
	for i, child := range node.Content {
		inside := indent
		if key := node.Content[i&^1]; node.Kind == yaml.MappingNode && node.Style&yaml.FlowStyle == 0 {
			inside = key.Column - 1
		}
		s.place(child, inside)
	}
}

// scalarEnd gives the end of a quoted or block text, or its start for a plain one.
func (s *source) scalarEnd(node *yaml.Node, start, indent int) int {
	text := s.text
	switch {
	case start >= len(text):
		return start
	case node.Style&yaml.SingleQuotedStyle != 0:
		for i := start + 1; i < len(text); i++ {
			if text[i] == '\'' {
				if i+1 < len(text) && text[i+1] == '\'' {
					i++
					continue
				}
				return i + 1
			}
		}
	case node.Style&yaml.DoubleQuotedStyle != 0:
		for i := start + 1; i < len(text); i++ {
			switch text[i] {
			case '\\':
				i++
			case '"':
				return i + 1
			}
		}
	case node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return s.blockEnd(start, indent)
	}
	return start
}

// blockEnd gives the end of a block text, the lines below its | or >. What stands behind that sign can be a comment, so
// the text is taken to begin on the next line.
func (s *source) blockEnd(start, indent int) int {
	line := sort.SearchInts(s.lines, start+1) // the line below
	header, _, _ := strings.Cut(s.line(line - 1)[start-s.lines[line-1]:], " ")
	inside := 0
	if i := strings.IndexAny(header, "123456789"); i >= 0 {
		inside = indent + int(header[i]-'0')
	}
	end := line
	for ; end < len(s.lines); end++ {
		text := strings.TrimRight(s.line(end), " ")
		lead := len(text) - len(strings.TrimLeft(text, " "))
		switch {
		case text == "":
			continue
		case inside == 0 && lead > indent || inside == 0 && indent == 0 && lead > 0:
			inside = lead
		case inside == 0 || lead < inside:
			return s.skipFrom(start, line, end)
		}
	}
	return s.skipFrom(start, line, end)
}

// skipFrom notes the lines of a block text to be skipped, and says that the sign above them is not.
func (s *source) skipFrom(start, from, to int) int {
	if from < len(s.lines) && to > from {
		end := len(s.text)
		if to < len(s.lines) {
			end = s.lines[to]
		}
		s.skips[s.lines[from]] = end
	}
	return start
}

// line gives a line without its end, counted from 0.
func (s *source) line(n int) string {
	if n < 0 || n >= len(s.lines) {
		return ""
	}
	end := len(s.text)
	if n+1 < len(s.lines) {
		end = s.lines[n+1] - 1
	}
	return s.text[s.lines[n]:end]
}

// lineOf gives the line that an offset lies on.
func (s *source) lineOf(offset int) int { return sort.SearchInts(s.lines, offset+1) - 1 }

// scan walks the text once, for comments and for the ends of brackets.
func (s *source) scan() {
	var open []int // brackets
	closed := -1   // the offset after the last closing quote or bracket
	for i := 0; i < len(s.text); {
		if end, ok := s.skips[i]; ok {
			closed, i = end, end
			continue
		}
		switch c := s.text[i]; {
		case c == '#' && s.begins(i, closed, len(open) > 0):
			end := len(s.text)
			if n := strings.IndexByte(s.text[i:], '\n'); n >= 0 {
				end = i + n
			}
			s.comments = append(s.comments, comment{strings.TrimRight(s.text[i:end], " \t"), i, s.alone(i)})
			i = end
			continue
		case c == '[' || c == '{':
			if _, isFlow := s.flows[i]; isFlow {
				open = append(open, i)
			}
		case (c == ']' || c == '}') && len(open) > 0:
			s.flows[open[len(open)-1]] = i + 1
			open = open[:len(open)-1]
			closed = i + 1
		}
		i++
	}
}

// begins says that a # begins a comment: after a blank, or where a token ended beyond doubt.
func (s *source) begins(i, closed int, inFlow bool) bool {
	if i == 0 || closed == i {
		return true
	}
	switch s.text[i-1] {
	case ' ', '\t', '\n':
		return true
	case '[', '{', ',':
		return inFlow
	case ':':
		return inFlow && closed == i-1
	}
	return false
}

// alone says that nothing stands before a comment on its line but the signs between documents or before an entry.
func (s *source) alone(offset int) bool {
	before := strings.TrimSpace(s.text[s.lines[s.lineOf(offset)]:offset])
	return before == "" || before == "---" || before == "..." || before[0] == '%' || strings.Trim(before, "-? \t") == ""
}
