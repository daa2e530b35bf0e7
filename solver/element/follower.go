package element

// This file holds the contact that an armature moves.

import "underload/solver/transient"

// Follower is a contact that another element moves, an Armature: closed when that is in if it makes, or when that is out
// if it breaks. A change-over contact is one of each. Closed it has Ohms, open a gap.
type Follower struct {
	overGap
	Armature transient.ID
	Breaks   bool    // closed at rest
	Ohms     float64 // at the start
}

// Marks of a Follower. Both may be changed during a run.
const (
	FollowerOhms = iota
	FollowerHeld // what holds it: one of the values below
)

// Values of FollowerHeld.
const (
	FollowerFree   = iota
	FollowerWelded // closed, whatever the armature does
	FollowerDead   // open, whatever the armature does
)

// Check reports the first parameter that makes no contact.
func (f *Follower) Check() error { return positive("follower", "Ohms", f.Ohms) }

// Size is two marks.
func (f *Follower) Size() transient.Size { return transient.Size{Marks: 2} }

// Start has its ohms and is free.
func (f *Follower) Start(_ float64, _, marks []float64) {
	marks[FollowerOhms], marks[FollowerHeld] = f.Ohms, FollowerFree
}

// Closed reports whether the contact is made, given its own marks and those of its armature.
func (f *Follower) Closed(marks, armature []float64) bool {
	switch marks[FollowerHeld] {
	case FollowerWelded:
		return true
	case FollowerDead:
		return false
	}
	if f.Breaks {
		return armature[ArmaturePlace] == ArmatureOut
	}
	return armature[ArmaturePlace] == ArmatureIn
}

// Rates is its ohms or the gap.
func (f *Follower) Rates(at *transient.Point, rates *transient.Rates) {
	if !f.Closed(at.Marks, at.MarksOf(f.Armature)) {
		setGap(at, rates)
		return
	}
	rates.PerVolt = 1 / at.Marks[FollowerOhms]
	rates.Amps = at.Volts * rates.PerVolt
}

// Power is heat.
func (f *Follower) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	var rates transient.Rates
	f.Rates(at, &rates)
	return rates.Amps * at.Volts, 0, 0
}
