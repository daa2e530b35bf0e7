package part

// This file is the sensor on a 5 V reference, and the diagnostic socket, which takes no current.

import (
	"math"

	"underload/circuit"
	"underload/solver"
)

// A sensor's signal is a share of its supply behind a small resistance, as a potentiometer gives it.
const (
	referenceVolts   = 5.0
	signalTrackOhms  = 2000.0 // supply to ground through the track, beside the sensor's own draw
	wiperOhms        = 1000.0
	smallestTrackEnd = 1.0
)

func newSensor(p *circuit.Part, w *Place) Inner {
	share := math.Min(math.Max(p.Value("reads"), 0), 1)
	mid := w.Node("wiper")
	s := &sensor{net: w.Net, short: w.resistor(w.Inside("supply"), w.Inside("ground"), math.Inf(1))}
	s.add(w, w.Inside("supply"), mid, math.Max(signalTrackOhms*(1-share), smallestTrackEnd))
	s.add(w, mid, w.Inside("ground"), math.Max(signalTrackOhms*share, smallestTrackEnd))
	s.add(w, mid, w.Inside("signal"), wiperOhms)
	if rest := p.Value("draws") - referenceVolts/signalTrackOhms; rest > 0 {
		s.add(w, w.Inside("supply"), w.Inside("ground"), referenceVolts/rest)
	}
	return s
}

type sensor struct {
	passive
	net      *solver.Network
	short    solver.Branch
	branches []solver.Branch
	ohms     []float64
}

func (s *sensor) add(w *Place, a, b solver.Node, ohms float64) {
	s.branches = append(s.branches, w.resistor(a, b, ohms))
	s.ohms = append(s.ohms, ohms)
}

func (s *sensor) Adjust(st *State) {
	for i, b := range s.branches {
		ohms := s.ohms[i]
		if st.Flaw.Dead {
			ohms = math.Inf(1)
		}
		s.net.SetOhms(b, ohms)
	}
	short := math.Inf(1)
	if st.Flaw.ShortOhms > 0 {
		short = st.Flaw.ShortOhms
	}
	s.net.SetOhms(s.short, short)
}

type socket struct{ passive }

func (socket) Adjust(*State) {}

func newSocket(*circuit.Part, *Place) Inner { return socket{} }
