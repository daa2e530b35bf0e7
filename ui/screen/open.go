package screen

// This file takes what comes from outside: another circuit, a log, faults.

import (
	"path"
	"strings"

	"underload/ui/view"
)

// open takes a file; where it has a path, that is where it lies on this machine. A circuit becomes a new view, all else is
// the view's own.
func (g *game) open(name, file string, data []byte) {
	switch strings.ToLower(path.Ext(name)) {
	case ".yaml", ".yml":
	default:
		g.view.Open(name, data)
		return
	}
	v, err := g.options.Open(name, data)
	if err != nil {
		g.view.Reload(nil, err.Error())
		return
	}
	g.host.rests() // the work on the circuit before is kept
	g.view, g.painted = v, nil
	g.opened = Opened{Name: name, Path: file}
	if g.size[0] > 0 {
		v.Resize(g.size[0], g.size[1])
	}
	g.host.shown()
}

// fetch opens what stands on the shelf.
func (g *game) fetch(s view.Shelved) {
	beside := g.opened.Path
	if beside == "" {
		beside = g.options.Circuit.Path
	}
	at, text, err := g.options.Fetch(s, beside)
	if err != nil {
		g.view.Tell("It cannot be opened: " + err.Error() + ".")
		return
	}
	name := s.Name
	if s.Example {
		name += ".yaml"
	}
	g.open(name, at, text)
}

// reread hands the present text of the circuit's file to its view, unless another circuit is in the window by now.
func (g *game) reread(of Opened, text []byte) {
	if of == g.opened {
		g.options.Reread(g.view, of.Name, text)
	}
}
