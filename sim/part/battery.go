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

type battery struct {
	passive
	net           *solver.Network
	cell, support solver.Branch
	volts, ohms   float64
}

func newBattery(p *circuit.Part, w *Place) Inner {
	neg, pos := w.Inside("neg"), w.Inside("pos")
	b := &battery{net: w.Net, volts: p.Value("volts"), ohms: p.Value("internal")}
	b.cell = w.source(neg, pos, b.volts, b.ohms)
	b.support = w.source(neg, pos, supportVolts, math.Inf(1))
	return b
}

func (b *battery) Adjust(s *State) {
	volts, ohms := b.volts, b.ohms
	if s.Flaw.Volts > 0 {
		volts = s.Flaw.Volts
	}
	if s.Flaw.Ohms > 0 {
		ohms = s.Flaw.Ohms
	}
	b.net.SetVolts(b.cell, volts)
	b.net.SetOhms(b.cell, ohms)
	support := math.Inf(1)
	if s.Support {
		support = supportOhms
	}
	b.net.SetOhms(b.support, support)
}
