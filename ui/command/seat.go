package command

// This file finds the circuit that a person sits down at.

import (
	"os"
	"path/filepath"

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
