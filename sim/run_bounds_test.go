package sim

// This file is what must be true of the parts of any random run, at any instant: nothing gets colder than the air ever was,
// what has melted or been opened carries nothing, and what is told has happened.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/sim/live"
	"underload/solver/element"
	"underload/solver/transient"
)

const (
	colderBy     = 0.5  // kelvin, times how coarse the run is: a step may go a little too far
	gapSiemens   = 2e-9 // of an open fuse: dirt and damp
	sparkVolts   = 200  // from which on an open gap may let current through
	meltedMore   = 0.01 // of a fuse's neck, of which no more than all can melt
	fullestShare = 1.25 // a battery of 13 V, where the rows past full end
)

// breathes notes how cold the air has been.
func (p *player) breathes() { p.coldest = min(p.coldest, p.r.age.w.ambient) }

// bounded holds the parts at an instant against what they can be.
func (p *player) bounded(v *transient.View) error {
	now := view{v}
	least := p.coldest - colderBy*p.coarse()
	heat := func(place string, celsius float64) error {
		if !(celsius >= least) {
			return fmt.Errorf("at %.9g s %s is at %g °C, and no air was colder than %g °C", v.Seconds, place, celsius, p.coldest)
		}
		return nil
	}
	for _, h := range p.r.age.hot {
		if err := heat(h.place, h.heat.Read(now)); err != nil {
			return err
		}
	}
	for i, kelvin := range p.r.warm.kelvin {
		if err := heat(p.r.warm.plan.names[i], p.r.age.w.ambient+kelvin); err != nil {
			return err
		}
	}
	for _, part := range p.c.Parts {
		readings := p.r.age.parts[part].Readings
		if r, is := readings["heat"]; is {
			if err := heat(part.Name, r.Read(now)); err != nil {
				return err
			}
		}
		if r, is := readings["charge"]; is {
			if charge := r.Read(now); !(charge >= 0 && charge <= 100*fullestShare) {
				return fmt.Errorf("at %.9g s %s has %g %% of its charge", v.Seconds, part.Name, charge)
			}
		}
	}
	for _, m := range p.r.age.memories {
		if _, is := m.what.(live.InSlot); !is {
			continue
		}
		melted, volts, amps := v.States(m.id)[element.StripMelted], v.ElementVolts(m.id), v.ElementAmps(m.id)
		if !(melted >= -meltedMore && melted <= 1+meltedMore) {
			return fmt.Errorf("at %.9g s %g of %s has melted", v.Seconds, melted, m.key)
		}
		open := v.Marks(m.id)[element.StripMode] == element.StripOpen
		if open && math.Abs(volts) < sparkVolts && math.Abs(amps) > gapSiemens*math.Abs(volts)+1e-9 {
			return fmt.Errorf("at %.9g s %s has melted, and carries %g A with %g V across it", v.Seconds, m.key, amps, volts)
		}
	}
	return nil
}

// told holds the cues against what has become of the parts that nobody has laid a hand on.
func (p *player) told() error {
	p.r.fates()
	now := view{p.r.age.run.Now()}
	for i, part := range p.c.Parts {
		if slices.ContainsFunc(p.acts, func(a timed) bool { return strings.Contains(a.text, part.Name) }) {
			continue // it may be another one by now
		}
		was, is, blows, resetting := p.fates[i], p.r.fateOf(part, now), 0, 0
		for _, c := range p.r.Cues() {
			switch c.Says {
			case part.Name + " blows":
				blows++
			case part.Name + " " + resets:
				resetting++
			}
		}
		if want := int(is.resets - was.resets); resetting != want && len(p.r.Cues()) < mostCues {
			return fmt.Errorf("%s has reset %d times, and %d were told", part.Name, want, resetting)
		}
		if blown := is.blown && !was.blown; blown != (blows == 1) || blows > 1 {
			return fmt.Errorf("that %s blows was told %d times; it has blown: %v", part.Name, blows, blown)
		}
	}
	return nil
}
