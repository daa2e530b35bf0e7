package wirelist

// This file reads the rows of a list: the ends, the name, and what each wire is made of.

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// wireRow is one row of the first table.
type wireRow struct {
	at       circuit.Pos
	name     string // in the circuit; empty where the wire has none
	listed   string // as the list has it
	joined   bool   // no wire: metal to metal
	from, to end
	text     string // colour, size, length, metal, ohms, as a circuit file writes them
	path     string
	notes    []string
	used     bool // it is on a route
}

// end is where a row begins or ends.
type end struct {
	thing *thing
	pin   string // of a part, or the cavity; empty where the list gives none
	side  string // of a cavity: a, b, or empty where the list does not say
	last  bool   // the row leads to it
	over  string // a path that begins on the far side of a part: the pin that the row leaves by
	row   *wireRow
	at    circuit.Pos
}

// wires reads all rows.
func (m *importer) wires() {
	columns := m.columns()
	if columns == nil {
		return
	}
	if len(m.list.rows) > mostWires {
		m.wrong(m.list.rows[mostWires][0].at, fmt.Sprintf("there are more than %d wires", mostWires), "")
		return
	}
	names := map[string]*wireRow{}
	for _, cells := range m.list.rows {
		row := m.row(columns, cells)
		m.rows = append(m.rows, row)
		if before := names[row.name]; row.name != "" && before != nil {
			m.wrong(row.at, fmt.Sprintf("%s is already the name of the wire at line %d", row.name, before.at.Line), "Give each wire a name of its own, or none")
		}
		names[row.name] = row
	}
	if len(m.list.rows) == 0 {
		m.wrong(m.list.head[0].at, "the list has no wires", "Write a row for each wire below the heads")
	}
}

// row reads one row.
func (m *importer) row(columns []head, cells []cell) *wireRow {
	got := map[column]cell{}
	row := &wireRow{at: cells[0].at}
	values := map[column]string{}
	for i, c := range cells {
		text := strings.TrimSpace(c.text)
		if i >= len(columns) {
			if text != "" {
				m.wrong(c.at, fmt.Sprintf("this row has more cells than the %d columns", len(columns)), "Put a cell with a comma in quotes")
			}
			continue
		}
		h := columns[i]
		got[h.column] = cell{text, c.at}
		switch {
		case h.column == pathColumn:
			row.path = c.text
			if utf8.RuneCountInString(text) > circuit.MostPathLetters {
				m.wrong(c.at, fmt.Sprintf("a path's name is longer than %d characters", circuit.MostPathLetters), "")
			}
		case text == "" || text == "-":
		case h.column == noteColumn:
			row.notes = append(row.notes, note(h.name, text))
		case h.column == colourColumn:
			values[colourColumn] = m.colour(text, c.at)
		case h.column == metalColumn:
			values[metalColumn] = m.metal(text, c.at)
		case measured(h.column):
			values[h.column] = m.value(text, h, c.at)
		}
	}
	row.text = strings.Join(strings.Fields(strings.Join([]string{values[colourColumn], values[sizeColumn], values[lengthColumn], values[metalColumn], values[ohmsColumn]}, " ")), " ")
	if values[ohmsColumn] != "" && values[sizeColumn]+values[lengthColumn]+values[metalColumn] != "" {
		m.wrong(got[ohmsColumn].at, "a wire with its own ohms has no size, length or metal", "Give the ohms, or the size and length")
	}
	row.from = m.end(got[fromColumn], got[fromPinColumn], row, false)
	row.to = m.end(got[toColumn], got[toPinColumn], row, true)
	m.wireName(row, got[wireColumn])
	return row
}

// note keeps a cell of an unknown column on one line.
func note(name, text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if name == "" {
		return text
	}
	return name + ": " + text
}

// wireName reads a wire's name. Signs that a name in a circuit cannot have become _.
func (m *importer) wireName(row *wireRow, c cell) {
	switch {
	case c.text == joinedMark:
		row.joined = true
		if row.text != "" {
			m.wrong(c.at, "what is joined metal to metal has no colour, size or length", "Write the name of the wire instead of "+joinedMark+", or nothing")
		}
	case c.text != "" && c.text != "-":
		row.name, row.listed = clean(c.text), c.text
		m.checkName(row.name, c.at)
		if row.name != c.text {
			row.notes = append([]string{note("on the list", c.text)}, row.notes...)
		}
	}
}

// clean replaces what a name in a circuit cannot have.
func clean(name string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) || unicode.IsDigit(c) || c == '_' || c == '+' {
			return c
		}
		return '_'
	}, name)
}

func (m *importer) checkName(name string, at circuit.Pos) bool {
	if n := utf8.RuneCountInString(name); n == 0 || n > circuit.MostNameLetters {
		m.wrong(at, fmt.Sprintf("the name %.60s is %d characters long", name, n), fmt.Sprintf("A name has 1 to %d", circuit.MostNameLetters))
		return false
	}
	return true
}

// value reads a number with its unit and writes it as a circuit file does.
func (m *importer) value(text string, h head, at circuit.Pos) string {
	dimension := dimensions[h.column]
	if m.list.comma != ',' && strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1) // the decimal comma
	}
	full := text
	if !strings.ContainsFunc(text, unicode.IsLetter) && h.unit != "" {
		full = text + " " + h.unit
	}
	value, err := quantity.Parse(full, dimension)
	var refused *quantity.ParseError
	switch {
	case errors.As(err, &refused):
		hint := refused.Advice
		if h.unit == "" && !strings.ContainsFunc(text, unicode.IsLetter) {
			hint = fmt.Sprintf("write the unit behind it or in the head of its column, like %s (%s)", heads[h.column][0], map[column]string{sizeColumn: "mm2", lengthColumn: "m", ohmsColumn: "ohm"}[h.column])
		}
		m.wrong(at, h.name+": "+strings.TrimSuffix(err.Error(), "; "+refused.Advice), sentence(hint))
	case value <= 0:
		m.wrong(at, fmt.Sprintf("%s cannot be %s", h.name, text), "Leave the cell empty where it is not known")
	}
	return quantity.Respell(full, dimension)
}

func sentence(text string) string {
	c, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(c)) + text[size:]
}

func (m *importer) metal(text string, at circuit.Pos) string {
	known := []string{string(catalog.Copper), string(catalog.Aluminium), "aluminum", "cu", "al"}
	switch strings.ToLower(text) {
	case "copper", "cu":
		return string(catalog.Copper)
	case "aluminium", "aluminum", "al":
		return string(catalog.Aluminium)
	}
	hint := "It is copper or aluminium"
	if near, ok := spelling.Nearest(text, known); ok {
		hint = "Did you mean " + near + "?"
	}
	m.wrong(at, fmt.Sprintf("a wire cannot be of %q", text), hint)
	return ""
}

// colour reads a colour code or name, a stripe behind /, - or a blank.
func (m *importer) colour(text string, at circuit.Pos) string {
	if strings.EqualFold(text, "GNYE") {
		return "GNYE"
	}
	bands := strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune("/- +,", c) })
	if whole := strings.ToUpper(text); len(bands) == 1 && len(whole) == 4 && code(whole[:2]) != "" && code(whole[2:]) != "" {
		bands = []string{whole[:2], whole[2:]}
	}
	var codes []string
	for _, band := range bands {
		found := code(band)
		if found == "" {
			m.wrong(at, fmt.Sprintf("%q is no colour", text), colourHint(band))
			return ""
		}
		codes = append(codes, found)
	}
	if len(codes) == 0 || len(codes) > 2 {
		m.wrong(at, fmt.Sprintf("%q is no colour", text), "Write a colour and at most one stripe, like RD/WH")
		return ""
	}
	return strings.Join(codes, "/")
}

// code gives the colour code of a code or name in any case, or "".
func code(text string) string {
	if strings.EqualFold(text, "gray") {
		text = "grey"
	}
	for _, c := range catalog.Colours() {
		if strings.EqualFold(text, c.Code) || strings.EqualFold(text, c.Name) {
			return c.Code
		}
	}
	return ""
}

func colourHint(text string) string {
	var names, codes []string
	for _, c := range catalog.Colours() {
		names = append(names, c.Name)
		codes = append(codes, c.Code)
	}
	if near, ok := spelling.Nearest(text, names); ok && len(text) > 2 {
		return "Did you mean " + near + "?"
	}
	return "The colours are " + strings.Join(codes, ", ") + ", a stripe after a slash like RD/WH"
}
