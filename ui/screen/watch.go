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
	watch(path, stop, tick.C, saved)
}

func watch(path string, stop <-chan struct{}, look <-chan time.Time, saved func(text []byte)) {
	known, _ := stampOf(path)
	for {
		select {
		case <-stop:
			return
		case <-look:
		}
		now, there := stampOf(path)
		if !there || now == known {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			continue
		}
		known = now
		saved(text)
	}
}
