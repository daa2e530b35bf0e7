package part

// This file is the control module: what it draws, what its pins show to its own ground, what it switches, and what it
// says on the bus. Its own ground is a node, so a lost ground lifts every pin through its protection paths.

import (
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/solver"
	"underload/solver/device"
)

// Mode is what a module is doing.
type Mode int

// The modes of a module.
const (
	Off     Mode = iota // not fed well enough to try
	Asleep              // fed, not woken
	Booting             // tried by the bench only
	Awake
	Hung    // booted, but its supply stays between its two thresholds: it draws its boot current and does not answer
	Cycling // booting pulls its supply below reset, over and over; between two attempts it is locked out
	Dead    // open inside
)

// String is the word for a mode.
func (m Mode) String() string {
	return [...]string{"off", "asleep", "booting", "awake", "hung", "cycling", "dead"}[m]
}

// Figures of a module's inside. All are common practice, no source, but for the bus: 120 ohm ends, 2.5 V at rest and
// 2 V difference when dominant are ISO 11898-2 as two transceiver data sheets state it. 3.0 V behind 15 ohm a line
// gives that difference into 60 ohm, and 2.4 V with one end missing.
const (
	kneeShare       = 0.8    // below this share of its reset threshold a module is a resistance, not a constant power
	protectionVolts = 0.8    // a protection diode at 1 A
	referenceOhms   = 0.5    // the 5 V output
	BusRestVolts    = 2.5    // both lines
	BusBiasOhms     = 20000  // a line to its rest volts
	BusHighVolts    = 4.0    // dominant, open
	BusLowVolts     = 1.0    // dominant, open
	BusDriverOhms   = 15     // dominant, each line
	OutputFloorOhms = 0.0001 // an output is never quite nothing
)

// Module is a control module in a network.
type Module struct {
	Part *circuit.Part

	net       *solver.Network
	plus, own solver.Node // its own supply and its own ground, behind all pins
	draw      solver.Branch
	power     solver.Branch
	inputs    []solver.Branch
	outputs   []solver.Branch
	reference []solver.Branch
	bus       *busPort
	wake      []solver.Node
	held      bool // awake whatever its wake pins say
}

type busPort struct{ high, low solver.Branch }

func newModule(p *circuit.Part, w *Place) Inner {
	m := &Module{Part: p, net: w.Net, plus: w.Node("own supply"), own: w.Node("own ground")}
	m.draw = w.resistor(m.plus, m.own, math.Inf(1))
	m.power = w.device(m.plus, m.own, open{})
	for _, pin := range p.Module.Supply {
		w.resistor(w.Inside(pin), m.plus, 0)
	}
	for _, pins := range [][]string{p.Module.Ground, p.Module.SensorGround} {
		for _, pin := range pins {
			w.resistor(w.Inside(pin), m.own, 0)
		}
	}
	m.protect(w, m.plus)
	for _, pins := range [][]string{p.Module.Wake, p.Module.Signals} {
		for _, pin := range pins {
			m.inputs = append(m.inputs, w.resistor(w.Inside(pin), m.own, p.Value("wake input")))
			m.protect(w, w.Inside(pin))
		}
	}
	for _, pin := range p.Module.Wake {
		m.wake = append(m.wake, w.Inside(pin))
	}
	for _, out := range p.Module.Outputs {
		other := m.own
		if out.To == "supply" {
			other = m.plus
		}
		m.outputs = append(m.outputs, w.resistor(w.Inside(out.Pin), other, math.Inf(1)))
		m.protect(w, w.Inside(out.Pin))
	}
	for _, pin := range p.Module.Reference {
		m.reference = append(m.reference, w.device(w.Inside(pin), m.own, open{}))
		m.protect(w, w.Inside(pin))
	}
	if len(p.Module.Bus) == 2 {
		m.wireBus(w)
	}
	return m
}

func (m *Module) protect(w *Place, pin solver.Node) {
	w.device(m.own, pin, Protection())
}

// Protection is the path from a module's own ground to a pin.
func Protection() device.Junction { return Junction(protectionVolts) }

// Works is what an awake module draws for itself.
func Works(p *circuit.Part) device.ConstantPower {
	return device.ConstantPower{Watts: p.Value("awake") * catalog.OrdinaryModule.AtVolts, KneeVolts: kneeShare * p.Value("resets below")}
}

// falling is a module in the instant of its reset. It asked for more than its feeds give, and its input capacitor gave the
// rest until its supply was down at that level: the feeds give what brings it there, and never more, since it then lets go.
type falling struct{ resetsVolts float64 }

// At is a steep line from the reset volts on: 1 mV above them at 1 A.
func (f falling) At(volts float64) (amps, siemens float64) {
	const steep = 1e3
	if volts <= f.resetsVolts {
		return 0, 0
	}
	return steep * (volts - f.resetsVolts), steep
}

// Limit stops a step at the corner.
func (f falling) Limit(from, to float64) float64 {
	if (from-f.resetsVolts)*(to-f.resetsVolts) < 0 {
		return f.resetsVolts
	}
	return to
}

// DrawOhms is what draws the amps that a key of a module tells.
func DrawOhms(p *circuit.Part, key string) float64 {
	return catalog.OrdinaryModule.AtVolts / p.Value(key)
}

// Reference is the 5 V output of an awake module.
func Reference(p *circuit.Part) device.LimitedSource {
	return device.LimitedSource{Volts: referenceVolts, Ohms: referenceOhms, LimitAmps: p.Value("reference limit")}
}

// wireBus has no protection paths: bus pins stand tens of volts either way, so a module with a lifted ground does not
// hold the pair down for the others.
func (m *Module) wireBus(w *Place) {
	high, low := w.Inside(m.Part.Module.Bus[0]), w.Inside(m.Part.Module.Bus[1])
	m.bus = &busPort{
		high: w.source(m.own, high, BusRestVolts, BusBiasOhms),
		low:  w.source(m.own, low, BusRestVolts, BusBiasOhms),
	}
	if ohms := m.Part.Value("terminator"); ohms > 0 {
		w.resistor(high, low, ohms)
	}
}

// Adjust brings the module's branches to its mode and to the outputs asked for.
func (m *Module) Adjust(s *State) {
	mode := s.Mode
	if s.Flaw.Dead {
		mode = Dead
	}
	m.held = s.Flaw.HeldAwake
	p := m.Part
	drawOhms := math.Inf(1)
	var power solver.Law = open{}
	switch mode {
	case Off, Asleep:
		drawOhms = DrawOhms(p, "asleep")
	case Booting, Hung:
		drawOhms = p.Value("boots as")
	case Cycling:
		drawOhms = DrawOhms(p, "locked out")
	case Awake:
		power = Works(p)
	}
	if s.Falling {
		drawOhms, power = math.Inf(1), falling{p.Value("resets below")}
	}
	m.net.SetOhms(m.draw, drawOhms)
	m.net.SetLaw(m.power, power)
	for i, out := range p.Module.Outputs {
		ohms := math.Inf(1)
		if mode == Awake && s.Asked[out.Pin] || s.Flaw.StuckAt == out.Pin {
			ohms = math.Max(out.Ohms, OutputFloorOhms)
		}
		m.net.SetOhms(m.outputs[i], ohms)
	}
	for _, b := range m.reference {
		if mode == Awake {
			m.net.SetLaw(b, Reference(p))
		} else {
			m.net.SetLaw(b, open{})
		}
	}
	if m.bus != nil {
		m.listen(mode)
	}
}

// Step leaves a module as it is: its boot has to be tried, which only the bench can do.
func (m *Module) Step(*State, *solver.Solution) bool { return false }

// listen holds the pair at its rest volts while the module is up, and weakly at its own ground while it is not.
func (m *Module) listen(mode Mode) {
	m.Speak(false)
	if mode != Awake && mode != Booting && mode != Hung {
		m.net.SetVolts(m.bus.high, 0)
		m.net.SetVolts(m.bus.low, 0)
	}
}

// Speak drives the bus dominant, or lets it go. It lasts until the next Adjust.
func (m *Module) Speak(dominant bool) {
	high, low, ohms := BusRestVolts, BusRestVolts, float64(BusBiasOhms)
	if dominant {
		high, low, ohms = BusHighVolts, BusLowVolts, BusDriverOhms
	}
	m.net.SetVolts(m.bus.high, high)
	m.net.SetOhms(m.bus.high, ohms)
	m.net.SetVolts(m.bus.low, low)
	m.net.SetOhms(m.bus.low, ohms)
}

// OnBus reports whether the module has bus pins.
func (m *Module) OnBus() bool { return m.bus != nil }

// SupplyVolts is what the module gets between its own supply and its own ground.
func (m *Module) SupplyVolts(at *solver.Solution) float64 { return at.Volts(m.plus) - at.Volts(m.own) }

// Amps is what the module takes from its supply for itself.
func (m *Module) Amps(at *solver.Solution) float64 { return at.Amps(m.draw) + at.Amps(m.power) }

// Woken reports whether a wake pin is high enough, or the module needs none.
func (m *Module) Woken(at *solver.Solution) bool {
	if len(m.wake) == 0 || m.held {
		return true
	}
	for _, pin := range m.wake {
		if at.Volts(pin)-at.Volts(m.own) >= m.Part.Value("wakes above") {
			return true
		}
	}
	return false
}

// Own is the module's own supply and own ground.
func (m *Module) Own() (plus, ground solver.Node) { return m.plus, m.own }
