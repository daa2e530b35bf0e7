package command

// Faults out of a sheet, an example's or one's own, and out of a plain list.

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/circuits"
	"underload/sim/fault"
	"underload/sim/meter"
)

func sheetRun(t *testing.T, args ...string) (out, wrong string, status int) {
	t.Helper()
	var o, e bytes.Buffer
	status = Run(args, Streams{Out: &o, Err: &e})
	return o.String(), e.String(), status
}

func TestFaultsFlag(t *testing.T) {
	plain := filepath.Join(t.TempDir(), "wet.txt")
	if err := os.WriteFile(plain, []byte("# after the wash-down\nC14.4 spread 1.8 ohm\nF9 blown\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	probe := func(faults ...string) string {
		args := []string{"probe", "orchard-sprayer", "--set", "KEY=run", "--with", "volts", "--red", "PC1.8", "--black", "B1.neg"}
		out, wrong, status := sheetRun(t, append(args, faults...)...)
		if status != done {
			t.Fatalf("%v: %s", faults, wrong)
		}
		return out
	}
	one := probe("--fault", "C14.4 spread 1.8 ohm")
	if got := probe("--faults", "orchard-sprayer#m1"); got != one {
		t.Errorf("a fault of the sheet reads\n%s\nthe same line reads\n%s", got, one)
	}
	if got := probe("--faults", plain); got != probe("--fault", "C14.4 spread 1.8 ohm", "--fault", "F9 blown") {
		t.Errorf("a plain list reads\n%s", got)
	}
	for _, c := range []struct{ faults, want string }{
		{"orchard-sprayer#m9", "did you mean m1"},
		{"library-van#a1", `these are faults of "library-van"`},
		{plain + "#m1", "plain list"},
		{plain + "x", "there is no such file"},
		{t.TempDir(), ": is not a file"},
	} {
		out, wrong, status := sheetRun(t, "probe", "orchard-sprayer", "--faults", c.faults, "--with", "look")
		if status != refused || out != "" || !strings.Contains(wrong, c.want) {
			t.Errorf("%s: %d %s%s", c.faults, status, out, wrong)
		}
	}
	if out, wrong, status := sheetRun(t, "staircase", "orchard-sprayer", "--set", "KEY=run", "--faults", "orchard-sprayer#m1", "--part", "PC1"); status != done || !strings.Contains(out, "the faults of orchard-sprayer#m1") || strings.Contains(out, "spread") {
		t.Errorf("%d %s%s", status, out, wrong)
	}
}

func TestFaultsTellsAnEntry(t *testing.T) {
	out, wrong, status := sheetRun(t, "faults", "library-van", "a1")
	for _, want := range []string{"STEP.A8 spread 22 ohm", "Ordinary tests that it passes", "A good sequence, 30", "5. drag on STEP.A8"} {
		if status != done || !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s%s", want, out, wrong)
		}
	}
}

// What a sheet says of time can be tried as it is written: the run begins, and something comes of it.
func TestSheetsTellHowToTryIt(t *testing.T) {
	tried := 0
	for _, example := range circuits.Names() {
		c, err := circuits.Read(example)
		if err != nil {
			t.Fatal(err)
		}
		data, ok := circuits.Faults(example)
		if !ok {
			continue
		}
		instruments, _ := meter.Instruments()
		sheet, problems := fault.ReadSheet(c, example, data, instruments)
		if sheet == nil {
			t.Fatal(problems)
		}
		for _, left := range sheet.LeftOut {
			_, written, ok := strings.Cut(left.Because, "underload trace ")
			if !ok {
				continue
			}
			tried++
			args := []string{"trace"}
			for i, piece := range strings.Split(written, "\"") {
				if i%2 == 1 {
					args = append(args, piece)
				} else {
					args = append(args, strings.Fields(piece)...)
				}
			}
			r := traced(t, args...)
			noticed, moved := 0, 0.0
			for _, m := range r.Happened {
				if !m.Done {
					noticed++
				}
			}
			for _, c := range r.Channels {
				moved = max(moved, (c.Max-c.Min)/(c.Resolution+1e-3*c.Max))
			}
			if args[1] != example || noticed == 0 && moved < 20 {
				t.Errorf("%s: %q: %d things noticed, and nothing that is watched moves", example, written, noticed)
			}
		}
	}
	if tried < 9 {
		t.Errorf("only %d runs to try", tried)
	}
}

// A sheet of one's own is told as an example's is, and what is wrong with it is told at once.
func TestFaultsOfASheetOfOnesOwn(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	text, err := circuits.Source("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	circuit := write("mine.yaml", string(text))
	entries := func(lay, tells string) string {
		return "underload faults: 1\ncircuit: mine\nfaults:\n  x1:\n    says: the joint in the bulkhead is loose\n    headline: true\n    lay: [" + lay + "]\n    passes: []\n" +
			"    sequence:\n      - {with: roll-call, " + tells + ": PC1 is silent, minutes: 8}\n"
	}
	sheet, wrong := write("sheet.yaml", entries("C14.4 spread 1.8 ohm", "tells")), write("wrong.yaml", entries("C14.9 spread 1.8 ohm", "tell"))
	plain := write("plain.txt", "C14.4 spread\n")
	for _, c := range []struct {
		args   []string
		status int
		want   []string
	}{
		{[]string{circuit, "--faults", sheet}, done, []string{"What mine teaches (underload faults " + circuit, "x1  the joint in the bulkhead is loose (the complaint)", "C14.4 spread 1.8 ohm", "An in-line terminal's"}},
		{[]string{circuit, "x1", "--faults", sheet}, done, []string{"x1  the joint in the bulkhead is loose", "roll-call: PC1 is silent (8\u00a0min)"}},
		{[]string{circuit, "x2", "--faults", sheet}, refused, []string{"did you mean x1?"}},
		{[]string{circuit, "C14.4", "--faults", sheet}, done, []string{`--fault "C14.4 spread"`}},
		{[]string{circuit, "--faults", wrong}, refused, []string{"there is no C14.9 in this circuit", `no key "tell". Did you mean tells?`}},
		{[]string{circuit, "--faults", plain}, refused, []string{"it is a plain list of faults"}},
		{[]string{circuit, "--faults", plain + "x"}, refused, []string{"there is no such file"}},
		{[]string{"library-van", "a9"}, refused, []string{"did you mean a1?"}},
	} {
		out, errors, status := sheetRun(t, append([]string{"faults"}, c.args...)...)
		told := strings.Join(strings.Fields(out+errors), " ")
		for _, want := range c.want {
			if want = strings.Join(strings.Fields(want), " "); status != c.status || !strings.Contains(told, want) {
				t.Errorf("%v: %d, no %q in %s%s", c.args, status, want, out, errors)
			}
		}
	}
}
