package sim

// This file does the same to a run and to the bench, at random, and holds against each other where both come to rest.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/sim/part"
)

// steady are acts after which a circuit comes to rest where the bench does, whatever came before.
func (tr *trial) steady() string {
	switch tr.IntN(5) {
	case 0, 1:
		if p := anyOf(tr, tr.c.OfKind("switch")); p != nil {
			return tr.turn(p)
		}
	case 2:
		return tr.setting()
	case 3:
		return []string{"apart ", "together "}[tr.IntN(2)] + tr.plugged()
	}
	return "break " + tr.fault()
}

// unsteady are words in acts of which the bench knows less than a run: charge, warmth, compression.
var unsteady = []string{"support", "running", "ambient", "weak", "crank"}

// act does to a bench what Do does to a run, with the acts of steady.
func (b *Bench) act(text string) error {
	if what, is := strings.CutPrefix(text, "break "); is {
		return b.Break(what)
	}
	if name, is := strings.CutPrefix(text, "apart "); is {
		return b.Apart(name)
	}
	if name, is := strings.CutPrefix(text, "together "); is {
		return b.Together(name)
	}
	return b.Set(text)
}

// melts reports whether a fuse has blown in time and not on the bench. That happens: to one that carries nearly what the
// bench asks for, to one in a hot slot, and to one that cold lamps were switched on through.
func melts(b *Bench, r *Run) bool {
	return slices.ContainsFunc(b.c.Parts, func(p *circuit.Part) bool {
		_, fuse := b.w.inner[p].(part.Fuse)
		return fuse && r.State(p).Blown && !b.states[p].Blown
	})
}

func TestActsLeadWhereTheBenchGoes(t *testing.T) {
	t.Parallel()
	loads, acts, melted := 0, 0, 0
	for i := range *runs / 2 {
		tr := newTrial(t, *firstRun+uint64(i))
		tr.settings = nil
		b, err := tr.bench()
		must(t, err)
		if tr.name == "tangle" || b.cranks() { // relays in tangles go by what came first
			continue
		}
		r := start(t, b, RunOptions{Seed: 1})
		var done []string
		for range 6 {
			a := tr.steady()
			if a == "" || slices.ContainsFunc(unsteady, func(word string) bool { return strings.Contains(a, word) }) {
				continue
			}
			must(t, r.Advance(r.Seconds()+1, nil))
			if r.Do(a) != nil {
				continue
			}
			done = append(done, a)
			if err := b.act(a); err != nil {
				t.Errorf("%d %s: the run does %q, the bench: %v", tr.seed, tr.name, a, err)
			}
		}
		acts += len(done)
		if len(b.chatters) > 0 || len(b.modulesIn(part.Cycling)) > 0 {
			continue
		}
		must(t, r.Advance(r.Seconds()+calmSeconds, nil))
		k := restCase{name: fmt.Sprint(tr.seed, " ", tr.name, tr.faults, done), c: tr.c}
		if melts(b, r) {
			melted++
			continue
		}
		loads += k.carrying(t, b, r, "in the end")
	}
	if *runs >= enoughRuns && (acts < *runs || loads < *runs/2 || melted > *runs/10) {
		t.Errorf("only %d acts, %d loads; %d times a fuse blew by time alone", acts, loads, melted)
	}
}

// A run at a hundredth of the tolerance tells the same story and ends at the same volts. What lamps look like is left out:
// an eye looks at them after every step, and steps are other ones.
func TestTolerancesTellTheSameStory(t *testing.T) {
	t.Parallel()
	const most, apartVolts = 3000, 0.1 // steps; what hangs on leaks runs down to where it was left
	told, held := 0, 0
	for i := range *runs / 4 {
		tr := newTrial(t, *firstRun+uint64(i))
		tr.seconds = math.Min(tr.seconds, 600)
		coarse, whole := tr.tell(t, 1e-4, most)
		if !whole {
			continue
		}
		fine, whole := tr.tell(t, 1e-6, 10*most)
		if !whole {
			t.Errorf("%s\n\tmore than %d steps at 1e-6, fewer than %d at 1e-4", tr, 10*most, most)
			continue
		}
		held++
		told += len(coarse.says)
		if !slices.Equal(coarse.says, fine.says) {
			t.Errorf("%s\n\tat 1e-4: %q\n\tat 1e-6: %q", tr, coarse.says, fine.says)
		}
		for n, p := range tr.c.Points() {
			if off := math.Abs(coarse.volts[n] - fine.volts[n]); off > apartVolts {
				t.Errorf("%s\n\t%s is at %.4f V at 1e-4, and at %.4f V at 1e-6", tr, p.Name, coarse.volts[n], fine.volts[n])
				break
			}
		}
	}
	if *runs >= enoughRuns && (held < *runs/8 || told < *runs/8) {
		t.Errorf("only %d runs with %d cues", held, told)
	}
}

// story is what is told in a run, in alphabetical order, and the volts at all points in the end.
type story struct {
	says  []string
	volts []float64
}

// tell makes a trial's run, but for what touches it. It is not whole if it takes more than so many steps.
func (tr *trial) tell(t *testing.T, tolerance float64, most int) (s story, whole bool) {
	t.Helper()
	b, err := tr.bench()
	must(t, err)
	r := start(t, b, RunOptions{Seed: tr.seed, Tolerance: tolerance, MemoryBytes: -1})
	steps := 0
	goOn := func(until float64) {
		must(t, r.Advance(until, func() bool { steps++; return steps < most }))
	}
	for _, a := range tr.acts {
		if a.seconds > tr.seconds || strings.HasPrefix(a.text, "touch") {
			continue
		}
		if goOn(a.seconds); steps >= most {
			return s, false
		}
		_ = r.Do(a.text) // it may be refused, and then is at any tolerance
	}
	goOn(tr.seconds)
	for _, c := range r.Cues() {
		if p := tr.c.Part(c.Place); p == nil || p.Kind.Name != "lamp" {
			s.says = append(s.says, c.Says)
		}
	}
	slices.Sort(s.says)
	for _, p := range tr.c.Points() {
		s.volts = append(s.volts, r.age.run.Volts(r.age.at(p)))
	}
	return s, steps < most
}
