package sanity

// This file looks at in-line terminals and pins: colours that change where wires only meet, and pins that nothing is
// wired to.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
)

func (k *checker) joints() {
	at := map[circuit.Spot][]*circuit.Wire{}
	for _, w := range k.c.Wires {
		at[w.From.Spot] = append(at[w.From.Spot], w)
		at[w.To.Spot] = append(at[w.To.Spot], w)
	}
	for _, con := range k.c.Connectors {
		for _, t := range con.Cavities {
			k.colours(con, t, at[t.Spot], at[t.FarSpot])
		}
	}
	for _, p := range k.c.Parts {
		if p.Module == nil {
			continue
		}
		for _, t := range p.Terminals {
			if t.Spot == circuit.NoSpot {
				k.find(Finding{Rule: "unused pin", Pos: t.Pos, At: t.Name, also: []string{p.Name},
					Text: t.Name + " is on no path", Hint: "Trace it, or leave it out if its cavity is empty"})
			}
		}
	}
}

// colours looks at the two sides of an in-line terminal. The colour below the stripe is what counts: the halves of a
// connector usually keep it, while a splice, switch or fuse may change it.
func (k *checker) colours(con *circuit.Connector, t *circuit.Terminal, a, b []*circuit.Wire) {
	one, other := bases(a), bases(b)
	if len(one) == 0 || len(other) == 0 || slices.ContainsFunc(one, func(base string) bool { return slices.Contains(other, base) }) {
		return
	}
	k.find(Finding{Rule: "colour", Pos: t.Pos, At: t.Name, also: []string{con.Name}, group: con.Name,
		Text: fmt.Sprintf("the wire at %s is %s on one side and %s on the other", t.Name, strings.Join(one, " or "), strings.Join(other, " or ")),
		Hint: "Look at the diagram again: the halves of a connector usually keep a wire's colour"})
}

// bases lists the colours of wires without their stripes, or nothing where one of them has none.
func bases(wires []*circuit.Wire) []string {
	var all []string
	for _, w := range wires {
		base, _, _ := strings.Cut(w.Colour, "/")
		if base == "" {
			return nil
		}
		if !slices.Contains(all, base) {
			all = append(all, base)
		}
	}
	return all
}
