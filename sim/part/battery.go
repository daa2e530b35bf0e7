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

const (
	// referenceKelvin is where the figures of a cell hold: the file's ambient temperature stands for it.
	referenceKelvin = 298.15
	zeroKelvin      = 273.15 // 0 °C
	// coldFactor is how many times its resistance a cell has at -18 °C, where its rating is told.
	coldFactor = 2
	// fullestVolts is more than any battery of six cells has at rest.
	fullestVolts = 13.2
	// leastChargingOhms is what is left of a battery's resistance against being charged once its lags are taken off.
	leastChargingOhms = 1e-4
)

// Charge is which way a battery works.
type Charge int

// The ways. A battery gives below its rested volts, takes some tenths of a volt above those, and does neither between the
// two, as the layer of acid at its plates lets it (common practice, no source).
const (
	Gives Charge = iota
	Rests
	Takes
)

type battery struct {
	net           *solver.Network
	cell, support solver.Branch
	rested        func(s *State) Rested
	neg, pos      solver.Node
}

func newBattery(p *circuit.Part, w *Place) Inner {
	b := &battery{net: w.Net, neg: w.Inside("neg"), pos: w.Inside("pos")}
	var known Rested
	var flaw Flaw
	b.rested = func(s *State) Rested { // another flaw makes another battery
		if known.Ohms == 0 || s.Flaw != flaw {
			known, flaw = RestedOf(p, s, w.AmbientCelsius, w.FileCelsius), s.Flaw
		}
		return known
	}
	first := b.rested(&State{})
	b.cell = w.source(b.neg, b.pos, first.Volts, first.Ohms)
	b.support = w.source(b.neg, b.pos, supportVolts, math.Inf(1))
	return b
}

// Support is a support charger on a battery's posts.
func Support() (volts, ohms float64) { return supportVolts, supportOhms }

// Rested is what a load finds in a battery, and what a charger does.
type Rested struct {
	Volts, Ohms              float64
	TakesVolts, ChargingOhms float64 // from which volts it takes charge, and behind what
	Source                   bool    // it gives and takes alike: more volts than a battery has, as of battery and running generator together
}

// RestedOf is a battery at rest.
func RestedOf(p *circuit.Part, s *State, ambientCelsius, fileCelsius float64) Rested {
	cell, volts := Cell(p, s, ambientCelsius, fileCelsius), toldVolts(p, s)
	if volts > fullestVolts*cell.Blocks {
		return Rested{Volts: volts, Ohms: cell.SteadyOhms(), TakesVolts: volts, ChargingOhms: cell.SteadyOhms(), Source: true}
	}
	volts = cell.RestVolts()
	return Rested{
		Volts: volts, Ohms: cell.SteadyOhms(),
		TakesVolts: volts + cell.ChargeStepVolts + cell.SurfaceVolts, ChargingOhms: cell.SteadyChargingOhms(),
	}
}

func toldVolts(p *circuit.Part, s *State) float64 {
	if s.Flaw.Volts > 0 {
		return s.Flaw.Volts
	}
	return p.Value("volts")
}

// Cell is what a battery is at an ambient temperature. The figures of its file hold at the file's own ambient temperature.
// Its inner resistance follows from its cold cranking amps where the file gives those and no resistance; those hold at
// -18 °C.
func Cell(p *circuit.Part, s *State, ambientCelsius, fileCelsius float64) *element.Cell {
	volts, ohms := toldVolts(p, s), p.Value("internal")
	if s.Flaw.Ohms > 0 {
		ohms = s.Flaw.Ohms
	}
	blocks := element.BlocksOf(p.Value("volts"))
	cell := element.NewCell(blocks, volts, ohms, p.Value("capacity"))
	cell.Kelvin = referenceKelvin + ambientCelsius - fileCelsius
	if amps := p.Value("cold cranking"); amps > 0 && !p.Has("internal") && s.Flaw.Ohms == 0 {
		charge := cell.Charge
		cell = element.NewCrankingCell(blocks, p.Value("capacity"), amps)
		cell.Charge = charge
		posts := (p.Terminals[0].BehindOhms + p.Terminals[1].BehindOhms) / coldFactor // where the rating is told
		cell.Ohms = max(cell.Ohms-posts, cell.Ohms/4)
		cell.Kelvin = ambientCelsius + zeroKelvin
	}
	cell.AmbientKelvin = cell.Kelvin
	if from := p.Value("charges from"); from > 0 {
		above := max(from-volts, 0)
		cell.SurfaceVolts = min(cell.SurfaceVolts, above)
		cell.ChargeStepVolts = above - cell.SurfaceVolts
	}
	if taking := p.Value("charging"); taking > 0 {
		cell.SetChargingOhms(max(taking, s.Flaw.Ohms), leastChargingOhms)
	}
	return cell
}

func (b *battery) Adjust(s *State) {
	r := b.rested(s)
	volts, ohms := r.Volts, r.Ohms
	switch s.Charge {
	case Rests:
		ohms = math.Inf(1)
	case Takes:
		volts, ohms = r.TakesVolts, r.ChargingOhms
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
	r := b.rested(s)
	volts, next := at.Volts(b.pos)-at.Volts(b.neg), s.Charge
	switch {
	case r.Source || volts < r.Volts-restVolts:
		next = Gives
	case volts > r.TakesVolts+restVolts:
		next = Takes
	case s.Charge == Gives && volts > r.Volts+restVolts, s.Charge == Takes && volts < r.TakesVolts+restVolts:
		next = Rests
	}
	changed := next != s.Charge
	s.Charge = next
	return changed
}
