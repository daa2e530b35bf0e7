package sim

// This file is the wires of a run that grow hot: those that hang by a few strands, and those with more current than they
// can carry, which burn through in the end.

import (
	"fmt"
	"math"
	"slices"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/fault"
	"underload/sim/live"
	"underload/solver"
	"underload/solver/element"
	"underload/solver/transient"
)

// A wire is reckoned within the circuit, its ohms rising with its heat, once it is somewhat warm and would come to more
// than hotKelvin over the air with the current that it carries.
const (
	warmKelvin = 20
	hotKelvin  = 80
)

// Where wires melt (from memory).
const (
	copperMeltKelvin    = 1357.8
	aluminiumMeltKelvin = 933.5
)

const burnsThrough = "burns through"

// half is a wire, or one half of one that has a short in its middle.
type half struct {
	wire   *circuit.Wire
	second bool
}

// halves lists the wires by their branches.
func (a *age) halves() map[solver.Branch]half {
	found := map[solver.Branch]half{}
	for w, r := range a.w.runs {
		found[r.first] = half{wire: w}
		if r.split {
			found[r.second] = half{w, true}
		}
	}
	return found
}

// burn opens what has burnt through.
func (a *age) burn() {
	for h := range a.plan.burnt {
		b := a.w.runs[h.wire].first
		if h.second {
			b = a.w.runs[h.wire].second
		}
		a.w.net.SetOhms(b, math.Inf(1))
	}
}

// length is a length of wire, as a resistance or, if it is hot, with its heat.
func (a *age) length(h half, from, to transient.Node, ohms float64) leg {
	celsius, hot := a.plan.glowing[h.wire]
	if !hot || ohms < transient.MinOhms {
		return leg{edge: a.net.Resistor(from, to, ohms), is: isEdge}
	}
	watts, joules := wireHeat(h.wire)
	if a.w.runs[h.wire].split {
		watts, joules = watts/2, joules/2
	}
	air := a.w.ambient + live.ZeroCelsius
	e := hotWire{&element.Wire{Ohms: ohms / copperWarmth(a.w.ambient), JoulesPerKelvin: joules, WattsPerKelvin: watts, AirKelvin: air},
		celsius + live.ZeroCelsius, copperMeltKelvin}
	if h.wire.Metal == string(catalog.Aluminium) {
		e.meltKelvin = aluminiumMeltKelvin
	}
	id := a.net.Element(from, to, e)
	a.remember(fmt.Sprintf("%s wire %v", h.wire.Name, h.second), id, e)
	a.warm(h.wire.Name, id, 0)
	a.hotWires = append(a.hotWires, glowing{id, h})
	return leg{element: id, is: isElement}
}

// glowing is a hot wire of an age.
type glowing struct {
	id   transient.ID
	what half
}

// hotWire is a wire that begins as hot as it was found, or, with NaN, as its volts keep it.
type hotWire struct {
	*element.Wire
	beganKelvin float64
	meltKelvin  float64
}

// Start has it as hot as it was. One that would melt in the long run, and has not yet, begins cold.
func (w hotWire) Start(volts float64, states, marks []float64) {
	w.Wire.Start(volts, states, marks)
	if marks[element.WireOpen] == 1 || states[0] >= w.meltKelvin {
		w.Wire.Start(0, states, marks)
	}
	if !math.IsNaN(w.beganKelvin) {
		states[0] = w.beganKelvin
	}
}

// Events are that it melts.
func (w hotWire) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[element.WireOpen] == 0 {
		distance[0] = at.States[0]/w.meltKelvin - 1
	}
}

// Around is the air.
func (hotWire) Around() []int { return []int{element.WireAirKelvin} }

// Restless says that with too much current it only gets hotter.
func (hotWire) Restless() {}

// glowAtRest finds the wires that are hot with the currents of a bench at rest.
func (b *Bench) glowAtRest(plan *Bench) {
	for w, r := range b.w.runs {
		amps := math.Abs(b.sol.Amps(r.first))
		if r.split {
			amps = math.Max(amps, math.Abs(b.sol.Amps(r.second)))
		}
		if watts, _ := wireHeat(w); amps*amps*w.Ohms/watts > hotKelvin {
			plan.glowing[w] = math.NaN()
		}
	}
}

// glow reckons wires within the circuit from now on.
func (r *Run) glow(wires []*circuit.Wire) error {
	return r.change(func(plan *Bench, _ map[string]float64) error {
		for _, w := range wires {
			plan.glowing[w] = r.warm.celsius(w, plan.ambient, r.Seconds())
		}
		return nil
	})
}

// Burnt lists the wires that have burnt through, in the order of the file.
func (r *Run) Burnt() []*circuit.Wire {
	var found []*circuit.Wire
	for _, w := range r.Circuit().Wires {
		if r.age.plan.burnt[half{wire: w}] || r.age.plan.burnt[half{w, true}] {
			found = append(found, w)
		}
	}
	return found
}

// burn opens the wires that have just melted, or the strands that they hang by, and tells of them.
func (r *Run) burn() error {
	for _, g := range slices.Concat(r.age.hotWires, r.age.hanging) {
		if r.age.run.Marks(g.id)[element.WireOpen] == 0 { // of a neck as well
			continue
		}
		r.tell(r.Seconds(), g.what.wire.Name, burnsThrough)
		if err := r.change(func(plan *Bench, _ map[string]float64) error {
			plan.burnt[g.what] = true
			return nil
		}); err != nil {
			return err
		}
		return r.burn()
	}
	return nil
}

// newWire takes what heat did to a wire away.
func (b *Bench) newWire(place string) {
	if w := b.c.Wire(place); w != nil {
		delete(b.glowing, w)
		delete(b.burnt, half{wire: w})
		delete(b.burnt, half{w, true})
	}
}

// necks lists the wires that hang by some strands.
func (a *age) necks() map[solver.Branch]fault.Neck {
	found := map[solver.Branch]fault.Neck{}
	for w, neck := range a.plan.overlay.Necks {
		if b := a.w.runs[w].first; w.Metal != "aluminium" && !math.IsInf(a.w.net.Ohms(b), 1) {
			found[b] = neck
		}
	}
	return found
}

// neck is a wire that hangs by some strands.
func (a *age) neck(b solver.Branch, n fault.Neck) {
	from, to := a.w.net.Ends(b)
	w := n.Wire
	celsius := a.w.ambient
	cold := (a.w.net.Ohms(b) - n.AddedOhms) / copperWarmth(celsius)
	strandMM := math.Sqrt(w.AreaMM2 / float64(n.Of) * 4 / math.Pi)
	watts, joules := wireHeat(w)
	e := element.NewNeck(cold, joules, watts, celsius+live.ZeroCelsius, n.Left, strandMM, n.Metres)
	// The neck takes the place of a piece of the wire, and both together have the ohms that they have at rest.
	e.NeckOhms = n.AddedOhms / copperWarmth(celsius)
	id := a.net.Element(transient.Node(from), transient.Node(to), warmNeck{e})
	a.remember(fmt.Sprintf("%s neck %d/%d", w.Name, n.Left, n.Of), id, warmNeck{e})
	a.legs[b] = leg{element: id, is: isElement}
	a.hanging = append(a.hanging, glowing{id, half{wire: w}})
	a.warm(w.Name, id, element.NeckKelvin)
}

// warmNeck is a neck in warmer or colder air.
type warmNeck struct{ *element.Neck }

// Start has it as warm as volts keep it. One that would melt in the long run, and has not yet, begins cold.
func (n warmNeck) Start(volts float64, states, marks []float64) {
	n.Neck.Start(volts, states, marks)
	if marks[element.NeckOpen] == 1 {
		n.Neck.Start(0, states, marks)
	}
}

// Restless says that with too much current it only gets hotter.
func (warmNeck) Restless() {}

// Around is the air.
func (warmNeck) Around() []int { return []int{element.NeckAirKelvin} }

func copperWarmth(celsius float64) float64 {
	_, perKelvin := catalog.Copper.Resistivity()
	return 1 + perKelvin*(celsius-20)
}
