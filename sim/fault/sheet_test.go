package fault

// What a fault sheet says is read as it stands, and everything that is wrong with one is told at once, each with its
// place.

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"underload/circuits"
)

const goodSheet = `underload faults: 1
circuit: orchard-sprayer
state: [KEY=run]
table:
  light: {with: test-lamp, red: PC1.1, black: PC1.8}
  roll call: {with: roll-call}
faults:
  m1:
    says: a spread terminal
    headline: true
    lay: [C14.4 spread 1.8 ohm, "F9 blown"]
    passes:
      - {with: test-lamp, red: PC1.1, black: PC1.8, looks: bright, fools: it is good}
    sequence:
      - {with: clamp, on: W7, tells: it is starved, reads: -1.37 A, minutes: 4}
      - {with: volts, red: PC1.8, black: B1.neg, state: [apart C14, F9=out], tells: gone, kicks: 5 V, as healthy: true, clears: [m2], minutes: 2.5}
    like: {m2: nothing tells them apart}
  m2:
    says: another
    lay: [C14.1 open]
    state: [KEY=off]
    passes: []
    sequence: [{with: drag, red: C14.1, tells: no grip, minutes: 5}]
left out:
  - {what: heat, because: it needs time}
`

var someInstruments = []string{"volts", "test-lamp", "load-lamp", "clamp", "drag", "roll-call"}

func TestSheetSaysWhatStandsThere(t *testing.T) {
	s, problems := ReadSheet(sprayer(t), "good.yaml", []byte(goodSheet), someInstruments)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	e, err := s.Entry("m1")
	if err != nil {
		t.Fatal(err)
	}
	step := e.Sequence[1]
	other, _ := s.Entry("m2")
	for _, c := range []struct{ got, want string }{
		{fmt.Sprint(s.Circuit, s.IDs(), s.State, len(s.Table), s.Table[0].Name, s.Table[0].Red), "orchard-sprayer [m1 m2] [KEY=run] 2 light PC1.1"},
		{fmt.Sprint(s.Headline().ID, " ", e.Lines()), "m1 [C14.4 spread 1.8 ohm F9 blown]"},
		{fmt.Sprint(e.Passes[0].With, " ", e.Passes[0].Looks, " ", e.Passes[0].Fools), "test-lamp bright it is good"},
		{fmt.Sprint(*e.Sequence[0].Reads, *step.Kicks, step.Reads == nil, step.AsHealthy, step.Clears), "{-1.37 A} {5 V} true true [m2]"},
		{fmt.Sprint(e.Minutes(), e.Like), "6.5 [{m2 nothing tells them apart}]"},
		{fmt.Sprint(s.StateOf(e, e.Sequence[0].Test), s.StateOf(e, step.Test), s.StateOf(other, other.Sequence[0].Test)), "[KEY=run] [apart C14 F9=out] [KEY=off]"},
		{fmt.Sprint(s.LeftOut), "[{heat it needs time}]"},
	} {
		if strings.ReplaceAll(c.got, " ", "") != strings.ReplaceAll(c.want, " ", "") {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	if _, err := s.Entry("m3"); err == nil || !strings.Contains(err.Error(), "did you mean m1") {
		t.Errorf("%v", err)
	}
}

// wrongSheets replace a part of the good sheet. Each error stands at its own place, and all are told.
var wrongSheets = []struct{ old, new, want string }{
	{"underload faults: 1", "underload faults: 2", `1:19: this program reads version 1 of a fault sheet, not "2"`},
	{"circuit: orchard-sprayer", "circuit: library-van", `2:10: these are faults of "library-van", and the circuit is "orchard-sprayer"`},
	{"[KEY=run]", "[KEY=runn]", `3:9: KEY has no position "runn". Did you mean run?`},
	{"[KEY=run]", "[KYE=run]", `3:9: there is no part "KYE". Did you mean KEY?`},
	{"[KEY=run]", "[KEY]", `3:9: "KEY" is no setting`},
	{"apart C14,", "apart C15,", `there is no connector or part "C15". Did you mean C14?`},
	{"with: test-lamp, red: PC1.1, black", "with: test-lmap, red: PC1.1, black", `5:17: there is no instrument "test-lmap". Did you mean test-lamp?`},
	{"red: PC1.1, black: PC1.8}\n  roll", "red: PC1.1, black: PC1.9}\n  roll", `5:47: there is no point PC1.9`},
	{"on: W7", "on: W77", `15:27: there is no wire "W77". Did you mean W7?`},
	{"C14.4 spread 1.8 ohm", "C14.4 spred 1.8 ohm", `11:11: C14.4, a terminal, cannot be "spred": did you mean "spread"?`},
	{"clears: [m2]", "clears: [m22]", `there is no fault "m22" in this sheet. Did you mean m2?`},
	{"like: {m2:", "like: {mm2:", `17:12: there is no fault "mm2" in this sheet. Did you mean m2?`},
	{"    headline: true\n", "", `8:3: no fault is the headline`},
	{"    state: [KEY=off]\n", "    headline: true\n", `18:3: there is more than one headline`},
	{"headline: true", "headline: maybe", `10:15: true or false is wanted here`},
	{"reads: -1.37 A", "reads: 1.37 s", `"1.37 s" is no reading`},
	{"minutes: 2.5", "minutes: soon", `"soon" is no number of minutes`},
	{"tells: no grip, ", "", `23:16: a test must have tells`},
	{"says: another", "sais: another", `19:5: a fault has no key "sais". Did you mean says?`},
	{"says: another", "says:", `19:5: nothing is written after "says"`},
	{"passes: []", "passes: none", `22:13: passes must be a list`},
	{"left out:", "state: [KEY=run]\nleft out:", `24:1: "state" is written twice`},
	{"left out:", "left outs:", `24:1: a fault sheet has no key "left outs". Did you mean left out?`},
	{"like: {m2: nothing tells them apart}", "like: &x {m2: no}", `anchors (&) and aliases (*) are not read`},
	{"says: another", "says: !!str another", `19:11: type tags (!!str) are not read`},
	{"says: another", "says: [[[[[[[[a]]]]]]]]", `nested deeper`},
	{"left out:", "---\nleft out:", `a second document begins`},
	{"left out:", "left out: [", `this is not YAML`},
	{"  m2:\n", "  m1:\n", `"m1" is written twice`},
	{"  m2:\n", "  \"m 2\":\n", `18:3: "m 2" is no id of a fault`},
}

func TestWrongSheets(t *testing.T) {
	c := sprayer(t)
	for _, w := range wrongSheets {
		if !strings.Contains(goodSheet, w.old) {
			t.Fatalf("the good sheet has no %q", w.old)
		}
		s, problems := ReadSheet(c, "w.yaml", []byte(strings.Replace(goodSheet, w.old, w.new, 1)), someInstruments)
		if s != nil || !strings.Contains(problems.Error(), w.want) || !strings.HasPrefix(problems.Error(), "w.yaml:") {
			t.Errorf("%s:\n%v\nwant %s", w.new, problems, w.want)
		}
	}
	// All of what is wrong is told at once.
	all := goodSheet
	for _, i := range []int{2, 6, 9, 10, 14, 15} {
		all = strings.Replace(all, wrongSheets[i].old, wrongSheets[i].new, 1)
	}
	if _, problems := ReadSheet(c, "w.yaml", []byte(all), someInstruments); len(problems) != 7 { // without its true, no fault is the headline
		t.Errorf("%d of 7 errors:\n%v", len(problems), problems)
	}
	for name, data := range map[string]string{
		"the file is empty":    "# nothing\n",
		"not text in UTF-8":    "underload faults: \xff",
		"larger than 2000000":  strings.Repeat("#", MostBytes+1),
		"too many things":      "faults: [" + strings.Repeat("[],", mostSheetMarks) + "]",
		"must be keys with":    "- a\n",
		"more errors, not":     "faults: {" + manyKeys() + "}",
		"must have faults":     "underload faults: 1\ncircuit: orchard-sprayer\n",
		"there is no fault in": "underload faults: 1\ncircuit: orchard-sprayer\nfaults: {}\n",
	} {
		if s, problems := ReadSheet(c, "w.yaml", []byte(data), nil); s != nil || !strings.Contains(problems.Error(), name) {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

func manyKeys() string {
	var b strings.Builder
	for i := range 3 * mostSheetProblems {
		fmt.Fprintf(&b, "x%d: 1, ", i)
	}
	return b.String()
}

func TestLoad(t *testing.T) {
	c := sprayer(t)
	for _, w := range []struct{ data, id, want string }{
		{"# wet\n\n  C14.4 spread 1.8 ohm  # worst\nF9 blown", "", "C14.4 spread 1.8 ohm;F9 blown"},
		{goodSheet, "", "C14.4 spread 1.8 ohm;F9 blown"},
		{goodSheet, "m2", "C14.1 open"},
		{"# a sheet may begin with a comment: so\n" + goodSheet, "m2", "C14.1 open"},
	} {
		lines, err := Load(c, "f", []byte(w.data), w.id)
		if got := strings.Join(lines, ";"); err != nil || got != w.want {
			t.Errorf("%q, %v; want %q", got, err, w.want)
		}
	}
	for _, w := range []struct{ data, id, want string }{
		{"F9 blown\n  C14.4 spred\nF99 blown\n", "", "f:2:3: C14.4, a terminal, cannot be \"spred\": did you mean \"spread\"?\nf:3:1: there is no F99"},
		{"# nothing\n", "", "f:1:1: there is no fault in the file"},
		{"F9 blown", "m1", "plain list"},
		{goodSheet, "m9", "did you mean m1"},
		{"", "", "there is no fault in the file"},
	} {
		if lines, err := Load(c, "f", []byte(w.data), w.id); err == nil || !strings.Contains(err.Error(), w.want) {
			t.Errorf("%q: %v, %v; want %q", w.data, lines, err, w.want)
		}
	}
}

func FuzzSheet(f *testing.F) {
	c := sprayer(f)
	f.Add([]byte(goodSheet))
	for _, w := range wrongSheets {
		f.Add([]byte(strings.Replace(goodSheet, w.old, w.new, 1)))
	}
	sheet, ok := circuits.Faults("orchard-sprayer")
	if !ok {
		f.Fatal("the orchard sprayer has no sheet")
	}
	f.Add(sheet)
	f.Add([]byte("C14.4 spread 1.8 ohm\n# x\nF9 blown"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, problems := ReadSheet(c, "f.yaml", data, someInstruments)
		if (s == nil) != (len(problems) > 0) || len(problems) > mostSheetProblems+1 {
			t.Fatalf("a sheet %v with %d problems", s != nil, len(problems))
		}
		for _, p := range problems {
			if p.Pos.Line < 1 || p.Pos.Column < 1 || p.Text == "" {
				t.Fatalf("%+v", p)
			}
		}
		if s != nil && (s.Headline() == nil || slices.Contains(s.IDs(), "")) {
			t.Fatal("a sheet without a headline or an id")
		}
		if lines, err := Load(c, "f.yaml", data, ""); err == nil {
			for _, line := range lines {
				if _, err := Parse(c, line); err != nil {
					t.Fatalf("%q was let through: %v", line, err)
				}
			}
		}
	})
}

// A file on disk is read no further than is needed to refuse it.
func TestSheetOfAnExampleOnDiskIsTheEmbeddedOne(t *testing.T) {
	disk, err := os.ReadFile("../../circuits/faults/orchard-sprayer.yaml")
	embedded, ok := circuits.Faults("orchard-sprayer")
	if err != nil || !ok || string(disk) != string(embedded) {
		t.Errorf("%v %v", err, ok)
	}
	if _, ok := circuits.Faults("no-such-van"); ok {
		t.Error("a sheet of no vehicle")
	}
}
