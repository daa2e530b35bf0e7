package sim

// This file reads volts and amps off a settled bench. It is what the model knows: what a person could read, and how
// well, is the business of sim/meter.

import (
	"cmp"
	"math"
	"slices"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver"
)

func (b *Bench) nodeNamed(name string) solver.Node {
	p, err := b.c.Point(name)
	if err != nil {
		panic("sim: " + err.Error()) // points are checked before they get here
	}
	return b.w.at(p, b.states)
}

// Volts is the potential of a point against the first battery's minus.
func (b *Bench) Volts(p circuit.Point) float64 { return b.sol.Volts(b.w.at(p, b.states)) }

// KickVolts is the same while every cycling module boots; ok is false when none cycles.
func (b *Bench) KickVolts(p circuit.Point) (volts float64, ok bool) {
	if b.kick == nil {
		return 0, false
	}
	return b.kick.Volts(b.w.at(p, b.states)), true
}

// WireAmps is the current in a wire, positive along its path, at rest and, if a module cycles, while it boots.
func (b *Bench) WireAmps(w *circuit.Wire) (amps, kick float64, cycles bool) {
	br := b.w.runs[w].first
	if b.kick != nil {
		return b.sol.Amps(br), b.kick.Amps(br), true
	}
	return b.sol.Amps(br), 0, false
}

// TerminalAmps is the current that passes a terminal, either way, at rest.
func (b *Bench) TerminalAmps(t *circuit.Terminal) float64 {
	return math.Abs(b.sol.Amps(b.w.joints[t].crimp))
}

// AttachedVolts is the drop over the i-th attachment, red against black.
func (b *Bench) AttachedVolts(i int) float64 {
	red, black := b.nodeNamed(b.attached[i].Red), b.nodeNamed(b.attached[i].Black)
	return b.sol.Volts(red) - b.sol.Volts(black)
}

// AttachedAmps is the current through the i-th attachment from red to black.
func (b *Bench) AttachedAmps(i int) float64 {
	amps := b.sol.Amps(b.w.attached[i])
	if b.attached[i].Volts != 0 && b.attached[i].Law == nil {
		return -amps // a source counts from minus to plus
	}
	return amps
}

// AttachedKick is what the i-th attachment sees while every cycling module boots.
func (b *Bench) AttachedKick(i int) (volts, amps float64, ok bool) {
	if b.kick == nil {
		return 0, 0, false
	}
	red, black := b.nodeNamed(b.attached[i].Red), b.nodeNamed(b.attached[i].Black)
	return b.kick.Volts(red) - b.kick.Volts(black), b.kick.Amps(b.w.attached[i]), true
}

// Floats reports whether a point has no conducting way to the battery's minus, so that only what touches it gives it a
// potential.
func (b *Bench) Floats(p circuit.Point) bool {
	n := b.w.at(p, b.states)
	for _, group := range b.sol.Floating() {
		for _, m := range group {
			if m == n {
				return true
			}
		}
	}
	return false
}

// ModuleReport is how a module fares.
type ModuleReport struct {
	Part        *circuit.Part
	Mode        part.Mode
	SupplyVolts float64 // between its own supply and its own ground
	KickVolts   float64 // the same while it boots, if it cycles
	OwnVolts    float64 // its own ground against the battery's minus
	Amps        float64
}

// Modules reports on every module, in file order.
func (b *Bench) Modules() []ModuleReport {
	var reports []ModuleReport
	for _, p := range b.c.OfKind("module") {
		m := b.module(p)
		_, own := m.Own()
		r := ModuleReport{
			Part: p, Mode: b.states[p].Mode, SupplyVolts: m.SupplyVolts(b.sol),
			OwnVolts: b.sol.Volts(own), Amps: m.Amps(b.sol),
		}
		if b.kick != nil && r.Mode == part.Cycling {
			r.KickVolts = m.SupplyVolts(b.kick)
		}
		reports = append(reports, r)
	}
	return reports
}

// LoadVolts is what a two-terminal load gets between its inner ends, and the amps it takes, at rest.
func (b *Bench) LoadVolts(p *circuit.Part) (volts, amps float64) {
	in, out := b.w.joints[p.Terminals[0]], b.w.joints[p.Terminals[len(p.Terminals)-1]]
	return b.sol.Volts(in.inside) - b.sol.Volts(out.inside), b.sol.Amps(in.behind)
}

// CoilVolts is what a relay's coil gets.
func (b *Bench) CoilVolts(p *circuit.Part) float64 {
	return b.sol.Volts(b.w.joints[p.Terminal("86")].inside) - b.sol.Volts(b.w.joints[p.Terminal("85")].inside)
}

// Hears reports, with one module speaking and then silent, whether the pair at two pins sees it: above 0.9 V
// difference while it speaks and below 0.5 V while it does not (receiver thresholds of ISO 11898-2 as transceiver data
// sheets state them).
func (b *Bench) Hears(speaker *circuit.Part, high, low *circuit.Terminal) (bool, error) {
	pair := [2]solver.Node{b.w.joints[high].inside, b.w.joints[low].inside}
	rest := b.sol.Volts(pair[0]) - b.sol.Volts(pair[1])
	b.adjust()
	m := b.module(speaker)
	m.Speak(true)
	defer m.Speak(false)
	said := &solver.Solution{}
	if err := b.w.net.Solve(said); err != nil {
		return false, err
	}
	return heard(said.Volts(pair[0])-said.Volts(pair[1]), rest), nil
}

// heard reports whether a receiver tells a pair that is spoken on from one at rest, by their differences in volts.
func heard(spoken, rest float64) bool {
	const dominantAbove, restBelow = 0.9, 0.5
	return spoken > dominantAbove && rest < restBelow
}

// Hot is a place that turns current into heat where it should not.
type Hot struct {
	Place string
	Watts float64
}

// Heat lists the joints, wires and fuses by the heat in each, largest first; loads are left out.
func (b *Bench) Heat() []Hot {
	loads := map[string]bool{Instrument: true}
	for _, p := range b.c.Parts {
		if p.Kind.Load || p.Kind.Name == "battery" || p.Kind.Name == "generator" || p.Kind.Name == "relay" {
			loads[p.Name] = true
		}
	}
	watts := map[string]float64{}
	var places []string
	for _, l := range b.w.links {
		if loads[l.Place] {
			continue
		}
		if _, seen := watts[l.Place]; !seen {
			places = append(places, l.Place)
		}
		watts[l.Place] += math.Abs(b.sol.Watts(l.Branch))
	}
	hot := make([]Hot, 0, len(places))
	for _, place := range places {
		hot = append(hot, Hot{place, watts[place]})
	}
	slices.SortStableFunc(hot, func(x, y Hot) int { return cmp.Compare(y.Watts, x.Watts) })
	return hot
}

// PartAmps is the current a load draws, either way; of a module that cycles, the current of its boot.
func (b *Bench) PartAmps(p *circuit.Part) float64 { return math.Abs(b.SignedAmps(p)) }

// SignedAmps is PartAmps, negative of a load whose current comes in at its last terminal.
func (b *Bench) SignedAmps(p *circuit.Part) float64 {
	if b.kick != nil {
		return b.signedAmps(b.kick, p)
	}
	return b.signedAmps(b.sol, p)
}
