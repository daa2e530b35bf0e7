package live

// This file is the battery: its charge, its resistance that shows in part at once and in part after a while, and a support
// charger on its posts.

import (
	"underload/circuit"
	"underload/sim/part"
)

func newBattery(p *circuit.Part, w *Place) Part {
	neg, pos, s := w.Inside("neg"), w.Inside("pos"), w.State
	if s.Support {
		volts, ohms := part.Support()
		w.Net.Source(neg, pos, volts, ohms)
	}
	if rested := part.RestedOf(p, s, w.AmbientCelsius, w.FileCelsius); rested.Source {
		source := w.Net.Source(neg, pos, rested.Volts, rested.Ohms)
		return Part{Readings: map[string]Reading{
			"charge": constant("%", 100),
			"amps":   {Unit: "A", Read: func(v View) float64 { return v.Amps(source) }},
		}}
	}
	cell := part.Cell(p, s, w.AmbientCelsius, w.FileCelsius)
	id := w.add("cell", pos, neg, cell)
	return Part{Readings: map[string]Reading{
		"charge": {Unit: "%", Read: func(v View) float64 { return max(0, 100*v.States(id)[0]/cell.AmpHours) }},
		"amps":   {Unit: "A", Read: func(v View) float64 { return -v.ElementAmps(id) }},
	}}
}
