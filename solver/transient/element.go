// Package transient steps a network through time: resistors, sources, and elements with memory, such as a capacitor, a
// coil or something that warms up. It knows nothing of vehicles.
//
// Time is taken in implicit steps (see Method), their length set by the local error. All memories are solved together
// with the node voltages, each element condensed to one conductance and one current, so that no order is lost and the
// matrix stays one of conductances. What changes at once, an event, is found to the instant and never in the middle of a
// step.
package transient

// This file is what an element is.

// MaxStates is the most continuous states an element may have.
const MaxStates = 5

// Size is what an element needs room for.
type Size struct {
	States int // continuous, at most MaxStates
	Marks  int // discrete numbers: modes, timers, counters. They change in Fire and Tick only.
	Events int // conditions watched for the element
	// Unit is, for each state, how large an error in it is of no account at a relative tolerance of 1e-3. It shrinks in
	// proportion with the tolerance. It must be above 0.
	Unit [MaxStates]float64
}

// Element is a two-terminal thing with memory. Its methods must be pure functions of what they are given, so that a
// step can be tried and taken back: memory lives in the states and marks alone.
type Element interface {
	Size() Size
	// Start fills states and marks for a run that begins with volts (first terminal against second) across the element
	// since long ago.
	Start(volts float64, states, marks []float64)
	// Rates gives the current and how fast the states change, with all slopes. rates comes in as zero.
	Rates(at *Point, rates *Rates)
}

// Checked is an element that knows which of its parameters make sense. Check reports the first that does not, and is
// asked when a run is started.
type Checked interface {
	Element
	Check() error
}

// Switching is an element whose marks change when a condition is met.
type Switching interface {
	Element
	// Events fills one number for each event: the condition is met when it is 0 or above. It must be smooth in volts and
	// states, about the relative distance to its threshold (volts over threshold less 1), and below 0, say -1, for a
	// condition that does not apply in the present mode. It must not jump with time: what happens at a known time is Timed.
	Events(at *Point, distance []float64)
	// Fire changes marks, and states that jump, when event k is met. Afterwards its distance must be below 0.
	Fire(k int, at *Point)
}

// Timed is an element that does something at times known beforehand.
type Timed interface {
	Element
	// Next is when the next thing happens, in seconds, or +Inf.
	Next(marks []float64) float64
	// Tick changes marks, and states that jump, at that time. Next must then be later.
	Tick(at *Point)
}

// Limited is an element with a curve so steep that a Newton step may go astray on it. Limit gives the volts that a step
// which starts at from and wants to go to may reach; close to it must return to itself.
type Limited interface {
	Element
	Limit(from, to float64) float64
}

// Bending is an element whose curve may have a corner that a tangent does not see. Bends reports whether a step from some
// volts to others comes near it; the element is then asked at the volts found before they are believed.
type Bending interface {
	Element
	Bends(from, to float64) bool
}

// Powered is an element that accounts for its energy. All elements of a run should be, or its balance means nothing.
type Powered interface {
	Element
	// Power is what is turned into heat, light or work (watts), what comes out of a source (watts), and what is stored
	// (joules, from any zero). Volts times amps into the element is always lost - given + d(stored)/dt.
	Power(at *Point) (lostWatts, givenWatts, storedJoules float64)
}

// Gentle is an element whose rates depend on nothing but its own volts, states and marks, and that bends so little that a
// change of volts or states by a share of themselves leaves about the square of that share beside its tangent. It is then
// not asked anew for every hair it moves within a step. Gentle does nothing.
type Gentle interface {
	Element
	Gentle()
}

// Point is where an element is asked.
type Point struct {
	Seconds float64
	Volts   float64   // first terminal against second
	States  []float64 // of this element
	Marks   []float64 // of this element

	run     *Run
	element ID
	volts   []float64 // unknowns
}

// Sensed is the volts of the i-th node the element was told to sense, against its second terminal.
func (p *Point) Sensed(i int) float64 { return p.run.sensed(p.element, i, p.volts) }

// MarksOf are the marks of another element, for reading: how the contact of a relay follows its armature.
func (p *Point) MarksOf(other ID) []float64 { return p.run.marksOf(other) }

// Draw is a random number from 0 to below 1 that depends on the run's seed, the element and count alone. An element
// that draws keeps count in its marks, so that what comes does not depend on the length of steps.
func (p *Point) Draw(count float64) float64 {
	return draw(p.run.seed, uint64(p.element), uint64(count))
}

// Rates is what an element does at a point.
type Rates struct {
	Amps     float64            // from the first terminal through the element to the second
	PerVolt  float64            // d amps / d volts
	PerState [MaxStates]float64 // d amps / d states
	Rate     [MaxStates]float64 // d states / d seconds
	RatePerV [MaxStates]float64
	RatePerX [MaxStates][MaxStates]float64 // [i][j]: of rate i by state j
}

// ID names an element of a network.
type ID int32
