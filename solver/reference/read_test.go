package reference

// This file reads the sheets of published values, and refuses what it does not
// fully understand.

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/big"
	"os"
	"path/filepath"
	"strings"

	"gopkg.in/yaml.v3"
)

// sheet is one file: one source.
type sheet struct {
	Source    string
	Seen      string // read, second-hand or memory
	Tolerance string // for values that do not give their own
	Why       string
	Circuits  []worked
	Values    []published
}

// worked is one worked circuit with its printed answers.
//
// A line of the netlist is: name, kind, two nodes, value. A resistor is in ohms
// (0 joins), a source in volts from its minus to its plus node, a current in
// amps driven from the first node to the second, a diode its saturation amps,
// ideality and series ohms. Values may be sums and quotients, so that an answer
// asked backwards stands there as its closed form. Node 0 is ground; without
// one, the first node named is.
type worked struct {
	ID, Where      string
	Netlist        []string
	Tolerance, Why string
	Answers        []answer
}

// answer is a printed answer: Of is a formula in I(branch), P(branch), R(branch),
// V(node) and V(node,node). P of a source is what it delivers.
type answer struct {
	Of             string
	Value, Unit    string
	Tolerance, Why string
	Correction     string // what the source prints instead, and why that is a slip
}

// published is a value that is no circuit's answer: Compute names how ours comes about, from Given.
type published struct {
	ID, Compute, Given string
	Role               string // input: the program takes this value in, the check only guards the copy
	Value, Unit        string
	Conditions         string
	Tolerance, Why     string
	Correction         string
}

// check is one published value beside ours.
type check struct {
	source, seen, file        string
	id, quantity, conditions  string
	printed, unit, correction string
	tolerance, why            string
	input                     bool
	published, allowed        *big.Rat // in base units
	ours                      *big.Rat
	exact                     *big.Rat // solved in fractions; nil where that cannot be
}

// name is the check's name in messages.
func (c check) name() string { return c.file + ": " + c.id + ": " + c.quantity }

// off is how far ours is from the published value.
func (c check) off() *big.Rat { return distance(c.ours, c.published) }

// agrees reports whether ours is within the allowed distance, with room for the rounding of the comparison alone.
func (c check) agrees() bool {
	room := new(big.Rat).Mul(c.allowed, big.NewRat(1_000_000_001, 1_000_000_000))
	return c.off().Cmp(room) <= 0
}

func distance(a, b *big.Rat) *big.Rat {
	d := new(big.Rat).Sub(a, b)
	return d.Abs(d)
}

// readAll computes every value of every sheet in the folder. Any doubt is an error.
func readAll(folder string) ([]check, error) {
	names, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	if err != nil || len(names) == 0 {
		return nil, fmt.Errorf("no sheets of published values in %s: %v", folder, err)
	}
	var checks []check
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		more, err := readSheet(filepath.Base(name), data)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", filepath.Base(name), err)
		}
		checks = append(checks, more...)
	}
	return checks, nil
}

func readSheet(file string, data []byte) ([]check, error) {
	var s sheet
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	decoder.KnownFields(true)
	if err := decoder.Decode(&s); err != nil {
		return nil, err
	}
	if err := decoder.Decode(new(sheet)); !errors.Is(err, io.EOF) {
		return nil, errors.New("more than one document in a file")
	}
	if s.Source == "" {
		return nil, errors.New("the source is not named")
	}
	if s.Seen != "read" && s.Seen != "second-hand" && s.Seen != "memory" {
		return nil, fmt.Errorf("seen is %q, not read, second-hand or memory", s.Seen)
	}
	var checks []check
	for _, w := range s.Circuits {
		more, err := w.checks(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", w.ID, err)
		}
		checks = append(checks, more...)
	}
	for _, v := range s.Values {
		c, err := v.check(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", v.ID, err)
		}
		checks = append(checks, c)
	}
	if len(checks) == 0 {
		return nil, errors.New("no published value in it")
	}
	seen := map[string]bool{}
	for i := range checks {
		c := &checks[i]
		c.file, c.source, c.seen = file, s.Source, s.Seen
		if seen[c.name()] {
			return nil, fmt.Errorf("%s is there twice", c.name())
		}
		seen[c.name()] = true
	}
	return checks, nil
}

// checks solves a worked circuit by the solver and in fractions.
func (w worked) checks(s sheet) ([]check, error) {
	if w.ID == "" || w.Where == "" || len(w.Answers) == 0 {
		return nil, errors.New("a circuit needs id, where and answers")
	}
	elements, err := parseNetlist(w.Netlist)
	if err != nil {
		return nil, err
	}
	ours, err := solveNumbers(elements)
	if err != nil {
		return nil, err
	}
	exact, err := solveFractions(elements)
	if err != nil {
		return nil, err
	}
	var checks []check
	for _, a := range w.Answers {
		c := check{id: w.ID, quantity: a.Of, conditions: w.Where, printed: a.Value, unit: a.Unit, correction: a.Correction,
			tolerance: first(a.Tolerance, w.Tolerance, s.Tolerance), why: first(a.Why, w.Why, s.Why)}
		if c.ours, err = evaluate(a.Of, ours); err != nil {
			return nil, err
		}
		if exact != nil {
			if c.exact, err = evaluate(a.Of, exact); err != nil {
				return nil, err
			}
		}
		if err := c.measure(); err != nil {
			return nil, err
		}
		checks = append(checks, c)
	}
	return checks, nil
}

// check computes ours for a value that is no circuit's answer.
func (v published) check(s sheet) (check, error) {
	if v.ID == "" || (v.Role != "" && v.Role != "input") {
		return check{}, errors.New("a value needs an id; its role is input or not given")
	}
	c := check{id: v.ID, quantity: v.Compute, conditions: first(v.Conditions, v.Given), printed: v.Value, unit: v.Unit, correction: v.Correction,
		tolerance: first(v.Tolerance, s.Tolerance), why: first(v.Why, s.Why), input: v.Role == "input"}
	compute, known := computes[v.Compute]
	if !known {
		return check{}, fmt.Errorf("nothing computes %q", v.Compute)
	}
	g := given{left: strings.Split(v.Given, ", ")}
	value := compute(&g)
	if g.err != nil || len(g.left) > 0 {
		return check{}, fmt.Errorf("given %q: %v, unused %q", v.Given, g.err, g.left)
	}
	c.ours = new(big.Rat).SetFloat64(value)
	if c.ours == nil {
		return check{}, fmt.Errorf("ours is %v", value)
	}
	return c, c.measure()
}

func first(texts ...string) string {
	for _, text := range texts {
		if text != "" {
			return text
		}
	}
	return ""
}

// scales gives each unit in base units; "in" stays as it is.
var scales = map[string]string{"1": "1", "V": "1", "mV": "1/1000", "A": "1", "mA": "1/1000", "µA": "1/1000000", "Ω": "1", "mΩ": "1/1000", "kΩ": "1000", "MΩ": "1000000",
	"W": "1", "kW": "1000", "mW": "1/1000", "%": "1/100", "in": "1", "N": "1", "s": "1"}

// measure sets the published value and the allowed distance.
func (c *check) measure() error {
	scale, ok := new(big.Rat).SetString(scales[c.unit])
	if !ok {
		return fmt.Errorf("unit %q is not known", c.unit)
	}
	c.published, ok = new(big.Rat).SetString(c.printed)
	if !ok || strings.Contains(c.printed, "/") {
		return fmt.Errorf("value %q is no number", c.printed)
	}
	c.published.Mul(c.published, scale)
	if c.why == "" {
		return errors.New("it is not said why the tolerance is what it is")
	}
	_, decimals, _ := strings.Cut(c.printed, ".")
	digit := new(big.Rat).Quo(scale, new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(decimals))), nil)))
	size := new(big.Rat).Abs(c.published)
	switch number, isPercent := strings.CutSuffix(c.tolerance, " %"); {
	case c.tolerance == "exact":
		c.allowed = new(big.Rat).Mul(size, big.NewRat(1, 1e9))
		if size.Sign() == 0 {
			c.allowed = big.NewRat(1, 1e12)
		}
	case c.tolerance == "printed":
		c.allowed = digit.Mul(digit, big.NewRat(1, 2))
	case c.tolerance == "1 digit":
		c.allowed = digit
	case isPercent:
		share, ok := new(big.Rat).SetString(number)
		if !ok {
			return fmt.Errorf("tolerance %q is no number", c.tolerance)
		}
		c.allowed = size.Mul(size, share.Mul(share, big.NewRat(1, 100)))
	default:
		return fmt.Errorf("tolerance %q is not exact, printed, 1 digit or a percentage", c.tolerance)
	}
	return nil
}
