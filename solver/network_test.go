package solver

// This file checks worked examples from textbooks and the handling of values.

import (
	"errors"
	"math"
	"strings"
	"testing"

	"underload/solver/device"
)

// element is one branch of a textbook network: a resistor, or with volts a
// source from a up to b. Node "0" is Ground.
type element struct {
	name, a, b  string
	ohms, volts float64
}

func build(elements []element) (*Network, map[string]Node, map[string]Branch) {
	n := NewNetwork()
	nodes := map[string]Node{"0": Ground}
	node := func(name string) Node {
		if _, ok := nodes[name]; !ok {
			nodes[name] = n.AddNode()
		}
		return nodes[name]
	}
	branches := map[string]Branch{}
	for _, e := range elements {
		a, b := node(e.a), node(e.b)
		if e.volts != 0 {
			branches[e.name] = n.AddSource(a, b, e.volts, e.ohms)
		} else {
			branches[e.name] = n.AddResistor(a, b, e.ohms)
		}
	}
	return n, nodes, branches
}

// The circuits and printed answers of OpenStax, University Physics Volume 2,
// chapter 10, and of T. R. Kuphaldt, Lessons in Electric Circuits, volume I.
func TestTextbookCircuits(t *testing.T) {
	tests := []struct {
		name      string
		circuit   []element
		volts     map[string]float64
		amps      map[string]float64
		tolerance float64
	}{
		{"OpenStax example 10.4", []element{
			{"E", "0", "a", 0, 12}, {"R1", "a", "b", 1, 0}, {"R2", "b", "0", 6, 0}, {"R3", "b", "0", 13, 0},
		}, map[string]float64{"b": 9.65}, map[string]float64{"E": 2.35, "R2": 1.61, "R3": 0.742}, 5e-3},
		{"OpenStax two loops", []element{
			{"V1", "0", "a", 0, 24}, {"R1", "a", "b", 3, 0}, {"R2", "b", "0", 3, 0}, {"R3", "b", "c", 3, 0},
			{"R4", "c", "d", 4, 0}, {"V2", "0", "d", 0, 29},
		}, nil, map[string]float64{"R1": 3, "R2": 5, "R3": -2}, 1e-9},
		{"OpenStax example 10.7, nothing grounded", []element{
			{"V2", "c", "a", 0, 24}, {"R3", "a", "a2", 20, 0}, {"R1", "a2", "b2", 10, 0}, {"V1", "d", "b2", 0, 12},
			{"R2", "d", "c", 30, 0},
		}, nil, map[string]float64{"R1": 0.2, "R2": 0.2, "V1": -0.2, "V2": 0.2}, 1e-9},
		{"Lessons, branch current method", []element{
			{"V1", "0", "1", 0, 28}, {"R1", "1", "2", 4, 0}, {"R2", "2", "0", 2, 0}, {"R3", "2", "3", 1, 0},
			{"V2", "0", "3", 0, 7},
		}, map[string]float64{"2": 8}, map[string]float64{"R1": 5, "R2": 4, "R3": 1, "V2": -1}, 1e-9},
		{"Lessons, node voltage method", []element{
			{"V1", "0", "11", 0, 10}, {"R1", "11", "1", 2, 0}, {"R2", "1", "0", 4, 0}, {"R3", "1", "2", 2.5, 0},
			{"R4", "2", "0", 5, 0}, {"R5", "2", "22", 1, 0}, {"V2", "0", "22", 0, -4},
		}, map[string]float64{"1": 3.8095, "2": -1.5476}, nil, 5e-5},
		{"Lessons, unbalanced bridge", []element{
			{"V1", "0", "1", 0, 24}, {"R1", "1", "2", 150, 0}, {"R2", "1", "3", 50, 0}, {"R3", "2", "3", 100, 0},
			{"R4", "2", "0", 300, 0}, {"R5", "3", "0", 250, 0},
		}, map[string]float64{"2": 17.6552, "3": 19.3103}, map[string]float64{"V1": 0.136092, "R3": -0.016552}, 5e-5},
		{"Lessons, voltmeter loading", []element{
			{"V", "0", "1", 0, 24}, {"upper", "1", "2", 250e6, 0}, {"lower", "2", "0", 250e6, 0}, {"meter", "2", "0", 10e6, 0},
		}, map[string]float64{"2": 0.8889}, nil, 5e-5},
	}
	for _, test := range tests {
		n, nodes, branches := build(test.circuit)
		var s Solution
		if err := n.Solve(&s); err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		for name, want := range test.volts {
			if got := s.Volts(nodes[name]); math.Abs(got-want) > test.tolerance {
				t.Errorf("%s: node %s at %v V, printed %v", test.name, name, got, want)
			}
		}
		for name, want := range test.amps {
			if got := s.Amps(branches[name]); math.Abs(got-want) > test.tolerance {
				t.Errorf("%s: %s carries %v A, printed %v", test.name, name, got, want)
			}
		}
		checkLaws(t, n, &s)
	}
}

func TestBadValues(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		quantity string
		add      func(n *Network, a Node) Branch
	}{
		{"ohms", func(n *Network, a Node) Branch { return n.AddResistor(a, Ground, nan) }},
		{"ohms", func(n *Network, a Node) Branch { return n.AddResistor(a, Ground, -1) }},
		{"ohms", func(n *Network, a Node) Branch { return n.AddResistor(a, Ground, 1e-12) }},
		{"ohms", func(n *Network, a Node) Branch { return n.AddResistor(a, Ground, 1e30) }},
		{"ohms", func(n *Network, a Node) Branch { return n.AddResistor(a, Ground, -inf) }},
		{"ohms", func(n *Network, a Node) Branch { return n.AddSource(a, Ground, 12, -0.1) }},
		{"volts", func(n *Network, a Node) Branch { return n.AddSource(a, Ground, nan, 1) }},
		{"volts", func(n *Network, a Node) Branch { return n.AddSource(a, Ground, inf, 0) }},
		{"amps", func(n *Network, a Node) Branch { return n.AddCurrent(a, Ground, -inf) }},
		{"law", func(n *Network, a Node) Branch { return n.AddDevice(a, Ground, nil) }},
		{"law", func(n *Network, a Node) Branch { return n.AddDevice(a, Ground, broken{}) }},
	}
	for i, test := range tests {
		n := NewNetwork()
		a := n.AddNode()
		n.AddSource(Ground, a, 12, 1)
		b := test.add(n, a)
		var s Solution
		var bad *ValueError
		if err := n.Solve(&s); !errors.As(err, &bad) || bad.Branch != b || bad.Quantity != test.quantity {
			t.Errorf("case %d: got %v, want bad %s at branch %d", i, err, test.quantity, b)
		}
		if s.Solved() {
			t.Errorf("case %d: the solution holds values", i)
		}
		switch n.kinds[b] {
		case isResistor:
			n.SetOhms(b, 1)
		case isSource:
			n.SetOhms(b, 1)
			n.SetVolts(b, 1)
		case isCurrent:
			n.SetAmps(b, 1)
		case isDevice:
			continue
		}
		if err := n.Solve(&s); err != nil {
			t.Errorf("case %d: put right, still %v", i, err)
		}
	}
}

func TestErrorsSayWhatAndWhere(t *testing.T) {
	cause := device.Filament{RatedVolts: 12}.Check()
	for want, err := range map[string]error{
		"branch 3: -1 ohms cannot be solved: use 0 (joined)":                          &ValueError{Branch: 3, Quantity: "ohms", Value: -1},
		"branch 3: NaN volts cannot be solved: use a finite value":                    &ValueError{Branch: 3, Quantity: "volts", Value: math.NaN()},
		"branch 3: its law is missing":                                                &ValueError{Branch: 3, Quantity: "law"},
		"branch 3: filament: RatedWatts is 0, want a finite value above 0":            &ValueError{Branch: 3, Quantity: "law", Cause: cause},
		"branches [0 4] form a loop without resistance":                               &DisagreementError{Branches: []Branch{0, 4}, Volts: 0.5},
		"no operating point: the iteration did not converge (worst at node 7: 0.25 A": &NoOperatingPointError{Why: NotConverged, Node: 7, ResidualAmps: 0.25},
		"does not come to rest at a stable point":                                     &NoOperatingPointError{Why: Restless},
		"a current source drives a part of the network with no return":                &NoOperatingPointError{Why: NoReturn},
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not say %q", err.Error(), want)
		}
	}
	n := NewNetwork()
	b := n.AddDevice(n.AddNode(), Ground, device.Filament{RatedVolts: 12})
	var s Solution
	var wrong *device.ParameterError
	if err := n.Solve(&s); !errors.As(err, &wrong) || wrong.Parameter != "RatedWatts" {
		t.Errorf("branch %d: got %v", b, err)
	}
	if !math.IsNaN(s.Amps(b)) || !math.IsNaN(s.Drop(b)) || s.Floating() != nil {
		t.Error("an empty solution gives numbers")
	}
}

// broken is a law that gives no number.
type broken struct{}

func (broken) At(float64) (float64, float64) { return math.NaN(), math.NaN() }
func (broken) Limit(_, to float64) float64   { return to }
