package device

// This file holds the resistivity of tungsten.

import (
	"math"
	"sort"
)

// TungstenRow is one row of the table of tungsten's resistivity.
type TungstenRow struct {
	Kelvin      float64
	MicroOhmCM  float64 // 1e-8 ohm metre
	FromReading bool    // false: the row is from memory of the same classic table
}

// Tungsten is the resistivity of tungsten against temperature: the table of
// Forsythe and Worthing and of Jones and Langmuir (General Electric Review 30,
// 1927) as a maker of tungsten reprints it on a page of properties. Rows that
// were read there are marked. That page prints 10.65 at 500 K, two digits
// exchanged; neighbouring rows and the classic table give 10.56.
var Tungsten = [...]TungstenRow{
	{300, 5.65, true}, {400, 8.06, false}, {500, 10.56, true}, {600, 13.23, false},
	{700, 16.09, false}, {800, 19.00, false}, {900, 21.94, false}, {1000, 24.93, true},
	{1100, 27.94, false}, {1200, 30.98, false}, {1400, 37.19, false}, {1500, 40.36, true},
	{1600, 43.55, false}, {1800, 50.05, false}, {2000, 56.67, true}, {2200, 63.48, false},
	{2400, 70.39, false}, {2500, 73.91, true}, {2600, 77.49, false}, {2800, 84.70, false},
	{3000, 92.04, true}, {3200, 99.54, false}, {3400, 107.2, false}, {3500, 111.10, true},
}

// tungstenSlopes are the slopes of the curve at the rows: each is that of the
// parabola through the row and its two neighbours.
var tungstenSlopes = func() (slopes [len(Tungsten)]float64) {
	last := len(Tungsten) - 1
	rise := func(i int) float64 {
		return (Tungsten[i+1].MicroOhmCM - Tungsten[i].MicroOhmCM) / (Tungsten[i+1].Kelvin - Tungsten[i].Kelvin)
	}
	for i := 1; i < last; i++ {
		before, after := Tungsten[i].Kelvin-Tungsten[i-1].Kelvin, Tungsten[i+1].Kelvin-Tungsten[i].Kelvin
		slopes[i] = (rise(i-1)*after + rise(i)*before) / (before + after)
	}
	slopes[0] = 2*rise(0) - slopes[1]
	slopes[last] = 2*rise(last-1) - slopes[last-1]
	return slopes
}()

// Resistivity returns that of tungsten in microohm centimetres at a temperature
// and its slope per kelvin: a smooth curve through the rows of Tungsten, and
// straight beyond its ends.
func Resistivity(kelvin float64) (microOhmCM, perKelvin float64) {
	last := len(Tungsten) - 1
	if math.IsNaN(kelvin) {
		return kelvin, kelvin
	}
	if kelvin <= Tungsten[0].Kelvin {
		return Tungsten[0].MicroOhmCM + tungstenSlopes[0]*(kelvin-Tungsten[0].Kelvin), tungstenSlopes[0]
	}
	if kelvin >= Tungsten[last].Kelvin {
		return Tungsten[last].MicroOhmCM + tungstenSlopes[last]*(kelvin-Tungsten[last].Kelvin), tungstenSlopes[last]
	}
	i := sort.Search(last, func(i int) bool { return Tungsten[i+1].Kelvin > kelvin })
	a, b := Tungsten[i], Tungsten[i+1]
	return hermite(kelvin-a.Kelvin, b.Kelvin-a.Kelvin, a.MicroOhmCM, tungstenSlopes[i], b.MicroOhmCM, tungstenSlopes[i+1])
}
