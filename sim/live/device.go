package live

// This file is what has no memory: a device that a module switches, and what lets a coil's current go on when its circuit
// is opened.

import (
	"math"

	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

func power(watts float64) (lost, given, stored float64) {
	return math.Max(watts, 0), math.Max(-watts, 0), 0
}

// Port is a pin of a module behind which there is one law while the module is up, and another while it is not.
type Port struct {
	Up, Down element.Curve
	Module   transient.ID
	Boots    bool // up from the boot on
}

// Size is nothing.
func (Port) Size() transient.Size { return transient.Size{} }

// Start has nothing to fill.
func (Port) Start(float64, []float64, []float64) {}

func (p Port) law(at *transient.Point) element.Curve {
	switch modeOf(at.MarksOf(p.Module)) {
	case part.Awake:
		return p.Up
	case part.Booting, part.Hung:
		if p.Boots {
			return p.Up
		}
	}
	return p.Down
}

// Rates is the law of the module's mode.
func (p Port) Rates(at *transient.Point, r *transient.Rates) {
	r.Amps, r.PerVolt = p.law(at).At(at.Volts)
}

// Limit is that of the law while the module is up, which is the steeper one.
func (p Port) Limit(from, to float64) float64 { return p.Up.Limit(from, to) }

// Power is heat where it takes power, and given where it delivers.
func (p Port) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	amps, _ := p.law(at).At(at.Volts)
	return power(at.Volts * amps)
}

// Line is one line of a module's bus: a port, and another law while the module drives the line dominant. That is never so
// in a run: bits are some thousand times faster than what a run is about, and nothing else depends on them. Whoever looks
// at the bus supposes it (transient.Run.Suppose).
type Line struct {
	Port
	Dominant element.Curve
}

// Size is a mark that says dominant.
func (Line) Size() transient.Size { return transient.Size{Marks: 1} }

// Rates is the law of the moment.
func (l Line) Rates(at *transient.Point, r *transient.Rates) {
	if at.Marks[0] == 1 {
		r.Amps, r.PerVolt = l.Dominant.At(at.Volts)
		return
	}
	l.Port.Rates(at, r)
}

// behind is an electromotive force behind a resistance, its plus at the first terminal. With +Inf ohms it is open.
type behind struct{ volts, ohms float64 }

func (b behind) At(volts float64) (amps, siemens float64) {
	return (volts - b.volts) / b.ohms, 1 / b.ohms
}
func (b behind) Limit(_, to float64) float64 { return to }

// clamped is a law beside which current finds another way beyond some volts, either way round.
type clamped struct {
	element.Curve
	beyondVolts float64
}

func (c clamped) At(volts float64) (amps, siemens float64) {
	amps, siemens = c.Curve.At(volts)
	more, slope := beyond(c.beyondVolts).At(volts)
	return amps + more, siemens + slope
}

// outputVolts are those beyond which current finds a way through the clamp in a module's output stage (common practice,
// no source).
const outputVolts = 45

// beyond is what lets current pass across a coil, or into an output's clamp: a corner of half a volt and a tenth of an ohm
// behind it (no source).
func beyond(volts float64) element.Breakdown {
	return element.Breakdown{Volts: volts, Ohms: 0.1, CornerVolts: 0.5}
}

// windingOhms lies across every winding, for what leaks and for eddy currents in its iron (common practice, no source).
const windingOhms = 100e3

// winding gives the current of a coil a way to go on when its circuit is opened.
func (w *Place) winding(a, b transient.Node) {
	w.law(a, b, beyond(element.AirVolts))
	w.Net.Resistor(a, b, windingOhms)
}
