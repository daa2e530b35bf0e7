package screen

// This file watches a file for being saved.

import (
	"os"
	"time"
)

// glance is how often a file is looked at. A look asks for its size and time, no more.
const glance = 500 * time.Millisecond

// stamp is what changes when a file is saved.
type stamp struct {
	size int64
	time time.Time
}

// stampOf gives none for a file that is not there, as for a moment while an editor saves it.
func stampOf(path string) (stamp, bool) {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}, false
	}
	return stamp{info.Size(), info.ModTime()}, true
}

// Watch calls saved with the file's text each time the file has changed, until stop is closed.
func Watch(path string, stop <-chan struct{}, saved func(text []byte)) {
	tick := time.NewTicker(glance)
	defer tick.Stop()
	w := watching(path)
	for {
		select {
		case <-stop:
			return
		case <-tick.C:
		}
		if text, changed := w.look(); changed {
			saved(text)
		}
	}
}

// watched is a file as it was last seen.
type watched struct {
	path string
	seen stamp
}

func watching(path string) *watched {
	seen, _ := stampOf(path)
	return &watched{path, seen}
}

// look gives the file's text if it has changed since the last look. A file that is gone for a moment has not.
func (w *watched) look() (text []byte, changed bool) {
	now, there := stampOf(w.path)
	if !there || now == w.seen {
		return nil, false
	}
	text, err := os.ReadFile(w.path)
	if err != nil {
		return nil, false
	}
	w.seen = now
	return text, true
}
