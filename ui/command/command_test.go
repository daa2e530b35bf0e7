package command

// This file runs the command tree in this process, and holds what it writes against golden files. Renew them with:
// go test ./ui/command -update

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
)

var update = flag.Bool("update", false, "write what is now said into the golden files")

func run(args ...string) (out, said string, status int) {
	var o, e bytes.Buffer
	status = Run(args, Streams{Out: &o, Err: &e})
	return o.String(), e.String(), status
}

const broken = "C14.4 spread 1.8 ohm"

// on puts the example with its fault on the bench, key on.
func on(command string, more ...string) []string {
	return append([]string{command, "orchard-sprayer", "--set", "KEY=run", "--fault", broken}, more...)
}

// goldens are the runs whose every word is kept: testdata/NAME.golden.
var goldens = map[string][]string{
	"no-command":         {},
	"story":              {"story"},
	"help-serve":         {"help", "serve"},
	"help-view":          {"help", "view"},
	"view-hidden":        {"view", "--hide"},
	"view-no-display":    {"view", "orchard-sprayer"},
	"serve-tls":          {"serve", "--tls", "cert.pem"},
	"help":               {"help"},
	"help-probe":         {"help", "probe"},
	"help-staircase":     {"staircase", "--help"},
	"check-example":      {"check", "orchard-sprayer"},
	"check-several":      {"check", "testdata/small.yaml", "testdata/broken.yaml", "testdata/empty-cavity.yaml", "testdata/none.yaml"},
	"check-odd":          {"check", "testdata/odd.yaml", "testdata/small.yaml"},
	"check-all":          {"check", "--all", "testdata/odd.yaml"},
	"check-empty-cavity": {"check", "testdata/empty-cavity.yaml"},
	"points":             {"points", "orchard-sprayer"},
	"points-json":        {"points", "testdata/small.yaml", "--json"},
	"feeds-module":       {"feeds", "orchard-sprayer", "PC1"},
	"feeds-motor":        {"feeds", "orchard-sprayer", "M1"},
	"feeds-relay":        {"feeds", "orchard-sprayer", "K2"},
	"feeds-json":         {"feeds", "orchard-sprayer", "PC1", "--json"},
	"feeds-battery":      {"feeds", "orchard-sprayer", "B1"},
	"faults":             {"faults", "orchard-sprayer"},
	"faults-cavity":      {"faults", "orchard-sprayer", "C14.4"},
	"faults-wire":        {"faults", "orchard-sprayer", "W7"},
	"faults-switch":      {"faults", "orchard-sprayer", "KEY"},
	"example":            {"example"},
	"new-pattern":        {"new", "--pattern", "relay-fed-load"},
	"help-new":           {"help", "new"},
	"help-draw":          {"draw", "--help"},
	"volts":              on("probe", "--with", "volts", "--red", "PC1.1", "--black", "PC1.8"),
	"test-lamp":          on("probe", "--apart", "PC1", "--with", "test-lamp", "--red", "PC1.1", "--black", "PC1.8"),
	"test-lamp-off":      {"probe", "orchard-sprayer", "--with", "test-lamp", "--red", "PC1.2", "--black", "B1.neg"},
	"load-lamp":          on("probe", "--apart", "PC1", "--with", "load-lamp", "--red", "PC1.1", "--black", "PC1.8"),
	"load-lamp-mended":   on("probe", "--apart", "PC1", "--act", "repair C14.4", "--with", "load-lamp", "--red", "PC1.1", "--black", "PC1.8"),
	"plain-load":         on("probe", "--apart", "PC1", "--with", "2.4 ohm", "--red", "PC1.1", "--black", "PC1.8"),
	"clamp":              on("probe", "--with", "clamp", "--on", "W21"),
	"drag":               on("probe", "--apart", "C14", "--with", "drag", "--red", "C14.4"),
	"look":               on("probe", "--with", "look"),
	"roll-call":          on("probe", "--with", "roll-call"),
	"roll-call-recorded": {"probe", "library-van", "--set", "KEY=run", "--fault", "STEP dead", "--with", "roll-call"},
	"any-reach":          on("probe", "--any-reach", "--with", "volts", "--red", "PC1.8.pin", "--black", "G2"),
	"cycling":            {"probe", "orchard-sprayer", "--set", "KEY=run", "--fault", "C14.4 spread 6 ohm", "--with", "volts", "--red", "PC1.8", "--black", "G2"},
	"cycling-lamp":       {"probe", "orchard-sprayer", "--set", "KEY=run", "--fault", "C14.4 spread 6 ohm", "--with", "test-lamp", "--red", "PC1.1", "--black", "PC1.8"},
	"probe-json":         on("probe", "--apart", "PC1", "--with", "load-lamp", "--red", "PC1.1", "--black", "PC1.8", "--json"),
	"staircase-lamp":     on("staircase", "--apart", "PC1", "--red", "PC1.1", "--black", "PC1.8"),
	"staircase-part":     on("staircase", "--part", "PC1"),
	"staircase-sound":    {"staircase", "orchard-sprayer", "--set", "KEY=run", "--part", "PC1"},
	"staircase-open":     {"staircase", "orchard-sprayer", "--set", "KEY=run", "--part", "PC1", "--fault", "W7 open"},
	"staircase-mended":   on("staircase", "--part", "PC1", "--act", "repair C14.4"),
	"staircase-one-fed":  {"staircase", "testdata/small.yaml", "--part", "E1"},
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is now\n%s\nwant\n%s", file, got, want)
	}
}

// asSeen is a run as a person sees it.
func asSeen(args []string) string {
	out, said, status := run(args...)
	var b strings.Builder
	b.WriteString("$ underload")
	for _, a := range args {
		if strings.Contains(a, " ") || a == "" {
			a = fmt.Sprintf("%q", a)
		}
		b.WriteString(" " + a)
	}
	fmt.Fprintf(&b, "\n%s%s[status %d]\n", out, said, status)
	return b.String()
}

func TestGoldens(t *testing.T) {
	for name, args := range goldens {
		t.Run(name, func(t *testing.T) { golden(t, name, asSeen(args)) })
	}
}

// A golden file that nothing writes proves nothing; a command that no golden file shows is not tested.
func TestGoldensAreUsedAndComplete(t *testing.T) {
	files, err := filepath.Glob("testdata/*.golden")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d golden files (%v)", len(files), err)
	}
	known := append(slices.Collect(maps.Keys(goldens)), refusals)
	for _, file := range files {
		if name := strings.TrimSuffix(filepath.Base(file), ".golden"); !slices.Contains(known, name) {
			t.Errorf("%s belongs to no test", file)
		}
	}
	shown := map[string]bool{"completion": true, "schema": true} // held against their makers below
	for _, args := range goldens {
		if len(args) > 0 {
			shown[args[0]] = true
		}
	}
	for _, name := range commandNames(tree(&page{Buffer: &bytes.Buffer{}}, Streams{})) {
		if !shown[name] {
			t.Errorf("no golden file shows the command %s", name)
		}
	}
}

// A line of the story, of a reading and of help's own words fits the narrowest terminal.
func TestWidth(t *testing.T) {
	for _, name := range []string{"story", "check-example", "feeds-module", "test-lamp", "load-lamp", "roll-call", "faults"} {
		out, _, _ := run(goldens[name]...)
		for n, line := range strings.Split(out, "\n") {
			if letters(line) > width {
				t.Errorf("%s, line %d is %d wide: %s", name, n+1, letters(line), line)
			}
		}
	}
}

func TestColourOnlyWhereAsked(t *testing.T) {
	for _, colour := range []bool{false, true} {
		var out bytes.Buffer
		if status := Run(nil, Streams{Out: &out, Err: io.Discard, Colour: colour}); status != done {
			t.Fatal(status)
		}
		if got := strings.Contains(out.String(), "\x1b["); got != colour {
			t.Errorf("colour asked %v, escapes %v", colour, got)
		}
	}
	file, err := os.CreateTemp(t.TempDir(), "")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if showsColour(file) {
		t.Error("a file is taken for a terminal")
	}
	t.Setenv("NO_COLOR", "1")
	if terminal, err := os.Open(os.DevNull); err == nil && showsColour(terminal) { // a character device like a terminal
		t.Error("NO_COLOR is not respected")
	}
}

// keys are the names that scripts rely on.
func keys(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
}

func TestJSONKeys(t *testing.T) {
	missing := func(what string, has map[string]any, wanted ...string) {
		for _, key := range wanted {
			if _, ok := has[key]; !ok {
				t.Errorf("%s has no key %q", what, key)
			}
		}
	}
	var reading map[string]any
	out, _, _ := run(goldens["probe-json"]...)
	keys(t, out, &reading)
	missing("a reading", reading, "instrument", "red", "black", "value", "unit", "resolution", "uncertainty", "healthy",
		"amps", "light_percent", "seen", "healthy_seen", "effect", "meaning", "cautions", "minutes")

	var stairs map[string]any
	out, _, _ = run(append(on("staircase", "--part", "PC1"), "--json")...)
	keys(t, out, &stairs)
	missing("a staircase", stairs, "battery", "open_volts", "load", "light_load", "light_amps", "amps", "healthy_amps", "steps", "state", "verdict")
	steps := stairs["steps"].([]any)
	if len(steps) < 15 {
		t.Fatalf("%d steps", len(steps))
	}
	worst := 0
	for _, s := range steps {
		step := s.(map[string]any)
		missing("a step", step, "place", "says", "point", "light", "under_load", "healthy_light", "healthy")
		missing("a level", step["under_load"].(map[string]any), "volts", "lost", "amps", "ohms")
		if step["worst"] == true {
			worst++
		}
	}
	if worst != 1 {
		t.Errorf("%d steps are the worst", worst)
	}

	var points, feeds []map[string]any
	out, _, _ = run("points", "orchard-sprayer", "--json")
	keys(t, out, &points)
	missing("a point", points[0], "name", "reach", "minutes", "says")
	out, _, _ = run("feeds", "orchard-sprayer", "PC1", "--json")
	keys(t, out, &feeds)
	missing("a feed", feeds[0], "terminal", "purpose", "to", "closed", "when", "way", "end", "test", "test_says", "test_minutes")
}

// The steps of a staircase add up to the battery's open volts, in each pass: Kirchhoff's voltage law.
func TestStaircaseAddsUp(t *testing.T) {
	for _, args := range [][]string{goldens["staircase-lamp"], goldens["staircase-part"], goldens["staircase-open"]} {
		var s struct {
			OpenVolts float64 `json:"open_volts"`
			Steps     []struct {
				Light, UnderLoad struct{ Lost float64 }
			}
		}
		out, _, _ := run(append(slices.Clone(args), "--json")...)
		keys(t, strings.ReplaceAll(out, "under_load", "UnderLoad"), &s)
		light, load := 0.0, 0.0
		for _, step := range s.Steps {
			light += step.Light.Lost
			load += step.UnderLoad.Lost
		}
		for _, sum := range []float64{light, load} {
			if diff := sum - s.OpenVolts; diff > 1e-6 || diff < -1e-6 || s.OpenVolts < 12 {
				t.Errorf("%v: steps add up to %g of %g V", args, sum, s.OpenVolts)
			}
		}
	}
}

// What is set later counts, and a module boots with the faults wherever they stand on the command line.
func TestOrder(t *testing.T) {
	probe := func(args ...string) string {
		out, said, status := run(append([]string{"probe", "orchard-sprayer", "--with", "volts", "--red", "PC1.1", "--black", "G2"}, args...)...)
		if status != done {
			t.Fatal(said)
		}
		return out
	}
	if in, out := probe("--set", "F7=out", "--set", "F7=in"), probe("--set", "F7=in", "--set", "F7=out"); in == out {
		t.Error("the order of --set makes no difference")
	}
	if before, after := probe("--fault", broken, "--set", "KEY=run"), probe("--set", "KEY=run", "--fault", broken); before != after {
		t.Errorf("a fault laid by an earlier flag reads\n%s\nand by a later one\n%s", before, after)
	}
	// A plug taken apart before the key is turned, and after it, ends in the same state.
	if apart, later := probe("--apart", "PC1", "--set", "KEY=run"), probe("--set", "KEY=run", "--apart", "PC1"); apart != later {
		t.Errorf("apart first reads\n%s\nand later\n%s", apart, later)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestWhereOutCannotBeWritten(t *testing.T) {
	for _, row := range []struct {
		err    error
		status int
		said   string
	}{
		{&os.PathError{Op: "write", Path: "|1", Err: syscall.EPIPE}, done, ""},
		{errors.New("no space left on device"), refused, "underload: cannot write: no space left on device\n"},
	} {
		var said bytes.Buffer
		status := Run([]string{"points", "orchard-sprayer"}, Streams{Out: failing{row.err}, Err: &said})
		if status != row.status || said.String() != row.said {
			t.Errorf("%v: status %d, said %q", row.err, status, said.String())
		}
	}
}

// The program itself, once: main hands over and its exit status comes through.
func TestBinary(t *testing.T) {
	binary := filepath.Join(t.TempDir(), "underload")
	if runtime.GOOS == "windows" {
		binary += ".exe"
	}
	if out, err := exec.Command("go", "build", "-o", binary, "underload").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, row := range []struct {
		args   []string
		status int
	}{{[]string{"story"}, done}, {[]string{"check", "testdata/broken.yaml"}, faulty}, {[]string{"chekc"}, refused}} {
		cmd := exec.Command(binary, row.args...)
		out, _ := cmd.Output()
		want, _, _ := run(row.args...)
		if cmd.ProcessState.ExitCode() != row.status || string(out) != want {
			t.Errorf("%v: status %d, wrote\n%s\nwant\n%s", row.args, cmd.ProcessState.ExitCode(), out, want)
		}
	}
}
