package sim

// This file wires a circuit for a run: the places of the bench as they are, with what lies inside of parts, and joints in
// which heat or time matters, as elements with a memory.

import (
	"maps"
	"math"
	"slices"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/live"
	"underload/sim/part"
	"underload/solver"
	"underload/solver/device"
	"underload/solver/element"
	"underload/solver/transient"
)

// age is a stretch of a run in which nothing is wired anew. Every act begins another one; what parts remember goes over.
type age struct {
	plan     *Bench // what is set and broken; never solved
	shaken   map[string]float64
	w        *wiring
	net      *transient.Network
	run      *transient.Run
	legs     map[solver.Branch]leg
	parts    map[*circuit.Part]live.Part
	memories []*memory
	nodes    map[string]transient.Node
	beside   map[transient.Node]transient.Node // of a node that the bench has not: the one that it begins at the volts of
	hot      []hotspot                         // joints and fuses that can grow hot, in file order
	flutters []flutter
	slots    []slot
	hotWires []glowing
	hanging  []glowing // wires that hang by some strands
	owners   []owner   // of the elements, in their order
	contacts []contactAt
	flows    []reader // of the amps that warm sound joints and wires; nil until asked for
	attached []leg
	talk     *talk             // on the bus; nil until somebody listens
	before   transient.Balance // of the ages before
	opened   transient.Balance // of the engine when this age began, with what parts remember
	stats    transient.Stats   // the same
}

// leg is where a branch of the bench's network went: a resistor, an element, or nowhere where it is open.
type leg struct {
	edge    transient.Edge
	element transient.ID
	is      legForm
}

type legForm int

const (
	isOpen legForm = iota
	isEdge
	isElement
)

func (l leg) amps(v live.View) float64 {
	switch l.is {
	case isEdge:
		return v.Amps(l.edge)
	case isElement:
		return v.ElementAmps(l.element)
	}
	return 0
}

// memory is an element that remembers.
type memory struct {
	key     string
	id      transient.ID
	what    transient.Element
	settles bool    // slowly, where the volts across it are not those it was started with
	began   float64 // volts it was started with
}

// hotspot is a place whose heat a nose may find.
type hotspot struct {
	place  string
	heat   live.Reading
	smells float64 // °C from which on it does
}

// newAge wires the plan.
func newAge(plan *Bench, shaken map[string]float64) *age {
	plan.rewire()
	plan.adjust()
	a := &age{
		plan: plan, shaken: shaken, w: plan.w, net: transient.New(), legs: map[solver.Branch]leg{},
		parts: map[*circuit.Part]live.Part{}, nodes: map[string]transient.Node{}, beside: map[transient.Node]transient.Node{},
	}
	for range a.w.net.Nodes() - 1 {
		a.net.Node()
	}
	for name, n := range a.w.names {
		a.nodes[name] = transient.Node(n)
	}
	a.burn()
	joints, necks, halves := a.joints(), a.necks(), a.halves()
	for _, l := range a.w.links {
		if a.w.inside[l.Branch] || l.Place == Instrument {
			continue
		}
		a.own(l.Place)
		if j, ok := joints[l.Branch]; ok {
			a.joint(l.Branch, j)
		} else if n, ok := necks[l.Branch]; ok {
			a.neck(l.Branch, n)
		} else if h, ok := halves[l.Branch]; ok {
			a.wire(l.Branch, h)
		} else {
			a.plain(l.Branch)
		}
	}
	for _, p := range a.w.circuit.Parts {
		a.own(p.Name)
		a.part(p)
	}
	a.own(Instrument)
	for i := range plan.attached {
		a.attach(plan.attached[i])
	}
	return a
}

// plain is a branch that is a resistor.
func (a *age) plain(b solver.Branch) {
	from, to := a.w.net.Ends(b)
	if ohms := a.w.net.Ohms(b); !math.IsInf(ohms, 1) {
		a.legs[b] = leg{edge: a.net.Resistor(transient.Node(from), transient.Node(to), ohms), is: isEdge}
	}
}

// wire is a branch that is a wire, or half of one.
func (a *age) wire(b solver.Branch, h half) {
	from, to := a.w.net.Ends(b)
	if ohms := a.w.net.Ohms(b); !math.IsInf(ohms, 1) {
		a.legs[b] = a.length(h, transient.Node(from), transient.Node(to), ohms)
	}
}

func (a *age) part(p *circuit.Part) {
	a.parts[p] = live.Build(p, &live.Place{
		Net:            a.net,
		AmbientCelsius: a.w.ambient, FileCelsius: a.w.circuit.AmbientCelsius, MostVolts: a.w.circuit.BatteryVolts(),
		State:       a.plan.states[p],
		Inside:      func(pin string) transient.Node { return transient.Node(a.w.joints[p.Terminal(pin)].inside) },
		ContactOhms: func(pin string) float64 { return a.w.net.Ohms(a.w.joints[p.Terminal(pin)].contact) },
		Node:        func(name string) transient.Node { return a.node(p.Name + " " + name) },
		Placed: func(name string, id transient.ID, what transient.Element) {
			a.remember(p.Name+" "+name, id, what)
			a.slotOf(p, id, what)
		},
	})
	if heat, ok := a.parts[p].Readings["heat"]; ok && p.Kind.Name != "lamp" {
		a.hot = append(a.hot, hotspot{p.Name, heat, fuseSmellCelsius})
	}
}

// node is a node by its name on the bench, or a new one.
func (a *age) node(name string) transient.Node {
	n, ok := a.nodes[name]
	if !ok {
		n = a.net.Node()
		a.nodes[name] = n
	}
	return n
}

func (a *age) remember(key string, id transient.ID, what transient.Element) {
	_, quick := what.(live.Quick)
	settles := !quick && what.Size().States > 0
	a.memories = append(a.memories, &memory{key: key, id: id, what: what, settles: settles})
}

// attach puts an instrument on.
func (a *age) attach(on Attachment) {
	red, black := transient.Node(a.plan.nodeNamed(on.Red)), transient.Node(a.plan.nodeNamed(on.Black))
	var l leg
	lamp, isLamp := on.Law.(device.Filament)
	switch {
	case isLamp: // it is cold when it is put on
		warm := element.NewFilament(lamp)
		l = leg{element: a.net.Element(red, black, warm), is: isElement}
		a.remember(Instrument+" lamp "+on.Red+" "+on.Black, l.element, warm)
	case on.Law != nil:
		l = leg{element: a.net.Element(red, black, element.Law{Curve: on.Law}), is: isElement}
	case math.IsInf(on.Ohms, 1):
	case on.Volts != 0:
		l = leg{edge: a.net.Source(black, red, on.Volts, math.Max(on.Ohms, leastSourceOhms)), is: isEdge}
	case on.FuseAmps > 0:
		l = a.fused(on, red, black)
	default:
		l = leg{edge: a.net.Resistor(red, black, on.Ohms), is: isEdge}
	}
	a.attached = append(a.attached, l)
}

// fused is a resistance with a fuse of its own, new when it is put on.
func (a *age) fused(on Attachment, red, black transient.Node) leg {
	made, err := catalog.FuseOf(catalog.UsualFuseType(on.FuseAmps), on.FuseAmps)
	if err != nil {
		panic("sim: " + err.Error()) // instruments have fuses that are made
	}
	between, melts := a.net.Node(), live.Strip(made, a.w.ambient)
	a.nodes[Instrument+" fuse"], a.beside[between] = between, red
	a.net.Resistor(red, between, on.Ohms-made.ColdOhms)
	l := leg{element: a.net.Element(between, black, melts), is: isElement}
	a.remember(Instrument+" fuse "+on.Red+" "+on.Black, l.element, melts)
	return l
}

// leastSourceOhms stands for a source without a resistance of its own.
const leastSourceOhms = 1e-6

// clonePlan is a bench that can be set and broken without touching this one, and is not solved.
func (b *Bench) clonePlan() *Bench {
	n := &Bench{
		c: b.c, faults: slices.Clone(b.faults), overlay: b.overlay, apart: maps.Clone(b.apart),
		states: map[*circuit.Part]*part.State{}, attached: slices.Clone(b.attached), settings: slices.Clone(b.settings),
		ambient: b.ambient, wiped: maps.Clone(b.wiped), moving: true, glowing: maps.Clone(b.glowing), burnt: maps.Clone(b.burnt),
	}
	for p, s := range b.states {
		n.states[p] = s.Clone()
	}
	if n.glowing == nil {
		n.glowing, n.burnt = map[*circuit.Wire]float64{}, map[half]bool{}
	}
	return n
}
