package part

// This file is the battery: rested volts behind an inner resistance, with a support charger on its posts if asked.

import (
	"math"

	"underload/circuit"
	"underload/solver"
	"underload/solver/element"
)

// A support charger holds a battery up while a module is programmed. Both figures are common practice, no source.
const (
	supportVolts = 13.5
	supportOhms  = 0.030
)

// Charge is which way a battery works.
type Charge int

// The ways. A battery that says from which volts it charges gives below its rested volts, takes above those, and does
// neither between the two, as the layer of acid at its plates lets it (common practice, no source).
const (
	Gives Charge = iota
	Rests
	Takes
)

type battery struct {
	net           *solver.Network
	part          *circuit.Part
	cell, support solver.Branch
	ambient       float64 // °C
	charges       bool
	from, taking  float64 // volts and ohms of charge
	neg, pos      solver.Node
}

func newBattery(p *circuit.Part, w *Place) Inner {
	neg, pos := w.Inside("neg"), w.Inside("pos")
	volts, ohms := Rested(p, &State{}, w.AmbientCelsius)
	b := &battery{net: w.Net, part: p, ambient: w.AmbientCelsius, neg: neg, pos: pos,
		charges: p.Value("charges from") > 0 || p.Value("charging") > 0, from: p.Value("charges from"), taking: p.Value("charging")}
	if b.from == 0 {
		b.from = volts
	}
	if b.taking == 0 {
		b.taking = ohms
	}
	b.cell = w.source(neg, pos, volts, ohms)
	b.support = w.source(neg, pos, supportVolts, math.Inf(1))
	return b
}

// Support is a support charger on a battery's posts.
func Support() (volts, ohms float64) { return supportVolts, supportOhms }

// Rested is a battery's rested volts and the resistance that a load finds in it.
func Rested(p *circuit.Part, s *State, ambientCelsius float64) (volts, ohms float64) {
	volts, ohms = p.Value("volts"), p.Value("internal")
	if s.Flaw.Volts > 0 {
		volts = s.Flaw.Volts
	}
	if amps := p.Value("cold cranking"); amps > 0 && !p.Has("internal") {
		cell := element.NewCrankingCell(element.BlocksOf(p.Value("volts")), p.Value("capacity"), amps)
		cell.Charge, cell.Kelvin = cell.ChargeAt(volts), ambientCelsius+273.15
		ohms = cell.SteadyOhms()
	}
	if s.Flaw.Ohms > 0 {
		ohms = s.Flaw.Ohms
	}
	return volts, ohms
}

func (b *battery) Adjust(s *State) {
	volts, ohms := Rested(b.part, s, b.ambient)
	switch s.Charge {
	case Rests:
		ohms = math.Inf(1)
	case Takes:
		volts, ohms = math.Max(volts, b.from), math.Max(b.taking, s.Flaw.Ohms)
	}
	b.net.SetVolts(b.cell, volts)
	b.net.SetOhms(b.cell, ohms)
	support := math.Inf(1)
	if s.Support {
		support = supportOhms
	}
	b.net.SetOhms(b.support, support)
}

// restVolts is how far beyond a threshold the posts must be before the battery works the other way.
const restVolts = 1e-9

func (b *battery) Step(s *State, at *solver.Solution) bool {
	if !b.charges {
		return false
	}
	rested, _ := Rested(b.part, s, b.ambient)
	from := math.Max(rested, b.from)
	volts, next := at.Volts(b.pos)-at.Volts(b.neg), s.Charge
	switch {
	case volts < rested-restVolts:
		next = Gives
	case volts > from+restVolts:
		next = Takes
	case s.Charge == Gives && volts > rested+restVolts, s.Charge == Takes && volts < from+restVolts:
		next = Rests
	}
	changed := next != s.Charge
	s.Charge = next
	return changed
}
