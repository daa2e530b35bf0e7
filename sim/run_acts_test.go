package sim

// This file does the same to a run and to the bench, at random, and holds against each other where both come to rest.

import (
	"fmt"
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
	if acts < *runs || loads < *runs/2 || melted > *runs/10 {
		t.Errorf("only %d acts, %d loads; %d times a fuse blew by time alone", acts, loads, melted)
	}
}
