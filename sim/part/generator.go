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

// idleShare is what a generator gives at most while the engine idles, of what it gives at speed. ISO 8854 rates generators at
// 1500 and at 6000 turns a minute, and a label that tells both amps has about half at the lower (from memory); the engine's
// idle, by the pulleys, is a little above that.
const idleShare = 0.5

// Regulated is the law of a generator that runs.
func Regulated(p *circuit.Part, s *State) device.LimitedSource {
	limit := p.Value("limit")
	if s.Idling {
		limit *= idleShare
	}
	if s.Flaw.LimitAmps > 0 {
		limit = math.Min(limit, s.Flaw.LimitAmps)
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
