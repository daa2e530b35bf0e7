package screen

// This file is what a browser's page offers a view. The page's own script (ui/web) holds the other end of each name
// that is used here.

import (
	"encoding/json"
	"syscall/js"

	"underload/ui/view"
)

const (
	waits = false // the browser paces its pages, and sleeping would stop all of it
	notch = 1.0   // the wheel is told in px
)

// host is the page around a game.
type host struct {
	game  *game
	said  string
	focus string
	kept  string // the work as the browser has it
}

func newHost(g *game) *host { return &host{game: g} }

// page is the object through which the page's script and the program know each other.
func page() js.Value { return js.Global().Get("underload") }

// woken tells the page, which holds frames back while nothing happens.
func woken() { page().Call("wake") }

// begin gives the page what it may call.
func (h *host) begin() {
	offer := func(name string, do func(args []js.Value) any) {
		page().Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return do(args) }))
	}
	later := func(do func()) any {
		go h.game.tell(do)
		return nil
	}
	offer("report", func([]js.Value) any {
		report, err := json.Marshal(h.game.view.Report())
		if err != nil {
			return err.Error()
		}
		return string(report)
	})
	offer("saved", func(args []js.Value) any { // the file that is served was saved anew
		text := []byte(args[0].String())
		return later(func() { h.game.reread(h.game.options.Circuit, text) })
	})
	offer("open", func(args []js.Value) any { // name, bytes
		name, data := args[0].String(), make([]byte, args[1].Length())
		js.CopyBytesToGo(data, args[1])
		return later(func() { h.game.open(name, "", data) })
	})
	offer("theme", func(args []js.Value) any {
		dark := args[0].Bool()
		return later(func() { h.game.view.SetTheme(Theme(dark)) })
	})
	offer("look", func([]js.Value) any { return later(func() { h.game.painted = nil }) })
	h.restore()
	fromPage.listen()
	page().Call("ready")
}

// painted tells the page what a person who cannot see it has to hear.
func (h *host) painted() {
	if said := h.game.view.Said(); said != h.said {
		h.said = said
		page().Call("said", said)
	}
	report := h.game.view.Report()
	if report.Focus == h.focus {
		return
	}
	h.focus = report.Focus
	words := report.Focus
	for _, c := range report.Controls {
		if c.ID == report.Focus {
			words = c.Label
			if c.Off != "" {
				words += ". " + c.Off
			}
		}
	}
	page().Call("focused", words)
}

// rests keeps the work in the browser's storage.
func (h *host) rests() {
	if work := string(h.game.view.Session()); work != h.kept {
		h.kept = work
		page().Call("keep", work)
	}
}

func (h *host) shown() {
	page().Call("shown", h.game.opened.Name)
	h.restore()
}

// restore brings back the work that the browser has kept on the circuit that is shown.
func (h *host) restore() {
	if kept := page().Call("kept"); kept.Type() == js.TypeString {
		if err := h.game.view.Restore([]byte(kept.String())); err != nil {
			page().Call("say", err.Error())
		}
	}
	h.kept = string(h.game.view.Session())
}

func (h *host) want(w view.Want) {
	switch w.Kind {
	case view.CopyText:
		page().Call("copy", w.Text)
	case view.SaveFile:
		data := js.Global().Get("Uint8Array").New(len(w.Data))
		js.CopyBytesToJS(data, w.Data)
		page().Call("save", w.Name, data)
	case view.OpenFile:
		page().Call("choose", w.Text)
	}
}
