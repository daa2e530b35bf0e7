package sanity

// This file finds out how everything must be set for a part to work: switches, relays, and the outputs of modules.

import (
	"slices"
	"strings"

	"underload/circuit"
)

// plan is how a circuit must be set. A plan that contradicts itself keeps what it asked for first.
type plan struct {
	positions map[*circuit.Part][]string // of switches: any of these will do
	outputs   map[string]bool            // of modules: PC1.5
	relays    map[*circuit.Part]bool     // pulled in, or at rest
}

func newPlan() *plan {
	return &plan{map[*circuit.Part][]string{}, map[string]bool{}, map[*circuit.Part]bool{}}
}

// planFor is the plan for a load, a relay's coil or a module.
func (k *checker) planFor(p *circuit.Part) *plan {
	made := newPlan()
	k.ask(made, k.waysOf(p), map[*circuit.Part]bool{p: true})
	return made
}

// waysOf picks the ways by which a part is to work: of a module one for each purpose, of anything else one to the plus
// and one to the minus at different terminals.
func (k *checker) waysOf(p *circuit.Part) []circuit.Feed {
	var picked []circuit.Feed
	if p.Module != nil {
		for _, purpose := range []string{"supply", "wake", "ground"} {
			i := slices.IndexFunc(k.feeds[p], func(f circuit.Feed) bool { return f.Purpose == purpose && f.End != nil })
			if i >= 0 {
				picked = append(picked, k.feeds[p][i])
			}
		}
		return picked
	}
	plus, minus, ok := k.poles(p)
	if ok {
		return []circuit.Feed{plus, minus}
	}
	return nil
}

// poles picks a terminal that gets to the plus and another that gets to the minus.
func (k *checker) poles(p *circuit.Part) (plus, minus circuit.Feed, ok bool) {
	for _, up := range k.feeds[p] {
		for _, down := range k.feeds[p] {
			if up.End != nil && down.End != nil && up.Plus && !down.Plus && up.Terminal != down.Terminal && works(p, up) && works(p, down) {
				return up, down, true
			}
		}
	}
	return plus, minus, false
}

// works says that a terminal is one between which the part works: of a relay its coil.
func works(p *circuit.Part, f circuit.Feed) bool {
	return p.Kind.Name != "relay" || f.Purpose == "coil"
}

// ask adds what some ways need.
func (k *checker) ask(made *plan, ways []circuit.Feed, asked map[*circuit.Part]bool) {
	for _, f := range ways {
		k.need(made, f.Needs, asked)
	}
}

func (k *checker) need(made *plan, needs []circuit.Need, asked map[*circuit.Part]bool) {
	for _, n := range needs {
		switch {
		case n.Output != nil:
			made.outputs[n.Part.Name+"."+n.Output.Pin] = true
			if !asked[n.Part] { // an output works while its module is awake
				asked[n.Part] = true
				k.ask(made, k.waysOf(n.Part), asked)
			}
		case n.Part.Kind.Name == "relay":
			if _, set := made.relays[n.Part]; !set {
				made.relays[n.Part] = n.PulledIn
				k.need(made, n.By, asked)
			}
		default:
			before, set := made.positions[n.Part]
			both := common(before, n.Positions)
			switch {
			case !set:
				made.positions[n.Part] = n.Positions
			case len(both) > 0:
				made.positions[n.Part] = both
			}
		}
	}
}

func common(a, b []string) []string {
	return slices.DeleteFunc(slices.Clone(a), func(position string) bool { return !slices.Contains(b, position) })
}

// with is a plan that does for both, or false where they cannot be had together.
func (p *plan) with(other *plan) (*plan, bool) {
	both := newPlan()
	for _, from := range []*plan{p, other} {
		for part, pulled := range from.relays {
			if before, set := both.relays[part]; set && before != pulled {
				return nil, false
			}
			both.relays[part] = pulled
		}
		for out := range from.outputs {
			both.outputs[out] = true
		}
		for part, positions := range from.positions {
			if before, set := both.positions[part]; set {
				if positions = common(before, positions); len(positions) == 0 {
					return nil, false
				}
			}
			both.positions[part] = positions
		}
	}
	return both, true
}

// position is where a switch stands in the plan: at rest where that will do.
func (p *plan) position(of *circuit.Part) string {
	rest := of.Throws[0].Name
	if allowed := p.positions[of]; len(allowed) > 0 && !slices.Contains(allowed, rest) {
		return allowed[0]
	}
	return rest
}

// lets says that all that another plan asks for is so in this one.
func (p *plan) lets(other *plan) bool {
	for part, allowed := range other.positions {
		if !slices.Contains(allowed, p.position(part)) {
			return false
		}
	}
	for out := range other.outputs {
		if !p.outputs[out] {
			return false
		}
	}
	for part, pulled := range other.relays {
		if p.relays[part] != pulled {
			return false
		}
	}
	return true
}

// settings are those that differ from rest, as the bench reads them, in order.
func (p *plan) settings() []string {
	var all []string
	for part := range p.positions {
		if at := p.position(part); at != part.Throws[0].Name {
			all = append(all, part.Name+"="+at)
		}
	}
	for out := range p.outputs {
		all = append(all, out+"=on")
	}
	slices.Sort(all)
	return all
}

// key tells two plans apart that set something differently.
func (p *plan) key() string { return strings.Join(p.settings(), " ") }

// mostTogether bounds the plans that are made of many.
const mostTogether = 64

// together makes plans in which as much as possible works at once, so that every plan is contained in one of them, as
// far as mostTogether reaches.
func together(plans []*plan) []*plan {
	var all []*plan
	for _, p := range plans {
		if slices.ContainsFunc(all, func(made *plan) bool { return made.lets(p) }) {
			continue
		}
		if len(all) == mostTogether {
			break
		}
		made := p
		for _, other := range plans {
			if both, ok := made.with(other); ok {
				made = both
			}
		}
		all = append(all, made)
	}
	return all
}
