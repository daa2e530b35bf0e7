// Fuses: cold ohms, volts lost at rating, melting energy and melting times.

package catalog

import (
	"fmt"
	"math"
)

// FuseType is a build of fuse, spelt as in a circuit file.
type FuseType string

// The builds of fuse.
const (
	Miniature    FuseType = "miniature"
	Standard     FuseType = "standard"
	Large        FuseType = "large"
	BoltIn       FuseType = "bolt-in"
	FusibleLink  FuseType = "fusible link"
	hotColdRatio          = 1.46 // ohms at rating over cold ohms: middle of the ten miniature ratings, 1.29 to 1.66
)

// Fuse is one rating of one build.
type Fuse struct {
	Type       FuseType
	RatedAmps  float64
	ColdOhms   float64 // at about 20 °C, hardly any current
	RatedVolts float64 // lost across it at rated current, warm
	MeltA2S    float64 // nominal melting I²t, A²s
	Source     Source  // of ColdOhms; worked out where the rating is not in the table
}

// fuseRow is a table row in the units of the sheets; zero where the sheet is silent.
type fuseRow struct{ amps, milliohms, millivolts, a2s float64 }

type fuseTable struct {
	source      Source
	least, most float64 // ratings made in this build
	rows        []fuseRow
}

// The bolt-in and fusible-link rows are common practice: about 55 mV of cold
// drop at rating and 5 s·I² to melt, a link being 0.15 m of wire.
var fuseTables = map[FuseType]fuseTable{
	Miniature: {miniatureSource, 1, 40, []fuseRow{{2, 55.60, 171, 2.8}, {3, 33.75, 153, 9.4}, {4, 23.48, 121, 17}, {5, 17.75, 129, 25},
		{7.5, 10.85, 135, 68}, {10, 7.42, 108, 93}, {15, 4.58, 98, 270}, {20, 3.21, 96, 380}, {25, 2.36, 86, 625}, {30, 1.85, 87, 1130}}},
	Standard: {standardSource, 1, 40, []fuseRow{{10, 7.70, 0, 0}, {20, 3.38, 0, 0}, {25, 2.52, 0, 1000}, {40, 1.44, 96, 3300}}},
	Large:    {largeSource, 20, 120, []fuseRow{{30, 1.9, 0, 4100}, {35, 1.7, 0, 6000}, {40, 1.4, 75, 8500}}},
	BoltIn: {fromPractice, 30, 500, []fuseRow{{50, 1.15, 0, 12.5e3}, {60, 0.95, 0, 18e3}, {80, 0.70, 0, 32e3}, {100, 0.55, 0, 50e3}, {125, 0.44, 0, 78e3},
		{150, 0.36, 0, 113e3}, {175, 0.31, 0, 153e3}, {200, 0.27, 0, 200e3}, {250, 0.21, 0, 313e3}, {300, 0.175, 0, 450e3}}},
	FusibleLink: {fromPractice, 20, 150, []fuseRow{{30, 5.6, 0, 6e3}, {40, 3.7, 0, 13e3}, {50, 2.8, 0, 24e3}, {60, 1.9, 0, 55e3}, {80, 1.4, 0, 95e3}, {100, 1.15, 0, 150e3}}},
}

// FuseTypes lists the builds, smallest first.
func FuseTypes() []FuseType { return []FuseType{Miniature, Standard, Large, BoltIn, FusibleLink} }

// UsualFuseType is the build that a rating has where a diagram does not say:
// miniature up to 30 A, large up to 80 A, bolt-in above (common practice).
func UsualFuseType(amps float64) FuseType {
	switch {
	case amps <= 30:
		return Miniature
	case amps <= 80:
		return Large
	}
	return BoltIn
}

// FuseOf gives the fuse of a build and rating. A rating in the table is its
// row. Any other, and any column the sheet leaves out, lies on the power law
// a·I^k through the two nearest ratings that have it (a straight line in
// log-log, carried on beyond the ends), and the Source says so. Volts at
// rating, where no rating has enough of them, are 1.46 times the cold ohms.
// Ratings that the build is not made in are an error.
func FuseOf(kind FuseType, amps float64) (Fuse, error) {
	table, known := fuseTables[kind]
	if !known {
		return Fuse{}, fmt.Errorf("%q is no kind of fuse; the kinds are %v", kind, FuseTypes())
	}
	if !(amps >= table.least && amps <= table.most) {
		return Fuse{}, fmt.Errorf("a %s fuse of %g A is not made; the ratings run from %g to %g A", kind, amps, table.least, table.most)
	}
	ohms, listed := table.at(amps, func(r fuseRow) float64 { return r.milliohms / 1000 })
	a2s, _ := table.at(amps, func(r fuseRow) float64 { return r.a2s })
	fuse := Fuse{kind, amps, ohms, amps * ohms * hotColdRatio, a2s, table.source}
	if !listed {
		fuse.Source = scaledSource
	}
	if volts, _ := table.at(amps, func(r fuseRow) float64 { return r.millivolts / 1000 }); !math.IsNaN(volts) {
		fuse.RatedVolts = volts
	}
	return fuse, nil
}

// at reads one column at a rating, and whether the table itself has it there.
// With a single filled row only that rating is known; others give NaN.
func (t fuseTable) at(amps float64, column func(fuseRow) float64) (value float64, listed bool) {
	var filled []fuseRow
	for _, row := range t.rows {
		if column(row) > 0 {
			if row.amps == amps {
				return column(row), true
			}
			filled = append(filled, row)
		}
	}
	if len(filled) < 2 {
		return math.NaN(), false
	}
	i := 1
	for i < len(filled)-1 && filled[i].amps < amps {
		i++
	}
	low, high := filled[i-1], filled[i]
	power := math.Log(column(high)/column(low)) / math.Log(high.amps/low.amps)
	return column(low) * math.Pow(amps/low.amps, power), false
}

func fuseRows() int {
	rows := 0
	for _, table := range fuseTables {
		rows += len(table.rows)
	}
	return rows
}
