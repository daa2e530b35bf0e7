package live

// This file is the diode and the light-emitting diode. Their charge comes and goes in microseconds, which is at once
// here.

import (
	"underload/circuit"
	"underload/sim/part"
)

func newDiode(p *circuit.Part, w *Place) Part {
	if !idle(w.State) {
		w.law(w.Inside("in"), w.Inside("out"), part.Junction(p.Value("drops")))
	}
	return Part{}
}

func newLED(p *circuit.Part, w *Place) Part {
	if !idle(w.State) {
		w.law(w.Inside("in"), w.Inside("out"), part.LED(p.Value("draws")))
	}
	return Part{}
}
