package part

// This file is the loads with two terminals: lamp, resistor, heater, terminator, motor.

import (
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/solver"
	"underload/solver/device"
)

// open is the law of something that passes nothing.
type open struct{}

func (open) At(float64) (float64, float64) { return 0, 0 }
func (open) Limit(_, to float64) float64   { return to }

// twoPole is a load described by a law, or nothing at all when it is dead.
type twoPole struct {
	passive
	net    *solver.Network
	branch solver.Branch
	law    func(s *State) solver.Law
}

func (t *twoPole) Adjust(s *State) {
	if s.Flaw.Dead || s.Resting {
		t.net.SetLaw(t.branch, open{})
		return
	}
	t.net.SetLaw(t.branch, t.law(s))
}

func newTwoPole(w *Place, law func(s *State) solver.Law) *twoPole {
	t := &twoPole{net: w.Net, law: law}
	t.branch = w.device(w.Inside("in"), w.Inside("out"), law(&State{}))
	return t
}

// lamp is a filament that far too many volts burn out.
type lamp struct {
	*twoPole
	bulb    catalog.Bulb
	in, out solver.Node
}

func newLamp(p *circuit.Part, w *Place) Inner {
	bulb := Bulb(p)
	filament := Filament(bulb, w.AmbientCelsius)
	return &lamp{bulb: bulb, in: w.Inside("in"), out: w.Inside("out"), twoPole: newTwoPole(w, func(s *State) solver.Law {
		if s.Blown {
			return open{}
		}
		return filament
	})}
}

// Step burns it out.
func (l *lamp) Step(s *State, at *solver.Solution) bool {
	if s.Blown || s.Flaw.Dead || s.Resting || math.Abs(at.Volts(l.in)-at.Volts(l.out)) < l.bulb.BurnsVolts() {
		return false
	}
	s.Blown = true
	return true
}

// Light is how bright a lamp is at some volts, as a share of its light at 12 V, or at 24 V.
func Light(p *circuit.Part, s *State, volts float64) float64 {
	if s.Blown || s.Flaw.Dead || s.Resting {
		return 0
	}
	return Bulb(p).Light(volts)
}

// Bulb is what a lamp is fitted with.
func Bulb(p *circuit.Part) catalog.Bulb {
	bulb, err := catalog.BulbOf(p.Text("bulb"))
	if err != nil {
		panic("part: " + err.Error()) // the reader lets only known bulbs through
	}
	return bulb
}

// Filament is the law of a catalogue lamp.
func Filament(bulb catalog.Bulb, ambientCelsius float64) device.Filament {
	return device.Filament{RatedVolts: bulb.TestVolts, RatedWatts: bulb.TestWatts, AmbientKelvin: ambientCelsius + 273.15}
}

type plain struct {
	passive
	net    *solver.Network
	branch solver.Branch
	ohms   float64
}

func (r *plain) Adjust(s *State) {
	ohms := r.ohms
	if s.Flaw.Dead || s.Resting {
		ohms = math.Inf(1)
	}
	r.net.SetOhms(r.branch, ohms)
}

func newPlain(w *Place, from, to string, ohms float64) Inner {
	return &plain{net: w.Net, ohms: ohms, branch: w.resistor(w.Inside(from), w.Inside(to), ohms)}
}

func newResistor(p *circuit.Part, w *Place) Inner {
	return newPlain(w, "in", "out", p.Value("resistance"))
}

func newHeater(p *circuit.Part, w *Place) Inner { return newPlain(w, "in", "out", HeaterOhms(p)) }

// HeaterOhms is a heater's resistance.
func HeaterOhms(p *circuit.Part) float64 { return p.Value("at") * p.Value("at") / p.Value("power") }

// stallFactor is what a motor draws held fast against running, where the file does not say (common practice, no source).
const stallFactor = 5

// goingShare of its amps gets a motor going that stands: less than that its bearings and brushes hold (common practice, no
// source).
const goingShare = 0.05

// motor is a load that may stand, and then is its winding alone.
type motor struct {
	*twoPole
	goingAmps float64
}

func newMotor(p *circuit.Part, w *Place) Inner {
	return &motor{goingAmps: goingShare * p.Value("draws"), twoPole: newTwoPole(w, func(s *State) solver.Law {
		law := Running(p, s)
		law.Held = law.Held || s.Standing
		return law
	})}
}

// Step gets a motor going that stood.
func (m *motor) Step(s *State, at *solver.Solution) bool {
	if !s.Standing || math.Abs(at.Amps(m.branch)) < m.goingAmps {
		return false
	}
	s.Standing = false
	return true
}

// Running is the law of a motor that has come up to its speed, or is held fast.
func Running(p *circuit.Part, s *State) device.SteadyMotor {
	stall := p.Value("stalls at")
	if stall == 0 {
		stall = stallFactor * p.Value("draws")
	}
	friction := 0.0
	if p.Text("turns") != "fan" {
		friction = 1
	}
	factor := 1.0
	if s.Flaw.AmpsFactor > 0 {
		factor = s.Flaw.AmpsFactor
	}
	return device.SteadyMotor{
		RatedVolts: p.Value("at"), RatedAmps: math.Min(p.Value("draws")*factor, 0.95*stall), StallAmps: stall,
		FrictionShare: friction, Held: s.Flaw.Seized,
	}
}
