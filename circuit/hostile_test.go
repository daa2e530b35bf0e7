package circuit

// Files made to cost much or to break something: all of them are refused or read, with every error in its place.

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// head begins a good circuit with one fuse and one lamp; its paths can be followed by more.
const head = `underload: 1
parts:
  B1: {is: battery}
  F7: {is: fuse, rating: 15 A}
  E3: {is: lamp, bulb: 55 W}
grounds:
  G1: {to: B1.neg}
paths:
  feed: [B1.pos, wire, F7, wire, E3, wire, G1]
`

// checkSound tells what no answer of Read may be: neither a circuit nor an error, or an error without a place.
func checkSound(t *testing.T, c *Circuit, problems Problems) {
	t.Helper()
	errors := problems.Errors()
	if (c == nil) != (len(errors) > 0) {
		t.Fatalf("circuit %v with %d errors", c != nil, len(errors))
	}
	if len(problems) > mostProblems {
		t.Fatalf("%d problems", len(problems))
	}
	for i, p := range problems {
		if p.Pos.Line < 1 || p.Pos.Column < 1 || p.Text == "" || strings.Contains(p.Error(), "\n") {
			t.Fatalf("problem %d is not as it should be: %q", i, p.Error())
		}
		if i > 0 && (p.Pos.Line < problems[i-1].Pos.Line || p.Pos.Line == problems[i-1].Pos.Line && p.Pos.Column < problems[i-1].Pos.Column) {
			t.Fatalf("problems are not sorted: %q before %q", problems[i-1].Error(), p.Error())
		}
	}
	if c == nil {
		return
	}
	for _, w := range c.Wires {
		if !(w.Ohms > 0) || math.IsInf(w.Ohms, 0) || w.From.Spot < 0 || int(w.From.Spot) >= c.Spots || w.To.Spot < 0 || int(w.To.Spot) >= c.Spots {
			t.Fatalf("wire %s: %+v", w.Name, w)
		}
	}
	for name, terminal := range c.terminals {
		for i, ohms := range []float64{terminal.CrimpOhms, terminal.ContactOhms, terminal.BehindOhms} {
			if !(ohms > 0 || i == 2 && ohms == 0) || math.IsInf(ohms, 0) {
				t.Fatalf("terminal %s: %+v", name, terminal)
			}
		}
	}
	for _, p := range c.Points() {
		if back, err := c.Point(p.Name); err != nil || back.Name != p.Name || p.Reach == Nowhere {
			t.Fatalf("point %s: %v", p.Name, err)
		}
	}
}

func TestHostile(t *testing.T) {
	many := func(n int, line func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(line(i))
		}
		return b.String()
	}
	same := func(text string) func(int) string { return func(int) string { return text } }
	for name, c := range map[string]struct{ data, says string }{
		"over 2 MB":         {strings.Repeat("#", mostBytes+1), "larger than 2000000 bytes"},
		"2 MB of comment":   {strings.Repeat("#", mostBytes-1) + "\n", "empty"},
		"2 MB of comments":  {strings.Repeat("#\n", mostBytes/2), "nests too deep or holds too many"},
		"comments":          {strings.Repeat("#\n", mostMarks/2), "empty"},
		"indented comments": {"a:\n" + strings.Repeat("  #\n", mostMarks/2), ""},
		"brackets":          {strings.Repeat("[", mostBytes), "nests too deep"},
		"brackets by line":  {strings.Repeat("[\n", 100_000), ""},
		"braces":            {strings.Repeat("{a: ", 100_000), "nests too deep"},
		"dashes":            {strings.Repeat("- ", 150_000), ""},
		"keys in a line":    {strings.Repeat("a: ", 100_000), ""},
		"question marks":    {strings.Repeat("? ", 100_000), ""},
		"deep indent":       {many(1500, func(i int) string { return strings.Repeat(" ", i) + "a:\n" }), ""},
		"flow pairs":        {"[" + strings.Repeat("a: b, ", 60_000) + "]", "not a circuit file"},
		"one word":          {strings.Repeat("x", mostBytes-1), "not a circuit file"},
		"one key":           {strings.Repeat("x", 1_000_000) + ": 1\n", "a colon stands"},
		"open quote":        {"\"" + strings.Repeat("x\n", 150_000), "quote is not closed"},
		"alias bomb":        {"a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c,*c,*c,*c]\n", "anchors"},
		"anchors":           {"[" + strings.Repeat("&a x,", 100_000) + "]", "anchors"},
		"merge keys":        {"a: &a {b: 1}\nc: {<<: *a}\n", "anchors"},
		"binary":            {"\x00\x01\x02\xff\xfe", "U+0000"},
		"high bytes":        {"underload: \xff\xfe", "not text in UTF-8"},
		"UTF-16":            {"\xff\xfeu\x00n\x00", "not text in UTF-8"},
		"bell":              {"underload: 1\a", "U+0007"},
		"too many parts":    {"underload: 1\npaths: {}\nparts:\n" + many(20_100, func(i int) string { return fmt.Sprintf("  R%d: {is: led}\n", i) }), "more than 20000 parts"},
		"misspelt keys":     {"underload: 1\nparts:\n" + many(20_000, func(i int) string { return fmt.Sprintf(" led%05d: {iz: led}\n", i) }), "more errors, not told"},
		"misspelt steps":    {head + many(15_000, func(i int) string { return fmt.Sprintf("  p%d: [F7.out, wire, Sp%05d]\n", i, i) }), "more errors, not told"},
		"misspelt pins":     {strings.Replace(head, "grounds", "  PC1: {is: module, ground: [8], supply: ["+many(900, func(i int) string { return fmt.Sprintf("p%d,", i) })+"]}\ngrounds", 1) + many(15_000, func(i int) string { return fmt.Sprintf("  p%d: [F7.out, PC1.q%d]\n", i, i) }), "more errors, not told"},
		"pins":              {strings.Replace(head, "grounds", "  PC1: {is: module, ground: [8], supply: ["+many(90_000, func(i int) string { return fmt.Sprintf("%d,", i) })+"]}\ngrounds", 1), "more than 1000 pins"},
		"throws":            {strings.Replace(head, "grounds", "  SW: {is: switch, throws: {"+many(90_000, func(i int) string { return fmt.Sprintf("p%d: [],", i) })+"}}\ngrounds", 1), "more than 64 positions"},
		"pairs":             {strings.Replace(head, "grounds", "  SW: {is: switch, throws: {a: ["+strings.Repeat("1-2,", 90_000)+"], b: []}}\ngrounds", 1), "more than"},
		"cavities":          {head + many(1200, func(i int) string { return fmt.Sprintf("  p%d: [F7.out, wire, C1.%d, wire, G1]\n", i, i) }), "more than 1000 cavities"},
		"wires":             {head + many(20_100, same("")) + "  p: [F7.out" + strings.Repeat(", wire, S1, wire, S2", 10_100) + "]\n", "more than 20000 wires"},
		"long names":        {head + "  " + strings.Repeat("p", 500) + ": [" + strings.Repeat("s", 500) + ", " + strings.Repeat("t", 90) + "." + strings.Repeat("u", 90) + "]\n", "characters long"},
		"grounds in a row":  {strings.Replace(head, "paths:", many(15_000, func(i int) string { return fmt.Sprintf("  H%d: {to: H%d}\n", i, i+1) })+"paths:", 1), "neither a ground"},
		"ring of grounds":   {strings.Replace(head, "paths:", many(15_000, func(i int) string { return fmt.Sprintf("  H%d: {to: H%d}\n", i, (i+1)%15_000) })+"paths:", 1), "circle"},
	} {
		t.Run(name, func(t *testing.T) {
			got, problems := Read("hostile.yaml", []byte(c.data))
			checkSound(t, got, problems)
			if got != nil {
				t.Fatal("it was read without an error")
			}
			if !strings.Contains(problems.Error(), c.says) {
				t.Errorf("said %.600q, want %q in it", problems.Error(), c.says)
			}
		})
	}
}

// What is odd but right is read.
func TestPlainVariants(t *testing.T) {
	want, problems := Read("plain.yaml", []byte(head))
	if want == nil {
		t.Fatal(problems)
	}
	for name, data := range map[string]string{
		"BOM":              "\ufeff" + head,
		"CRLF":             strings.ReplaceAll(head, "\n", "\r\n"),
		"document start":   "---\n" + head,
		"document end":     head + "...\n",
		"trailing space":   strings.ReplaceAll(head, "\n", "  \n"),
		"tab before colon": strings.ReplaceAll(head, "is: ", "is:\t"),
		"quoted":           strings.ReplaceAll(strings.ReplaceAll(head, "B1", `"B1"`), `"B1".`, "B1."),
		"no last line end": strings.TrimSuffix(head, "\n"),
	} {
		got, problems := Read("plain.yaml", []byte(data))
		if got == nil || len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		if len(got.Points()) != len(want.Points()) || got.Spots != want.Spots {
			t.Errorf("%s: another circuit came out", name)
		}
	}
}

// A hundred thousand points are read, in one piece.
func TestLargeCircuit(t *testing.T) {
	var parts, paths strings.Builder
	for i := range 16_000 {
		fmt.Fprintf(&parts, "  R%d: {is: relay}\n", i)
		fmt.Fprintf(&paths, "  p%d: [B1.pos, R%d.30-87, G1]\n", i, i)
	}
	c, problems := Read("large.yaml", []byte(strings.Replace(head, "grounds", parts.String()+"grounds", 1)+paths.String()))
	if c == nil {
		t.Fatal(problems)
	}
	checkSound(t, c, problems)
	if len(c.Points()) < 100_000 {
		t.Errorf("%d points", len(c.Points()))
	}
}

// A way of ten thousand things is still told whole, with what hangs on the first few hundred.
func TestFeedsOfLongWay(t *testing.T) {
	const many = 1_500
	var parts, connectors, steps strings.Builder
	for i := range many {
		fmt.Fprintf(&parts, "  H%d: {is: fuse, rating: 15 A}\n", i)
		fmt.Fprintf(&connectors, "  D%d: {}\n", i)
		fmt.Fprintf(&steps, ", H%d, wire, D%d.1, wire", i, i)
	}
	data := strings.Replace(head, "grounds", parts.String()+"connectors:\n"+connectors.String()+"grounds", 1)
	c, problems := Read("long.yaml", []byte(strings.Replace(data, "wire, E3", "wire"+steps.String()+", E3", 1)))
	if c == nil {
		t.Fatal(problems)
	}
	feeds, err := c.Feeds("E3")
	if err != nil || len(feeds) != 2 {
		t.Fatalf("%d feeds, %v", len(feeds), err)
	}
	if got := len(feeds[0].Way); got != 4*many+3 { // with F7 and the wires on both sides of it
		t.Errorf("%d things on the way", got)
	}
}
