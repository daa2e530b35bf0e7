package view

// This file is time on the circuit: it runs, is held, goes in steps, forwards and back. What is done to the bench is
// done to the circuit in motion at that instant too. sim computes it all.

import (
	"math"
	"slices"
	"strings"

	"underload/sim"
	"underload/sim/meter"
)

// clock is a circuit in motion.
type clock struct {
	run     *sim.Run
	healthy healthy
	running bool
	pace    int     // which of the paces
	budget  float64 // steps that may be computed for one frame
	behind  bool    // the last frame did not come as far as its pace asks for
	heard   int     // how many cues were told
	noted   int     // how many of them stand in the log
	moving  *meter.Moving
	waiting string // why the instrument in hand does not read
	hand    inHand
	looks   looks
	shown   glimpse // as it was last painted
	scope   scope
}

// atRest is the time of what was done before time was set going.
const atRest = -1.0

// pace is how fast time runs: seconds of the circuit in one of the person's.
type pace struct {
	rate  float64
	words string
}

var paces = []pace{{0.001, "1/1000"}, {0.01, "1/100"}, {0.1, "1/10"}, {1, "1×"}, {10, "10×"}, {60, "1 min/s"}, {600, "10 min/s"}, {3600, "1 h/s"}}

const usualPace = 3

// frameSeconds is how far one step goes, at a pace of 1.
const frameSeconds = 0.05

// The steps computed for a frame: as many as a machine manages between two pictures.
const (
	firstBudget = 120.0
	leastBudget = 8.0
	mostBudget  = 4000.0
	lateFrame   = 0.034 // seconds between two pictures from which the budget shrinks
	goodFrame   = 0.022
)

// startTime sets the circuit in motion from rest.
func (v *View) startTime() bool {
	if v.clock != nil {
		return true
	}
	run, err := v.now.bench.Run(sim.RunOptions{})
	if err != nil {
		v.tell(spoken(err))
		return false
	}
	c := &clock{run: run, healthy: beginHealthy(v.now.bench), pace: usualPace, budget: firstBudget}
	c.looks.begin(v, run, c.healthy.run)
	c.scope = v.keptScope.fresh()
	v.clock = c
	v.forgetTimes()
	v.follow(&v.now)
	v.easing.jump(v.now.live.showing)
	v.area.strip, v.dirty = nil, true
	return true
}

// stopTime puts the circuit to rest, as it is now set. A fuse that has blown meanwhile stays blown.
func (v *View) stopTime() {
	if v.clock == nil {
		return
	}
	v.keepBlown()
	v.keptScope, v.clock = v.clock.scope.kept(), nil
	v.forgetTimes()
	v.follow(&v.now)
	v.easing.jump(v.now.live.showing)
	v.area.strip, v.dirty = nil, true
}

// keepBlown brings what time has destroyed over to the bench at rest, which knows nothing of it.
func (v *View) keepBlown() {
	var blown, burnt, out []string
	for _, p := range append(v.c.OfKind("fuse"), v.c.OfKind("fusible link")...) {
		if v.clock.run.State(p).Blown && !v.now.bench.State(p).Blown && v.keep(p.Name+" blown") {
			blown = append(blown, p.Name)
		}
	}
	for _, p := range v.c.OfKind("lamp") {
		if v.clock.run.State(p).Blown && !v.now.bench.State(p).Blown && v.keep(p.Name+" dead") {
			out = append(out, p.Name)
		}
	}
	for _, w := range v.clock.run.Burnt() {
		if v.keep(w.Name + " open") {
			burnt = append(burnt, spelt(w.Name))
		}
	}
	var told []string
	if len(blown) > 0 {
		told = append(told, "Blown while time ran, and still is: "+strings.Join(blown, ", ")+".")
	}
	if len(burnt) > 0 {
		told = append(told, "Burnt through, and still is: "+strings.Join(burnt, ", ")+".")
	}
	if len(out) > 0 {
		told = append(told, "Burnt out, and still is: "+strings.Join(out, ", ")+".")
	}
	if len(told) > 0 {
		v.tell(strings.Join(told, " "))
	}
}

// keep lays a fault that time has made, and reports whether it is new.
func (v *View) keep(fault string) bool {
	return onBench(&v.now, func(b *sim.Bench) error { return b.Break(fault) }) == nil
}

// forgetTimes makes all that was done so far a thing of before time.
func (v *View) forgetTimes() {
	v.now.at = atRest
	for i := range v.past {
		v.past[i].at = atRest
	}
	for i := range v.future {
		v.future[i].at = atRest
	}
}

// playTime lets time run, or holds it.
func (v *View) playTime() {
	if v.startTime() {
		v.clock.running = !v.clock.running
		v.dirty = true
		v.together()
	}
}

// stepTime goes one step on, or back, and holds time there.
func (v *View) stepTime(way int) {
	if way < 0 && (v.clock == nil || v.clock.run.Seconds() == 0) {
		v.tell("Time stands at its beginning.")
		return
	}
	if !v.startTime() {
		return
	}
	c := v.clock
	c.running, v.dirty = false, true
	by := frameSeconds * paces[c.pace].rate
	if way < 0 {
		v.timeBackTo(max(0, c.run.Seconds()-by))
		return
	}
	until := c.run.Seconds() + by
	for c.run.Seconds() < until {
		if !v.advance(until, mostBudget) {
			return
		}
	}
	v.together()
}

// together shows the present instant once the healthy circuit has come to it.
func (v *View) together() {
	v.clock.healthy.catchUpFully(v.clock.run.Seconds())
	v.seeTime()
}

// timeBackTo goes back to a time; what was done later is undone.
func (v *View) timeBackTo(seconds float64) {
	c := v.clock
	if err := c.run.BackTo(seconds); err != nil {
		v.halt(err)
		return
	}
	c.healthy.backTo(c.run.Seconds())
	if s, changed := v.stateOf(seconds); changed {
		now := v.now
		now.bench, now.setup, now.did, now.turned, now.at = s.bench, s.setup, nil, s.turned, s.at
		v.now = now
	}
	kept := v.past[:0]
	for _, s := range v.past {
		if s.at <= seconds {
			kept = append(kept, s)
		}
	}
	v.past, v.future = kept, nil
	v.afterBack()
}

// stateOf is the last state whose acts were all done by some time, and whether it is another than the present one.
func (v *View) stateOf(seconds float64) (state, bool) {
	if v.now.at <= seconds {
		return v.now, false
	}
	for i := len(v.past) - 1; i >= 0; i-- {
		if v.past[i].at <= seconds {
			return v.past[i], true
		}
	}
	return v.now, false
}

// afterBack brings what was seen and recorded to where time stands now.
func (v *View) afterBack() {
	c := v.clock
	v.unhear(c.run.Seconds())
	if c.moving == nil || !c.moving.On() { // what was put on later is on no more
		c.hand = inHand{}
	}
	c.scope.back(c.run.Seconds())
	v.follow(&v.now)
	v.settle(v.now)
	v.seeTime()
}

// halt holds time where it cannot go on: what is shown stays, and it can go back.
func (v *View) halt(err error) {
	v.clock.running = false
	v.tell("Time cannot go on from here: " + spoken(err) + " Step back, or change what is set.")
}

// doInTime tells the circuit in motion what an act does to it.
func (v *View) doInTime(s *state) error {
	if v.clock == nil {
		return nil
	}
	for i, text := range s.did {
		if err := v.clock.run.Do(text); err != nil {
			for range i {
				v.clock.run.StepBack()
			}
			return err
		}
	}
	s.at = v.clock.run.Seconds()
	for _, text := range s.did {
		v.clock.healthy.do(text, s.at)
	}
	v.clock.scope.feed(v.clock.run) // what jumps then
	return nil
}

// undoInTime takes back what the present state's act did to the circuit in motion: time goes back to before it. What was
// done before time was set going cannot be taken out of it, so that time ends. It reports whether it has done the undoing.
func (v *View) undoInTime(to state) bool {
	if v.clock == nil || to.turned == v.now.turned {
		return false
	}
	const before = 1e-6 // seconds
	at := v.now.at
	if at-before <= 0 {
		v.stopTime()
		return false
	}
	undone, later, kept := v.now, v.future, slices.Clone(v.past)
	v.timeBackTo(at - before)
	if v.clock == nil {
		return true
	}
	v.clock.running = false
	v.doAgain(kept, at)
	v.past, v.future = kept[:max(0, len(kept)-1)], append(later, undone)
	to.log = v.now.log
	v.back(to)
	v.together()
	return true
}

// doAgain does what else was done at an instant, which going back to before it has taken back too.
func (v *View) doAgain(done []state, at float64) {
	i := slices.IndexFunc(done, func(s state) bool { return s.at == at && len(s.did) > 0 })
	if i < 0 {
		return
	}
	for v.clock.run.Seconds() < at {
		if !v.advance(at, mostBudget) {
			return
		}
	}
	for _, s := range done[i:] {
		if s.at != at {
			continue
		}
		if err := v.doInTime(&s); err != nil {
			v.halt(err)
			return
		}
	}
}

// setPace makes time slower or faster.
func (v *View) setPace(by int) {
	if v.startTime() {
		v.clock.pace = max(0, min(len(paces)-1, v.clock.pace+by))
		v.dirty = true
	}
}

// runTime lets time pass for a frame, and reports whether it runs.
func (v *View) runTime(seconds float64) bool {
	c := v.clock
	if c == nil || !c.running {
		return false
	}
	if seconds <= 0 {
		return true
	}
	switch {
	case seconds > lateFrame:
		c.budget = max(leastBudget, c.budget*0.7)
	case seconds < goodFrame && c.behind:
		c.budget = min(mostBudget, c.budget*1.15)
	}
	c.looks.passed += seconds
	until := c.run.Seconds() + seconds*paces[c.pace].rate
	if c.healthy.catchUp(c.run.Seconds(), c.budget) {
		if !v.advance(until, c.budget) {
			return false
		}
	}
	c.behind = c.run.Seconds() < until
	if c.healthy.catchUp(c.run.Seconds(), c.budget) {
		v.seeTime()
	}
	return true
}

// advance goes on until a time, or until so many steps are computed. It reports whether time can go on.
func (v *View) advance(until, most float64) bool {
	c := v.clock
	steps := 0.0
	err := c.run.Advance(until, func() bool {
		steps++
		c.scope.feed(c.run)
		return steps < most
	})
	if err != nil {
		v.halt(err)
		return false
	}
	return true
}

// seeTime shows the present instant, and paints anew only where it looks another than before.
func (v *View) seeTime() {
	v.hear()
	if v.clock.healthy.lost {
		v.clock.healthy.lost = false
		v.tell("What the healthy circuit would do is not known from here on: readings stand alone.")
	}
	c, s := v.clock, &v.now
	v.show(s)
	before := c.shown
	if c.shown = c.looks.seen(v); !c.shown.same(before) {
		v.easing.jump(s.live.showing)
		v.area.strip, v.dirty = nil, true
	}
	if v.now.tab == tabScope {
		v.dirty = true
	}
}

// inHand is what is on the circuit in motion, and where.
type inHand struct {
	with, on string
	leads    [2]string
	reads    bool // at rest; what cannot be read there is not put on
	known    bool
}

// takeInHand puts the instrument in hand on the circuit in motion, and on the healthy one.
func (c *clock) takeInHand(s *state) {
	defer c.scope.bind(s, c.run) // with the instrument on
	held := s.live.held
	now := inHand{s.with, s.on, s.leads, held != nil, true}
	if now == c.hand {
		if c.moving != nil {
			c.moving.Set(s.bench, held)
		}
		return
	}
	c.hand, c.moving, c.waiting = now, nil, s.live.waiting
	c.healthy.catchUpFully(c.run.Seconds())
	if err := c.put(s, held); err != nil {
		c.moving, c.waiting = nil, spoken(err)
	}
}

// put does it.
func (c *clock) put(s *state, held *meter.Held) (err error) {
	if s.with == "look" {
		c.waiting = "While time runs, what is seen and heard stands beside the clock."
	}
	if c.waiting != "" {
		c.healthy.takeOff()
		return c.run.Attach()
	}
	if meter.StandsStill(s.with) {
		c.moving, err = meter.Still(c.run, held)
	} else {
		q, _ := s.request()
		c.moving, err = meter.Move(c.run, s.bench, q)
	}
	if err != nil || c.healthy.run == nil {
		return err
	}
	if c.moving.Beside(c.healthy.run) != nil {
		c.healthy.lose()
	}
	return nil
}

// timeWords is the time as the clock shows it, as exactly as the pace lets an eye follow.
func (c *clock) timeWords() string {
	t := c.run.Seconds()
	digits := 0
	switch rate := paces[c.pace].rate; {
	case rate < 0.005:
		digits = 5
	case rate < 0.05:
		digits = 4
	case rate < 0.5:
		digits = 3
	case rate < 5 && c.running: // more would only flicker
		digits = 1
	case rate < 5:
		digits = 2
	}
	ten := math.Pow10(digits)
	return clockWords(math.Floor(t*ten+0.5)/ten, digits)
}
