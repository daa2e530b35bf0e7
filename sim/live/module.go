package live

// This file is the control module with its pins.

import (
	"math"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

// inputOhms is the resistance in series with a module's input capacitor, its own and that of the tracks to it (common
// practice, no source).
const inputOhms = 0.020

// modeWords are the words for a part.Mode in time, where a module that cycles is seen to.
var modeWords = []string{"off", "asleep", "booting", "awake", "hung", "locked out", "dead"}

func newModule(p *circuit.Part, w *Place) Part {
	plus, own := w.Node("own supply"), w.Node("own ground")
	for _, pin := range p.Module.Supply {
		w.Net.Resistor(w.Inside(pin), plus, 0)
	}
	for _, pins := range [][]string{p.Module.Ground, p.Module.SensorGround} {
		for _, pin := range pins {
			w.Net.Resistor(w.Inside(pin), own, 0)
		}
	}
	m := moduleOf(p, w.State)
	var wake []transient.Node
	for _, pin := range p.Module.Wake {
		wake = append(wake, w.Inside(pin))
	}
	id := w.add("module", plus, own, m, wake...)
	b := pins{p, w, id, plus, own}
	b.protect(plus)
	b.inputs()
	b.outputs()
	b.reference()
	return Part{
		Speak: b.bus(),
		Readings: map[string]Reading{
			"mode":   {Words: modeWords, Read: func(v View) float64 { return v.Marks(id)[ModeMark] }},
			"amps":   {Unit: "A", Read: func(v View) float64 { return v.ElementAmps(id) }},
			"resets": {Read: func(v View) float64 { return v.Marks(id)[ResetsMark] }},
			"supply": {Unit: "V", Read: func(v View) float64 { return v.Volts(plus) - v.Volts(own) }},
		},
		Fate: func(v View, s *part.State) { s.Mode = modeOf(v.Marks(id)) },
	}
}

func moduleOf(p *circuit.Part, s *part.State) *Module {
	works := part.Works(p)
	m := &Module{
		Farads: p.Value("input capacitance"), SeriesOhms: inputOhms,
		BootOhms: math.Max(p.Value("boots as"), 2*inputOhms), AwakeWatts: works.Watts, KneeVolts: works.KneeVolts,
		AsleepOhms: part.DrawOhms(p, "asleep"), LockedOhms: part.DrawOhms(p, "locked out"),
		RunsAbove: p.Value("runs above"), ResetsBelow: p.Value("resets below"), WakesAbove: p.Value("wakes above"),
		BootSeconds: p.Value("boots for"), WaitSeconds: p.Value("waits"), SleepsAfterSeconds: p.Value("sleeps after"),
		WakePins: len(p.Module.Wake), Held: s.Flaw.HeldAwake, Resting: s.Resting, Began: s.Mode,
	}
	if !s.Resting {
		m.WakesEverySeconds = s.Flaw.WakesEvery
	}
	if s.Flaw.Dead {
		m.Began = part.Dead
	}
	return m
}

// pins lays out what lies behind a module's pins.
type pins struct {
	part      *circuit.Part
	w         *Place
	id        transient.ID
	plus, own transient.Node
}

func (b *pins) protect(pin transient.Node) { b.w.law(b.own, pin, part.Protection()) }

func (b *pins) inputs() {
	for _, pins := range [][]string{b.part.Module.Wake, b.part.Module.Signals} {
		for _, pin := range pins {
			b.w.resistor(b.w.Inside(pin), b.own, b.part.Value("wake input"))
			b.protect(b.w.Inside(pin))
		}
	}
}

func (b *pins) port(pin, other transient.Node, up, down element.Curve) {
	b.w.Net.Element(pin, other, Port{Up: up, Down: down, Module: b.id})
}

// outputs conduct while the module is awake and they are asked for, or always where they are stuck. What is left of a
// coil's current when they open goes through their clamp.
func (b *pins) outputs() {
	s := b.w.State
	for _, out := range b.part.Module.Outputs {
		other := b.own
		if out.To == "supply" {
			other = b.plus
		}
		on := clamped{behind{0, math.Max(out.Ohms, part.OutputFloorOhms)}, outputVolts}
		off := beyond(outputVolts)
		up, down := element.Curve(off), element.Curve(off)
		if s.Asked[out.Pin] || s.Flaw.StuckAt == out.Pin {
			up = on
		}
		if s.Flaw.StuckAt == out.Pin {
			down = on
		}
		b.port(b.w.Inside(out.Pin), other, up, down)
		b.protect(b.w.Inside(out.Pin))
	}
}

// reference is the 5 V for sensors.
func (b *pins) reference() {
	for _, pin := range b.part.Module.Reference {
		b.port(b.w.Inside(pin), b.own, part.Reference(b.part), behind{0, math.Inf(1)})
		b.protect(b.w.Inside(pin))
	}
}

// bus holds the pair at its rest volts while the module is up, and weakly at its own ground while it is not. It returns
// what makes the module drive the pair dominant in a view, nil for one without a bus.
func (b *pins) bus() func(v View) {
	if len(b.part.Module.Bus) != 2 {
		return nil
	}
	var lines [2]transient.ID
	var ends [2]transient.Node
	for i, dominantVolts := range []float64{part.BusHighVolts, part.BusLowVolts} {
		ends[i] = b.w.Inside(b.part.Module.Bus[i])
		lines[i] = b.w.Net.Element(ends[i], b.own, Line{
			Port:     Port{Up: behind{part.BusRestVolts, part.BusBiasOhms}, Down: behind{0, part.BusBiasOhms}, Module: b.id, Boots: true},
			Dominant: behind{dominantVolts, part.BusDriverOhms},
		})
	}
	if ohms := b.part.Value("terminator"); ohms > 0 {
		b.w.resistor(ends[0], ends[1], ohms)
	}
	return func(v View) {
		for _, id := range lines {
			v.Marks(id)[0] = 1
		}
	}
}
