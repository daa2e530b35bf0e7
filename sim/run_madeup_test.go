package sim

// This file makes up what happens in a random run: faults, settings, acts.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim/fault"
)

// makeUp fills a trial.
func (tr *trial) makeUp() {
	tr.seconds = tr.between(0.1, 12*3600)
	tr.options = RunOptions{
		Seed: tr.seed, Energy: true, Tolerance: []float64{1e-4, 1e-4, 1e-4, 1e-3, 1e-6}[tr.IntN(5)],
		MemoryBytes: []int{0, 0, 0, 50_000, -1}[tr.IntN(5)],
	}
	for range tr.IntN(4) {
		tr.faults = append(tr.faults, tr.fault())
	}
	for _, p := range tr.c.OfKind("switch") {
		switch {
		case p.Name == "KEY" && tr.IntN(2) == 0:
			tr.settings = append(tr.settings, "KEY=run")
		case tr.IntN(2) == 0:
			tr.settings = append(tr.settings, tr.turn(p))
		}
	}
	for range tr.IntN(3) {
		if s := tr.setting(); s != "" {
			tr.settings = append(tr.settings, s)
		}
	}
	if tr.IntN(8) == 0 {
		tr.settings = append(tr.settings, "apart "+tr.plugged())
	}
	if tr.IntN(5) == 0 {
		tr.loosen()
	}
	for range 1 + tr.IntN(14) {
		at := math.Pow(tr.Float64(), 1+3*tr.Float64()) * tr.seconds
		tr.add(at, tr.act())
		if tr.IntN(6) == 0 {
			tr.shaken(at)
		}
	}
	slices.SortStableFunc(tr.acts, func(a, b timed) int { return int(math.Copysign(1, a.seconds-b.seconds)) })
}

// loosen has a contact or two be bad, and shaken all the time.
func (tr *trial) loosen() {
	tr.seconds = tr.between(0.5, 20)
	terminals := slices.DeleteFunc(fault.Places(tr.c), func(place string) bool { return tr.c.Terminal(place) == nil })
	for range 1 + tr.IntN(2) {
		place := anyOf(tr, terminals)
		condition := []string{"spread", "fretted", "corroded", "filmed"}[tr.IntN(4)]
		tr.faults = append(tr.faults, fmt.Sprintf("%s %s %.4f ohm", place, condition, tr.between(0.1, 100)))
		tr.acts = append(tr.acts, timed{0, fmt.Sprintf("wiggle %s %d %%", tr.c.Terminal(place).Owner, 10+tr.IntN(90)), true})
	}
}

func (tr *trial) add(at float64, text string) {
	if text != "" && at <= tr.seconds {
		tr.acts = append(tr.acts, timed{at, text, tr.IntN(3) == 0 && !strings.HasPrefix(text, "touch")})
	}
}

// shaken shakes something for a moment.
func (tr *trial) shaken(at float64) {
	place := tr.plugged()
	if f := anyOf(tr, tr.faults); f != "" && tr.IntN(2) == 0 { // where something is bad
		place, _, _ = strings.Cut(strings.Fields(f)[0], ".")
	}
	tr.add(at, fmt.Sprintf("wiggle %s %d %%", place, 1+tr.IntN(100)))
	tr.acts = append(tr.acts, timed{min(at+tr.between(0.02, 1), tr.seconds), "still " + place, true})
}

// between is a number in any order of magnitude from least to most.
func (tr *trial) between(least, most float64) float64 {
	return least * math.Pow(most/least, tr.Float64())
}

func anyOf[T any](tr *trial, from []T) (one T) {
	if len(from) > 0 {
		one = from[tr.IntN(len(from))]
	}
	return one
}

// act is anything that can be done.
func (tr *trial) act() string {
	switch n := tr.IntN(22); {
	case n < 5:
		if p := anyOf(tr, tr.c.OfKind("switch")); p != nil {
			return tr.turn(p)
		}
	case n < 10:
		return tr.setting()
	case n < 13:
		return []string{"apart ", "together "}[tr.IntN(2)] + tr.plugged()
	case n < 16:
		return "break " + tr.fault()
	case n == 16:
		place := anyOf(tr, fault.Places(tr.c))
		if f := anyOf(tr, tr.faults); f != "" {
			place, _, _ = strings.Cut(f, " ")
		}
		return []string{"repair ", "clean ", "replace "}[tr.IntN(3)] + place
	case n == 17:
		return "reseat " + tr.plugged()
	case n == 18:
		return "disturb " + tr.plugged()
	case n == 19:
		return "touch"
	case n == 20:
		red, black := anyOf(tr, tr.c.Points()), anyOf(tr, tr.c.Points())
		if red.Name != black.Name {
			return fmt.Sprintf("touch %s %s %.3g %s", red.Name, black.Name, tr.between(0.01, 1e7), anyOf(tr, []string{"ohms", "source", "lamp", "led", "fused"}))
		}
	}
	if p := anyOf(tr, tr.c.OfKind("fuse")); p != nil {
		return "replace " + p.Name
	}
	return ""
}

// turn brings a switch to any of its positions.
func (tr *trial) turn(p *circuit.Part) string { return p.Name + "=" + anyOf(tr, p.Throws).Name }

// setting is anything else that Set takes.
func (tr *trial) setting() string {
	kinds := []string{"fuse", "fuse", "battery", "generator", "module", "module", "ambient"}
	kind := anyOf(tr, kinds)
	p := anyOf(tr, tr.c.OfKind(kind))
	switch {
	case kind == "ambient":
		return fmt.Sprintf("ambient=%d °C", tr.IntN(150)-40)
	case p == nil:
		return ""
	case kind == "fuse":
		return p.Name + "=" + []string{"in", "out", "1 A", "3 A", "15 A", "30 A"}[tr.IntN(6)]
	case kind == "battery":
		return p.Name + "=" + []string{"support", "alone"}[tr.IntN(2)]
	case kind == "generator":
		return p.Name + "=" + []string{"running", "idling", "still"}[tr.IntN(3)]
	case len(p.Module.Outputs) == 0:
		return ""
	}
	return p.Name + "." + anyOf(tr, p.Module.Outputs).Pin + "=" + []string{"on", "on", "off"}[tr.IntN(3)]
}

// plugged is a connector, or a part that can be pulled off.
func (tr *trial) plugged() string {
	var names []string
	for _, con := range tr.c.Connectors {
		names = append(names, con.Name, con.Name)
	}
	for _, p := range tr.c.Parts {
		if p.Kind.Plugged || p.Kind.Name == "battery" {
			names = append(names, p.Name)
		}
	}
	return anyOf(tr, names)
}

// fault is any fault, in the words of the grammar. Now and then it is one that cannot be.
func (tr *trial) fault() string {
	place := anyOf(tr, fault.Places(tr.c))
	conditions, err := fault.Conditions(tr.c, place)
	if err != nil || len(conditions) == 0 {
		return place + " open"
	}
	condition := anyOf(tr, conditions)
	value := ""
	switch {
	case condition == "short-to" || condition == "leaks-to":
		value = anyOf(tr, fault.Places(tr.c))
	case condition == "weak":
		return fmt.Sprintf("%s weak %.2f V %.4f ohm", place, 10+3*tr.Float64(), tr.between(0.005, 0.5))
	case condition == "stiff":
		return fmt.Sprintf("%s stiff %.3f", place, 1+tr.between(0.01, 5))
	case condition == "strands":
		return fmt.Sprintf("%s strands %d/16", place, 1+tr.IntN(15))
	case condition == "wakes-every":
		return fmt.Sprintf("%s wakes every %.2f s", place, tr.between(1, 3600))
	case condition == "slips":
		return fmt.Sprintf("%s slips %.2f A", place, tr.between(1, 60))
	default:
		value = anyOf(tr, values(tr.c, place, condition))
	}
	text := strings.TrimSpace(place + " " + condition + " " + value)
	if ohms := fmt.Sprintf("%s %.6f ohm", text, tr.between(1e-4, 1e6)); tr.IntN(2) == 0 && condition != "high" {
		if _, err := fault.Parse(tr.c, ohms); err == nil {
			return ohms
		}
	}
	return text
}
