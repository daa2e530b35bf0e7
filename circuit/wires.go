package circuit

// This file reads what stands after "wire": a colour, a size, a length and a metal in any order, or its ohms.

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// wireText is what a wire step says.
type wireText struct {
	colour  string
	areaMM2 float64
	awg     bool
	metres  float64
	metal   string
	ohms    float64
}

// token is one word of a wire's text, or a number with its unit, and where it begins.
type token struct {
	text   string
	offset int
}

// tokens cuts a text at spaces, and puts a number together with the unit that follows it.
func tokens(text string) []token {
	var found []token
	for i := 0; i < len(text); {
		if text[i] == ' ' || text[i] == '\t' {
			i++
			continue
		}
		end := i
		for end < len(text) && text[end] != ' ' && text[end] != '\t' {
			end++
		}
		word := token{text[i:end], i}
		if n := len(found); n > 0 && joins(found[n-1].text, word.text) {
			found[n-1].text = text[found[n-1].offset:end]
		} else {
			found = append(found, word)
		}
		i = end
	}
	return found
}

// joins says that two words are one value: a bare number and its unit, what was meant for a number and its unit, or AWG
// and its number.
func joins(first, second string) bool {
	if strings.EqualFold(first, "awg") {
		return digitFirst(second)
	}
	if isUnit(second) && unread(first) {
		return true // one slip, told once
	}
	return digitFirst(first) && !strings.ContainsFunc(first, unicode.IsLetter) && !digitFirst(second) && !isMetal(second) &&
		!isCode(second, colourCodes) // 6 FT is a length, 6 RD is not
}

// isUnit says that a word is a unit by itself.
func isUnit(word string) bool {
	_, ok := valueMeant(word)
	return ok && !digitFirst(word)
}

// unread says that a word was meant for a number and is none: inf, 1.2.3, l5.
func unread(word string) bool {
	if isColour(word) || isMetal(word) || !strings.ContainsAny(word, "0123456789") {
		_, err := strconv.ParseFloat(word, 64)
		return err == nil // nan and inf
	}
	for _, d := range []quantity.Dimension{quantity.SquareMillimetres, quantity.Metres, quantity.Ohms} {
		if _, err := quantity.Parse(word, d); err == nil {
			return false
		}
	}
	return true
}

func digitFirst(word string) bool {
	return word != "" && (word[0] >= '0' && word[0] <= '9' || strings.ContainsRune(".+-", rune(word[0])))
}

func isMetal(word string) bool {
	return contains(Metals(), word)
}

// isColour says that a word is made like a colour code, right or wrong.
func isColour(word string) bool {
	return strings.Contains(word, "/") && !digitFirst(word) || len(word) == 2 && strings.ToUpper(word) == word && unicode.IsLetter(rune(word[0])) || word == "GNYE"
}

// readWireText reads what a wire step says. Node is where the text stands; its value is the text.
func (r *reader) readWireText(node *yaml.Node) (wireText, bool) {
	var w wireText
	ok := true
	for _, t := range tokens(node.Value) {
		ok = r.wireToken(&w, t, r.inside(node, t.offset)) && ok
	}
	if w.ohms > 0 && (w.areaMM2 > 0 || w.metres > 0 || w.metal != "") {
		r.wrong(position(node), "a wire with its own ohms has no size, length or metal", "Give the ohms, or the size and length")
		return w, false
	}
	return w, ok
}

// twice tells of a thing said two times over.
func (r *reader) twice(at Pos, what, text string) bool {
	r.wrong(at, fmt.Sprintf("%s is a second %s for this wire", clip(text), what), "Keep one of the two")
	return false
}

// wireToken reads one word of a wire's text.
func (r *reader) wireToken(w *wireText, t token, at Pos) bool {
	bare, comma := strings.CutSuffix(t.text, ",")
	meant, metal := metalsMeant[strings.ToLower(t.text)]
	switch {
	case metal:
		r.wrong(at, clip(t.text)+" is no metal of a wire", "Write "+meant)
		return false
	case comma:
		r.wrong(at, fmt.Sprintf("a comma stands after %s", clip(bare)), "What is said of a wire is set apart by spaces only")
		return false
	case isMetal(t.text):
		if w.metal != "" {
			return r.twice(at, "metal", t.text)
		}
		w.metal = strings.Replace(t.text, "aluminum", string(catalog.Aluminium), 1)
		return true
	case digitFirst(t.text) || strings.HasPrefix(strings.ToLower(t.text), "awg") || strings.ContainsAny(t.text, " \t"):
		return r.wireValue(w, t.text, at)
	case w.colour != "" && isColour(t.text):
		r.wrong(at, fmt.Sprintf("%s is a second colour for this wire", clip(t.text)), "A stripe stands after a slash: "+w.colour+"/"+t.text)
		return false
	}
	colour, ok := r.wireColour(t.text, at)
	w.colour = colour
	return ok
}

// wireValue reads a size, a length or ohms.
func (r *reader) wireValue(w *wireText, text string, at Pos) bool {
	if area, err := quantity.Parse(text, quantity.SquareMillimetres); err == nil {
		if w.areaMM2 != 0 {
			return r.twice(at, "size", text)
		}
		w.areaMM2, w.awg = area, isGauge(text)
		return r.within(at, "size", text, area, thinnestMM2, thickestMM2, quantity.SquareMillimetres)
	}
	if metres, err := quantity.Parse(text, quantity.Metres); err == nil {
		if w.metres != 0 {
			return r.twice(at, "length", text)
		}
		if metres < shortestMetres && strings.HasSuffix(text, "mm") {
			r.wrong(at, fmt.Sprintf("a wire's length cannot be %s", clip(text)), "Its size is written with a 2: "+text+"2")
			return false
		}
		w.metres = metres
		return r.within(at, "length", text, metres, shortestMetres, longestMetres, quantity.Metres)
	}
	if ohms, err := quantity.Parse(text, quantity.Ohms); err == nil {
		if w.ohms != 0 {
			return r.twice(at, "resistance", text)
		}
		w.ohms = ohms
		return r.within(at, "resistance", text, ohms, leastWireOhms, mostWireOhms, quantity.Ohms)
	}
	if meant, ok := valueMeant(text); ok {
		r.measure("wire", text, at, meant, true)
		return false
	}
	hint := "Write sizes like 0.75 mm2 or 18 AWG, lengths like 2.4 m or 8 ft, ohms like 15 mohm"
	if _, err := strconv.Atoi(text); err == nil { // what is left of 1,5 mm2 in a list
		hint += "; decimals with a point, as 1.5 mm2: a comma ends what is said of the wire"
	}
	r.wrong(at, fmt.Sprintf("%s is no size, length or resistance of a wire", clip(text)), hint)
	return false
}

// isGauge says that a size is given as a wire gauge: 18 AWG, 18 ga, 18 gauge.
func isGauge(text string) bool { return strings.Contains(strings.ToLower(text), "g") }

// within refuses values that can only be slips.
func (r *reader) within(at Pos, what, text string, value, least, most float64, dimension quantity.Dimension) bool {
	if value >= least && value <= most {
		return true
	}
	r.wrong(at, fmt.Sprintf("a wire's %s cannot be %s", what, clip(text)), fmt.Sprintf("It can be %s to %s", quantity.Format(least, dimension, 3), quantity.Format(most, dimension, 3)))
	return false
}

// valueMeant tells by its unit what a number was meant to be that cannot be read.
func valueMeant(text string) (quantity.Dimension, bool) {
	unit := strings.ToLower(strings.TrimLeft(text, "0123456789.,+- "))
	switch unit {
	case "mm2", "mm²", "awg", "sq", "square", "mmq", "qmm":
		return quantity.SquareMillimetres, true
	case "m", "cm", "ft", "in":
		return quantity.Metres, true
	case "ohm", "mohm", "Ω", "mΩ":
		return quantity.Ohms, true
	}
	return 0, false
}

// wireColour reads a colour code, a stripe after a slash.
func (r *reader) wireColour(text string, at Pos) (string, bool) {
	codes := colourCodes
	names := make([]string, 0, len(codes))
	for _, c := range catalog.Colours() {
		names = append(names, c.Name)
	}
	if isCode(text, codes) {
		return text, true
	}
	if upper := strings.ToUpper(text); upper != text && isCode(upper, codes) {
		r.wrong(at, clip(text)+" is no colour code", "Write "+upper)
		return "", false
	}
	if meant, known := coloursMeant[strings.ToUpper(text)]; known {
		r.wrong(at, clip(text)+" is no colour code", "Write "+meant)
		return "", false
	}
	for i, name := range names {
		if strings.EqualFold(text, name) {
			r.wrong(at, clip(text)+" is no colour code", "Write "+codes[i]+" for "+name)
			return "", false
		}
	}
	if len(text) == 4 && contains(codes, text[:2]) && contains(codes, text[2:]) {
		r.wrong(at, clip(text)+" is no colour code", "A stripe stands after a slash: "+text[:2]+"/"+text[2:])
		return "", false
	}
	r.wrong(at, fmt.Sprintf("%s is no colour, size, length, metal or resistance of a wire", clip(text)),
		r.ask(text, append(append(codes, names...), "copper", "aluminium"), "The colours are "+strings.Join(codes, ", ")+", a stripe after a slash like RD/WH"))
	return "", false
}

// colourCodes are those of the catalogue.
var colourCodes = func() []string {
	var codes []string
	for _, c := range catalog.Colours() {
		codes = append(codes, c.Code)
	}
	return codes
}()

// isCode says that a text is a colour code with at most one stripe. GNYE is the one pair that the standard writes
// without a slash.
func isCode(text string, codes []string) bool {
	base, stripe, striped := strings.Cut(text, "/")
	return text == "GNYE" || contains(codes, base) && (!striped || contains(codes, stripe))
}

// build makes a wire out of what its step says and the values that stand for what it leaves out.
func (w wireText) build(celsius float64) *Wire {
	wire := &Wire{Colour: w.colour, Metal: w.metal}
	if wire.Metal == "" {
		wire.Metal = wireMetal
	}
	if w.ohms > 0 {
		wire.Ohms = w.ohms
		return wire
	}
	wire.AreaMM2, wire.AWG, wire.Metres = w.areaMM2, w.awg, w.metres
	if wire.AreaMM2 == 0 {
		wire.AreaMM2, wire.Unsaid = wireAreaMM2, true
	}
	if wire.Metres == 0 {
		wire.Metres = wireMetres
	}
	wire.Ohms = wire.Metres * catalog.WireOhmsPerMetre(wire.AreaMM2, catalog.Metal(wire.Metal), celsius)
	return wire
}
