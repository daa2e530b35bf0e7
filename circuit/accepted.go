package circuit

// This file is the table of what a circuit can be odd in although it is wired as a circuit must be, and reads which of
// that a file accepts, and why.

import (
	"fmt"
	"maps"
	"slices"

	"gopkg.in/yaml.v3"

	"underload/circuit/catalog"
)

// Rule is one way in which a circuit that reads well can still be odd. What finds it needs volts, and so is elsewhere.
type Rule struct {
	Name   string
	Says   string
	Source catalog.Source // of the limit, where there is one
}

var practice = catalog.Source{Seen: catalog.Practice}

// Rules is the table, fuses and wires first.
var Rules = []Rule{
	{"thin wire", "a fuse larger than is put on a wire behind it whose size the file says", practice},
	{"no fuse", "a way from the battery's plus to a load with no fuse on it; cables of 16 mm² and more may have none", practice},
	{"overload", "loads that can work together take more than their fuse is rated for", practice},
	{"fuse type", "a fuse larger than its build's slots are made for, or slower than its loads ask for", practice},
	{"volt drop", "a joint, cable, switch or side loses more volts than is allowed while its load works", catalog.DropLimits[0].Source},
	{"high volts", "a bulb, coil, motor or heater that gets half as much again as the volts it is made for: one of 12 V on 24 V", practice},
	{"no return", "a load that has no way to the battery's plus or to its minus, or gets to one of the two only", catalog.Source{}},
	{"coil", "a relay's coil that nothing switches, or that has no feed", catalog.Source{}},
	{"idle switch", "a switch that changes nothing in any position", catalog.Source{}},
	{"never woken", "a module whose wake pins are fed in no position of any switch", catalog.Source{}},
	{"never awake", "a module that is awake in no position of any switch", catalog.Source{}},
	{"colour", "a wire that changes its colour across an in-line terminal", practice},
	{"unused pin", "a pin of a module or socket that is on no path", catalog.Source{}},
}

// Accepted is an oddity that a file says is right, with the reason.
type Accepted struct {
	Rule    string // the name of a rule
	At      string // a part, connector, splice, ground, wire or terminal
	Because string
	Pos     Pos
}

var acceptedKeys = []Key{
	{Name: "rule", Form: Choice, Choices: ruleNames(), Required: true, Says: "the name that the warning gives first"},
	{Name: "at", Form: Text, Required: true, Says: "where: a part, connector, splice, ground, wire or terminal"},
	{Name: "because", Form: Text, Required: true, Says: "why it is right here"},
}

func ruleNames() []string {
	names := make([]string, len(Rules))
	for i, rule := range Rules {
		names[i] = rule.Name
	}
	return names
}

// readAccepted reads what the file accepts. It comes last, when everything that has a name is known.
func (r *reader) readAccepted(section entry) {
	switch {
	case nothing(section.value):
		return
	case section.value.Kind != yaml.SequenceNode:
		r.wrong(position(section.value), "accepted must be a list", "Begin each with a dash: - {rule: thin wire, at: F7, because: why it is right}")
		return
	}
	wellSoFar := !r.bad()
	for _, node := range section.value.Content {
		if a, ok := r.acceptedOne(node, wellSoFar); ok {
			r.circuit.Accepted = append(r.circuit.Accepted, a)
		}
	}
}

// acceptedOne reads one entry. Where paths could not be read, names may be missing, and an unknown place proves nothing.
func (r *reader) acceptedOne(node *yaml.Node, wellSoFar bool) (Accepted, bool) {
	a := Accepted{Pos: position(node)}
	if node.Kind != yaml.MappingNode {
		r.wrong(a.Pos, "an accepted warning must be keys with values", "Write it like {rule: thin wire, at: F7, because: why it is right}")
		return a, false
	}
	fields := r.fields(node, "an accepted warning", keyNames(acceptedKeys)...)
	whole := true
	for _, key := range acceptedKeys {
		if _, ok := fields[key.Name]; !ok {
			r.wrong(a.Pos, "an accepted warning does not give its "+key.Name, "Write "+key.Name+": and "+key.Says)
			whole = false
		}
	}
	if !whole {
		return a, false
	}
	var told [3]bool
	a.Rule, told[0] = r.choice(fields["rule"], ruleNames())
	a.At, told[1] = r.text(fields["at"])
	a.Because, told[2] = r.text(fields["because"])
	if told[1] && wellSoFar && !r.circuit.has(a.At) {
		r.wrong(position(fields["at"].value), "there is nothing called "+clip(a.At), r.ask(a.At, r.circuit.places(), "It can be a part, connector, splice, ground, wire or terminal"))
		return a, false
	}
	if told != [3]bool{true, true, true} {
		return a, false
	}
	twin := slices.IndexFunc(r.circuit.Accepted, func(b Accepted) bool { return b.Rule == a.Rule && b.At == a.At })
	if twin >= 0 {
		r.wrong(a.Pos, fmt.Sprintf("%s at %s is accepted twice, first at line %d", a.Rule, a.At, r.circuit.Accepted[twin].Pos.Line), "Keep one of the two")
		return a, false
	}
	return a, true
}

// has says that a part, connector, splice, ground, wire or terminal has this name.
func (c *Circuit) has(name string) bool {
	return c.parts[name] != nil || c.connectors[name] != nil || c.splices[name] != nil || c.studs[name] != nil ||
		c.wires[name] != nil || c.terminals[name] != nil
}

// places lists the names of all of these.
func (c *Circuit) places() []string {
	names := slices.Sorted(maps.Keys(c.parts))
	for _, more := range [][]string{slices.Sorted(maps.Keys(c.connectors)), slices.Sorted(maps.Keys(c.splices)), slices.Sorted(maps.Keys(c.studs)),
		slices.Sorted(maps.Keys(c.wires)), slices.Sorted(maps.Keys(c.terminals))} {
		names = append(names, more...)
	}
	return names
}
