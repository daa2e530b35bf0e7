package sanity

// This file sets the circuit up on the bench, once for every different state in which something is to work, and has the
// loads, modules and switches looked at there.

import (
	"slices"
	"strings"

	"underload/circuit"
	"underload/sim"
	"underload/sim/part"
)

// Bounds of the work. A vehicle's whole diagram has some hundreds of switches and outputs; where there are more states
// than this they are looked at several at a time, and what looks odd then is looked at again by itself.
const (
	mostStates  = 64
	mostPacked  = 16 // states in place of more than mostStates
	mostAgain   = 64
	mostTurns   = 160 // states set up to see whether a switch changes anything
	freshParts  = 300 // up to here every state is set up from rest; beyond it from the state before
	workingPart = 0.1 // a load works when it takes this share of its rated amps
)

// stand is a bench that is brought from one state to the next.
type stand struct {
	k     *checker
	rest  *sim.Bench
	now   *sim.Bench
	there []string // its settings
}

// job is a state and what is to work in it.
type job struct {
	plan  *plan
	works []*circuit.Part
	alone bool // all in works ask for the very same state
}

func (k *checker) onTheBench() error {
	rest, err := sim.New(k.c)
	k.visits++
	if err != nil {
		return err
	}
	s := &stand{k: k, rest: rest}
	drops, modules, high := k.newDrops(), newModules(k.c), highVolts{}
	modules.see(rest)
	high.see(rest)
	jobs := k.jobs()
	var again []*job
	own := map[string]float64{} // rated amps of what works in a state
	for _, j := range jobs {
		for _, p := range j.works {
			own[j.plan.key()] += ratedAmps(p, k.c.BatteryVolts())
		}
	}
	for _, j := range packed(jobs) {
		b, ok := s.visit(j.plan.settings())
		if !ok {
			continue
		}
		modules.see(b)
		high.see(b)
		for _, p := range j.works {
			switch {
			case j.alone:
				drops.read(b, p)
			case !working(b, p) || drops.odd(b, p, own[k.plans[p].key()]):
				again = append(again, &job{k.plans[p], []*circuit.Part{p}, true})
			}
		}
	}
	slices.SortStableFunc(again, func(a, b *job) int { return strings.Compare(a.plan.key(), b.plan.key()) })
	for _, j := range again[:min(len(again), mostAgain)] {
		if b, ok := s.visit(j.plan.settings()); ok {
			modules.see(b)
			drops.read(b, j.works[0])
		}
	}
	var plans []*plan
	for _, j := range jobs {
		plans = append(plans, j.plan)
	}
	all := together(plans)
	modules.search(k, s, all)
	drops.tell()
	high.tell(k)
	modules.tell(k)
	k.switches(s, all)
	return nil
}

// jobs lists the states in which the loads and modules work, each once.
func (k *checker) jobs() []*job {
	var all []*job
	at := map[string]*job{}
	for _, p := range k.c.Parts {
		if !p.Kind.Load || p.Kind.Name == "sensor" || p.Kind.Name == "terminator" {
			continue
		}
		key := k.plans[p].key()
		if at[key] == nil {
			at[key] = &job{plan: k.plans[p], alone: true}
			all = append(all, at[key])
		}
		at[key].works = append(at[key].works, p)
	}
	return all
}

// packed makes no more than mostStates jobs out of any number, and mostPacked out of more, by putting together what can be, with every module awake
// that can be: a module that sleeps costs a solve each time the circuit settles.
func packed(jobs []*job) []*job {
	if len(jobs) <= mostStates {
		return jobs
	}
	awake := newPlan()
	for _, j := range jobs {
		if slices.ContainsFunc(j.works, func(p *circuit.Part) bool { return p.Module != nil }) {
			if both, ok := awake.with(j.plan); ok {
				awake = both
			}
		}
	}
	bins := make([]*job, mostPacked)
	for i, j := range jobs {
		for n := range bins {
			bin := &bins[(i+n)%mostPacked]
			if *bin == nil {
				*bin = &job{plan: awake}
			}
			if both, ok := (*bin).plan.with(j.plan); ok {
				(*bin).plan = both
				(*bin).works = append((*bin).works, j.works...)
				break
			}
		}
	}
	return slices.DeleteFunc(bins, func(j *job) bool { return j == nil })
}

// visit brings the bench to a state; false where it does not come to rest in it.
func (s *stand) visit(settings []string) (*sim.Bench, bool) {
	s.k.visits++
	if s.now == nil || len(s.k.c.Parts) <= freshParts || s.blown() {
		now, err := s.rest.Clone()
		if err != nil {
			return nil, false
		}
		s.now, s.there = now, nil
	}
	var todo []string
	for _, set := range s.there {
		name, _, _ := strings.Cut(set, "=")
		if !slices.ContainsFunc(settings, func(other string) bool { return strings.HasPrefix(other, name+"=") }) {
			todo = append(todo, name+"="+s.atRest(name))
		}
	}
	for _, set := range settings {
		if !slices.Contains(s.there, set) {
			todo = append(todo, set)
		}
	}
	s.there = settings
	if err := s.now.SetAll(todo...); err != nil {
		s.now = nil
		return nil, false
	}
	return s.now, true
}

// atRest is how a switch or output stands at rest.
func (s *stand) atRest(name string) string {
	if p := s.k.c.Part(name); p != nil && len(p.Throws) > 0 {
		return p.Throws[0].Name
	}
	return "off"
}

// blown says that a fuse has blown on the bench as it is, so that it is no good for another state.
func (s *stand) blown() bool {
	for _, p := range s.k.c.Parts {
		if isFuse(p) && s.now.State(p).Blown {
			return true
		}
	}
	return false
}

// working says that a load does its work.
func working(b *sim.Bench, p *circuit.Part) bool {
	if p.Kind.Name == "module" {
		return b.State(p).Mode == part.Awake
	}
	return b.PartAmps(p) >= workingPart*ratedAmps(p, b.Circuit().BatteryVolts())
}
