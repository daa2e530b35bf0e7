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
	mid := w.Node(Wiper)
	s := &sensor{net: w.Net, short: w.resistor(w.Inside("supply"), w.Inside("ground"), math.Inf(1))}
	for _, r := range Tracks(p) {
		ends := [2]solver.Node{}
		for i, at := range r.Ends {
			if ends[i] = mid; at != Wiper {
				ends[i] = w.Inside(at)
			}
		}
		s.branches, s.ohms = append(s.branches, w.resistor(ends[0], ends[1], r.Ohms)), append(s.ohms, r.Ohms)
	}
	return s
}

// Wiper is the node inside a sensor.
const Wiper = "wiper"

// Track is a resistance inside a sensor, from one of its pins, or its wiper, to another.
type Track struct {
	Ends [2]string
	Ohms float64
}

// Tracks lists what lies inside a sound sensor.
func Tracks(p *circuit.Part) []Track {
	share := math.Min(math.Max(p.Value("reads"), 0), 1)
	tracks := []Track{
		{[2]string{"supply", Wiper}, math.Max(signalTrackOhms*(1-share), smallestTrackEnd)},
		{[2]string{Wiper, "ground"}, math.Max(signalTrackOhms*share, smallestTrackEnd)},
		{[2]string{Wiper, "signal"}, wiperOhms},
	}
	if rest := p.Value("draws") - referenceVolts/signalTrackOhms; rest > 0 {
		tracks = append(tracks, Track{[2]string{"supply", "ground"}, referenceVolts / rest})
	}
	return tracks
}

type sensor struct {
	passive
	net      *solver.Network
	short    solver.Branch
	branches []solver.Branch
	ohms     []float64
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
