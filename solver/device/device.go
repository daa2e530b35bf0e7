// Package device holds laws of two-terminal devices: the current they take at a
// given voltage, and its slope. They know nothing of networks; each has the
// methods At and Limit that a nodal solver asks for.
//
// In every law volts is the potential of the first terminal against the second,
// and amps flow through the device from the first to the second. Parameters are
// not checked here beyond what Check reports; with bad ones At gives no number.
package device

// This file holds what the laws share.

import (
	"fmt"
	"math"
)

// ParameterError reports a parameter that a law cannot work with.
type ParameterError struct {
	Law, Parameter string
	Value          float64
	Want           string
}

func (e *ParameterError) Error() string {
	return fmt.Sprintf("%s: %s is %v, want %s", e.Law, e.Parameter, e.Value, e.Want)
}

// positive returns an error unless value is finite and above zero.
func positive(law, parameter string, value float64) error {
	if value > 0 && !math.IsInf(value, 1) {
		return nil
	}
	return &ParameterError{law, parameter, value, "a finite value above 0"}
}

// within returns an error unless low <= value <= high.
func within(law, parameter string, value, low, high float64) error {
	if value >= low && value <= high {
		return nil
	}
	return &ParameterError{law, parameter, value, fmt.Sprintf("%g to %g", low, high)}
}

// first returns the first error that is one.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// hermite joins (0, y0) and (width, y1) by the cubic that has slopes s0 and s1
// there, and returns its value and slope at x.
func hermite(x, width, y0, s0, y1, s1 float64) (y, slope float64) {
	t := x / width
	rise := y1 - y0
	c2 := 3*rise - width*(2*s0+s1)
	c3 := width*(s0+s1) - 2*rise
	y = y0 + t*(width*s0+t*(c2+t*c3))
	slope = s0 + t*(2*c2+3*t*c3)/width
	return y, slope
}
