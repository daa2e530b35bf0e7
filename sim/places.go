package sim

// This file says in words of the circuit what went wrong in its network: where, and what to do.

import (
	"errors"
	"fmt"
	"slices"

	"underload/solver"
	"underload/solver/transient"
)

// failure is an error of a solver with its place in the circuit. The solver's own error is beneath.
type failure struct {
	says  string
	cause error
}

func (f *failure) Error() string { return f.says }
func (f *failure) Unwrap() error { return f.cause }

// placed tells an error of the bench's network by its place. Any other error it returns as it is.
func (w *wiring) placed(err error) error {
	var value *solver.ValueError
	var loop *solver.DisagreementError
	var none *solver.NoOperatingPointError
	switch {
	case errors.As(err, &value):
		return &failure{fmt.Sprintf("%s has a %s of %g, which cannot be reckoned with: give it another", w.placeOf(value.Branch), value.Quantity, value.Value), err}
	case errors.As(err, &loop):
		return &failure{fmt.Sprintf("%s and others feed each other without a resistance between: give one of them a resistance", w.placeOf(loop.Branches[0])), err}
	case errors.As(err, &none):
		return &failure{fmt.Sprintf("no operating point: %v, at %s: look at what is set and broken there", none.Why, w.called[none.Node]), err}
	}
	return err
}

func (w *wiring) placeOf(b solver.Branch) string {
	for _, l := range w.links {
		if l.Branch == b {
			return l.Place
		}
	}
	return "something"
}

// owner is a place to which the elements of an age belong from one on.
type owner struct {
	from  int
	place string
}

// own has the elements that follow belong to a place.
func (a *age) own(place string) { a.owners = append(a.owners, owner{a.net.Elements(), place}) }

// placeOf is the place that an element belongs to.
func (a *age) placeOf(id transient.ID) string {
	for _, o := range slices.Backward(a.owners) {
		if o.from <= int(id) {
			return o.place
		}
	}
	return "something"
}

// placeOfEdge is the place that a resistance belongs to.
func (a *age) placeOfEdge(e transient.Edge) string {
	for _, l := range a.w.links {
		if leg, ok := a.legs[l.Branch]; ok && leg.is == isEdge && leg.edge == e {
			return l.Place
		}
	}
	return "something in a part"
}

// placed tells an error of the run's network by its place. Any other error it returns as it is.
func (a *age) placed(err error) error {
	var value *transient.ValueError
	var stuck *transient.StuckError
	var chatter *transient.ChatterError
	switch {
	case errors.As(err, &value):
		place := ""
		if value.Edge >= 0 {
			place = a.placeOfEdge(value.Edge)
		} else {
			place = a.placeOf(value.Element)
		}
		return &failure{fmt.Sprintf("%s cannot be reckoned with in time: %s", place, value.Why), err}
	case errors.As(err, &stuck):
		return &failure{fmt.Sprintf("there is no state to go on to from %s, least of all for %s: look at what is set and broken there",
			spoken(stuck.Seconds), a.placeOf(stuck.Element)), err}
	case errors.As(err, &chatter):
		return &failure{fmt.Sprintf("at %s %s changes to and fro without time going by: look at what is set and broken there",
			spoken(chatter.Seconds), a.placeOf(chatter.Element)), err}
	}
	return err
}
