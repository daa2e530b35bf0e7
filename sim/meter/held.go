package meter

// This file is an instrument that is left on the circuit, and a staircase whose benches are kept, so that both can be
// followed while somebody turns the resistance of a fault.

import (
	"fmt"
	"math"

	"underload/sim"
)

// Held is an instrument on the circuit, with the healthy circuit beside it.
type Held struct {
	i            instrument
	q            Request
	minutes      float64
	before       *sim.Bench // without the instrument
	own          *sim.Bench
	got, healthy raw
}

// Hold puts an instrument on a copy of the bench. Errors say in one sentence what cannot be done and what can.
func Hold(b *sim.Bench, q Request) (*Held, error) {
	i, err := named(q.With)
	if err != nil {
		return nil, err
	}
	h := &Held{i: i, q: q, before: b}
	if h.minutes, err = i.check(b, &h.q); err != nil {
		return nil, err
	}
	if err := h.measure(); err != nil {
		return nil, err
	}
	sound, err := b.Sound()
	if err != nil {
		return nil, err
	}
	if h.healthy, err = i.measure(sound, h.q); err != nil {
		return nil, fmt.Errorf("on the healthy circuit: %w", err)
	}
	h.healthy.known = &strained{}
	return h, nil
}

func (h *Held) measure() (err error) {
	if h.own, err = h.before.Clone(); err != nil {
		return err
	}
	h.got, err = h.i.measure(h.own, h.q)
	return err
}

// Reading is what it reads now.
func (h *Held) Reading() Reading {
	return h.i.reading(telling{request: h.q, got: h.got, healthy: h.healthy, bench: h.before, load: demand(h.before, h.q)}, h.minutes)
}

// Benches are the circuit and the healthy circuit with the instrument on, for reading only.
func (h *Held) Benches() (own, healthy *sim.Bench) { return h.got.after, h.healthy.after }

// Follow reads again after a fault of the bench that was given to Hold has been turned.
func (h *Held) Follow() error {
	switch h.i.name {
	case ohmmeter.name, ammeter.name, jumper.name: // these try several things on a bench before they read
		return h.measure()
	}
	if err := h.own.Follow(h.before); err != nil {
		return err
	}
	again := h.q
	again.again = true
	got, err := h.i.measure(h.own, again)
	if err != nil {
		return err
	}
	h.got = got
	return nil
}

// Climbed is a staircase with the benches it is read on.
type Climbed struct {
	b      *sim.Bench
	way    sim.Way
	passes [4]pass // light, load, healthy light, healthy load
	head   Staircase
	load   string
	amps   func(p *pass) // reads the load's current again
}

// Climb makes ready for a staircase. The bench itself is not changed.
func Climb(b *sim.Bench, q StairsRequest) (*Climbed, error) {
	if (q.Part == "") == (q.Red == "" && q.Black == "") {
		return nil, fmt.Errorf("a staircase goes either through a part's own current (--part PC1) or through a load between two points (--red POINT --black POINT)")
	}
	sound, err := b.Sound()
	if err != nil {
		return nil, err
	}
	if q.Part != "" {
		return partStairs(b, sound, q)
	}
	return lampStairs(b, sound, q)
}

// Staircase reads every step.
func (c *Climbed) Staircase() Staircase {
	s := c.head
	s.climb(c.b, c.way, c.passes, c.load)
	return s
}

// Healthy is the healthy circuit under load, for reading only; Load is the circuit itself under load.
func (c *Climbed) Healthy() *sim.Bench { return c.passes[3].bench }

// Load is the circuit under load, for reading only.
func (c *Climbed) Load() *sim.Bench { return c.passes[1].bench }

// Follow brings the staircase after the bench that was given to Climb, of which a fault has been turned.
func (c *Climbed) Follow() error {
	for k := range 2 {
		p := &c.passes[k]
		if p.bench != c.b {
			if err := p.bench.Follow(c.b); err != nil {
				return err
			}
		}
		c.amps(p)
	}
	return nil
}

func lampStairs(b, sound *sim.Bench, q StairsRequest) (*Climbed, error) {
	if q.With == "" {
		q.With = loadLamp.name
	}
	i, err := named(q.With)
	if err != nil {
		return nil, err
	}
	if !i.isLamp() && i.name != jumper.name {
		return nil, fmt.Errorf("%s draws no load's current: use test-lamp, load-lamp, or a plain load such as \"2.4 ohm\"", i.name)
	}
	take := Request{With: q.With, Red: q.Red, Black: q.Black, AnyReach: q.AnyReach}
	if _, err := i.check(b, &take); err != nil {
		return nil, err
	}
	c := &Climbed{b: b, load: i.name, amps: func(p *pass) { p.amps = math.Abs(p.bench.AttachedAmps(0)) }}
	c.head = Staircase{Load: i.name, LightLoad: testLamp.name, Cautions: cautionsFor(b, take, i)}
	for k, from := range []struct {
		bench *sim.Bench
		by    instrument
	}{{b, testLamp}, {b, i}, {sound, testLamp}, {sound, i}} {
		own, err := from.bench.Clone()
		if err != nil {
			return nil, err
		}
		got, err := from.by.measure(own, take)
		if err != nil {
			return nil, err
		}
		c.passes[k] = pass{bench: own, amps: math.Abs(got.amps)}
	}
	// The path is that of the healthy circuit, so that an open joint is a step on it and not the end of it.
	c.way, err = c.passes[3].bench.TraceAttached(0)
	return c, err
}

func partStairs(b, sound *sim.Bench, q StairsRequest) (*Climbed, error) {
	p := b.Circuit().Part(q.Part)
	by := b.Circuit().Terminal(q.Part)
	if by != nil && p == nil {
		p = b.Circuit().Part(by.Owner)
	}
	if p == nil {
		var names []string
		for _, p := range b.Circuit().Parts {
			if p.Kind.Load {
				names = append(names, p.Name)
			}
		}
		return nil, unknown("load", q.Part, names)
	}
	if q.With != "" {
		return nil, fmt.Errorf("--part %s makes its own current: leave out --with", p.Name)
	}
	way, err := sound.TracePart(p, by)
	if err != nil {
		return nil, err
	}
	c := &Climbed{b: b, way: way, load: p.Name, amps: func(to *pass) { to.amps = to.bench.PartAmps(p) }}
	c.head = Staircase{Load: p.Name, LightLoad: p.Name + " at rest", ways: waysOf(p, way), Cautions: CautionsOf(TagsAt(b, []string{p.Name}))}
	c.passes = [4]pass{{bench: b}, {bench: b}, {bench: sound}, {bench: sound}}
	for k := range c.passes {
		if k == 0 || k == 2 { // the light passes
			if c.passes[k].bench, err = c.passes[k].bench.Clone(); err != nil {
				return nil, err
			}
			if err := c.passes[k].bench.Rest(p); err != nil {
				return nil, err
			}
		}
		c.amps(&c.passes[k])
	}
	return c, nil
}
