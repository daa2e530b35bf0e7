package circuit

// This file checks that whatever a file names is used, and used whole: a name that is made by use must not hide a
// misspelling, and a part must not hang on one terminal.

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// checkUse runs after the paths, whether or not they were right: a name for which a wrong step was probably meant is
// left alone.
func (r *reader) checkUse() {
	for _, k := range r.circuit.Connectors { // these and the splices first: they find out which names were meant
		if !r.meant[k.Name] {
			r.checkConnector(k)
		}
	}
	for _, s := range r.circuit.Splices {
		if !r.meant[s.Name] {
			r.checkSplice(s)
		}
	}
	if !r.stepLost { // else that step may be the very use of a part or ground that seems unused
		for _, part := range r.circuit.Parts {
			if !r.meant[part.Name] {
				r.checkPart(part)
			}
		}
		r.checkStuds()
	}
	if len(r.circuit.Parts) > 0 && len(r.circuit.OfKind("battery")) == 0 && !r.kindLost {
		r.wrong(r.circuit.Parts[0].Pos, "the circuit has no battery", "Write one like BATT: {is: battery}")
	}
}

// met says that a path comes to a terminal.
func (r *reader) met(part *Part, pin string) bool {
	t := r.circuit.terminals[part.Name+"."+pin]
	return t != nil && r.tails[t] != nil && r.tails[t].nearMet
}

func (r *reader) anyMet(part *Part, pins []string) bool {
	return slices.ContainsFunc(pins, func(pin string) bool { return r.met(part, pin) })
}

// checkPart tells of a part on no path, or hanging on too few of its terminals.
func (r *reader) checkPart(part *Part) {
	var wired, bare []string
	for _, t := range part.Terminals {
		if r.tails[t].nearMet {
			wired = append(wired, t.Pin)
		} else {
			bare = append(bare, t.Pin)
		}
	}
	if len(wired) == 0 {
		r.wrong(part.Pos, part.Name+" is on no path", "Put it on one, or leave it out of the parts")
		return
	}
	switch part.Kind.Name {
	case "module":
		r.checkModulePins(part)
	case "socket": // any of its cavities may be empty
	case "relay":
		for _, pair := range [][]string{{"85", "86"}, {"30", "87", "87a"}} {
			if r.met(part, pair[0]) != r.anyMet(part, pair[1:]) {
				r.wrong(part.Pos, fmt.Sprintf("%s is wired on one side of %s only", part.Name, strings.Join(pair, ", ")), "Current that comes in must be able to leave")
			}
		}
	case "sensor", "switch":
		if len(wired) == 1 {
			r.wrong(part.Pos, fmt.Sprintf("%s is wired at %s only", part.Name, wired[0]), "Current that comes in must be able to leave")
		}
	default:
		if len(bare) > 0 {
			r.wrong(part.Pos, fmt.Sprintf("%s.%s is on no path", part.Name, bare[0]),
				fmt.Sprintf("Current that comes in at %s.%s must be able to leave", part.Name, wired[0]))
		}
	}
}

// checkModulePins tells of a module that cannot be fed.
func (r *reader) checkModulePins(part *Part) {
	for _, need := range []struct {
		name string
		pins []string
	}{{"supply", part.Module.Supply}, {"ground", part.Module.Ground}} {
		if len(need.pins) > 0 && !r.anyMet(part, need.pins) {
			r.wrong(part.Pos, fmt.Sprintf("no path comes to a %s pin of %s (%s)", need.name, part.Name, list(need.pins, "or")), "")
			return
		}
	}
}

// others lists the names that a name made by use may be a misspelling of: all but itself, and of short ones only those
// that begin alike, since S1 is one letter away from B1 and has nothing to do with it.
func (r *reader) others(name string) []string {
	all := slices.Sorted(maps.Keys(r.claimed))
	return slices.DeleteFunc(all, func(other string) bool {
		return other == name || len(name) <= 3 && !strings.EqualFold(other[:1], name[:1])
	})
}

// maybe makes the hint for a name that may be a misspelling.
func (r *reader) maybe(name, otherwise string) string {
	if r.full() {
		return ""
	}
	if near := r.speller.nearest(name, r.others(name)); near != "" {
		r.meant[near] = true
		return "Did you mean " + near + "? If not: " + strings.ToLower(otherwise[:1]) + otherwise[1:]
	}
	return otherwise
}

// checkConnector tells of an in-line connector that is unused, may be a misspelling, or joins nothing.
func (r *reader) checkConnector(k *Connector) {
	switch {
	case len(k.Cavities) == 0:
		r.wrong(k.Pos, fmt.Sprintf("no path goes through %s", k.Name), "Put it on one, or leave it out of the connectors")
		return
	case len(k.Cavities) == 1 && !r.inline[k].declared:
		r.wrong(k.Pos, fmt.Sprintf("%s is no part, and no connector that is declared", k.Name), r.maybe(k.Name, "Write "+k.Name+": {} under connectors"))
		return
	}
	for _, t := range k.Cavities {
		end := r.tails[t]
		if end.nearMet != end.farMet {
			side, other := "a", "b"
			if end.farMet {
				side, other = "b", "a"
			}
			r.wrong(t.Pos, fmt.Sprintf("%s is met on side %s only", t.Name, side), fmt.Sprintf("Go on through it, or start another path at %s.%s", t.Name, other))
		}
	}
}

// checkSplice tells of a splice that is unused, may be a misspelling, or joins nothing.
func (r *reader) checkSplice(s *Splice) {
	met := r.splices[s]
	switch {
	case met.times == 0:
		r.wrong(s.Pos, fmt.Sprintf("no path goes through %s", s.Name), "Put it on one, or leave it out of the splices")
	case met.times > 1 || met.declared && met.middle:
	case met.declared:
		r.wrong(s.Pos, fmt.Sprintf("%s is met only once, where a path ends", s.Name), "Join another path to it")
	default:
		r.wrong(s.Pos, fmt.Sprintf("%s is no part or ground, and as a splice it is met only once", s.Name),
			r.maybe(s.Name, "Join another path to it, or write "+s.Name+": {} under splices if it joins two wires, or list it under grounds if it is bolted to metal"))
	}
}

// checkStuds tells of grounds that nothing is bolted to.
func (r *reader) checkStuds() {
	wanted := map[string]bool{}
	for _, stud := range r.circuit.Studs {
		wanted[stud.To] = true
	}
	for _, stud := range r.circuit.Studs {
		if r.studs[stud].times == 0 && !wanted[stud.Name] && !r.meant[stud.Name] {
			r.wrong(stud.Pos, fmt.Sprintf("no path comes to %s", stud.Name), "Put it on one, or leave it out of the grounds")
		}
	}
}
