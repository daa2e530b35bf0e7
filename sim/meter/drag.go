package meter

// This file is the drag gauge: a test pin pulled out of a female terminal.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim"
)

var dragGauge = instrument{
	name: "drag", leads: oneCavity, minutes: catalog.Minutes(catalog.DragTest), says: "a test pin drawn out of one female terminal, given with --red, connector apart",
	measure: measureDrag,
	tell: func(t telling) (string, string) {
		if !t.got.has {
			return t.got.seen, "There is no terminal in place to grip the pin."
		}
		share := t.got.value / t.healthy.value
		switch {
		case share < 0.05:
			return t.got.seen, "Nothing grips the pin: the terminal is not home in its cavity, or has no spring left."
		case share < spreadBelow:
			return t.got.seen, fmt.Sprintf("It grips with %s where a sound terminal of its size grips with %s: it has lost its spring, and will lose volts under load whatever a light shows.", newtons(t.got.value), newtons(t.healthy.value))
		}
		if share < weakBelow {
			return t.got.seen, fmt.Sprintf("It grips with %s where a sound terminal of its size grips with %s: weaker than that, and not yet one that has lost its spring. See what has worked on it: heat, water, a probe.", newtons(t.got.value), newtons(t.healthy.value))
		}
		return t.got.seen, "It grips as it should. Drag cannot see a film on a tight terminal, nor the crimp behind it."
	},
}

// Under these shares of a sound terminal's drag one counts as spread, and as weak (common practice, no source).
const spreadBelow, weakBelow = 0.4, 0.8

func measureDrag(b *sim.Bench, q Request) (raw, error) {
	t, err := cavity(b, q.Red)
	if err != nil {
		return raw{}, err
	}
	force, _ := dragOf(b, t)
	r := raw{has: true, value: force, after: b}
	var others []string
	for _, other := range siblings(b.Circuit(), t) {
		if f, ok := dragOf(b, other); ok && other != t {
			others = append(others, other.Name+" "+newtons(f))
		}
	}
	r.seen = newtons(force)
	if len(others) > 0 {
		r.seen += "; neighbours " + strings.Join(others, ", ")
	}
	return r, nil
}

// cavity finds the terminal to be gauged and insists that it is apart.
func cavity(b *sim.Bench, name string) (*circuit.Terminal, error) {
	c := b.Circuit()
	t := c.Terminal(name)
	if point, err := c.Point(name); t == nil && err == nil {
		if t = point.Terminal; t != nil && !t.Inline { // the part's own pin
			return nil, fmt.Errorf("%s has no spring to test: the terminal that grips it has, %s", name, t.Name)
		}
		if t == nil {
			return nil, fmt.Errorf("%s has no spring to test: a drag gauge is for blade and pin terminals", name)
		}
	}
	if t == nil {
		var names []string
		for _, point := range c.Points() {
			if t := point.Terminal; t != nil && !slices.Contains(names, t.Name) {
				if _, ok := dragOf(b, t); ok {
					names = append(names, t.Name)
				}
			}
		}
		return nil, unknown("terminal", name, names)
	}
	if _, ok := dragOf(b, t); !ok {
		return nil, fmt.Errorf("%s has no spring to test: a drag gauge is for blade and pin terminals", t.Name)
	}
	if !b.IsApart(t) {
		how := "--apart " + t.Owner
		if p := c.Part(t.Owner); p != nil && p.Kind.Name == "fuse" {
			how = "--set " + t.Owner + "=out"
		}
		return nil, fmt.Errorf("drag is measured with the connector apart: add %s", how)
	}
	return t, nil
}

func siblings(c *circuit.Circuit, t *circuit.Terminal) []*circuit.Terminal {
	if con := c.Connector(t.Owner); con != nil {
		return con.Cavities
	}
	return c.Part(t.Owner).Terminals
}

// dragOf is the force that a terminal grips a test pin with.
func dragOf(b *sim.Bench, t *circuit.Terminal) (newtons float64, ok bool) {
	p := b.Circuit().Part(t.Owner)
	size, err := catalog.TerminalOf(t.SizeMM)
	switch {
	case p == nil || p.Kind.Plugged && p.Kind.Name != "fuse":
	case p.Kind.Name == "fuse" && fuseType(b, p) != catalog.BoltIn:
		size, err = catalog.TerminalNamed("fuse slot")
	default: // bolted, clamped or crimped for good
		return 0, false
	}
	if err != nil {
		return 0, false
	}
	share := 1.0
	if grip, ok := b.Overlay().Grip[t]; ok {
		share = grip.DragShare
	}
	return math.Round(size.DragNewtons*share/catalog.DragGaugeNewtons) * catalog.DragGaugeNewtons, true
}
