package meter

// This file is the roll call over the network: who answers, and what those who answer have recorded.

import (
	"fmt"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim"
	"underload/sim/part"
)

var rollCall = instrument{
	name: "roll-call", leads: noLeads, minutes: catalog.Minutes(catalog.RollCall), says: "a diagnostic tool on the network: which modules answer, and what they have recorded",
	measure: measureRollCall,
	tell: func(t telling) (string, string) {
		return t.got.seen, rollCallMeaning(t)
	},
}

// lowSupplyVolts is the supply below which a module that still runs records that it was low (common practice, no source).
const lowSupplyVolts = 10.5

func measureRollCall(b *sim.Bench, q Request) (raw, error) {
	r, err := callRoll(b.Circuit(), b.Modules(), false, b.Hears)
	r.after = b
	return r, err
}

// hearing reports whether a pair of bus terminals sees a module that speaks.
type hearing func(speaker *circuit.Part, high, low *circuit.Terminal) (bool, error)

// callRoll calls every module. At rest what they have recorded is told, in motion what they report at the instant.
func callRoll(c *circuit.Circuit, modules []sim.ModuleReport, moving bool, hears hearing) (raw, error) {
	r := raw{called: len(modules)}
	if len(modules) == 0 {
		r.seen = "no module is in this circuit"
		return r, nil
	}
	heard := map[string]bool{}
	var answers, silent []string
	for _, m := range modules {
		ok, err := answersTool(c, m, hears)
		if err != nil {
			return r, err
		}
		heard[m.Part.Name] = ok
		if ok {
			answers = append(answers, m.Part.Name)
		} else {
			silent = append(silent, m.Part.Name)
		}
	}
	r.silent = len(silent)
	r.seen = "answers: " + list(answers) + "; silent: " + list(silent)
	low, lost := " has recorded: supply was low", " has recorded: lost contact with "
	if moving {
		low, lost = " reports: supply is low", " reports: no contact with "
	}
	for _, m := range modules {
		if !heard[m.Part.Name] {
			continue
		}
		if m.SupplyVolts < lowSupplyVolts {
			r.lines = append(r.lines, m.Part.Name+low)
		}
		for _, name := range silent {
			if c.Part(name).Module.Bus != nil || m.Part.Module.Bus == nil {
				r.lines = append(r.lines, m.Part.Name+lost+name)
			}
		}
	}
	return r, nil
}

func list(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// answersTool reports whether a tool hears a module: it must be awake, and, where the bus is drawn, the pair at the
// diagnostic socket must see it.
func answersTool(c *circuit.Circuit, m sim.ModuleReport, hears hearing) (bool, error) {
	if m.Mode != part.Awake {
		return false, nil
	}
	high, low := toolPair(c)
	if high == nil || len(m.Part.Module.Bus) != 2 || m.Part.Terminal(m.Part.Module.Bus[0]).Spot == circuit.NoSpot {
		return true, nil // the bus is not drawn: it is taken to be sound
	}
	return hears(m.Part, high, low)
}

// toolPair is where a tool listens: the diagnostic socket's bus pins.
func toolPair(c *circuit.Circuit) (high, low *circuit.Terminal) {
	for _, p := range c.OfKind("socket") {
		if p.Module != nil && len(p.Module.Bus) == 2 {
			return p.Terminal(p.Module.Bus[0]), p.Terminal(p.Module.Bus[1])
		}
	}
	return nil, nil
}

func rollCallMeaning(t telling) string {
	silent, total := t.got.silent, t.got.called
	switch {
	case total == 0:
		return "There is nobody to call."
	case silent == 0:
		return "All answer now. It says nothing of what happens under load, hot, wet or on the road."
	case silent == total && total > 1:
		return "All are silent: that points to the network, to what feeds them all, or to a key that is off."
	case total == 1:
		return "It does not say why: feeds, wake, grounds, the network or the module itself."
	}
	return fmt.Sprintf("%d of %d silent among others that answer: that points to their own feeds, wake, grounds and terminals first, then to the module, and not to the network as a whole.", silent, total)
}
