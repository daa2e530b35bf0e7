package command

// This file holds trace to what it says, to what it leaves on disk, and to the bench at rest.

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"underload/circuits"
	"underload/sim"
	"underload/sim/record"
)

// resets is the case of the page on the command: work lamps that make the boom computer start again.
func resets(more ...string) []string {
	return append([]string{"trace", "mist-blower", "--set", "KEY=run", "--fault", "G2 rust 0.9 ohm", "--do", "0.5s SW3=on", "--do", "2s SW3=off", "--for", "4s",
		"--watch", "S3", "--watch", "supply BOOM", "--watch", "mode BOOM"}, more...)
}

// hiccups is a module that boots, loses its supply and boots again, without end.
func hiccups(more ...string) []string {
	return append([]string{"trace", "orchard-sprayer", "--fault", "C14.4 spread 6 ohm", "--do", "0.2s KEY=run"}, more...)
}

func init() {
	maps.Copy(goldens, map[string][]string{
		"help-trace":     {"help", "trace"},
		"trace":          resets(),
		"trace-usual":    {"trace", "orchard-sprayer", "--do", "0.2s KEY=run", "--do", "200 ms M1=on"},
		"trace-crank":    {"trace", "snow-groomer", "--set", "KEY=run", "--do", "0.2s KEY=crank", "--do", "1.4s KEY=run", "--for", "3s", "--watch", "BATT.pos", "--watch", "amps ST"},
		"trace-hiccup":   hiccups("--for", "1s", "--trigger", "supply PC1 falls through 9 V", "--screen", "120ms", "--min-max"),
		"trace-no-event": hiccups("--for", "0.3 s", "--trigger", "F7 blows", "--watch", "supply PC1"),
	})
}

// traced is a run as JSON.
func traced(t *testing.T, args ...string) traceReport {
	t.Helper()
	out, said, status := run(append(args, "--json")...)
	if status != done {
		t.Fatal(said)
	}
	var r traceReport
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// A crank with a table and a picture, as on the front page.
func TestTraceFiles(t *testing.T) {
	dir := t.TempDir()
	table, picture := filepath.Join(dir, "a, b.csv"), filepath.Join(dir, "crank.svg")
	args := []string{"trace", "snow-groomer", "--do", "0.2s KEY=crank", "--do", "1.4s KEY=run", "--for", "3s", "--watch", "BATT.pos", "--watch", "ECU.1.pin", "--csv", table, "--svg", picture}
	c, err := circuits.Read("snow-groomer")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.OfKind("module") { // whatever the pin is called
		args[slices.Index(args, "ECU.1.pin")] = p.Name + "." + p.Module.Supply[0] + ".pin"
		break
	}
	out, said, status := run(args...)
	if status != done || said != "" || !strings.Contains(out, "The picture is in "+picture) {
		t.Fatalf("status %d, %s, %s", status, said, out)
	}
	data, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if wide, _ := wellFormed(t, string(data)); wide != "960" {
		t.Errorf("the picture is %s wide", wide)
	}
	rows := csvRows(t, table)
	if got := strings.Join(rows[0], "|"); got != "seconds|BATT.pos (V)|"+args[len(args)-5]+" (V)|what happens" {
		t.Errorf("the heading is %s", got)
	}
	if rows[1][0] != "0" || rows[len(rows)-1][0] != "3" {
		t.Errorf("from %s to %s s", rows[1][0], rows[len(rows)-1][0])
	}
	report := traced(t, args...)
	for i, ch := range report.Channels {
		low := math.Inf(1)
		for _, row := range rows[1:] {
			low = min(low, number(t, row[1+i]))
		}
		if math.Abs(low-ch.Min) > 1e-7*math.Abs(low) || ch.Min > ch.Start {
			t.Errorf("%s: the table's smallest is %g, the report's %g", ch.Name, low, ch.Min)
		}
	}
	var happened []string
	for _, row := range rows[1:] {
		if row[3] != "" {
			happened = append(happened, row[0]+" "+row[3])
		}
	}
	if len(happened) < 3 || !strings.Contains(strings.Join(happened, "\n"), "0.2 KEY=crank") || !strings.Contains(strings.Join(happened, "\n"), "1.4 KEY=run") {
		t.Errorf("what happens: %q", happened)
	}
	if left, _ := os.ReadDir(dir); len(left) != 2 {
		t.Errorf("%d files are left, want 2", len(left))
	}
}

// csvRows reads a table and holds it to RFC 4180 and to the order of time.
func csvRows(t *testing.T, file string) [][]string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("\n")); n != bytes.Count(data, []byte("\r\n")) || n < 3 || !bytes.HasSuffix(data, []byte("\r\n")) {
		t.Errorf("%d lines, of which %d end in CR LF", n, bytes.Count(data, []byte("\r\n")))
	}
	in := csv.NewReader(bytes.NewReader(data))
	rows, err := in.ReadAll() // every row has as many fields as the first, or this fails
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, row := range rows[1:] {
		at := number(t, row[0])
		if at < last {
			t.Fatalf("%g s comes after %g s", at, last)
		}
		last = at
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The picture of the page on the command. On other processors than the usual ones the last digits of the computation
// differ, and with them a tenth of a pixel here and there: there only the words are held.
func TestTracePicture(t *testing.T) {
	const kept = "testdata/mist-blower-trace.svg"
	file := filepath.Join(t.TempDir(), "trace.svg")
	if _, said, status := run(resets("--svg", file)...); status != done {
		t.Fatal(said)
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(kept, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}
	texts := func(picture []byte) (all []string) {
		for line := range strings.SplitSeq(string(picture), "\n") {
			if _, words, ok := strings.Cut(line, "<text"); ok {
				_, words, _ = strings.Cut(words, ">")
				all = append(all, words)
			}
		}
		return all
	}
	if !slices.Equal(texts(got), texts(want)) || runtime.GOARCH == "amd64" && !bytes.Equal(got, want) {
		t.Errorf("the picture is no longer %s; renew it with go test ./ui/command -update, and look at it", kept)
	}
}

// After everything has come to rest, the run stands where the bench at rest stands: two ways to compute it that share
// no code but the circuit.
func TestTraceEndsWhereTheBenchRests(t *testing.T) {
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	for _, broken := range []string{"", "C14.4 spread 1.8 ohm", "F7.in corroded 0.4 ohm"} {
		args := []string{"trace", "orchard-sprayer", "--do", "0.2s KEY=run", "--for", "20s", "--watch", "supply PC1"}
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		if broken != "" {
			args = append(args, "--fault", broken)
			if err := b.Break(broken); err != nil {
				t.Fatal(err)
			}
		}
		if err := b.Set("KEY=run"); err != nil {
			t.Fatal(err)
		}
		want := b.Modules()[0].SupplyVolts
		if got := traced(t, args...).Channels[0].End; math.Abs(got-want) > 0.05 || want < 5 {
			t.Errorf("%q: time ends at %g V, rest is %g V", broken, got, want)
		}
	}
}

// The same seed gives the same run, to the last digit.
func TestTraceIsRepeatable(t *testing.T) {
	args := []string{"trace", "orchard-sprayer", "--set", "KEY=run", "--fault", "C14.4 fretted", "--do", "0.1s wiggle C14", "--for", "0.6s", "--seed", "7", "--json"}
	first, said, status := run(args...)
	if status != done {
		t.Fatal(said)
	}
	if again, _, _ := run(args...); again != first {
		t.Errorf("the second run differs:\n%s\n%s", first, again)
	}
	args[len(args)-2] = "8"
	if other, _, _ := run(args...); strings.Replace(other, `"seed": 8`, `"seed": 7`, 1) == first {
		t.Error("another seed makes no difference")
	}
}

// A tolerance ten times as tight moves what is told by no more than the tolerance lets it.
func TestTraceTolerance(t *testing.T) {
	rough, sharp := traced(t, resets("--tolerance", "1e-4")...), traced(t, resets("--tolerance", "1e-6")...)
	for i, ch := range rough.Channels[:2] {
		if d := math.Abs(ch.Min - sharp.Channels[i].Min); d > 0.01*math.Abs(ch.Max) {
			t.Errorf("%s: the least is %g V, and %g V computed more sharply", ch.Name, ch.Min, sharp.Channels[i].Min)
		}
		if d := math.Abs(ch.Mean - sharp.Channels[i].Mean); d > 0.002*math.Abs(ch.Max) {
			t.Errorf("%s: the mean is %g V, and %g V computed more sharply", ch.Name, ch.Mean, sharp.Channels[i].Mean)
		}
	}
}

func TestTraceJSON(t *testing.T) {
	out, _, _ := run(hiccups("--for", "1s", "--trigger", "PC1 resets", "--min-max", "--watch", "supply PC1", "--json")...)
	var report map[string]any
	keys(t, out, &report)
	for _, key := range []string{"title", "setting", "seconds", "stopped", "from", "to", "triggered", "seed", "rows", "thinned_to_seconds", "channels", "happened", "notes", "cautions"} {
		if _, ok := report[key]; !ok {
			t.Errorf("a run has no key %q", key)
		}
	}
	channel := report["channels"].([]any)[0].(map[string]any)
	for _, key := range []string{"name", "unit", "resolution", "start", "min", "min_seconds", "max", "max_seconds", "end", "mean", "below", "meters"} {
		if _, ok := channel[key]; !ok {
			t.Errorf("a channel has no key %q", key)
		}
	}
	r := traced(t, hiccups("--for", "1s", "--min-max", "--watch", "supply PC1")...)
	ch := r.Channels[0]
	if ch.Hertz == nil || *ch.Hertz < 5 || *ch.Hertz > 200 {
		t.Errorf("the loop's rate is %v", ch.Hertz)
	}
	// What a slow meter keeps lies between what a quick one keeps and the rest; both are no lower than what there is.
	if len(ch.Meters) != 2 || !(ch.Min <= ch.Meters[1].Min && ch.Meters[1].Min < ch.Meters[0].Min && ch.Meters[0].Min < ch.Max) {
		t.Errorf("the least is %g, meters keep %+v", ch.Min, ch.Meters)
	}
	if len(ch.Below) != 2 || !(ch.Below[0].Seconds > 0 && ch.Below[0].Seconds < ch.Below[1].Seconds && ch.Below[1].Seconds < 1) {
		t.Errorf("below: %+v", ch.Below)
	}
}

// calls is a context that ends after it has been asked so often.
type calls struct {
	context.Context
	left int
}

func (c *calls) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// Ctrl+C in the middle leaves a table that can be read and a picture that is whole, and says how far it came.
func TestTraceIsStopped(t *testing.T) {
	dir := t.TempDir()
	table, picture := filepath.Join(dir, "a.csv"), filepath.Join(dir, "a.svg")
	var out, said bytes.Buffer
	status := Run(hiccups("--for", "10h", "--do", "5h KEY=off", "--csv", table, "--svg", picture),
		Streams{Out: &out, Err: &said, Interrupt: &calls{context.Background(), 500}})
	if status != interruptedStatus || said.String() != "" || !strings.Contains(strings.ReplaceAll(out.String(), "\u00a0", " "), "Stopped after ") {
		t.Errorf("status %d, said %q, wrote\n%s", status, said.String(), out.String())
	}
	if strings.Contains(out.String(), "5h") && strings.Contains(out.String(), "  B  ") {
		t.Errorf("what was not done is told as done:\n%s", out.String())
	}
	rows := csvRows(t, table)
	if end := number(t, rows[len(rows)-1][0]); end <= 0.2 || end > 3600 {
		t.Errorf("the table ends at %g s", end)
	}
	data, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	wellFormed(t, string(data))
	if left, _ := os.ReadDir(dir); len(left) != 2 {
		t.Errorf("%d files are left, want 2", len(left))
	}
}

// A long run tells a person at a terminal how far it is, and a file or a quick run hears nothing.
func TestProgress(t *testing.T) {
	tell := func(step time.Duration, terminal bool) string {
		now := time.Unix(0, 0)
		var out, said bytes.Buffer
		status := Run(hiccups("--for", "1s"), Streams{Out: &out, Err: &said, ErrTerminal: terminal, Now: func() time.Time {
			now = now.Add(step)
			return now
		}})
		if status != done || strings.Contains(out.String(), "\r") {
			t.Errorf("status %d", status)
		}
		return said.String()
	}
	if said := tell(10*time.Millisecond, true); !strings.Contains(said, "of 1\u00a0s, ") || !strings.HasSuffix(said, "\r\x1b[K") || strings.Count(said, "%") < 5 {
		t.Errorf("a slow run says %q", said)
	}
	if said := tell(time.Microsecond, true); said != "" {
		t.Errorf("a quick run says %q", said)
	}
	if said := tell(10*time.Millisecond, false); said != "" {
		t.Errorf("a file hears %q", said)
	}
}

// Whatever completion offers can be done and watched.
func TestTraceCompletion(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "snow-groomer", "donor-bus"} {
		c, err := circuits.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		b, err := sim.New(c)
		if err != nil {
			t.Fatal(err)
		}
		r, err := b.Run(sim.RunOptions{MemoryBytes: -1})
		if err != nil {
			t.Fatal(err)
		}
		watches := suggest(t, "trace", name, "--watch", "")
		if len(watches) < 50 {
			t.Errorf("%s: only %d can be watched", name, len(watches))
		}
		for _, text := range watches {
			if _, err := r.Watch(text); err != nil {
				t.Errorf("%s offers %q: %v", name, text, err)
			}
		}
		acts := suggest(t, "trace", name, "--do", "0.2s ")
		if len(acts) < 50 {
			t.Errorf("%s: only %d can be done", name, len(acts))
		}
		for i, text := range acts {
			seconds, _, act, err := timed(text)
			if err != nil || seconds != 0.2 {
				t.Fatalf("%s offers %q: %v", name, text, err)
			}
			if i%7 != 0 || strings.HasPrefix(act, "break ") { // a sample; break wants a condition yet
				continue
			}
			if err := r.At(seconds, act); err != nil {
				t.Errorf("%s offers %q: %v", name, text, err)
			}
		}
	}
	for _, row := range []struct {
		args []string
		want string
	}{
		{[]string{"--do", "0.2 s KEY=c"}, "0.2 s KEY=crank"},
		{[]string{"--do", "0.2s break C14.4 sp"}, "0.2s break C14.4 spread"},
		{[]string{"--do", "0.2s wiggle C"}, "0.2s wiggle C14"},
		{[]string{"--watch", "PC1.1 against PC1.8.p"}, "PC1.1 against PC1.8.pin"},
		{[]string{"--trigger", "supply PC1 f"}, "supply PC1 falls through"},
	} {
		if got := suggest(t, append([]string{"trace", "orchard-sprayer"}, row.args...)...); !slices.Contains(got, row.want) {
			t.Errorf("%q offers %q, want %q", row.args, got, row.want)
		}
	}
	if got := suggest(t, "trace", "orchard-sprayer", "--do", "KEY"); len(got) > 0 {
		t.Errorf("without a time %q is offered", got)
	}
}

// Cranking brings its caution, whether a switch or the starter itself is named, and a battery its own.
func TestTraceCautions(t *testing.T) {
	engine := filepath.Join(t.TempDir(), "engine.yaml")
	text := "underload: 1\nparts:\n  B: {is: battery}\n  ALT: {is: generator}\npaths:\n  charge: [ALT.B+, wire, B.pos]\n  case: [ALT.case, wire, B.neg]\n"
	if err := os.WriteFile(engine, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"trace", "orchard-sprayer", "--do", "0.1s KEY=crank", "--for", "0.2s"}, "Before you crank"},
		{[]string{"trace", "orchard-sprayer", "--for", "0.1s"}, "hydrogen"},
		{[]string{"trace", engine, "--do", "0.1s ALT=running", "--for", "0.2s"}, "carbon monoxide"},
		{[]string{"trace", "orchard-sprayer", "--for", "0.1s", "--watch", "speed M1"}, "may start something moving"},
	} {
		if r := traced(t, c.args...); !strings.Contains(strings.Join(r.Cautions, " "), c.want) {
			t.Errorf("%q is cautioned with %q, want %q", c.args, r.Cautions, c.want)
		}
	}
}

func TestTimed(t *testing.T) {
	for _, c := range []struct {
		text    string
		seconds float64
		act     string
	}{
		{"0.2s KEY=crank", 0.2, "KEY=crank"}, {"200 ms KEY=crank", 0.2, "KEY=crank"}, {"8 h apart C14", 28800, "apart C14"}, {"40min F7=25 A", 2400, "F7=25 A"},
		{"0s  break  C14.4 spread 6 ohm", 0, "break C14.4 spread 6 ohm"}, {"1,5 s KEY=run", 1.5, "KEY=run"},
	} {
		if seconds, _, act, err := timed(c.text); err != nil || math.Abs(seconds-c.seconds) > 1e-12 || act != c.act {
			t.Errorf("%q is %g s, %q (%v)", c.text, seconds, act, err)
		}
	}
}

func FuzzTimed(f *testing.F) {
	for _, text := range []string{"0.2s KEY=crank", "200 ms KEY=run", "−1 s x", "1 2 3", "", " ", "\u00a0s x", "0.2s", "1e9 h x"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		seconds, when, act, err := timed(text)
		if err == nil && (!(seconds >= 0) || act == "" || when == "") {
			t.Errorf("%q is %g s (%q), %q", text, seconds, when, act)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "--do ") {
			t.Errorf("%q: %v", text, err)
		}
	})
}

func FuzzTrigger(f *testing.F) {
	for _, text := range []string{"B1.pos falls through 9 V", "B1.pos rises through", "mode PC1 rises through awake", "K2 clicks in", " falls through ", "x falls through 1 V rises through 2 V", "PC1.1 against PC1.8 goes below −9 V", "B1.pos<9V"} {
		f.Add(text)
	}
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		f.Fatal(err)
	}
	b, err := sim.New(c)
	if err != nil {
		f.Fatal(err)
	}
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		h, err := hung(text, []record.Channel{{Name: "B1.pos", Unit: "V"}, {Name: "mode PC1", Words: []string{"off", "awake"}}}, r)
		if err == nil && (h.channel < -1 || h.channel > 1 || math.IsNaN(h.level)) {
			t.Errorf("%q is %+v", text, h)
		}
	})
}

// A name that needs quoting, words of modes, and marks between the rows.
func TestWriteCSV(t *testing.T) {
	r := record.New([]record.Channel{{Name: `a "b", c`, Unit: "V"}, {Name: "mode K2", Words: []string{"out", "in"}}}, 0)
	for _, row := range [][3]float64{{0, 1.5, 0}, {1, 1.25, 0}, {1, -2, 1}, {2e-9 + 1, 1e-7, 1}} {
		if err := r.Add(row[0], row[1], row[2]); err != nil {
			t.Fatal(err)
		}
	}
	r.Mark(record.Mark{Seconds: 0.5, Words: "K2 clicks in"})
	r.Mark(record.Mark{Seconds: 0.6, Words: "KEY=run", Done: true})
	r.Mark(record.Mark{Seconds: 9, Words: "behind the end"})
	var got strings.Builder
	if err := writeCSV(&got, r); err != nil {
		t.Fatal(err)
	}
	want := "seconds,\"a \"\"b\"\", c (V)\",mode K2,what happens\r\n0,1.5,out,\r\n1,1.25,out,K2 clicks in; KEY=run\r\n1,-2,in,\r\n1.000000002,1e-07,in,behind the end\r\n"
	if got.String() != want {
		t.Errorf("written as\n%s\nwant\n%s", got.String(), want)
	}
}

// What completion, help and refusals call a time is what a run takes.
func TestWritten(t *testing.T) {
	for seconds, want := range map[float64]string{0.2: "200 ms", 3: "3 s", 2400: "40 min", 28800: "8 h", 90: "90 s", 9000: "2.5 h"} {
		if got := strings.ReplaceAll(written(seconds), "\u00a0", " "); got != want {
			t.Errorf("%g s is written %q, want %q", seconds, got, want)
		}
		if back, err := span("for", written(seconds)); err != nil || back != seconds {
			t.Errorf("%s reads as %s (%v)", written(seconds), fmt.Sprint(back), err)
		}
	}
}

// The lamps lift the ground that the boom computer shares with them; a light test at the same splice does not.
func TestTracePutsAnInstrumentOn(t *testing.T) {
	trace := func(act string) string {
		out, said, status := run("trace", "mist-blower", "--set", "KEY=run", "--fault", "G2 rust 0.9 ohm", "--do", "1s "+act, "--for", "3s", "--watch", "resets BOOM")
		if status != 0 {
			t.Fatal(said)
		}
		return out
	}
	if lit := trace("SW3=on"); !strings.Contains(lit, "BOOM resets") {
		t.Errorf("with the lamps on the computer does not reset:\n%s", lit)
	}
	if light := trace("put test-lamp BATT.pos S3"); strings.Contains(light, "BOOM resets") || !strings.Contains(light, "In the end the test-lamp on BATT.pos and S3 shows") {
		t.Errorf("a light test resets the computer, or is not told of:\n%s", light)
	}
	if round := trace("put clamp WG"); !strings.Contains(round, "In the end the clamp around WG shows") {
		t.Errorf("no word of the clamp:\n%s", round)
	}
	loaded := trace("put load-lamp BATT.pos S3")
	if !strings.Contains(loaded, "BOOM resets") {
		t.Errorf("a cold load lamp draws as much as the lamps do, and should reset it too:\n%s", loaded)
	}
}
