// The spellings of units. A symbol's prefix keeps its case, because mohm and
// Mohm differ by a thousand million; the rest of a spelling does not.

package quantity

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// unit turns a number as written into the base unit: value = (number·10^power)·times + plus.
type unit struct {
	power       int
	times, plus float64
}

// base is a spelling family: the letters after a prefix, and which prefixes go with it.
type base struct {
	spellings string // space-separated, lower case
	prefixes  string // one-letter prefixes that may stand before it
	words     bool   // whether milli-, kilo- ... may stand before it
	unit      unit
}

var prefixPower = map[string]int{"p": -12, "n": -9, "u": -6, "m": -3, "c": -2, "k": 3, "K": 3, "M": 6, "G": 9}

var wordPower = map[string]int{"pico": -12, "nano": -9, "micro": -6, "milli": -3, "centi": -2, "kilo": 3, "mega": 6, "meg": 6, "giga": 9}

var one = unit{0, 1, 0}

// Sources of the factors: the inch (25.4 mm), foot, pound-force and kilogram-
// force are exact by definition; the circular mil is π/4 of a square mil.
var bases = [dimensions][]base{
	Volts:   {{"v volt volts", "pnumkKM", true, one}},
	Amperes: {{"a amp amps ampere amperes", "pnumkKM", true, one}},
	Ohms:    {{"Ω ohm ohms", "numkKMG", true, one}, {"r", "", false, one}, {"k", "", false, unit{3, 1, 0}}},
	Watts:   {{"w watt watts", "pnumkKM", true, one}},
	Metres: {{"m metre metres meter meters", "umck", true, one},
		{"ft foot feet '", "", false, unit{0, 0.3048, 0}}, {"in inch inches \"", "", false, unit{0, 0.0254, 0}},
		{"yd yard yards", "", false, unit{0, 0.9144, 0}}},
	SquareMillimetres: {{"mm2 sqmm mmsq squaremillimetre squaremillimetres squaremillimeter squaremillimeters", "", false, one},
		{"cm2 sqcm", "", false, unit{2, 1, 0}},
		{"kcmil mcm", "", false, unit{0, 0.506707479, 0}}},
	Celsius: {{"°c c degc degreesc celsius degreescelsius", "", false, one},
		{"°f f degf degreesf fahrenheit degreesfahrenheit", "", false, unit{0, 5.0 / 9, -160.0 / 9}},
		{"k kelvin kelvins", "", false, unit{0, 1, -273.15}}},
	Newtons: {{"n newton newtons", "mk", true, one},
		{"lbf lb", "", false, unit{0, 4.4482216152605, 0}},
		{"gf", "", false, unit{0, 0.00980665, 0}}, {"kgf", "", false, unit{0, 9.80665, 0}}},
	Seconds: {{"s sec secs second seconds", "pnum", true, one},
		{"min mins minute minutes", "", false, unit{0, 60, 0}}, {"h hr hrs hour hours", "", false, unit{0, 3600, 0}}},
	Farads:      {{"f farad farads", "pnum", true, one}},
	Henries:     {{"h henry henries henrys", "pnum", true, one}},
	AmpereHours: {{"ah amphour amphours amperehour amperehours amp-hour amp-hours ampere-hour ampere-hours", "mk", true, one}},
	Percent:     {{"% percent pct", "", false, unit{-2, 1, 0}}},
	Millimetres: {{"mm", "", false, one}, {"m metre metres meter meters", "", false, unit{3, 1, 0}},
		{"cm", "", false, unit{1, 1, 0}}, {"um", "", false, unit{-3, 1, 0}},
		{"millimetre millimetres millimeter millimeters", "", false, one},
		{"in inch inches \"", "", false, unit{0, 25.4, 0}}},
}

// table is every spelling of one dimension: as written with its prefix, and
// folded to lower case where only one meaning is left.
type table struct {
	exact, folded map[string]unit
}

var tables = spell()

func spell() [dimensions]table {
	var all [dimensions]table
	for d := range all {
		all[d] = spellOne(Dimension(d))
	}
	return all
}

func spellOne(d Dimension) table {
	t := table{map[string]unit{}, map[string]unit{}}
	for _, b := range bases[d] {
		for _, s := range strings.Fields(b.spellings) {
			t.exact[s] = b.unit
			for _, p := range b.prefixes {
				t.exact[string(p)+s] = b.unit.scaled(prefixPower[string(p)])
			}
			if b.words && utf8.RuneCountInString(s) > 1 {
				for word, power := range wordPower {
					t.exact[word+s] = b.unit.scaled(power)
				}
			}
		}
	}
	clash := map[string]bool{}
	for s, u := range t.exact {
		low := strings.ToLower(s)
		if other, met := t.folded[low]; met && other != u {
			clash[low] = true
		}
		t.folded[low] = u
	}
	for low := range clash {
		delete(t.folded, low)
	}
	if d == Ohms {
		t.exact["M"] = unit{6, 1, 0} // 10M on a diagram; never folded, as m alone means metres
	}
	return t
}

func (u unit) scaled(power int) unit {
	u.power += power
	return u
}

// find gives the unit a spelling stands for in dimension d.
func find(d Dimension, spelling string) (unit, bool) {
	t := tables[d]
	if u, ok := t.exact[spelling]; ok {
		return u, true
	}
	first, size := utf8.DecodeRuneInString(spelling)
	if _, prefix := prefixPower[string(first)]; prefix {
		if u, ok := t.exact[string(first)+strings.ToLower(spelling[size:])]; ok {
			return u, true
		}
	}
	u, ok := t.folded[strings.ToLower(spelling)]
	return u, ok
}

// spellings lists every accepted spelling of d in order, for suggestions.
func spellings(d Dimension) []string {
	list := make([]string, 0, len(tables[d].exact))
	for s := range tables[d].exact {
		list = append(list, s)
	}
	sort.Strings(list)
	return list
}
