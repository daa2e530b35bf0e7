package reference

// This file reads netlists and solves them twice: by the solver, and by plain
// nodal analysis in fractions, which shares nothing with it.

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"underload/solver"
	"underload/solver/device"
)

// element is one line of a netlist.
type element struct {
	name, kind string
	from, to   string
	values     []*big.Rat
}

func parseNetlist(lines []string) ([]element, error) {
	wanted := map[string]int{"resistor": 1, "source": 1, "current": 1, "diode": 3}
	var elements []element
	names := map[string]bool{}
	for _, line := range lines {
		words := strings.Fields(line)
		if len(words) < 5 || len(words)-4 != wanted[words[1]] || names[words[0]] {
			return nil, fmt.Errorf("netlist line %q is not understood, or its name is taken", line)
		}
		e := element{name: words[0], kind: words[1], from: words[2], to: words[3]}
		for _, text := range words[4:] {
			value, err := evaluate(text, nil)
			if err != nil {
				return nil, err
			}
			e.values = append(e.values, value)
		}
		names[e.name] = true
		elements = append(elements, e)
	}
	if len(elements) == 0 {
		return nil, errors.New("the netlist is empty")
	}
	return elements, nil
}

// nodeNames lists the nodes, ground first.
func nodeNames(elements []element) []string {
	names, seen := []string{}, map[string]bool{}
	for _, e := range elements {
		for _, name := range []string{e.from, e.to} {
			if !seen[name] {
				seen[name] = true
				names = append(names, name)
			}
		}
	}
	for i, name := range names {
		if name == "0" {
			names[0], names[i] = names[i], names[0]
		}
	}
	return names
}

// solveNumbers solves by the program's solver.
func solveNumbers(elements []element) (*operating, error) {
	n := solver.NewNetwork()
	nodes := map[string]solver.Node{}
	for i, name := range nodeNames(elements) {
		if i == 0 {
			nodes[name] = solver.Ground
		} else {
			nodes[name] = n.AddNode()
		}
	}
	branches := make([]solver.Branch, len(elements))
	for i, e := range elements {
		from, to := nodes[e.from], nodes[e.to]
		value, _ := e.values[0].Float64()
		switch e.kind {
		case "resistor":
			branches[i] = n.AddResistor(from, to, value)
		case "source":
			branches[i] = n.AddSource(from, to, value, 0)
		case "current":
			branches[i] = n.AddCurrent(from, to, value)
		case "diode":
			ideality, _ := e.values[1].Float64()
			series, _ := e.values[2].Float64()
			branches[i] = n.AddDevice(from, to, device.Junction{SaturationAmps: value, Ideality: ideality, ThermalVolts: device.ThermalVolts27C, SeriesOhms: series})
		}
	}
	var s solver.Solution
	if err := n.Solve(&s); err != nil {
		return nil, err
	}
	volts := map[string]*big.Rat{}
	for name, node := range nodes {
		volts[name] = new(big.Rat).SetFloat64(s.Volts(node))
	}
	amps := make([]*big.Rat, len(elements))
	for i, b := range branches {
		amps[i] = new(big.Rat).SetFloat64(s.Amps(b))
	}
	return operatingOf(elements, volts, amps), nil
}

// operatingOf tabulates a solved circuit.
func operatingOf(elements []element, volts map[string]*big.Rat, amps []*big.Rat) *operating {
	at := &operating{volts: volts, amps: map[string]*big.Rat{}, ohms: map[string]*big.Rat{}, power: map[string]*big.Rat{}}
	for i, e := range elements {
		at.amps[e.name] = amps[i]
		drop := new(big.Rat).Sub(volts[e.from], volts[e.to])
		if e.kind == "source" || e.kind == "current" {
			drop.Neg(drop)
		}
		at.power[e.name] = drop.Mul(drop, amps[i])
		if e.kind == "resistor" {
			at.ohms[e.name] = e.values[0]
		}
	}
	return at
}

// solveFractions solves without rounding: node volts and the currents of
// sources and joins are the unknowns of one dense system. Nil when the circuit
// has a diode.
func solveFractions(elements []element) (*operating, error) {
	names := nodeNames(elements)
	row := map[string]int{}
	for i, name := range names {
		row[name] = i - 1 // ground: -1
	}
	size := len(names) - 1
	extra := make([]int, len(elements))
	for i, e := range elements {
		extra[i] = -1
		if e.kind == "diode" {
			return nil, nil
		}
		if e.kind == "source" || (e.kind == "resistor" && e.values[0].Sign() == 0) {
			extra[i] = size
			size++
		}
	}
	m := newSystem(size)
	for i, e := range elements {
		from, to := row[e.from], row[e.to]
		switch {
		case extra[i] >= 0:
			one := big.NewRat(1, 1)
			m.add(from, extra[i], one)
			m.add(to, extra[i], new(big.Rat).Neg(one))
			m.add(extra[i], to, one)
			m.add(extra[i], from, new(big.Rat).Neg(one))
			m.add(extra[i], size, e.values[0]) // V(to) - V(from) = volts; a join has 0
		case e.kind == "resistor":
			g := new(big.Rat).Inv(e.values[0])
			m.add(from, from, g)
			m.add(to, to, g)
			m.add(from, to, new(big.Rat).Neg(g))
			m.add(to, from, new(big.Rat).Neg(g))
		default: // current: leaves from, enters to
			m.add(from, size, new(big.Rat).Neg(e.values[0]))
			m.add(to, size, e.values[0])
		}
	}
	x, err := m.solve()
	if err != nil {
		return nil, err
	}
	volts := map[string]*big.Rat{names[0]: new(big.Rat)}
	for _, name := range names[1:] {
		volts[name] = x[row[name]]
	}
	amps := make([]*big.Rat, len(elements))
	for i, e := range elements {
		switch {
		case extra[i] >= 0:
			amps[i] = x[extra[i]]
		case e.kind == "resistor":
			amps[i] = new(big.Rat).Sub(volts[e.from], volts[e.to])
			amps[i].Quo(amps[i], e.values[0])
		default:
			amps[i] = e.values[0]
		}
	}
	return operatingOf(elements, volts, amps), nil
}

// system is a dense square system in fractions, with its right side as last column.
type system [][]*big.Rat

func newSystem(size int) system {
	m := make(system, size)
	for i := range m {
		m[i] = make([]*big.Rat, size+1)
		for j := range m[i] {
			m[i][j] = new(big.Rat)
		}
	}
	return m
}

// add adds to an entry; ground, -1, has neither row nor column.
func (m system) add(i, j int, value *big.Rat) {
	if i >= 0 && j >= 0 {
		m[i][j].Add(m[i][j], value)
	}
}

// solve eliminates by Gauss and Jordan.
func (m system) solve() ([]*big.Rat, error) {
	for k := range m {
		pivot := k
		for pivot < len(m) && m[pivot][k].Sign() == 0 {
			pivot++
		}
		if pivot == len(m) {
			return nil, errors.New("the circuit has no single answer")
		}
		m[k], m[pivot] = m[pivot], m[k]
		inverse := new(big.Rat).Inv(m[k][k])
		for j := range m[k] {
			m[k][j].Mul(m[k][j], inverse)
		}
		for i := range m {
			if factor := new(big.Rat).Set(m[i][k]); i != k && factor.Sign() != 0 {
				for j := k; j < len(m[i]); j++ {
					m[i][j].Sub(m[i][j], new(big.Rat).Mul(factor, m[k][j]))
				}
			}
		}
	}
	x := make([]*big.Rat, len(m))
	for i := range m {
		x[i] = m[i][len(m)]
	}
	return x, nil
}
