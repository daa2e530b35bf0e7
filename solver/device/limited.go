package device

// This file holds the source with a current limit.

import "math"

// cornerShare is half the width of the rounded corner, as a share of the volts
// the source gives way before it limits.
const cornerShare = 0.05

// LimitedSource is an electromotive force with a resistance that turns into a
// constant current at its limit. The first terminal is plus. As in every law,
// amps are counted from the first terminal through the source to the second, so
// they are negative while it delivers. Current forced back into it is held to the
// same limit or, with OneWay, refused. Corners are rounded over 5 percent to both
// sides.
type LimitedSource struct {
	Volts, Ohms, LimitAmps float64
	OneWay                 bool
}

// Check reports the first parameter that makes no source.
func (s LimitedSource) Check() error {
	return first(
		within("limited source", "Volts", s.Volts, -1e9, 1e9),
		positive("limited source", "Ohms", s.Ohms),
		positive("limited source", "LimitAmps", s.LimitAmps),
	)
}

// At returns the amps into the plus terminal and their slope in siemens.
func (s LimitedSource) At(volts float64) (amps, siemens float64) {
	above := volts - s.Volts
	give := s.Ohms * s.LimitAmps
	if corner := give * cornerShare; s.OneWay && above > -corner {
		if above >= corner {
			return 0, 0
		}
		return hermite(above+corner, 2*corner, -corner/s.Ohms, 1/s.Ohms, 0, 0)
	}
	low, high := give*(1-cornerShare), give*(1+cornerShare)
	size := math.Abs(above)
	switch {
	case size <= low:
		return above / s.Ohms, 1 / s.Ohms
	case size >= high:
		return math.Copysign(s.LimitAmps, above), 0
	}
	amps, siemens = hermite(size-low, high-low, low/s.Ohms, 1/s.Ohms, s.LimitAmps, 0)
	return math.Copysign(amps, above), siemens
}

// Limit stops a step that would cross the straight part from one limit to the
// other at the source's own volts.
func (s LimitedSource) Limit(from, to float64) float64 {
	if (from-s.Volts)*(to-s.Volts) < 0 {
		return s.Volts
	}
	return to
}
