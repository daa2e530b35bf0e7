package live

// This file is the filament lamp: cold it takes many times its current, and it glows on for a moment. Where the circuit has
// volts that would burn it out, it does.

import (
	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

// ZeroCelsius is 0 °C in kelvin.
const ZeroCelsius = 273.15

func newLamp(p *circuit.Part, w *Place) Part {
	if idle(w.State) || w.State.Blown {
		return Part{Readings: map[string]Reading{"light": constant("%", 0), "heat": constant("°C", w.AmbientCelsius)}}
	}
	bulb := part.Bulb(p)
	filament := element.NewFilament(part.Filament(bulb, w.AmbientCelsius))
	what, mortal := transient.Element(filament), w.MostVolts > bulb.BurnsVolts()
	if mortal {
		what = &element.Mortal{Filament: filament, BurnsVolts: bulb.BurnsVolts()}
	}
	id := w.add("filament", w.Inside("in"), w.Inside("out"), what)
	made := Part{Readings: map[string]Reading{
		"light": {Unit: "%", Read: func(v View) float64 { return 100 * filament.LightShare(v.States(id)[0]) }},
		"heat":  celsius(func(v View) float64 { return v.States(id)[0] }),
	}}
	if mortal {
		made.Fate = func(v View, s *part.State) { s.Blown = v.Marks(id)[element.MortalOpen] == 1 }
	}
	return made
}

func constant(unit string, value float64) Reading {
	return Reading{Unit: unit, Read: func(View) float64 { return value }}
}

// celsius is a temperature that is known in kelvin.
func celsius(kelvin func(v View) float64) Reading {
	return Reading{Unit: "°C", Read: func(v View) float64 { return kelvin(v) - ZeroCelsius }}
}
