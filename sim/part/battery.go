package part

// This file is the battery: rested volts behind an inner resistance, with a support charger on its posts if asked.

import (
	"math"

	"underload/circuit"
	"underload/solver"
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
	cell, support solver.Branch
	volts, ohms   float64
	charges       bool
	from, taking  float64 // volts and ohms of charge
	neg, pos      solver.Node
}

func newBattery(p *circuit.Part, w *Place) Inner {
	neg, pos := w.Inside("neg"), w.Inside("pos")
	b := &battery{net: w.Net, volts: p.Value("volts"), ohms: p.Value("internal"), neg: neg, pos: pos,
		charges: p.Value("charges from") > 0 || p.Value("charging") > 0, from: p.Value("charges from"), taking: p.Value("charging")}
	if b.from == 0 {
		b.from = b.volts
	}
	if b.taking == 0 {
		b.taking = b.ohms
	}
	b.cell = w.source(neg, pos, b.volts, b.ohms)
	b.support = w.source(neg, pos, supportVolts, math.Inf(1))
	return b
}

// gives is what the battery has while it gives.
func (b *battery) gives(s *State) (volts, ohms float64) {
	volts, ohms = b.volts, b.ohms
	if s.Flaw.Volts > 0 {
		volts = s.Flaw.Volts
	}
	if s.Flaw.Ohms > 0 {
		ohms = s.Flaw.Ohms
	}
	return volts, ohms
}

func (b *battery) Adjust(s *State) {
	volts, ohms := b.gives(s)
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
	rested, _ := b.gives(s)
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
