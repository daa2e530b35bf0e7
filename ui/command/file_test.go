package command

// This file holds the picture's file, the examples and completion to what is promised of them.

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/schema"
	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/meter"
)

func TestPicture(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "stairs.svg")
	for range 2 { // the second time it is overwritten
		out, said, status := run(on("staircase", "--part", "PC1", "--svg", file)...)
		if status != done || !strings.Contains(out, file) {
			t.Fatal(status, said)
		}
		drawn, err := os.ReadFile(file)
		if err != nil || !bytes.HasPrefix(drawn, []byte("<svg ")) || !bytes.HasSuffix(drawn, []byte("</svg>\n")) {
			t.Fatalf("%v: %.80s", err, drawn)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("%d files are left beside the picture", len(left)-1)
	}
	if out, _, _ := run(on("staircase", "--part", "PC1", "--json", "--svg", file)...); !strings.HasPrefix(out, "{") || !strings.HasSuffix(out, "}\n") {
		t.Error("beside a picture, JSON is no longer JSON alone")
	}
}

// What is refused leaves the file that was there as it was.
func TestPictureRefused(t *testing.T) {
	dir := t.TempDir()
	circuitFile, picture := filepath.Join(dir, "mine.yaml"), filepath.Join(dir, "old.svg")
	for _, file := range []string{circuitFile, picture} {
		if err := os.WriteFile(file, []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		on("staircase", "--part", "PC1", "--svg", circuitFile),
		on("staircase", "--part", "PC2", "--svg", picture),
		on("staircase", "--part", "PC1", "--svg", filepath.Join(dir, "none", "new.svg")),
	} {
		if out, _, status := run(args...); status != refused || out != "" {
			t.Errorf("%v: status %d, wrote %q", args, status, out)
		}
	}
	for _, file := range []string{circuitFile, picture} {
		if got, err := os.ReadFile(file); err != nil || string(got) != "mine" {
			t.Errorf("%s is now %q (%v)", file, got, err)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) != 2 {
		t.Errorf("%d files are left", len(left))
	}
}

func TestExamplesCanBeCopied(t *testing.T) {
	names := circuits.Names()
	if len(names) == 0 {
		t.Fatal("no examples")
	}
	for _, name := range names {
		out, _, status := run("example", name)
		source, err := circuits.Source(name)
		if err != nil || status != done || out != string(source) {
			t.Errorf("%s: status %d (%v)", name, status, err)
		}
		copied := filepath.Join(t.TempDir(), "my.yaml")
		if err := os.WriteFile(copied, []byte(out), 0o644); err != nil {
			t.Fatal(err)
		}
		if told, _, status := run("check", copied); status != done {
			t.Errorf("%s does not stand the check: %s", name, told)
		}
	}
}

// A file of the same name goes before the example.
func TestFileBeforeExample(t *testing.T) {
	small, err := os.ReadFile("testdata/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("orchard-sprayer", small, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, _, _ := run("check", "orchard-sprayer"); !strings.Contains(out, "A cab lamp on a fuse") {
		t.Errorf("the file is not read: %s", out)
	}
}

// Every line that faults offers can be laid.
func TestOfferedFaultsCanBeLaid(t *testing.T) {
	for _, name := range circuits.Names() {
		c, err := circuits.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		lines := 0
		for _, place := range fault.Places(c) {
			told := &page{Buffer: &bytes.Buffer{}}
			if err := faultsAt(told, c, place); err != nil {
				t.Fatal(err)
			}
			out := told.String()
			for line := range strings.SplitSeq(out, "\n") {
				_, rest, ok := strings.Cut(line, `--fault "`)
				if !ok {
					continue
				}
				text, _, _ := strings.Cut(rest, `"`)
				lines++
				if _, err := fault.Parse(c, text); err != nil {
					t.Errorf("%s offers %q: %v", place, text, err)
				}
			}
			conditions, err := fault.Conditions(c, place)
			if offered := strings.Count(out, "--fault"); err != nil || offered < len(conditions)-1 { // swapped or stuck may want a neighbour that is not there
				t.Errorf("%s offers %d of %d (%v)", place, offered, len(conditions), err)
			}
		}
		if lines < 100 {
			t.Errorf("%s: only %d lines", name, lines)
		}
	}
}

// suggest asks as a shell does when the tab key is hit.
func suggest(t *testing.T, args ...string) []string {
	t.Helper()
	out, said, status := run(append([]string{"__complete"}, args...)...)
	if status != done {
		t.Fatal(said)
	}
	var words []string
	for line := range strings.SplitSeq(out, "\n") {
		if word, _, _ := strings.Cut(line, "\t"); word != "" && !strings.HasPrefix(word, ":") {
			words = append(words, word)
		}
	}
	return words
}

func TestCompletion(t *testing.T) {
	instruments, _ := meter.Instruments()
	var points []string
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Points() {
		points = append(points, p.Name)
	}
	for _, row := range []struct {
		args []string
		want []string
	}{
		{[]string{"pro"}, []string{"probe"}},
		{[]string{"probe", "orch"}, []string{"orchard-sprayer"}},
		{[]string{"check", "orchard-sprayer", "orch"}, []string{"orchard-sprayer"}},
		{[]string{"example", ""}, circuits.Names()},
		{[]string{"probe", "orchard-sprayer", "--with", ""}, instruments},
		{[]string{"probe", "orchard-sprayer", "--red", ""}, points},
		{[]string{"probe", "orchard-sprayer", "--black", "PC1.8"}, []string{"PC1.8", "PC1.8.pin"}},
		{[]string{"probe", "orchard-sprayer", "--set", "KEY="}, []string{"KEY=acc", "KEY=crank", "KEY=off", "KEY=run"}},
		{[]string{"probe", "orchard-sprayer", "--set", "F7="}, []string{"F7=in", "F7=out"}},
		{[]string{"probe", "orchard-sprayer", "--set", "M1="}, []string{"M1=off", "M1=on"}},
		{[]string{"probe", "orchard-sprayer", "--apart", "C"}, []string{"C14"}},
		{[]string{"probe", "orchard-sprayer", "--apart", "B"}, []string{"B1"}},
		{[]string{"probe", "orchard-sprayer", "--fault", "C14.4"}, []string{"C14.4"}},
		{[]string{"probe", "orchard-sprayer", "--fault", "C14.4 sp"}, []string{"C14.4 spread"}},
		{[]string{"probe", "orchard-sprayer", "--act", "repair C14.4"}, []string{"repair C14.4"}},
		{[]string{"probe", "orchard-sprayer", "--act", "reseat "}, []string{"reseat C14"}},
		{[]string{"probe", "orchard-sprayer", "--on", "W1"}, []string{"W1", "W14", "W11", "W10", "W12", "W15"}},
		{[]string{"staircase", "orchard-sprayer", "--part", "P"}, []string{"PC1"}},
		{[]string{"feeds", "orchard-sprayer", "K"}, []string{"KEY", "K2"}},
		{[]string{"faults", "orchard-sprayer", "C14.4"}, []string{"C14.4"}},
		{[]string{"faults", "orchard-sprayer", "m"}, []string{"m1", "m2", "m3", "m4", "m5"}},
		{[]string{"completion", "b"}, []string{"bash"}},
		{[]string{"help", "st"}, []string{"staircase", "story"}},
		{[]string{"probe", "nothing-like-it", "--red", ""}, nil},
		{[]string{"probe", "--red", ""}, nil},
		{[]string{"points", "orchard-sprayer", ""}, nil},
	} {
		got := suggest(t, row.args...)
		slices.Sort(got)
		want := slices.Sorted(slices.Values(row.want))
		if !slices.Equal(got, want) {
			t.Errorf("%q offers %q, want %q", row.args, got, want)
		}
	}
	if out, _, _ := run("__complete", "points", ""); !strings.HasPrefix(out, "yaml\nyml\n:8\n") { // 8: names of these endings
		t.Errorf("FILE is completed by %q", out)
	}
}

func TestShellScripts(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		out, said, status := run("completion", shell)
		if status != done || !strings.Contains(out, "__complete") || !strings.Contains(out, "underload") {
			t.Errorf("%s: status %d, %d bytes, %s", shell, status, len(out), said)
		}
	}
}

func TestSchema(t *testing.T) {
	if out, _, status := run("schema"); status != done || out != string(schema.JSON()) {
		t.Errorf("status %d, %d bytes", status, len(out))
	}
}

// A warning is told, and the file is sound for all that.
func TestWarning(t *testing.T) {
	c, problems := circuit.ReadFile("testdata/small.yaml")
	if c == nil || len(problems) > 0 {
		t.Fatal(problems)
	}
	warning := circuit.Problem{File: "small.yaml", Pos: circuit.Pos{Line: 4, Column: 3}, Warning: true, Text: "B1 is large", Hint: "That may be right"}
	told := &page{Buffer: &bytes.Buffer{}}
	sound := tell(told, "small.yaml", c, circuit.Problems{warning}, false)
	if want := "small.yaml:4:3: warning: B1 is large. That may be right\n\nA cab lamp on a fuse (small.yaml)\n"; !sound || !strings.HasPrefix(told.String(), want) {
		t.Errorf("sound %v, told %s", sound, told)
	}
}

// Names of any kind in a circuit file come out of a refusal in one line.
func TestOneSentenceOfManyErrors(t *testing.T) {
	_, problems := circuit.ReadFile("testdata/broken.yaml")
	if len(problems.Errors()) < 2 {
		t.Fatal("the broken file has one error only")
	}
	_, said, _ := run("points", "testdata/broken.yaml")
	if strings.Count(said, "\n") != 1 || !strings.Contains(said, "more: underload check testdata/broken.yaml") {
		t.Error(said)
	}
}

func TestCounted(t *testing.T) {
	for _, row := range []struct {
		n    int
		noun string
		want string
	}{{1, "relay", "1 relay"}, {2, "relay", "2 relays"}, {2, "battery", "2 batteries"}, {0, "switch", "0 switches"}, {3, "fuse", "3 fuses"}} {
		if got := counted(row.n, row.noun); got != row.want {
			t.Errorf("%q, want %q", got, row.want)
		}
	}
}

// Of many findings of one rule the first are told, and how many more there are; another rule is told in full.
func TestManyFindings(t *testing.T) {
	file := func(spare int) string {
		pins := make([]string, spare)
		for i := range pins {
			pins[i] = fmt.Sprint(100 + i)
		}
		name := filepath.Join(t.TempDir(), "many.yaml")
		text := "underload: 1\nparts:\n  B1: {is: battery}\n  F1: {is: fuse, rating: 7.5 A}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n" +
			"  U1: {is: module, supply: [1], ground: [2], signals: [" + strings.Join(pins, ", ") + "]}\n" +
			"paths:\n  a: [B1.pos, F1, wire, S1, wire, U1.1]\n  b: [U1.2, wire, B1.neg]\n  c: [F1.out, wire, SW, wire, S1]\n"
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return name
	}
	for spare, more := range map[int]string{20: "", 21: "and 1 more", 900: "and 880 more"} {
		name := file(spare)
		out, said, status := run("check", name)
		if told := strings.Count(out, ": warning: unused pin: "); status != done || told != 20 {
			t.Errorf("%d pins: status %d, %d told: %s", spare, status, told, said)
		}
		if more != "" && !strings.Contains(out, name+": unused pin: "+more+"\n") || more == "" && strings.Contains(out, " more") {
			t.Errorf("%d pins: %s", spare, out)
		}
		if strings.Count(out, "idle switch: SW") != 1 {
			t.Errorf("%d pins: the idle switch is not told: %s", spare, out)
		}
	}
}
