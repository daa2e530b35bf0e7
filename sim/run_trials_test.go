package sim

// This file lets random runs go on in time: examples and made-up circuits, random faults, random acts at random times, and
// holds every run against what must be true of any: it goes on, every value is a number, Kirchhoff's current law holds,
// no energy is lost, blown fuses stay blown, the same seed gives the same run to the last bit, also after stepping back.
//
//	go test ./sim -run TestRandomRuns -runs 10000
//	go test ./sim -run TestRandomRuns -first-run 4711 -runs 1 -v

import (
	"errors"
	"flag"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/invented"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/part"
	"underload/solver/transient"
)

var (
	runs     = flag.Int("runs", 100, "how many random runs to make")
	firstRun = flag.Uint64("first-run", 1, "the seed of the first random run")
	runSteps = flag.Int("run-steps", 1000, "how many steps a random run may take before it is left")
)

// What is asked of every run, at any instant.
const (
	missingShare = 5e-4 // of the largest current, and
	missingAmps  = 2e-4 // may be missing at a node: what a hair of the volts allowed drives through a module
	energyShare  = 1e-3 // of the energy that went in or out, and
	energyJoules = 1e-3 // may be missing
	mostVolts    = 1e4
)

// A run gets on: in so many steps either things happen, or time goes by.
const (
	lookSteps    = 500
	stepsAnEvent = 150
	stepsASecond = 3000
)

// trial is one random run, as it is made up.
type trial struct {
	*rand.Rand
	seed     uint64
	name     string // of an example, or what was made up
	text     string // of what was made up
	c        *circuit.Circuit
	faults   []string
	settings []string
	acts     []timed
	seconds  float64 // how long it goes on
	options  RunOptions
}

// timed is an act of a trial.
type timed struct {
	seconds float64
	text    string
	before  bool // told to the run at its start, with At
}

// enoughRuns is from how many on the sums over all of them have to amount to something.
const enoughRuns = 50

func TestRandomRuns(t *testing.T) {
	t.Parallel()
	var sum tally
	for i := range *runs {
		seed := *firstRun + uint64(i)
		tr := newTrial(t, seed)
		if testing.Verbose() && *runs == 1 {
			t.Logf("%s\n%s", tr, tr.text)
		}
		if err := tr.hold(&sum); err != nil {
			t.Errorf("%v\n\tgo test ./sim -run TestRandomRuns -first-run %d -runs 1 -v\n\t%s", err, seed, tr)
		}
	}
	t.Log(sum.String())
	if *runs >= enoughRuns && (sum.acts < *runs || sum.events < *runs || sum.steps < 20**runs) {
		t.Errorf("hardly anything happens: %s", sum.String())
	}
}

// tally counts what happened in all runs.
type tally struct {
	runs, left, acts, refused, steps, events, looks, backs, twice, cues int
	missing, energy                                                     float64 // worst, as shares of what is allowed
	hours                                                               float64
}

func (s *tally) String() string {
	return fmt.Sprintf("%d runs (%d left early), %.4g hours, %d steps, %d events, %d acts done and %d refused, %d cues; %d looks, worst %.2g of the amps allowed to be missing and %.2g of the energy; %d went back, %d made twice",
		s.runs, s.left, s.hours, s.steps, s.events, s.acts, s.refused, s.cues, s.looks, s.missing, s.energy, s.backs, s.twice)
}

// newTrial makes a trial up from its seed alone.
func newTrial(t *testing.T, seed uint64) *trial {
	tr := &trial{Rand: rand.New(rand.NewPCG(seed, 77)), seed: seed}
	var text []byte
	switch kind := tr.IntN(10); {
	case kind < 4:
		names := circuits.Names()
		tr.name = names[tr.IntN(len(names))]
		var err error
		if text, err = circuits.Source(tr.name); err != nil {
			t.Fatal(err)
		}
	case kind < 8:
		parts := 10 + tr.IntN(51)
		tr.name = fmt.Sprintf("vehicle of %d parts", parts)
		tr.text = invented.Vehicle(seed, parts)
	default:
		tr.name, tr.text = "tangle", invented.Tangle(seed)
	}
	if tr.text != "" {
		text = []byte(tr.text)
	}
	c, problems := circuit.Read(tr.name+".yaml", text)
	if err := problems.Err(); c == nil || err != nil {
		t.Fatalf("seed %d: %v", seed, err)
	}
	tr.c = c
	tr.makeUp()
	return tr
}

// String is the trial as a command line.
func (tr *trial) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "underload trace %q", tr.name)
	for _, f := range tr.faults {
		fmt.Fprintf(&b, " --fault %q", f)
	}
	for _, s := range tr.settings {
		if name, apart := strings.CutPrefix(s, "apart "); apart {
			fmt.Fprintf(&b, " --apart %s", name)
		} else {
			fmt.Fprintf(&b, " --set %q", s)
		}
	}
	for _, a := range tr.acts {
		fmt.Fprintf(&b, " --do \"%.9gs %s\"", a.seconds, a.text)
	}
	fmt.Fprintf(&b, " --for %.9gs --seed %d --tolerance %g", tr.seconds, tr.seed, tr.options.Tolerance)
	return b.String()
}

// hold makes the run, some of them twice, and says what is not as it must be.
func (tr *trial) hold(sum *tally) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("seed %d panics: %v\n%s", tr.seed, p, debug.Stack())
		}
	}()
	one := &player{trial: tr, sum: sum, Rand: rand.New(rand.NewPCG(tr.seed, 78)), eye: rand.New(rand.NewPCG(tr.seed, 79))}
	first, err := one.play()
	if err != nil || tr.seed%3 != 0 {
		return err
	}
	sum.twice++
	two := &player{trial: tr, sum: &tally{}, Rand: rand.New(rand.NewPCG(tr.seed, 78))} // nobody looks at this one
	second, err := two.play()
	if err == nil && first != second {
		err = fmt.Errorf("the same seed gives another run where nobody looks")
	}
	return err
}

// bench is the circuit at rest, as the run begins. What cannot be laid or set is left out.
func (tr *trial) bench() (*Bench, error) {
	b, err := New(tr.c)
	if err != nil {
		return nil, err
	}
	keep := func(list *[]string, do func(string) error) {
		var kept []string
		for _, text := range *list {
			if do(text) == nil {
				kept = append(kept, text)
			}
		}
		*list = kept
	}
	keep(&tr.faults, func(text string) error { return b.Break(text) })
	keep(&tr.settings, func(text string) error {
		if name, apart := strings.CutPrefix(text, "apart "); apart {
			return b.Apart(name)
		}
		return b.Set(text)
	})
	return b, nil
}

// player makes a trial's run.
type player struct {
	*trial
	*rand.Rand
	eye *rand.Rand // when to look; nil: never
	sum *tally
	r   *Run

	until   float64
	last    float64 // seconds
	blown   map[*circuit.Part]bool
	coldest float64 // °C of the air so far
	fates   []fate  // of the parts at the start
	watched []Channel
	steps   int
	stretch stretch
	broke   error // found amid the run
	left    bool
}

// stretch is where the last look at how the run gets on was.
type stretch struct {
	steps, events int
	seconds       float64
}

// play makes the run and returns a print of it.
func (p *player) play() (uint64, error) {
	b, err := p.bench()
	if err != nil {
		return 0, err
	}
	if p.r, err = b.Run(p.options); err != nil {
		return 0, err
	}
	p.sum.runs++
	p.watch()
	p.blown, p.coldest, p.fates = map[*circuit.Part]bool{}, p.r.age.w.ambient, p.r.senses.fates
	p.seen()
	for _, a := range p.acts {
		if a.before {
			if err := p.done(p.r.At(a.seconds, a.text)); err != nil {
				return 0, fmt.Errorf("%q: %w", a.text, err)
			}
		}
	}
	for _, a := range p.acts {
		if a.before || p.left {
			continue
		}
		if err := p.goOn(a.seconds); err != nil {
			return 0, err
		}
		if p.left {
			break
		}
		if err := p.do(a.text); err != nil {
			return 0, fmt.Errorf("%q at %g s: %w", a.text, a.seconds, err)
		}
	}
	if !p.left {
		if err := p.goOn(p.seconds); err != nil {
			return 0, err
		}
	}
	return p.print(), p.end()
}

// goOn advances, and now and then goes back a few steps and on again, which must come to the same.
func (p *player) goOn(until float64) error {
	p.until = until
	begun := p.r.Stats().Steps
	if err := p.advance(until); err != nil || p.left {
		return err
	}
	if steps := p.r.Stats().Steps - begun; steps > 2 && p.IntN(3) == 0 && p.options.MemoryBytes == 0 {
		p.sum.backs++
		was, cues := p.print(), len(p.r.Cues())
		for range 1 + p.IntN(min(steps-1, 12)) {
			p.r.StepBack()
		}
		if p.r.Seconds() > until {
			return fmt.Errorf("a step back from %g s leads to %g s", until, p.r.Seconds())
		}
		if err := p.run(until, nil); err != nil {
			return fmt.Errorf("after stepping back: %w", err)
		}
		if p.print() != was || len(p.r.Cues()) != cues {
			return fmt.Errorf("after stepping back from %g s and going on the run is another (%d cues, %d before)", until, len(p.r.Cues()), cues)
		}
	}
	if p.IntN(10) == 0 {
		back := p.r.Seconds() * p.Float64()
		at := p.r.Seconds() - back
		if err := p.r.Back(back); err != nil {
			if err := p.done(err); err != nil {
				return fmt.Errorf("back by %g s: %w", back, err)
			}
			if err := p.run(at, nil); err != nil {
				return err
			}
		}
		if math.Abs(p.r.Seconds()-at) > 1e-9*until {
			return fmt.Errorf("back by %g s leads to %g s, not %g s", back, p.r.Seconds(), at)
		}
		clear(p.blown)
		p.last = p.r.Seconds()
		p.stretch = stretch{p.steps, p.r.Stats().Fired, p.last}
		p.seen()
		return p.advance(until)
	}
	return nil
}

// run goes on over acts that were told beforehand and turn out not to be possible when their time has come.
func (p *player) run(until float64, each func() bool) error {
	for {
		err := p.r.Advance(until, each)
		if err == nil {
			return nil
		}
		if err := p.done(err); err != nil {
			return err
		}
	}
}

func (p *player) advance(until float64) error {
	if err := p.run(until, p.each); err != nil {
		return err
	}
	if p.broke != nil {
		return p.broke
	}
	if !p.left && p.r.Seconds() != until {
		return fmt.Errorf("stands at %g s, not at %g s", p.r.Seconds(), until)
	}
	return p.look()
}

// each is called after every step and act.
func (p *player) each() bool {
	now := p.r.Seconds()
	p.steps++
	p.breathes()
	if now < p.last || now > p.until {
		p.broke = fmt.Errorf("from %g s to %g s on the way to %g s", p.last, now, p.until)
		return false
	}
	p.last = now
	if p.steps%16 == 0 || len(p.r.age.run.Fired()) > 0 && p.steps%4 == 0 {
		p.broke = p.look()
	}
	if p.steps%lookSteps == 0 && p.broke == nil {
		p.broke = p.getsOn()
	}
	p.left = p.steps >= *runSteps
	return p.broke == nil && !p.left
}

// getsOn looks at the last stretch of the run.
func (p *player) getsOn() error {
	events, now := p.r.Stats().Fired, p.r.Seconds()
	was := p.stretch
	p.stretch = stretch{p.steps, events, now}
	if now < was.seconds || events < was.events { // it went back
		return nil
	}
	if allowed := float64(events-was.events)*stepsAnEvent + (now-was.seconds)*stepsASecond; float64(p.steps-was.steps) > allowed {
		return fmt.Errorf("%d steps from %.9g to %.9g s, in which %d things happen", p.steps-was.steps, was.seconds, now, events-was.events)
	}
	return nil
}

// do does an act at once. One that is refused must change nothing.
func (p *player) do(text string) error {
	before := p.print()
	var err error
	if touched, is := strings.CutPrefix(text, "touch"); is {
		err = p.touch(strings.Fields(touched))
	} else {
		err = p.r.Do(text)
	}
	if err != nil && p.print() != before {
		return fmt.Errorf("it is refused (%w), and yet something is changed", err)
	}
	if strings.HasPrefix(text, "replace") || strings.HasPrefix(text, "repair") || strings.Contains(text, "=") {
		clear(p.blown) // a new fuse
	}
	if err := p.done(err); err != nil {
		return err
	}
	return p.look()
}

// touch puts an instrument, or a piece of wire, between two points, or takes it away.
func (p *player) touch(words []string) error {
	if len(words) == 0 {
		return p.r.Attach()
	}
	ohms, err := strconv.ParseFloat(words[2], 64)
	if err != nil {
		return err
	}
	on := Attachment{Red: words[0], Black: words[1], Ohms: ohms}
	switch words[3] {
	case "source":
		on.Volts = 1.5
	case "lamp":
		bulb, err := catalog.BulbOfWatts(catalog.LoadLampWatts, 12)
		if err != nil {
			return err
		}
		on.Law = part.Filament(bulb, p.r.age.w.ambient)
	case "led":
		on.Law = part.LED(0.02)
	case "fused":
		on.Ohms, on.FuseAmps = catalog.JumperOhms, catalog.JumperFuseAmps
	}
	return p.r.Attach(on)
}

// done tells a refusal, which is right for what cannot be done, from a run that cannot go on.
func (p *player) done(err error) error {
	var stuck *transient.StuckError
	var chatter *transient.ChatterError
	var value *transient.ValueError
	switch {
	case errors.As(err, &stuck), errors.As(err, &chatter), errors.As(err, &value):
		return err
	case err != nil:
		p.sum.refused++
	default:
		p.sum.acts++
	}
	return nil
}

// watch sets some channels up, of all that can be watched.
func (p *player) watch() {
	rng := rand.New(rand.NewPCG(p.seed, 80))
	words := []string{"amps", "light", "heat", "speed", "charge", "mode", "resets", "supply"}
	points, places := p.c.Points(), fault.Places(p.c)
	for len(p.watched) < 12 {
		text := points[rng.IntN(len(points))].Name
		switch rng.IntN(6) {
		case 0:
		case 1:
			text += " against " + points[rng.IntN(len(points))].Name
		default:
			text = words[rng.IntN(len(words))] + " " + places[rng.IntN(len(places))]
		}
		if c, err := p.r.Watch(text); err == nil {
			p.watched = append(p.watched, c)
		}
	}
}

// reads reads the channels.
func (p *player) reads() error {
	at := p.r.Seconds() - 1e-6*p.eye.Float64()
	for _, c := range p.watched {
		for _, v := range []float64{c.Read(), c.ReadAt(at)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("at %.9g s %s reads %g", p.r.Seconds(), c.Name, v)
			}
		}
	}
	return nil
}

// seen notes which fuses are blown.
func (p *player) seen() {
	for _, part := range p.c.Parts {
		if p.r.State(part).Blown {
			p.blown[part] = true
		}
	}
}

// look holds the instant, and one inside the last step, against what must be true.
func (p *player) look() error {
	if p.eye == nil {
		return nil
	}
	p.sum.looks++
	p.breathes()
	for _, part := range p.c.Parts {
		if kind := part.Kind.Name; (kind == "fuse" || kind == "fusible link") && p.blown[part] && !p.r.State(part).Blown && !p.renewed(part) {
			return fmt.Errorf("%s was blown, and at %g s it is whole", part.Name, p.r.Seconds())
		}
	}
	p.seen()
	run := p.r.age.run
	now := run.Now()
	if err := p.holds(now); err != nil {
		return err
	}
	if err := p.holds(run.Look(p.r.Seconds() - 1e-7*p.eye.Float64())); err != nil {
		return err
	}
	if err := p.accounts(); err != nil {
		return err
	}
	return p.reads()
}

// renewed reports whether an act told beforehand may have put another fuse in.
func (p *player) renewed(part *circuit.Part) bool {
	return slices.ContainsFunc(p.acts, func(a timed) bool {
		return a.before && a.seconds <= p.r.Seconds() && (strings.HasPrefix(a.text, part.Name+"=") || a.text == "replace "+part.Name || a.text == "repair "+part.Name)
	})
}

// holds is what must be true at an instant.
func (p *player) holds(v *transient.View) error {
	for n := range p.r.age.net.Nodes() {
		if volts := v.Volts(transient.Node(n)); !(math.Abs(volts) < mostVolts) {
			return fmt.Errorf("at %.9g s %g V at node %d", v.Seconds, volts, n)
		}
	}
	for _, m := range p.r.age.memories {
		for i, x := range v.States(m.id) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return fmt.Errorf("at %.9g s state %d of %s is %g", v.Seconds, i, m.key, x)
			}
		}
		for i, d := range v.Marks(m.id) {
			if math.IsNaN(d) {
				return fmt.Errorf("at %.9g s mark %d of %s is no number", v.Seconds, i, m.key)
			}
		}
	}
	if err := p.bounded(v); err != nil {
		return err
	}
	worst, most := v.Missing()
	allowed := (missingShare*most + missingAmps) * p.coarse()
	p.sum.missing = max(p.sum.missing, worst/allowed)
	if !(worst <= allowed) {
		return fmt.Errorf("at %.9g s %g A of %g A are missing at a node", v.Seconds, worst, most)
	}
	return nil
}

// coarse is how many times the usual tolerance the run has, where that is more.
func (p *player) coarse() float64 { return max(1, p.options.Tolerance/1e-4) }

// end is what must be true of the run as a whole.
func (p *player) end() error {
	p.sum.steps += p.steps
	p.sum.events += p.r.Stats().Fired
	p.sum.hours += p.r.Seconds() / 3600
	p.sum.cues += len(p.r.Cues())
	if p.left {
		p.sum.left++
	}
	if !slices.IsSortedFunc(p.r.Cues(), func(a, b Cue) int { return int(math.Copysign(1, a.Seconds-b.Seconds)) }) {
		return fmt.Errorf("cues out of order: %v", p.r.Cues())
	}
	if err := p.told(); err != nil {
		return err
	}
	return p.accounts()
}

// accounts holds the energy of the run so far.
func (p *player) accounts() error {
	b := p.r.Balance()
	allowed := (energyShare*max(math.Abs(b.Given), math.Abs(b.Lost), math.Abs(b.Stored)) + energyJoules) * p.coarse()
	p.sum.energy = max(p.sum.energy, math.Abs(b.Off())/allowed)
	if !(math.Abs(b.Off()) <= allowed) {
		return fmt.Errorf("at %.9g s %g J are missing of %+v", p.r.Seconds(), b.Off(), b)
	}
	return nil
}

// print is a number that stands for all that the run is at its instant.
func (p *player) print() uint64 {
	h := fnv.New64a()
	var raw [8]byte
	put := func(v float64) {
		bits := math.Float64bits(v)
		for i := range raw {
			raw[i] = byte(bits >> (8 * i))
		}
		h.Write(raw[:])
	}
	put(p.r.Seconds())
	now := p.r.age.run.Now()
	for n := range p.r.age.net.Nodes() {
		put(now.Volts(transient.Node(n)))
	}
	for _, m := range p.r.age.memories {
		for _, x := range now.States(m.id) {
			put(x)
		}
		for _, d := range now.Marks(m.id) {
			put(d)
		}
	}
	for _, k := range p.r.warm.kelvin {
		put(k)
	}
	for _, c := range p.r.Cues() {
		put(c.Seconds)
		h.Write([]byte(c.Says))
	}
	return h.Sum64()
}
