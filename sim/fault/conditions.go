package fault

// This file says which conditions each sort of place can have, and reads the value that follows.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// reader reads what follows the condition and sets what the fault does.
type reader func(f *Fault, t *target, value string) error

func (t *target) conditions() map[string]reader {
	switch {
	case t.half != "":
		return map[string]reader{"bad-crimp": badCrimp, "high": badCrimp, "open": openCrimp}
	case t.terminal != nil:
		return terminalConditions
	case t.wire != nil:
		return wireConditions
	case t.splice != nil:
		return spliceConditions
	case t.stud != nil:
		return studConditions
	}
	return partConditions[t.part.Kind.Name]
}

var (
	open               = math.Inf(1)
	terminalConditions = map[string]reader{
		"spread": contact, "fretted": contact, "corroded": contact, "burnt": contact, "high": contact,
		"filmed": film, "backed-out": openContact, "open": openContact,
		"bad-crimp": badCrimp, "short-to": shortTo, "leaks-to": leaksTo,
		"short-to-ground": shortToGround, "short-to-supply": shortToSupply, "swapped": swapped,
	}
	wireConditions = map[string]reader{
		"high": wireHigh, "corroded": wireHigh, "open": wireOpen, "strands": strands,
		"short-to": shortTo, "leaks-to": leaksTo, "short-to-ground": shortToGround, "short-to-supply": shortToSupply,
	}
	spliceConditions = map[string]reader{"corroded": spliceHigh, "high": spliceHigh, "open": spliceOpen}
	studConditions   = map[string]reader{
		"rust": studHigh, "painted": studHigh, "loose": studHigh, "high": studHigh, "open": studOpen,
	}
	partConditions = map[string]map[string]reader{
		"battery":      {"weak": weakBattery},
		"generator":    {"dead": dead, "slips": slips, "leaks": leakyDiode},
		"fuse":         {"blown": blown, "wrong-fuse": wrongFuse},
		"fusible link": {"blown": blown},
		"switch":       {"stuck": stuckSwitch, "worn": wornContact, "dead": dead},
		"relay":        {"stuck": stuckRelay, "worn": wornContact, "coil-open": coilOpen, "dead": dead},
		"lamp":         {"dead": dead},
		"resistor":     {"dead": dead},
		"heater":       {"dead": dead},
		"terminator":   {"dead": dead},
		"diode":        {"dead": dead},
		"led":          {"dead": dead},
		"sensor":       {"dead": dead, "shorted": shorted},
		"motor":        {"dead": dead, "stiff": stiff, "seized": seized},
		"module":       {"dead": dead, "stuck": stuckOutput, "awake": heldAwake, "wakes-every": wakesEvery},
		"socket":       {},
	}
)

// condition is a condition of the catalogue that this file names itself.
func condition(name string) catalog.Condition {
	c, err := catalog.ConditionNamed(name)
	if err != nil {
		panic("fault: " + err.Error())
	}
	return c
}

func contact(f *Fault, t *target, value string) error {
	named := condition(f.Condition)
	ohms, err := ohms(value, named.CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = func(o *Overlay) {
		o.Contact[t.terminal] += ohms
		o.grip(t.terminal, named)
	}
	return nil
}

// film is a contact whose ohms are those of a film, which breaks through.
func film(f *Fault, t *target, value string) error {
	if err := contact(f, t, value); err != nil {
		return err
	}
	laid := f.apply
	f.apply = func(o *Overlay) {
		laid(o)
		o.Film[t.terminal] = true
	}
	return nil
}

func openContact(f *Fault, t *target, value string) error {
	named := condition(f.Condition)
	f.Ohms = open
	f.apply = func(o *Overlay) {
		o.Contact[t.terminal] = open
		o.grip(t.terminal, named)
	}
	return none(value)
}

func badCrimp(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, condition("bad-crimp").CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = t.crimp(ohms)
	return nil
}

func openCrimp(f *Fault, t *target, value string) error {
	f.Ohms = open
	f.apply = t.crimp(open)
	return none(value)
}

func (t *target) crimp(ohms float64) func(*Overlay) {
	return func(o *Overlay) {
		if t.half == "b" {
			o.FarCrimp[t.terminal] += ohms
			return
		}
		o.Crimp[t.terminal] += ohms
	}
}

func wireHigh(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, condition("corroded").CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = func(o *Overlay) { o.WireAdded[t.wire] += ohms }
	return nil
}

func wireOpen(f *Fault, t *target, value string) error {
	f.Ohms = open
	f.apply = func(o *Overlay) { o.WireAdded[t.wire] = open }
	return none(value)
}

// neckMetres is the length over which a wire hangs by its last strands, where the fault does not say. One of 16
// strands of 0.5 mm2 over 10 mm adds 5.6 milliohm.
const neckMetres = 0.010

// strands reads "1/16" or "1/16 20 mm": n of N strands left, over a short neck whose resistance is N/n times that of the
// whole wire.
func strands(f *Fault, t *target, value string) error {
	left, length, _ := strings.Cut(strings.TrimSpace(value), " ")
	n, of, ok := strings.Cut(left, "/")
	part, err1 := strconv.Atoi(n)
	whole, err2 := strconv.Atoi(of)
	if !ok || err1 != nil || err2 != nil || part < 1 || whole <= part || whole > 10000 {
		return fmt.Errorf("%q: strands left of all strands are wanted, such as 1/16", value)
	}
	if t.wire.AreaMM2 == 0 {
		return fmt.Errorf("wire %s is given by its ohms alone, so its strands are not known: write %q, or give it a size", t.wire.Name, t.name+" high 10 mohm")
	}
	neck := neckMetres
	if length != "" {
		metres, err := quantity.Parse(length, quantity.Metres)
		if err != nil {
			return err
		}
		neck = metres
	}
	if neck <= 0 || neck > t.wire.Metres {
		return fmt.Errorf("a neck of %s does not fit in wire %s, which is %s long", quantity.Format(neck, quantity.Metres, 3), t.wire.Name, quantity.Format(t.wire.Metres, quantity.Metres, 3))
	}
	perMetre := catalog.WireOhmsPerMetre(t.wire.AreaMM2, metal(t.wire), t.circuit.AmbientCelsius)
	f.Ohms = perMetre * neck * (float64(whole)/float64(part) - 1)
	added := f.Ohms
	f.apply = func(o *Overlay) {
		o.WireAdded[t.wire] += added
		o.Necks[t.wire] = Neck{t.wire, part, whole, neck, added}
	}
	return nil
}

func metal(w *circuit.Wire) catalog.Metal {
	if w.Metal == "aluminium" {
		return catalog.Aluminium
	}
	return catalog.Copper
}

func spliceHigh(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, condition("corroded").CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = t.legsAdd(ohms)
	return nil
}

func spliceOpen(f *Fault, t *target, value string) error {
	f.Ohms = open
	f.apply = t.legsAdd(open)
	return none(value)
}

func (t *target) legsAdd(ohms float64) func(*Overlay) {
	return func(o *Overlay) {
		for _, w := range t.circuit.Wires {
			here := w.From.Splice == t.splice || w.To.Splice == t.splice
			if here && (t.leg == nil || t.leg == w) {
				o.LegAdded[Leg{t.splice, w}] += ohms
			}
		}
	}
}

func studHigh(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, studCondition(f.Condition).CentralOhms)
	if err != nil {
		return err
	}
	f.Ohms = ohms
	f.apply = func(o *Overlay) { o.Stud[t.stud] += ohms }
	return nil
}

// studCondition takes a loose ring for one with rust under it.
func studCondition(name string) catalog.Condition {
	if name == "loose" {
		name = "rust"
	}
	return condition(name)
}

func studOpen(f *Fault, t *target, value string) error {
	f.Ohms = open
	f.apply = func(o *Overlay) { o.Stud[t.stud] = open }
	return none(value)
}

// shortTo reads "POINT [ohms]".
func shortTo(f *Fault, t *target, value string) error {
	return t.pathTo(f, value, shortOhms)
}

// Where the fault does not say: metal on metal, and water between two terminals (trade knowledge, no source).
const (
	shortOhms = 0.2
	leakOhms  = 20000
)

func leaksTo(f *Fault, t *target, value string) error {
	return t.pathTo(f, value, leakOhms)
}

func (t *target) pathTo(f *Fault, value string, central float64) error {
	to, rest, _ := strings.Cut(value, " ")
	if to == "" {
		return fmt.Errorf("say where to: %s %s C14.2", t.name, f.Condition)
	}
	other, err := find(t.circuit, to)
	if err != nil {
		if _, err := t.circuit.Point(to); err != nil {
			return err
		}
	} else if other.terminal == nil && other.stud == nil && other.splice == nil && other.wire == nil {
		return fmt.Errorf("%s is a whole part: name one of its terminals", to)
	}
	if to == t.name {
		return fmt.Errorf("%s touches itself already: name another place", to)
	}
	ohms, err := ohms(strings.TrimSpace(rest), central)
	if err != nil {
		return err
	}
	f.Other = to
	t.short(f, to, ohms)
	return nil
}

func (t *target) short(f *Fault, to string, ohms float64) {
	f.Ohms = ohms
	s := Short{FromWire: t.wire, FromTerminal: t.terminal, To: to, Ohms: ohms}
	f.apply = func(o *Overlay) { o.Shorts = append(o.Shorts, s) }
}

func shortToGround(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, shortOhms)
	if err != nil {
		return err
	}
	t.short(f, "", ohms)
	return nil
}

func shortToSupply(f *Fault, t *target, value string) error {
	ohms, err := ohms(value, shortOhms)
	if err != nil {
		return err
	}
	t.short(f, t.circuit.Highest().Terminals[0].Name, ohms)
	return nil
}

// swapped reads "OTHER": the wires of two terminals of one connector or part sit in each other's cavity.
func swapped(f *Fault, t *target, value string) error {
	other := t.circuit.Terminal(value)
	if other == nil || other == t.terminal || other.Owner != t.terminal.Owner {
		return fmt.Errorf("swapped with what? name another cavity of %s, such as %q", t.terminal.Owner, t.name+" swapped "+t.terminal.Owner+".2")
	}
	f.Other = other.Name
	f.apply = func(o *Overlay) {
		o.WireOf[t.terminal], o.WireOf[other] = o.wireOf(other), o.wireOf(t.terminal)
	}
	return nil
}
