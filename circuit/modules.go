package circuit

// This file reads what the pins of a control module or diagnostic socket are for.

import (
	"fmt"

	"gopkg.in/yaml.v3"

	"underload/circuit/quantity"
)

// readModule reads the pin lists and outputs of a part and gives its terminals in file order of the lists.
func (r *reader) readModule(part *Part, fields map[string]entry) []entry {
	m := &Module{}
	part.Module = m
	var pins []entry
	use := map[string]string{} // pin to the key that lists it
	for _, list := range []struct {
		key string
		to  *[]string
	}{
		{"supply", &m.Supply}, {"wake", &m.Wake}, {"ground", &m.Ground}, {"sensor ground", &m.SensorGround},
		{"reference", &m.Reference}, {"signals", &m.Signals}, {"bus", &m.Bus},
	} {
		e, given := fields[list.key]
		if !given {
			continue
		}
		for _, pin := range r.pinList(e) {
			if r.usePin(use, pin, list.key) {
				*list.to = append(*list.to, pin.key)
				pins = append(pins, pin)
			}
		}
	}
	if e, given := fields["bus"]; given && len(m.Bus) != 2 {
		r.wrong(position(e.value), fmt.Sprintf("the bus of %s has %d pins", part.Name, len(m.Bus)), "A bus has two: high, low")
	}
	if e, given := fields["outputs"]; given {
		pins = append(pins, r.readOutputs(part, e, use)...)
	}
	for key, none := range map[string]bool{"supply": len(m.Supply) == 0, "ground": len(m.Ground) == 0} {
		if e, given := fields[key]; given && none && len(e.value.Content) == 0 && (nothing(e.value) || e.value.Kind == yaml.SequenceNode) && part.Kind.Name == "module" {
			r.wrong(e.at, part.Name+" has no "+key+" pin", "")
		}
	}
	if len(pins) > mostPins {
		r.wrong(part.Pos, fmt.Sprintf("%s has more than %d pins", part.Name, mostPins), "")
		return nil
	}
	if len(pins) == 0 && part.Kind.Name == "socket" {
		r.wrong(part.Pos, part.Name+" has no pins", "Write them like supply: [16], ground: [4], bus: [6, 14]")
	}
	return pins
}

// usePin notes what a pin is for, once.
func (r *reader) usePin(use map[string]string, pin entry, key string) bool {
	if before, twice := use[pin.key]; twice {
		r.wrong(pin.at, fmt.Sprintf("pin %s is listed under %s and under %s", pin.key, before, key), "A pin has one purpose")
		return false
	}
	use[pin.key] = key
	return true
}

// readOutputs reads the pins that switch.
func (r *reader) readOutputs(part *Part, e entry, use map[string]string) []entry {
	var pins []entry
	for _, pin := range r.entries(e.value, "outputs") {
		if !r.name(pin.key, pin.at) || !r.usePin(use, pin, "outputs") {
			continue
		}
		pins = append(pins, pin)
		out := Output{Pin: pin.key, Ohms: outputOhms}
		fields := r.fields(pin.value, "an output", keyNames(OutputKeys)...)
		if to, ok := fields["pulls to"]; ok {
			out.To, _ = r.choice(to, OutputKeys[0].Choices)
		} else {
			r.wrong(pin.at, fmt.Sprintf("output %s does not say what it pulls to", pin.key), "Write pulls to: ground, or pulls to: supply")
		}
		if who, ok := fields["for"]; ok {
			out.For, _ = r.text(who)
			r.later = append(r.later, func() { r.checkFor(part, who) })
		} else {
			r.wrong(pin.at, fmt.Sprintf("output %s does not say which part it makes run", pin.key), "Write for: and the name of the part")
		}
		if ohms, ok := fields["through"]; ok {
			if value, ok := r.quantity(ohms, quantity.Ohms, true); ok {
				out.Ohms = value
			}
		}
		part.Module.Outputs = append(part.Module.Outputs, out)
	}
	return pins
}

// checkFor checks, once all parts are known, that an output's part exists.
func (r *reader) checkFor(part *Part, who entry) {
	name := who.value.Value
	switch {
	case name == part.Name:
		r.wrong(position(who.value), "an output of "+name+" cannot be for "+name+" itself", "Name the part that runs when the output is on")
	case r.claimed[name].as != "part":
		r.wrong(position(who.value), "there is no part "+clip(name), r.ask(name, r.partNames(), "for: names a part of this file"))
	}
}

// partNames lists all parts read so far.
func (r *reader) partNames() []string {
	names := make([]string, len(r.circuit.Parts))
	for i, p := range r.circuit.Parts {
		names[i] = p.Name
	}
	return names
}
