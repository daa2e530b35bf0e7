// Package seat takes a person to the bench: it opens a circuit's view in a window, or in the browser's page that brings
// the circuit, and follows the circuit's file.
package seat

// This file is a circuit that somebody sits down at.

import (
	"strconv"
	"strings"

	"underload/circuit"
	"underload/ui/screen"
	"underload/ui/view"
)

// Seat is a circuit, and how it is to be seen.
type Seat struct {
	Path string // of the circuit's file, watched; empty: an example, which never changes
	Text []byte // of the file
	View view.Options
}

// Show opens the view and comes back when it is closed. It has to be called from main's own goroutine, once in a process.
func (s *Seat) Show() error {
	s.View.Shelf = s.shelf
	s.wish()
	v, err := open(s.View.File, s.Text, s.View)
	if err != nil {
		return err
	}
	return screen.Run(v, screen.Options{
		Circuit: screen.Opened{Name: s.View.File, Path: s.Path, Case: s.caseName()},
		Work:    workFolder(),
		Open: func(name string, text []byte) (*view.View, error) {
			o := s.View
			o.Faults, o.Hide = nil, false // they belong to the circuit that was opened first
			return open(name, text, o)
		},
		Reread: reread,
		Fetch:  fetch,
	})
}

// caseName is another for other faults.
func (s *Seat) caseName() string {
	if len(s.View.Faults) == 0 {
		return ""
	}
	return strings.Join(s.View.Faults, "\n") + strconv.FormatBool(s.View.Hide)
}

// open makes the view of a circuit's text.
func open(name string, text []byte, o view.Options) (*view.View, error) {
	c, problems := circuit.Read(name, text)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	o.File = name
	return view.New(c, o)
}

// reread shows what the file has become: the circuit, or what is wrong with it over the last good drawing.
func reread(v *view.View, name string, text []byte) {
	c, problems := circuit.Read(name, text)
	if err := problems.Err(); err != nil {
		v.Reload(nil, err.Error())
		return
	}
	v.Reload(c, "")
}
