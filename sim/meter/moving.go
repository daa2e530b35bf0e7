package meter

// This file is an instrument that is left on a circuit in motion.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/part"
)

// Moving is an instrument on a run. It reads the present instant; nothing is averaged.
type Moving struct {
	i     instrument
	q     Request
	run   *sim.Run
	on    sim.Attachment
	full  float64 // the light of its lamp at the volts that light is told at, relative to that at its rated volts
	volts sim.Channel
	amps  sim.Channel // of the clamp
}

// inMotion are the instruments that read while time runs.
var inMotion = []string{voltmeter.name, clampMeter.name, testLamp.name, ledLight.name, loadLamp.name}

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
	m := &Moving{i: i, q: q, run: r}
	if _, err := i.check(b, &m.q); err != nil {
		return nil, err
	}
	if i.leads == oneWire {
		m.amps, err = r.Watch("amps " + q.On)
		return m, err
	}
	if m.volts, err = r.Watch(q.Red + " against " + q.Black); err != nil {
		return nil, err
	}
	on := sim.Attachment{Red: q.Red, Black: q.Black}
	switch i.name {
	case voltmeter.name:
		on.Ohms = catalog.Voltmeter.InputOhms
	case testLamp.name, loadLamp.name:
		lamp := part.Filament(bulbOfWatts(map[string]float64{testLamp.name: catalog.TestLampWatts, loadLamp.name: catalog.LoadLampWatts}[i.name]), b.Circuit().AmbientCelsius)
		on.Law, m.full = lamp, lamp.LightShare(catalog.LampLightVolts)
	case ledLight.name:
		on.Law = part.LED((catalog.LampLightVolts - catalog.LEDLightVolts) / catalog.LEDLightOhms)
	default:
		on.Ohms, _ = quantity.Parse(i.name, quantity.Ohms) // it was read before
	}
	m.on = on
	return m, r.Attach(on)
}

// On reports whether the instrument is on the run as it was put on: after stepping back it may not have been on yet.
func (m *Moving) On() bool {
	on := m.run.Attached()
	if m.i.leads == oneWire {
		return len(on) == 0
	}
	return len(on) == 1 && on[0].Red == m.on.Red && on[0].Black == m.on.Black && on[0].Ohms == m.on.Ohms && on[0].Law == m.on.Law
}

// Reading is what it shows now. What the healthy circuit would show at the same instant is not known, and left out.
func (m *Moving) Reading() Reading {
	var got raw
	got.has = true
	if m.i.leads == oneWire {
		got.value = m.amps.Read()
		got.amps = got.value
	} else {
		got.value = m.volts.Read()
		got.amps = m.run.AttachedAmps(0)
		if share, ok := m.run.AttachedLight(0); ok {
			got.light = share / m.full
		}
		if m.i.name == ledLight.name {
			got.value = got.amps
		}
	}
	r := Reading{Instrument: m.i.name, Red: m.q.Red, Black: m.q.Black, On: m.q.On, BeyondReach: m.q.beyond, Value: p(got.value), Minutes: m.i.minutes,
		Meaning: "This is one instant. The scope shows how it came about; with time at rest the same test is held against the healthy circuit.",
		Effect:  effect(m.i, telling{got: got})}
	r.Unit, r.Resolution, r.Uncertainty = m.i.scale(got.value)
	switch {
	case m.i.isLamp():
		r.Amps, r.Seen = p(math.Abs(got.amps)), lampSeen(got)
		if !m.i.plain {
			r.LightPercent = p(100 * got.light)
		}
	case m.i.name == ledLight.name:
		r.Seen, _ = m.i.tell(telling{got: got})
	}
	if m.i.name == loadLamp.name {
		r.Cautions = []string{lampCaution}
	}
	return r
}
