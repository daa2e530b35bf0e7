package drawing

// This file keeps the pictures of the examples, in both sizes and themes, and the gallery beside the examples. Renew them with
// go test ./ui/drawing -update, and then look at them.

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what is now drawn into the golden files")

// golden holds a text against its file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v: run go test ./ui/drawing -update and look at it", err)
	}
	if got != string(want) {
		t.Errorf("%s is drawn otherwise now: run go test ./ui/drawing -update and look at it", file)
	}
}

// unused fails on golden files that no test has asked for.
func unused(t *testing.T, pattern string, asked map[string]bool) {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		t.Fatalf("there is nothing at %s", pattern)
	}
	for _, file := range files {
		if asked[file] {
			continue
		}
		if *update {
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
			continue
		}
		t.Errorf("%s belongs to no example", file)
	}
}

func sheetsOf(t *testing.T, l *Layout, s Showing, sheet int) string {
	t.Helper()
	var b strings.Builder
	if err := l.WriteSVG(&b, s, sheet); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// On a page in light, in a small window in dark: the paper's colour says the rest.
func TestGoldens(t *testing.T) {
	asked := map[string]bool{}
	for _, name := range examples(t) {
		for _, as := range []struct {
			ending string
			o      Options
			theme  Theme
		}{{"page-light", page, Light}, {"small-dark", small, Dark}} {
			file := filepath.Join("testdata", name+"-"+as.ending+".svg")
			asked[file] = true
			golden(t, file, sheetsOf(t, laidOut(t, name, as.o), Showing{Theme: as.theme}, 0))
		}
	}
	for ending, theme := range map[string]Theme{"page-dark": Dark, "page-shown": Light} {
		file := filepath.Join("testdata", "orchard-sprayer-"+ending+".svg")
		asked[file] = true
		s := Showing{Theme: theme}
		if ending == "page-shown" {
			s = sprayerUnderTest()
		}
		golden(t, file, sheetsOf(t, laidOut(t, "orchard-sprayer", page), s, 0))
	}
	unused(t, filepath.Join("testdata", "*.svg"), asked)
}

// sprayerUnderTest is the lesson of the orchard sprayer: the controller unplugged, a lamp in its place, its ground lost.
func sprayerUnderTest() Showing {
	const amps = 2.9
	s := Showing{Gauges: true, Positions: map[string]string{"KEY": "run"}, Apart: map[string]bool{"PC1": true}, LeadA: "PC1.1", LeadB: "PC1.8",
		Bad: map[string]bool{"C14.4": true}, Amps: map[string]float64{}, Path: map[string]bool{"F1": true, "F7": true},
		Levels: map[string]Level{"PC1.1": {Now: 0.97, Healthy: 0.98}, "PC1.8": {Now: 0.42, Healthy: 0.02, Alert: true},
			"C14.4.a": {Now: 0.42, Healthy: 0.02, Alert: true}, "C14.4.b": {Now: 0.01, Healthy: 0.01}}}
	for _, wire := range []string{"W1", "W2", "W7", "W14", "W21", "W22", "W23", "W30"} {
		s.Amps[wire], s.Path[wire] = amps, true
	}
	return s
}

// The gallery shows every example with its complaint and its lesson.
func TestGallery(t *testing.T) {
	folder := filepath.Join("..", "..", "circuits")
	asked := map[string]bool{}
	var b strings.Builder
	b.WriteString("# The example circuits\n\nEach is drawn by `underload draw NAME`. All vehicles are invented. A ground stud may be drawn more than once under its one name, so that no line is crossed on the way to it; it is one stud all the same. A thin black line is metal on metal, without a wire. This page is made by `go test ./ui/drawing -update`.\n")
	for _, name := range examples(t) {
		l := laidOut(t, name, page)
		c := l.Circuit
		fmt.Fprintf(&b, "\n## %s\n\n`%s`\n\n> %s\n\n%s\n\n", c.Title, name, c.Complaint, c.Teaches)
		for i := range l.Sheets {
			file := name + ".svg"
			if len(l.Sheets) > 1 {
				file = fmt.Sprintf("%s-%d.svg", name, i+1)
			}
			asked[filepath.Join(folder, "gallery", file)] = true
			golden(t, filepath.Join(folder, "gallery", file), sheetsOf(t, l, Showing{}, i+1))
			caption := c.Title
			if len(l.Sheets) > 1 {
				caption = fmt.Sprintf("%s, sheet %d of %d", c.Title, i+1, len(l.Sheets))
			}
			fmt.Fprintf(&b, "![%s](gallery/%s)\n", caption, file)
		}
	}
	golden(t, filepath.Join(folder, "GALLERY.md"), b.String())
	unused(t, filepath.Join(folder, "gallery", "*.svg"), asked)
}
