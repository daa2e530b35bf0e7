package live

// This file is the plain resistances: resistor, heater, terminator.

import (
	"underload/circuit"
	"underload/sim/part"
)

func newPlain(w *Place, ohms float64) Part {
	if !idle(w.State) {
		w.resistor(w.Inside("in"), w.Inside("out"), ohms)
	}
	return Part{}
}

// idle reports whether a load takes nothing whatever it is given.
func idle(s *part.State) bool { return s.Flaw.Dead || s.Resting }

func newResistor(p *circuit.Part, w *Place) Part { return newPlain(w, p.Value("resistance")) }

func newHeater(p *circuit.Part, w *Place) Part { return newPlain(w, part.HeaterOhms(p)) }
