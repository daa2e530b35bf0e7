package screen

// This file asks the page what the person's browser is like, and which circuit it brings.

import (
	"syscall/js"

	"underload/ui/drawing"
	"underload/ui/view"
)

// Theme is the drawing's word for it.
func Theme(dark bool) drawing.Theme {
	if dark {
		return drawing.Dark
	}
	return drawing.Light
}

// Page is the circuit that the page brings, and options as the person's browser has them.
func Page() (name string, text []byte, o view.Options) {
	prefers := func(query string) bool {
		return js.Global().Call("matchMedia", query).Get("matches").Bool()
	}
	name, text = page().Get("name").String(), []byte(page().Get("text").String())
	var faults []string
	for i := range page().Get("faults").Length() {
		faults = append(faults, page().Get("faults").Index(i).String())
	}
	return name, text, view.Options{File: name, Faults: faults, Hide: page().Get("hide").Bool(), Theme: Theme(prefers("(prefers-color-scheme: dark)")), Touch: prefers("(pointer: coarse)"),
		Chooser: true, ReducedMotion: prefers("(prefers-reduced-motion: reduce)")}
}
