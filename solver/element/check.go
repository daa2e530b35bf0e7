package element

// This file holds what the elements share to check their parameters and to round corners.

import (
	"math"

	"underload/solver/device"
)

// positive returns an error unless value is finite and above zero.
func positive(element, parameter string, value float64) error {
	if value > 0 && !math.IsInf(value, 1) {
		return nil
	}
	return &device.ParameterError{Law: element, Parameter: parameter, Value: value, Want: "a finite value above 0"}
}

// notNegative returns an error unless value is finite and zero or above.
func notNegative(element, parameter string, value float64) error {
	if value >= 0 && !math.IsInf(value, 1) {
		return nil
	}
	return &device.ParameterError{Law: element, Parameter: parameter, Value: value, Want: "a finite value, 0 or above"}
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

// above is x where it is above 0 and nothing below, with its corner rounded from 0 to width, where it falls width/2 short
// of x from there on; and its slope.
func above(x, width float64) (y, slope float64) {
	switch {
	case x <= 0:
		return 0, 0
	case x < width:
		return x * x / (2 * width), x / width
	}
	return x - width/2, 1
}

// share returns an error unless 0 <= value <= 1.
func share(element, parameter string, value float64) error {
	if value >= 0 && value <= 1 {
		return nil
	}
	return &device.ParameterError{Law: element, Parameter: parameter, Value: value, Want: "0 to 1"}
}
