package circuit

// This file finds the name that was probably meant, within bounded work.

import (
	"strings"

	"underload/circuit/spelling"
)

// mostLooks bounds the names that one file's misspellings are compared with. It is far above what any real file needs;
// without it a hostile file could ask for hours.
const mostLooks = 300_000

// speller finds nearest names until its looks are used up.
type speller struct{ looks int }

// nearest gives the name in among that word was probably meant to be, or "".
func (s *speller) nearest(word string, among []string) string {
	if word == "" || len(word) > mostNameLetters*4 {
		return ""
	}
	near := make([]string, 0, 16)
	for _, name := range among {
		if gap := len(name) - len(word); gap < -8 || gap > 8 { // two slips of four bytes at most
			continue
		}
		if s.looks++; s.looks > mostLooks {
			break
		}
		near = append(near, name)
	}
	found, _ := spelling.Nearest(word, near)
	return found
}

// ask makes the hint that goes with a misspelling: "Did you mean F7?", or what can be written instead.
func (r *reader) ask(word string, among []string, otherwise string) string {
	if r.full() {
		return ""
	}
	if found := r.speller.nearest(word, among); found != "" {
		r.meant[found] = true
		return "Did you mean " + found + "?"
	}
	return otherwise
}

// Nearest gives the name that was probably meant, out of among or, where that is empty, out of every name in the
// circuit; "" where none is near.
func (c *Circuit) Nearest(name string, among ...string) string {
	if len(among) == 0 {
		among = c.names()
	}
	return new(speller).nearest(name, among)
}

// names lists everything in the circuit that has a name, points included.
func (c *Circuit) names() []string {
	var all []string
	for _, p := range c.Parts {
		all = append(all, p.Name)
	}
	for _, k := range c.Connectors {
		all = append(all, k.Name)
	}
	for _, w := range c.Wires {
		all = append(all, w.Name)
	}
	for _, p := range c.points {
		all = append(all, p.Name)
	}
	return all
}

// list writes a few words as "a, b or c", and the rest as a count.
func list(words []string, last string) string {
	const most = 12
	if len(words) == 0 {
		return ""
	}
	if len(words) > most {
		return strings.Join(words[:most], ", ") + ", …"
	}
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}
