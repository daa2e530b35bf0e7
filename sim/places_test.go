package sim

// This file checks that what cannot be solved is told by its place in the circuit.

import (
	"errors"
	"strings"
	"testing"

	"underload/circuits"
	"underload/solver"
	"underload/solver/transient"
)

// numberless is what an error must not hold: the numbers of a network.
var numberless = []string{"edge ", "element ", "branch ", "node ", "transient"}

func TestErrorsNameAPlace(t *testing.T) {
	c, err := circuits.Read("mist-blower")
	must(t, err)
	b, err := New(c)
	must(t, err)
	r := start(t, b, RunOptions{})
	a := r.age
	filament, gauge := transient.ID(-1), transient.Edge(-1)
	for _, m := range a.memories {
		if m.key == "L1 filament" {
			filament = m.id
		}
	}
	for _, l := range a.w.links {
		if l.Place == "WB" && a.legs[l.Branch].is == isEdge {
			gauge = a.legs[l.Branch].edge
		}
	}
	for _, row := range []struct {
		err  error
		want string
	}{
		{&transient.StuckError{Seconds: 1.5, Element: filament}, "L1"},
		{&transient.ChatterError{Seconds: 1.5, Element: filament}, "L1"},
		{&transient.ValueError{Edge: -1, Element: filament, Why: "no"}, "L1"},
		{&transient.ValueError{Edge: gauge, Element: -1, Why: "no"}, "WB"},
	} {
		told := r.stuck(row.err)
		said := told.Error()
		if !strings.Contains(said, row.want) || !errors.Is(told, row.err) {
			t.Errorf("%v: %q, want %s", row.err, said, row.want)
		}
		tellsNoNumber(t, said)
	}
	for _, err := range []error{&solver.ValueError{Branch: b.w.runs[c.Wire("WB")].first, Quantity: "ohms", Value: 1e-9},
		&solver.DisagreementError{Branches: []solver.Branch{b.w.runs[c.Wire("WB")].first}, Volts: 1}} {
		told := b.w.placed(err)
		if !strings.Contains(told.Error(), "WB") || !errors.Is(told, err) {
			t.Errorf("%v: %q, want WB", err, told)
		}
		tellsNoNumber(t, told.Error())
	}
	told := b.w.placed(&solver.NoOperatingPointError{Node: b.w.names["C14.2 pin"]})
	if !strings.Contains(told.Error(), "C14.2") {
		t.Errorf("%q, want C14.2", told)
	}
	tellsNoNumber(t, told.Error())
}

func tellsNoNumber(t *testing.T, said string) {
	t.Helper()
	for _, word := range numberless {
		if strings.Contains(said, word) {
			t.Errorf("%q tells the number of a network", said)
		}
	}
}

// A resistance that no metal has is refused where it is read, on the bench and in a run.
func TestTooSmallAResistanceIsRefused(t *testing.T) {
	b := benchOf(t, "mist-blower")
	r := start(t, b, RunOptions{})
	for _, do := range []func(string) error{func(s string) error { return b.Break(s) }, func(s string) error { return r.Do("break " + s) }} {
		if err := do("C14.2 short-to-ground 1e-9 ohm"); err == nil || !strings.Contains(err.Error(), "a resistance from") {
			t.Errorf("%v", err)
		}
		must(t, do("C14.2 short-to-ground 1 mohm"))
	}
}
