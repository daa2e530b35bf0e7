package sim

// This file reads a circuit in motion at the present instant as a bench at rest is read: hop by hop along the way of a
// current, module by module, and over the bus.

import (
	"math"

	"underload/circuit"
	"underload/sim/live"
	"underload/solver"
	"underload/solver/transient"
)

// Ends are the volts before and after a hop and the amps through it now. Before the battery it is what the battery has
// when rested. A hop that is not there, as it is open, reads NaN.
func (r *Run) Ends(h Hop) (before, after, amps float64) {
	a, nan := r.age, math.NaN()
	to, ok := a.w.names[h.to]
	if !ok {
		return nan, nan, nan
	}
	branch, ok := a.plan.nthOf(h.Place, h.nth)
	if !ok {
		return nan, nan, nan
	}
	v := view{a.run.Now()}
	after, amps = v.Volts(transient.Node(to)), math.Abs(a.branch(branch, h.Place)(v))
	if h.from == emf {
		return a.openVolts(h.Place, branch, v), after, amps
	}
	from, ok := a.w.names[h.from]
	if !ok {
		return nan, nan, nan
	}
	return v.Volts(transient.Node(from)), after, amps
}

// branch is the current in a branch of the bench. Of one inside a part it is that of the terminal at its end, of a module
// its own.
func (a *age) branch(branch solver.Branch, place string) reader {
	if l, ok := a.legs[branch]; ok {
		return func(v live.View) float64 { return l.amps(v) }
	}
	p := a.w.circuit.Part(place)
	if p == nil {
		return func(live.View) float64 { return 0 } // an open branch has no leg
	}
	from, to := a.w.net.Ends(branch)
	for _, t := range p.Terminals {
		if inside := a.w.joints[t].inside; inside == from || inside == to {
			return a.into(t)
		}
	}
	return a.load(p)
}

// load is the current that a part draws.
func (a *age) load(p *circuit.Part) reader {
	if own, ok := a.parts[p].Readings["amps"]; ok {
		return own.Read
	}
	return a.into(p.Terminals[0])
}

// openVolts is the level inside a source: a battery's rested volts, or what a generator's regulator holds.
func (a *age) openVolts(place string, source solver.Branch, v live.View) float64 {
	if p := a.w.circuit.Part(place); p != nil && p.Kind.Name == "generator" {
		return p.Value("volts") + v.Volts(transient.Node(a.w.joints[p.Terminals[1]].inside))
	}
	return a.w.net.EMF(source) + v.Volts(transient.Node(a.w.minusOf(source)))
}

// PartAmps is the current that a load draws now, either way.
func (r *Run) PartAmps(p *circuit.Part) float64 {
	return math.Abs(r.age.load(p)(view{r.age.run.Now()}))
}

// Modules reports on every module now, in file order: its mode and its supply.
func (r *Run) Modules() []ModuleReport {
	r.fates()
	v := view{r.age.run.Now()}
	var reports []ModuleReport
	for _, p := range r.Circuit().OfKind("module") {
		reports = append(reports, ModuleReport{Part: p, Mode: r.age.plan.states[p].Mode, SupplyVolts: r.age.parts[p].Readings["supply"].Read(v)})
	}
	return reports
}

// Hears reports, as Bench.Hears does, whether the pair at two pins sees a module that speaks, now.
func (r *Run) Hears(speaker *circuit.Part, high, low *circuit.Terminal) bool {
	a, pair := r.age, [2]transient.Node{}
	for i, t := range []*circuit.Terminal{high, low} {
		pair[i] = transient.Node(a.w.joints[t].inside)
	}
	v := a.run.Now()
	rest := v.Volts(pair[0]) - v.Volts(pair[1])
	speak := a.parts[speaker].Speak
	if speak == nil {
		return false
	}
	said := a.run.Suppose(a.run.Seconds(), func(v *transient.View) { speak(view{v}) })
	return heard(said.Volts(pair[0])-said.Volts(pair[1]), rest)
}
