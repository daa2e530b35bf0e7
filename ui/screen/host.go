//go:build !js

package screen

// This file is what a window on a desktop offers a view: clipboard, folder, and an eye on the circuit's file.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/atotto/clipboard"
	"github.com/hajimehoshi/ebiten/v2"

	"underload/ui/view"
)

const (
	waits = true // a round may sleep: nobody else needs its thread
	notch = 40.0 // logical px to a notch of the wheel
)

// woken is told that one more round was asked for; a window needs nothing more.
func woken() {}

// host is the desktop around a game.
type host struct {
	game *game
	stop chan struct{} // ends the watch over the circuit's file
	kept string        // the work as it was last kept

	speaker speaker
}

func newHost(g *game) *host { return &host{game: g} }

func (h *host) begin() {
	h.watch()
	h.offerWork()
}

// watch follows the file of the circuit that is in the window, and no other.
func (h *host) watch() {
	if h.stop != nil {
		close(h.stop)
		h.stop = nil
	}
	of := h.game.opened
	if of.Path == "" {
		return
	}
	h.stop = make(chan struct{})
	go Watch(of.Path, h.stop, func(text []byte) { h.game.tell(func() { h.game.reread(of, text) }) })
}

// painted is told of each picture; a window has nobody to hand it on to.
func (h *host) painted() {}

// rests is told when nothing has moved for a while.
func (h *host) rests() { h.keepWork() }

// shown is told that another circuit is in the window.
func (h *host) shown() {
	ebiten.SetWindowTitle(title(h.game.opened.Name))
	h.watch()
	h.offerWork()
}

// say tells something in the window's title, the one place that the window itself has for it.
func (h *host) say(words string) { ebiten.SetWindowTitle(title(h.game.opened.Name) + " – " + words) }

func (h *host) want(w view.Want) {
	switch w.Kind {
	case view.CopyText:
		go func() { // the clipboard belongs to another program, which may take its time
			err := clipboard.WriteAll(w.Text)
			h.game.tell(func() {
				if err != nil {
					h.say("not copied: " + err.Error())
				}
			})
		}()
	case view.SaveFile:
		path, err := save(h.folder(), w.Name, w.Data)
		if err != nil {
			h.say("not saved: " + err.Error())
			h.game.view.Tell("It could not be saved: " + err.Error() + ".")
			return
		}
		h.say("saved as " + path)
		h.game.view.Tell("Saved as " + path + ".")
	}
}

// folder is where things are saved: beside the circuit's file, else where the program was started.
func (h *host) folder() string {
	if h.game.opened.Path != "" {
		return filepath.Dir(h.game.opened.Path)
	}
	return filepath.Dir(h.game.options.Circuit.Path)
}

// save writes a file that was not there before, with a number added to its name where there was one, and gives its path.
func save(folder, name string, data []byte) (string, error) {
	name = filepath.Base(name)
	ending := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ending)
	for n := 1; ; n++ {
		path := filepath.Join(folder, name)
		if n > 1 {
			path = filepath.Join(folder, fmt.Sprintf("%s-%d%s", stem, n, ending))
		}
		file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = file.Write(data)
		return path, errors.Join(err, file.Close())
	}
}
