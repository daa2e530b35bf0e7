package sim

// This file is a bench in motion: the same circuit, in the same state, from the moment its key is touched on.

import (
	"cmp"
	"fmt"
	"slices"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver/transient"
)

// RunOptions say how a run is computed. The zero value is right for most.
type RunOptions struct {
	Seed        uint64  // of everything that is left to chance; the same seed gives the same run
	Tolerance   float64 // relative, of one step; 0 stands for 1e-4
	MemoryBytes int     // to be spent on stepping back; 0 stands for 64 MiB, below 0 for none
	Energy      bool    // keep account of energy, for Balance; it takes a third more time
}

// Run is a bench in motion. It starts from the bench's state at rest, at 0 seconds, and leaves the bench itself alone.
// It is not safe for use by two goroutines at once.
type Run struct {
	options RunOptions
	age     *age
	acts    []act // to come, in the order of time
	planned []act // by At, whether done or to come: they are done again after stepping back
	cues    []Cue
	senses  senses
	warm    warmths
	trail   trail
	next    int // of the numbers given to acts
}

// Run starts time from the bench's state at rest.
func (b *Bench) Run(o RunOptions) (*Run, error) {
	plan := b.clonePlan()
	for _, p := range b.chatters { // at rest it has let go
		plan.states[p].PulledIn = false
	}
	b.glowAtRest(plan)
	a := newAge(plan, map[string]float64{})
	if err := a.start(o, b.sol); err != nil {
		return nil, fmt.Errorf("%s cannot be set in motion: %w", b.c.Title, a.placed(err))
	}
	r := &Run{options: o, age: a}
	r.senses.begin(r)
	r.warm.begin(r)
	r.trail.begin(r)
	return r, nil
}

// Circuit is what is in motion.
func (r *Run) Circuit() *circuit.Circuit { return r.age.plan.c }

// Seconds is how long the run has been going on.
func (r *Run) Seconds() float64 { return r.age.run.Seconds() }

// State is the state of a part now, with what has become of it, for reading only.
func (r *Run) State(p *circuit.Part) part.State {
	r.fates()
	return *r.age.plan.states[p]
}

// Balance is where the energy of a run with RunOptions.Energy came from and went.
func (r *Run) Balance() transient.Balance { return r.age.balance() }

// Stats is the work done so far, what was stepped back over included.
func (r *Run) Stats() transient.Stats { return r.age.total() }

// Advance goes on until a time. After every step, and after everything that happens at an instant, it calls each, if
// that is not nil; where each returns false it stops there. What is to be done at that very time is done.
func (r *Run) Advance(until float64, each func() bool) error {
	for {
		if done, goOn, err := r.due(each); err != nil || !goOn {
			return err
		} else if done {
			continue
		}
		if !(r.Seconds() < until) {
			return nil
		}
		target := until
		if len(r.acts) > 0 {
			target = min(target, r.acts[0].seconds)
		}
		was := r.age
		if err := was.run.Step(target); err != nil {
			return r.stuck(err)
		}
		was.feel()
		hot := r.warm.pass(r)
		r.senses.notice(r)
		if err := r.burn(); err != nil {
			return err
		}
		if len(hot) > 0 {
			if err := r.glow(hot); err != nil {
				return err
			}
		}
		if r.age == was { // another age has left its own mark, and nobody may go back to between the two
			r.trail.leave(r)
		}
		if each != nil && !each() {
			return nil
		}
	}
}

// due does the first act whose time has come. goOn is what each says of it.
func (r *Run) due(each func() bool) (done, goOn bool, err error) {
	if len(r.acts) == 0 || r.acts[0].seconds > r.Seconds() {
		return false, true, nil
	}
	a := r.acts[0]
	r.acts = r.acts[1:]
	if err := r.perform(a); err != nil {
		return false, false, fmt.Errorf("at %s: %w", spoken(a.seconds), err)
	}
	return true, each == nil || each(), nil
}

func (r *Run) stuck(err error) error {
	return fmt.Errorf("%s, %s from its start: %w", r.Circuit().Title, spoken(r.Seconds()), r.age.placed(err))
}

// Do does one thing at the present instant, written as for Set, or as an act:
//
//	KEY=run, F7=out, M1=on, B1=support, ALT=running, ALT=idling
//	apart C14, together C14
//	break C14.4 spread 6 ohm
//	repair C14.4, clean G2, replace F7
//	reseat C14         apart, and together a second later: its contacts are wiped, and nothing is mended
//	wiggle C14 50 %    from now on, how hard; a connector or a part; what is fretted there grows worse
//	still C14          no longer
//	disturb C14        one nudge: bad contacts may read well for a while, or no longer
//
// An error says what is wrong; nothing is changed then.
func (r *Run) Do(text string) error {
	a, err := r.read(text)
	if err != nil {
		return err
	}
	a.seconds = r.Seconds()
	return r.perform(a)
}

// At has a thing done at a later time. What can be refused without waiting is refused at once.
func (r *Run) At(seconds float64, text string) error {
	a, err := r.read(text)
	if err != nil {
		return err
	}
	if now := r.Seconds(); seconds < now && now-seconds < atOnce {
		seconds = now
	}
	if !(seconds >= r.Seconds()) {
		return fmt.Errorf("%q at %s: it is %s already", text, spoken(seconds), spoken(r.Seconds()))
	}
	a.seconds = seconds
	r.planned = append(r.planned, r.schedule(a))
	return nil
}

// atOnce is how long ago a time may lie and still be now: a run that begins at 0 s finds its start in some nanoseconds.
const atOnce = 1e-6 // seconds

// schedule puts an act among those to come, after those of the same instant.
func (r *Run) schedule(a act) act {
	r.next++
	a.number = r.next
	r.put(a)
	return a
}

func (r *Run) put(a act) {
	r.acts = append(slices.Clone(r.acts), a)
	slices.SortStableFunc(r.acts, func(x, y act) int {
		return cmp.Or(cmp.Compare(x.seconds, y.seconds), cmp.Compare(x.number, y.number))
	})
}

// Attach puts instruments on, in place of those that were on before.
func (r *Run) Attach(attached ...Attachment) error {
	return r.change(func(plan *Bench, _ map[string]float64) error {
		plan.attached = attached
		return nil
	})
}

// fates writes what has become of the parts into their states.
func (r *Run) fates() {
	v := view{r.age.run.Now()}
	for _, p := range r.Circuit().Parts {
		if fate := r.age.parts[p].Fate; fate != nil {
			fate(v, r.age.plan.states[p])
		}
	}
}

// view is an instant of a run as package live wants it.
type view struct{ *transient.View }
