// Package wirelist reads and writes wire lists: tables of what each wire joins, as spreadsheets hold them (CSV).
//
// # A list
//
// The first line names the columns, in any order: from and to must be there; wire, colour, size, length, metal,
// resistance, path, from pin and to pin may. Other usual names do as well, such as color, cross-section, gauge or AWG.
// A unit stands in the head of its column, size (mm2), or behind each value. Columns that are not known are kept as
// comments beside their wires. Cells are parted by commas, semicolons or tabs; where they are not parted by commas, a
// comma inside a number is the decimal comma.
//
// An end is a thing and its pin: F7.out, C14:1, K2-30, or two columns from and from pin. A thing's name tells what it
// is where it is one in common use (common practice, no source):
//
//	F7, FUSE7          a fuse
//	K2, RLY2           a relay with pins 30, 85, 86, 87, 87a
//	S3, SP3            a splice, where it has no pin
//	G1, GND1           a ground, where it has no pin
//	B1, BAT, BATT      a battery, at pos or neg, + or -
//	C14, X14           an in-line connector, where a cavity has a wire on both sides
//
// Of anything else, and of what a list never says (how many amps a fuse has), the circuit file that comes out asks in a
// comment, and check tells what to fill in.
//
// # What Export adds
//
// A column path keeps the paths and the order on them; a row whose wire is (joined) is two things joined metal to metal.
// Below the wires stands a second table with the columns of, what and value: a row for each thing that is said of a part,
// connector, splice, ground or terminal in the words of the circuit file, and of the circuit itself where of is empty. What
// of a thing is accepted stands there as accepted, with the rule behind it: F7,accepted thin wire,as it left the factory.
// So Import gives the same circuit back.
package wirelist

// This file is the way from the bytes of a list to the text of a circuit file.

import (
	"fmt"
	"slices"
	"sort"

	"underload/circuit"
	"underload/circuit/tidy"
)

// Limits of a list: those of a circuit file, and what a spreadsheet of wires has at the very most.
const (
	mostColumns = 200
	mostBytes   = 2_000_000
	mostWires   = 20_000
	mostTold    = 200 // problems
)

// joinedMark stands for the name of a wire where there is none and two things are joined metal to metal.
const joinedMark = "(joined)"

// importer holds a list while it is made into a circuit.
type importer struct {
	file     string
	list     *sheet
	rows     []*wireRow
	settings []setting
	accepted []string          // warnings, as the circuit file has them
	things   map[string]*thing // by the name in the circuit
	order    []*thing
	routes   []*route
	problems circuit.Problems
	left     int // problems that were not kept
}

// Import makes the text of a circuit file from a wire list; file is the list's name for messages. The error is a
// circuit.Problems with everything that is wrong with the list. The text need not be a whole circuit: what the list does
// not say is asked for in comments, and circuit.Read tells what is missing.
func Import(file string, data []byte) ([]byte, error) {
	m := &importer{file: file, things: map[string]*thing{}}
	m.list = m.read(data)
	if m.list != nil {
		m.wires()
		m.said()
	}
	if m.ended() {
		m.classify()
		m.checkSettings()
	}
	if len(m.problems) == 0 {
		m.trace()
		m.assignSides()
	}
	if len(m.problems) > 0 {
		return nil, m.sorted()
	}
	text, err := tidy.Lay([]byte(m.text()))
	if err != nil {
		return nil, circuit.Problems{{File: file, Text: "cannot be laid out as a circuit file: " + err.Error()}}
	}
	return text, nil
}

// ended says that every wire has two ends that could be read.
func (m *importer) ended() bool {
	return !slices.ContainsFunc(m.rows, func(row *wireRow) bool { return row.from.thing == nil || row.to.thing == nil })
}

// wrong notes an error of the list.
func (m *importer) wrong(at circuit.Pos, text, hint string) {
	if m.full() {
		m.left++
		return
	}
	m.problems = append(m.problems, circuit.Problem{File: m.file, Pos: at, Text: text, Hint: hint})
}

// full says that a further error would not be kept, so that no work is spent on its hint.
func (m *importer) full() bool { return len(m.problems) >= mostTold }

// sorted gives the errors by their place.
func (m *importer) sorted() circuit.Problems {
	sort.SliceStable(m.problems, func(i, j int) bool {
		a, b := m.problems[i].Pos, m.problems[j].Pos
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	if m.left > 0 {
		last := m.problems[len(m.problems)-1].Pos
		m.problems = append(m.problems, circuit.Problem{File: m.file, Pos: last, Text: fmt.Sprintf("there are %d more errors, not told here", m.left), Hint: "Mend these first"})
	}
	return m.problems
}
