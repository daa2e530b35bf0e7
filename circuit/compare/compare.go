// Package compare tells in words what differs between two circuits.
package compare

// This file goes through two circuits, thing by thing, and holds what a difference is.

import (
	"fmt"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
)

// Change is one difference.
type Change struct {
	Of   string `json:"of"`            // F7, W7, C14.4, a path's name; empty for the circuit itself
	What string `json:"what"`          // added, removed, or what is now different: rating, size, steps
	Now  string `json:"now,omitempty"` // values as a circuit file spells them
	Was  string `json:"was,omitempty"`
	Text string `json:"text"` // the whole in words: F7 now 10 A, was 15 A
}

// Circuits lists what is different in now: nothing where both mean the same. Where a thing stands in the file, in which
// order parts and paths follow one another, comments, and whether an ordinary value is left out or written, are no
// differences.
func Circuits(was, now *circuit.Circuit) []Change {
	d := &differ{was: was, now: now, renamed: map[string]string{}, gone: map[string]bool{}}
	d.heading()
	d.parts()
	d.connectors()
	d.splices()
	d.grounds()
	d.paths()
	d.wires()
	d.joints()
	d.accepted()
	return d.changes
}

// differ gathers the differences of two circuits.
type differ struct {
	was, now *circuit.Circuit
	changes  []Change
	renamed  map[string]string // paths: the name now to the name before
	gone     map[string]bool   // things and paths that are in one circuit only
}

// tell notes a change in words of its own.
func (d *differ) tell(of, what, now, was, text string) {
	d.changes = append(d.changes, Change{of, what, now, was, text})
}

// value notes a value that changed. Said is how the thing and the value are called.
func (d *differ) value(of, what, said, now, was string) {
	if now == was {
		return
	}
	text := fmt.Sprintf("%s now %s, was %s", said, orNothing(now), orNothing(was))
	switch {
	case was == "":
		text = fmt.Sprintf("%s now %s", said, now)
	case now == "":
		text = fmt.Sprintf("%s no longer %s", said, was)
	}
	d.tell(of, what, now, was, text)
}

// words is value for words that are none of the vehicle's: they stand in quotes.
func (d *differ) words(of, what, said, now, was string) {
	if now != was {
		d.tell(of, what, now, was, fmt.Sprintf("%s now %s, was %s", said, quoted(now), quoted(was)))
	}
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// with sets a word before another, where there is another.
func with(word, other string) string {
	if other == "" {
		return ""
	}
	return word + other
}

func quoted(text string) string {
	if text == "" {
		return "not given"
	}
	return fmt.Sprintf("%q", text)
}

func (d *differ) number(of, what, said string, now, was float64, dimension quantity.Dimension) {
	if now != was {
		d.value(of, what, said, quantity.Written(now, dimension), quantity.Written(was, dimension))
	}
}

// added and removed note a thing that is in one circuit only.
func (d *differ) added(of, text string) {
	d.gone[of] = true
	d.tell(of, "added", "", "", text+" added")
}

func (d *differ) removed(of, text string) {
	d.gone[of] = true
	d.tell(of, "removed", "", "", text+" removed")
}

// both pairs two lists by name: what is gone, then what stayed or came, in the order of now.
func both[T any](was, now []T, name func(T) string, gone, came func(T), stayed func(was, now T)) {
	before := make(map[string]T, len(was))
	left := make(map[string]bool, len(now))
	for _, one := range now {
		left[name(one)] = true
	}
	for _, one := range was {
		before[name(one)] = one
		if !left[name(one)] {
			gone(one)
		}
	}
	for _, one := range now {
		if old, ok := before[name(one)]; ok {
			stayed(old, one)
		} else {
			came(one)
		}
	}
}

func (d *differ) heading() {
	d.words("", "title", "title", d.now.Title, d.was.Title)
	d.words("", "complaint", "complaint", d.now.Complaint, d.was.Complaint)
	d.words("", "teaches", "what it teaches", d.now.Teaches, d.was.Teaches)
	d.number("", "ambient", "ambient", d.now.AmbientCelsius, d.was.AmbientCelsius, quantity.Celsius)
	d.value("", "tags", "cautions", strings.Join(d.now.Tags, " "), strings.Join(d.was.Tags, " "))
}

func (d *differ) connectors() {
	both(d.was.Connectors, d.now.Connectors, func(k *circuit.Connector) string { return k.Name },
		func(k *circuit.Connector) { d.removed(k.Name, "connector "+k.Name) },
		func(k *circuit.Connector) { d.added(k.Name, "connector "+k.Name) },
		func(was, now *circuit.Connector) {
			d.words(now.Name, "place", now.Name+" place", now.Place, was.Place)
			d.value(now.Name, "reach", now.Name+" reach", now.Reach.String(), was.Reach.String())
			d.value(now.Name, "tags", now.Name+" cautions", strings.Join(now.Tags, " "), strings.Join(was.Tags, " "))
			d.terminals(holder{now.Name, now.Reach, was.Reach}, was.Cavities, now.Cavities, true)
		})
}

func (d *differ) splices() {
	both(d.was.Splices, d.now.Splices, func(s *circuit.Splice) string { return s.Name },
		func(s *circuit.Splice) { d.removed(s.Name, "splice "+s.Name) },
		func(s *circuit.Splice) { d.added(s.Name, "splice "+s.Name) },
		func(was, now *circuit.Splice) {
			d.words(now.Name, "place", now.Name+" place", now.Place, was.Place)
			d.value(now.Name, "reach", now.Name+" reach", now.Reach.String(), was.Reach.String())
			d.number(now.Name, "leg", now.Name+" leg", now.LegOhms, was.LegOhms, quantity.Ohms)
		})
}

func (d *differ) grounds() {
	both(d.was.Studs, d.now.Studs, func(s *circuit.Stud) string { return s.Name },
		func(s *circuit.Stud) { d.removed(s.Name, "ground "+s.Name) },
		func(s *circuit.Stud) { d.added(s.Name, "ground "+s.Name) },
		func(was, now *circuit.Stud) {
			d.words(now.Name, "place", now.Name+" place", now.Place, was.Place)
			d.value(now.Name, "reach", now.Name+" reach", now.Reach.String(), was.Reach.String())
			d.value(now.Name, "to", now.Name+" metal", with("to ", now.To), with("to ", was.To))
			d.number(now.Name, "by", now.Name+" metal", now.ByOhms, was.ByOhms, quantity.Ohms)
			d.number(now.Name, "stud", now.Name+" stud", now.ContactOhms, was.ContactOhms, quantity.Ohms)
		})
}

// accepted tells which warnings are accepted now and were not, or no longer are. Of a thing that is in one circuit only it
// says nothing.
func (d *differ) accepted() {
	at := func(a circuit.Accepted) string { return a.Rule + " at " + a.At }
	tell := func(a circuit.Accepted, now, was, text string) {
		if !d.gone[a.At] {
			d.tell(a.At, "accepted", now, was, at(a)+text)
		}
	}
	both(d.was.Accepted, d.now.Accepted, at,
		func(a circuit.Accepted) { tell(a, "", a.Because, " no longer accepted") },
		func(a circuit.Accepted) { tell(a, a.Because, "", fmt.Sprintf(" now accepted: %q", a.Because)) },
		func(was, now circuit.Accepted) {
			if now.Because != was.Because {
				tell(now, now.Because, was.Because, fmt.Sprintf(" now accepted since %q, was %q", now.Because, was.Because))
			}
		})
}
