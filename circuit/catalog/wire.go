// Conductors: resistivity of the metals and ohms a metre of the usual sizes.

package catalog

import "math"

// Metal is what a wire is made of, spelt as in a circuit file.
type Metal string

// The metals of vehicle wires.
const (
	Copper    Metal = "copper"
	Aluminium Metal = "aluminium"
)

// Resistivity gives Ω·mm²/m at 20 °C and its change per kelvin from there.
// Copper: 100 % IACS, 1/58 and 0.00393/K (IEC 60028, read second-hand);
// aluminium: 0.028264 and 0.00403/K (Industrial Power Engineering and
// Applications Handbook, p. 970, read). Any other metal gives NaN.
func (m Metal) Resistivity() (ohmMM2PerMetre, perKelvin float64) {
	switch m {
	case Copper:
		return 1.0 / 58, 0.00393
	case Aluminium:
		return 0.028264, 0.00403
	}
	return math.NaN(), math.NaN()
}

// WireSize is a nominal wire size and the most a metre of it may have at 20 °C.
type WireSize struct {
	AreaMM2     float64
	OhmPerMetre float64
	Source      Source
}

// roadWires: bare copper at 20 °C, ISO 6722-1 from memory; 0.13 (often an
// alloy), 0.22, 5, 8, 12 and 20 mm² are the least sure.
var roadWires = wireTable(roadWireSource, [][2]float64{
	{0.13, 136}, {0.22, 84.8}, {0.35, 54.4}, {0.5, 37.1}, {0.75, 24.7}, {1, 18.5}, {1.25, 14.9}, {1.5, 12.7}, {2, 9.42}, {2.5, 7.60},
	{3, 6.15}, {4, 4.71}, {5, 3.94}, {6, 3.14}, {8, 2.38}, {10, 1.82}, {12, 1.52}, {16, 1.16}, {20, 0.955}, {25, 0.743}, {35, 0.527}, {50, 0.368}})

// class5Wires: plain copper, fine-stranded, at 20 °C. 0.25 and 0.34 mm² are a national extension.
var class5Wires = wireTable(class5Source, [][2]float64{
	{0.25, 76}, {0.34, 53}, {0.5, 39.0}, {0.75, 26.0}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.30},
	{10, 1.91}, {16, 1.21}, {25, 0.780}, {35, 0.554}, {50, 0.386}})

// wireTable turns pairs of mm² and mΩ/m into sizes.
func wireTable(source Source, pairs [][2]float64) []WireSize {
	sizes := make([]WireSize, len(pairs))
	for i, p := range pairs {
		sizes[i] = WireSize{p[0], p[1] / 1000, source}
	}
	return sizes
}

// RoadWires lists the nominal road-vehicle sizes, thinnest first.
func RoadWires() []WireSize { return append([]WireSize(nil), roadWires...) }

// Class5Wires lists the fine-stranded sizes of IEC 60228, thinnest first.
func Class5Wires() []WireSize { return append([]WireSize(nil), class5Wires...) }

// WireOhmsPerMetre gives the ohms of one metre of wire of areaMM2 at a
// conductor temperature. A nominal copper road-vehicle size takes that table's
// figure, since a cable sold under the name holds a little less metal than the
// name says. Any other area, such as that of a wire gauge, is taken at its
// word: resistivity over area; so is aluminium. From 20 °C the ohms change
// linearly with temperature. An area of zero or less is an open wire (+Inf);
// an unknown metal gives NaN.
func WireOhmsPerMetre(areaMM2 float64, metal Metal, celsius float64) float64 {
	resistivity, perKelvin := metal.Resistivity()
	if areaMM2 <= 0 {
		return math.Inf(1)
	}
	at20 := resistivity / areaMM2
	if size, ok := roadWire(areaMM2); ok && metal == Copper {
		at20 = size.OhmPerMetre
	}
	return at20 * (1 + perKelvin*(celsius-20))
}

// roadWire finds a nominal size; areas are typed in, so they match to a millionth or not at all.
func roadWire(areaMM2 float64) (WireSize, bool) {
	for _, size := range roadWires {
		if math.Abs(size.AreaMM2-areaMM2) <= 1e-6*size.AreaMM2 {
			return size, true
		}
	}
	return WireSize{}, false
}

// WireUse is what the trade puts on a copper wire: the usual fuse, and the
// most amps it carries for long, bundled in a loom. Common practice, no source.
type WireUse struct {
	AreaMM2               float64
	FuseAmps, FuseMaxAmps float64 // usual fuse, from and to
	MaxAmps               float64
}

var wireUses = []WireUse{
	{0.35, 3, 5, 4}, {0.5, 5, 7.5, 6}, {0.75, 7.5, 10, 8}, {1, 10, 15, 12}, {1.5, 15, 20, 16}, {2.5, 25, 30, 24}, {4, 30, 40, 32},
	{6, 40, 60, 45}, {10, 60, 80, 65}, {16, 80, 100, 90}, {25, 125, 150, 125}, {35, 150, 200, 160}, {50, 250, 300, 210},
}

// UseOf gives the usual fuse and load of a wire: those of the largest listed
// size that is not above it. A wire thinner than 0.35 mm² has none.
func UseOf(areaMM2 float64) (WireUse, bool) {
	found := WireUse{}
	for _, use := range wireUses {
		if use.AreaMM2 <= areaMM2*(1+1e-6) {
			found = use
		}
	}
	return found, found.AreaMM2 > 0
}
