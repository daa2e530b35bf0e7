package element

// This file takes any law of a device without memory into a network in time.

import "underload/solver/transient"

// Curve is what a device without memory does, as those of package device: At gives its amps at volts and their slope in
// siemens, Limit the volts a Newton step may reach.
type Curve interface {
	At(volts float64) (amps, siemens float64)
	Limit(from, to float64) float64
}

// Law is an element that follows a curve at once: a diode, an electronic load, a limited source.
type Law struct {
	Curve Curve
}

// Size is nothing.
func (l Law) Size() transient.Size { return transient.Size{} }

// Start has nothing to do.
func (l Law) Start(float64, []float64, []float64) {}

// Rates asks the curve.
func (l Law) Rates(at *transient.Point, rates *transient.Rates) {
	rates.Amps, rates.PerVolt = l.Curve.At(at.Volts)
}

// Limit asks the curve.
func (l Law) Limit(from, to float64) float64 { return l.Curve.Limit(from, to) }

// Power counts what goes in as lost and what comes out as given.
func (l Law) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	amps, _ := l.Curve.At(at.Volts)
	if in := at.Volts * amps; in >= 0 {
		return in, 0, 0
	} else {
		return 0, -in, 0
	}
}
