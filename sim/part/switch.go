package part

// This file is the switch of any poles and throws, an ignition switch too.

import (
	"math"

	"underload/circuit"
	"underload/solver"
)

type contactPair struct {
	pins   [2]string
	branch solver.Branch
}

type rotarySwitch struct {
	passive
	net         *solver.Network
	pairs       []contactPair
	throws      []circuit.Throw
	contactOhms float64
}

func newSwitch(p *circuit.Part, w *Place) Inner {
	s := &rotarySwitch{net: w.Net, throws: p.Throws, contactOhms: p.Value("contact")}
	seen := map[[2]string]bool{}
	for _, throw := range p.Throws {
		for _, pins := range throw.Pairs {
			if seen[pins] {
				continue
			}
			seen[pins] = true
			branch := w.resistor(w.Inside(pins[0]), w.Inside(pins[1]), math.Inf(1))
			s.pairs = append(s.pairs, contactPair{pins, branch})
		}
	}
	return s
}

func (s *rotarySwitch) Adjust(st *State) {
	ohms := s.contactOhms
	if st.Flaw.ContactOhms > 0 {
		ohms = st.Flaw.ContactOhms
	}
	position := st.Position
	if st.Flaw.StuckAt != "" {
		position = st.Flaw.StuckAt
	}
	closed := map[[2]string]bool{}
	for _, throw := range s.throws {
		if throw.Name == position && !st.Flaw.Dead {
			for _, pins := range throw.Pairs {
				closed[pins] = true
			}
		}
	}
	for _, pair := range s.pairs {
		if closed[pair.pins] {
			s.net.SetOhms(pair.branch, ohms)
		} else {
			s.net.SetOhms(pair.branch, math.Inf(1))
		}
	}
}
