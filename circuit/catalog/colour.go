// Wire colours by their IEC 60757 codes.

package catalog

import (
	"slices"
	"strings"
)

// Colour is a colour code and its name.
type Colour struct{ Code, Name string }

// colours in the order of the standard's table.
var colours = []Colour{
	{"BK", "black"}, {"BN", "brown"}, {"RD", "red"}, {"OG", "orange"}, {"YE", "yellow"}, {"GN", "green"}, {"BU", "blue"}, {"VT", "violet"},
	{"GY", "grey"}, {"WH", "white"}, {"PK", "pink"}, {"GD", "gold"}, {"TQ", "turquoise"}, {"SR", "silver"},
}

// Colours lists the codes.
func Colours() []Colour { return slices.Clone(colours) }

// ColourName spells out a code, with a stripe after a slash as on vehicle
// diagrams: "RD/WH" is "red with white". False when a part is no code.
func ColourName(code string) (string, bool) {
	var names []string
	for _, part := range strings.Split(code, "/") {
		i := slices.IndexFunc(colours, func(c Colour) bool { return strings.EqualFold(c.Code, part) })
		if i < 0 {
			return "", false
		}
		names = append(names, colours[i].Name)
	}
	if len(names) > 2 {
		return "", false
	}
	return strings.Join(names, " with "), true
}
