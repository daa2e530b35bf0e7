package circuits_test

// Every example comes to rest on the bench, in every position of its key, and with the key in run all of its modules
// are awake. In time it goes on, whatever is wrong with it.

import (
	"math"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/fault"
	"underload/sim/part"
)

func TestEveryExampleRuns(t *testing.T) {
	names := circuits.Names()
	if len(names) < 9 {
		t.Fatalf("only %d examples: %v", len(names), names)
	}
	for _, name := range names {
		c, err := circuits.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		b, err := sim.New(c)
		if err != nil {
			t.Errorf("%s at rest: %v", name, err)
			continue
		}
		key := c.Part("KEY")
		if key == nil {
			t.Errorf("%s has no KEY", name)
			continue
		}
		for _, throw := range key.Throws {
			if err := b.Set("KEY=" + throw.Name); err != nil {
				t.Errorf("%s, KEY=%s: %v", name, throw.Name, err)
			}
		}
		if err := b.Set("KEY=run"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, m := range b.Modules() {
			if m.Mode != part.Awake {
				t.Errorf("%s: %s is %v with %.2f V", name, m.Part.Name, m.Mode, m.SupplyVolts)
			}
		}
		for _, p := range c.OfKind("fuse") {
			if b.State(p).Blown {
				t.Errorf("%s: %s blows in the healthy circuit", name, p.Name)
			}
		}
	}
}

// Every example goes on in time as its complaint finds it, healthy and with each fault of its sheet, also while the bad
// place is shaken; coarsely computed as well, and no energy is lost.
func TestEveryFaultGoesOnInTime(t *testing.T) {
	const seconds, coarse, share = 20, 1e-2, 5e-3 // of the joules that went anywhere
	ran := 0
	for _, name := range circuits.Names() {
		w := workshopFor(t, name)
		entries := []*fault.Entry{nil}
		for i := range w.sheet.Entries {
			entries = append(entries, &w.sheet.Entries[i])
		}
		for _, e := range entries {
			id, state := "healthy", w.sheet.State
			if e != nil {
				id, state = e.ID, w.sheet.StateOf(e, fault.Test{})
			}
			b, err := w.bench(e, state)
			if err != nil {
				t.Fatal(err)
			}
			r, err := b.Run(sim.RunOptions{Tolerance: coarse, Energy: true, MemoryBytes: -1})
			if err != nil {
				t.Errorf("%s, %s: %v", name, id, err)
				continue
			}
			if e != nil {
				for _, line := range e.Lines() {
					place, _, _ := strings.Cut(strings.Fields(line)[0], ".")
					if r.At(seconds-0.5, "wiggle "+place+" 70 %") == nil { // other places cannot be shaken
						ran++
					}
				}
			}
			if err := r.Advance(seconds, nil); err != nil {
				t.Errorf("%s, %s: %v", name, id, err)
			}
			if b := r.Balance(); !(math.Abs(b.Off()) <= share*max(math.Abs(b.Given), math.Abs(b.Lost), math.Abs(b.Stored))) {
				t.Errorf("%s, %s: %g J are missing of %+v", name, id, b.Off(), b)
			}
		}
	}
	if ran < 30 {
		t.Errorf("only %d faults could be shaken", ran)
	}
}
