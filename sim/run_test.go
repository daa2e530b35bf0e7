package sim

// This file checks what a run promises whatever the circuit: it stays at rest where the bench is at rest, it goes back in
// time, the same seed gives the same run, and what it refuses is told.

import (
	"math"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim/part"
	"underload/solver/transient"
)

func benchOf(t testing.TB, name string, faults ...string) *Bench {
	t.Helper()
	c, err := circuits.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	must(t, b.Break(faults...))
	return b
}

// bench reads a circuit of the test's own.
func benchFrom(t testing.TB, text string) *Bench {
	t.Helper()
	c, problems := circuit.Read("test.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	b, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func start(t testing.TB, b *Bench, o RunOptions) *Run {
	t.Helper()
	o.Energy = true
	r, err := b.Run(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func watching(t testing.TB, r *Run, text string) Channel {
	t.Helper()
	c, err := r.Watch(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func cuesOf(r *Run) string {
	var told []string
	for _, c := range r.Cues() {
		told = append(told, c.Says)
	}
	return strings.Join(told, "; ")
}

// accounted holds the energy of a run to 0.1 percent.
func accounted(t testing.TB, r *Run) {
	t.Helper()
	if b := r.Balance(); math.Abs(b.Off()) > 1e-3*b.Given {
		t.Errorf("energy: %+v leaves %v J", b, b.Off())
	}
}

// warmFuses is what the bench, for which a fuse is always cold, does not know: the volts that fuses lose for being warm.
func (r *Run) warmFuses(b *Bench) (volts float64) {
	for _, p := range b.c.Parts {
		if p.Kind.Name == "fuse" || p.Kind.Name == "fusible link" {
			in, out := r.age.w.joints[p.Terminals[0]].inside, r.age.w.joints[p.Terminals[1]].inside
			lost := func(v float64) float64 { return math.Abs(v) }
			now := r.age.run.Volts(transient.Node(in)) - r.age.run.Volts(transient.Node(out))
			volts += math.Abs(lost(now) - lost(b.sol.Volts(in)-b.sol.Volts(out)))
		}
	}
	return volts
}

// discharged is the most by which batteries have fallen because they gave what they gave: a battery falls by less than
// 1.2 V from full to empty, and what its resistance loses grows by less than that. A good half of what a current takes is at
// first missed where it is taken.
func (r *Run) discharged(t testing.TB, from map[*circuit.Part]float64) (volts float64) {
	for p, charge := range from {
		volts += 2 / 0.42 * (charge - watching(t, r, "charge "+p.Name).Read()) / 100
	}
	return volts
}

// A run without acts stays where the bench is at rest, within 1 mV at every point, in every position of every switch of
// every example. Only what warm fuses lose and batteries have given is added, of which the bench knows nothing.
func TestRunStaysAtRest(t *testing.T) {
	const within, seconds = 1e-3, 20
	runs := 0
	for _, name := range circuits.Names() {
		b := benchOf(t, name)
		settings := []string{""}
		for _, p := range b.c.OfKind("switch") {
			for _, throw := range p.Throws[1:] {
				settings = append(settings, p.Name+"="+throw.Name)
			}
		}
		for _, setting := range settings {
			b := benchOf(t, name)
			if setting != "" {
				must(t, b.Set(setting))
			}
			if len(b.modulesIn(part.Cycling)) > 0 || len(b.chatters) > 0 {
				continue
			}
			r := start(t, b, RunOptions{})
			if cranks(t, r) { // whose compression is never at rest
				continue
			}
			charge := map[*circuit.Part]float64{}
			for _, p := range b.c.OfKind("battery") {
				charge[p] = watching(t, r, "charge "+p.Name).Read()
			}
			must(t, r.Advance(seconds, nil))
			runs++
			slack := within + r.warmFuses(b) + r.discharged(t, charge)
			for _, p := range b.c.Points() {
				if b.Floats(p) {
					continue
				}
				if got, want := r.age.run.Volts(r.age.at(p)), b.Volts(p); math.Abs(got-want) > slack {
					t.Errorf("%s %s: %s is at %.5f V after %v s and at %.5f V on the bench", name, setting, p.Name, got, seconds, want)
					break
				}
			}
			accounted(t, r)
		}
	}
	if runs < 25 {
		t.Errorf("only %d runs", runs)
	}
}

// cranks reports whether a starter turns.
func cranks(t testing.TB, r *Run) bool {
	for _, p := range r.Circuit().OfKind("motor") {
		if p.Text("turns") == "engine" && watching(t, r, "speed "+p.Name).Read() > 0.1 {
			return true
		}
	}
	return false
}

// Going back in time leads to the same state, bit for bit, as having stopped there in the first place, and what was
// planned happens again; what was done by hand is undone.
func TestRunGoesBack(t *testing.T) {
	drive := func(r *Run) {
		must(t, r.At(0.5, "SW3=on"), r.At(1.5, "SW3=off"), r.At(1.7, "break C14.2 fretted 0.2 ohm"), r.At(2, "SW3=on"), r.At(2.5, "wiggle C14"))
	}
	names := []string{"BOOM.A1 against BOOM.B6", "light L1", "mode BOOM", "amps L1", "mode K3", "resets BOOM", "heat C14.2"}
	read := func(r *Run) (values []float64) {
		for _, name := range names {
			values = append(values, watching(t, r, name).Read())
		}
		return values
	}
	b := benchOf(t, "mist-blower", "G2 rust 0.4 ohm")
	must(t, b.Set("KEY=run"))
	straight := start(t, b, RunOptions{Seed: 5})
	drive(straight)
	at := map[float64][]float64{}
	stops := []float64{0.4, 1, 1.6, 1.9, 2.4, 2.7, 3}
	for _, s := range stops {
		must(t, straight.Advance(s, nil))
		at[s] = read(straight)
	}
	cues := cuesOf(straight)

	r := start(t, b, RunOptions{Seed: 5})
	drive(r)
	for _, s := range stops {
		must(t, r.Advance(s, nil))
	}
	kept := watching(t, r, "light L1") // a channel outlives going back
	for _, s := range []float64{2.4, 1.9, 1, 0.4} {
		must(t, r.Back(r.Seconds()-s))
		if got := read(r); r.Seconds() != s || !same(got, at[s]) || kept.Read() != at[s][1] {
			t.Errorf("back at %v s: %v, there was %v", r.Seconds(), got, at[s])
		}
		must(t, r.Advance(s+0.02, nil), r.Do("F9=out"), r.Advance(s+0.05, nil), r.Back(r.Seconds()-s))
	}
	for _, s := range stops {
		must(t, r.Advance(s, nil))
		if got := read(r); !same(got, at[s]) {
			t.Errorf("again at %v s: %v, there was %v", s, got, at[s])
		}
	}
	if got := cuesOf(r); got != cues {
		t.Errorf("heard after going back: %s\nwant %s", got, cues)
	}
	if !strings.Contains(cues, "K3 clicks in") || !strings.Contains(cues, "L1") {
		t.Errorf("heard: %s", cues)
	}
}

func same(a, b []float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return len(a) == len(b) && len(a) > 0
}

// With little memory it goes back all the same, over what is thinned out, and holds no more than it may.
func TestRunGoesBackWithLittleMemory(t *testing.T) {
	b := benchOf(t, "mist-blower", "G2 rust 0.4 ohm")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{MemoryBytes: 100_000})
	must(t, r.At(0.5, "SW3=on"), r.At(1.5, "SW3=off"))
	var light []float64
	l := watching(t, r, "light L1")
	for s := 0.1; s < 3; s += 0.1 {
		must(t, r.Advance(s, nil))
		light = append(light, l.Read())
		if r.trail.bytes > 100_000 {
			t.Fatalf("%d bytes", r.trail.bytes)
		}
	}
	if len(r.trail.marks) < 10 {
		t.Fatalf("%d marks left", len(r.trail.marks))
	}
	for i := len(light) - 2; i >= 0; i -= 3 {
		must(t, r.Back(r.Seconds()-0.1*float64(i+1)))
		if got := l.Read(); math.Abs(got-light[i]) > 1e-3*(1+light[i]) {
			t.Errorf("back at %.1f s: %v %%, there was %v", r.Seconds(), got, light[i])
		}
	}
	for r.Seconds() > 0 {
		before := r.Seconds()
		r.StepBack()
		if r.Seconds() > before || len(r.trail.marks) == 1 {
			break
		}
	}
	if r.Seconds() != 0 {
		t.Errorf("stepping back ends at %v s", r.Seconds())
	}
}

// The same seed gives the same run, bit for bit; another seed another one. How finely it is computed changes nothing of
// what is left to chance.
func TestRunIsAsItsSeed(t *testing.T) {
	type outcome struct {
		resets, volts float64
		cues          string
	}
	run := func(o RunOptions) outcome {
		b := benchOf(t, "mist-blower", "C12.7 spread 0.05 ohm")
		must(t, b.Set("KEY=run"))
		r := start(t, b, o)
		must(t, r.At(0.1, "wiggle C12"), r.At(2, "still C12"), r.At(2.5, "disturb C12"), r.Advance(3, nil))
		accounted(t, r)
		return outcome{watching(t, r, "resets BOOM").Read(), watching(t, r, "supply BOOM").Read(), cuesOf(r)}
	}
	one, again, other := run(RunOptions{Seed: 1}), run(RunOptions{Seed: 1}), run(RunOptions{Seed: 2})
	if one != again {
		t.Errorf("the same seed: %+v and %+v", one, again)
	}
	if one.resets == 0 || one.cues == other.cues && one.resets == other.resets {
		t.Errorf("another seed: %+v and %+v", one, other)
	}
	if fine := run(RunOptions{Seed: 1, Tolerance: 1e-6}); fine.resets != one.resets || math.Abs(fine.volts-one.volts) > 1e-3 {
		t.Errorf("computed more finely: %+v, before %+v", fine, one)
	}
}

// What cannot be watched or done is refused in one sentence that names the right word, and nothing is changed.
func TestRunRefusals(t *testing.T) {
	r := start(t, benchOf(t, "mist-blower"), RunOptions{})
	watch := func(text string) error { _, err := r.Watch(text); return err }
	for _, row := range []struct {
		do         func(string) error
		text, want string
	}{
		{watch, "BATT.poz", "BATT.pos"},
		{watch, "BOOM.A1 against BOOM.B7", "BOOM.B6"},
		{watch, "lihgt L1", "light L1"},
		{watch, "light L3", "did you mean L1?"},
		{watch, "light K2", "has no light; it has amps, mode"},
		{watch, "amps K2", "K2.30"},
		{watch, "amps WX", "WB"},
		{watch, "brightness L1 now", "POINT against POINT"},
		{watch, "", "POINT against POINT"},
		{watch, "heat C14.9", "C14"},
		{r.Do, "KEY=rum", "did you mean KEY=run?"},
		{r.Do, "repare C14.2", "did you mean repair?"},
		{r.Do, "hit C14", "KEY=run"},
		{r.Do, "wiggle C15", "C12"},
		{r.Do, "wiggle C14 much", "percent"},
		{r.Do, "break C14.2 sprad", "spread"},
		{r.Do, "apart", "say what"},
		{func(s string) error { return r.At(1, s) }, "F9=half", "in, out"},
		{func(s string) error { return r.At(-1, s) }, "F9=out", "already"},
	} {
		err := row.do(row.text)
		if err == nil || !strings.Contains(err.Error(), row.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want one sentence with %q", row.text, err, row.want)
		}
	}
	if r.Seconds() != 0 || len(r.acts) != 0 || len(r.Cues()) != 0 {
		t.Errorf("a refusal left something behind: %v s, %v, %v", r.Seconds(), r.acts, r.Cues())
	}
}

// A connector that is reseated is together again a second later, also where one has stepped back over a step meanwhile.
func TestRunStepsBackOverAReseat(t *testing.T) {
	b := benchOf(t, "mist-blower", "C12.7 fretted 3 ohm")
	must(t, b.Set("KEY=run"))
	r := start(t, b, RunOptions{})
	must(t, r.Do("reseat C12"))
	for range 3 {
		steps := 0
		must(t, r.Advance(10, func() bool { steps++; return steps < 2 }))
		r.StepBack()
	}
	must(t, r.Advance(3, nil))
	if supply := watching(t, r, "supply BOOM").Read(); supply < 12 {
		t.Errorf("%.2f V: it is still apart", supply)
	}
}
