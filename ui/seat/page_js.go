package seat

// This file sits a person down at the circuit that a browser's page brings.

import (
	"fmt"
	"os"

	"underload/ui/screen"
)

// Page shows the page's circuit and gives the program's exit status.
func Page() int {
	name, text, options := screen.Page()
	options.File = name
	s := &Seat{Text: text, View: options}
	if err := s.Show(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}
