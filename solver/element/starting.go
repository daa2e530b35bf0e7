package element

// This file holds the starting profiles of ISO 16750-2.

// Starting is one level of the starting profile for 12 V systems: volts fall to DipVolts, rise to TroughVolts and ripple
// above them, and come back.
type Starting struct {
	Level                          string
	DipVolts, TroughVolts          float64 // US1, US
	RippleSeconds, RecoverySeconds float64
}

// StartingLevels are the levels of ISO 16750-2, edition 2023, as facts in a public repository state them; the standard
// itself was not opened. Levels may be 0.2 V lower in a test.
var StartingLevels = [...]Starting{
	{"I", 8, 9.5, 1, 0.040},
	{"II", 4.5, 6.5, 10, 0.100},
	{"III", 3, 5, 1, 0.100},
	{"IV", 6, 6.5, 10, 0.100},
}

// What all levels share: from the same source, but for the size of the ripple and the pause, which test files of a public
// repository have for the editions of 2003 and 2006. There the ripple is 2 V from peak to peak around 1 V above US, so
// that US is its trough.
const (
	restVolts     = 12 // UB
	fallSeconds   = 0.005
	dipSeconds    = 0.015 // t1
	riseSeconds   = 0.050 // t2
	rippleVolts   = 1
	rippleHertz   = 2
	StartingPause = 1.0 // seconds at rest before each cycle
)

// Profile returns the level as a supply for a number of cycles, each after StartingPause at 12 V, with ohms in series.
func (s Starting) Profile(cycles int, ohms float64) *Profile {
	p := &Profile{Ohms: ohms}
	at := 0.0
	bend := func(after, volts, ripple float64) {
		at += after
		p.Corners = append(p.Corners, Corner{Seconds: at, Volts: volts, RippleVolts: ripple, RippleHertz: rippleHertz})
	}
	middle := s.TroughVolts + rippleVolts
	for range cycles {
		bend(StartingPause, restVolts, 0)
		bend(fallSeconds, s.DipVolts, 0)
		bend(dipSeconds, s.DipVolts, 0)
		bend(riseSeconds, middle, rippleVolts)
		bend(s.RippleSeconds, middle, 0)
		bend(s.RecoverySeconds, restVolts, 0)
	}
	return p
}
