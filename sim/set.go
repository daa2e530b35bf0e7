package sim

// This file is what a person sets: switches, fuses, connectors, loads asked to run, the ambient temperature.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/circuit/spelling"
	"underload/sim/fault"
	"underload/sim/part"
)

// Set brings one thing to a state, written as on the command line:
//
//	KEY=run       a switch in a position
//	F7=out        a fuse pulled; F7=in; F7="25 A" fitted in its place
//	M1=on         a load that a module switches, asked to run; M1=off; PC1.5=on names the output itself
//	B1=support    a support charger on a battery; B1=alone
//	ALT=running   a generator turned by the engine; ALT=idling, by one that idles; ALT=still
//	ambient=60 °C everything at another temperature
func (b *Bench) Set(text string) error { return b.do(setting{"set", text}) }

// SetAll brings several things to their states at once, and lets the circuit settle only then. Those before one that
// cannot be set stay as they were asked.
func (b *Bench) SetAll(texts ...string) error {
	for _, text := range texts {
		if err := b.set(text); err != nil {
			return err
		}
		b.settings = append(b.settings, setting{"set", text})
	}
	return b.settle()
}

// Apart takes an in-line connector, a plugged part, or a battery's ground clamp apart.
func (b *Bench) Apart(name string) error { return b.do(setting{"apart", name}) }

// Together puts it together again.
func (b *Bench) Together(name string) error { return b.do(setting{"together", name}) }

func (b *Bench) do(s setting) error {
	var err error
	switch s.verb {
	case "set":
		err = b.set(s.text)
	case "apart", "together":
		err = b.plug(s.text, s.verb == "apart")
	}
	if err != nil {
		return err
	}
	b.settings = append(b.settings, s)
	return b.settle()
}

func (b *Bench) plug(name string, apart bool) error {
	if b.c.Connector(name) != nil {
		b.apart[name] = apart
		return nil
	}
	p := b.c.Part(name)
	switch {
	case p == nil:
		return b.unknown(name, "connector or part")
	case p.Kind.Name == "battery":
		b.apart[p.Terminals[1].Name] = apart
	case p.Kind.Name == "fuse":
		return fmt.Errorf("%s is a fuse: pull it with --set %s=out", name, name)
	case !p.Kind.Plugged:
		return fmt.Errorf("%s is a %s: it has no connector to take apart", name, p.Kind.Name)
	default:
		b.apart[name] = apart
	}
	return nil
}

// IsApart reports whether a connector, part or terminal is apart.
func (b *Bench) IsApart(t *circuit.Terminal) bool {
	if b.apart[t.Owner] || b.apart[t.Name] {
		return true
	}
	p := b.c.Part(t.Owner)
	return p != nil && b.states[p].Out
}

func (b *Bench) unknown(name, what string) error {
	var known []string
	for _, p := range b.c.Parts {
		known = append(known, p.Name)
	}
	for _, c := range b.c.Connectors {
		known = append(known, c.Name)
	}
	if near, ok := spelling.Nearest(name, known); ok {
		return fmt.Errorf("there is no %s %s in this circuit: did you mean %s?", what, name, near)
	}
	return fmt.Errorf("there is no %s %s in this circuit: it has %s", what, name, strings.Join(known, ", "))
}

func (b *Bench) set(text string) error {
	name, value, ok := strings.Cut(text, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !ok || name == "" || value == "" {
		return fmt.Errorf("%q is not a setting: write NAME=STATE, such as KEY=run or F7=out", text)
	}
	if owner, pin, ok := strings.Cut(name, "."); ok {
		return b.ask(owner, pin, value)
	}
	p := b.c.Part(name)
	if p == nil && name == "ambient" {
		return b.warm(value)
	}
	if p == nil {
		return b.unknown(name, "part")
	}
	s := b.states[p]
	switch p.Kind.Name {
	case "switch":
		return setSwitch(p, s, value)
	case "fuse":
		return b.setFuse(p, s, value)
	case "battery":
		if value != "support" && value != "alone" {
			return fmt.Errorf("%s=%s: a battery stands alone or with a support charger: %s=support, %s=alone", name, value, name, name)
		}
		s.Support = value == "support"
		return nil
	case "generator":
		if value != "running" && value != "idling" && value != "still" {
			return fmt.Errorf("%s=%s: a generator runs, at speed or with the engine idling, or stands: %s=running, %s=idling, %s=still", name, value, name, name, name)
		}
		s.Running, s.Idling = value != "still", value == "idling"
		return nil
	}
	return b.askFor(p, value)
}

func setSwitch(p *circuit.Part, s *part.State, value string) error {
	var names []string
	for _, throw := range p.Throws {
		if throw.Name == value {
			s.Position = value
			return nil
		}
		names = append(names, throw.Name)
	}
	if near, ok := spelling.Nearest(value, names); ok {
		return fmt.Errorf("%s has no position %q: did you mean %s=%s?", p.Name, value, p.Name, near)
	}
	return fmt.Errorf("%s has no position %q: it has %s", p.Name, value, strings.Join(names, ", "))
}

// setFuse pulls a fuse, puts it in, or fits another, which is whole and of that rating whatever was wrong with the old one.
func (b *Bench) setFuse(p *circuit.Part, s *part.State, value string) error {
	switch value {
	case "in":
		s.Out = false
		return nil
	case "out":
		s.Out = true
		return nil
	}
	amps, err := quantity.Parse(value, quantity.Amperes)
	if err != nil || amps <= 0 || amps > 1000 {
		return fmt.Errorf("%s=%s: a fuse is in, out, or another rating such as %s=\"25 A\"", p.Name, value, p.Name)
	}
	old := func(f fault.Fault) bool {
		return f.Place == p.Name && (f.Condition == "blown" || f.Condition == "wrong-fuse")
	}
	if slices.ContainsFunc(b.faults, old) {
		b.take(slices.DeleteFunc(slices.Clone(b.faults), old))
	}
	s.RatingAmps, s.Out, s.Blown = amps, false, false
	return nil
}

// Temperatures that vehicle wiring is made for (ISO 6722 class D ends at 150 °C, from memory).
const coldest, hottest = -50, 150

func (b *Bench) warm(value string) error {
	celsius, err := quantity.Parse(value, quantity.Celsius)
	if err != nil {
		return err
	}
	if celsius < coldest || celsius > hottest {
		return fmt.Errorf("ambient=%s: vehicle wiring lives between %d and %d °C", value, coldest, hottest)
	}
	b.ambient = celsius
	if !b.moving {
		b.rewire()
	}
	return nil
}

func onOff(text string) (bool, error) {
	if text != "on" && text != "off" {
		return false, fmt.Errorf("%q: on or off is wanted", text)
	}
	return text == "on", nil
}

// ask switches a module's output by its pin.
func (b *Bench) ask(owner, pin, value string) error {
	p := b.c.Part(owner)
	if p == nil {
		return b.unknown(owner, "part")
	}
	on, err := onOff(value)
	if err != nil {
		return err
	}
	var pins []string
	if p.Module != nil {
		for _, out := range p.Module.Outputs {
			if out.Pin == pin {
				b.states[p].Asked[pin] = on
				return nil
			}
			pins = append(pins, owner+"."+out.Pin)
		}
	}
	if len(pins) == 0 {
		return fmt.Errorf("%s.%s is not an output of a module, so it cannot be switched", owner, pin)
	}
	return fmt.Errorf("%s.%s is no output: %s has %s", owner, pin, owner, strings.Join(pins, ", "))
}

// askFor asks a load to run through the module output that is there for it.
func (b *Bench) askFor(p *circuit.Part, value string) error {
	on, err := onOff(value)
	if err != nil {
		return fmt.Errorf("%s=%s: %w", p.Name, value, err)
	}
	found := false
	for _, m := range b.c.OfKind("module") {
		for _, out := range m.Module.Outputs {
			if out.For == p.Name {
				b.states[m].Asked[out.Pin] = on
				found = true
			}
		}
	}
	if found {
		return nil
	}
	if p.Kind.Load {
		return fmt.Errorf("no module switches %s: it runs whenever it is fed; set the switch that feeds it", p.Name)
	}
	return fmt.Errorf("%s is a %s: it cannot be switched on or off", p.Name, p.Kind.Name)
}
