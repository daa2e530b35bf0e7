//go:build klu

// KLU as a judge.

package main

import (
	"underload/solver/internal/harness"
	"underload/solver/internal/suitesparse"
)

func init() {
	by = suitesparse.Version
	answer = func(net *harness.Network) ([]float64, error) {
		k, err := suitesparse.NewKLU(suitesparse.Assemble(net.Nodes, net.Edges, net.Siemens))
		if err != nil {
			return nil, err
		}
		defer k.Close()
		x := net.Amps()
		k.Solve(x)
		return x, nil
	}
}
