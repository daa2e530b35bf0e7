package sim

// This file is the heat of sound joints, wires and ground studs. It changes nothing in the circuit, so that it is reckoned beside the run:
// every so often each is brought nearer to where its current would leave it, by the share that its time constant allows.

import (
	"math"
	"slices"

	"underload/circuit"
	"underload/sim/live"
)

// What a joint does with heat. A terminal of 1.5 mm on 1 mm2 of copper loses a fiftieth of a watt for each kelvin and holds
// two joules; larger ones, and those on thicker wires, more in proportion. Common practice, no source.
const (
	jointJoulesPerKelvin = 2.0
	jointWattsPerKelvin  = 0.02
	jointMM              = 1.5
	jointMM2             = 1.0
	postMM               = 12 // what has no blade: posts and rings
	leastHeft            = 0.5
)

// What a wire does with heat, for a metre: for a square millimetre copper's heat capacity and half as much again for its
// insulation (from memory); and what a wire of 1 mm2 loses for each kelvin, a thicker one more by its surface (common
// practice, no source).
const (
	wireJoulesPerMMM2K = 5.2
	wireWattsPerMK     = 0.1
	shortestMetres     = 0.1
	wireSmellCelsius   = 140
)

// warmSeconds is how often sound joints and wires are brought up to date, at most. Their time constants are some minutes.
const warmSeconds = 0.02

// warmths is how warm sound joints and wires are. Snapshots share its slices, so that one is never changed once it is there.
type warmths struct {
	plan   *warmPlan // what never changes
	since  float64   // seconds
	watts  []float64
	kelvin []float64 // over the air
	smells []bool
}

// warmPlan lists all terminals, then all wires, then all ground studs.
type warmPlan struct {
	at       map[any]int // *circuit.Terminal, *circuit.Wire or *circuit.Stud
	names    []string
	ohms     []float64
	perWatt  []float64 // kelvin
	seconds  []float64 // time constant
	terminal []*circuit.Terminal
	wire     []*circuit.Wire
	stud     []*circuit.Stud
}

// planWarmth goes through a circuit.
func planWarmth(c *circuit.Circuit) *warmPlan {
	p := &warmPlan{at: map[any]int{}}
	copper := copperAt(c)
	add := func(key any, name string, ohms, watts, joules float64) {
		p.at[key] = len(p.names)
		p.names, p.ohms = append(p.names, name), append(p.ohms, ohms)
		p.perWatt, p.seconds = append(p.perWatt, 1/watts), append(p.seconds, joules/watts)
	}
	terminal := func(t *circuit.Terminal) {
		times := heft(t, copper)
		add(t, t.Name, t.CrimpOhms+t.ContactOhms, times*jointWattsPerKelvin, times*jointJoulesPerKelvin)
		p.terminal = append(p.terminal, t)
	}
	for _, part := range c.Parts {
		for _, t := range part.Terminals {
			terminal(t)
		}
	}
	for _, con := range c.Connectors {
		for _, t := range con.Cavities {
			terminal(t)
		}
	}
	for _, w := range c.Wires {
		watts, joules := wireHeat(w)
		add(w, w.Name, w.Ohms, watts, joules)
		p.wire = append(p.wire, w)
	}
	for _, s := range c.Studs {
		add(s, s.Name, s.ContactOhms, studTimes*jointWattsPerKelvin, studTimes*jointJoulesPerKelvin)
		p.stud = append(p.stud, s)
	}
	return p
}

// copperAt is the area in mm2 of the thickest wire at every spot.
func copperAt(c *circuit.Circuit) map[circuit.Spot]float64 {
	thickest := map[circuit.Spot]float64{}
	for _, w := range c.Wires {
		for _, spot := range []circuit.Spot{w.From.Spot, w.To.Spot} {
			thickest[spot] = math.Max(thickest[spot], w.AreaMM2)
		}
	}
	return thickest
}

// heft is how many times a terminal of 1.5 mm on 1 mm2 of copper a terminal is.
func heft(t *circuit.Terminal, copper map[circuit.Spot]float64) float64 {
	mm, area := t.SizeMM, copper[t.Spot]
	if mm == 0 {
		mm = postMM
	}
	if t.Inline {
		area = math.Max(area, copper[t.FarSpot])
	}
	return math.Max(math.Max(mm/jointMM, area/jointMM2), leastHeft)
}

// wireHeat is what a wire loses and holds for each kelvin.
func wireHeat(w *circuit.Wire) (watts, joules float64) {
	area, metres := w.AreaMM2, math.Max(w.Metres, shortestMetres)
	if area == 0 {
		area = 1
	}
	return wireWattsPerMK * metres * math.Sqrt(area), wireJoulesPerMMM2K * metres * area
}

// begin has everything as warm as the currents at rest keep it.
func (w *warmths) begin(r *Run) {
	w.plan = planWarmth(r.Circuit())
	n := len(w.plan.names)
	w.since, w.kelvin, w.smells = r.Seconds(), make([]float64, n), make([]bool, n)
	w.read(r)
	for i, watts := range w.watts {
		w.kelvin[i] = watts * w.plan.perWatt[i]
		w.smells[i] = r.age.w.ambient+w.kelvin[i] > w.plan.smellsAt(i)
	}
}

// smellsAt is where a joint's housing or a wire's insulation begins to smell.
func (p *warmPlan) smellsAt(i int) float64 {
	if i < len(p.terminal) {
		return smellCelsius
	}
	return wireSmellCelsius
}

// read takes in the watts of the present currents.
func (w *warmths) read(r *Run) {
	v := view{r.age.run.Now()}
	w.watts = make([]float64, len(w.plan.names))
	if r.age.flows == nil {
		r.age.flows = make([]reader, 0, len(w.watts))
		for _, t := range w.plan.terminal {
			r.age.flows = append(r.age.flows, r.age.into(t))
		}
		for _, wire := range w.plan.wire {
			r.age.flows = append(r.age.flows, r.age.along(wire))
		}
		for _, stud := range w.plan.stud {
			r.age.flows = append(r.age.flows, r.age.through(r.age.w.studs[stud].contact))
		}
	}
	for i, amps := range r.age.flows {
		now := amps(v)
		w.watts[i] = now * now * w.plan.ohms[i]
		if math.IsNaN(w.watts[i]) {
			w.watts[i] = 0
		}
	}
}

// along is the current in a wire, or in that half of one that carries more.
func (a *age) along(wire *circuit.Wire) reader {
	run := a.w.runs[wire]
	first := a.through(run.first)
	if !run.split {
		return first
	}
	second := a.through(run.second)
	return func(v live.View) float64 { return math.Max(math.Abs(first(v)), math.Abs(second(v))) }
}

// move leaves everything as warm as it is in air that has become cooler by so many kelvin.
func (w *warmths) move(cooler float64) {
	if cooler == 0 {
		return
	}
	w.kelvin = slices.Clone(w.kelvin)
	for i := range w.kelvin {
		w.kelvin[i] += cooler
	}
}

// pass brings everything up to date and tells what begins to smell. Half of the time that has passed goes by the watts
// before it, the other half by those after. It returns the wires that begin to be hot.
func (w *warmths) pass(r *Run) (hot []*circuit.Wire) {
	gone := r.Seconds() - w.since
	if gone < warmSeconds {
		return nil
	}
	w.kelvin = slices.Clone(w.kelvin)
	w.relax(gone / 2)
	w.read(r)
	w.relax(gone / 2)
	w.since = r.Seconds()
	for _, g := range r.age.hotWires { // as the circuit has it
		w.kelvin[w.plan.at[g.what.wire]] = math.Inf(-1)
	}
	for _, g := range r.age.hotWires {
		i := w.plan.at[g.what.wire]
		w.kelvin[i] = math.Max(w.kelvin[i], r.age.run.States(g.id)[0]-live.ZeroCelsius-r.age.w.ambient)
	}
	for i, kelvin := range w.kelvin {
		switch celsius := r.age.w.ambient + kelvin; {
		case celsius > w.plan.smellsAt(i) && !w.smells[i]:
			w.smelt(i, true)
			if !r.age.isHot(w.plan.names[i]) { // else it tells for itself
				r.tell(r.Seconds(), w.plan.names[i], smells)
			}
		case celsius < w.plan.smellsAt(i)-smellAgain && w.smells[i]:
			w.smelt(i, false)
		}
	}
	for k, wire := range w.plan.wire {
		i := len(w.plan.terminal) + k
		if _, is := r.age.plan.glowing[wire]; !is && w.kelvin[i] > warmKelvin && w.watts[i]*w.plan.perWatt[i] > hotKelvin {
			hot = append(hot, wire)
		}
	}
	return hot
}

func (w *warmths) smelt(i int, does bool) {
	w.smells = slices.Clone(w.smells)
	w.smells[i] = does
}

func (w *warmths) relax(seconds float64) {
	for i, watts := range w.watts {
		w.kelvin[i] += (watts*w.plan.perWatt[i] - w.kelvin[i]) * -math.Expm1(-seconds/w.plan.seconds[i])
	}
}

// celsius is the heat of a terminal, wire or stud at a time not far from the last.
func (w *warmths) celsius(key any, ambient, seconds float64) float64 {
	i := w.plan.at[key]
	share := -math.Expm1(-math.Max(seconds-w.since, 0) / w.plan.seconds[i])
	return ambient + w.kelvin[i] + (w.watts[i]*w.plan.perWatt[i]-w.kelvin[i])*share
}

// isHot reports whether a place is one whose heat the circuit itself knows.
func (a *age) isHot(place string) bool {
	return slices.ContainsFunc(a.hot, func(h hotspot) bool { return h.place == place })
}

// heatOf is the heat of the hottest place of a terminal, wire or stud. That of a bad joint, a neck or a hot wire is known to
// the circuit.
func (r *Run) heatOf(key any, name string) func(a *age) reader {
	return func(a *age) reader {
		warm := func(v live.View) float64 { return r.warm.celsius(key, a.w.ambient, v.(view).Seconds) }
		for _, h := range a.hot {
			if h.place != name {
				continue
			}
			if slices.ContainsFunc(a.hotWires, func(g glowing) bool { return key == any(g.what.wire) }) {
				return h.heat.Read
			}
			return hotterOf(warm, h.heat.Read)
		}
		return warm
	}
}

// heatOfSplice is that of its hottest leg: a bad one's, or that of the hottest wire that ends there.
func (r *Run) heatOfSplice(s *circuit.Splice) func(a *age) reader {
	return func(a *age) reader {
		var heats []reader
		for _, w := range a.w.circuit.Wires {
			if w.From.Splice == s || w.To.Splice == s {
				heats = append(heats, r.heatOf(w, s.Name)(a))
			}
		}
		return func(v live.View) float64 {
			most := a.w.ambient
			for _, heat := range heats {
				most = math.Max(most, heat(v))
			}
			return most
		}
	}
}
