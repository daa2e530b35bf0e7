package compare

// Every value of a circuit that is changed is told, in words, and nothing is told of what means the same.

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
)

func read(t testing.TB, text string) *circuit.Circuit {
	t.Helper()
	c, problems := circuit.Read("test.yaml", []byte(text))
	if c == nil {
		t.Fatalf("%v\nin:\n%s", problems, text)
	}
	return c
}

// example is the text of an example circuit with stretches replaced, each of which must be there.
func example(t testing.TB, name string, replace ...string) string {
	t.Helper()
	data, err := circuits.Source(name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(replace); i += 2 {
		if !strings.Contains(text, replace[i]) {
			t.Fatalf("%s does not hold %q", name, replace[i])
		}
		text = strings.Replace(text, replace[i], replace[i+1], 1)
	}
	return text
}

func told(changes []Change) string {
	var lines []string
	for _, c := range changes {
		lines = append(lines, c.Text)
	}
	return strings.Join(lines, "\n")
}

// base holds one of each thing whose change is told below.
const base = `underload: 1
title: Test
parts:
  B1: {is: battery}
  F7: {is: fuse, rating: 15 A}
  F8: {is: fuse, rating: 15 A}
  K2: {is: relay}
  KEY: {is: switch, throws: {off: [], run: [b-ign]}}
  M1: {is: motor, draws: 12 A}
  PC1: {is: module, supply: [1], wake: [2], ground: [8], outputs: {5: {pulls to: ground, for: M1}}}
connectors:
  C14: {place: bulkhead}
paths:
  feed: [B1.pos, wire W1: RD 6 mm2 1 m, S1]
  controller feed: [S1, F7, wire W7: RD/YE 0.75 mm2 2 m, C14.1, wire W8: 15 mohm, PC1.1]
  key feed: [S1, wire, KEY, wire, PC1.2]
  coil: [S1, wire, K2.86-85, wire W5, PC1.5]
  pump: [S1, F8, wire, K2.30-87, wire, M1, wire, G1]
  ground: [PC1.8, wire, G1]
splices:
  S1: {reach: open}
grounds:
  G1: {to: B1.neg}
terminals:
  C14.1: {size: 2.8 mm}
`

func TestWords(t *testing.T) {
	for _, c := range []struct{ from, to, says string }{
		{"rating: 15 A", "rating: 10 A", "F7 now 10 A, was 15 A"},
		{"0.75 mm2", "1.0 mm2", "W7 now 1 mm2, was 0.75 mm2"},
		{"0.75 mm2", "18 AWG", "W7 now 18 AWG, was 0.75 mm2"},
		{"RD/YE 0.75 mm2 2 m", "RD/GN 0.75 mm2 8 ft aluminium", "W7 now RD/GN, was RD/YE\nW7 now 2.4384 m, was 2 m\nW7 now aluminium, was copper"},
		{"RD/YE 0.75", "0.75", "W7 now without a colour, was RD/YE"},
		{"15 mohm", "16 mohm", "W8 now 16 mohm, was 15 mohm"},
		{"15 mohm", "1 mm2", "W8 now 1 mm2 2 m, was 15 mohm"},
		{"wire W7", "wire W77", "wire W7 now called W77"},
		{"wire W7: RD/YE", "wire: RD/YE", "wire W7 now called F7.out~C14.1.a"},
		{"F7, wire W7: RD/YE 0.75 mm2 2 m, C14.1", "C14.1, wire W7: RD/YE 0.75 mm2 2 m, F7",
			"path controller feed: now through C14.1 before F7\n" +
				"W7 now from C14.1.b to F7.in, was from F7.out to C14.1.a\nW8 now from F7.out to PC1.1, was from C14.1.b to PC1.1\n" +
				"F7.in and S1 no longer joined metal to metal\nC14.1.a and S1 now joined metal to metal"},
		{"wire W8: 15 mohm, PC1.1", "wire, C14.2, wire W8: 15 mohm, PC1.1",
			"C14.2 added\npath controller feed: now through C14.2 before PC1.1\nwire C14.1.b~C14.2.a 0.75 mm2 2 m added\n" +
				"W8 now from C14.2.b to PC1.1, was from C14.1.b to PC1.1"},
		{"C14.1, wire W8", "C14.3, wire W8", "C14.1 removed\nC14.3 added\npath controller feed: now through C14.3 instead of C14.1\n" +
			"W7 now from F7.out to C14.3.a, was from F7.out to C14.1.a\nW8 now from C14.3.b to PC1.1, was from C14.1.b to PC1.1"},
		{"C14.1, wire W8: 15 mohm, PC1.1", "PC1.1", "connector C14 removed\npath controller feed: no longer through C14.1\nwire W8 15 mohm from C14.1.b to PC1.1 removed\nW7 now from F7.out to PC1.1, was from F7.out to C14.1.a"},
		{"pump: [S1, F8, wire", "pump: [S1, wire, F8, wire", "wire S1~F8.in 0.75 mm2 2 m added\nF8.in and S1 no longer joined metal to metal"},
		{"coil: [S1, wire,", "coil: [F8.out, wire,", "path coil: now begins at F8.out, was S1\nwire S1~K2.86 0.75 mm2 2 m removed\nwire F8.out~K2.86 0.75 mm2 2 m added"},
		{"  ground: [", "  controller ground: [", "path ground now called controller ground"},
		{"ground: [PC1.8, wire, G1]", "ground: [PC1.8, wire, G2]\n  strap: [G2, wire W9: 1 mohm, G1]",
			"ground G2 added\npath ground: now ends at G2, was G1\npath strap added: G2, G1\n" +
				"wire PC1.8~G1 0.75 mm2 2 m removed\nwire PC1.8~G2 0.75 mm2 2 m added\nwire W9 1 mohm from G2 to G1 added"},
		{"K2: {is: relay}", "K2: {is: relay, coil: 90 ohm, suppressed by: diode, place: dash}", "K2 coil now 90 ohm, was 85 ohm\nK2 suppressed by now diode, was nothing\n" + `K2 place now "dash", was not given`},
		{"KEY: {is: switch, throws: {off: [], run: [b-ign]}}", "KEY: {is: switch, throws: {run: [b-ign], off: [b-ign]}}",
			"KEY positions now run off, was off run\nKEY in off joins now b-ign, was nothing"},
		{"pulls to: ground, for: M1", "pulls to: supply, for: K2", "PC1.5 now pulls to supply, was pulls to ground\nPC1.5 now for K2, was for M1"},
		{"supply: [1]", "supply: [1, 3]", "PC1 supply pins now 1 3, was 1"},
		{"F8: {is: fuse, rating: 15 A}", "F8: {is: diode}", "F8 now diode, was fuse"},
		{"M1: {is: motor, draws: 12 A}", "M1: {is: motor, draws: 12 A, pins: [1, 2], reach: trim}", "M1 terminals now 1 2, was in out\nM1 reach now trim, was near\n" +
			"wire K2.87~M1.in 0.75 mm2 2 m removed\nwire M1.out~G1 0.75 mm2 2 m removed\nwire K2.87~M1.1 0.75 mm2 2 m added\nwire M1.2~G1 0.75 mm2 2 m added"},
		{"K2: {is: relay}", "K2: {is: relay, terminal size: 6.3 mm}", "K2 terminals now 6.3 mm, was 2.8 mm"},
		{"C14.1: {size: 2.8 mm}", "C14.1: {size: 1.5 mm, contact: 5 mohm}", "C14.1 now 1.5 mm, was 2.8 mm\nC14.1 crimp now 700 uohm, was 500 uohm\nC14.1 contact now 5 mohm, was 2 mohm\nC14.1 behind now 700 uohm, was 500 uohm"},
		{"C14.1: {size: 2.8 mm}", "C14.1: {size: 1.5 mm, reach: sealed}", "C14.1 now 1.5 mm, was 2.8 mm\nC14.1 reach now sealed, was near"},
		{"{to: B1.neg}", "{to: B1.neg, by: 3 mohm}", "G1 metal now 3 mohm, was 2 mohm"},
		{"title: Test", "title: Test\nambient: 30 C\ntags: [hv]", "ambient now 30 °C, was 20 °C\ncautions now hv"},
		{"title: Test", "title: Test\naccepted: [{rule: thin wire, at: F7, because: short}]", `thin wire at F7 now accepted: "short"`},
		{"{reach: open}", "{leg: 1 mohm}", "S1 reach now loom, was open\nS1 leg now 1 mohm, was 300 uohm"},
	} {
		now := strings.Replace(base, c.from, c.to, 1)
		switch { // what the change needs elsewhere in the file
		case strings.Contains(c.to, "C14.3"):
			now = strings.Replace(now, "  C14.1: {size", "  C14.3: {size", 1)
		case c.to == "PC1.1":
			now = strings.Replace(now, "terminals:\n  C14.1: {size: 2.8 mm}\n", "", 1)
			now = strings.Replace(now, "connectors:\n  C14: {place: bulkhead}\n", "", 1)
		case strings.Contains(c.to, "G2"):
			now = strings.Replace(now, "  G1: {to: B1.neg}", "  G1: {to: B1.neg}\n  G2: {to: G1}", 1)
		}
		if now == base {
			t.Fatalf("%q is not in the circuit", c.from)
		}
		if got := told(Circuits(read(t, base), read(t, now))); got != c.says {
			t.Errorf("%s -> %s:\n%s\nwant:\n%s", c.from, c.to, got, c.says)
		}
	}
}

// What means the same is no difference.
func TestNoDifference(t *testing.T) {
	for _, c := range [][2]string{
		{"rating: 15 A", "rating: 15amps"},
		{"K2: {is: relay}", "K2: {coil: 85 ohm, is: relay} # a remark"},
		{"wire W7: RD/YE 0.75 mm2 2 m", "wire W7: 200 cm 0.75mm² RD/YE copper"},
		{"wire, KEY, wire", "wire, KEY.b-ign, wire"},
		{"  ground: [PC1.8, wire, G1]\n", "  ground:\n    - PC1.8\n    - wire:\n    - G1\n"},
		{"C14.1: {size: 2.8 mm}", "{}"},
		{"title: Test\n", "title: Test\nambient: 68 F\n"},
	} {
		now := strings.Replace(base, c[0], c[1], 1)
		if c[1] == "{}" {
			now = strings.Replace(base, "terminals:\n  C14.1: {size: 2.8 mm}\n", "", 1)
		}
		if now == base {
			t.Fatalf("%q is not in the circuit", c[0])
		}
		if got := told(Circuits(read(t, base), read(t, now))); got != "" && !strings.Contains(c[1], "68 F") {
			t.Errorf("%s -> %s: %s", c[0], c[1], got)
		}
	}
	for _, name := range circuits.Names() {
		if got := told(Circuits(read(t, example(t, name)), read(t, example(t, name)))); got != "" {
			t.Errorf("%s differs from itself: %s", name, got)
		}
	}
}

// overlooked are fields that say again what others say, or where a thing stands in the file.
var overlooked = map[string]bool{
	"File": true, "Pos": true, "Spot": true, "FarSpot": true, "Spots": true, "Kind": true, "Owner": true, "Inline": true,
	"Splice": true, "Stud": true, "Wire": true, "Cavity": true, "Part": true, "In": true, "Out": true, // of a step or end: met elsewhere
	"Drawn": true, // out of its place
}

// field is one value somewhere in a circuit.
type field struct {
	name  string
	value reflect.Value
}

// fields lists every exported value that can be reached in a circuit, each thing once.
func fields(v reflect.Value, name string, seen map[uintptr]bool, found *[]field) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() && !seen[v.Pointer()] {
			seen[v.Pointer()] = true
			fields(v.Elem(), name, seen, found)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && !overlooked[f.Name] {
				fields(v.Field(i), name+"."+f.Name, seen, found)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			fields(v.Index(i), fmt.Sprintf("%s[%d]", name, i), seen, found)
		}
	case reflect.String, reflect.Float64, reflect.Int, reflect.Bool:
		*found = append(*found, field{name, v})
	}
}

// No field of the model is overlooked: each value of a circuit, changed alone, is told.
func TestEveryFieldCounts(t *testing.T) {
	text := strings.Replace(base, "PC1: {is: module,", "PC1: {is: module, tags: [srs], sensor ground: [3], reference: [4], signals: [6], bus: [10, 11],", 1)
	was := read(t, text)
	var all []field
	fields(reflect.ValueOf(read(t, text)), "", map[uintptr]bool{}, &all)
	if len(all) < 300 {
		t.Fatalf("only %d values were found", len(all))
	}
	for i := range all {
		now := read(t, text)
		var fresh []field
		fields(reflect.ValueOf(now), "", map[uintptr]bool{}, &fresh)
		f := fresh[i]
		if derived(now, f) {
			continue
		}
		switch f.value.Kind() {
		case reflect.String:
			f.value.SetString(f.value.String() + "x")
		case reflect.Float64:
			f.value.SetFloat(math.Nextafter(f.value.Float(), math.Inf(1)))
		case reflect.Int:
			f.value.SetInt((f.value.Int() + 1) % 3)
		case reflect.Bool:
			f.value.SetBool(!f.value.Bool())
		}
		if len(Circuits(was, now)) == 0 || len(Circuits(now, was)) == 0 {
			t.Errorf("a change of %s is not told", f.name)
		}
	}
}

// derived says that a value only follows from others: a wire's ohms from its size, where it has one; a terminal's name
// from its owner and pin. A gauge's name is another spelling of an area that is told.
func derived(c *circuit.Circuit, f field) bool {
	if strings.Contains(f.name, ".Terminals") && strings.HasSuffix(f.name, ".Name") || strings.Contains(f.name, ".Cavities") && strings.HasSuffix(f.name, ".Pin") {
		return true
	}
	for _, w := range c.Wires {
		switch f.value.Addr().Interface() {
		case any(&w.Unsaid): // the size itself is told
			return true
		case any(&w.AWG):
			return true
		case any(&w.Ohms):
			return w.AreaMM2 > 0
		case any(&w.Metres):
			return w.AreaMM2 == 0
		}
	}
	return false
}

// What is accepted no longer, or for another reason, is told, but not of a thing that is gone itself.
func TestAcceptedDiffers(t *testing.T) {
	read := func(accepted string) *circuit.Circuit {
		text := strings.Replace(base, "title: Test", "title: Test\naccepted: ["+accepted+"]", 1)
		c, problems := circuit.Read("a.yaml", []byte(text))
		if c == nil {
			t.Fatal(problems)
		}
		return c
	}
	const thin, drop = "{rule: thin wire, at: F7, because: short}", "{rule: volt drop, at: M1, because: far}"
	for _, c := range []struct{ was, now, want string }{
		{thin + ", " + drop, drop + ", " + thin, ""},
		{thin + ", " + drop, drop, "thin wire at F7 no longer accepted"},
		{thin, "{rule: thin wire, at: F7, because: old}", `thin wire at F7 now accepted since "old", was "short"`},
		{thin, "{rule: thin wire, at: F8, because: short}", "thin wire at F7 no longer accepted\n" + `thin wire at F8 now accepted: "short"`},
	} {
		var got []string
		for _, change := range Circuits(read(c.was), read(c.now)) {
			got = append(got, change.Text)
		}
		if text := strings.Join(got, "\n"); text != c.want {
			t.Errorf("from %s to %s:\n%s\nwant:\n%s", c.was, c.now, text, c.want)
		}
	}
}

// The longest common part of long paths is found without a huge table, and of short ones it is the longest.
func TestDifferences(t *testing.T) {
	for _, c := range []struct{ before, after, want string }{
		{"a b c", "a b c", ""}, {"a b c", "a x b c", "1:1>1:2"}, {"a b c d", "a d", "1:3>1:1"}, {"a b c", "a x c", "1:2>1:2"},
		{"a b c d e", "a d b c e", "1:1>1:2 3:4>4:4"},
	} {
		var got []string
		for _, g := range differences(strings.Fields(c.before), strings.Fields(c.after)) {
			got = append(got, fmt.Sprintf("%d:%d>%d:%d", g.from, g.to, g.now, g.end))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s to %s: %v, want %s", c.before, c.after, got, c.want)
		}
	}
	long := make([]string, 5000)
	other := make([]string, 5000)
	for i := range long {
		long[i], other[i] = fmt.Sprint("a", i), fmt.Sprint("b", i)
	}
	if g := differences(long, other); len(g) != 1 || g[0] != (group{0, 5000, 0, 5000}) {
		t.Errorf("two long paths with nothing in common: %v", g)
	}
}
