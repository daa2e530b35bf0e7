package sanity

// This file turns every switch in states where it should matter, and tells of those that change nothing.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim"
)

// What counts as a change: a current or a voltage at a pin of a module, sensor or socket.
const (
	changedAmps  = 0.001
	changedVolts = 0.1
)

func (k *checker) switches(s *stand, all []*plan) {
	turns := 0
	for _, p := range k.c.OfKind("switch") {
		if len(k.c.Parts) > freshParts && k.asked(p) {
			continue // too many to turn: it stands on the way of something
		}
		changes := false
		for _, context := range k.contexts(p, all) {
			changed, cost := s.turn(p, context)
			turns += cost
			if changes = changed; changes || turns > mostTurns {
				break
			}
		}
		if turns > mostTurns {
			return
		}
		if !changes {
			k.find(Finding{Rule: "idle switch", Pos: p.Pos, At: p.Name, Text: fmt.Sprintf("%s changes nothing in any position", p.Name),
				Hint: "Look at its throws, and at what is wired to its terminals"})
		}
	}
}

// asked says that something needs a position of the switch.
func (k *checker) asked(p *circuit.Part) bool {
	for _, made := range k.plans {
		if _, ok := made.positions[p]; ok {
			return true
		}
	}
	return false
}

// contexts are the settings of everything else in which a switch may matter, the likeliest first: as for the first loads
// and relays that need it, everything at rest, and as much as possible at once.
func (k *checker) contexts(p *circuit.Part, together []*plan) [][]string {
	const most = 4
	var all [][]string
	add := func(made *plan) {
		var others []string
		for _, set := range made.settings() {
			if !strings.HasPrefix(set, p.Name+"=") {
				others = append(others, set)
			}
		}
		if !slices.ContainsFunc(all, func(before []string) bool { return slices.Equal(before, others) }) {
			all = append(all, others)
		}
	}
	for _, other := range k.c.Parts {
		if made := k.plans[other]; made != nil && len(all) < most {
			if _, ok := made.positions[p]; ok {
				add(made)
			}
		}
	}
	add(newPlan())
	for _, made := range together[:min(len(together), most)] {
		add(made)
	}
	return all
}

// turn brings a switch through its positions, all else being set as it is told, and says whether anything changes, and
// how many states that took.
func (s *stand) turn(p *circuit.Part, others []string) (changes bool, cost int) {
	var first []float64
	for i, throw := range p.Throws {
		settings := others
		if i > 0 {
			settings = append(slices.Clone(others), p.Name+"="+throw.Name)
		}
		b, ok := s.visit(settings)
		cost++
		if !ok {
			return true, cost // it does not come to rest there, which is a change
		}
		if seen := fingerprint(b); i == 0 {
			first = seen
		} else if !same(first, seen) {
			return true, cost
		}
	}
	return false, cost
}

// fingerprint is what can be noticed of a bench: the loads' amps, and the volts at pins, in steps of what counts as a
// change; relays and modes of modules.
func fingerprint(b *sim.Bench) []float64 {
	var seen []float64
	c := b.Circuit()
	for _, p := range c.Parts {
		state := b.State(p)
		switch {
		case p.Kind.Name == "relay" && state.PulledIn:
			seen = append(seen, 1)
		case p.Kind.Name == "relay":
			seen = append(seen, 0)
		case p.Kind.Load:
			// A motor may run either way.
			seen = append(seen, b.SignedAmps(p)/changedAmps, float64(state.Mode))
		}
		if p.Module == nil && p.Kind.Name != "sensor" {
			continue
		}
		for _, t := range p.Terminals {
			if at, err := c.Point(t.Name); err == nil && t.Spot != circuit.NoSpot {
				seen = append(seen, b.Volts(at)/changedVolts)
			}
		}
	}
	return seen
}

// same says that two fingerprints differ nowhere by a whole step.
func same(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) < 1 })
}
