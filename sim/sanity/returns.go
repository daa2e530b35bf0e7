package sanity

// This file looks for loads and coils that cannot have a current, by what is wired to what.

import (
	"fmt"
	"slices"

	"underload/circuit"
)

func (k *checker) returns() {
	for _, p := range k.c.Parts {
		switch {
		case p.Kind.Name == "module":
			k.modulePins(p)
		case p.Kind.Name == "sensor":
			k.sensorPins(p)
		case p.Kind.Load && p.Kind.Name != "terminator":
			k.loadPins(p)
		}
	}
}

// modulePins tells of a module of which no supply pin gets to the plus, or no ground pin to the minus.
func (k *checker) modulePins(p *circuit.Part) {
	for _, need := range []struct{ purpose, to string }{{"supply", "plus"}, {"ground", "minus"}} {
		var lost *circuit.Feed
		found := false
		for i, f := range k.feeds[p] {
			if f.Purpose != need.purpose {
				continue
			}
			if f.End != nil {
				found = true
			} else if lost == nil {
				lost = &k.feeds[p][i]
			}
		}
		if !found && lost != nil {
			k.noWay(p, *lost, need.to)
		}
	}
}

// sensorPins tells of a sensor whose supply or ground pin has no way.
func (k *checker) sensorPins(p *circuit.Part) {
	for _, f := range k.feeds[p] {
		if f.End == nil {
			k.noWay(p, f, map[string]string{"supply": "plus", "ground": "minus"}[f.Purpose])
		}
	}
}

func (k *checker) noWay(p *circuit.Part, f circuit.Feed, to string) {
	text := fmt.Sprintf("%s has no way to the battery's %s", f.Terminal.Name, to)
	if f.Through != nil {
		text += fmt.Sprintf(": %s stands in between", f.Through.Name)
	}
	k.find(Finding{Rule: "no return", Pos: p.Pos, At: p.Name, also: []string{f.Terminal.Name}, Text: text, Hint: "Trace it again, as far as the battery"})
}

// loadPins tells of a load of two terminals that get to one and the same side of the battery, or nowhere. A load that
// works in series with another has no way of its own on one side, and is left alone.
func (k *checker) loadPins(p *circuit.Part) {
	if _, _, ok := k.poles(p); ok {
		return
	}
	var signs []string
	for _, f := range k.feeds[p] {
		if f.End == nil {
			if f.Through == nil && k.rails.depth[f.Terminal.Spot] > 0 {
				k.find(Finding{Rule: "no return", Pos: p.Pos, At: p.Name, also: []string{f.Terminal.Name},
					Text: fmt.Sprintf("%s can get to the battery only by positions of one switch or relay that exclude each other", f.Terminal.Name),
					Hint: "Look at the throws on its way"})
			}
			return
		}
		if sign := map[bool]string{true: "plus", false: "minus"}[f.Plus]; !slices.Contains(signs, sign) {
			signs = append(signs, sign)
		}
	}
	if len(signs) == 1 {
		k.find(Finding{Rule: "no return", Pos: p.Pos, At: p.Name,
			Text: fmt.Sprintf("both sides of %s get to the battery's %s only: it never has a current", p.Name, signs[0]), Hint: "Trace both of its wires again"})
	}
}

// coils tells of relays whose coil nothing switches, or that cannot have a current. A coil in series with a load, such as
// one that watches a lamp's current, is left alone.
func (k *checker) coils() {
	for _, p := range k.c.OfKind("relay") {
		if p.Terminal("85").Spot == circuit.NoSpot {
			k.find(Finding{Rule: "coil", Pos: p.Pos, At: p.Name, Text: fmt.Sprintf("the coil of %s is on no path: the relay stays at rest", p.Name),
				Hint: "Wire 85 and 86"})
			continue
		}
		plus, minus, ok := k.poles(p)
		switch {
		case ok && len(plus.Needs) == 0 && len(minus.Needs) == 0:
			k.find(Finding{Rule: "coil", Pos: p.Pos, At: p.Name, Text: fmt.Sprintf("nothing switches the coil of %s: it is pulled in for good", p.Name),
				Hint: "Put the switch or output that works it into the path of 85 or 86"})
		case !ok && !slices.ContainsFunc(k.feeds[p], func(f circuit.Feed) bool { return f.Purpose == "coil" && f.Through != nil }):
			k.find(Finding{Rule: "coil", Pos: p.Pos, At: p.Name, Text: fmt.Sprintf("the coil of %s has no way to the plus on one side and the minus on the other: the relay stays at rest", p.Name),
				Hint: "Trace 85 and 86 again"})
		}
	}
}
