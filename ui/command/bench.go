package command

// This file is the flags that bring a circuit on the bench to a state, and those that place the leads.

import (
	"github.com/spf13/cobra"
	"slices"

	"underload/circuit"
	"underload/sim"
)

// act is one --set or --apart; their order on the command line is kept.
type act struct{ flag, text string }

// state is what the flags ask of the bench.
type state struct {
	acts   []act
	faults []string
	sheets []string // files of faults; what is in them is not told, so that a trainee can be given one
	mends  []string
}

// each is a flag that may be given again and again.
type each struct {
	wants string
	add   func(text string)
}

func (e each) String() string        { return "" }
func (e each) Type() string          { return e.wants }
func (e each) Set(text string) error { e.add(text); return nil }

// order is said in help.
const order = "Faults are laid first, then settings are made in the order given, then what --act mends is mended"

// flags adds --set, --apart, --fault and --act to a command.
func (s *state) flags(cmd *cobra.Command) {
	doing := func(flag string) func(string) {
		return func(text string) { s.acts = append(s.acts, act{flag, text}) }
	}
	f := cmd.Flags()
	f.Var(each{"NAME=STATE", doing("set")}, "set", "bring something to a state: KEY=run, F7=out, M1=on; may be repeated: done in this order, and the last of one name stands")
	f.Var(each{"NAME", doing("apart")}, "apart", "take a connector or a plugged part apart: C14, PC1; may be repeated")
	f.Var(each{`"PLACE CONDITION"`, func(text string) { s.faults = append(s.faults, text) }}, "fault",
		`lay a fault over the circuit: "C14.4 spread 1.8 ohm"; may be repeated (underload faults FILE lists them)`)
	f.Var(each{"FILE[#ID]", func(text string) { s.sheets = append(s.sheets, text) }}, "faults",
		"lay the faults of a file, one a line, untold; of a fault sheet its headline, or the one with #ID: library-van#a1")
	f.Var(each{`"ACT PLACE"`, func(text string) { s.mends = append(s.mends, text) }}, "act",
		`mend before the test: "repair C14.4", "clean G2", "replace F7"; may be repeated`)
	s.complete(cmd)
}

// bench builds what the flags ask for. Faults come first, so that modules boot with them; mending comes last.
func (s *state) bench(c *circuit.Circuit) (*sim.Bench, error) {
	b, err := sim.New(c)
	if err != nil {
		return nil, err
	}
	lay := slices.Clone(s.faults)
	for _, asked := range s.sheets {
		lines, err := sheetLines(c, asked)
		if err != nil {
			return nil, err
		}
		lay = append(lay, lines...)
	}
	if err := b.Break(lay...); err != nil {
		return nil, err
	}
	for _, a := range s.acts {
		do := b.Set
		if a.flag == "apart" {
			do = b.Apart
		}
		if err := do(a.text); err != nil {
			return nil, err
		}
	}
	for _, text := range s.mends {
		if err := b.Mend(text); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// leads is where the leads go.
type leads struct {
	with, red, black string
	anyReach         bool
}

// flags adds --with, --red, --black and --any-reach to a command.
func (l *leads) flags(cmd *cobra.Command, with string) {
	f := cmd.Flags()
	f.Var(word{&l.with, "INSTRUMENT"}, "with", with)
	f.Var(word{&l.red, "POINT"}, "red", "where the red lead goes (underload points FILE lists the points)")
	f.Var(word{&l.black, "POINT"}, "black", "where the black lead goes")
	f.BoolVar(&l.anyReach, "any-reach", false, "also points that a person cannot touch")
	l.complete(cmd)
}

// word is a flag with one word, named in help by what it wants.
type word struct {
	to    *string
	wants string
}

func (w word) String() string {
	if w.to == nil {
		return ""
	}
	return *w.to
}
func (w word) Type() string          { return w.wants }
func (w word) Set(text string) error { *w.to = text; return nil }
