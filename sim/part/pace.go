package part

// This file is how a motor turns, as a person hears it: the same word whether all is at rest or time runs.

import (
	"underload/circuit"
	"underload/solver/device"
)

// Pace is how a motor turns.
type Pace int

// The paces, slowest first.
const (
	Stands Pace = iota
	Slow
	Brisk
)

// The shares of its speed from which on a motor turns, and turns as it should. Common practice, no source.
const (
	turnsFrom = 0.05
	briskFrom = 0.75
)

// PaceAt is that of a motor which has a share of the speed that a sound one has at its rating.
func PaceAt(share float64) Pace {
	switch {
	case share < turnsFrom:
		return Stands
	case share < briskFrom:
		return Slow
	}
	return Brisk
}

// Says is a pace in words: one that turns an engine cranks.
func (pace Pace) Says(p *circuit.Part) string {
	words := [...]string{Stands: "stands still", Slow: "turns slowly", Brisk: "runs"}
	if p.Text("turns") == "engine" {
		words[Slow], words[Brisk] = "cranks slowly", "cranks"
	}
	return words[pace]
}

// SpeedShare is how fast a motor turns at some volts, against a sound one at its rating.
func SpeedShare(p *circuit.Part, s *State, volts float64) float64 {
	if s.Standing || s.Flaw.Dead {
		return 0
	}
	law := Running(p, s)
	return law.SpeedShare(volts) * ownVolts(law) / OwnVolts(p)
}

// OwnVolts are those that a sound motor makes at its rating, against what feeds it.
func OwnVolts(p *circuit.Part) float64 { return ownVolts(Running(p, &State{})) }

func ownVolts(m device.SteadyMotor) float64 {
	return m.RatedVolts - m.RatedAmps*m.RatedVolts/m.StallAmps
}
