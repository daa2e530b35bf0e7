package command

// This file is the page that a command writes on: words wrapped to the width of a terminal, tables, JSON.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"
)

// width is that of the narrowest terminal in common use.
const width = 80

// page holds what a command writes.
type page struct {
	*bytes.Buffer
	colour bool
}

func (p *page) say(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// strong sets words off in bold where the terminal can.
func (p *page) strong(words string) string {
	if !p.colour {
		return words
	}
	return "\x1b[1m" + words + "\x1b[0m"
}

// prose writes words wrapped to the page's width, every line indented.
func (p *page) prose(indent int, words string) { p.hang(strings.Repeat(" ", indent), words) }

// hang writes words wrapped beside a lead-in, whose room the further lines leave free.
func (p *page) hang(lead, words string) {
	room := width - letters(lead)
	for i, line := range wrap(words, room) {
		if i == 1 {
			lead = strings.Repeat(" ", letters(lead))
		}
		p.say("%s%s", lead, line)
	}
}

// letters counts what a terminal shows of words.
func letters(words string) int { return utf8.RuneCountInString(words) }

// wrap breaks words into lines. It breaks at plain spaces only, so that a number keeps its unit.
func wrap(words string, room int) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(words, " ") {
		switch {
		case word == "":
		case line == "":
			line = word
		case letters(line)+1+letters(word) > room:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// paragraphs sets words for help. What is indented stays as it is.
func paragraphs(words ...string) string {
	var set []string
	for _, paragraph := range words {
		if !strings.HasPrefix(paragraph, " ") {
			paragraph = strings.Join(wrap(paragraph, width), "\n")
		}
		set = append(set, paragraph)
	}
	return strings.Join(set, "\n\n")
}

// json writes a value for a script, which should not have to know of spaces that do not break.
func (p *page) json(value any) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		return err
	}
	_, err := p.WriteString(strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(text.String()))
	return err
}

// table is rows of cells; the columns named in right are set flush right.
type table struct {
	right map[int]bool
	rows  [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// lines sets the rows in columns with a gap of two spaces.
func (t *table) lines() []string {
	var wide []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], letters(cell))
		}
	}
	lines := make([]string, len(t.rows))
	for n, row := range t.rows {
		var b strings.Builder
		for i, cell := range row {
			space := strings.Repeat(" ", wide[i]-letters(cell))
			if i > 0 {
				b.WriteString("  ")
			}
			if t.right[i] {
				cell = space + cell
			} else {
				cell += space
			}
			b.WriteString(cell)
		}
		lines[n] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// counted writes a number with its noun: 1 wire, 3 batteries, 2 relays, 2 switches.
func counted(n int, noun string) string {
	if n != 1 {
		switch {
		case strings.HasSuffix(noun, "y") && !strings.HasSuffix(noun, "ay"):
			noun = strings.TrimSuffix(noun, "y") + "ies"
		case strings.HasSuffix(noun, "ch"):
			noun += "es"
		default:
			noun += "s"
		}
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// table writes a table.
func (p *page) table(t *table) {
	for _, line := range t.lines() {
		p.say("%s", line)
	}
}

// plain writes a small number without a unit.
func plain(v float64) string { return fmt.Sprintf("%.3g", v) }
