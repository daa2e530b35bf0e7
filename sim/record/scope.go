package record

// This file is a two-channel scope: what it keeps of what goes on, and when it stops to show it.

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Slope is the side of an edge.
type Slope int

// The slopes.
const (
	Rising Slope = iota
	Falling
)

// Sweeping is what a scope does about its trigger.
type Sweeping int

// The ways to sweep.
const (
	Auto   Sweeping = iota // shows what comes, if no trigger does within a screen
	Normal                 // shows the last screen that was triggered
	Single                 // stops at the first one, until Arm
	Roll                   // shows the last screen, with no trigger
)

// Trigger is what a screen is hung on: an edge of a channel, or a cue.
type Trigger struct {
	Channel int // 0 or 1
	Slope   Slope
	Level   float64 // in the channel's unit
	Quiet   float64 // how far the value has to be on the other side before the edge counts, in the channel's unit
	Cue     string  // if not empty: words that the cue's own words hold, and no edge counts
}

// Settings are how a scope is set.
type Settings struct {
	Seconds float64 // of a screen
	Before  float64 // share of the screen before the trigger, from 0 to 1
	Sweep   Sweeping
	Trigger Trigger
	Room    int // rows kept; 0 for the ordinary number
}

// Screen is what a scope shows.
type Screen struct {
	*Recording
	From, To  float64 // seconds from the left edge to the right; what is not recorded yet stays empty
	Triggered bool
	At        float64 // the trigger, in seconds
}

// Scope keeps the last stretch of up to two channels, and of it the screens that its trigger asks for. What it is fed
// comes in the order of time. It is not safe for use by two goroutines at once.
type Scope struct {
	set  Settings
	past *Recording
	edge edge

	armed     bool    // waiting for a trigger
	since     float64 // when it was armed
	triggered bool    // a screen is being filled
	at        float64
	shown     Screen
}

// NewScope is a scope on one or two channels.
func NewScope(channels []Channel, s Settings) (*Scope, error) {
	switch {
	case len(channels) < 1 || len(channels) > 2:
		return nil, fmt.Errorf("a scope has one channel or two, not %d", len(channels))
	case !(s.Seconds > 0) || math.IsInf(s.Seconds, 0):
		return nil, fmt.Errorf("a screen of %g s: it has to be above 0", s.Seconds)
	case !(s.Before >= 0 && s.Before <= 1):
		return nil, fmt.Errorf("%g of the screen before the trigger: it is a share from 0 to 1", s.Before)
	case s.Trigger.Channel < 0 || s.Trigger.Channel >= len(channels):
		return nil, fmt.Errorf("a trigger on channel %d of %d", s.Trigger.Channel+1, len(channels))
	case math.IsNaN(s.Trigger.Level) || !(s.Trigger.Quiet >= 0):
		return nil, errors.New("a trigger's level is a number, and its quiet share not below 0")
	}
	sc := &Scope{set: s, past: New(channels, s.Room)}
	sc.Arm()
	return sc, nil
}

// Arm makes the scope wait for its trigger.
func (s *Scope) Arm() {
	_, now := s.past.Span()
	s.armed, s.since, s.triggered = true, now, false
	t := s.set.Trigger
	s.edge = edge{Level: t.Level, Quiet: t.Quiet, Falling: t.Slope == Falling}
}

// Waits reports whether the scope is armed and has not been triggered.
func (s *Scope) Waits() bool { return s.armed && !s.triggered && s.set.Sweep != Roll }

// Add feeds the scope a value for each channel.
func (s *Scope) Add(seconds float64, values ...float64) error {
	if err := s.past.Add(seconds, values...); err != nil {
		return err
	}
	if s.past.Rows() == 1 {
		s.since = seconds
	}
	s.finish(seconds) // what ended before this counts before what begins with it
	at, crossed := s.edge.see(seconds, values[s.set.Trigger.Channel])
	if crossed && s.set.Trigger.Cue == "" {
		s.fire(at)
		s.finish(seconds)
	}
	if s.set.Sweep == Auto && s.Waits() && seconds-s.since >= s.set.Seconds {
		s.shown = s.window(seconds-s.set.Seconds, seconds)
		s.since = seconds
	}
	keep := seconds - s.set.Seconds
	if s.triggered {
		keep = s.at - s.set.Before*s.set.Seconds
	}
	s.past.Forget(keep)
	return nil
}

// Cue tells the scope what a person notices.
func (s *Scope) Cue(seconds float64, words string) {
	s.past.Mark(Mark{Seconds: seconds, Words: words})
	s.finish(seconds)
	if cue := s.set.Trigger.Cue; cue != "" && strings.Contains(strings.ToLower(words), strings.ToLower(cue)) {
		s.fire(seconds)
	}
}

// Back takes away what is later than a time, after the bench has been stepped back. A screen that is shown stays.
func (s *Scope) Back(seconds float64) {
	s.past.Back(seconds)
	s.edge.ready, s.edge.met = false, false
	s.since = min(s.since, seconds)
	s.triggered = s.triggered && s.at <= seconds
}

func (s *Scope) fire(at float64) {
	if s.Waits() {
		s.triggered, s.at = true, at
	}
}

// finish shows the screen that is being filled, once it is full.
func (s *Scope) finish(now float64) {
	if !s.triggered {
		return
	}
	from := s.at - s.set.Before*s.set.Seconds
	if now < from+s.set.Seconds {
		return
	}
	s.shown = s.window(from, from+s.set.Seconds)
	s.shown.Triggered, s.shown.At = true, s.at
	s.triggered, s.since = false, now
	s.armed = s.set.Sweep != Single
}

func (s *Scope) window(from, to float64) Screen {
	return Screen{Recording: s.past.Part(from, to), From: from, To: to}
}

// Screen is what the scope shows now; ok is false while there is nothing yet.
func (s *Scope) Screen() (shown Screen, ok bool) {
	_, now := s.past.Span()
	switch {
	case s.set.Sweep == Roll && s.past.Rows() > 0:
		return s.window(now-s.set.Seconds, now), true
	case s.shown.Recording == nil:
		return Screen{}, false
	}
	return s.shown, true
}

// edge finds where a value crosses a level.
type edge struct {
	Level, Quiet float64
	Falling      bool

	ready         bool // it has been on the near side
	met           bool // there was a value before
	seconds, last float64
}

// see takes the next value and tells whether, and when, the level was crossed since the last one.
func (e *edge) see(seconds, value float64) (at float64, crossed bool) {
	height, last := value-e.Level, e.last-e.Level
	if e.Falling {
		height, last = -height, -last
	}
	if e.ready && height >= 0 {
		e.ready, crossed, at = false, true, seconds
		if e.met && last < 0 && seconds > e.seconds {
			at = e.seconds + (seconds-e.seconds)*last/(last-height)
		}
	}
	if height < 0 && -height >= e.Quiet {
		e.ready = true
	}
	e.met, e.seconds, e.last = true, seconds, value
	return at, crossed
}
