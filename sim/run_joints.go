package sim

// This file is the joints of a run that are bad: contacts, crimps, studs, splices and places in wires that grow hot, and
// contacts that come and go when they are shaken.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim/live"
	"underload/sim/part"
	"underload/solver"
	"underload/solver/element"
	"underload/solver/transient"
)

// What heat does to a bad joint: one two hundred kelvin too warm has two and a half times its ohms after half a day, one
// sixty kelvin too warm after two days and a half. A stud gets rid of ten times the heat that a terminal does. One that was
// wiped bright goes back in about a day (it is told to last for a day to a month). Common practice, no source.
const (
	jointGrowth = 1.74e-6 // 1/s
	studTimes   = 10
	backSeconds = 24 * 3600
)

// frettingSeconds is how long a firm wiggle by hand takes to make a fretted contact worse by a factor of e, so that one of 10
// milliohm is past 100 within a good minute and nearly open within minutes: the worst that is told of tin in fretting (E. M.
// Bock and J. H. Whitley, Holm seminar of 1974; 100 milliohm as the limit: Tribology International 41, 2008; abstracts read).
const frettingSeconds = 30

// filmBackPerSecond is how metal spots in a film are lost again by themselves: one of 200 ohm that was wiped or has broken
// through is back after some three weeks (common practice, no source).
const filmBackPerSecond = 8e-6

// How a bad contact behaves while it is shaken: half-waves of 5 ms, in one of three of which it lifts. Common practice, no
// source.
const (
	shakenHertz  = 100
	liftChance   = 0.3
	liftOpens    = 0.4
	liftLowOhms  = 0.1
	liftHighOhms = 10e3
	shutOhms     = 1e-5
)

// backedOutOhms are those of a contact that makes none.
const backedOutOhms = 1e9

// badJoint is a branch that warms up.
type badJoint struct {
	place      string
	terminal   *circuit.Terminal
	times      float64 // the heat of a terminal of 1.5 mm
	began      float64 // ohms now, where it is wiped
	heals      float64 // chance
	healedOhms float64
	flutters   bool
	film       bool          // it breaks through
	frets      float64       // ohms that movement leads to in the end; 0: it does nothing
	wet        float64       // moisture, 0 to 1
	wire       *circuit.Wire // a bad place in it, behind its sound length
	soundOhms  float64       // of that length
}

// joints lists the contacts, crimps and studs in which heat or time matters.
func (a *age) joints() map[solver.Branch]badJoint {
	found := map[solver.Branch]badJoint{}
	o := a.plan.overlay
	add := func(b solver.Branch, j badJoint) {
		if ohms := a.w.net.Ohms(b); ohms >= transient.MinOhms && !math.IsInf(ohms, 1) {
			found[b] = j
		}
	}
	for t, grip := range o.Grip {
		healed := grip.Unplug.Ohms
		add(a.w.joints[t].contact, badJoint{place: t.Name, terminal: t, times: a.heft(t), began: a.plan.wiped[t],
			heals: grip.Unplug.Heals, healedOhms: healed, flutters: grip.Unplug.Heals > 0, film: o.Film[t], frets: fretsTo(grip), wet: moistureOf(grip)})
	}
	for t := range o.Crimp {
		add(a.w.joints[t].crimp, badJoint{place: t.Name, terminal: t, times: a.heft(t)})
	}
	for t := range o.FarCrimp {
		add(a.w.joints[t].behind, badJoint{place: t.Name, terminal: t, times: a.heft(t)})
	}
	for s := range o.Stud {
		add(a.w.studs[s].contact, badJoint{place: s.Name, times: studTimes})
	}
	for w, added := range o.WireAdded {
		if _, neck := o.Necks[w]; !neck && added >= transient.MinOhms {
			b := a.w.runs[w].first
			add(b, badJoint{place: w.Name, times: wireTimes(w), wire: w, soundOhms: a.w.net.Ohms(b) - added})
		}
	}
	for w, r := range a.w.runs {
		for _, l := range r.legs {
			if o.LegAdded[l.leg] > 0 {
				add(l.branch, badJoint{place: l.leg.Splice.Name, times: wireTimes(w)})
			}
		}
	}
	return found
}

// wireTimes is how many times a terminal on 1 mm2 of copper a bad place in or at the end of a wire is.
func wireTimes(w *circuit.Wire) float64 { return math.Max(w.AreaMM2/jointMM2, leastHeft) }

// moistureOf is how wet a contact is: one that corrodes is (common practice, no source).
func moistureOf(grip catalog.Condition) float64 {
	if grip.Name == "corroded" {
		return 1
	}
	return 0
}

// fretsTo is what movement brings a contact to that is fretted already.
func fretsTo(grip catalog.Condition) float64 {
	if grip.Name == "fretted" {
		return grip.HighOhms
	}
	return 0
}

// heft is how easily a contact gets rid of its heat: by its size, and, where a fuse sits in it, without what the fuse
// takes, which package live reckons with.
func (a *age) heft(t *circuit.Terminal) float64 {
	times := heft(t, copperAt(a.w.circuit))
	if p := a.w.circuit.Part(t.Owner); p != nil && p.Kind.Name == "fuse" {
		blade := bladeMM[part.FuseKind(p, part.Fitted(p, a.plan.states[p]))]
		return math.Max(times, blade/jointMM) / (1 - live.SlotShare)
	}
	return times
}

// bladeMM is how wide the blades of fuses are.
var bladeMM = map[catalog.FuseType]float64{catalog.Miniature: 2.8, catalog.Standard: 5.2, catalog.Large: 8, catalog.BoltIn: postMM}

// joint is a branch that warms up, and in series with it what comes and goes.
func (a *age) joint(b solver.Branch, j badJoint) {
	from, to := a.w.net.Ends(b)
	n, m := transient.Node(from), transient.Node(to)
	ohms := a.w.net.Ohms(b)
	if j.began > 0 { // one that had backed out makes contact for a while
		ohms = math.Min(a.plan.overlay.Contact[j.terminal], backedOutOhms)
	}
	if j.wire != nil {
		between := a.node(j.place + " bad place")
		a.beside[between] = n
		a.length(half{wire: j.wire}, n, between, j.soundOhms)
		n, ohms = between, ohms-j.soundOhms
	}
	hot, body, moved := a.bad(j, ohms)
	key := fmt.Sprintf("%s joint %d %g %g", j.place, b, ohms, j.began)
	if j.flutters {
		between := a.node(j.place + " between")
		a.beside[between] = m
		f := &element.Flutter{ClosedOhms: shutOhms, LiftChance: liftChance, OpenShare: liftOpens, LowOhms: liftLowOhms,
			HighOhms: liftHighOhms, Kelvin: a.w.ambient + live.ZeroCelsius, Moisture: j.wet}
		id := a.net.Element(between, m, f)
		a.remember(j.place+" flutter", id, shaky{f})
		a.flutters = append(a.flutters, flutter{id: id, what: f, at: j.terminal})
		m = between
	}
	id := a.net.Element(n, m, hot)
	if j.flutters {
		f := &a.flutters[len(a.flutters)-1]
		f.joint, f.body, f.fret = id, body, moved.fret
	}
	a.remember(key, id, hot)
	a.legs[b] = leg{element: id, is: isElement}
	a.warm(j.place, id, body)
	if j.terminal != nil {
		a.contacts = append(a.contacts, contactAt{id, j.terminal, moved.disturb})
	}
}

// moving is what movement does to the marks of a joint.
type moving struct {
	disturb func(marks []float64)
	fret    func(marks []float64, perSecond float64)
}

// bad is the element of a joint, which of its states is its warmth, and what movement does to it.
func (a *age) bad(j badJoint, ohms float64) (what transient.Element, body int, moved moving) {
	heat, watts, air := j.times*jointJoulesPerKelvin, j.times*jointWattsPerKelvin, a.w.ambient+live.ZeroCelsius
	if !j.film {
		return contact{&element.Ohmic{
				Ohms: ohms, BodyJoulesPerKelvin: heat, BodyWattsPerKelvin: watts,
				AirKelvin: air, GrowthPerSecond: jointGrowth, HealChance: j.heals, HealedOhms: j.healedOhms, MostOhms: j.frets,
			}, j.began}, element.OhmicBodyKelvin, moving{
				func(marks []float64) { marks[element.OhmicDisturb] = element.OhmicMoved },
				func(marks []float64, perSecond float64) { marks[element.OhmicFretPerSecond] = perSecond },
			}
	}
	metal := j.healedOhms
	if j.began > 0 {
		metal = j.began
	}
	return filmed{&element.Joint{
			MetalOhms: metal, Touches: j.began > 0, FilmOhms: ohms, CleanOhms: j.healedOhms, CleanFilmOhms: ohms, ForceShare: 1,
			BreakdownVolts: catalog.FilmBreaksVolts, FretPerSecond: filmBackPerSecond, HealChance: j.heals, BodyJoulesPerKelvin: heat, BodyWattsPerKelvin: watts,
			AirKelvin: air, Plating: element.Tin,
		}}, element.JointBodyKelvin, moving{
			func(marks []float64) { marks[element.JointDisturb] = element.JointMoved },
			func(marks []float64, perSecond float64) {
				marks[element.JointFretPerSecond] = filmBackPerSecond + perSecond
			},
		}
}

// filmed is a contact with a film, in warmer or colder air.
type filmed struct{ *element.Joint }

// Around is the air.
func (filmed) Around() []int { return []int{element.JointAirKelvin} }

// warm makes a place one that may smell.
func (a *age) warm(place string, id transient.ID, state int) {
	heat := live.Reading{Unit: "°C", Read: func(v live.View) float64 { return v.States(id)[state] - live.ZeroCelsius }}
	for i := range a.hot {
		if a.hot[i].place == place { // its hottest spot is what counts
			a.hot[i].heat.Read = hotterOf(a.hot[i].heat.Read, heat.Read)
			return
		}
	}
	a.hot = append(a.hot, hotspot{place, heat, smellCelsius})
}

func hotterOf(one, other reader) reader {
	return func(v live.View) float64 { return math.Max(one(v), other(v)) }
}

// contact is a joint that begins as it was left: a wiped one has fewer ohms than it would have if it were moved again.
type contact struct {
	*element.Ohmic
	began float64
}

// Rates are those of the joint, and its way back to what it was.
func (c contact) Rates(at *transient.Point, rates *transient.Rates) {
	c.Ohmic.Rates(at, rates)
	if short := math.Log(c.Ohms) - at.States[element.OhmicLnOhms]; short > 0 {
		rates.Rate[element.OhmicLnOhms] += short / backSeconds
		rates.RatePerX[element.OhmicLnOhms][element.OhmicLnOhms] -= 1 / backSeconds
	}
}

// Around is the air.
func (contact) Around() []int { return []int{element.OhmicAirKelvin} }

// Start has it as warm as volts keep it.
func (c contact) Start(volts float64, states, marks []float64) {
	c.Ohmic.Start(volts, states, marks)
	if c.began > 0 {
		states[element.OhmicLnOhms] = math.Log(c.began)
	}
}

// shaky is what comes and goes, in warmer or colder air.
type shaky struct{ *element.Flutter }

// Around is the air, until its joint is felt, and how wet it is.
func (shaky) Around() []int { return []int{element.FlutterKelvin, element.FlutterMoisture} }

// flutter is what comes and goes, and contactAt a contact that can be disturbed.
type flutter struct {
	id    transient.ID
	what  *element.Flutter
	at    *circuit.Terminal
	joint transient.ID // in series with it, which warms it
	body  int          // the state of that which is its kelvin
	fret  func(marks []float64, perSecond float64)
}

type contactAt struct {
	id      transient.ID
	at      *circuit.Terminal
	disturb func(marks []float64)
}

// shake has every contact be shaken as the act says, from now on.
func (a *age) shake() {
	for _, f := range a.flutters {
		marks, strength := a.run.Marks(f.id), a.shaken[f.at.Owner]
		if marks[element.FlutterStrength] != strength {
			f.what.Shake(marks, a.run.Seconds(), strength, shakenHertz)
		}
		f.fret(a.run.Marks(f.joint), strength/frettingSeconds)
	}
}

// disturb nudges the contacts of a connector or part.
func (a *age) disturb(owner string) {
	for _, c := range a.contacts {
		if c.at.Owner == owner {
			c.disturb(a.run.Marks(c.id))
		}
	}
}

// slot is a fuse with a bad contact or two.
type slot struct {
	id       transient.ID
	what     live.InSlot
	contacts []solver.Branch
}

// slotOf notes what sits in a slot with a bad contact.
func (a *age) slotOf(p *circuit.Part, id transient.ID, what transient.Element) {
	in, is := what.(live.InSlot)
	if !is {
		return
	}
	s, bad := slot{id: id, what: in}, false
	for _, t := range p.Terminals {
		b := a.w.joints[t].contact
		s.contacts, bad = append(s.contacts, b), bad || a.legs[b].is == isElement
	}
	if bad {
		a.slots = append(a.slots, s)
	}
}

// feel tells what comes and goes how warm the joint is that it belongs to, and what sits in a bad slot how many ohms its
// contacts have by now: a film may have broken through, or a joint be wiped, or burnt.
func (a *age) feel() {
	for _, f := range a.flutters {
		a.run.Marks(f.id)[element.FlutterKelvin] = a.run.States(f.joint)[f.body]
	}
	for _, s := range a.slots {
		through, ohms := a.run.ElementAmps(s.id), 0.0
		for _, b := range s.contacts {
			ohms += a.warmingOhms(b, through)
		}
		if s.what.SlotOhms(a.run.Marks(s.id), ohms) {
			a.run.Reask(s.id)
		}
	}
}

// warmingOhms are those of a contact beside which so many amps flow through what sits there. Where they go to the lead of an
// instrument, and not through the contact, they are fewer by what it really turns into heat; one that is open has none.
func (a *age) warmingOhms(b solver.Branch, through float64) float64 {
	now, l, ohms := view{a.run.Now()}, a.legs[b], a.w.net.Ohms(b)
	amps := l.amps(now)
	if l.is == isElement && amps != 0 {
		ohms = now.ElementVolts(l.element) / amps
	}
	if share := math.Abs(amps / through); share < 1 {
		ohms *= share * share
	}
	if l.is == isOpen {
		return 0
	}
	return ohms
}
