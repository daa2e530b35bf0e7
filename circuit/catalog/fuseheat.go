// Fuses as things that warm up: two masses and a melting neck, fitted to the sheets.

package catalog

import "math"

// FuseHeat is a fuse as a short neck between two ends that are one body, in the
// units of a melting strip. A neck of NeckOhms heats itself and the body, the
// body the air; the neck melts at MeltCelsius, which takes as much heat as
// LatentKelvins more would, and the fuse opens when it has melted through.
//
// The figures are our own fit to what the sheets publish (cold ohms, volts lost
// at the rated current, melting I²t, melting times), not published themselves,
// and not to be read as geometry: other sets fit as well. testdata/time holds
// the fit, fuse_fit.py, and how far it stays from the sheets, fuse_fit.csv:
//
//	cold ohms          exact
//	volts at rating    within 0.3 %, where published (miniature; standard and large 40 A)
//	melting I²t        within 3 %; 5 and 25 A 8 % high, 10 A 16 %, 20 A 13 %: 30 ms at 6 times
//	                   the rating, which the same sheet holds them to, needs that much
//	melting times      all within their bands; holds to 1.21 to 1.32 times the rating
//
// Bolt-in fuses and links are fitted to common practice, without a source; a
// link's I²t comes out up to 16 % high.
type FuseHeat struct {
	NeckOhms, BodyOhms                                float64 // at 20 °C
	OhmsPerKelvin                                     float64 // of the metal, relative, from 20 °C
	NeckJoulesPerKelvin, BodyJoulesPerKelvin          float64
	NeckToBodyWattsPerKelvin, BodyToAirWattsPerKelvin float64
	MeltCelsius, LatentKelvins                        float64
	Source                                            Source
}

var fuseHeatSource = Source{"our fit of two masses to the fuse's figures, testdata/time/fuse_fit.csv", Derived}

// fuseShape is a fuse without its size: of the cold watts at the rating, amps²
// times cold ohms, per kelvin, and kelvins a second.
type fuseShape struct {
	amps                     float64
	neckShare                float64 // of the ohms
	neckToBody, bodyToAir    float64 // 1/K
	neckSeconds, bodySeconds float64 // s/K
}

var fuseShapes = map[FuseType][]fuseShape{
	Miniature: {
		{2, 0.0094322, 0.00145, 0.011951, 1.6438e-05, 0.028512},
		{3, 0.056478, 0.0013521, 0.01287, 0.0001721, 0.17392},
		{4, 0.052658, 0.00072383, 0.020875, 0.00016564, 0.59917},
		{5, 0.052903, 0.0010546, 0.014088, 0.0001632, 0.21785},
		{7.5, 0.039967, 0.002631, 0.010648, 0.00013158, 0.046037},
		{10, 0.051646, 0.0010391, 0.01402, 0.00015916, 0.21555},
		{15, 0.053781, 0.00098912, 0.014824, 0.00018534, 0.24236},
		{20, 0.052337, 0.0011979, 0.013139, 0.00015991, 0.18503},
		{25, 0.052814, 0.0010661, 0.013986, 0.0001628, 0.2143},
		{30, 0.064632, 0.0019048, 0.011955, 0.000229, 0.092598},
	},
	Standard: {
		{10, 0.050125, 0.001022, 0.01386, 0.00021427, 0.26528},
		{20, 0.050125, 0.001022, 0.01386, 0.00021427, 0.26528},
		{25, 0.049535, 0.0010072, 0.013872, 0.00022633, 0.26396},
		{40, 0.031719, 0.0023708, 0.010551, 0.00017676, 0.05231},
	},
	Large: {
		{30, 0.04852, 0.00097836, 0.013913, 0.00063187, 2.5356},
		{35, 0.047911, 0.00096306, 0.013927, 0.0006704, 2.5361},
		{40, 0.048366, 0.00072931, 0.017872, 0.00074013, 4.8624},
	},
	BoltIn: {
		{100, 0.047734, 0.00095867, 0.013931, 0.00068171, 2.536},
	},
	FusibleLink: {
		{30, 0.011689, 0.00017906, 0.010444, 0.00016327, 14.963},
		{40, 0.014622, 0.00019768, 0.011162, 0.00025938, 13.696},
		{50, 0.022901, 0.00028095, 0.012133, 0.00046206, 9.224},
		{60, 0.080659, 0.00073107, 0.015249, 0.0023712, 2.2804},
		{80, 0.080317, 0.0007283, 0.015231, 0.0022947, 2.2702},
		{100, 0.08044, 0.0007293, 0.015237, 0.0023221, 2.2739},
	},
}

// fuseMetal is what melts. Blade fuses: zinc, from memory: 0.0042/K, 419.5 °C,
// 112 kJ/kg over 0.388 kJ/(kg K). Links: copper, 0.00393/K (IEC 60028, read
// second-hand), the rest from memory: 1084.6 °C, 205 kJ/kg over 0.385 kJ/(kg K).
type fuseMetal struct{ ohmsPerKelvin, meltCelsius, latentKelvins float64 }

var (
	zincStrip  = fuseMetal{0.0042, 419.5, 289}
	copperLink = fuseMetal{0.00393, 1084.6, 532}
)

// Heat gives the fuse as a thing that warms up. A rating that is not in the
// table has the shape of the listed rating nearest in ratio and its own size,
// so that it melts after the same time at the same share of its rating.
func (f Fuse) Heat() FuseHeat {
	shape, off := fuseShape{}, math.Inf(1)
	for _, row := range fuseShapes[f.Type] {
		if d := math.Abs(math.Log(f.RatedAmps / row.amps)); d < off {
			shape, off = row, d
		}
	}
	metal := zincStrip
	if f.Type == FusibleLink {
		metal = copperLink
	}
	watts := f.RatedAmps * f.RatedAmps * f.ColdOhms
	return FuseHeat{
		NeckOhms: shape.neckShare * f.ColdOhms, BodyOhms: (1 - shape.neckShare) * f.ColdOhms, OhmsPerKelvin: metal.ohmsPerKelvin,
		NeckJoulesPerKelvin: shape.neckSeconds * watts, BodyJoulesPerKelvin: shape.bodySeconds * watts,
		NeckToBodyWattsPerKelvin: shape.neckToBody * watts, BodyToAirWattsPerKelvin: shape.bodyToAir * watts,
		MeltCelsius: metal.meltCelsius, LatentKelvins: metal.latentKelvins, Source: fuseHeatSource,
	}
}

func fuseShapeRows() int {
	rows := 0
	for _, shapes := range fuseShapes {
		rows += len(shapes)
	}
	return rows
}
