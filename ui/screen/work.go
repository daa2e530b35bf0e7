//go:build !js

package screen

// This file keeps the work of a window in a folder of the person's own, a file a circuit, and offers it again.

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
)

// workFile is where the work on a circuit is kept; empty where none is.
func (h *host) workFile() string {
	if h.game.options.Work == "" {
		return ""
	}
	o := h.game.opened
	where := o.Path
	if full, err := filepath.Abs(where); err == nil && where != "" {
		where = full
	}
	sum := sha256.Sum256([]byte(where + "\n" + o.Name + "\n" + o.Case))
	return filepath.Join(h.game.options.Work, hex.EncodeToString(sum[:10])+".json")
}

// offerWork lets the view offer what was kept.
func (h *host) offerWork() {
	h.kept = string(h.game.view.Session()) // what is there at first is not worth keeping
	file := h.workFile()
	if file == "" {
		return
	}
	if text, err := os.ReadFile(file); err == nil {
		h.game.view.Offer(text)
	}
}

// keepWork writes the work down if it is another than before. The file is there as a whole or as it was.
func (h *host) keepWork() {
	file, work := h.workFile(), string(h.game.view.Session())
	if file == "" || work == h.kept || h.game.view.Offers() {
		return
	}
	h.kept = work
	if err := writeWork(file, work); err != nil {
		h.say("work not kept: " + err.Error())
	}
}

func writeWork(file, work string) error {
	folder := filepath.Dir(file)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	half, err := os.CreateTemp(folder, "half-*")
	if err != nil {
		return err
	}
	_, err = half.WriteString(work)
	if shut := half.Close(); err == nil {
		err = shut
	}
	if err == nil {
		err = os.Rename(half.Name(), file)
	}
	if err != nil {
		os.Remove(half.Name())
	}
	return err
}
