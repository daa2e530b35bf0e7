package sim

// This file is a bench in motion: the same circuit, in the same state, from the moment its key is touched on.

import (
	"errors"
	"math"
)

// RunOptions say how a run is computed. The zero value is right for most.
type RunOptions struct {
	Seed        uint64  // of everything that is left to chance; the same seed gives the same run
	Tolerance   float64 // relative, of one step; 0 stands for 1e-4
	MemoryBytes int     // to be spent on stepping back; 0 stands for 64 MiB, below 0 for none
}

// Run is a bench in motion. It starts from the bench's state at rest, at 0 seconds, and leaves the bench itself alone.
// It is not safe for use by two goroutines at once.
type Run struct {
	seconds float64
	cues    []Cue
}

// Cue is something that a person would notice, in words.
type Cue struct {
	Seconds float64
	Place   string // K2, F7, PC1, C14.4
	Says    string // "K2 clicks in"
}

// Channel is one thing watched. It goes on working whatever is done to the circuit, and after stepping back.
type Channel struct {
	Name  string   // as it was asked for, spelled as in the file
	Unit  string   // V, A, °C, %, rad/s, or "" for a mode
	Words []string // of a mode: the word for each value
}

var errNotYet = errors.New("time does not run yet")

// Run starts time from the bench's state at rest.
func (b *Bench) Run(o RunOptions) (*Run, error) { return nil, errNotYet }

// Seconds is how long the run has been going on.
func (r *Run) Seconds() float64 { return r.seconds }

// Do does one thing at the present instant, written as for Set, or as an act:
//
//	KEY=run, F7=out, M1=on, B1=support, ALT=running
//	apart C14, together C14
//	break C14.4 spread 6 ohm
//	repair C14.4, clean G2, replace F7, reseat C14
//	wiggle C14 [strength 0 to 1], still C14
//	disturb C14        one shake: its contacts are wiped, and nothing is mended
//
// An error says what is wrong; nothing is changed then.
func (r *Run) Do(text string) error { return errNotYet }

// At has a thing done at a later time. What can be refused without waiting is refused at once.
func (r *Run) At(seconds float64, text string) error { return errNotYet }

// Advance goes on until a time. After every step, and after everything that happens at an instant, it calls each, if
// that is not nil; where each returns false it stops there.
func (r *Run) Advance(until float64, each func() bool) error { return errNotYet }

// Watch finds something to be watched:
//
//	B1.pos                 volts against the battery's minus; any point of the circuit
//	PC1.1 against PC1.8    volts between two points
//	amps W3, amps L1       in a wire along its path, in a part
//	light L1               percent of what the lamp gives at its rated volts
//	heat C14.4, heat F7    °C of a joint, a fuse, a wire, a lamp
//	speed M1               radians a second
//	charge B1              percent
//	mode PC1               what a module or relay does
func (r *Run) Watch(text string) (Channel, error) { return Channel{}, errNotYet }

// Read is the channel's value now, in its unit.
func (c Channel) Read() float64 { return math.NaN() }

// ReadAt is its value at a time inside the last step.
func (c Channel) ReadAt(seconds float64) float64 { return math.NaN() }

// Cues is what a person would have noticed so far, in the order of time.
func (r *Run) Cues() []Cue { return r.cues }

// Back goes back in time by so many seconds, or to the start. What was set to be done with At will be done again; what
// was done with Do after that time is undone.
func (r *Run) Back(seconds float64) error { return errNotYet }
