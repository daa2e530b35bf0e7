package live

// This file is the switch of any poles and throws. It moves at once.

import (
	"underload/circuit"
	"underload/sim/part"
)

func newSwitch(p *circuit.Part, w *Place) Part {
	s := w.State
	ohms := p.Value("contact")
	if s.Flaw.ContactOhms > 0 {
		ohms = s.Flaw.ContactOhms
	}
	for _, pins := range part.Closed(p.Throws, s) {
		w.resistor(w.Inside(pins[0]), w.Inside(pins[1]), ohms)
	}
	return Part{}
}
