package part

// This file is the generator with its regulator: steady volts at its own terminals up to its limit while it runs, and
// nothing while it stands. Its diodes let no current back in.

import (
	"math"

	"underload/circuit"
	"underload/solver"
	"underload/solver/device"
)

type generator struct {
	passive
	net          *solver.Network
	branch, leak solver.Branch
	part         *circuit.Part
}

func newGenerator(p *circuit.Part, w *Place) Inner {
	plus, minus := w.Inside("B+"), w.Inside("case")
	return &generator{
		net:    w.Net,
		part:   p,
		branch: w.device(plus, minus, open{}),
		leak:   w.resistor(plus, minus, math.Inf(1)),
	}
}

// Regulated is the law of a generator that runs.
func Regulated(p *circuit.Part, s *State) device.LimitedSource {
	limit := p.Value("limit")
	if s.Flaw.LimitAmps > 0 {
		limit = s.Flaw.LimitAmps
	}
	return device.LimitedSource{Volts: p.Value("volts"), Ohms: p.Value("internal"), LimitAmps: limit, OneWay: true}
}

func (g *generator) Adjust(s *State) {
	var law solver.Law = open{}
	if s.Running && !s.Flaw.Dead {
		law = Regulated(g.part, s)
	}
	g.net.SetLaw(g.branch, law)
	leak := math.Inf(1)
	if s.Flaw.ShortOhms > 0 {
		leak = s.Flaw.ShortOhms
	}
	g.net.SetOhms(g.leak, leak)
}
