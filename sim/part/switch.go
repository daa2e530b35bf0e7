package part

// This file is the switch of any poles and throws, an ignition switch too.

import (
	"math"
	"slices"

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

// Closed lists the pairs of terminals that a switch joins.
func Closed(throws []circuit.Throw, s *State) [][2]string {
	position := s.Position
	if s.Flaw.StuckAt != "" {
		position = s.Flaw.StuckAt
	}
	for _, throw := range throws {
		if throw.Name == position && !s.Flaw.Dead {
			return throw.Pairs
		}
	}
	return nil
}

func (s *rotarySwitch) Adjust(st *State) {
	ohms := s.contactOhms
	if st.Flaw.ContactOhms > 0 {
		ohms = st.Flaw.ContactOhms
	}
	closed := Closed(s.throws, st)
	for _, pair := range s.pairs {
		if slices.Contains(closed, pair.pins) {
			s.net.SetOhms(pair.branch, ohms)
		} else {
			s.net.SetOhms(pair.branch, math.Inf(1))
		}
	}
}
