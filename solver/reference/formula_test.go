package reference

// This file works out sums and quotients in fractions, for netlist values and
// for answers.

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/big"
)

// operating is a solved circuit: what a formula may ask for.
type operating struct {
	volts             map[string]*big.Rat // by node
	amps, ohms, power map[string]*big.Rat // by branch; power of a source is what it delivers
}

// evaluate works out a formula. With a nil circuit only numbers may stand in it.
func evaluate(formula string, at *operating) (*big.Rat, error) {
	tree, err := parser.ParseExpr(formula)
	if err != nil {
		return nil, fmt.Errorf("formula %q: %w", formula, err)
	}
	value, err := walk(tree, at)
	if err != nil {
		return nil, fmt.Errorf("formula %q: %w", formula, err)
	}
	return value, nil
}

func walk(tree ast.Expr, at *operating) (*big.Rat, error) {
	switch t := tree.(type) {
	case *ast.ParenExpr:
		return walk(t.X, at)
	case *ast.BasicLit:
		if value, ok := new(big.Rat).SetString(t.Value); ok {
			return value, nil
		}
	case *ast.UnaryExpr:
		if value, err := walk(t.X, at); err != nil || t.Op == token.SUB {
			return value.Neg(value), err
		}
	case *ast.BinaryExpr:
		return binary(t, at)
	case *ast.CallExpr:
		return call(t, at)
	}
	return nil, fmt.Errorf("%T is not understood", tree)
}

func binary(t *ast.BinaryExpr, at *operating) (*big.Rat, error) {
	x, err := walk(t.X, at)
	if err != nil {
		return nil, err
	}
	y, err := walk(t.Y, at)
	if err != nil {
		return nil, err
	}
	switch {
	case t.Op == token.ADD:
		return x.Add(x, y), nil
	case t.Op == token.SUB:
		return x.Sub(x, y), nil
	case t.Op == token.MUL:
		return x.Mul(x, y), nil
	case t.Op == token.QUO && y.Sign() != 0:
		return x.Quo(x, y), nil
	}
	return nil, fmt.Errorf("%v cannot be worked out", t.Op)
}

// call works out sqrt(x), V(node), V(node,node), I, P and R of a branch.
func call(t *ast.CallExpr, at *operating) (*big.Rat, error) {
	function := word(t.Fun)
	if function == "sqrt" && len(t.Args) == 1 {
		x, err := walk(t.Args[0], at)
		if err != nil || x.Sign() < 0 {
			return nil, fmt.Errorf("no root: %v", err)
		}
		root := new(big.Float).SetPrec(300).SetRat(x)
		value, _ := root.Sqrt(root).Rat(nil)
		return value, nil
	}
	if at == nil {
		return nil, fmt.Errorf("%s has no place here", function)
	}
	table := map[string]map[string]*big.Rat{"V": at.volts, "I": at.amps, "P": at.power, "R": at.ohms}[function]
	var found []*big.Rat
	for _, arg := range t.Args {
		value, ok := table[word(arg)]
		if !ok {
			return nil, fmt.Errorf("%s(%s) is not in the circuit", function, word(arg))
		}
		found = append(found, value)
	}
	switch {
	case len(found) == 1:
		return new(big.Rat).Set(found[0]), nil
	case len(found) == 2 && function == "V":
		return new(big.Rat).Sub(found[0], found[1]), nil
	}
	return nil, fmt.Errorf("%s of %d things", function, len(found))
}

// word is a name or number as written.
func word(tree ast.Expr) string {
	switch t := tree.(type) {
	case *ast.Ident:
		return t.Name
	case *ast.BasicLit:
		return t.Value
	}
	return ""
}
