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
	law          device.LimitedSource
}

func newGenerator(p *circuit.Part, w *Place) Inner {
	plus, minus := w.Inside("B+"), w.Inside("case")
	return &generator{
		net: w.Net,
		law: device.LimitedSource{
			Volts: p.Value("volts"), Ohms: p.Value("internal"), LimitAmps: p.Value("limit"), OneWay: true,
		},
		branch: w.device(plus, minus, open{}),
		leak:   w.resistor(plus, minus, math.Inf(1)),
	}
}

func (g *generator) Adjust(s *State) {
	var law solver.Law = open{}
	if s.Running && !s.Flaw.Dead {
		source := g.law
		if s.Flaw.LimitAmps > 0 {
			source.LimitAmps = s.Flaw.LimitAmps
		}
		law = source
	}
	g.net.SetLaw(g.branch, law)
	leak := math.Inf(1)
	if s.Flaw.ShortOhms > 0 {
		leak = s.Flaw.ShortOhms
	}
	g.net.SetOhms(g.leak, leak)
}
