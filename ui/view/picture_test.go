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
// case, the others what they open with. Then those in time.
func TestPictures(t *testing.T) {
	drawn := map[string]bool{}
	picture := func(v *View, name string, sizes [][2]float64) {
		for _, size := range sizes {
			v.Resize(size[0], size[1])
			for theme, called := range map[drawing.Theme]string{drawing.Light: "light", drawing.Dark: "dark"} {
				v.SetTheme(theme)
				got, err := v.SVG()
				if err != nil {
					t.Fatal(err)
				}
				file := filepath.Join("testdata", fmt.Sprintf("%s-%.0f-%s.svg", name, size[0], called))
				drawn[file] = true
				golden(t, file, got)
			}
		}
	}
	prepare := map[string]func(v *View){
		"orchard-sprayer": func(v *View) { work(v); v.pickFault("C14.4"); v.note = "" },
		"street-sweeper":  func(v *View) { v.seat(Practise); v.note = "" },
	}
	for _, example := range circuits.Names() {
		v := open(t, example, Options{})
		if prepare[example] == nil {
			picture(v, example, sizes[1:3])
			continue
		}
		prepare[example](v)
		picture(v, example, sizes)
	}
	for _, moving := range inTime {
		v := open(t, moving.example, Options{Faults: moving.faults})
		moving.play(v)
		picture(v, moving.example+"-"+moving.what, sizes)
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

// inTime are windows while time is on the circuit: held, with a single shot on the scope, and running, with the staircase of
// the instant while the starter turns.
var inTime = []struct {
	example, what string
	faults        []string
	play          func(v *View)
}{
	{"orchard-sprayer", "scope", []string{looseGround}, func(v *View) {
		v.seat(Practise)
		v.placeLead(0, "PC1.1")
		v.placeLead(1, "PC1.8")
		v.showTab(tabScope)
		v.setTrigger(func(s *scope) { s.sweep, s.on, s.level, s.screen = 3, 1, 2, 4 })
		keys(v, "k")
		pass(v, 30)
		v.set("KEY=run")
		pass(v, 60)
		keys(v, "k")
		v.scopeNow().cursor = 0.6
	}},
	{"snow-groomer", "running", []string{"NEG.1 corroded 7 mohm"}, func(v *View) {
		v.seat(SetFaults)
		v.selectPick(pick{drawing.OnPart, "ST"})
		v.popped = false
		v.placeLead(0, "BATT.pos")
		v.placeLead(1, "BATT.neg")
		keys(v, "k")
		pass(v, 6)
		v.set("KEY=crank")
		pass(v, 60)
	}},
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
