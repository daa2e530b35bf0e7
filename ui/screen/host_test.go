//go:build !js

package screen

// This file tries what the desktop offers without a window: files that are saved, and files that are watched.

import (
	"os"
	"path/filepath"
	"testing"
)

func TestSaveNeverOverwrites(t *testing.T) {
	folder := t.TempDir()
	for i, want := range []string{"bench.svg", "bench-2.svg", "bench-3.svg"} {
		path, err := save(folder, "../bench.svg", []byte{byte(i)})
		if err != nil || path != filepath.Join(folder, want) {
			t.Fatalf("saved as %s (%v), want %s", path, err, want)
		}
	}
	for i, name := range []string{"bench.svg", "bench-2.svg", "bench-3.svg"} {
		if text, err := os.ReadFile(filepath.Join(folder, name)); err != nil || len(text) != 1 || text[0] != byte(i) {
			t.Errorf("%s holds %v (%v)", name, text, err)
		}
	}
	if _, err := save(filepath.Join(folder, "none"), "bench.svg", nil); err == nil {
		t.Error("saved into a folder that is not there")
	}
}

// A file that is written anew is told once, one that is gone for a moment is waited for, and so is one that another is
// put in place of.
func TestWatch(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.yaml")
	write := func(path, text string) {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(path, "one")
	w := watching(path)
	for _, step := range []struct {
		what string
		do   func()
		told string
	}{
		{"nothing is done", func() {}, ""},
		{"it is saved", func() { write(path, "two, longer") }, "two, longer"},
		{"nothing more is done", func() {}, ""},
		{"it is gone", func() { os.Remove(path) }, ""},
		{"it is there again", func() { write(path, "three, longer still") }, "three, longer still"},
		{"another is put in its place", func() {
			write(path+".new", "four")
			if err := os.Rename(path+".new", path); err != nil {
				t.Fatal(err)
			}
		}, "four"},
		{"nothing more is done", func() {}, ""},
	} {
		step.do()
		text, _ := w.look()
		if got := string(text); got != step.told {
			t.Errorf("%s: told %q, want %q", step.what, got, step.told)
		}
	}
}
