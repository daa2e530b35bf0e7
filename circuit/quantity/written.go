// Writing a value for a file: one spelling for each unit, from characters that
// every keyboard has (the degree sign alone is kept, since a bare C could be a
// name), so that a file can be searched and compared line by line.

package quantity

import (
	"strconv"
	"strings"
)

// typed turns what people are shown into what is typed into a file.
var typed = strings.NewReplacer(unitSpace, " ", groupSpace, "", minusSign, "-", "Ω", "ohm", "µ", "u", "mm²", "mm2")

// Written writes value, given in the base unit of d, as a file spells it:
// Written(0.015, Ohms) is "15 mohm". Parse gives exactly the same value back.
// Areas are written in mm2; see Gauge for those of wire gauges.
func Written(value float64, d Dimension) string { return typed.Replace(Format(value, d, 0)) }

// Gauge names the American wire gauge whose area is exactly areaMM2, such as
// "18 AWG" or "4/0 AWG"; false where there is none.
func Gauge(areaMM2 float64) (name string, ok bool) {
	for n := -3; n <= 40; n++ {
		if GaugeArea(n) == areaMM2 {
			return gaugeName(n), true
		}
	}
	return "", false
}

func gaugeName(n int) string {
	if n < 1 {
		return strconv.Itoa(1-n) + "/0 AWG"
	}
	return strconv.Itoa(n) + " AWG"
}

// written is how a file spells each family of units, prefixes apart.
var written = [dimensions]map[string]string{
	Volts:             {"v volt volts": "V"},
	Amperes:           {"a amp amps ampere amperes": "A"},
	Ohms:              {"Ω ohm ohms": "ohm"},
	Watts:             {"w watt watts": "W"},
	Metres:            {"m metre metres meter meters": "m", "ft foot feet '": "ft", "in inch inches \"": "in", "yd yard yards": "yd"},
	SquareMillimetres: {"mm2 sqmm mmsq squaremillimetre squaremillimetres squaremillimeter squaremillimeters": "mm2", "cm2 sqcm": "cm2", "kcmil mcm": "kcmil"},
	Celsius:           {"°c c degc degreesc celsius degreescelsius": "°C", "°f f degf degreesf fahrenheit degreesfahrenheit": "°F", "k kelvin kelvins": "K"},
	Newtons:           {"n newton newtons": "N", "lbf lb": "lbf", "gf": "gf", "kgf": "kgf"},
	Seconds:           {"s sec secs second seconds": "s", "min mins minute minutes": "min", "h hr hrs hour hours": "h"},
	Farads:            {"f farad farads": "F"},
	Henries:           {"h henry henries henrys": "H"},
	Percent:           {"% percent pct": "%"},
	Millimetres:       {"mm": "mm", "cm": "cm", "um": "um", "m metre metres meter meters": "m", "in inch inches \"": "in"},
}

// Respell writes text, a value that Parse takes as d, in the one spelling of
// its unit, and leaves its digits as they are typed: "1,8Ω" becomes "1.8 ohm",
// "2.0metres" "2.0 m". The trailing zero says how well a length is known, and
// the unit stands on the diagram; neither is changed. The value is exactly the
// same before and after: text that cannot be kept so, or is no such value, is
// given back as it is.
func Respell(text string, d Dimension) string {
	was, err := Parse(text, d)
	if err != nil {
		return text
	}
	for _, again := range respellings(tidy(text), d) {
		if is, err := Parse(again, d); err == nil && is == was {
			return again
		}
	}
	return text
}

// respellings are the ways to write a value again, the one to be preferred first.
func respellings(clean string, d Dimension) []string {
	if area, ok, _ := gauge(clean); ok && d == SquareMillimetres {
		if name, _ := Gauge(area); strings.Contains(strings.ToLower(clean), "awg") {
			return []string{name}
		}
		return nil // "18 gauge" may be another gauge to the person who wrote it
	}
	if value, ok := lettered(clean, d); ok {
		return []string{Written(value, d)}
	}
	number, rest, problem := cutNumber(clean)
	if problem != "" {
		return nil
	}
	digits := strings.TrimSuffix(number.digits, ".")
	if strings.HasPrefix(strings.TrimPrefix(digits, "-"), ".") {
		digits = strings.Replace(digits, ".", "0.", 1)
	}
	if number.exponent != 0 {
		digits += "e" + strconv.Itoa(number.exponent)
	}
	unit, ok := unitAgain(strings.TrimSuffix(strings.ReplaceAll(rest, " ", ""), "."), d)
	if !ok { // a centivolt has no letters of its own
		value, _ := Parse(clean, d)
		return []string{Written(value, d)}
	}
	return []string{strings.TrimSpace(digits + " " + unit)}
}

// unitAgain finds the spelling of a unit that files use, a prefix included.
func unitAgain(spelled string, d Dimension) (string, bool) {
	want, known := find(d, spelled)
	if !known {
		return spelled, d == Number
	}
	for family, name := range written[d] {
		if u, _ := find(d, strings.Fields(family)[0]); u == want {
			return name, true
		}
	}
	for _, prefix := range []string{"p", "n", "u", "m", "c", "k", "M", "G"} {
		name := prefix + written[d][bases[d][0].spellings]
		if u, ok := find(d, name); ok && u == want {
			return name, true
		}
	}
	return "", false
}
