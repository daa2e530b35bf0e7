package part

// This file is the relay: a copper coil and a change-over contact. Between pulling in and letting go it stays as it is.

import (
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/solver"
	"underload/solver/device"
)

type relay struct {
	net                  *solver.Network
	coil, make, rest     solver.Branch
	coilOhms             float64 // at ambient
	pullInAmps, letGoAmp float64
	contactOhms          float64
}

func newRelay(p *circuit.Part, w *Place) Inner {
	coilOhms, pullInAmps, letGoAmps := Coil(p, w.AmbientCelsius)
	r := &relay{net: w.Net, coilOhms: coilOhms, pullInAmps: pullInAmps, letGoAmp: letGoAmps, contactOhms: p.Value("contact")}
	r.coil = w.resistor(w.Inside("86"), w.Inside("85"), r.coilOhms)
	r.make = w.resistor(w.Inside("30"), w.Inside("87"), math.Inf(1))
	r.rest = w.resistor(w.Inside("30"), w.Inside("87a"), r.contactOhms)
	switch p.Text("suppressed by") {
	case "resistor":
		w.resistor(w.Inside("86"), w.Inside("85"), catalog.PlugInRelay.SuppressionOhms)
	case "diode":
		w.device(w.Inside("85"), w.Inside("86"), Junction(DiodeVolts))
	}
	return r
}

// Coil is a relay's coil at ambient temperature, and the amps at which its armature moves. Data sheets give volts with the
// coil at 20 °C; what moves the armature is amps, so a warm coil needs more volts.
func Coil(p *circuit.Part, ambientCelsius float64) (ohms, pullInAmps, letGoAmps float64) {
	cold := p.Value("coil")
	_, perKelvin := catalog.Copper.Resistivity()
	return cold * (1 + perKelvin*(ambientCelsius-20)), p.Value("pulls in") / cold, p.Value("lets go") / cold
}

func (r *relay) Adjust(s *State) {
	coil := r.coilOhms
	if s.Flaw.CoilOpen || s.Flaw.Dead {
		coil = math.Inf(1)
	}
	r.net.SetOhms(r.coil, coil)
	contact := r.contactOhms
	if s.Flaw.ContactOhms > 0 {
		contact = s.Flaw.ContactOhms
	}
	pulledIn := s.PulledIn
	switch s.Flaw.StuckAt {
	case "closed":
		pulledIn = true
	case "open":
		pulledIn = false
	}
	madeOhms, restOhms := math.Inf(1), contact
	if pulledIn {
		madeOhms, restOhms = contact, math.Inf(1)
	}
	if s.Flaw.StuckAt == "open" { // the armature may move, but the contact does not make
		madeOhms = math.Inf(1)
	}
	r.net.SetOhms(r.make, madeOhms)
	r.net.SetOhms(r.rest, restOhms)
}

func (r *relay) Step(s *State, at *solver.Solution) bool {
	amps := math.Abs(at.Amps(r.coil))
	next := s.PulledIn
	if amps >= r.pullInAmps {
		next = true
	} else if amps <= r.letGoAmp {
		next = false
	}
	changed := next != s.PulledIn
	s.PulledIn = next
	return changed
}

// DiodeVolts is the forward drop at 1 A of an ordinary silicon rectifier (common practice, no source).
const DiodeVolts = 0.8

// Junction is a silicon junction that drops the given volts at 1 A: ideality 1.8 and 20 milliohm of its own
// (ordinary rectifier figures, from memory); the saturation current follows.
func Junction(voltsAtOneAmp float64) device.Junction {
	const ideality, seriesOhms, thermalVolts = 1.8, 0.020, 0.02585
	inner := math.Max(voltsAtOneAmp-seriesOhms, 0.1)
	return device.Junction{
		SaturationAmps: math.Exp(-inner / (ideality * thermalVolts)),
		Ideality:       ideality, ThermalVolts: thermalVolts, SeriesOhms: seriesOhms,
	}
}
