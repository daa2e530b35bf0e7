package transient

// This file is what can go wrong.

import "fmt"

// ValueError reports a value that cannot be stepped with.
type ValueError struct {
	Edge    Edge // -1 where an element is to blame
	Element ID   // -1 where an edge is to blame
	Why     string
	Cause   error // what an element says of its parameters, or nil
}

// Unwrap is the cause.
func (e *ValueError) Unwrap() error { return e.Cause }

func (e *ValueError) Error() string {
	if e.Edge >= 0 {
		return fmt.Sprintf("transient: edge %d: %s", e.Edge, e.Why)
	}
	return fmt.Sprintf("transient: element %d: %s", e.Element, e.Why)
}

// StuckError reports that no step, however short, could be solved: at that instant the network has no state to go on to,
// such as a load of constant power without a capacitor behind a resistance that is too large for it.
type StuckError struct {
	Seconds     float64
	StepSeconds float64 // the last one tried
	Element     ID      // the one that moved most in the last attempt
}

func (e *StuckError) Error() string {
	return fmt.Sprintf("transient: at %.9g s no step could be solved, down to %.3g s; element %d moves most", e.Seconds, e.StepSeconds, e.Element)
}

// ChatterError reports events that set each other off without time going by.
type ChatterError struct {
	Seconds float64
	Element ID // one of them
}

func (e *ChatterError) Error() string {
	return fmt.Sprintf("transient: at %.9g s element %d changes to and fro without time going by", e.Seconds, e.Element)
}
