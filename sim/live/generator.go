package live

// This file is the generator with its regulator, which takes a moment to answer a load.

import (
	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
)

func newGenerator(p *circuit.Part, w *Place) Part {
	plus, minus, s := w.Inside("B+"), w.Inside("case"), w.State
	if s.Running && !s.Flaw.Dead {
		law := part.Regulated(p, s)
		w.add("regulator", plus, minus, element.NewRegulator(law.Volts, law.Ohms, law.LimitAmps))
	}
	if s.Flaw.ShortOhms > 0 {
		w.resistor(plus, minus, s.Flaw.ShortOhms)
	}
	return Part{}
}
