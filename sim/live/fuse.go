package live

import (
	"underload/circuit"
	"underload/sim/part"
)

func newFuse(p *circuit.Part, w *Place) Part {
	if !w.State.Blown && !w.State.Flaw.Dead {
		w.resistor(w.Inside("in"), w.Inside("out"), part.FuseOhms(p, part.Fitted(p, w.State)))
	}
	return Part{}
}
