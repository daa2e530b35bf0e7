package view

// This file is the healthy circuit in motion beside the one on the bench: everything that is done to that one is done to
// it too, but for faults, so that each reading has what it would be there at the same instant.

import (
	"strings"

	"underload/sim"
)

// healthy is the healthy circuit's run; without one it is not known.
type healthy struct {
	run  *sim.Run
	lost bool // and nobody has been told yet
}

// lose gives it up: readings stand alone from then on.
func (h *healthy) lose() { h.run, h.lost = nil, true }

// beginHealthy sets the healthy circuit going. Where it cannot be, readings do without it.
func beginHealthy(b *sim.Bench) (h healthy) {
	sound, err := b.Sound()
	if err == nil {
		h.run, err = sound.Run(sim.RunOptions{})
	}
	if err != nil {
		h.lose()
	}
	return h
}

// inStep reports whether it stands at an instant.
func (h *healthy) inStep(seconds float64) bool { return h.run != nil && h.run.Seconds() == seconds }

// catchUp goes on to an instant, by so many steps at most, and reports whether it need go no further.
func (h *healthy) catchUp(seconds, most float64) bool {
	if h.run == nil || h.run.Seconds() >= seconds {
		return true
	}
	steps := 0.0
	if err := h.run.Advance(seconds, func() bool { steps++; return steps < most }); err != nil {
		h.lose()
		return true
	}
	return h.run.Seconds() >= seconds
}

// do does an act at an instant. A fault is none of its business, and where a fault is mended it has nothing to mend but
// fuses.
func (h *healthy) do(text string, seconds float64) {
	verb, _, _ := strings.Cut(text, " ")
	if h.catchUpFully(seconds); h.run == nil || verb == "break" {
		return
	}
	if err := h.run.Do(text); err != nil {
		h.lose()
	}
}

func (h *healthy) catchUpFully(seconds float64) {
	for !h.catchUp(seconds, mostBudget) {
	}
}

// takeOff takes the instrument off it.
func (h *healthy) takeOff() {
	if h.run != nil && h.run.Attach() != nil {
		h.lose()
	}
}

// backTo goes back to an instant.
func (h *healthy) backTo(seconds float64) {
	if h.run == nil || h.run.Seconds() <= seconds {
		return
	}
	if err := h.run.BackTo(seconds); err != nil {
		h.lose()
	}
}
