package sim

// This file is what is broken and what is mended: faults laid over the circuit, and the acts that take them away.

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim/fault"
	"underload/sim/part"
)

// Break lays faults over the circuit, one a line of the fault grammar, beside those already there. On an error nothing
// is changed.
func (b *Bench) Break(texts ...string) error {
	faults, err := b.broken(texts...)
	if err != nil {
		return err
	}
	return b.lay(faults)
}

// broken is the faults there are, and more.
func (b *Bench) broken(texts ...string) ([]fault.Fault, error) {
	faults := slices.Clone(b.faults)
	for _, text := range texts {
		f, err := fault.Parse(b.c, text)
		if err != nil {
			return nil, err
		}
		for _, old := range faults {
			if f.Contradicts(old) {
				return nil, fmt.Errorf("%q and %q cannot both be: take one of them away", old, f)
			}
		}
		faults = append(faults, f)
	}
	return faults, nil
}

// Turn gives the last fault at a place another resistance, as if it had been laid so: for a slider that is dragged. It
// is far quicker than laying faults anew, since nothing is wired again. On an error nothing is changed.
func (b *Bench) Turn(place string, ohms float64) error {
	for i := len(b.faults) - 1; i >= 0; i-- {
		if b.faults[i].Place != place {
			continue
		}
		turned, err := b.faults[i].Turned(b.c, ohms)
		if err != nil {
			return err
		}
		faults := slices.Clone(b.faults)
		faults[i] = turned
		return b.overlayWith(faults, len(b.overlay.Shorts) > 0)
	}
	return fmt.Errorf("%s has no fault to turn", place)
}

// Follow brings the faults and the states of all parts over from another bench of the same circuit, and lets the circuit
// settle with what is attached here: as if this bench were a copy of that one to which the instruments were then put. A
// load that rests here goes on resting, and a motor that stands on standing.
func (b *Bench) Follow(other *Bench) error {
	anew := len(b.overlay.Shorts)+len(other.overlay.Shorts) > 0
	b.faults, b.overlay, b.wiped = other.faults, other.overlay, maps.Clone(other.wiped)
	for p, s := range other.states {
		resting, standing := b.states[p].Resting, b.states[p].Standing
		b.states[p] = s.Clone()
		b.states[p].Resting = b.states[p].Resting || resting
		b.states[p].Standing = standing
	}
	if anew {
		b.rewire()
	}
	return b.settle()
}

func (b *Bench) lay(faults []fault.Fault) error { return b.overlayWith(faults, true) }

// overlayWith lays the faults and lets the circuit settle. A short is a path of its own, so that it needs the circuit
// wired anew.
func (b *Bench) overlayWith(faults []fault.Fault, anew bool) error {
	b.take(faults)
	if anew {
		b.rewire()
	}
	return b.settle()
}

// take has these faults be all there are.
func (b *Bench) take(faults []fault.Fault) {
	before := b.overlay
	b.faults = faults
	b.overlay = fault.Lay(faults)
	for t := range b.wiped {
		if b.overlay.Contact[t] != before.Contact[t] { // mended, or broken anew
			delete(b.wiped, t)
		}
	}
	for _, p := range b.c.Parts {
		s := b.states[p]
		s.Flaw = b.overlay.Flaws[p]
		if b.overlay.Blown[p] {
			s.Blown = true
		}
		if amps, ok := b.overlay.RatingAmps[p]; ok {
			s.RatingAmps = amps
		}
		// A fault was there before the key was turned: every module has to boot with it.
		s.Mode = part.Off
	}
}

// Reseat pulls a connector, part or fuse apart and puts it together again. That wipes the contacts: a film may read
// well for days, and is not cured. It returns what was wiped.
func (b *Bench) Reseat(name string) ([]string, error) {
	told, err := b.wipe(name)
	if err != nil {
		return nil, err
	}
	for _, p := range b.c.OfKind("module") {
		b.states[p].Mode = part.Off // whatever was unplugged has to boot again
	}
	return told, b.settle()
}

// wipe is what reseating does to contacts.
func (b *Bench) wipe(name string) ([]string, error) {
	terminals, err := b.terminalsOf(name)
	if err != nil {
		return nil, err
	}
	var told []string
	for _, t := range terminals {
		grip, bad := b.overlay.Grip[t]
		if !bad || b.overlay.Contact[t] <= grip.Unplug.Ohms || grip.Unplug.Heals == 0 {
			continue
		}
		b.wiped[t] = grip.Unplug.Ohms
		told = append(told, fmt.Sprintf("%s: pulling it %s. It is not mended", t.Name, grip.Unplug.Says))
	}
	return told, nil
}

func (b *Bench) terminalsOf(name string) ([]*circuit.Terminal, error) {
	if con := b.c.Connector(name); con != nil {
		return con.Cavities, nil
	}
	p := b.c.Part(name)
	if p == nil {
		return nil, b.unknown(name, "connector or part")
	}
	if !p.Kind.Plugged {
		return nil, fmt.Errorf("%s is a %s: it has no connector to reseat", name, p.Kind.Name)
	}
	return p.Terminals, nil
}

// Mend takes away what is wrong at a place, as a person would: "repair C14.4", "clean G2", "replace F7", and "reseat C14",
// which only wipes the contacts of a connector. A new fuse is of the right rating. Mending a sound place is no error: it costs its minutes and changes nothing.
func (b *Bench) Mend(text string) error {
	verb, place, ok := strings.Cut(strings.TrimSpace(text), " ")
	place = strings.TrimSpace(place)
	if ok && verb == "reseat" {
		_, err := b.Reseat(place)
		return err
	}
	if !ok || !slices.Contains([]string{"repair", "clean", "replace"}, verb) {
		return fmt.Errorf("%q is no act: write repair PLACE, clean PLACE, replace PLACE or reseat CONNECTOR", text)
	}
	left, err := b.mended(verb, place)
	if err != nil {
		return err
	}
	return b.lay(left)
}

// mended is the faults that an act at a place leaves. A fuse there is a new one of the right rating.
func (b *Bench) mended(verb, place string) ([]fault.Fault, error) {
	if _, err := fault.Conditions(b.c, place); err != nil {
		return nil, err
	}
	var left []fault.Fault
	for _, f := range b.faults {
		if !cures(verb, place, f) {
			left = append(left, f)
		}
	}
	if p := b.c.Part(place); p != nil && verb != "clean" { // a fuse is never repaired but by another
		s := b.states[p]
		s.Blown, s.RatingAmps = false, 0
	}
	if verb != "clean" {
		b.newWire(place)
	}
	return left, nil
}

// cures says whether an act at a place takes a fault away. A new part brings sound pins of its own, but the terminals
// of the harness stay as they are: a new module does not cure a spread terminal. Cleaning cures a film, rust or a leak,
// and nothing mechanical. What is wrong between two places is mended at either.
func cures(verb, place string, f fault.Fault) bool {
	if f.Place != place && f.Other != place {
		return false
	}
	if verb == "clean" {
		return slices.Contains([]string{"corroded", "fretted", "filmed", "rust", "painted", "leaks-to"}, f.Condition)
	}
	return true
}
