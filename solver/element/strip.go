package element

// This file holds the strip that melts when it has carried too much for too long.

import "underload/solver/transient"

// Strip is a conductor with a short neck, two masses that warm up: with a and b the temperatures of neck and body, I the
// amps and R each part's ohms at its temperature, R = cold (1 + OhmsPerKelvin (T - 20 degC)),
//
//	C1 a' = I^2 Rneck - K (a - b)
//	C2 b' = I^2 (Rbody + HeatOhms) + K (a - b) - G (b - air)
//
// At MeltKelvin the neck's temperature stands while it melts: LatentKelvins C1 m' is then its balance. It freezes again
// if the balance turns, and opens for good when m has come to 1. It opens without an arc.
//
// HeatOhms is heat from contacts in series with it, which carry the same current and leave a share of their heat in its
// body: their ohms times that share. Their volts are not the strip's, and in its account of energy that heat is theirs:
// they have lost it already.
type Strip struct {
	overGap
	NeckOhms, BodyOhms                                float64 // at 20 degC
	OhmsPerKelvin                                     float64
	NeckJoulesPerKelvin, BodyJoulesPerKelvin          float64 // C1, C2
	NeckToBodyWattsPerKelvin, BodyToAirWattsPerKelvin float64 // K, G
	MeltKelvin, LatentKelvins                         float64
	AirKelvin                                         float64 // of the surroundings, at the start
	HeatOhms                                          float64 // at the start
}

// States of a Strip.
const (
	StripNeckKelvin = iota
	StripBodyKelvin
	StripMelted // share of the neck, 0 to 1
)

// Marks of a Strip. The last two may be changed during a run.
const (
	StripMode = iota
	StripAirKelvin
	StripHeatOhms
)

// Values of StripMode.
const (
	StripSolid = iota
	StripMelting
	StripOpen
)

// Events of a Strip.
const (
	StripStartsMelting = iota
	StripFreezes
	StripOpens
)

// frozenBelow is how far m must turn back below 0 before the neck is solid again, so that it does not dither.
const frozenBelow = 1e-6

// Check reports the first parameter that makes no strip.
func (s *Strip) Check() error {
	return first(
		positive("strip", "NeckOhms", s.NeckOhms), positive("strip", "BodyOhms", s.BodyOhms),
		notNegative("strip", "OhmsPerKelvin", s.OhmsPerKelvin),
		positive("strip", "NeckJoulesPerKelvin", s.NeckJoulesPerKelvin), positive("strip", "BodyJoulesPerKelvin", s.BodyJoulesPerKelvin),
		positive("strip", "NeckToBodyWattsPerKelvin", s.NeckToBodyWattsPerKelvin),
		positive("strip", "BodyToAirWattsPerKelvin", s.BodyToAirWattsPerKelvin),
		positive("strip", "MeltKelvin", s.MeltKelvin), positive("strip", "LatentKelvins", s.LatentKelvins),
		positive("strip", "AirKelvin", s.AirKelvin), notNegative("strip", "HeatOhms", s.HeatOhms),
	)
}

// Size is the states, marks and events above.
func (s *Strip) Size() transient.Size {
	return transient.Size{States: 3, Marks: 3, Events: 3, Unit: [transient.MaxStates]float64{0.01, 0.01, 1e-4}}
}

func (s *Strip) twin(marks []float64) twin {
	return twin{
		smallOhms: s.NeckOhms, largeOhms: s.BodyOhms, perKelvin: s.OhmsPerKelvin,
		smallJoules: s.NeckJoulesPerKelvin, largeJoules: s.BodyJoulesPerKelvin,
		between: s.NeckToBodyWattsPerKelvin, largeToAir: s.BodyToAirWattsPerKelvin,
		airKelvin: marks[StripAirKelvin], heatOhms: marks[StripHeatOhms],
	}
}

// Start has it as warm as volts keep it, or melted long ago.
func (s *Strip) Start(volts float64, states, marks []float64) {
	marks[StripMode], marks[StripAirKelvin], marks[StripHeatOhms] = StripSolid, s.AirKelvin, s.HeatOhms
	w := s.twin(marks)
	neck, body, holds := w.rest(volts, s.MeltKelvin)
	states[StripNeckKelvin], states[StripBodyKelvin], states[StripMelted] = neck, body, 0
	if !holds {
		marks[StripMode] = StripOpen
		states[StripNeckKelvin], states[StripBodyKelvin], states[StripMelted] = s.AirKelvin, s.AirKelvin, 1
	}
}

// Rates gives the current through both ohms in series, and the two balances of heat. While the neck melts, its balance is
// that of what is melted.
func (s *Strip) Rates(at *transient.Point, rates *transient.Rates) {
	const neck, melted = StripNeckKelvin, StripMelted
	w := s.twin(at.Marks)
	if at.Marks[StripMode] == StripOpen {
		w.cooling(at, at.States[neck], at.States[StripBodyKelvin], rates)
		return
	}
	w.rates(at.Volts, at.States[neck], at.States[StripBodyKelvin], rates)
	if at.Marks[StripMode] == StripMelting {
		rates.Rate[melted], rates.Rate[neck] = rates.Rate[neck]/s.LatentKelvins, 0
		rates.RatePerV[melted], rates.RatePerV[neck] = rates.RatePerV[neck]/s.LatentKelvins, 0
		for k, slope := range rates.RatePerX[neck] {
			rates.RatePerX[melted][k], rates.RatePerX[neck][k] = slope/s.LatentKelvins, 0
		}
	}
}

// Events are that it starts to melt, that it freezes again, and that it opens.
func (s *Strip) Events(at *transient.Point, distance []float64) {
	distance[StripStartsMelting], distance[StripFreezes], distance[StripOpens] = -1, -1, -1
	switch at.Marks[StripMode] {
	case StripSolid:
		distance[StripStartsMelting] = at.States[StripNeckKelvin]/s.MeltKelvin - 1
	case StripMelting:
		distance[StripFreezes] = -at.States[StripMelted] - frozenBelow
		distance[StripOpens] = at.States[StripMelted] - 1
	}
}

// Fire changes the mode. What was melted too far, or heated too far, turns into the other, so that no heat is lost.
func (s *Strip) Fire(k int, at *transient.Point) {
	switch k {
	case StripStartsMelting:
		at.Marks[StripMode] = StripMelting
		at.States[StripMelted] = (at.States[StripNeckKelvin] - s.MeltKelvin) / s.LatentKelvins
		at.States[StripNeckKelvin] = s.MeltKelvin
	case StripFreezes:
		at.Marks[StripMode] = StripSolid
		at.States[StripNeckKelvin] = s.MeltKelvin + at.States[StripMelted]*s.LatentKelvins
		at.States[StripMelted] = 0
	case StripOpens:
		at.Marks[StripMode] = StripOpen
	}
}

// Power is what its body loses to the air, less what came from the contacts beside it, and the heat it holds.
func (s *Strip) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	neck, body := at.States[StripNeckKelvin], at.States[StripBodyKelvin]
	w := s.twin(at.Marks)
	lostWatts = w.lostWatts(neck, body)
	storedJoules = s.NeckJoulesPerKelvin*(neck+at.States[StripMelted]*s.LatentKelvins) + s.BodyJoulesPerKelvin*body
	if at.Marks[StripMode] == StripOpen {
		amps, _ := gap(at.Volts)
		return lostWatts + amps*at.Volts, 0, storedJoules
	}
	neckOhms, bodyOhms := w.ohms(neck, body)
	amps := at.Volts / (neckOhms + bodyOhms)
	return lostWatts - amps*amps*w.heatOhms, 0, storedJoules
}
