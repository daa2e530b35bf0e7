package view

// This file says how wide words are, read from the very faces that they are set in, and breaks them into lines.

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is the advance of each letter, in thousandths of the size.
type face map[rune]float64

// lettersUpTo is the end of what is read from a face: Latin, Greek, punctuation and signs.
const lettersUpTo = 0x2300

// missingLetter stands for a letter that the face does not have.
const missingLetter = 1015

var faces = sync.OnceValue(func() [2]face { return [2]face{read(goregular.TTF), read(gobold.TTF)} })

func read(ttf []byte) face {
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		panic("view: the embedded face cannot be read: " + err.Error())
	}
	f, buffer := face{}, &sfnt.Buffer{}
	for r := ' '; r < lettersUpTo; r++ {
		glyph, err := parsed.GlyphIndex(buffer, r)
		if err != nil || glyph == 0 {
			continue
		}
		if advance, err := parsed.GlyphAdvance(buffer, glyph, fixed.I(1000), font.HintingNone); err == nil {
			f[r] = float64(advance) / 64
		}
	}
	return f
}

// textWidth is the width of words in px.
func textWidth(words string, size float64, bold bool) float64 {
	f := faces()[0]
	if bold {
		f = faces()[1]
	}
	sum := 0.0
	for _, r := range words {
		wide, ok := f[r]
		if !ok {
			wide = missingLetter
		}
		sum += wide
	}
	return sum * size / 1000
}

// shorten cuts words to a width with an ellipsis.
func shorten(words string, size float64, bold bool, room float64) string {
	if textWidth(words, size, bold) <= room {
		return words
	}
	letters := []rune(words)
	for len(letters) > 1 && textWidth(string(letters)+"…", size, bold) > room {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimRight(string(letters), " ,;:") + "…"
}

// wrap breaks words into lines no wider than room, and where they are broken already; no more than so many (and one at
// least), the last one cut short where there are more.
func wrap(words string, size float64, bold bool, room float64, most int) []string {
	var lines []string
	for part := range strings.SplitSeq(words, "\n") {
		lines = append(lines, wrapLine(part, size, bold, room)...)
	}
	if most = max(most, 1); len(lines) <= most {
		return lines
	}
	last := lines[most-1]
	for _, line := range lines[most:] {
		last += " " + line
	}
	return append(lines[:most-1], shorten(last, size, bold, room))
}

func wrapLine(words string, size float64, bold bool, room float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r != '\u00a0' && unicode.IsSpace(r) }) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line == "" || textWidth(longer, size, bold) <= room {
			line = longer
			continue
		}
		lines = append(lines, shorten(line, size, bold, room))
		line = word
	}
	if line != "" {
		lines = append(lines, shorten(line, size, bold, room))
	}
	return lines
}
