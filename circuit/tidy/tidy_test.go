package tidy

// A tidy file holds the same circuit and every comment, and is not changed by being tidied again: for one wild file with
// its tidy form beside it, for the examples, and for examples with comments and line ends put in at random places.

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuit/compare"
	"underload/circuits"
)

var update = flag.Bool("update", false, "write the golden file anew")

// check tells whether a tidy form is one, and gives it; nil where the file is no circuit.
func check(t testing.TB, data []byte) []byte {
	t.Helper()
	was, _ := circuit.Read("test.yaml", data)
	laid, err := File("test.yaml", data)
	switch {
	case was == nil && err == nil:
		t.Fatalf("a file with errors was laid out:\n%s", data)
	case was == nil:
		return nil
	case err != nil:
		t.Fatalf("%v\n%s", err, data)
	}
	now, problems := circuit.Read("test.yaml", laid)
	if now == nil {
		t.Fatalf("%v\n%s", problems, laid)
	}
	if changes := compare.Circuits(was, now); len(changes) > 0 {
		t.Fatalf("the circuit changed: %v\nfrom:\n%s\nto:\n%s", changes, data, laid)
	}
	again, err := File("test.yaml", laid)
	if err != nil || !bytes.Equal(again, laid) {
		t.Fatalf("the second time it is another (%v)\nfrom:\n%s\nfirst:\n%s\nsecond:\n%s", err, data, laid, again)
	}
	for _, line := range strings.Split(string(laid), "\n") {
		if strings.TrimRight(line, " ") != line {
			t.Fatalf("a line ends in blanks: %q", line)
		}
	}
	return laid
}

func TestWildFile(t *testing.T) {
	data, err := os.ReadFile("testdata/wild.yaml")
	if err != nil {
		t.Fatal(err)
	}
	laid := check(t, data)
	if laid == nil {
		_, problems := circuit.Read("wild.yaml", data)
		t.Fatal(problems)
	}
	if *update {
		if err := os.WriteFile("testdata/wild.tidy.yaml", laid, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/wild.tidy.yaml")
	if err != nil || string(want) != string(laid) {
		t.Errorf("%v\n%s\nwant:\n%s", err, laid, want)
	}
}

// examples gives the text of every example.
func examples(t testing.TB) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for _, name := range circuits.Names() {
		data, err := circuits.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(data)
	}
	if len(texts) < 5 {
		t.Fatalf("only %d examples", len(texts))
	}
	return texts
}

// The YAML package's own idea of the comments is the judge here: it finds no comment that the tidy form does not hold.
func TestExamples(t *testing.T) {
	for name, text := range examples(t) {
		laid := check(t, []byte(text))
		if laid == nil {
			t.Fatalf("%s is not read", name)
		}
		var document yaml.Node
		if err := yaml.Unmarshal([]byte(text), &document); err != nil {
			t.Fatal(err)
		}
		found := 0
		var walk func(*yaml.Node)
		walk = func(node *yaml.Node) {
			for _, remark := range []string{node.HeadComment, node.LineComment, node.FootComment} {
				for _, line := range strings.Split(remark, "\n") {
					if line != "" && !strings.Contains(string(laid), line) {
						t.Errorf("%s: the comment %q is lost", name, line)
					}
					found += len(line)
				}
			}
			for _, child := range node.Content {
				walk(child)
			}
		}
		walk(&document)
		if found == 0 && strings.Contains(text, "# ") {
			t.Errorf("%s: no comment was found", name)
		}
	}
}

// scattered puts line ends after commas in brackets, and numbered comments at random places.
func scattered(chance *rand.Rand, text string) (data string, count int) {
	var b strings.Builder
	for _, line := range strings.SplitAfter(strings.TrimSuffix(text, "\n"), "\n") {
		line = strings.TrimSuffix(line, "\n")
		if chance.IntN(8) == 0 {
			fmt.Fprintf(&b, "%s# note-%d-\n", strings.Repeat(" ", chance.IntN(9)), count)
			count++
		}
		if chance.IntN(20) == 0 {
			b.WriteString("\n\n")
		}
		if strings.Contains(line, "{") && chance.IntN(3) == 0 && !strings.Contains(line, "#") {
			for _, piece := range strings.SplitAfter(line, ", ") {
				b.WriteString(piece)
				if strings.HasSuffix(piece, ", ") && chance.IntN(2) == 0 {
					if chance.IntN(2) == 0 {
						fmt.Fprintf(&b, "# note-%d-", count)
						count++
					}
					b.WriteString("\n" + strings.Repeat(" ", 6+chance.IntN(4)))
				}
			}
		} else {
			b.WriteString(line)
		}
		if chance.IntN(8) == 0 && !strings.Contains(line, "#") {
			fmt.Fprintf(&b, "  # note-%d-", count)
			count++
		}
		b.WriteByte('\n')
	}
	return b.String(), count
}

func TestCommentsAnywhere(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	read, notes := 0, 0
	for name, text := range examples(t) {
		for range 6 {
			data, count := scattered(chance, text)
			laid := check(t, []byte(data))
			if laid == nil {
				continue // a comment in the middle of a folded text can end it
			}
			read++
			notes += count
			for i := range count {
				if note := fmt.Sprintf("note-%d-", i); strings.Count(string(laid), note) != 1 {
					t.Fatalf("%s: %s stands %d times in\n%s\nfrom\n%s", name, note, strings.Count(string(laid), note), laid, data)
				}
			}
		}
	}
	if read < 40 || notes < 700 {
		t.Errorf("only %d files with %d comments were read", read, notes)
	}
}

// A file with errors is refused with all of them.
func TestRefused(t *testing.T) {
	_, err := File("bad.yaml", []byte("underload: 1\nparts:\n  B1: {is: batery}\npaths:\n  feed: [B1.pos, B1.ned]\n"))
	if err == nil || !strings.Contains(err.Error(), "bad.yaml:3:12: there is no kind of part called batery. Did you mean battery?") {
		t.Errorf("%v", err)
	}
}

// What is no whole circuit yet is laid out all the same, and nothing in it is lost.
func TestLay(t *testing.T) {
	got, err := Lay([]byte("parts:\n  PCM: {} # say what this is\n  F7: {rating: 15A, is: fuse}\n  X: {is: thing, b: 1, a: [2]}\nunderload: 1\nmore: {x: [1, {y: z}]}\n"))
	want := "underload: 1\n\nparts:\n  PCM: {}  # say what this is\n  F7:  {is: fuse, rating: 15 A}\n  X:   {is: thing, b: 1, a: [2]}\nmore: {x: [1, {y: z}]}\n"
	if err != nil || string(got) != want {
		t.Errorf("%v\n%s\nwant:\n%s", err, got, want)
	}
	for _, bad := range []string{"", "# only this\n", "a: [", "a: b: c"} {
		if _, err := Lay([]byte(bad)); err == nil {
			t.Errorf("%q was laid out", bad)
		}
	}
}

// Any text is read again as itself, in brackets and outside.
func TestScalar(t *testing.T) {
	texts := []string{"", " ", "a", "a b", "a: b", "a #b", "#a", "a#b", "- a", "-5 °C", "-", "--- a", "'", "''", `"`, `\`, "[", "a, b", "a]", "{a}", "!a", "&a", "*a",
		"a:", ":a", "?", "? a", "%a", "@a", "`a", "|", ">", "~", "null", "1", "1e3", "0x1", "true", "<<", "=", "...", "a\nb", "\n", "a\tb", "\t", "é", "\u00a0a", "\u2028",
		"\u0085", "\x00", "\U0001F527", "\ufeff", "\ufffd", "a ", " a", "++", "..", "+", "/", "//", "(a)", "_", "a\u200db", "12:30", "a?b", "\x7f"}
	for _, text := range texts {
		for _, inFlow := range []bool{false, true} {
			source := "k: " + Scalar(text, inFlow) + "\n"
			if inFlow {
				source = "k: [" + Scalar(text, inFlow) + ", b]\n"
			}
			var document yaml.Node
			if err := yaml.Unmarshal([]byte(source), &document); err != nil {
				t.Errorf("%q: %v", source, err)
				continue
			}
			node := document.Content[0].Content[1]
			if inFlow {
				node = node.Content[0]
			}
			if node.Value != text || node.Kind != yaml.ScalarNode {
				t.Errorf("%q is read as %q", source, node.Value)
			}
		}
	}
}

func FuzzFile(f *testing.F) {
	for _, text := range examples(f) {
		f.Add([]byte(text))
	}
	chance := rand.New(rand.NewPCG(3, 4))
	for _, text := range examples(f) {
		data, _ := scattered(chance, text)
		f.Add([]byte(data))
	}
	if data, err := os.ReadFile("testdata/wild.yaml"); err == nil {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		check(t, data)
		if laid, err := Lay(data); err == nil && len(laid) == 0 {
			t.Fatal("nothing was laid out")
		}
	})
}

// Files made to cost much: the work grows with the size of the file and not with its square, or this test does not end.
func TestLargeFiles(t *testing.T) {
	const head, tail = "underload: 1\nparts:\n  B1: {is: battery}\n  E1: {is: lamp, bulb: 5 W}\n", "  b: [B1.pos, wire, E1, wire, B1.neg]\n"
	many := func(n int, line string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, strings.ReplaceAll(line, "%d", "%[1]d"), i)
		}
		return b.String()
	}
	for name, text := range map[string]string{
		"comments before":  many(90_000, "# %d\n") + head + "paths:\n" + tail,
		"comments between": head + many(90_000, "  # %d\n") + "paths:\n" + tail,
		"comments behind":  head + "paths:\n" + tail + many(90_000, " # %d\n"),
		"one line":         head + "paths: {c: [" + many(15_000, "S%d, wire, ") + "S0, wire, S15000], b: [B1.pos, wire, S0, wire, E1, wire, B1.neg], d: [" + many(15_000, "S%d, wire, ") + "S15000]}\n",
	} {
		data := []byte(text)
		if c, problems := circuit.Read("test.yaml", data); c == nil && !strings.HasPrefix(name, "one") {
			t.Fatalf("%s: %v", name, problems[0])
		}
		if laid, err := Lay(data); err != nil || strings.Count(string(laid), "#") != strings.Count(text, "#") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Comments in places where the YAML package loses or moves them, each with what becomes of it.
func TestCommentPlaces(t *testing.T) {
	const parts = "parts:\n  B1: {is: battery}\n  E1: {is: lamp, bulb: 55 W}\n"
	const paths = "paths:\n  a:\n    - B1.pos\n    - wire\n    - E1\n    - wire\n    - B1.neg\n"
	for _, c := range []struct{ from, to string }{
		{"underload: 1\ntitle: # first\n  A lamp # second\n\n" + parts + "\n" + paths,
			"underload: 1\n# first\ntitle: A lamp  # second\n\n" + parts + "\n" + paths},
		{"underload: 1\ntitle: \"a \\\" # no comment\" # one\n\n" + parts + "\n" + paths,
			"underload: 1\ntitle: 'a \" # no comment'  # one\n\n" + parts + "\n" + paths},
		{"underload: 1\ntitle: 'it''s # none' # one\n\n" + parts + "\n" + paths,
			"underload: 1\ntitle: 'it''s # none'  # one\n\n" + parts + "\n" + paths},
		{"underload: 1\nteaches: >- # one\n  text # none\n# two\n\n" + parts + "\n" + paths,
			"underload: 1\nteaches: 'text # none'  # one\n\n# two\n\n" + parts + "\n" + paths},
		{"underload: 1\nparts: {\"B1\":#one\n {is: battery},#two\n E1: {is: lamp, bulb: 55 W}#three\n #four\n}\n\n" + paths,
			"underload: 1\n\nparts:\n  #one\n  B1: {is: battery}           #two\n  E1: {is: lamp, bulb: 55 W}  #three\n  #four\n\n" + paths},
		{"%YAML 1.1 # one\n--- # two\nunderload: 1\n" + parts + paths + "... # three\n",
			"# one\n# two\nunderload: 1\n\n" + parts + "\n" + paths + "# three\n"},
		{"underload: 1\n\n" + parts + "  # at the foot of the parts\n# of the paths\n" + paths + "    # at the foot of a\n  # at the foot of the paths\n# the end\n",
			"underload: 1\n\n" + parts + "  # at the foot of the parts\n\n# of the paths\n" + paths + "    # at the foot of a\n  # at the foot of the paths\n# the end\n"},
		{"underload: 1\n\n" + strings.Replace(parts, "55 W}", "55 W, place: left, reach: near, plating: tin, tags: [fan]} # far", 1) + "  # x\n" + paths,
			"underload: 1\n\n" + strings.Replace(parts, "55 W}", "55 W, place: left, reach: near, plating: tin, tags: [fan]}  # far", 1) + "  # x\n\n" + paths},
		{"underload: 1\n\n" + strings.Replace(strings.Replace(parts, "55 W}", "55 W, place: left, reach: near, tags: [fan]} # far", 1), "battery}", "battery} # near", 1) + "\n" + paths,
			"underload: 1\n\n" + strings.Replace(strings.Replace(parts, "55 W}", "55 W, place: left, reach: near, tags: [fan]}  # far", 1), "battery}", "battery}  # near", 1) + "\n" + paths},
	} {
		if got := check(t, []byte(c.from)); string(got) != c.to {
			_, problems := circuit.Read("test.yaml", []byte(c.from))
			t.Errorf("%s\nbecame\n%s\nwant\n%s\n%v", c.from, got, c.to, problems)
		}
	}
}
