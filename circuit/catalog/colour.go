// Wire colours by their IEC 60757 codes.

package catalog

import "slices"

// Colour is a colour code and its name.
type Colour struct{ Code, Name string }

// colours in the order of the standard's table.
var colours = []Colour{
	{"BK", "black"}, {"BN", "brown"}, {"RD", "red"}, {"OG", "orange"}, {"YE", "yellow"}, {"GN", "green"}, {"BU", "blue"}, {"VT", "violet"},
	{"GY", "grey"}, {"WH", "white"}, {"PK", "pink"}, {"GD", "gold"}, {"TQ", "turquoise"}, {"SR", "silver"},
}

// Colours lists the codes.
func Colours() []Colour { return slices.Clone(colours) }
