package wirelist

// This file reads CSV: what parts the cells, the cells with their places, and the two tables of a list.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"underload/circuit"
)

// cell is one cell of the table.
type cell struct {
	text string
	at   circuit.Pos
}

// sheet is a list as it was read.
type sheet struct {
	comma    rune
	head     []cell
	rows     [][]cell
	settings [][]cell
	lines    []string
}

// settingsHead are the columns of the second table.
var settingsHead = []string{"of", "what", "value"}

// read cuts a list into cells, or gives nil after telling what is wrong.
func (m *importer) read(data []byte) *sheet {
	if len(data) > mostBytes {
		m.wrong(circuit.Pos{}, fmt.Sprintf("the list is %d bytes, and %d are the most that is read", len(data), mostBytes), "")
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !m.readable(data) {
		return nil
	}
	data = bytes.ReplaceAll(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
	s := &sheet{comma: parting(string(data)), lines: strings.Split(string(data), "\n")}
	reader := csv.NewReader(bytes.NewReader(data))
	reader.Comma, reader.FieldsPerRecord = s.comma, -1
	second := false
	for {
		record, err := reader.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			m.syntax(s, err)
			return nil
		}
		row := make([]cell, len(record))
		filled := false
		for i, text := range record {
			line, column := reader.FieldPos(i)
			row[i] = cell{text, circuit.Pos{Line: line, Column: s.letters(line, column)}}
			filled = filled || strings.TrimSpace(text) != ""
		}
		switch {
		case !filled: // an empty row of a spreadsheet
		case isSettingsHead(row):
			second = true
		case second:
			s.settings = append(s.settings, row)
		case s.head == nil:
			s.head = row
		default:
			s.rows = append(s.rows, row)
		}
	}
	if s.head == nil {
		m.wrong(circuit.Pos{Line: 1, Column: 1}, "the list is empty", "Its first line names the columns, like wire,from,to,colour,size (mm2),length (m)")
		return nil
	}
	return s
}

// readable refuses what is not text.
func (m *importer) readable(data []byte) bool {
	at := circuit.Pos{Line: 1, Column: 1}
	for len(data) > 0 {
		c, size := utf8.DecodeRune(data)
		if c == utf8.RuneError && size <= 1 || c < ' ' && c != '\n' && c != '\r' && c != '\t' || c == 0x7f {
			m.wrong(at, "the list is not text in UTF-8", "Save it as CSV in UTF-8")
			return false
		}
		if at.Column++; c == '\n' {
			at = circuit.Pos{Line: at.Line + 1, Column: 1}
		}
		data = data[size:]
	}
	return true
}

// parting finds what parts the cells: of comma, semicolon and tab the one that the first line has most of.
func parting(text string) rune {
	first := ""
	for line := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(line) != "" {
			first = line
			break
		}
	}
	most, found := 0, ','
	for _, comma := range []rune{',', ';', '\t'} {
		quoted, count := false, 0
		for _, c := range first {
			switch {
			case c == '"':
				quoted = !quoted
			case c == comma && !quoted:
				count++
			}
		}
		if count > most {
			most, found = count, comma
		}
	}
	return found
}

// letters turns a place in bytes into letters, both counted from 1.
func (s *sheet) letters(line, column int) int {
	if line < 1 || line > len(s.lines) {
		return column
	}
	text := s.lines[line-1]
	return utf8.RuneCountInString(text[:min(column-1, len(text))]) + 1
}

// syntax tells of quotes that do not match.
func (m *importer) syntax(s *sheet, err error) {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		m.wrong(circuit.Pos{Line: 1, Column: 1}, "the list cannot be read: "+err.Error(), "")
		return
	}
	if errors.Is(parse.Err, csv.ErrBareQuote) {
		m.wrong(circuit.Pos{Line: parse.Line, Column: s.letters(parse.Line, parse.Column)}, `a " stands inside a cell without quotes around it`, `Put the cell in quotes and write the " twice`)
		return
	}
	m.wrong(circuit.Pos{Line: parse.StartLine, Column: 1}, "a quote that opens in this row is not closed, or something follows the closing one", `A " inside a cell is written twice`)
}

func isSettingsHead(row []cell) bool {
	for len(row) > len(settingsHead) && strings.TrimSpace(row[len(row)-1].text) == "" {
		row = row[:len(row)-1] // spreadsheets fill rows up to the widest
	}
	if len(row) != len(settingsHead) {
		return false
	}
	for i, name := range settingsHead {
		if !strings.EqualFold(strings.TrimSpace(row[i].text), name) {
			return false
		}
	}
	return true
}
