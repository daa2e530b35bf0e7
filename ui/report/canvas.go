package report

// This file writes SVG, and remembers where every word stands so that none is set over another.

import (
	"fmt"
	"iter"
	"strings"
	"unicode"

	scene "underload/ui/drawing"
	"underload/ui/stairs"
)

// The colours, chosen so that each pair of text and ground is at least 4.6:1 and no meaning rests on hue alone.
const (
	paper, panel       = "#F6F3EC", "#FFFFFF"
	hair, frame        = "#DDD7CA", "#8A8475"
	ink, ink2          = "#1D2430", "#465062"
	loadInk, lightInk  = "#2E3F9E", "#5B4A3A"
	band, bandEdge     = "#CFE1EE", "#9DBBD3"
	alert, alertGround = "#AB3704", "#FCE8DC"
	loadGround         = "#F4EEDD"
)

// label is a line of words and the room it takes.
type label struct {
	stairs.Box
	text string
}

// canvas gathers the elements of a picture.
type canvas struct {
	w, h   float64
	body   strings.Builder
	labels []label
}

// style is how words are set.
type style struct {
	size float64
	bold bool
	fill string
	at   float64 // where x is: 0 at the start of the words, 0.5 in their middle, 1 at their end
	full string  // the words in full where they are shortened
}

// text writes a line of words with its baseline at y.
func (c *canvas) text(x, y float64, s style, words string) {
	wide := textWidth(words, s.size, s.bold)
	c.labels = append(c.labels, label{room(x-s.at*wide, y, wide, s.size), words})
	anchor := map[float64]string{0: "start", 0.5: "middle", 1: "end"}[s.at]
	weight := ""
	if s.bold {
		weight = ` font-weight="bold"`
	}
	title := ""
	if s.full != "" && s.full != words {
		title = "<title>" + scene.ForXML(s.full) + "</title>"
	}
	fmt.Fprintf(&c.body, `<text x="%s" y="%s" font-size="%g" text-anchor="%s" fill="%s"%s>%s%s</text>`+"\n",
		px(x), px(y), s.size, anchor, s.fill, weight, title, scene.ForXML(words))
}

// room is the box of words on a baseline.
func room(x, baseline, wide, size float64) stairs.Box {
	return stairs.Area(x, baseline-0.8*size, wide, size)
}

func (c *canvas) rect(b stairs.Box, fill, more string) {
	fmt.Fprintf(&c.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"%s/>`+"\n", px(b.X), px(b.Y), px(b.W), px(b.H), fill, spaced(more))
}

func (c *canvas) line(x1, y1, x2, y2 float64, stroke, more string) {
	fmt.Fprintf(&c.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s"%s/>`+"\n", px(x1), px(y1), px(x2), px(y2), stroke, spaced(more))
}

func points(spots []stairs.Spot) string {
	texts := make([]string, len(spots))
	for i, s := range spots {
		texts[i] = px(s.X) + "," + px(s.Y)
	}
	return strings.Join(texts, " ")
}

func (c *canvas) polyline(spots []stairs.Spot, stroke, more string) {
	fmt.Fprintf(&c.body, `<polyline points="%s" fill="none" stroke="%s" stroke-linejoin="round"%s/>`+"\n", points(spots), stroke, spaced(more))
}

func (c *canvas) polygon(spots []stairs.Spot, fill, more string) {
	fmt.Fprintf(&c.body, `<polygon points="%s" fill="%s"%s/>`+"\n", points(spots), fill, spaced(more))
}

func spaced(more string) string {
	if more == "" {
		return ""
	}
	return " " + more
}

// px writes a length to a tenth of a pixel.
func px(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
}

// String is the whole picture.
func (c *canvas) String() string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" font-family="sans-serif">`+"\n",
		px(c.w), px(c.h), px(c.w), px(c.h)) + c.body.String() + "</svg>\n"
}

// textWidth estimates the width of words in px. The shares are those of a wide sans-serif face, so that whichever the
// reader's machine has, words take no more room than they were given.
func textWidth(words string, size float64, bold bool) float64 {
	wide := 0.0
	for _, r := range words {
		switch {
		case strings.ContainsRune("iljI|.,:;'!", r):
			wide += 0.34
		case strings.ContainsRune("frt()[]/- \u00a0", r):
			wide += 0.42
		case strings.ContainsRune("mwMW%—►", r):
			wide += 0.98
		case r == '\u202f':
			wide += 0.2
		case unicode.IsUpper(r) || strings.ContainsRune("±−–<>+=~", r):
			wide += 0.76
		case r < 0x2e80:
			wide += 0.64
		default:
			wide += 1
		}
	}
	if bold {
		wide *= 1.12
	}
	return wide * size
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
	return strings.TrimRight(string(letters), " ") + "…"
}

// wrap breaks words at plain spaces into lines no wider than room.
func wrap(words string, size float64, bold bool, room float64) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(words, " ") {
		if word == "" {
			continue
		}
		word = shorten(word, size, bold, room)
		switch {
		case line == "":
			line = word
		case textWidth(line+" "+word, size, bold) > room:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// words are the words between plain spaces.
func words(text string) iter.Seq[string] { return strings.SplitSeq(text, " ") }
