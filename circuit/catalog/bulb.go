// Filament bulbs: what each type is rated at, and what it takes at its test volts.

package catalog

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"underload/circuit/quantity"
	"underload/circuit/spelling"
)

// Bulb is one filament of a bulb type.
type Bulb struct {
	Name       string
	RatedVolts float64
	RatedWatts float64 // in its name
	TestVolts  float64
	TestWatts  float64 // what it takes at TestVolts; the sheet's upper limit where it gives no middle
	Lumens     float64 // at TestVolts; 0 where not known
	Source     Source
}

// Amps is what the filament takes at its test volts, hot.
func (b Bulb) Amps() float64 { return b.TestWatts / b.TestVolts }

// P21W's 25 W is the middle that belongs to its printed limit of 26.5 W, as on
// the P21/5W sheet (25 W ± 6 %). 55 W and 60 W headlamp filaments take 58 W and
// 75 W at most at 13.2 V. H1 and H3 are taken to draw what H7 draws.
var bulbs = []Bulb{
	{"P21W", 12, 21, 13.5, 25, 460, regulation37},
	{"P21/5W bright", 12, 21, 13.5, 25, 440, directive97},
	{"P21/5W dim", 12, 5, 13.5, 6, 35, directive97},
	{"PY21/5W bright", 12, 21, 13.5, 26.5, 270, regulation37Py},
	{"PY21/5W dim", 12, 5, 13.5, 6.6, 21, regulation37Py},
	{"R5W", 12, 5, 13.5, 5.5, 50, regulation37},
	{"R10W", 12, 10, 13.5, 11, 125, regulation37},
	{"W5W", 12, 5, 13.5, 5.5, 50, regulation37},
	{"C5W", 12, 5, 13.5, 5.5, 45, regulation37},
	{"H21W", 12, 21, 12, 21, 415, informal54},
	{"H27W/2", 12, 27, 12, 27, 350, informal54},
	{"H1", 12, 55, 13.2, 58, 1550, halogenListed},
	{"H3", 12, 55, 13.2, 58, 1450, halogenListed},
	{"H7", 12, 55, 13.2, 58, 1500, regulation37},
	{"H4 main", 12, 60, 13.2, 75, 1650, regulation37},
	{"H4 dipped", 12, 55, 13.2, 68, 1000, regulation37},
	{"1156", 12.8, 26.9, 12.8, 26.9, 402, tradeNumberRead},
	{"1141", 12.8, 18.4, 12.8, 18.4, 264, tradeNumberRead},
	{"1157 bright", 12.8, 26.9, 12.8, 26.9, 402, tradeNumberKnown},
	{"1157 dim", 14, 8.3, 14, 8.3, 38, tradeNumberKnown},
	{"194", 14, 3.8, 14, 3.8, 25, tradeNumberKnown},
	testLamp,
}

// testLamp is the 3 W filament of a test light: 0.25 A at 12 V.
var testLamp = Bulb{"3 W", 12, 3, 12, 3, 0, fromPractice}

// byWatts says which type stands for plain watts on a 12 V diagram.
var byWatts = map[float64]string{3: "3 W", 5: "R5W", 10: "R10W", 21: "P21W", 55: "H7", 60: "H4 main"}

// Bulbs lists every filament in the table.
func Bulbs() []Bulb { return slices.Clone(bulbs) }

// BulbNamed finds a filament by its type name, in any case: "P21W", "H4 main".
// A type with two filaments must say which.
func BulbNamed(name string) (Bulb, error) {
	var names, filaments []string
	wanted := strings.Join(strings.Fields(name), " ")
	for _, b := range bulbs {
		if strings.EqualFold(b.Name, wanted) {
			return b, nil
		}
		names = append(names, b.Name)
		if base, _, two := strings.Cut(b.Name, " "); two && strings.EqualFold(base, wanted) {
			filaments = append(filaments, b.Name)
		}
	}
	if len(filaments) > 1 {
		return Bulb{}, fmt.Errorf("bulb %q has two filaments: write %s", name, strings.Join(filaments, " or "))
	}
	if near, ok := spelling.Nearest(wanted, names); ok {
		return Bulb{}, fmt.Errorf("bulb %q is not known; did you mean %q?", name, near)
	}
	return Bulb{}, fmt.Errorf("bulb %q is not known; give its watts, like 55 W, or one of %s", name, strings.Join(names, ", "))
}

// BulbOfWatts gives the filament meant by plain watts in a 12 V vehicle. 5, 10,
// 21, 55 and 60 W stand for R5W, R10W, P21W, H7 and H4 main, so that 55 W takes
// 58 W at 13.2 V, 4.39 A; 3 W is a test light's; any other takes its watts at 12 V.
func BulbOfWatts(watts float64) (Bulb, error) {
	if !(watts >= 0.1 && watts <= 500) {
		return Bulb{}, fmt.Errorf("a bulb of %g W is not believed; bulbs run from 0.1 to 500 W", watts)
	}
	if name, ok := byWatts[watts]; ok {
		return BulbNamed(name)
	}
	return Bulb{quantity.Format(watts, quantity.Watts, 3), 12, watts, 12, watts, 0, fromPractice}, nil
}

// BulbOf reads what a circuit file says of a bulb: a type name or its watts.
func BulbOf(text string) (Bulb, error) {
	bulb, err := BulbNamed(text)
	if err == nil {
		return bulb, nil
	}
	if watts, notWatts := quantity.Parse(text, quantity.Watts); notWatts == nil {
		return BulbOfWatts(watts)
	}
	if _, notNumber := strconv.ParseFloat(text, 64); notNumber == nil {
		return Bulb{}, fmt.Errorf("bulb %q has no unit; write its watts like %s W", text, text)
	}
	return Bulb{}, err
}
