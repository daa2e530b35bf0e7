package wirelist

// Lists as people have them, each with the circuit file that comes out and what check would say of it; a circuit comes
// back the same from its own list.

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/compare"
	"underload/circuits"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestLists holds every list in testdata against what is made of it.
func TestLists(t *testing.T) {
	names, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(names) < 4 {
		t.Fatalf("testdata holds %d lists (%v)", len(names), err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text, err := Import(filepath.Base(name), data)
			got := string(text)
			if err != nil {
				got = err.Error() + "\n"
			} else if _, problems := circuit.Read("circuit.yaml", text); len(problems) > 0 {
				got += "=== check ===\n" + problems.Error() + "\n"
			}
			golden := strings.TrimSuffix(name, ".csv") + ".txt"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil || string(want) != got {
				t.Errorf("%v\n%s\nwant:\n%s", err, got, want)
			}
		})
	}
}

// sameAgain exports a circuit, imports that, and tells whether anything is different.
func sameAgain(t testing.TB, was *circuit.Circuit) {
	t.Helper()
	list, err := Export(was)
	if err != nil {
		t.Fatal(err)
	}
	text, err := Import("list.csv", list)
	if err != nil {
		t.Fatalf("%v\n%s", err, list)
	}
	now, problems := circuit.Read("list.yaml", text)
	if now == nil {
		t.Fatalf("%v\n%s\n%s", problems, list, text)
		return
	}
	for _, change := range compare.Circuits(was, now) {
		t.Errorf("%s: %s", was.File, change.Text)
	}
	for i, p := range now.Parts {
		if p.Name != was.Parts[i].Name {
			t.Errorf("part %d is %s, not %s", i, p.Name, was.Parts[i].Name)
		}
	}
	again, err := Export(now)
	if err != nil || string(again) != string(list) {
		t.Errorf("the second list is another (%v):\n%s\nfirst:\n%s", err, again, list)
	}
	if t.Failed() {
		t.Fatalf("%s", list)
	}
}

func TestExamplesComeBack(t *testing.T) {
	names := circuits.Names()
	if len(names) < 5 {
		t.Fatalf("only %d examples", len(names))
	}
	for _, name := range names {
		c, err := circuits.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		sameAgain(t, c)
	}
}

// Whatever a file can say comes back: each line stands for something that none of the examples has.
const odd = `underload: 1
title: "a: b, \"c\"; # d"
complaint: |
  Two lines,
    the second indented.
ambient: 68.5 F
parts:
  B+: {is: battery, terminal size: 9.5 mm, plating: gold}
  FL: {is: fusible link, rating: 60 A, tags: [fuel]}
  F7: {is: fuse, rating: 7.5 A, type: miniature, resistance: 9 mohm, pins: [a, b], place: "-", reach: trim}
  K2: {is: relay, pins: ["1", "2", "3", "4", "5"], suppressed by: diode, lets go: 1.5 V}
  SW: {is: switch, throws: {"0": [], "1": [a-b, b-c], "2": [c-a]}, contact: 0.3 mohm}
  circuit: {is: led, place: right of F7}
  L2: {is: lamp, bulb: 21 W}
  PC: {is: module, supply: ["1"], ground: ["2"], signals: [s], outputs: {o: {pulls to: supply, for: L2, through: 33 mohm}, p: {pulls to: ground, for: K2}}}
connectors:
  C9: {place: "x, y", reach: sealed, plating: silver, tags: [hv]}
  C8: {terminal size: 0.64 mm}
splices:
  S1: {leg: 1.25 mohm, reach: open, place: "a"}
  S5: {}
grounds:
  G1: {to: B+.neg, by: 1.5 mohm, stud: 0.7 mohm, reach: near}
  G2: {}
accepted:
  - {rule: thin wire, at: w_1, because: "a: b, \"c\"; # d"}
  - {rule: unused pin, at: PC, because: its pin s is for another vehicle}
  - {rule: volt drop, at: C9.1, because: "[x]"}
terminals:
  C9.1: {size: 6.3 mm, crimp: 0.1 mohm, reach: loom}
  SW.a: {behind: 0.2 mohm, contact: 3 mohm}
paths:
  "a, b": [B+.pos, FL, wire w_1: RD 4/0 AWG 6 ft aluminium, S1]
  c: [S1, F7, C9.1, C8.1.b-a, wire: 250 mohm, PC.1]
  " d ": [S1, wire: GNYE 0.35 mm2 1/3 m, SW.a-b]
`

func TestOddThingsComeBack(t *testing.T) {
	text := strings.Replace(odd, "1/3 m", "0.333333333 m", 1) + `  e: [SW.c, wire, S5, wire, F8.out-in, wire, circuit, G1]
  f: [K2.1-4, wire, L2, wire: BK, G2, wire, G1]
  f2: [S1, wire, K2.1]
  g: [S1, wire, K2.3-2, wire, PC.p]
  h: [PC.o, wire, L2.in]
  i: [PC.2, G1]
  j: [S1, wire #twin, S5]
  k: [S1, wire, S5]
`
	text = strings.Replace(text, "  FL:", "  F8: {is: fuse, rating: 20 A}\n  FL:", 1)
	text = strings.Replace(text, " #twin", "", 1)
	c, problems := circuit.Read("odd.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	sameAgain(t, c)
}

func TestLimits(t *testing.T) {
	rows := func(n int) string {
		var b strings.Builder
		b.WriteString("from,to\n")
		for i := range n {
			fmt.Fprintf(&b, "P%d.1,S%d\n", i, i%7)
		}
		return b.String()
	}
	for name, c := range map[string]struct{ data, says string }{
		"size":      {strings.Repeat("x", mostBytes+1), "list.csv: the list is 2000001 bytes"},
		"wires":     {rows(mostWires + 1), "list.csv:20002:1: there are more than 20000 wires"},
		"empty":     {"\n \n;;\n", "list.csv:1:1: the list is empty"},
		"no rows":   {"from,to\n", "list.csv:1:1: the list has no wires"},
		"bytes":     {"from,to\n\xff,b\n", "list.csv:2:1: the list is not text in UTF-8"},
		"zero":      {"from,to\na,\x00\n", "list.csv:2:3: the list is not text in UTF-8"},
		"quote":     {"from,to\na b\"c,d\n", `list.csv:2:4: a " stands inside a cell`},
		"open":      {"from,to\na,\"b\n\n", "list.csv:2:1: a quote that opens in this row is not closed"},
		"no to":     {"from,too,x\n", `list.csv:1:1: no column is called to. Is it "too"? Name that to`},
		"no from":   {"a,b\n1,2\n", "list.csv:1:1: no column is called from. Name it from"},
		"twice":     {"from,to,color,colour\n", `list.csv:1:15: column "colour" holds the same as column "color"`},
		"unit":      {"from,to,length (V)\n", `list.csv:1:9: column "length (V)": V is no unit of length`},
		"long name": {"from,to\n" + strings.Repeat("é", 41) + ",b\n", "is 41 characters long"},
		"long path": {"from,to,path\na,b," + strings.Repeat("é", 81) + "\n", "list.csv:2:5: a path's name is longer than 80 characters"},
		"long pin":  {"from,to\na,b\n\nof,what,value\na." + strings.Repeat("~", 1100) + ",crimp,1 ohm\n", "list.csv:5:1: the name ~~~"},
		"long word": {"from,to\na,b\n\nof,what,value\na,is,switch\na,throws,{" + strings.Repeat("\u200b", 900) + ": [1-2]}\n", "list.csv:6:10: this is no list of names"},
		"no unit":   {"from;to;size\na;b;1\n", "list.csv:2:5: size: \"1\" is not a wire size: the unit is missing. Write the unit behind it or in the head of its column, like size (mm2)"},
		"ambiguous": {"from,to,length (m)\na,b,\"1,500\"\n", "it can be read as 1.500 or as 1500"},
		"joke":      {"from,to,colour\na,b,reed\n", `list.csv:2:5: "reed" is no colour. Did you mean red?`},
	} {
		_, err := Import("list.csv", []byte(c.data))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %s", name, err, c.says)
		}
	}
	if _, err := Import("list.csv", []byte(rows(mostWires))); err != nil {
		t.Errorf("the most wires there may be: %v", err)
	}
	many := "from,to\n" + strings.Repeat("a,\n", 1000)
	_, err := Import("list.csv", []byte(many))
	if problems, ok := err.(circuit.Problems); !ok || len(problems) != mostTold+1 || !strings.Contains(err.Error(), "there are 800 more errors") {
		t.Errorf("a thousand errors: %d told", len(problems))
	}
}

// A path that the list does not name is called after its ends, as far as there is room.
func TestMadeUpPathNames(t *testing.T) {
	long := strings.Repeat("B", circuit.MostNameLetters)
	text, err := Import("list.csv", []byte("from,to,size (mm2)\nA"+long[1:]+".1,"+long+".2,1\nA"+long[1:]+".1,"+long+".2,1\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, problems := circuit.Read("list.yaml", text); strings.Contains(problems.Error(), "path's name") {
		t.Errorf("%v\n%s", problems, text)
	}
}

// What stands in a cell stays in its comment or value, whatever it looks like in YAML.
func TestNothingBreaksOut(t *testing.T) {
	list := "wire,from,to,remark,path\n1,a,b,\"x\nparts: {}\",\"p\nq: [\"\n2,b,c,\"\u2028y\",\"# no\"\n\nof,what,value\n,title,\"t\nparts: {}\"\na,place,\"], x: {\"\na,tags,\"[a, '], b']\"\nw,accepted no fuse,\"x\nparts: {}\"\n\"], z: {\",accepted thin wire,\"# no\"\n"
	text, err := Import("list.csv", []byte(list))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"- wire 1  # remark: x parts: {}\n", "- wire 2  # remark: y\n", "  \"p\\nq: [\":\n", "  '# no':\n", "title: |-\n  t\n  parts: {}\n",
		"place: '], x: {'", "tags: [a, '], b']",
		"  - rule: no fuse\n    at: w\n    because: |-\n      x\n      parts: {}\n", "- {rule: thin wire, at: '], z: {', because: '# no'}\n"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

// What a list accepts has to be a warning, at something, for a reason.
func TestAcceptedOnAList(t *testing.T) {
	for row, want := range map[string]string{
		"F7,accepted thinwire,short": `list.csv:5:4: no warning is called "thinwire". Did you mean thin wire?`,
		"F7,accepted ,short":         `list.csv:5:4: no warning is called ""`,
		",accepted thin wire,short":  "list.csv:5:1: this says of nothing",
		"F7,accepted thin wire,":     "list.csv:5:23: nothing is said of why",
		"F7,accepted thin wire,x":    "",
	} {
		text, err := Import("list.csv", []byte("from,to\nB1.pos,F7.in\n\nof,what,value\n"+row+"\n"))
		switch {
		case want == "" && (err != nil || !strings.Contains(string(text), "- {rule: thin wire, at: F7, because: x}\n")):
			t.Errorf("%s: %v\n%s", row, err, text)
		case want != "" && (err == nil || !strings.Contains(err.Error(), want)):
			t.Errorf("%s: %v, want %q", row, err, want)
		}
	}
}

// So many columns are no list of wires; as many as are read become remarks.
func TestManyColumns(t *testing.T) {
	list := func(more int) []byte {
		heads, cells := "from,to", "B1.pos,F7.in"
		for i := range more {
			heads, cells = heads+fmt.Sprintf(",c%d", i), cells+",x"
		}
		return []byte(heads + "\n" + cells + "\n")
	}
	if text, err := Import("list.csv", list(mostColumns-2)); err != nil || !strings.Contains(string(text), "c197: x") {
		t.Errorf("%v", err)
	}
	if _, err := Import("list.csv", list(mostColumns-1)); err == nil || !strings.Contains(err.Error(), "there are 201 columns, and 200 are the most that are read") {
		t.Errorf("%v", err)
	}
}

// FuzzImport: any bytes give errors in their places or the text of a circuit file; where that is a circuit, it comes
// back from its own list.
func FuzzImport(f *testing.F) {
	names, _ := filepath.Glob("testdata/*.csv")
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, name := range circuits.Names() {
		c, err := circuits.Read(name)
		if err != nil {
			f.Fatal(err)
		}
		list, err := Export(c)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(list)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		text, err := Import("list.csv", data)
		if err != nil {
			for _, p := range err.(circuit.Problems) {
				if p.Text == "" || p.Pos.Line < 1 && len(data) <= mostBytes || strings.Contains(p.Text, "cannot be laid out") {
					t.Fatalf("%v", p)
				}
			}
			return
		}
		if c, problems := circuit.Read("list.yaml", text); c != nil {
			sameAgain(t, c)
		} else {
			for _, p := range problems {
				if strings.Contains(p.Text, "YAML") || strings.Contains(p.Text, "indent") {
					t.Fatalf("%v\n%s", p, text)
				}
			}
		}
	})
}

// FuzzExport: any circuit comes back from its list.
func FuzzExport(f *testing.F) {
	for _, name := range circuits.Names() {
		data, err := circuits.Source(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(odd))
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, _ := circuit.Read("fuzz.yaml", data); c != nil {
			sameAgain(t, c)
		}
	})
}

// Lists made to cost much: the work grows with the size of the list and not with its square, or this test does not end.
func TestLargeLists(t *testing.T) {
	many := func(n int, line string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(strings.ReplaceAll(line, "#", fmt.Sprint(i)))
		}
		return b.String()
	}
	const head, second = "from,to\n", "\nof,what,value\n"
	for name, c := range map[string]struct {
		data string
		well bool
	}{
		"cavities":      {head + many(10_000, "C1.#,P.#\n"), true},
		"both sides":    {head + many(10_000, "P#,C1.#\nC1.#,Q#\n"), true},
		"a chain":       {head + many(10_000, "C#.1,C#.2\n"), true},
		"one thing":     {head + many(10_000, "P,P\n"), true},
		"fuses":         {head + many(5_000, "S#,F#\nF#,S#\n"), true},
		"said":          {head + "P.1,S1\n" + second + many(50_000, "P,place,x\n"), false},
		"unknown keys":  {head + "P.1,S1\n" + second + many(50_000, "P,k#,x\n"), false},
		"unknown names": {head + many(10_000, "P#.1,S1\n") + second + many(40_000, "Q#.1,size,x\n"), false},
		"colours":       {"from,to,colour\n" + many(10_000, "a,b,c#\n"), false},
	} {
		if _, err := Import("list.csv", []byte(c.data)); (err == nil) != c.well {
			t.Errorf("%s: %v", name, err)
		}
	}
}
