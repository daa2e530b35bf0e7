package fault

// This file finds the place of a fault: a terminal, a crimp, a wire, a splice or one leg of it, a stud, a part.

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"underload/circuit"
)

// target is a place that can go wrong; one field group is set.
type target struct {
	name     string
	circuit  *circuit.Circuit
	terminal *circuit.Terminal
	half     string // "a" or "b": the crimp of one half of an in-line terminal
	wire     *circuit.Wire
	splice   *circuit.Splice
	leg      *circuit.Wire // with splice: only this wire's leg
	stud     *circuit.Stud
	part     *circuit.Part
}

func find(c *circuit.Circuit, name string) (*target, error) {
	t := &target{name: name, circuit: c}
	if t.terminal = c.Terminal(name); t.terminal != nil {
		return t, nil
	}
	if half, ok := strings.CutSuffix(name, ".a"); ok {
		t.terminal, t.half = c.Terminal(half), "a"
	} else if half, ok := strings.CutSuffix(name, ".b"); ok {
		t.terminal, t.half = c.Terminal(half), "b"
	}
	if t.terminal != nil && t.terminal.Inline {
		return t, nil
	}
	t.terminal, t.half = nil, ""
	if t.wire = c.Wire(name); t.wire != nil {
		return t, nil
	}
	if t.splice = c.Splice(name); t.splice != nil {
		return t, nil
	}
	if t.stud = c.Stud(name); t.stud != nil {
		return t, nil
	}
	if t.part = c.Part(name); t.part != nil {
		return t, nil
	}
	if spliceName, wireName, ok := strings.Cut(name, "."); ok {
		if s := c.Splice(spliceName); s != nil {
			w := c.Wire(wireName)
			if w == nil || (w.From.Splice != s && w.To.Splice != s) {
				return nil, fmt.Errorf("%s: no wire %s enters splice %s; its legs are %s", name, wireName, spliceName, strings.Join(legs(c, s), ", "))
			}
			t.splice, t.leg = s, w
			return t, nil
		}
	}
	return nil, unknownPlace(c, name)
}

func legs(c *circuit.Circuit, s *circuit.Splice) []string {
	var names []string
	for _, w := range c.Wires {
		if w.From.Splice == s || w.To.Splice == s {
			names = append(names, s.Name+"."+w.Name)
		}
	}
	return names
}

func unknownPlace(c *circuit.Circuit, name string) error {
	if con := c.Connector(name); con != nil {
		var cavities []string
		for _, t := range con.Cavities {
			cavities = append(cavities, t.Name)
		}
		return fmt.Errorf("%s is a whole connector: a fault sits in one cavity, %s", name, strings.Join(cavities, ", "))
	}
	if near := c.Nearest(name, Places(c)...); near != "" {
		return fmt.Errorf("there is no %s in this circuit: did you mean %s?", name, near)
	}
	return fmt.Errorf("there is no %s in this circuit: a fault sits in a terminal, wire, splice, stud or part", name)
}

// Places lists every name that a fault can sit in, without the halves of in-line terminals and the legs of splices.
func Places(c *circuit.Circuit) []string {
	var names []string
	for _, p := range c.Parts {
		names = append(names, p.Name)
		for _, t := range p.Terminals {
			names = append(names, t.Name)
		}
	}
	for _, con := range c.Connectors {
		for _, t := range con.Cavities {
			names = append(names, t.Name)
		}
	}
	for _, w := range c.Wires {
		names = append(names, w.Name)
	}
	for _, s := range c.Splices {
		names = append(names, s.Name)
	}
	for _, s := range c.Studs {
		names = append(names, s.Name)
	}
	return names
}

// Conditions lists what can be wrong at a place, or an error with the nearest name.
func Conditions(c *circuit.Circuit, place string) ([]string, error) {
	t, err := find(c, place)
	if err != nil {
		return nil, err
	}
	return t.conditionNames(), nil
}

// conditionNames leaves out what cannot be said of a wire that is given by its ohms alone.
func (t *target) conditionNames() []string {
	names := slices.Sorted(maps.Keys(t.conditions()))
	if t.wire != nil && t.wire.AreaMM2 == 0 {
		names = slices.DeleteFunc(names, func(name string) bool { return name == "strands" })
	}
	return names
}

func (t *target) says() string {
	switch {
	case t.half != "":
		return t.name + ", a crimp,"
	case t.terminal != nil:
		return t.name + ", a terminal,"
	case t.wire != nil:
		return t.name + ", a wire,"
	case t.leg != nil:
		return t.name + ", one leg of a splice,"
	case t.splice != nil:
		return t.name + ", a splice,"
	case t.stud != nil:
		return t.name + ", a ground stud,"
	}
	return t.name + ", a " + t.part.Kind.Name + ","
}
