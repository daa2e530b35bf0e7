// Reading a value with its unit, and saying plainly why one was refused.

package quantity

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"underload/circuit/spelling"
)

// longest is the most bytes of text Parse looks at: longer is no quantity.
const longest = 80

// ParseError tells why a text is not a value of the wanted dimension.
type ParseError struct {
	Text    string    // as given, shortened
	Want    Dimension // what was asked for
	Problem string    // what is wrong
	Advice  string    // what to write instead
}

func (e *ParseError) Error() string {
	return fmt.Sprintf("%q is not %s: %s; %s", e.Text, traits[e.Want].kind, e.Problem, e.Advice)
}

// refuse makes the error; an empty advice names the accepted spellings.
func refuse(text string, want Dimension, problem, advice string) error {
	if advice == "" {
		advice = "write it like " + traits[want].examples
	}
	return &ParseError{text, want, problem, advice}
}

// Parse reads text as a value of dimension want and gives it in base units
// (see Dimension; percent as a fraction, a wire gauge as mm²). Any failure is a
// *ParseError; a want that is no Dimension panics, being the caller's mistake.
func Parse(text string, want Dimension) (float64, error) {
	if !want.known() {
		panic("quantity: no such dimension")
	}
	if len(text) > longest {
		return 0, refuse(shorten(text), want, "it is too long for a number and a unit", "")
	}
	if !utf8.ValidString(text) {
		return 0, refuse(text, want, "it holds bytes that are not text", "")
	}
	clean := tidy(text)
	if clean == "" {
		return 0, refuse(text, want, "nothing is written", "")
	}
	if strings.ContainsFunc(clean, unicode.IsControl) || strings.ContainsAny(clean, "\u2028\u2029") {
		return 0, refuse(text, want, "a line ends in it, or it holds a character that does not print", "")
	}
	if value, ok, problem := special(clean, want); ok {
		return bounded(text, want, value)
	} else if problem != "" {
		return 0, refuse(text, want, problem, "")
	}
	number, rest, problem := cutNumber(clean)
	if problem != "" {
		return 0, refuse(text, want, problem, "")
	}
	u, err := unitOf(text, number, rest, want)
	if err != nil {
		return 0, err
	}
	value := number.float(u.power)
	if u.times != 1 || u.plus != 0 {
		value = value*u.times + u.plus
	}
	return bounded(text, want, value)
}

func shorten(text string) string {
	cut := 24
	for cut > 0 && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}

// sameSign folds characters that look alike or mean the same into one.
var sameSign = strings.NewReplacer(
	"\u2212", "-", "\u2013", "-", // minus, en dash
	"\u2126", "Ω", "ω", "Ω", // ohm sign
	"\u00b5", "u", "\u03bc", "u", // micro sign, Greek mu
	"º", "°", "\u2032", "'", "\u2019", "'", "\u2033", "\"", "\u2044", "/",
)

// squares are the ways to write the 2 of mm2; a raised 2 elsewhere is part of no value.
var squares = regexp.MustCompile(`([mM] *)(?:²|\^2)`)

func tidy(text string) string {
	return strings.TrimSpace(squares.ReplaceAllString(sameSign.Replace(strings.Map(blank, text)), "${1}2"))
}

// blank makes any space of print, wide or narrow, and the tab a plain space.
func blank(c rune) rune {
	if c == '\t' || unicode.Is(unicode.Zs, c) {
		return ' '
	}
	return c
}

// special reads the forms that are not a number followed by a unit: wire
// gauges, fractions, and resistances with the letter at the decimal point.
func special(clean string, want Dimension) (value float64, ok bool, problem string) {
	switch want {
	case SquareMillimetres:
		return gauge(clean)
	case Number:
		return fraction(clean)
	case Ohms, Volts:
		value, ok = lettered(clean, want)
	}
	return value, ok, ""
}

// gauge reads "18 AWG", "AWG 18", "4/0 AWG", "0000 AWG" as the conductor area
// in mm². Formula of ASTM B258 (from memory; it reproduces the printed tables):
// d = 0.127 mm · 92^((36−n)/39), 4/0 being n = −3.
func gauge(clean string) (areaMM2 float64, ok bool, problem string) {
	low := strings.ToLower(clean)
	size := ""
	for _, name := range []string{"awg", "gauge", "ga"} {
		if rest, cut := strings.CutSuffix(low, name); cut {
			size = rest
			break
		}
		if rest, cut := strings.CutPrefix(low, name); cut {
			size = rest
			break
		}
	}
	size = strings.Trim(size, " -")
	if size == "" {
		return 0, false, ""
	}
	n, err := strconv.Atoi(size)
	if zeros, slash := strings.CutSuffix(size, "/0"); slash {
		n, err = strconv.Atoi(zeros)
		n = 1 - n
		if n > 0 || n < -3 {
			return 0, false, "such wire gauges run from 4/0 to 1/0"
		}
	} else if strings.Trim(size, "0") == "" {
		n = 1 - len(size)
	}
	if err != nil || n < -3 || n > 40 {
		return 0, false, "wire gauges run from 4/0 to 40 AWG"
	}
	return GaugeArea(n), true, ""
}

// GaugeArea gives the area in mm² of American wire gauge n, where 1/0 to 4/0
// are 0 to −3: π/4·d² with d = 0.127 mm · 92^((36−n)/39) (ASTM B258, formula
// from memory).
func GaugeArea(n int) float64 {
	diameter := 0.127 * math.Pow(92, float64(36-n)/39)
	return math.Pi / 4 * diameter * diameter
}

// fraction reads "1/16".
func fraction(clean string) (value float64, ok bool, problem string) {
	over, under, slash := strings.Cut(clean, "/")
	if !slash {
		return 0, false, ""
	}
	a, restA, problemA := cutNumber(strings.TrimSpace(over))
	b, restB, problemB := cutNumber(strings.TrimSpace(under))
	switch {
	case problemA == farOut || problemB == farOut:
		return 0, false, farOut
	case problemA+problemB+restA+restB != "":
		return 0, false, "a fraction is two numbers, like 1/16"
	}
	if b.float(0) == 0 {
		return 0, false, "a fraction cannot have 0 below the line"
	}
	return a.float(0) / b.float(0), true, ""
}

// pointLetters are the letters that may stand where the decimal point would be, with the power of ten each means.
// IEC 60062 has them for resistances; 12V6 for 12.6 V is common practice, no source.
var pointLetters = map[Dimension]map[byte]int{
	Ohms:  {'R': 0, 'r': 0, 'k': 3, 'K': 3, 'M': 6},
	Volts: {'V': 0, 'v': 0},
}

// lettered reads 4k7, 1R8, 2M2, 12V6.
func lettered(clean string, want Dimension) (float64, bool) {
	i := strings.IndexFunc(clean, func(c rune) bool { return c > '9' })
	if i < 1 || i+1 == len(clean) {
		return 0, false
	}
	power, is := pointLetters[want][clean[i]]
	if !is || strings.ContainsFunc(clean[:i]+clean[i+1:], func(c rune) bool { return c < '0' || c > '9' }) {
		return 0, false
	}
	return decimal{clean[:i] + "." + clean[i+1:], 0}.float(power), true
}

// unitOf finds the unit that rest spells, or tells what rest is instead.
func unitOf(text string, number decimal, rest string, want Dimension) (unit, error) {
	if rest == "" {
		if want == Number {
			return one, nil
		}
		return unit{}, refuse(text, want, "the unit is missing", "")
	}
	joined := strings.TrimSuffix(strings.ReplaceAll(rest, " ", ""), ".")
	if u, ok := find(want, joined); ok {
		return u, nil
	}
	if found := otherKinds(joined, want); found != "" {
		return unit{}, refuse(text, want, fmt.Sprintf("%q makes it %s, and %s is wanted", rest, found, traits[want].kind), "")
	}
	if isDigit(rest[0]) || strings.HasPrefix(rest, ".") || strings.HasPrefix(rest, ",") {
		return unit{}, refuse(text, want, "the digits do not make one number", "")
	}
	if near, ok := nearestUnit(joined, want); ok {
		return unit{}, refuse(text, want, fmt.Sprintf("the unit %q is not known", rest), fmt.Sprintf("did you mean %q?", near))
	}
	return unit{}, refuse(text, want, fmt.Sprintf("the unit %q is not known", rest), "")
}

// nearestUnit gives the unit that was probably meant. Areas are also called by the bare word square.
func nearestUnit(spelled string, want Dimension) (string, bool) {
	if low := strings.ToLower(spelled); want == SquareMillimetres && (low == "sq" || low == "square" || low == "mmq" || low == "qmm") {
		return "mm2", true
	}
	return spelling.Nearest(spelled, spellings(want))
}

// otherKinds names the dimensions in which spelling is a unit, "" when none.
func otherKinds(spelled string, want Dimension) string {
	var kinds []string
	for d := range dimensions {
		if _, ok := find(d, spelled); ok && d != want {
			kinds = append(kinds, traits[d].kind)
		}
	}
	if _, awg, _ := gauge("18" + spelled); awg && want != SquareMillimetres {
		kinds = append(kinds, traits[SquareMillimetres].kind)
	}
	return strings.Join(kinds, " or ")
}

// bounded refuses sizes that no vehicle circuit has.
func bounded(text string, want Dimension, value float64) (float64, error) {
	t := traits[want]
	switch {
	case math.IsNaN(value):
		return 0, refuse(text, want, "it is not a number", "")
	case math.Abs(value) > t.largest:
		problem := fmt.Sprintf("it is larger than %s, the most that is believed", Format(t.largest, want, 0))
		if strings.Contains(text, "M") {
			return 0, refuse(text, want, problem, "did you mean m (a thousandth), not M (a million)?")
		}
		return 0, refuse(text, want, problem, "check the size and the unit")
	case value != 0 && math.Abs(value) < smallest:
		return 0, refuse(text, want, "it is too small to matter anywhere", "write 0 if nothing is meant")
	case value < 0 && !t.signed:
		return 0, refuse(text, want, "it is below zero", "write it without the minus sign")
	case want == Celsius && value < -273.15:
		return 0, refuse(text, want, "it is below absolute zero (\u2212273.15 °C)", "")
	}
	return value, nil
}
