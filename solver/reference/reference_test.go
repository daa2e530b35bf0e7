package reference

// This file compares, and prints the table and its totals.

import (
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"text/tabwriter"
)

const (
	folder  = "../../testdata"
	readme  = "../../README.md"
	opening = "<!-- outside-values -->"
	closing = "<!-- /outside-values -->"
)

func all(t *testing.T) []check {
	t.Helper()
	checks, err := readAll(folder)
	if err != nil {
		t.Fatal(err)
	}
	return checks
}

func TestAgainstPublished(t *testing.T) {
	for _, c := range all(t) {
		if !c.agrees() {
			t.Errorf("%s: published %s %s, ours %s; allowed %s (%s): %s", c.name(), c.printed, c.unit, number(c.ours), c.tolerance, c.why, c.source)
		}
	}
}

// Solving in fractions leaves no rounding to blame: it must agree with the
// printed answers too, and the solver with it, to a thousand-millionth.
func TestAgainstFractions(t *testing.T) {
	solved := 0
	for _, c := range all(t) {
		if c.exact == nil {
			continue
		}
		solved++
		allowed := new(big.Rat).Mul(new(big.Rat).Abs(c.exact), big.NewRat(1, 1e9))
		if c.exact.Sign() == 0 {
			allowed = big.NewRat(1, 1e12)
		}
		if distance(c.ours, c.exact).Cmp(allowed) > 0 {
			t.Errorf("%s: solver %s, fractions %s", c.name(), number(c.ours), number(c.exact))
		}
		within := c.allowed
		if c.tolerance == "exact" {
			within = new(big.Rat).SetFrac64(1, 1e18)
		}
		if distance(c.exact, c.published).Cmp(within) > 0 {
			t.Errorf("%s: published %s %s, in fractions %s", c.name(), c.printed, c.unit, number(c.exact))
		}
	}
	if solved < 200 {
		t.Errorf("only %d answers were solved in fractions", solved)
	}
}

// The worked examples W1 to W31, W37 and W38 must all be there; those between are transients, which a network at rest does not have.
func TestNoExampleIsMissing(t *testing.T) {
	there := map[string]bool{}
	for _, c := range all(t) {
		there[strings.Fields(c.id)[0]] = true
	}
	for w := 1; w <= 38; w++ {
		if w < 32 || w > 36 {
			if id := fmt.Sprintf("W%d", w); !there[id] {
				t.Errorf("%s is missing", id)
			}
		}
	}
}

// No check may be one that cannot fail: three tolerances away it must, and no
// tolerance is wider than 12 %.
func TestEveryCheckCanFail(t *testing.T) {
	for _, c := range all(t) {
		size := new(big.Rat).Abs(c.published)
		if widest := new(big.Rat).Mul(size, big.NewRat(12, 100)); size.Sign() > 0 && c.allowed.Cmp(widest) > 0 {
			t.Errorf("%s: the tolerance is wider than 12 %%", c.name())
		}
		c.ours = new(big.Rat).Add(c.ours, new(big.Rat).Mul(c.allowed, big.NewRat(3, 1)))
		if c.agrees() {
			t.Errorf("%s: three tolerances off, and it still agrees", c.name())
		}
	}
}

func TestSheetsAreRefused(t *testing.T) {
	const head = "source: a book\nseen: read\ntolerance: printed\nwhy: rounding\n"
	const circuit = "circuits:\n  - id: one\n    where: here\n"
	for name, c := range map[string]struct{ sheet, says string }{
		"empty":           {"", "EOF"},
		"not YAML":        {"\t{", "yaml"},
		"no values":       {head, "no published value"},
		"unknown key":     {head + "colour: red\n", "colour"},
		"two documents":   {head + "---\n" + head, "more than one"},
		"no source":       {"seen: read\n", "source is not named"},
		"not seen":        {"source: a book\nseen: dreamt\n", "dreamt"},
		"no why":          {"source: a book\nseen: read\ntolerance: exact\nvalues: [{id: a, compute: tungsten, given: 300 K, value: \"5\", unit: \"1\"}]\n", "why"},
		"unknown compute": {head + "values: [{id: a, compute: magic, given: x, value: \"5\", unit: V}]\n", "magic"},
		"unused given":    {head + "values: [{id: a, compute: tungsten, given: \"300 K, 12 V\", value: \"5\", unit: \"1\"}]\n", "12 V"},
		"missing given":   {head + "values: [{id: a, compute: fuse ohms, given: miniature, value: \"5\", unit: Ω}]\n", "missing"},
		"unknown unit":    {head + "values: [{id: a, compute: tungsten, given: 300 K, value: \"5\", unit: furlong}]\n", "furlong"},
		"no number":       {head + "values: [{id: a, compute: tungsten, given: 300 K, value: five, unit: \"1\"}]\n", "five"},
		"poor tolerance":  {head + "values: [{id: a, compute: tungsten, given: 300 K, value: \"5\", unit: \"1\", tolerance: plenty}]\n", "plenty"},
		"twice":           {head + "values: [{id: a, compute: tungsten, given: 300 K, value: \"5\", unit: \"1\"}, {id: a, compute: tungsten, given: 300 K, value: \"5\", unit: \"1\"}]\n", "twice"},
		"no netlist":      {head + circuit + "    answers: [{of: V(a), value: \"1\", unit: V}]\n", "netlist is empty"},
		"poor line":       {head + circuit + "    netlist: [R resistor a]\n    answers: [{of: V(a), value: \"1\", unit: V}]\n", "not understood"},
		"name taken":      {head + circuit + "    netlist: [R resistor a 0 1, R resistor a 0 1]\n    answers: [{of: V(a), value: \"1\", unit: V}]\n", "taken"},
		"poor formula":    {head + circuit + "    netlist: [R resistor a 0 1/0]\n    answers: [{of: V(a), value: \"1\", unit: V}]\n", "1/0"},
		"no such node":    {head + circuit + "    netlist: [R resistor a 0 1]\n    answers: [{of: V(b), value: \"1\", unit: V}]\n", "V(b)"},
		"no answers":      {head + circuit + "    netlist: [R resistor a 0 1]\n", "answers"},
	} {
		if _, err := readSheet("x.yaml", []byte(c.sheet)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want words on %q", name, err, c.says)
		}
	}
	if _, err := readAll(t.TempDir()); err == nil {
		t.Error("an empty folder was accepted")
	}
	broken := t.TempDir()
	if err := os.Mkdir(filepath.Join(broken, "x.yaml"), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, err := readAll(broken); err == nil {
		t.Error("an unreadable sheet was accepted")
	}
}

// TestTable prints every value with -v.
func TestTable(t *testing.T) {
	checks := all(t)
	if !testing.Verbose() {
		return
	}
	out := tabwriter.NewWriter(os.Stdout, 0, 4, 2, ' ', 0)
	fmt.Fprintln(out, "source\tseen\twhat\tpublished\tours\toff\tallowed\tconditions")
	for _, c := range checks {
		published := withUnit(c.printed, c.unit)
		if c.correction != "" {
			published += " (corrected)"
		}
		kind := c.seen
		if c.input {
			kind += ", input"
		}
		fmt.Fprintf(out, "%s\t%s\t%s: %s\t%s\t%s\t%s\t%s\t%s\n", c.source, kind, c.id, c.quantity, published, inUnit(c.ours, c.unit), percent(c), c.tolerance, c.conditions)
	}
	if err := out.Flush(); err != nil {
		t.Fatal(err)
	}
	for _, c := range checks {
		if c.correction != "" {
			fmt.Printf("corrected: %s: %s\n", c.name(), c.correction)
		}
	}
	fmt.Println(totals(checks))
}

// totals is the line that README.md shows.
func totals(checks []check) string {
	sources, sheets, inputs, fractions := map[string]bool{}, map[string]bool{}, 0, 0
	var worst check
	for _, c := range checks {
		sheets[c.source] = true
		if !c.input {
			sources[c.source] = true
		}
		if c.exact != nil {
			fractions++
		}
		if c.input {
			inputs++
		} else if worst.ours == nil || share(c).Cmp(share(worst)) > 0 {
			worst = c
		}
	}
	return fmt.Sprintf("%d published values from %d sources are computed again by this program's solver and tables and agree within the tolerance written beside each; "+
		"the largest difference is %s (%s, %s: allowed %s). %d of them are also solved in exact fractions, which the solver matches within 1e-9. "+
		"%d further values are taken over into the program and checked against their source; %d sources in all.",
		len(checks)-inputs, len(sources), percent(worst), worst.id, worst.source, worst.tolerance, fractions, inputs, len(sheets))
}

// share is the difference as a share of the published value; 0 where that is 0.
func share(c check) *big.Rat {
	if c.published.Sign() == 0 {
		return new(big.Rat)
	}
	return new(big.Rat).Quo(c.off(), new(big.Rat).Abs(c.published))
}

func percent(c check) string {
	value, _ := share(c).Float64()
	if value < 5e-12 {
		return "0"
	}
	return fmt.Sprintf("%.2g %%", value*100)
}

func number(r *big.Rat) string {
	value, _ := r.Float64()
	return fmt.Sprintf("%.10g", value)
}

// inUnit writes a value in the unit of the published one.
func inUnit(r *big.Rat, unit string) string {
	scale, _ := new(big.Rat).SetString(scales[unit])
	value, _ := new(big.Rat).Quo(r, scale).Float64()
	return withUnit(fmt.Sprintf("%.7g", value), unit)
}

// withUnit leaves out the unit 1 of plain numbers.
func withUnit(number, unit string) string {
	if unit == "1" {
		return number
	}
	return number + " " + unit
}

// README.md must show the totals as they are today.
func TestReadmeShowsTotals(t *testing.T) {
	want := totals(all(t))
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatalf("README.md must hold this between %s and %s:\n%s\n%v", opening, closing, want, err)
	}
	_, after, found := strings.Cut(string(data), opening)
	shown, _, closed := strings.Cut(after, closing)
	if !found || !closed || strings.Join(strings.Fields(shown), " ") != want {
		t.Errorf("README.md must hold this between %s and %s:\n%s", opening, closing, want)
	}
}
