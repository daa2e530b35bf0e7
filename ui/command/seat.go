package command

// This file finds the circuit that a person sits down at.

import (
	"errors"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuits"
	"underload/ui/seat"
	"underload/ui/view"
)

// sit reads the file that was named, or the example of the story.
func sit(args []string) (*seat.Seat, error) {
	name := storyFile
	if len(args) > 0 {
		name = args[0]
	}
	if _, err := open(name); err != nil {
		return nil, err
	}
	if _, err := os.Stat(name); err == nil {
		text, err := os.ReadFile(name)
		return &seat.Seat{Path: name, Text: text, View: view.Options{File: filepath.Base(name)}}, err
	}
	text, err := circuits.Source(name)
	return &seat.Seat{Text: text, View: view.Options{File: name + ".yaml"}}, err
}

// laid is which faults lie on the circuit from the start, and whether whoever sits there may see them.
type laid struct {
	faults string
	hide   bool
}

// flags offers both on a command.
func (l *laid) flags(cmd *cobra.Command) {
	cmd.Flags().Var(word{&l.faults, "FILE[#ID]"}, "faults", "lay the faults of a file, one a line, or of a fault sheet; #ID takes one: library-van#a1")
	cmd.Flags().BoolVar(&l.hide, "hide", false, "never show the faults: for a trainee")
}

// sit is sit with the faults laid.
func (l *laid) sit(args []string) (*seat.Seat, error) {
	s, err := sit(args)
	if err != nil {
		return nil, err
	}
	if l.faults != "" {
		c, problems := circuit.Read(s.View.File, s.Text)
		if err := problems.Err(); err != nil {
			return nil, err
		}
		if s.View.Faults, err = sheetLines(c, l.faults); err != nil {
			return nil, err
		}
	}
	if l.hide && len(s.View.Faults) == 0 {
		return nil, errors.New("--hide has nothing to hide: name a file of faults with --faults")
	}
	s.View.Hide = l.hide
	return s, nil
}
