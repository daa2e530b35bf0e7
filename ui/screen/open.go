package screen

// This file takes what comes from outside: another circuit, a log, faults, and a circuit file that was saved anew.

import (
	"path"
	"strings"

	"underload/ui/view"
)

// open takes a file: a circuit becomes a new view, all else is the view's own.
func (g *game) open(name string, data []byte) {
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
	g.show(v, name)
}

// show puts another view into the window.
func (g *game) show(v *view.View, name string) {
	g.view, g.painted = v, nil
	if g.size[0] > 0 {
		v.Resize(g.size[0], g.size[1])
	}
	g.host.shown(name)
}
