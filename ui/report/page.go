// Package report draws what is handed over: the drop staircase as a picture.
package report

// This file is what goes on a page, and how figures are written there.

import (
	"fmt"
	"math"

	"underload/circuit/quantity"
	"underload/sim/meter"
)

// Page is a staircase with the words that belong to it.
type Page struct {
	Title   string // of the circuit
	Setting string // what was done before the test, and where it was made
	Stairs  meter.Staircase
}

// NotTaken stands for a figure that a pass does not have.
const NotTaken = "–"

// figures writes a number without a unit, thousands apart, with a real minus sign.
func figures(v float64, digits int) string { return quantity.Format(v, quantity.Number, digits) }

// Hitch tells that a module is in another state than in the healthy circuit.
func Hitch(state string) string {
	if state == "chattering" {
		return "A relay chatters, which it does not in the healthy circuit."
	}
	return "A module is " + state + ", which it is not in the healthy circuit."
}

// smallestMV is the loss below which nothing is lost at all.
const smallestMV = 1e-6

// Millivolts writes what a step loses, in mV.
func Millivolts(l meter.Level) string {
	if l.Missing {
		return NotTaken
	}
	switch mv := 1e3 * l.Lost; {
	case math.Abs(mv) < smallestMV:
		return "0"
	case math.Abs(mv) < 1:
		return "<1"
	default:
		return figures(math.Round(mv), 0)
	}
}

// Milliohms writes the resistance of a step, in mΩ: one decimal below ten, two below one.
func Milliohms(l meter.Level) string {
	const openVolts = 0.02 // with no current, volts across a step mean that it is open
	switch {
	case l.Missing:
		return NotTaken
	case l.Ohms == 0 && l.Lost > openVolts:
		return "open"
	case l.Ohms == 0:
		return NotTaken
	}
	mohm := 1e3 * l.Ohms
	switch {
	case math.Abs(mohm) >= 10:
		return figures(math.Round(mohm), 0)
	case math.Abs(mohm) >= 1:
		return fmt.Sprintf("%.1f", mohm)
	}
	return fmt.Sprintf("%.2f", mohm)
}

func volts(v float64) string   { return quantity.Format(v, quantity.Volts, 3) }
func amperes(v float64) string { return quantity.Format(v, quantity.Amperes, 3) }
