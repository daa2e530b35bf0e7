package screen

// This file hands sounds to the page, which plays them.

import (
	"syscall/js"

	"underload/ui/view"
)

func (h *host) play(sound view.Sound) {
	made := samples(sound)
	data := js.Global().Get("Uint8Array").New(len(made))
	js.CopyBytesToJS(data, made)
	page().Call("play", data, hertz)
}
