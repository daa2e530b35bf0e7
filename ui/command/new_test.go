package command

// The dialogue of new: whole talks as a person would see them, what is left when it is broken off, and that nothing is
// ever written over.

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/circuit"
)

// talk runs new in an empty folder with these lines typed, and gives what was seen and the files that are left.
func talk(t *testing.T, typed string, args ...string) (seen string, status int, files map[string]string) {
	t.Helper()
	t.Chdir(t.TempDir())
	return talkHere(t, typed, args...)
}

func talkHere(t *testing.T, typed string, args ...string) (seen string, status int, files map[string]string) {
	t.Helper()
	var page bytes.Buffer
	status = Run(append([]string{"new"}, args...), Streams{In: strings.NewReader(typed), Out: &page, Err: &page})
	files = map[string]string{}
	names, err := filepath.Glob("*")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = string(data)
	}
	return page.String(), status, files
}

// talks are whole dialogues; each is kept in testdata/new.
var talks = map[string]struct{ typed, file string }{
	"all-usual": {strings.Repeat("\n", 21), "vehicle.yaml"},
	"module": {strings.Join([]string{
		"the harvest trailer", "the tipping controller", "", "TIP", "A1", "F4", "15", "C14.3, C15.1", "y", "A2", "F9", "7.5 A", "",
		"B8", "C14.6", "S2", "G4", "left side rail", "E5 21 W, M2 6 A", "1.4 A", "",
	}, "\n") + "\n", "harvest-trailer.yaml"},
	"lamp-with-slips": {strings.Join([]string{
		"<", "a street-lamp trailer", "the mast lamp", "candle", "lamp", "E 1", "E1", "F1", "ten", "10", "C1", "C1.1", "<", "none", "",
		"none", "F1", "S1", "G1", "mast foot", "none", "10 kW", "200 W", "55", "my lamp",
	}, "\n") + "\n", "my lamp.yaml"},
}

func TestTalks(t *testing.T) {
	home, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range talks {
		t.Run(name, func(t *testing.T) {
			seen, status, files := talk(t, c.typed)
			if status != done || len(files) != 1 || files[c.file] == "" {
				t.Fatalf("status %d, files %v\n%s", status, files, seen)
			}
			if read, problems := circuit.Read(c.file, []byte(files[c.file])); read == nil || len(problems) > 0 {
				t.Errorf("%v", problems)
			}
			t.Chdir(home)
			golden(t, filepath.Join("new", name), seen+"=== "+c.file+" ===\n"+files[c.file])
		})
	}
	kept, err := filepath.Glob(filepath.Join(home, "testdata", "new", "*.golden"))
	if err != nil || len(kept) != len(talks) {
		t.Errorf("%d files in testdata/new for %d talks (%v)", len(kept), len(talks), err)
	}
}

// A talk that breaks off anywhere leaves nothing behind.
func TestLeavingHalfWay(t *testing.T) {
	for lines := range 21 {
		for _, half := range []string{"", "half a li"} {
			seen, status, files := talk(t, strings.Repeat("\n", lines)+half)
			if lines == 20 && half != "" { // it is the file's name, typed without Enter
				continue
			}
			if status != refused || len(files) > 0 || !strings.Contains(seen, "nothing was written") {
				t.Errorf("after %d answers: status %d, files %v\n%s", lines, status, files, seen)
			}
		}
	}
}

func TestNothingIsWrittenOver(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("vehicle.yaml", []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		typed, says, made string
		args              []string
	}{
		{strings.Repeat("\n", 21), "[vehicle-2.yaml]", "vehicle-2.yaml", nil},
		{strings.Repeat("\n", 20) + "vehicle.yaml\nvehicle\nno/such/folder.yaml\nother\n", "vehicle.yaml is there already", "other.yaml", nil},
		{"", "vehicle.yaml is there already", "", []string{"-o", "vehicle.yaml"}},
		{"", "vehicle.yaml is there already", "", []string{"--pattern", "network", "-o", "vehicle.yaml"}},
		{"", "cannot be written", "", []string{"--pattern", "network", "-o", "no/such.yaml"}},
		{strings.Repeat("\n", 20) + "no\n<\n?\ny\n", "Enter writes it", "named.yaml", []string{"-o", "named.yaml"}},
		{"", "Next: change", "net.yaml", []string{"--pattern", "network", "-o", "net.yaml"}},
	} {
		before, _ := filepath.Glob("*")
		seen, status, files := talkHere(t, c.typed, c.args...)
		if files["vehicle.yaml"] != "mine" {
			t.Fatalf("%v wrote over a file", c.args)
		}
		want := len(before)
		if c.made != "" {
			want++
		}
		if !strings.Contains(seen, c.says) || len(files) != want || (status == done) != (c.made != "") || c.made != "" && files[c.made] == "" {
			t.Errorf("%v: status %d, files %d, want %d\n%s", c.args, status, len(files), want, seen)
		}
	}
}

func TestEndlessAnswer(t *testing.T) {
	seen, status, files := talk(t, strings.Repeat("x", 1_000_000))
	if status != refused || len(files) > 0 || !strings.Contains(seen, "longer than anything") {
		t.Errorf("status %d: %.200s", status, seen)
	}
}

// Back from the end to the beginning, then on: the answers are kept.
func TestBackToTheBeginning(t *testing.T) {
	typed := "a bus\nthe door controller\n" + strings.Repeat("\n", 18) + strings.Repeat("<\n", 30) + strings.Repeat("\n", 21)
	seen, status, files := talk(t, typed)
	if status != done || !strings.Contains(files["bus.yaml"], "title: A bus, the door controller is silent") {
		t.Errorf("status %d\n%s", status, seen)
	}
	if !strings.Contains(seen, "This is the first question") {
		t.Errorf("the first question is not told:\n%s", seen)
	}
}
