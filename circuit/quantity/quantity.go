// The dimensions a value can have, and how each is named, bounded and shown.

// Package quantity reads and writes values with units the way people in a
// vehicle workshop write them: "1.8 ohm", "15 mΩ", "18 AWG", "8 ft", "68 F".
// A value without its unit is refused rather than guessed.
package quantity

// Dimension says what kind of quantity a value is. Values are held in the base
// unit of their dimension, given at each constant.
type Dimension int

const (
	Volts             Dimension = iota // V
	Amperes                            // A
	Ohms                               // Ω
	Watts                              // W
	Metres                             // m
	SquareMillimetres                  // mm²
	Celsius                            // °C
	Newtons                            // N
	Seconds                            // s
	Farads                             // F
	Henries                            // H
	Percent                            // a fraction: 12 % is 0.12
	Millimetres                        // mm
	Number                             // no unit
	AmpereHours                        // Ah
	dimensions                         // how many there are
)

// trait is what the package knows of one dimension besides its spellings.
type trait struct {
	name     string // plural unit, for messages
	kind     string // what is measured, with its article
	symbol   string // base unit as shown
	examples string // accepted spellings, for messages
	largest  float64
	signed   bool  // whether a value below zero means anything
	prefixes []int // powers of ten the shown unit may carry, ascending
	shown    int   // power of ten from base unit to shown unit
}

// smallest is the size below which a value other than zero is taken for a slip.
const smallest = 1e-18

// The largest sizes are far above anything on a vehicle: they catch slips such
// as 65 MA for 65 mA, not unusual circuits.
var traits = [dimensions]trait{
	Volts:             {"volts", "a voltage", "V", "12.6 V, 350 mV", 1e5, true, []int{-6, -3, 0, 3}, 0},
	Amperes:           {"amperes", "a current", "A", "4.4 A, 65 mA", 1e5, true, []int{-9, -6, -3, 0, 3}, 0},
	Ohms:              {"ohms", "a resistance", "Ω", "1.8 ohm, 15 mohm, 10 Mohm, 22k", 1e11, false, []int{-6, -3, 0, 3, 6, 9}, 0},
	Watts:             {"watts", "a power", "W", "55 W, 1.2 kW", 1e7, true, []int{-6, -3, 0, 3}, 0},
	Metres:            {"metres", "a length", "m", "2.4 m, 240 cm, 8 ft", 1e5, false, []int{-3, 0, 3}, 0},
	SquareMillimetres: {"square millimetres", "a wire size", "mm²", "0.75 mm2, 18 AWG, 4/0 AWG", 1e5, false, nil, 0},
	Celsius:           {"degrees Celsius", "a temperature", "°C", "20 °C, 68 F, 293 K", 1e4, true, nil, 0},
	Newtons:           {"newtons", "a force", "N", "0.4 N, 40 gf", 1e6, false, nil, 0},
	Seconds:           {"seconds", "a time", "s", "5 ms, 2 s, 3 min", 1e10, true, []int{-9, -6, -3, 0}, 0},
	Farads:            {"farads", "a capacitance", "F", "470 uF, 10 nF", 1e6, false, []int{-12, -9, -6, -3, 0}, 0},
	Henries:           {"henries", "an inductance", "H", "5 mH, 0.4 H", 1e6, false, []int{-9, -6, -3, 0}, 0},
	Percent:           {"percent", "a share", "%", "12 %, 12 percent", 1e6, true, nil, 2},
	Millimetres:       {"millimetres", "a small length", "mm", "2.8 mm, 0.11 in", 1e8, false, nil, 0},
	AmpereHours:       {"ampere-hours", "a battery's capacity", "Ah", "60 Ah, 800 mAh", 1e7, false, []int{-3, 0, 3}, 0},
	Number:            {"plain numbers", "a plain number", "", "3, 0.25, 1/16", 1e15, true, nil, 0},
}

// known reports whether d is one of the dimensions above.
func (d Dimension) known() bool { return d >= 0 && d < dimensions }

// String gives the plural unit name, such as "ohms".
func (d Dimension) String() string {
	if !d.known() {
		return "unknown dimension"
	}
	return traits[d].name
}

// Symbol gives the base unit's symbol, such as "Ω"; Number has none.
func (d Dimension) Symbol() string {
	if !d.known() {
		return ""
	}
	return traits[d].symbol
}

// Examples gives accepted spellings for a message, such as "1.8 ohm, 15 mohm".
func (d Dimension) Examples() string {
	if !d.known() {
		return ""
	}
	return traits[d].examples
}
