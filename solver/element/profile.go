package element

// This file holds the source that follows volts over time.

import (
	"math"

	"underload/solver/transient"
)

// Corner is where a profile bends: Volts at Seconds, and a sine of RippleVolts (half of peak to peak) that runs from here
// to the next corner around the straight line, beginning upward from it.
type Corner struct {
	Seconds, Volts           float64
	RippleVolts, RippleHertz float64
}

// Profile is a source whose volts run straight from corner to corner; before the first and after the last they stay.
// Ohms are in series. The first terminal is plus. Its marks are the number of corners passed, and of the ripple's turning
// points since; all of these are times at which a step ends, so that no dip can be jumped over.
type Profile struct {
	Corners []Corner // by rising time, from 0 s or later; two at one time make a jump
	Ohms    float64
}

// Check reports the first parameter that makes no profile.
func (p *Profile) Check() error {
	err := positive("profile", "Ohms", p.Ohms)
	if len(p.Corners) == 0 {
		err = first(err, positive("profile", "Corners", 0))
	}
	last := 0.0
	for _, c := range p.Corners {
		err = first(err, notNegative("profile", "Corners.Seconds, or what they rise by", c.Seconds-last),
			notNegative("profile", "Corners.Volts", math.Abs(c.Volts)), notNegative("profile", "Corners.RippleVolts", c.RippleVolts))
		if c.RippleVolts > 0 {
			err = first(err, positive("profile", "Corners.RippleHertz", c.RippleHertz))
		}
		last = c.Seconds
	}
	return err
}

// Size is two marks: corners passed, turning points passed since.
func (p *Profile) Size() transient.Size { return transient.Size{Marks: 2} }

// Start is at 0 s.
func (p *Profile) Start(_ float64, _, marks []float64) {
	marks[0], marks[1] = float64(p.passed(0)), 0
}

// passed counts the corners passed at a time.
func (p *Profile) passed(seconds float64) (corners int) {
	for corners < len(p.Corners) && p.Corners[corners].Seconds <= seconds {
		corners++
	}
	return corners
}

// volts is what the source has at a time between two corners.
func (p *Profile) volts(seconds float64, passed int) float64 {
	if passed == 0 {
		return p.Corners[0].Volts
	}
	from := &p.Corners[passed-1]
	volts, since := from.Volts, seconds-from.Seconds
	if passed < len(p.Corners) {
		to := &p.Corners[passed]
		if whole := to.Seconds - from.Seconds; whole > 0 {
			volts += (to.Volts - from.Volts) * since / whole
		}
	}
	if from.RippleVolts > 0 {
		volts += from.RippleVolts * math.Sin(2*math.Pi*from.RippleHertz*since)
	}
	return volts
}

// Next is the next corner or turning point of a ripple.
func (p *Profile) Next(marks []float64) float64 {
	passed, corner := int(marks[0]), math.Inf(1)
	if passed < len(p.Corners) {
		corner = p.Corners[passed].Seconds
	}
	if passed > 0 && p.Corners[passed-1].RippleVolts > 0 {
		from := &p.Corners[passed-1]
		return math.Min(corner, from.Seconds+(0.25+0.5*marks[1])/from.RippleHertz)
	}
	return corner
}

// Tick passes it, and with it all other corners of that time.
func (p *Profile) Tick(at *transient.Point) {
	next := p.Next(at.Marks)
	if passed := int(at.Marks[0]); passed == len(p.Corners) || next < p.Corners[passed].Seconds {
		at.Marks[1]++
		return
	}
	at.Marks[0], at.Marks[1] = float64(p.passed(next)), 0
}

// Rates gives the current.
func (p *Profile) Rates(at *transient.Point, rates *transient.Rates) {
	rates.PerVolt = 1 / p.Ohms
	rates.Amps = (at.Volts - p.volts(at.Seconds, int(at.Marks[0]))) * rates.PerVolt
}

// Power is what the source gives and the heat in its ohms.
func (p *Profile) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	volts := p.volts(at.Seconds, int(at.Marks[0]))
	amps := (at.Volts - volts) / p.Ohms
	return amps * amps * p.Ohms, -volts * amps, 0
}
