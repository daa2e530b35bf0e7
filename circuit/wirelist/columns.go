package wirelist

// This file finds what each column of a wire list holds, by its head.

import (
	"fmt"
	"strings"

	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// column is what a column holds.
type column int

const (
	noteColumn column = iota // not known: kept beside the wire
	wireColumn
	fromColumn
	fromPinColumn
	toColumn
	toPinColumn
	colourColumn
	sizeColumn
	lengthColumn
	metalColumn
	ohmsColumn
	pathColumn
)

// heads are the usual names of columns (common practice, no source), the first of each the one that Export writes.
var heads = map[column][]string{
	wireColumn:    {"wire", "name", "wire no", "wire number", "wire name", "wire id", "id", "no", "number", "cable", "conductor"},
	fromColumn:    {"from", "start", "source", "origin", "from component", "from device", "from connector", "from end", "end 1", "end a", "end1"},
	fromPinColumn: {"from pin", "from cavity", "from terminal", "from position", "from contact", "pin 1", "pin a", "cavity 1"},
	toColumn:      {"to", "target", "destination", "dest", "to component", "to device", "to connector", "to end", "end 2", "end b", "end2"},
	toPinColumn:   {"to pin", "to cavity", "to terminal", "to position", "to contact", "pin 2", "pin b", "cavity 2"},
	colourColumn:  {"colour", "color", "col", "wire colour", "wire color"},
	sizeColumn:    {"size", "cross section", "csa", "area", "section", "gauge", "awg", "wire size", "wire gauge", "mm2", "mm²"},
	lengthColumn:  {"length", "len", "wire length"},
	metalColumn:   {"metal", "material", "conductor material"},
	ohmsColumn:    {"resistance", "ohms"},
	pathColumn:    {"path", "circuit", "circuit name", "path name"},
}

// dimensions are those of the columns that hold numbers.
var dimensions = map[column]quantity.Dimension{sizeColumn: quantity.SquareMillimetres, lengthColumn: quantity.Metres, ohmsColumn: quantity.Ohms}

func measured(of column) bool {
	_, ok := dimensions[of]
	return ok
}

// head is what the head of a column says.
type head struct {
	column column
	unit   string // of bare numbers; empty where each value has its own
	name   string // as written
}

// columns reads the heads. It is nil after telling that a needed one is not there, or that there are too many.
func (m *importer) columns() []head {
	if n := len(m.list.head); n > mostColumns {
		m.wrong(m.list.head[mostColumns].at, fmt.Sprintf("there are %d columns, and %d are the most that are read", n, mostColumns), "Take out those that say nothing of wires")
		return nil
	}
	found := make([]head, len(m.list.head))
	first := map[column]int{}
	for i, c := range m.list.head {
		found[i] = m.headOf(c)
		of := found[i].column
		if before, twice := first[of]; twice && of != noteColumn {
			m.wrong(c.at, fmt.Sprintf("column %q holds the same as column %q", found[i].name, found[before].name), "Give one of them another head")
			return nil
		}
		first[of] = i
	}
	for _, need := range []column{fromColumn, toColumn} {
		if _, ok := first[need]; ok {
			continue
		}
		hint := "Name it " + heads[need][0] + "; the first line names the columns"
		for _, h := range found {
			if _, near := spelling.Nearest(h.name, heads[need]); near && h.column == noteColumn {
				hint = fmt.Sprintf("Is it %q? Name that %s", h.name, heads[need][0])
			}
		}
		m.wrong(m.list.head[0].at, fmt.Sprintf("no column is called %s", heads[need][0]), hint)
		return nil
	}
	return found
}

// headOf reads one head: a name, and a unit in brackets or behind it.
func (m *importer) headOf(c cell) head {
	h := head{name: strings.Join(strings.Fields(c.text), " ")}
	name, unit := h.name, ""
	if open := strings.IndexAny(name, "(["); open > 0 && strings.ContainsAny(name[len(name)-1:], ")]") {
		name, unit = name[:open], strings.TrimSpace(name[open+1:len(name)-1])
	}
	h.column = named(name)
	if h.column == noteColumn && unit == "" {
		if cut := strings.LastIndexByte(name, ' '); cut > 0 { // length m
			if of := named(name[:cut]); measured(of) && fits(name[cut+1:], of) {
				h.column, unit = of, name[cut+1:]
			}
		}
	}
	if !measured(h.column) {
		return h
	}
	if unit == "" && fits(plainHead(name), h.column) { // AWG, mm2, ohms
		unit = plainHead(name)
	}
	if unit != "" && !fits(unit, h.column) {
		m.wrong(c.at, fmt.Sprintf("column %q: %s is no unit of %s", h.name, unit, heads[h.column][0]), "Units are written like "+dimensions[h.column].Examples())
	}
	h.unit = unit
	return h
}

// named finds a column by its name without a unit.
func named(name string) column {
	name = plainHead(name)
	for of, names := range heads {
		for _, known := range names {
			if name == known {
				return of
			}
		}
	}
	return noteColumn
}

// plainHead is a head in lower case, without the signs that people put into it.
func plainHead(name string) string {
	name = strings.NewReplacer("-", " ", "_", " ", ".", "", "#", "").Replace(strings.ToLower(name))
	return strings.Join(strings.Fields(name), " ")
}

// fits says that a unit can stand behind the numbers of a column.
func fits(unit string, of column) bool {
	_, err := quantity.Parse("1 "+unit, dimensions[of])
	return err == nil
}
