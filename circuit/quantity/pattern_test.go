// The patterns against Parse: what it takes they match, and what they match it takes but for its size.

package quantity

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"unicode"
)

// sizes are the ends of Parse's messages about a value that is well written and not believed.
var sizes = []string{"larger than", "too small to matter", "below absolute zero", "exponent is far out", "too long for a number",
	"cannot have 0 below the line"}

func refusedForSize(err error) bool {
	var refused *ParseError
	if !errors.As(err, &refused) {
		return false
	}
	for _, words := range sizes {
		if strings.Contains(refused.Problem, words) {
			return true
		}
	}
	return false
}

func patterns() (signed, unsigned [dimensions]*regexp.Regexp) {
	for d := range dimensions {
		signed[d], unsigned[d] = regexp.MustCompile(Pattern(d, true)), regexp.MustCompile(Pattern(d, false))
	}
	return signed, unsigned
}

// agree checks one text against one dimension.
func agree(text string, d Dimension, pattern *regexp.Regexp) error {
	_, err := Parse(text, d)
	var refused *ParseError
	below := errors.As(err, &refused) && strings.Contains(refused.Problem, "below zero")
	switch match := pattern.MatchString(text); {
	case err == nil && !match:
		return fmt.Errorf("%v: Parse takes %q and the pattern does not", d, text)
	case err != nil && match && !below && !refusedForSize(err):
		return fmt.Errorf("%v: the pattern takes %q and Parse says: %v", d, text, err)
	}
	return nil
}

// Every spelling of every unit, in three cases, behind every way to write a number.
func TestPatternTakesEverySpelling(t *testing.T) {
	signed, unsigned := patterns()
	taken := 0
	for d := range dimensions {
		for _, number := range []string{"7", "1.5", "0.75", "1,5", "12 800", "1,800.5", "1.800,5", "1,800,000", ".5", ",5", "5.", "0,750", "1e3", "+ 4", "1\u202f800"} {
			for _, s := range append(spellings(d), "") {
				for _, unit := range []string{s, strings.ToUpper(s), strings.ToLower(s), strings.Join(strings.Split(s, ""), " ")} {
					for _, gap := range []string{"", " ", "\u00a0", "\t "} {
						text := number + gap + unit
						if err := agree(text, d, signed[d]); err != nil {
							t.Fatal(err)
						}
						if err := agree(" "+text+".\n", d, unsigned[d]); err != nil {
							t.Fatal(err)
						}
						if signed[d].MatchString(text) {
							taken++
						}
					}
				}
			}
		}
	}
	if taken < 10_000 {
		t.Fatalf("only %d texts were taken", taken)
	}
}

// Units of one dimension behind another's numbers, and texts put together at random out of pieces that values have.
func TestPatternRefusesWhatParseRefuses(t *testing.T) {
	signed, _ := patterns()
	random := rand.New(rand.NewPCG(7, 11))
	pieces := []string{"0", "1", "18", "800", "4", "7", ".", ",", " ", " ", "-", "+", "e3", "/0", "/", "k", "M", "R", "m", "µ", "Ω", "ohm", "AWG", "ga", "awg",
		"V", "A", "W", "mm2", "mm²", "°C", "F", "K", "ft", "'", "in", "%", "volt", "amp", "s", "min", "mega", "kilo", "nan", "inf", "x"}
	taken, refused := 0, 0
	for range 20_000 {
		var text string
		for range 1 + random.IntN(6) {
			text += pieces[random.IntN(len(pieces))]
		}
		for d := range dimensions {
			if err := agree(text, d, signed[d]); err != nil {
				t.Fatal(err)
			}
			if signed[d].MatchString(text) {
				taken++
			} else {
				refused++
			}
		}
	}
	if taken < 1000 || refused < 1000 {
		t.Fatalf("%d taken, %d refused", taken, refused)
	}
}

// Without below, no minus sign; everything else is as with it.
func TestPatternBelowZero(t *testing.T) {
	signed, unsigned := patterns()
	for d := range dimensions {
		for _, sign := range []string{"-", "- ", "\u2212", "\u2013"} {
			for _, example := range strings.Split(d.Examples(), ", ") {
				if !unsigned[d].MatchString(example) {
					t.Errorf("%v: %q is an example and not taken", d, example)
				}
				if !strings.HasSuffix(example, "AWG") && !strings.HasSuffix(example, "k") && !signed[d].MatchString(sign+example) {
					t.Errorf("%v: %q is not taken", d, sign+example)
				}
				if !strings.HasSuffix(example, "AWG") && unsigned[d].MatchString(sign+example) {
					t.Errorf("%v: %q is taken", d, sign+example)
				}
			}
		}
	}
}

// A word pattern finds its value among others, and takes nothing that Parse refuses.
func TestWordPattern(t *testing.T) {
	for _, c := range []struct {
		d     Dimension
		text  string
		taken bool
	}{
		{SquareMillimetres, "0.75 mm2", true}, {SquareMillimetres, "0.75mm²", true}, {SquareMillimetres, "18 AWG", true}, {SquareMillimetres, "AWG 4/0", true},
		{SquareMillimetres, "18 gauge", true}, {SquareMillimetres, "gauge 18", false}, {SquareMillimetres, "1 m", false}, {SquareMillimetres, "41 AWG", false},
		{Metres, "2.4 m", true}, {Metres, "8 ft", true}, {Metres, "6'", true}, {Metres, "-2 m", false}, {Metres, "1 500 m", false}, {Metres, "1,500 m", false},
		{Ohms, "15 mohm", true}, {Ohms, "4k7", true}, {Ohms, "15 m ohm", false}, {Ohms, "4 V", false},
	} {
		pattern := regexp.MustCompile("^" + WordPattern(c.d) + "$")
		if pattern.MatchString(c.text) != c.taken {
			t.Errorf("%v: %q taken: %v", c.d, c.text, !c.taken)
		}
		if _, err := Parse(c.text, c.d); c.taken && err != nil {
			t.Errorf("%v", err)
		}
	}
}

// odd texts are those where the pattern is meant to differ: a raised 2 among the digits, which Parse reads as a plain
// one, and control characters at the ends, which Parse trims by its own rules and no file holds.
func odd(text string) bool {
	units := strings.NewReplacer("mm²", "", "mm^2", "", "cm²", "", "cm^2", "")
	return strings.ContainsAny(units.Replace(strings.ToLower(text)), "²^") || strings.ContainsFunc(text, func(c rune) bool {
		return unicode.IsControl(c) && c != '\t' && c != '\n'
	})
}

func FuzzPattern(f *testing.F) {
	for _, s := range []string{"1.8 ohm", "15 mΩ", "1\u202f800\u00a0mΩ", "4k7", "18 AWG", "4/0 AWG", "68 F", "1/16", "1,800 ohm", "\u22125 A", "12 µA", "10 MΩ", "2 K.", "5 .", "+0 awg", "1/\n6", "1\u2003800 V", "5\u2028A", "0/0e4000000"} {
		for d := range dimensions {
			f.Add(s, int(d))
		}
	}
	signed, _ := patterns()
	f.Fuzz(func(t *testing.T, text string, n int) {
		if odd(text) {
			return
		}
		d := Dimension(((n % int(dimensions)) + int(dimensions)) % int(dimensions))
		if err := agree(text, d, signed[d]); err != nil {
			t.Fatal(err)
		}
	})
}
