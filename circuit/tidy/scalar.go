package tidy

// This file writes single texts so that YAML reads exactly them again: plain where that is safe, else in quotes.

import (
	"fmt"
	"strings"
	"unicode"
)

// Scalar writes a text as YAML, on one line; inFlow says that it will stand in brackets.
func Scalar(text string, inFlow bool) string { return scalar(text, inFlow) }

func scalar(text string, inFlow bool) string {
	switch {
	case plain(text, inFlow):
		return text
	case shown(text):
		return "'" + strings.ReplaceAll(text, "'", "''") + "'"
	}
	return escaped(text)
}

// plain says that a text needs no quotes.
func plain(text string, inFlow bool) bool {
	if text == "" || !shown(text) || strings.TrimSpace(text) != text || strings.HasSuffix(text, ":") ||
		strings.Contains(text, ": ") || strings.Contains(text, " #") {
		return false
	}
	if inFlow && strings.ContainsAny(text, ",[]{}:#?") {
		return false
	}
	first, second := rune(0), rune(0)
	for i, c := range text {
		if i == 0 {
			first = c
			continue
		}
		second = c
		break
	}
	return unicode.IsLetter(first) || unicode.IsDigit(first) || strings.ContainsRune("+(/_.", first) && first != second || first == '-' && unicode.IsDigit(second)
}

// shown says that a text holds only letters, signs and blanks that a file may hold as they are, and no line end.
func shown(text string) bool {
	for _, c := range text {
		if !unicode.IsGraphic(c) || c == unicode.ReplacementChar {
			return false
		}
	}
	return true
}

// escaped writes a text in double quotes.
func escaped(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range text {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteString(`\t`)
		case unicode.IsGraphic(c):
			b.WriteRune(c)
		case c < 0x100:
			fmt.Fprintf(&b, `\x%02x`, c)
		case c < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, c)
		default:
			fmt.Fprintf(&b, `\U%08x`, c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// blockText breaks a text into the lines of a block: folded at room letters, or as it is where it has lines of its own.
// The sign is "" where no block can hold the text.
func blockText(text string, room int) (sign string, lines []string) {
	if !shown(strings.ReplaceAll(text, "\n", "")) || text != strings.TrimSpace(text) || text == "" {
		return "", nil
	}
	if strings.Contains(text, "\n") {
		return "|-", strings.Split(text, "\n")
	}
	line := ""
	for i, word := range strings.Split(text, " ") {
		switch {
		case i == 0:
			line = word
		case word == "" || strings.HasSuffix(line, " ") || letters(line)+1+letters(word) <= room: // several blanks are kept together
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return ">-", append(lines, line)
}
