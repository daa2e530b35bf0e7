package screen

// This file hears the page's touches itself: Ebiten only tells which fingers are down once a frame, so that one that is
// down for less would be lost.

import (
	"sync"
	"syscall/js"
)

// heard are the touches since they were last asked for, in their order: after each event, what was down.
type heard struct {
	mu   sync.Mutex
	all  [][]finger
	move bool // the last one was a move only, and the next move takes its place
}

// listen hears the canvas from now on, before Ebiten does, whose frame follows the event.
func (h *heard) listen() {
	canvas := js.Global().Get("document").Call("querySelector", "canvas")
	for _, kind := range []string{"touchstart", "touchmove", "touchend", "touchcancel"} {
		canvas.Call("addEventListener", kind, js.FuncOf(func(_ js.Value, args []js.Value) any {
			h.add(kind == "touchmove", touches(canvas, args[0].Get("targetTouches")))
			if kind == "touchcancel" { // the one that Ebiten does not hear
				go wake()
			}
			return nil
		}), map[string]any{"capture": true, "passive": true})
	}
}

// touches reads a list of touches, px from the canvas's corner.
func touches(canvas, list js.Value) []finger {
	corner := canvas.Call("getBoundingClientRect")
	var down []finger
	for i := range list.Length() {
		t := list.Index(i)
		down = append(down, finger{id: t.Get("identifier").Int(), x: t.Get("clientX").Float() - corner.Get("left").Float(), y: t.Get("clientY").Float() - corner.Get("top").Float()})
	}
	return down
}

func (h *heard) add(move bool, down []finger) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if move && h.move && len(h.all) > 0 {
		h.all[len(h.all)-1] = down
		return
	}
	h.all, h.move = append(h.all, down), move
}

func (h *heard) take() [][]finger {
	h.mu.Lock()
	defer h.mu.Unlock()
	all := h.all
	h.all = nil
	return all
}

var fromPage heard

func (in *input) touched() [][]finger { return fromPage.take() }
