package solver

// This file holds the errors a solution can end in.

import "fmt"

// ValueError reports a value that cannot be solved with: NaN, a negative or far
// too small or large resistance, a missing law, a law that gave no number.
type ValueError struct {
	Branch   Branch
	Quantity string // "ohms", "volts", "amps" or "law"
	Value    float64
	Cause    error // what a law's Check said, if anything
}

// Unwrap returns Cause.
func (e *ValueError) Unwrap() error { return e.Cause }

func (e *ValueError) Error() string {
	if e.Cause != nil {
		return fmt.Sprintf("branch %d: %v", e.Branch, e.Cause)
	}
	if e.Quantity == "law" {
		return fmt.Sprintf("branch %d: its law is missing or gives no number: check the law's parameters", e.Branch)
	}
	if e.Quantity == "ohms" {
		return fmt.Sprintf("branch %d: %v ohms cannot be solved: use 0 (joined), %g to %g, or +Inf (open)",
			e.Branch, e.Value, MinOhms, MaxOhms)
	}
	return fmt.Sprintf("branch %d: %v %s cannot be solved: use a finite value of moderate size", e.Branch, e.Value, e.Quantity)
}

// DisagreementError reports a loop of ideal sources and joins whose volts do not
// add up to zero. Branches names every branch of the loop.
type DisagreementError struct {
	Branches []Branch
	Volts    float64 // what is left over around the loop
}

func (e *DisagreementError) Error() string {
	return fmt.Sprintf("branches %v form a loop without resistance whose volts leave %.6g V over: give one of them a resistance",
		e.Branches, e.Volts)
}

// Reason says why there is no operating point.
type Reason int

const (
	// NotConverged: the iteration did not end.
	NotConverged Reason = iota
	// Restless: no stable operating point was reached from the given start; the
	// network has none there, or would keep cycling.
	Restless
	// NoReturn: a current source drives a part that has no way back to Ground.
	NoReturn
)

func (r Reason) String() string {
	switch r {
	case NotConverged:
		return "the iteration did not converge"
	case Restless:
		return "the network does not come to rest at a stable point"
	case NoReturn:
		return "a current source drives a part of the network with no return path"
	}
	return fmt.Sprintf("Reason(%d)", int(r))
}

// NoOperatingPointError reports a network for which no operating point can be
// shown: Node has the worst mismatch of current.
type NoOperatingPointError struct {
	Why          Reason
	Node         Node
	ResidualAmps float64
	Iterations   int
}

func (e *NoOperatingPointError) Error() string {
	return fmt.Sprintf("no operating point: %v (worst at node %d: %.3g A unbalanced after %d iterations)",
		e.Why, e.Node, e.ResidualAmps, e.Iterations)
}
