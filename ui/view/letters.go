package view

// This file says how wide words are, read from the very faces that they are set in, and breaks them into lines.

import (
	"strings"
	"sync"

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

// wrap breaks words into lines no wider than room; no more than so many, the last one cut short where there are more.
func wrap(words string, size float64, bold bool, room float64, most int) []string {
	var lines []string
	line := ""
	rest := strings.Fields(strings.ReplaceAll(words, "\u00a0", "\u2007"))
	for i := range rest {
		rest[i] = strings.ReplaceAll(rest[i], "\u2007", "\u00a0")
	}
	for i, word := range rest {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line == "" || textWidth(longer, size, bold) <= room {
			line = longer
			continue
		}
		if len(lines) == most-1 {
			lines = append(lines, shorten(line+" "+strings.Join(rest[i:], " "), size, bold, room))
			return lines
		}
		lines = append(lines, shorten(line, size, bold, room))
		line = word
	}
	if line != "" {
		lines = append(lines, shorten(line, size, bold, room))
	}
	return lines
}
