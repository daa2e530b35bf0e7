package tidy

// This file writes items: an entry on one line where it fits, else a key a line.

import (
	"slices"
	"strings"
	"unicode/utf8"
)

const (
	width     = 120 // of a line, comments apart
	mostAlign = 16  // a longer name does not move the values of its neighbours
	mostGap   = 24  // nor does a line move the comments of its neighbours further than this
	indents   = "  "
)

// row is a line of the tidy form.
type row struct{ text, comment string }

// writer gathers rows.
type writer struct{ rows []row }

// write gives the text of a whole file.
func write(top *item) []byte {
	w := &writer{}
	w.remarks(top.above, "", true)
	order(top)
	for i, kid := range top.kids {
		section := kid.shape.section
		if i == 0 {
			section = len(top.above) > 0
		}
		w.item(kid, "", scalar(kid.name, false), i == 0 && !section, section)
	}
	if len(top.foot) > 0 {
		w.remarks(top.foot, "", false)
	}
	return w.bytes()
}

// order sorts the keys of an item; those that its shape does not know stay behind the others, in their order.
func order(it *item) {
	known := it.shape.order
	if it.list || it.shape.form != keyed || known == nil {
		return
	}
	place := func(kid *item) int {
		if i := slices.Index(known, kid.name); i >= 0 {
			return i
		}
		return len(known)
	}
	slices.SortStableFunc(it.kids, func(a, b *item) int { return place(a) - place(b) })
}

// gap leaves a line empty, once.
func (w *writer) gap() {
	if n := len(w.rows); n > 0 && w.rows[n-1] != (row{}) {
		w.rows = append(w.rows, row{})
	}
}

// remarks writes comments on lines of their own.
func (w *writer) remarks(all []remark, indent string, first bool) {
	for i, r := range all {
		if r.gap && !(first && i == 0) {
			w.gap()
		}
		w.rows = append(w.rows, row{text: indent + r.text})
	}
}

// item writes one item with its comments. Label is its key. First says that it opens its block, where no line is left
// empty; apart, that a line is left empty in any case.
func (w *writer) item(it *item, indent, label string, first, apart bool) {
	if apart {
		w.gap()
	}
	w.remarks(it.above, indent, first || apart)
	if it.gap && (len(it.above) > 0 || !first) {
		w.gap()
	}
	lead := indent + "- "
	if it.keyed {
		lead = indent + label + ":"
	}
	comment := ""
	if len(it.beside) > 0 {
		comment = it.beside[0]
	}
	switch {
	case it.leaf:
		w.leaf(it, indent, lead, comment)
	case it.oneLine(indent):
		w.rows = append(w.rows, row{join(lead, flow(it)), comment})
	case it.list && it.shape.form == list && it.plain():
		w.filled(it, indent, lead, comment)
	default:
		w.block(it, indent, lead, comment)
	}
}

// join sets a value after its key or dash.
func join(lead, value string) string {
	if strings.HasSuffix(lead, " ") || value == "" {
		return lead + value
	}
	return lead + " " + value
}

// leaf writes a value that is a text.
func (w *writer) leaf(it *item, indent, lead, comment string) {
	if it.written {
		w.rows = append(w.rows, row{join(lead, it.text), comment})
		return
	}
	one := join(lead, scalar(it.text, false))
	if it.keyed && it.shape.form == text {
		if sign, lines := blockText(it.text, width-len(indent)-len(indents)); sign != "" && (letters(one) > width || strings.Contains(it.text, "\n")) {
			w.rows = append(w.rows, row{join(lead, sign), comment})
			for _, line := range lines {
				if line != "" {
					line = indent + indents + line
				}
				w.rows = append(w.rows, row{text: line})
			}
			return
		}
	}
	w.rows = append(w.rows, row{one, comment})
}

// block writes an item with a line for each of its kids.
func (w *writer) block(it *item, indent, lead, comment string) {
	if len(it.kids) == 0 {
		w.rows = append(w.rows, row{join(lead, flow(it)), comment})
		return
	}
	inside := indent + indents
	if it.keyed {
		w.rows = append(w.rows, row{lead, comment})
	} else if comment != "" { // keys inside a list: a comment beside the dash would be read as one above the first key
		w.rows = append(w.rows, row{text: indent + comment})
	}
	order(it)
	pad := it.padding(inside)
	start := len(w.rows)
	for i, kid := range it.kids {
		label := scalar(kid.name, false)
		w.item(kid, inside, label, i == 0, false)
		if pad > 0 && !kid.leaf && kid.oneLine(inside) {
			w.align(label, inside, pad)
		}
	}
	w.remarks(it.foot, inside, false)
	if !it.keyed {
		w.dash(it.kids[0], indent, start)
	}
}

// dash puts the dash of a list's entry before its first key, or on a line of its own where a comment comes first.
func (w *writer) dash(first *item, indent string, start int) {
	if len(first.above) > 0 || !first.keyed {
		w.rows = slices.Insert(w.rows, start, row{text: indent + "-"})
		return
	}
	w.rows[start].text = indent + "- " + strings.TrimPrefix(w.rows[start].text, indent+indents)
}

// align moves the value on the last line behind the longest name of its neighbours.
func (w *writer) align(label, indent string, pad int) {
	last := &w.rows[len(w.rows)-1]
	head := indent + label + ":"
	if short := pad - letters(label); short > 0 && strings.HasPrefix(last.text, head) {
		last.text = head + strings.Repeat(" ", short) + last.text[len(head):]
	}
}

// padding is the longest name among the kids that stand on one line.
func (it *item) padding(indent string) int {
	longest := 0
	for _, kid := range it.kids {
		if n := letters(scalar(kid.name, false)); it.shape.aligned && !kid.leaf && kid.oneLine(indent) && n <= mostAlign {
			longest = max(longest, n)
		}
	}
	return longest
}

// plain says that nothing inside an item has a comment.
func (it *item) plain() bool {
	for _, kid := range it.kids {
		if len(kid.above)+len(kid.beside)+len(kid.foot) > 0 || !kid.plain() {
			return false
		}
	}
	return len(it.foot) == 0
}

// oneLine says that an item is written on one line.
func (it *item) oneLine(indent string) bool {
	if it.shape.section && len(it.kids) > 0 || it.shape.form == steps && len(it.kids) > 0 || !it.plain() || it.long() {
		return false
	}
	head := 2
	if it.keyed {
		head = letters(scalar(it.name, false)) + 2
	}
	return len(indent)+head+letters(flow(it)) <= width
}

// long says that an item holds a text of several lines.
func (it *item) long() bool {
	return it.leaf && strings.Contains(it.text, "\n") || slices.ContainsFunc(it.kids, (*item).long)
}

// flow writes an item in brackets.
func flow(it *item) string {
	if it.leaf {
		return scalar(it.text, true)
	}
	order(it)
	var kids []string
	for _, kid := range it.kids {
		text := flow(kid)
		if kid.keyed {
			text = scalar(kid.name, true) + ": " + text
		}
		kids = append(kids, text)
	}
	if it.list {
		return "[" + strings.Join(kids, ", ") + "]"
	}
	return "{" + strings.Join(kids, ", ") + "}"
}

// filled writes a long list in brackets over several lines.
func (w *writer) filled(it *item, indent, lead, comment string) {
	line := lead + " ["
	if !it.keyed {
		line = lead + "["
	}
	for i, kid := range it.kids {
		text := flow(kid)
		switch {
		case i == len(it.kids)-1:
			text += "]"
		default:
			text += ","
		}
		switch {
		case strings.HasSuffix(line, "["):
			line += text
		case letters(line)+1+letters(text) > width:
			w.rows = append(w.rows, row{text: line})
			line = indent + indents + text
		default:
			line += " " + text
		}
	}
	w.rows = append(w.rows, row{line, comment})
}

// bytes joins the rows. Comments on lines that follow one another stand below one another.
func (w *writer) bytes() []byte {
	var b strings.Builder
	for i := 0; i < len(w.rows); {
		column, end := w.column(i)
		for ; i < end; i++ {
			r := w.rows[i]
			b.WriteString(r.text)
			if r.comment != "" {
				b.WriteString(strings.Repeat(" ", column-letters(r.text)) + r.comment)
			}
			b.WriteByte('\n')
		}
	}
	return []byte(b.String())
}

// column gives where the comment beside a row stands, and the row up to which others stand below it.
func (w *writer) column(from int) (column, end int) {
	longest := letters(w.rows[from].text)
	shortest := longest
	for end = from + 1; w.rows[from].comment != "" && end < len(w.rows) && w.rows[end].comment != ""; end++ {
		n := letters(w.rows[end].text)
		if max(longest, n)-min(shortest, n) > mostGap {
			break
		}
		longest, shortest = max(longest, n), min(shortest, n)
	}
	return longest + 2, end
}

func letters(text string) int { return utf8.RuneCountInString(text) }
