// Where every table of the package is from, in one place.

// Package catalog holds the published tables of the trade as data: wires,
// fuses, bulbs, terminals, relays, instruments. Each table names its Source
// and how that was seen; a figure without a published source says so. All
// figures are nominal: the vehicle maker's own data come first.
package catalog

import "slices"

// Seen says how a source was seen when its figures were taken over.
type Seen string

// The ways a figure came here, from the best to the weakest.
const (
	Read       Seen = "read"                       // the document itself, or the page that publishes it
	SecondHand Seen = "read second-hand"           // quoted by another document that was read
	Derived    Seen = "worked out from the above"  // by the rule given at the place
	Memory     Seen = "from memory, not seen"      // to be checked before it is relied on
	Practice   Seen = "common practice, no source" // what the trade reckons with
)

// Source names where figures are from.
type Source struct {
	Name string
	Seen Seen
}

// String gives the source as it is printed beside a figure.
func (s Source) String() string {
	if s.Name == "" {
		return string(s.Seen)
	}
	return s.Name + " (" + string(s.Seen) + ")"
}

// The sources of the tables.
var (
	fromPractice = Source{"", Practice}

	copperSource    = Source{"IEC 60028, quoted in an encyclopedia's page on the annealed copper standard", SecondHand}
	aluminiumSource = Source{"Industrial Power Engineering and Applications Handbook, p. 970", Read}
	roadWireSource  = Source{"ISO 6722-1, largest resistance at 20 °C", Memory}
	class5Source    = Source{"IEC 60228 / DIN VDE 0295 class 5, from two public conductor tables", SecondHand}

	miniatureSource = Source{"a fuse maker's data sheet, 297 series, miniature blade, 32 V, ISO 8820-3", Read}
	standardSource  = Source{"a fuse maker's data sheet, 287 series, standard blade, transcribed", SecondHand}
	largeSource     = Source{"a fuse maker's data sheet, 299 series, large blade, transcribed", SecondHand}
	scaledSource    = Source{"R = a·I^k through the neighbouring ratings of the same type", Derived}

	regulation37     = Source{"UN Regulation 37", Memory}
	regulation37Py   = Source{"UN Regulation 37, supplement 41 proposal, GRE/2012/34", Read}
	directive97      = Source{"Directive 97/24/EC, annex sheet", Read}
	informal54       = Source{"UN informal document GRE-54-7", Read}
	halogenListed    = Source{"an encyclopedia's list of lamp types", SecondHand}
	tradeNumberRead  = Source{"a lamp data web page", Read}
	tradeNumberKnown = Source{"SAE/ANSI trade number", Memory}

	terminalSpec108   = Source{"maker's product specification 108-2043, sixth withdrawal; pair ohms: " + string(Practice), Read}
	smallTerminalSpec = Source{"maker's product specification 108-20090, and a connector catalogue", Read}

	dropLimitSource = Source{"a printed repair manual quoting SAE guideline figures", SecondHand}
	starterSource   = Source{"several training pages; other pages allow up to 1.0 V", Read}
	relaySource     = Source{"a maker's data sheet of a mini-ISO relay, contact numbers of ISO 7588-1", Read}
	relaySourceB    = Source{"a second maker's data sheet of such a relay", Read}

	voltmeterSource = Source{"handheld meter manuals: 10 Mohm, form of the accuracy; figures as an example", Read}
	ohmmeterSource  = Source{"a 3½-digit handheld meter's manual, as an example", Read}
	clampSource     = Source{"form of the accuracy of clamp meters", Memory}
	colourSource    = Source{"IEC 60757, through a national twin", SecondHand}
)

// Table names a table of the package and its sources, for a page that lists them.
type Table struct {
	Name    string
	Rows    int
	Sources []Source
}

// Tables lists every table with its sources.
func Tables() []Table {
	return []Table{
		{"conductor metals", 2, []Source{copperSource, aluminiumSource}},
		{"road-vehicle wire", len(roadWires), []Source{roadWireSource}},
		{"fine-stranded conductors", len(class5Wires), []Source{class5Source}},
		{"wire to fuse", len(wireUses), []Source{fromPractice}},
		{"fuses", fuseRows(), []Source{miniatureSource, standardSource, largeSource, fromPractice}},
		{"fuses warming up", fuseShapeRows(), []Source{fuseHeatSource}},
		{"fuse melting times", meltRows(), []Source{miniatureSource, standardSource, largeSource, fromPractice}},
		{"bulbs", len(bulbs), sourcesOf(bulbs, func(b Bulb) Source { return b.Source })},
		{"terminals", len(terminalSizes), []Source{smallTerminalSpec, terminalSpec108, fromPractice}},
		{"terminal conditions", len(conditions), []Source{fromPractice}},
		{"volts lost under load", len(DropLimits), []Source{dropLimitSource, starterSource, fromPractice}},
		{"relay", 1, []Source{relaySource, relaySourceB}},
		{"module", 1, []Source{fromPractice}},
		{"instruments", 1, []Source{voltmeterSource, ohmmeterSource, clampSource, fromPractice}},
		{"minutes", len(acts), []Source{fromPractice}},
		{"colours", len(colours), []Source{colourSource}},
		{"cautions", len(cautions), sourcesOf(cautions, func(c Caution) Source { return c.Source })},
	}
}

// sourcesOf lists the sources of a table's rows, each once.
func sourcesOf[T any](rows []T, source func(T) Source) []Source {
	var found []Source
	for _, row := range rows {
		if s := source(row); !slices.Contains(found, s) {
			found = append(found, s)
		}
	}
	return found
}
