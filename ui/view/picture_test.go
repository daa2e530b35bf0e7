package view

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"underload/circuits"
	"underload/ui/drawing"
)

var update = flag.Bool("update", false, "write the pictures anew")

// The whole window of every example, two sizes, two themes, and of two of them as small and as large as windows get;
// -update renews them, and one that no test draws fails. The sprayer shows the load test of its fault, the sweeper a blind
// case, the others what they open with.
func TestPictures(t *testing.T) {
	drawn := map[string]bool{}
	prepare := map[string]func(v *View){
		"orchard-sprayer": func(v *View) { work(v); v.pickFault("C14.4"); v.note = "" },
		"street-sweeper":  func(v *View) { v.seat(Practise); v.note = "" },
	}
	for _, example := range circuits.Names() {
		kept := [][2]float64{{1024, 700}, {1440, 900}}
		if prepare[example] != nil {
			kept = sizes
		}
		for _, size := range kept {
			for theme, name := range map[drawing.Theme]string{drawing.Light: "light", drawing.Dark: "dark"} {
				v := open(t, example, Options{Theme: theme})
				v.Resize(size[0], size[1])
				if prepare[example] != nil {
					prepare[example](v)
				}
				got, err := v.SVG()
				if err != nil {
					t.Fatal(err)
				}
				file := filepath.Join("testdata", fmt.Sprintf("%s-%.0f-%s.svg", example, size[0], name))
				drawn[file] = true
				golden(t, file, got)
			}
		}
	}
	kept, err := filepath.Glob("testdata/*.svg")
	if err != nil || len(kept) == 0 {
		t.Fatalf("no pictures are kept: %v", err)
	}
	for _, file := range kept {
		if !drawn[file] {
			t.Errorf("%s is drawn by no test: remove it", file)
		}
	}
}

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v: go test ./ui/view -update draws it", err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what is drawn now: look at it, then go test ./ui/view -update", file)
	}
}
