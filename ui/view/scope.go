package view

// This file is what the two-channel scope records and shows of a circuit in motion.

import (
	"math"
	"slices"

	"underload/sim"
	"underload/sim/record"
)

// sweeps are the ways to sweep, in words.
var sweeps = []struct {
	how   record.Sweeping
	words string
	says  string
}{
	{record.Roll, "Roll", "the last stretch, always"}, {record.Auto, "Auto", "on the trigger, else what comes"},
	{record.Normal, "Normal", "on the trigger only"}, {record.Single, "Single shot", "on the trigger, once"},
}

// screens are how much time a screen holds, in seconds.
var screens = []struct {
	seconds float64
	words   string
}{{0.002, "2\u00a0ms"}, {0.01, "10\u00a0ms"}, {0.05, "50\u00a0ms"}, {0.2, "200\u00a0ms"}, {1, "1\u00a0s"}, {5, "5\u00a0s"}, {30, "30\u00a0s"},
	{300, "5\u00a0min"}, {3600, "1\u00a0h"}, {28800, "8\u00a0h"}}

const usualScreen = 5

// triggerCue is the trigger that is no channel.
const triggerCue = 2

// before is the share of a screen that lies before its trigger.
const before = 0.25

// scope is the scope as it is set, and what it has recorded. Its channels are leads A and B, unless others were chosen.
type scope struct {
	chosen  [2]string // what is watched; empty: the lead
	screen  int       // which of the screens
	sweep   int       // which of the sweeps
	on      int       // the channel of the trigger; triggerCue: anything that is noticed
	slope   record.Slope
	level   float64
	levelOf string // what the level was set for

	names  [2]string // of what is recorded; empty: nothing
	read   []sim.Channel
	all    *record.Recording // of the whole run
	swept  *record.Scope     // on its trigger
	last   record.Screen     // what stood on the screen when time was put to rest
	fired  int               // events of the run when it was last read
	cursor float64           // share of the screen where the cursor stands; below 0: nowhere
}

// newScope is a scope as it comes.
func newScope() scope { return scope{screen: usualScreen, cursor: -1} }

// fresh is a scope that is set the same and has recorded nothing.
func (s scope) fresh() scope {
	return scope{chosen: s.chosen, screen: s.screen, sweep: s.sweep, on: s.on, slope: s.slope, level: s.level, levelOf: s.levelOf, cursor: -1}
}

// kept is the scope with what it has recorded, without the run that it was recorded of.
func (s scope) kept() scope {
	if s.swept != nil {
		s.last, _ = s.swept.Screen()
	}
	s.read, s.swept = nil, nil
	return s
}

// has reports whether something was recorded.
func (s *scope) has() bool { return s.all != nil && len(s.all.Channels()) > 0 && s.all.Rows() > 0 }

// watches is what the two channels are to watch; empty where there is nothing to.
func (s *scope) watches(st *state) (names [2]string) {
	for i := range names {
		switch names[i] = s.chosen[i]; {
		case names[i] != "":
		case i == 0 && st.with == "clamp" && st.on != "":
			names[i] = "amps " + st.on
		default:
			names[i] = st.leads[i]
		}
	}
	return names
}

// bind watches what is to be watched. What was recorded of other things is gone.
func (s *scope) bind(st *state, run *sim.Run) {
	names := s.watches(st)
	if names == s.names && s.all != nil {
		return
	}
	s.names, s.read = [2]string{}, nil
	for i, name := range names {
		if name == "" {
			continue
		}
		if ch, err := run.Watch(name); err == nil {
			s.read = append(s.read, ch)
			s.names[i] = name
		}
	}
	s.last = record.Screen{}
	s.all, s.swept = record.New(s.channels(), 1<<15), nil
	s.names, s.fired = names, run.Stats().Fired
	s.all.Listen(func(seconds float64, values []float64) error {
		if s.swept != nil {
			return s.swept.Add(seconds, values...)
		}
		return nil
	})
	s.sweepAnew()
	s.feed(run)
}

// letter is A or B: a channel without something to watch has no trace.
func (s *scope) letter(channel int) string {
	if s.names[0] == "" {
		channel++
	}
	return string(rune('A' + channel))
}

func (s *scope) channels() []record.Channel {
	var all []record.Channel
	for _, ch := range s.read {
		all = append(all, record.Channel{Name: ch.Name, Unit: ch.Unit, Words: ch.Words, Resolution: resolutions[ch.Unit]})
	}
	return all
}

// resolutions are what one count of the scope's display is, by unit (common practice, no source).
var resolutions = map[string]float64{"V": 1e-3, "A": 1e-3, "°C": 0.1, "%": 0.1, "rad/s": 0.1}

// sweepAnew makes the swept part as it is set now.
func (s *scope) sweepAnew() {
	if s.swept != nil { // the picture stays until there is another
		if shown, ok := s.swept.Screen(); ok {
			s.last = shown
		}
	}
	s.swept = nil
	if len(s.read) == 0 {
		return
	}
	trigger := record.Trigger{Channel: s.on, Slope: s.slope, Level: s.level}
	if s.on == triggerCue {
		trigger = record.Trigger{Cue: " "} // whatever is said of has two words at least
	} else if s.on >= len(s.read) {
		trigger.Channel, s.on = 0, 0
	}
	set := record.Settings{Seconds: screens[s.screen].seconds, Before: before, Sweep: sweeps[s.sweep].how, Trigger: trigger}
	if swept, err := record.NewScope(s.channels(), set); err == nil {
		s.swept = swept
	}
}

// waits reports whether the scope has still to be triggered.
func (s *scope) waits() bool { return s.swept != nil && s.swept.Waits() }

// How finely a curve between two steps is followed: a share of its value, and of a screen.
const (
	fineShare  = 0.002
	shortShare = 1.0 / 2000
)

// feed records what was since the last row, of a bus what was said, and the present instant: what jumps with what it was
// before.
func (s *scope) feed(run *sim.Run) {
	if len(s.read) == 0 {
		return
	}
	now := run.Seconds()
	for _, at := range s.moments(now) {
		s.all.Add(at, s.values(at, sim.Channel.ReadAt)...) // what is no number is left out
	}
	after := s.values(now, func(ch sim.Channel, _ float64) float64 { return ch.Read() })
	before := after
	if fired := run.Stats().Fired; fired != s.fired {
		s.fired = fired
		before = s.values(math.Nextafter(now, math.Inf(-1)), sim.Channel.ReadAt)
	}
	err := s.all.Follow(now, fineShare, shortShare*screens[s.screen].seconds, func(seconds float64, values []float64) {
		if seconds == now {
			copy(values, before)
			return
		}
		copy(values, s.values(seconds, sim.Channel.ReadAt))
	})
	if err == nil {
		s.all.Add(now, after...)
	}
}

func (s *scope) values(seconds float64, read func(sim.Channel, float64) float64) []float64 {
	var all []float64
	for _, ch := range s.read {
		all = append(all, read(ch, seconds))
	}
	return all
}

// moments are those times since the last row at which something was said on a bus, as finely as the screen shows.
func (s *scope) moments(now float64) []float64 {
	if s.all.Rows() == 0 {
		return nil
	}
	const fine = 1.0 / 500 // of a screen
	_, last := s.all.Span()
	var all []float64
	for _, ch := range s.read {
		if last < now {
			all = append(all, ch.Moments(last, now, fine*screens[s.screen].seconds)...)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (s *scope) cue(c sim.Cue) {
	if s.all == nil {
		return
	}
	s.all.Mark(record.Mark{Seconds: c.Seconds, Words: c.Says})
	if s.swept != nil {
		s.swept.Cue(c.Seconds, c.Says)
	}
}

// back forgets what is later than a time.
func (s *scope) back(seconds float64) {
	if s.all != nil {
		s.all.Back(seconds)
	}
	if s.swept != nil {
		s.swept.Back(seconds)
	}
}

// shown is the screen as it stands.
func (s *scope) shown() (record.Screen, bool) {
	if !s.has() {
		return record.Screen{}, false
	}
	if sweeps[s.sweep].how != record.Roll {
		if s.swept != nil {
			if shown, ok := s.swept.Screen(); ok {
				return shown, true
			}
		}
		if s.last.Recording != nil {
			return s.last, true
		}
	}
	_, now := s.all.Span()
	from := max(0, now-screens[s.screen].seconds)
	return record.Screen{Recording: s.all, From: from, To: from + screens[s.screen].seconds}, true
}
