package sanity

// This file follows the current of a load that works, from the battery's plus to its minus, and holds what is lost on
// the way against the limits that practice sets.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
)

// loss is what one place on the way of a load's current loses.
type loss struct {
	place string
	volts float64
	amps  float64
}

// drops gathers what is over its limit.
type drops struct {
	k     *checker
	at    map[string]*over // places
	order []string
	sides []Finding
}

// over is a place that loses too much, with the load at which it loses most.
type over struct {
	loss
	load  *circuit.Part
	loads []string
	limit float64
}

func (k *checker) newDrops() *drops { return &drops{k: k, at: map[string]*over{}} }

// losses reads the way of a load's current: the plus side and the minus side, place by place. False where the load has
// no current, or is not on the way from one battery to itself.
func losses(b *sim.Bench, p *circuit.Part) (sides [2][]loss, ok bool) {
	if !working(b, p) {
		return sides, false
	}
	found, err := b.TracePart(p, nil)
	if err != nil {
		return sides, false
	}
	for i, hops := range [][]sim.Hop{found.Up, found.Down} {
		for _, h := range hops {
			if h.Place == found.Battery.Name { // its inner resistance is no wiring
				continue
			}
			before, after, amps := b.Ends(h, false)
			if n := len(sides[i]); n > 0 && sides[i][n-1].place == h.Place {
				sides[i][n-1].volts += before - after
			} else {
				sides[i] = append(sides[i], loss{h.Place, before - after, amps})
			}
		}
	}
	return sides, true
}

// limit is the most volts that a place may lose, or 0 where it has no limit of its own: a fuse loses what its rating
// says, a diode and a load in series what they are made for.
func (k *checker) limit(place string) float64 {
	if k.c.Wire(place) != nil {
		return catalog.CableLimitVolts
	}
	if p := k.c.Part(place); p != nil {
		switch {
		case p.Kind.Name == "switch", p.Kind.Name == "relay", p.Kind.Name == "module": // a module: its output
			return catalog.SwitchLimitVolts
		case isFuse(p), p.Kind.Name == "diode", p.Kind.Load:
			return 0
		}
	}
	return catalog.JointLimitVolts // terminals, splices, studs and the metal between studs
}

// series says that a load or diode in a way makes its sum say nothing about the wiring.
func (k *checker) series(side []loss, load *circuit.Part) bool {
	for _, l := range side {
		if p := k.c.Part(l.place); p != nil && p != load && (p.Kind.Load && p.Module == nil || p.Kind.Name == "diode") {
			return true
		}
	}
	return false
}

// odd says that something on the way of a load's current may lose more than it may. Where other loads work beside it,
// what a place loses is taken for the share of the load and of those that only work together with it.
func (d *drops) odd(b *sim.Bench, p *circuit.Part, ownAmps float64) bool {
	const near = 0.8 // rated amps are not quite those of this battery
	sides, _ := losses(b, p)
	for _, side := range sides {
		total := 0.0
		for _, l := range side {
			own := l.volts
			if l.amps > ownAmps {
				own *= ownAmps / l.amps
			}
			total += own
			if limit := d.k.limitFor(l, p); limit > 0 && own > near*limit {
				return true
			}
		}
		if total > near*catalog.SideLimitVolts && !d.k.series(side, p) {
			return true
		}
	}
	return false
}

// limitFor is the limit of a place on the way of a load; at the load itself its own terminal is meant.
func (k *checker) limitFor(l loss, load *circuit.Part) float64 {
	if l.place == load.Name {
		return catalog.JointLimitVolts
	}
	return k.limit(l.place)
}

// read notes what is over its limit while a load works.
func (d *drops) read(b *sim.Bench, p *circuit.Part) {
	sides, ok := losses(b, p)
	if !ok {
		return
	}
	for i, side := range sides {
		for _, l := range side {
			if limit := d.k.limitFor(l, p); limit > 0 && l.volts > limit*tolerableShare {
				d.note(l, p, limit)
			}
		}
		d.side(side, []string{"plus", "minus"}[i], p)
	}
}

func (d *drops) note(l loss, p *circuit.Part, limit float64) {
	o := d.at[l.place]
	if o == nil {
		o = &over{}
		d.at[l.place] = o
		d.order = append(d.order, l.place)
	}
	o.loads = append(o.loads, p.Name)
	if l.volts > o.volts {
		o.loss, o.load, o.limit = l, p, limit
	}
}

// side adds up a whole side. It is told where it would be over its limit even without what is told of single places.
func (d *drops) side(side []loss, name string, p *circuit.Part) {
	total, lawful, wires, worst := 0.0, 0.0, 0.0, loss{}
	for _, l := range side {
		total += l.volts
		if limit := d.k.limitFor(l, p); limit > 0 && d.k.c.Wire(l.place) == nil {
			lawful += min(l.volts, limit)
		} else {
			lawful += l.volts
		}
		if d.k.c.Wire(l.place) != nil {
			wires += l.volts
		}
		if l.volts > worst.volts {
			worst = l
		}
	}
	if lawful <= catalog.SideLimitVolts*tolerableShare || d.k.series(side, p) {
		return
	}
	current := side[0].amps // on the minus side the load's end comes first
	if name == "plus" {
		current = side[len(side)-1].amps
	}
	d.sides = append(d.sides, Finding{Rule: "volt drop", Pos: p.Pos, At: p.Name, also: []string{worst.place}, group: name + worst.place, worse: total,
		Text: fmt.Sprintf("the %s side of %s, %s, loses %s, and a whole side may lose %s; %s of that is what good wires of their length and size have, and the most in one place is %s at %s",
			name, p.Name, amps(current), volts(total), volts(catalog.SideLimitVolts), volts(wires), volts(worst.volts), worst.place),
		Hint: "Shorter or thicker wires, or fewer joints; or say under accepted why it does not matter"})
}

// tell turns what was noted into findings.
func (d *drops) tell() {
	for _, place := range d.order {
		o := d.at[place]
		f := Finding{Rule: "volt drop", At: place, also: append(d.k.owners(place), o.loads...), Pos: d.k.posOf(place)}
		if w := d.k.c.Wire(place); w != nil {
			d.k.wireDrop(&f, o, w)
		} else {
			what := "a ground or a connection"
			switch p := d.k.c.Part(place); {
			case o.limit != catalog.SwitchLimitVolts:
			case p.Module != nil:
				what = "the output of a module"
			default:
				what = "a switch or relay contact"
			}
			f.Text = fmt.Sprintf("%s loses %s at %s, while %s works, and %s may lose %s", d.k.called(place), volts(o.volts), amps(o.amps), o.load.Name, what, volts(o.limit))
			f.Hint = "It is too small for this current, or has too many ohms in the file"
		}
		d.k.find(f)
	}
	for _, f := range d.sides {
		d.k.find(f)
	}
}

// wireDrop words what a wire loses. A wire loses no more than its ohms ask for: where the current is one that the wire
// is made for that is a note, and its length is the reason.
func (k *checker) wireDrop(f *Finding, o *over, w *circuit.Wire) {
	head := fmt.Sprintf("%s loses %s at %s, while %s works", w.Name, volts(o.volts), amps(o.amps), o.load.Name)
	use, known := catalog.UseOf(w.AreaMM2)
	switch {
	case w.AreaMM2 == 0:
		f.Text = fmt.Sprintf("%s: the file gives it %s, and a cable may lose %s", head, quantity.Format(w.Ohms, quantity.Ohms, 3), volts(o.limit))
		f.Hint = "Look at its ohms again"
	case known && o.amps <= use.MaxAmps*tolerableShare:
		f.Note = true
		f.Text = fmt.Sprintf("%s: that is what %s m of %s has, %s, and no fault", head, metres(w), size(w), quantity.Format(w.Ohms, quantity.Ohms, 3))
	default:
		f.Text = fmt.Sprintf("%s: %s m of %s has %s, a cable may lose %s, and this size carries %s for long", head, metres(w), size(w),
			quantity.Format(w.Ohms, quantity.Ohms, 3), volts(o.limit), amps(use.MaxAmps))
		f.Hint = "A thicker wire; or say under accepted why it does not matter"
	}
}

func metres(w *circuit.Wire) string {
	return strconv.FormatFloat(math.Round(w.Metres*100)/100, 'g', -1, 64)
}

// called is a place in words.
func (k *checker) called(place string) string {
	if from, to, metal := strings.Cut(place, " to "); metal {
		return "the metal from " + from + " to " + to
	}
	return place
}

// owners are other names for a place: the part or connector of a terminal, the stud of metal.
func (k *checker) owners(place string) []string {
	if t := k.c.Terminal(place); t != nil {
		return []string{t.Owner}
	}
	if from, _, metal := strings.Cut(place, " to "); metal {
		return []string{from}
	}
	return nil
}

// posOf is where a place stands in the file.
func (k *checker) posOf(place string) circuit.Pos {
	if w := k.c.Wire(place); w != nil {
		return w.Pos
	}
	if p := k.c.Part(place); p != nil {
		return p.Pos
	}
	if t := k.c.Terminal(place); t != nil {
		return t.Pos
	}
	if s := k.c.Splice(place); s != nil {
		return s.Pos
	}
	from, _, _ := strings.Cut(place, " to ")
	if s := k.c.Stud(from); s != nil {
		return s.Pos
	}
	return circuit.Pos{Line: 1, Column: 1}
}
