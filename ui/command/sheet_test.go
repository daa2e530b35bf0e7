package command

// Faults out of a sheet, an example's or one's own, and out of a plain list.

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
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
		{t.TempDir(), "it is not a file"},
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
