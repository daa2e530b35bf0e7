package live

// This file is the sensor on a 5 V reference, and the diagnostic socket, which takes no current.

import (
	"underload/circuit"
	"underload/sim/part"
	"underload/solver/transient"
)

func newSensor(p *circuit.Part, w *Place) Part {
	s := w.State
	if s.Flaw.ShortOhms > 0 {
		w.resistor(w.Inside("supply"), w.Inside("ground"), s.Flaw.ShortOhms)
	}
	if s.Flaw.Dead {
		return Part{}
	}
	at := func(name string) transient.Node {
		if name == part.Wiper {
			return w.Node(name)
		}
		return w.Inside(name)
	}
	for _, track := range part.Tracks(p) {
		w.resistor(at(track.Ends[0]), at(track.Ends[1]), track.Ohms)
	}
	return Part{}
}

func newSocket(*circuit.Part, *Place) Part { return Part{} }
