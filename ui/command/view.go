package command

// This file is view: the bench in a window; and what is done where no command is given.

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"underload/ui/screen"
)

func viewCommand(surroundings Streams) *cobra.Command {
	var l laid
	cmd := &cobra.Command{
		Use: "view [FILE] [--faults FILE[#ID]] [--hide]", Short: "Open the bench in a window: place the leads, load, see where volts go",
		Long: paragraphs("Opens a circuit in a window: the drawing, the instruments, the drop staircase, the scope. F1 lists the keys; the space bar lets time run. While it is open the file is watched: save it in an editor, and the drawing follows.",
			"--faults lays faults over the circuit: a file as the view saves it, or a fault of an example's sheet. With --hide they are not shown and cannot be changed: hand the seat to a trainee.",
			"Without FILE it opens an example."),
		Args:              between(0, "FILE"),
		ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := l.sit(args)
			if err != nil {
				return err
			}
			if !surroundings.Display {
				return errors.New("there is no display to open a window on: underload serve shows the same in a browser")
			}
			return s.Show()
		},
	}
	l.flags(cmd)
	return cmd
}

// noCommand opens the window where there is a display; otherwise it serves to a browser where a person sits at a
// terminal, and tells the story where what is written goes into a file or to another program.
func noCommand(p *page, surroundings Streams) error {
	s, err := sit(nil)
	if err != nil {
		return err
	}
	if surroundings.Display {
		err := s.Show()
		if !errors.Is(err, screen.ErrNoWindow) {
			return err
		}
		fmt.Fprintf(surroundings.Err, "underload: %v\n", err)
	}
	if !surroundings.Terminal {
		return tellStory(p)
	}
	return serve(s, surroundings, serving{listen: usualListen})
}
