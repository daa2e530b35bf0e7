package live

import (
	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
)

func newRelay(p *circuit.Part, w *Place) Part {
	ohms, _, _ := part.Coil(p, w.AmbientCelsius)
	w.add("coil", w.Inside("86"), w.Inside("85"), element.Coil{Ohms: ohms, Henries: 0.3})
	w.winding(w.Inside("86"), w.Inside("85"))
	pin := "87a"
	if w.State.PulledIn {
		pin = "87"
	}
	w.resistor(w.Inside("30"), w.Inside(pin), p.Value("contact"))
	return Part{}
}
