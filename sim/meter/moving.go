package meter

// This file is an instrument that is left on a circuit in motion, and on the healthy circuit beside it.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/part"
)

// Moving is an instrument on a run. It reads the present instant; nothing is averaged.
type Moving struct {
	i          instrument
	q          Request
	own, sound side
	rest       *Held // of an instrument that time does not matter to
	cautions   []string
}

// side is the instrument on one of two runs: the circuit's, or that of the healthy circuit; without a run on none.
type side struct {
	run   *sim.Run
	on    []sim.Attachment
	full  float64 // the light of its lamp at the volts that light is told at, relative to that at its rated volts
	volts sim.Channel
	amps  sim.Channel // of the clamp
}

// inMotion are the instruments that read while time runs.
var inMotion = []string{voltmeter.name, ammeter.name, clampMeter.name, testLamp.name, ledLight.name, loadLamp.name, jumper.name, rollCall.name}

// still are those that time does not matter to: what they read changes with what is set only.
var still = []string{ohmmeter.name, dragGauge.name}

// StandsStill reports whether an instrument is one that time does not matter to.
func StandsStill(instrument string) bool { return slices.Contains(still, instrument) }

// Move puts an instrument on a run, in place of what was on before. The bench is the same circuit at rest: it tells
// where leads can get to. Errors say in one sentence what cannot be done and what can; nothing is on the run then.
func Move(r *sim.Run, b *sim.Bench, q Request) (*Moving, error) {
	if err := r.Attach(); err != nil {
		return nil, err
	}
	i, err := named(q.With)
	if err != nil {
		return nil, err
	}
	if !slices.Contains(inMotion, i.name) && !i.plain {
		return nil, fmt.Errorf("%s is read with time at rest; while time runs, %s read", i.name, strings.Join(inMotion, ", "))
	}
	m := &Moving{i: i, q: q}
	if _, err := i.check(b, &m.q); err != nil {
		return nil, err
	}
	if i.name == ammeter.name {
		if err := needsGap(b, m.q); err != nil {
			return nil, err
		}
	}
	m.cautions = cautionsFor(b, m.q, i)
	m.own, err = m.put(r)
	return m, err
}

// Still leaves an instrument that time does not matter to on a run: it reads what it does on a bench where the same is
// set, unless the run has volts between the leads of an ohmmeter.
func Still(r *sim.Run, h *Held) (*Moving, error) {
	if err := r.Attach(); err != nil {
		return nil, err
	}
	if !StandsStill(h.i.name) {
		return nil, fmt.Errorf("what %s reads changes as time runs", h.i.name)
	}
	m := &Moving{i: h.i, q: h.q, rest: h, cautions: cautionsFor(h.before, h.q, h.i)}
	var err error
	m.own, err = m.put(r)
	return m, err
}

// Set tells the instrument what has been set since it was put on, by the same circuit at rest: cautions follow, and one
// that time does not matter to reads as it does there, where it can be held there.
func (m *Moving) Set(b *sim.Bench, h *Held) {
	m.cautions = cautionsFor(b, m.q, m.i)
	if m.rest != nil && h != nil {
		m.rest = h
	}
}

// Beside puts the same instrument on the healthy circuit's run, in place of what was on it before. As long as the two
// runs stand at the same instant, readings have the healthy circuit's value.
func (m *Moving) Beside(sound *sim.Run) (err error) {
	if err = sound.Attach(); err == nil && m.rest == nil {
		m.sound, err = m.put(sound)
	}
	return err
}

// put is the instrument on one run.
func (m *Moving) put(r *sim.Run) (s side, err error) {
	s.run = r
	switch m.i.leads {
	case oneWire:
		s.amps, err = r.Watch("amps " + m.q.On)
		return s, err
	case noLeads, oneCavity:
		return s, nil
	}
	if s.volts, err = r.Watch(m.q.Red + " against " + m.q.Black); err != nil {
		return s, err
	}
	on := sim.Attachment{Red: m.q.Red, Black: m.q.Black}
	switch m.i.name {
	case voltmeter.name, ohmmeter.name:
		on.Ohms = catalog.Voltmeter.InputOhms
	case ammeter.name:
		on.Ohms, on.FuseAmps = catalog.Ammeter.InputOhms, catalog.Ammeter.FuseAmps
	case jumper.name:
		on.Ohms, on.FuseAmps = catalog.JumperOhms, catalog.JumperFuseAmps
	case testLamp.name, loadLamp.name:
		bulb := smallLamp(r.Circuit())
		if m.i.name == loadLamp.name {
			bulb = largeLamp(r.Circuit())
		}
		lamp := part.Filament(bulb, r.Circuit().AmbientCelsius)
		on.Law, s.full = lamp, lamp.LightShare(bulb.LightVolts())
	case ledLight.name:
		on.Law = part.LED((catalog.LEDFullVolts - catalog.LEDLightVolts) / catalog.LEDLightOhms)
	default:
		on.Ohms, _ = quantity.Parse(m.i.name, quantity.Ohms) // it was read before
	}
	s.on = []sim.Attachment{on}
	return s, r.Attach(on)
}

// On reports whether the instrument is on the run as it was put on: after stepping back it may not have been on yet.
func (m *Moving) On() bool { return m.own.is() }

// is reports whether it is on its run.
func (s side) is() bool { return s.run != nil && slices.Equal(s.run.Attached(), s.on) }

// Reading is what it shows now, and, where a run of the healthy circuit stands at the same instant, what it would show
// there.
func (m *Moving) Reading() Reading {
	t := telling{request: m.q, got: m.own.read(m.i)}
	live := m.i.name == ohmmeter.name && math.Abs(t.got.value) > liveVolts
	if m.rest != nil && !live {
		return m.rest.Reading()
	}
	beside := m.sound.is() && m.sound.run.Seconds() == m.own.run.Seconds()
	if beside {
		t.healthy = m.sound.read(m.i)
	}
	r := Reading{Instrument: m.i.name, Red: m.q.Red, Black: m.q.Black, On: m.q.On, BeyondReach: m.q.beyond, Minutes: m.i.minutes,
		Seen: m.seen(t.got), Meaning: m.meaning(t, beside), Effect: effect(m.i, t), Lines: t.got.lines, Cautions: m.cautions}
	r.Unit, r.Resolution, r.Uncertainty = m.i.scale(t.got.value)
	if t.got.has {
		r.Value = p(t.got.value)
	} else {
		r.Uncertainty = nil
	}
	if beside {
		r.HealthySeen = m.seen(t.healthy)
		if t.healthy.has {
			r.Healthy = p(t.healthy.value)
		}
	}
	if m.i.isLamp() {
		r.Amps = p(math.Abs(t.got.amps))
	}
	if m.i.isLamp() && !m.i.plain {
		r.LightPercent = p(100 * t.got.light)
	}
	return r
}

// read is what the instrument reads on one run.
func (s side) read(i instrument) raw {
	switch i.leads {
	case oneWire:
		value := s.amps.Read()
		return raw{has: true, value: value, amps: value}
	case oneCavity:
		return raw{}
	case noLeads:
		r, _ := callRoll(s.run.Circuit(), s.run.Modules(), true, func(speaker *circuit.Part, high, low *circuit.Terminal) (bool, error) {
			return s.run.Hears(speaker, high, low), nil
		})
		return r
	}
	r := raw{has: true, value: s.volts.Read(), amps: s.run.AttachedAmps(0)}
	if share, ok := s.run.AttachedLight(0); ok {
		r.light = share / s.full
	}
	switch i.name {
	case ledLight.name:
		r.value = r.amps
	case ammeter.name, jumper.name:
		r.value = r.amps
		if s.run.AttachedBlown(0) {
			r.seen = i.blows
		}
	case ohmmeter.name:
		r.has, r.seen = false, fmt.Sprintf("%s stands between the leads", volts(r.value))
	}
	return r
}

// seen is what a person sees of it at an instant.
func (m *Moving) seen(r raw) string {
	switch {
	case r.seen != "":
		return r.seen
	case m.i.isLamp() && !m.i.plain:
		return lampSeen(r)
	case m.i.name == ledLight.name:
		words, _ := m.i.tell(telling{got: r})
		return words
	case m.i.name == jumper.name:
		return "fuse holds"
	}
	return ""
}

// meaning is what a reading of one instant comes to.
func (m *Moving) meaning(t telling, beside bool) string {
	const how = "The scope shows how it came about."
	switch name := m.i.name; {
	case name == ohmmeter.name:
		return "Ohms are measured on a dead circuit: with volts between the leads the number would be the meter's own source against the circuit's. Take the feed away, or measure the volts lost under load instead."
	case name == rollCall.name:
		return rollCallMeaning(t)
	case t.got.seen != "": // its fuse is gone
		_, words := m.i.tell(t)
		return words + " A new fuse goes in with the leads put on anew."
	case name == jumper.name:
		return fmt.Sprintf("It carries %s now. What changes with it is told beside the clock: if the complaint goes with it and comes back without it, the fault lies in what it bridges.", amps(math.Abs(t.got.value)))
	case !beside:
		return "This is one instant. " + how + " With time at rest the same test is held against the healthy circuit."
	}
	write := volts
	if unit, _, _ := m.i.scale(0); unit == ampere {
		write = amps
	}
	own, healthy := t.got.value, t.healthy.value
	if m.i.isLamp() { // which has no sign
		own, healthy = math.Abs(own), math.Abs(healthy)
	}
	_, _, unsure := m.i.scale(healthy)
	const share = 0.02
	switch apart := math.Abs(own) - math.Abs(healthy); {
	case math.Abs(own-healthy) <= math.Max(2**unsure, share*math.Abs(healthy)):
		return "At this instant as in the healthy circuit, to which the same was done. " + how
	case own*healthy < 0 && min(math.Abs(own), math.Abs(healthy)) > *unsure:
		return "At this instant the other way round than in the healthy circuit, to which the same was done. " + how
	case apart < 0:
		return fmt.Sprintf("At this instant %s less than in the healthy circuit, to which the same was done. %s", write(-apart), how)
	default:
		return fmt.Sprintf("At this instant %s more than in the healthy circuit, to which the same was done. %s", write(apart), how)
	}
}
