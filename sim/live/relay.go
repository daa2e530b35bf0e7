package live

// This file is the relay: its coil's current takes its time, its armature too, and its contacts bounce.

import (
	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

// What a data sheet of a small relay rarely says. Common practice, no source.
const (
	coilSeconds   = 0.0035 // time constant: 0.3 H at 85 ohm
	backShare     = 0.5    // of the travel, when it lets go
	flightShare   = 1.0 / 3
	bounces       = 2
	bounceSeconds = 0.4e-3
)

func newRelay(p *circuit.Part, w *Place) Part {
	s := w.State
	if !s.Flaw.CoilOpen && !s.Flaw.Dead {
		return coiled(p, w)
	}
	contacts(p, w, nil)
	return Part{Readings: map[string]Reading{"mode": {Words: relayWords, Read: func(View) float64 { return 0 }}}}
}

// relayWords are the words for the place of an armature.
var relayWords = []string{"out", "in", "on the way"}

// coiled is a relay whose coil is whole.
func coiled(p *circuit.Part, w *Place) Part {
	_, pullIn, letGo := part.Coil(p, w.AmbientCelsius)
	travel := p.Value("travel")
	a := armature{&element.Armature{
		Ohms: p.Value("coil"), Henries: coilSeconds * p.Value("coil"), Kelvin: w.AmbientCelsius + ZeroCelsius,
		PullInAmps: pullIn, ReleaseAmps: letGo, InSeconds: travel, OutSeconds: travel * backShare,
		FlightSeconds: travel * flightShare, Bounces: bounces, BounceSeconds: bounceSeconds,
	}, w.State.PulledIn}
	plus, minus := w.Inside("86"), w.Inside("85")
	id := w.add("coil", plus, minus, a)
	w.winding(plus, minus)
	switch p.Text("suppressed by") {
	case "resistor":
		w.Net.Resistor(plus, minus, catalog.PlugInRelay.SuppressionOhms)
	case "diode":
		w.law(minus, plus, part.Junction(part.DiodeVolts))
	}
	contacts(p, w, &id)
	return Part{
		Readings: map[string]Reading{"mode": {Words: relayWords, Read: func(v View) float64 {
			switch v.Marks(id)[element.ArmaturePlace] {
			case element.ArmatureOut:
				return 0
			case element.ArmatureIn:
				return 1
			}
			return 2
		}}},
		Fate: func(v View, s *part.State) { s.PulledIn = v.Marks(id)[element.ArmatureDriven] == 1 },
	}
}

// contacts places the change-over contact. One that is stuck does not move, nor one without a coil.
func contacts(p *circuit.Part, w *Place, coil *transient.ID) {
	s := w.State
	ohms := p.Value("contact")
	if s.Flaw.ContactOhms > 0 {
		ohms = s.Flaw.ContactOhms
	}
	common, made, rest := w.Inside("30"), w.Inside("87"), w.Inside("87a")
	switch {
	case s.Flaw.StuckAt == "closed":
		w.Net.Resistor(common, made, ohms)
	case s.Flaw.StuckAt == "open", coil == nil:
		w.Net.Resistor(common, rest, ohms)
	default:
		w.Net.Element(common, made, &element.Follower{Armature: *coil, Ohms: ohms})
		w.Net.Element(common, rest, &element.Follower{Armature: *coil, Ohms: ohms, Breaks: true})
	}
}

// armature is one that begins as it was left: between pulling in and letting go that does not follow from its amps.
type armature struct {
	*element.Armature
	in bool
}

// Quick says that its current follows its volts in milliseconds.
func (armature) Quick() {}

// Around is what the coil's temperature follows.
func (armature) Around() []int { return []int{element.ArmatureKelvin} }

// Start has it in or out as it was.
func (a armature) Start(volts float64, states, marks []float64) {
	a.Armature.Start(volts, states, marks)
	marks[element.ArmaturePlace], marks[element.ArmatureDriven] = element.ArmatureOut, 0
	if a.in {
		marks[element.ArmaturePlace], marks[element.ArmatureDriven] = element.ArmatureIn, 1
	}
}
