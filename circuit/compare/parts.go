package compare

// This file tells parts apart, by the table of kinds, and their terminals.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

func (d *differ) parts() {
	both(d.was.Parts, d.now.Parts, func(p *circuit.Part) string { return p.Name },
		func(p *circuit.Part) { d.removed(p.Name, p.Kind.Name+" "+p.Name) },
		func(p *circuit.Part) { d.added(p.Name, p.Kind.Name+" "+p.Name) },
		d.part)
}

func (d *differ) part(was, now *circuit.Part) {
	name := now.Name
	if was.Kind != now.Kind {
		d.value(name, "is", name, now.Kind.Name, was.Kind.Name)
		return
	}
	told := len(d.changes)
	for _, key := range now.Kind.Keys {
		said := name + " " + key.Name
		if key.Required {
			said = name // F7 now 10 A: a fuse's amps go without saying
		}
		switch key.Form {
		case circuit.Quantity:
			if now, was := now.Value(key.Name), was.Value(key.Name); now != was {
				d.value(name, key.Name, said, unlessZero(now, key.Dimension), unlessZero(was, key.Dimension))
			}
		case circuit.Text, circuit.Choice:
			d.value(name, key.Name, said, now.Text(key.Name), was.Text(key.Name))
		}
	}
	d.throws(was, now)
	if was.Module != nil && now.Module != nil {
		d.module(name, was.Module, now.Module)
	}
	if len(d.changes) == told { // else a terminal that came or went has been told with its purpose
		d.value(name, "pins", name+" terminals", pins(now), pins(was))
	}
	d.words(name, "place", name+" place", now.Place, was.Place)
	d.value(name, "reach", name+" reach", now.Reach.String(), was.Reach.String())
	d.value(name, "tags", name+" cautions", strings.Join(now.Tags, " "), strings.Join(was.Tags, " "))
	d.terminals(holder{name, now.Reach, was.Reach}, was.Terminals, now.Terminals, false)
}

// unlessZero writes a value; zero stands where a key that is left out has no ordinary value.
func unlessZero(value float64, dimension quantity.Dimension) string {
	if value == 0 {
		return ""
	}
	return quantity.Written(value, dimension)
}

func pins(p *circuit.Part) string {
	names := make([]string, len(p.Terminals))
	for i, t := range p.Terminals {
		names[i] = t.Pin
	}
	return strings.Join(names, " ")
}

// throws tells positions of a switch apart. Their order counts, since the first is the one at rest.
func (d *differ) throws(was, now *circuit.Part) {
	names := func(p *circuit.Part) string {
		var names []string
		for _, throw := range p.Throws {
			names = append(names, throw.Name)
		}
		return strings.Join(names, " ")
	}
	pairs := func(throw circuit.Throw) string {
		var pairs []string
		for _, pair := range throw.Pairs {
			pairs = append(pairs, pair[0]+"-"+pair[1])
		}
		return orNothing(strings.Join(pairs, " "))
	}
	d.value(now.Name, "throws", now.Name+" positions", names(now), names(was))
	for _, throw := range now.Throws {
		i := slices.IndexFunc(was.Throws, func(old circuit.Throw) bool { return old.Name == throw.Name })
		if i >= 0 {
			d.value(now.Name, "throws "+throw.Name, fmt.Sprintf("%s in %s joins", now.Name, throw.Name), pairs(throw), pairs(was.Throws[i]))
		}
	}
}

func (d *differ) module(name string, was, now *circuit.Module) {
	for _, use := range []struct {
		key      string
		now, was []string
	}{
		{"supply", now.Supply, was.Supply}, {"wake", now.Wake, was.Wake}, {"ground", now.Ground, was.Ground},
		{"sensor ground", now.SensorGround, was.SensorGround}, {"reference", now.Reference, was.Reference},
		{"signals", now.Signals, was.Signals}, {"bus", now.Bus, was.Bus},
	} {
		d.value(name, use.key, name+" "+use.key+" pins", strings.Join(use.now, " "), strings.Join(use.was, " "))
	}
	both(was.Outputs, now.Outputs, func(out circuit.Output) string { return out.Pin },
		func(out circuit.Output) { d.removed(name+"."+out.Pin, "output "+name+"."+out.Pin) },
		func(out circuit.Output) { d.added(name+"."+out.Pin, "output "+name+"."+out.Pin) },
		func(was, now circuit.Output) {
			of := name + "." + now.Pin
			d.value(of, "pulls to", of, with("pulls to ", now.To), with("pulls to ", was.To))
			d.value(of, "for", of, with("for ", now.For), with("for ", was.For))
			d.number(of, "through", of+" through", now.Ohms, was.Ohms, quantity.Ohms)
		})
}

// holder is what terminals belong to, and how it is reached.
type holder struct {
	name     string
	now, was circuit.Reach
}

// terminals tells the terminals of one part or connector apart. What all of them share is told once.
func (d *differ) terminals(of holder, was, now []*circuit.Terminal, inline bool) {
	type pair struct{ was, now *circuit.Terminal }
	var pairs []pair
	both(was, now, func(t *circuit.Terminal) string { return t.Name },
		func(t *circuit.Terminal) {
			if inline {
				d.removed(t.Name, t.Name)
			}
		},
		func(t *circuit.Terminal) {
			if inline {
				d.added(t.Name, t.Name)
			}
		},
		func(was, now *circuit.Terminal) { pairs = append(pairs, pair{was, now}) })
	size := func(t *circuit.Terminal) string { return quantity.Written(t.SizeMM, quantity.Millimetres) }
	plating := func(t *circuit.Terminal) string { return t.Plating }
	for _, trait := range []struct {
		what string
		of   func(*circuit.Terminal) string
	}{{"size", size}, {"plating", plating}} {
		alike := len(pairs) > 1
		for _, p := range pairs {
			alike = alike && trait.of(p.now) == trait.of(pairs[0].now) && trait.of(p.was) == trait.of(pairs[0].was)
		}
		for i, p := range pairs {
			if alike && i == 0 {
				d.value(of.name, "terminal "+trait.what, of.name+" terminals", trait.of(p.now), trait.of(p.was))
			} else if !alike {
				d.value(p.now.Name, trait.what, p.now.Name, trait.of(p.now), trait.of(p.was))
			}
		}
	}
	for _, p := range pairs {
		d.resistances(p.was, p.now)
		if p.was.Reach != p.now.Reach && (p.was.Reach != of.was || p.now.Reach != of.now) {
			d.value(p.now.Name, "reach", p.now.Name+" reach", p.now.Reach.String(), p.was.Reach.String())
		}
	}
}

// resistances tells the ohms of a terminal apart, unless they only follow its size.
func (d *differ) resistances(was, now *circuit.Terminal) {
	name := now.Name
	if was.SizeMM != now.SizeMM && ordinary(was) && ordinary(now) {
		return
	}
	d.number(name, "crimp", name+" crimp", now.CrimpOhms, was.CrimpOhms, quantity.Ohms)
	d.number(name, "contact", name+" contact", now.ContactOhms, was.ContactOhms, quantity.Ohms)
	d.number(name, "behind", name+" behind", now.BehindOhms, was.BehindOhms, quantity.Ohms)
}

// ordinary says that a terminal has the catalogue's ohms for its size.
func ordinary(t *circuit.Terminal) bool {
	size, err := catalog.TerminalOf(t.SizeMM)
	return err == nil && t.CrimpOhms == size.CrimpOhms && t.ContactOhms == size.PairOhms && (!t.Inline || t.BehindOhms == size.CrimpOhms)
}
