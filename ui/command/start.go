package command

// This file begins a run on a desktop or a server.

import (
	"os"
	"time"

	"underload/ui/screen"
)

// Main runs the program with its own arguments and gives its exit status.
func Main() int {
	return Run(os.Args[1:], Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Colour: showsColour(os.Stdout),
		Braille: showsBraille(os.Stdout), Terminal: isTerminal(os.Stdout), Display: screen.HasDisplay(),
		ErrTerminal: isTerminal(os.Stderr), Now: time.Now})
}
