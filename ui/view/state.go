package view

// This file is what a person's acts change, and how each act can be taken back. A state is never changed once another
// has followed it, so that taking back is going back to it.

import (
	"maps"
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim"
	"underload/ui/drawing"
)

// pick is something of the drawing: a point, a part or a wire.
type pick struct {
	kind drawing.HitKind
	name string
}

// state is all that an act can change.
type state struct {
	bench   *sim.Bench
	setup   []string // what was set since the start, in order: KEY=run, C14 apart
	role    Role
	leads   [2]string // the points that A and B touch
	with    string    // the instrument
	on      string    // the wire in the clamp
	picked  pick
	subject string // the load that was selected last
	log     []Entry
	probed  map[string]bool // points that a lead has been on
	taken   bool            // the load test was made at these leads
	tab     string
	focus   string
	place   string   // where a fault is being set
	did     []string // what the act that led here did to the circuit, as it is told to a circuit in motion
	turned  int      // how many acts have changed the circuit
	at      float64  // seconds: when the last of them was done, in motion; before all time where it was done at rest
	live    *live    // what follows from all this
}

// mostUndo is how many acts can be taken back.
const mostUndo = 300

// act lets a person do something. What fails changes nothing, and is told.
func (v *View) act(change func(s *state) error) bool {
	s := v.now
	s.log, s.setup, s.did = slices.Clip(s.log), slices.Clip(s.setup), nil
	if err := change(&s); err != nil {
		v.tell(spoken(err))
		return false
	}
	if s.bench != v.now.bench || len(s.did) > 0 {
		if err := v.doInTime(&s); err != nil {
			v.tell(spoken(err))
			return false
		}
		s.turned++
	}
	v.note = ""
	v.leave()
	s.focus = v.focus
	v.follow(&s)
	v.past = append(v.past, v.now)
	if len(v.past) > mostUndo {
		v.past = v.past[1:]
	}
	v.future = nil
	v.settle(s)
	return true
}

// settle makes a state the present one.
func (v *View) settle(s state) {
	v.now, v.unkept = s, true
	v.ease()
	v.dirty = true
}

func (v *View) undo() {
	if len(v.past) == 0 {
		v.tell("There is nothing to undo.")
		return
	}
	s := v.past[len(v.past)-1]
	ran := v.clock != nil
	if v.undoInTime(s) {
		return
	}
	v.past, v.future = v.past[:len(v.past)-1], append(v.future, v.now)
	v.back(s)
	if ran && v.clock == nil {
		v.tell("Time is at rest again: what was undone came before it.")
	}
}

func (v *View) redo() {
	if len(v.future) == 0 {
		v.tell("There is nothing to redo.")
		return
	}
	s := v.future[len(v.future)-1]
	if s.turned != v.now.turned {
		if err := v.doInTime(&s); err != nil {
			v.tell(spoken(err))
			return
		}
	}
	v.future, v.past = v.future[:len(v.future)-1], append(v.past, v.now)
	v.back(s)
}

// back shows a state that was there before.
func (v *View) back(s state) {
	v.note, v.menu, v.armed = "", "", 0
	v.focus = s.focus
	if v.clock != nil { // its leads and instrument go back on the circuit in motion
		v.follow(&s)
	}
	v.settle(s)
}

// tell shows one line of news, until the next act.
func (v *View) tell(words string) {
	v.note = words
	v.dirty = true
}

// Tell lets the host say something in the place where news stands: that a file was saved, or why it was not.
func (v *View) Tell(words string) { v.tell(words) }

// onBench changes a copy of the bench.
func onBench(s *state, change func(b *sim.Bench) error) error {
	b, err := s.bench.Clone()
	if err != nil {
		return err
	}
	if err := change(b); err != nil {
		return err
	}
	s.bench = b
	return nil
}

// set brings something to a state, as KEY=run does.
func (v *View) set(text string) {
	v.act(func(s *state) error {
		s.setup, s.did = append(s.setup, text), []string{text}
		return onBench(s, func(b *sim.Bench) error { return b.Set(text) })
	})
}

// plug takes a connector or part apart, or puts it together.
func (v *View) plug(name string, apart bool) {
	v.act(func(s *state) error {
		verb := "together"
		if apart {
			verb = "apart"
		}
		s.setup, s.did = append(s.setup, name+" "+verb), []string{verb + " " + name}
		return onBench(s, func(b *sim.Bench) error {
			if apart {
				return b.Apart(name)
			}
			return b.Together(name)
		})
	})
	v.dropLost()
}

// dropLost takes off the leads that nothing holds any more, once a connector has been put together: that belongs to the
// same act.
func (v *View) dropLost() {
	s := v.now
	for i, name := range s.leads {
		if name != "" && v.far(s.bench, name) != "" {
			s.leads[i] = ""
		}
	}
	if s.leads != v.now.leads {
		v.follow(&s)
		v.settle(s)
	}
}

// far says why a lead cannot get to a point now, and how it could; empty where it can.
func (v *View) far(b *sim.Bench, name string) string {
	p, err := v.c.Point(name)
	if err != nil {
		return spoken(err)
	}
	switch p.Reach {
	case circuit.Apart:
		if !b.IsApart(p.Terminal) {
			return p.Name + " is inside a joint that is together: take " + p.Terminal.Owner + " apart first."
		}
	case circuit.InLoom:
		return p.Name + " is buried in the loom: measure at the points on both sides of it."
	case circuit.Nowhere:
		return p.Name + " is inside a part, where no lead gets: measure at its terminals."
	}
	return ""
}

// place puts a lead (0 is A, 1 is B) on a point, or takes it off where the name is empty.
func (v *View) placeLead(lead int, name string) {
	if name != "" {
		if why := v.far(v.now.bench, name); why != "" {
			v.tell(why)
			return
		}
	}
	if v.now.leads[lead] == name {
		return
	}
	v.act(func(s *state) error {
		if other := 1 - lead; name != "" && s.leads[other] == name {
			s.leads[other] = ""
		}
		s.leads[lead] = name
		s.taken = false
		return nil
	})
	v.armed = 0
}

func (v *View) swapLeads() {
	v.act(func(s *state) error {
		s.leads[0], s.leads[1] = s.leads[1], s.leads[0]
		s.taken = false
		return nil
	})
}

// choose takes another instrument in hand.
func (v *View) choose(instrument string) {
	v.menu = ""
	if v.now.with == instrument {
		v.dirty = true
		return
	}
	v.act(func(s *state) error {
		s.with = instrument
		return nil
	})
}

// takeOff takes both leads and the clamp off.
func (v *View) takeOff() {
	v.act(func(s *state) error {
		s.leads, s.on, s.taken = [2]string{}, "", false
		return nil
	})
}

// clampOn puts the clamp around a wire.
func (v *View) clampOn(wire string) {
	v.act(func(s *state) error {
		s.with, s.on = "clamp", wire
		return nil
	})
}

// selectPick chooses something of the drawing; nothing where the name is empty.
func (v *View) selectPick(p pick) {
	v.popped, v.chosenAt = p.name != "", v.pointer
	if v.now.picked == p {
		v.dirty = true
		return
	}
	v.act(func(s *state) error {
		s.picked = p
		if p.name != "" {
			s.place = v.faultPlace(p)
		}
		return nil
	})
}

// seat changes the role.
func (v *View) seat(r Role) {
	v.menu = ""
	if v.now.role == r {
		v.dirty = true
		return
	}
	if r == SetFaults && v.o.Hide {
		v.tell("The faults of this case are hidden: this is the trainee's seat.")
		return
	}
	v.act(func(s *state) error {
		s.role = r
		return nil
	})
}

// logReading writes the present reading down.
func (v *View) logReading() {
	r := v.now.live.reading
	if r == nil {
		v.tell("There is no reading to log yet. " + v.now.live.waiting)
		return
	}
	v.act(func(s *state) error {
		s.log = append(s.log, Entry{Number: len(s.log) + 1, Setup: slices.Clone(s.setup), Seconds: v.secondsNow(), Reading: *r})
		return nil
	})
	v.tell("Reading " + number(len(v.now.log)) + " is in the log.")
}

// mark remembers which points leads have been on.
func (s *state) mark() {
	if s.live == nil || s.live.reading == nil {
		return
	}
	for _, name := range s.leads {
		if name == "" || s.probed[name] {
			continue
		}
		s.probed = maps.Clone(s.probed)
		if s.probed == nil {
			s.probed = map[string]bool{}
		}
		s.probed[name] = true
	}
}

// positionOf is where a switch stands.
func (s *state) positionOf(p *circuit.Part) string { return s.bench.State(p).Position }

// spelt is a name for people: a wire without a name of its own goes by its two ends.
func spelt(name string) string {
	name, _, _ = strings.Cut(name, "#")
	return strings.Replace(name, "~", " to ", 1)
}

// plain is a name in words: test-lamp is "test lamp".
func plain(name string) string { return strings.ReplaceAll(name, "-", " ") }
