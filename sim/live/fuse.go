package live

// This file is the fuse and the fusible link: a strip that warms up, and opens for good when its neck has melted through.
// Bad contacts in its slot warm it too.

import (
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/part"
	"underload/solver/element"
)

// SlotShare is the share of the heat of a fuse's two contacts that goes into the fuse, the rest going off along the wires
// (our estimate, from hot slots that open fuses below their rating).
const SlotShare = 0.53

var fuseWords = []string{"whole", "melting", "blown"}

func newFuse(p *circuit.Part, w *Place) Part {
	rating := part.Fitted(p, w.State)
	melts := Strip(catalog.Fuse{Type: part.FuseKind(p, rating), RatedAmps: rating, ColdOhms: part.FuseOhms(p, rating)}, w.AmbientCelsius)
	melts.HeatOhms = SlotShare * slotOhms(w)
	s := strip{melts, w.State.Blown || w.State.Flaw.Dead}
	id := w.add("strip", w.Inside("in"), w.Inside("out"), s)
	return Part{
		Readings: map[string]Reading{
			"heat": celsius(func(v View) float64 { return v.States(id)[element.StripBodyKelvin] }),
			"mode": {Words: fuseWords, Read: func(v View) float64 { return v.Marks(id)[element.StripMode] }},
		},
		Fate: func(v View, s *part.State) { s.Blown = v.Marks(id)[element.StripMode] == element.StripOpen },
	}
}

// Strip is what a fuse is made of, in air of some temperature and without a slot that warms it.
func Strip(f catalog.Fuse, ambientCelsius float64) *element.Strip {
	heat := f.Heat()
	return &element.Strip{
		NeckOhms: heat.NeckOhms, BodyOhms: heat.BodyOhms, OhmsPerKelvin: heat.OhmsPerKelvin,
		NeckJoulesPerKelvin: heat.NeckJoulesPerKelvin, BodyJoulesPerKelvin: heat.BodyJoulesPerKelvin,
		NeckToBodyWattsPerKelvin: heat.NeckToBodyWattsPerKelvin, BodyToAirWattsPerKelvin: heat.BodyToAirWattsPerKelvin,
		MeltKelvin: heat.MeltCelsius + ZeroCelsius, LatentKelvins: heat.LatentKelvins,
		AirKelvin: ambientCelsius + ZeroCelsius,
	}
}

// slotOhms are those of both contacts. An open one carries no current.
func slotOhms(w *Place) float64 {
	if ohms := w.ContactOhms("in") + w.ContactOhms("out"); !math.IsInf(ohms, 1) {
		return ohms
	}
	return 0
}

// InSlot is what is warmed by the contacts of the slot that it sits in. SlotOhms tells its marks how many ohms both have,
// and reports whether they are others than before.
type InSlot interface {
	SlotOhms(marks []float64, ohms float64) (others bool)
}

// strip is a fuse that begins blown or whole as it was left.
type strip struct {
	*element.Strip
	blown bool
}

// Around is the air, and the heat of its slot.
func (strip) Around() []int { return []int{element.StripAirKelvin, element.StripHeatOhms} }

// SlotOhms are those of its two contacts now.
func (strip) SlotOhms(marks []float64, ohms float64) (others bool) {
	const share = 0.01 // by which they are others
	was := marks[element.StripHeatOhms]
	marks[element.StripHeatOhms] = SlotShare * ohms
	return math.Abs(SlotShare*ohms-was) > share*was
}

// Restless says that with too much current it only gets hotter.
func (strip) Restless() {}

// Start has it as warm as volts keep it. One that would melt in the long run, and has not yet, begins cold.
func (s strip) Start(volts float64, states, marks []float64) {
	s.Strip.Start(volts, states, marks)
	if !s.blown && marks[element.StripMode] == element.StripOpen {
		s.Strip.Start(0, states, marks)
	}
	if s.blown {
		s.Strip.Start(0, states, marks)
		marks[element.StripMode], states[element.StripMelted] = element.StripOpen, 1
	}
}
