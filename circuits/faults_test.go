package circuits_test

// Every fault sheet is walked on the bench: what it says of a test must be what the program gives. A test that a fault
// is said to pass really looks as on the healthy circuit; each step of a good sequence tells what it claims, and the
// sequence as a whole tells its fault from the healthy circuit and from every other fault of the sheet.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim"
	"underload/sim/fault"
	"underload/sim/meter"
)

// workshop takes readings of one example, each once.
type workshop struct {
	t     *testing.T
	c     *circuit.Circuit
	sheet *fault.Sheet
	taken map[string]meter.Reading
}

func workshopFor(t *testing.T, name string) *workshop {
	t.Helper()
	c, err := circuits.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	data, ok := circuits.Faults(name)
	if !ok {
		t.Fatalf("%s has no fault sheet", name)
	}
	instruments, _ := meter.Instruments()
	sheet, problems := fault.ReadSheet(c, "faults/"+name+".yaml", data, instruments)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return &workshop{t, c, sheet, map[string]meter.Reading{}}
}

// bench is the circuit with an entry's faults laid, or healthy for none, brought to a state.
func (w *workshop) bench(e *fault.Entry, state []string) (*sim.Bench, error) {
	b, err := sim.New(w.c)
	if err != nil {
		return nil, err
	}
	if e != nil {
		if err := b.Break(e.Lines()...); err != nil {
			return nil, err
		}
	}
	for _, s := range state {
		do := b.Set
		name, apart := strings.CutPrefix(s, "apart ")
		if apart {
			do = b.Apart
		}
		if err := do(name); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// take makes a test of a sheet with an entry's faults laid, or on the healthy circuit.
func (w *workshop) take(e *fault.Entry, test fault.Test, state []string) meter.Reading {
	w.t.Helper()
	id := ""
	if e != nil {
		id = e.ID
	}
	key := fmt.Sprint(id, test.With, " ", test.Red, " ", test.Black, " ", test.On, state)
	if r, ok := w.taken[key]; ok {
		return r
	}
	b, err := w.bench(e, state)
	if err != nil {
		w.t.Fatalf("%s:%d: %v", w.sheet.File, test.Pos.Line, err)
	}
	r, err := meter.Take(b, meter.Request{With: test.With, Red: test.Red, Black: test.Black, On: test.On})
	if err != nil {
		w.t.Fatalf("%s:%d: %v", w.sheet.File, test.Pos.Line, err)
	}
	w.taken[key] = r
	return r
}

// alike says that a person could not tell two readings of one test apart: lamps by eye, meters within their uncertainty,
// resting and kicking, everything else by its words.
func alike(a, b meter.Reading) bool {
	switch a.Instrument {
	case "test-lamp", "load-lamp", "led-light":
		return a.Seen == b.Seen
	case "roll-call", "look":
		return a.Seen == b.Seen && slices.Equal(a.Lines, b.Lines)
	}
	return near(a.Value, b.Value, a, b) && near(extreme(a), extreme(b), a, b)
}

// extreme is what a meter that keeps the extremes shows.
func extreme(r meter.Reading) *float64 {
	if r.Kick != nil {
		return r.Kick
	}
	return r.Value
}

func near(x, y *float64, a, b meter.Reading) bool {
	if x == nil || y == nil {
		return x == y
	}
	return math.Abs(*x-*y) <= *a.Uncertainty+*b.Uncertainty
}

func TestEveryFaultSheet(t *testing.T) {
	names := circuits.Names()
	if len(names) == 0 {
		t.Fatal("no examples")
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			w := workshopFor(t, name)
			if n := len(w.sheet.Entries); n < 4 || n > 8 {
				t.Errorf("%d faults", n)
			}
			if len(w.sheet.LeftOut) == 0 {
				t.Error("nothing is said of what is left out")
			}
			for _, row := range []string{"light", "load", "roll call"} {
				if !slices.ContainsFunc(w.sheet.Table, func(r fault.Row) bool { return r.Name == row }) {
					t.Errorf("the table has no %s test", row)
				}
			}
			if !slices.ContainsFunc(w.sheet.Table, func(r fault.Row) bool { return strings.HasPrefix(r.Name, "drop") }) {
				t.Error("the table has no drop test")
			}
			for i := range w.sheet.Entries {
				e := &w.sheet.Entries[i]
				w.passes(e)
				w.sequence(e)
				w.tellsApart(e)
			}
		})
	}
}

// passes holds the misleading tests against the healthy circuit.
func (w *workshop) passes(e *fault.Entry) {
	if len(e.Passes) == 0 {
		w.t.Errorf("%s passes no ordinary test", e.ID)
	}
	for _, p := range e.Passes {
		state := w.sheet.StateOf(e, p.Test)
		got, healthy := w.take(e, p.Test, state), w.take(nil, p.Test, state)
		if !alike(got, healthy) {
			w.wrong(p.Test, "%s does not pass %s: %s", e.ID, p.With, told(got, healthy))
		}
		if !strings.Contains(words(got), p.Looks) {
			w.wrong(p.Test, "%s: %q, not %q", e.ID, words(got), p.Looks)
		}
	}
}

// sequence holds each step against what it claims.
func (w *workshop) sequence(e *fault.Entry) {
	if len(e.Sequence) == 0 {
		w.t.Fatalf("%s has no good sequence", e.ID)
	}
	for i, step := range e.Sequence {
		state := w.sheet.StateOf(e, step.Test)
		got, healthy := w.take(e, step.Test, state), w.take(nil, step.Test, state)
		same := alike(got, healthy)
		switch {
		case step.AsHealthy && i == len(e.Sequence)-1:
			w.wrong(step.Test, "%s ends in a step that reads as in the healthy circuit", e.ID)
		case step.AsHealthy && !same:
			w.wrong(step.Test, "%s: it is not as in the healthy circuit: %s", e.ID, told(got, healthy))
		case !step.AsHealthy && same:
			w.wrong(step.Test, "%s: it is as in the healthy circuit: %s", e.ID, told(got, healthy))
		}
		if !step.AsHealthy && step.Looks == "" && step.Reads == nil && step.Kicks == nil {
			w.wrong(step.Test, "%s: nothing is claimed that can be checked; it gives %s", e.ID, told(got, healthy))
		}
		if !strings.Contains(words(got), step.Looks) {
			w.wrong(step.Test, "%s: %q, not %q", e.ID, words(got), step.Looks)
		}
		w.claims(e, step, step.Reads, got.Value, got)
		w.claims(e, step, step.Kicks, got.Kick, got)
		if step.Minutes < got.Minutes {
			w.wrong(step.Test, "%s: %g min, and the reading alone takes %g", e.ID, step.Minutes, got.Minutes)
		}
		for _, id := range step.Clears {
			other, err := w.sheet.Entry(id)
			if err != nil {
				w.t.Fatal(err)
			}
			if there := w.take(other, step.Test, state); alike(got, there) {
				w.wrong(step.Test, "%s: it does not clear %s, which gives %s", e.ID, id, told(there, got))
			}
		}
	}
}

// claims holds a figure of a step against the reading: within 3 % or the meter's own uncertainty.
func (w *workshop) claims(e *fault.Entry, step fault.Step, want *fault.Amount, got *float64, r meter.Reading) {
	if want == nil {
		return
	}
	if got == nil || want.Unit != r.Unit || math.Abs(*got-want.Value) > max(0.03*math.Abs(want.Value), *r.Uncertainty) {
		w.wrong(step.Test, "%s: claims %g %s: %s", e.ID, want.Value, want.Unit, told(r, r))
	}
}

// tellsApart holds the whole sequence against every other fault of the sheet.
func (w *workshop) tellsApart(e *fault.Entry) {
	for i := range w.sheet.Entries {
		other := &w.sheet.Entries[i]
		if other.ID == e.ID {
			continue
		}
		apart := false
		for _, step := range e.Sequence {
			state := w.sheet.StateOf(e, step.Test)
			apart = apart || !alike(w.take(e, step.Test, state), w.take(other, step.Test, state))
		}
		like := slices.ContainsFunc(e.Like, func(l fault.Like) bool { return l.ID == other.ID })
		switch {
		case !apart && !like:
			w.t.Errorf("the sequence of %s gives the same for %s", e.ID, other.ID)
		case apart && like:
			w.t.Errorf("the sequence of %s does tell it from %s", e.ID, other.ID)
		}
	}
}

func (w *workshop) wrong(test fault.Test, format string, args ...any) {
	w.t.Helper()
	w.t.Errorf("line %d: %s", test.Pos.Line, fmt.Sprintf(format, args...))
}

// words are all words that a reading has for what is seen.
func words(r meter.Reading) string { return r.Seen + "\n" + strings.Join(r.Lines, "\n") }

func told(got, healthy meter.Reading) string {
	return fmt.Sprintf("%s here, %s there", figure(got), figure(healthy))
}

func figure(r meter.Reading) string {
	text := r.Seen
	if r.Value != nil {
		text = fmt.Sprintf("%.4g %s (%s)", *r.Value, r.Unit, text)
	}
	if r.Kick != nil {
		text += fmt.Sprintf(", kicks to %.4g", *r.Kick)
	}
	return text
}
