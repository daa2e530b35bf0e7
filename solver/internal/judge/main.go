// Command judge renews the answers of other solvers that the tests of the sparse package compare with. Run it from the top of the module:
//
//	go run -tags klu ./solver/internal/judge klu > testdata/harness/klu.txt
//	go run ./solver/internal/judge networks | python3 testdata/harness/splu.py > testdata/harness/splu.txt
//
// The first needs cgo and SuiteSparse (Debian: libsuitesparse-dev), the second SciPy (Debian: python3-scipy).
package main

import (
	"bufio"
	"fmt"
	"os"

	"underload/solver/internal/harness"
)

// cases are the networks to be judged, and of how many nodes one is written down.
var cases = []struct {
	nodes, step int
	seed        uint64
}{{50, 1, 1}, {50, 1, 2}, {200, 1, 1}, {200, 1, 2}, {1000, 1, 1}, {1000, 1, 2}, {5000, 10, 1}, {5000, 10, 2}}

// answer solves a network with the judge built in, and by names it with its version; nil without the tag klu.
var answer func(*harness.Network) ([]float64, error)
var by string

func main() {
	out := bufio.NewWriter(os.Stdout)
	err := run(out)
	if err == nil {
		err = out.Flush()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "judge:", err)
		os.Exit(1)
	}
}

func run(out *bufio.Writer) error {
	if len(os.Args) != 2 {
		return fmt.Errorf("give one word: networks or klu")
	}
	switch os.Args[1] {
	case "networks":
		networks(out)
		return nil
	case "klu":
		return judge(out)
	}
	return fmt.Errorf("%q: give networks or klu", os.Args[1])
}

// networks writes all cases: a line with nodes, seed, step and number of edges, then a line an edge with its ends (-1: ground), siemens, volts.
func networks(out *bufio.Writer) {
	for _, c := range cases {
		net := harness.Random(c.nodes, c.seed)
		fmt.Fprintln(out, c.nodes, c.seed, c.step, len(net.Edges))
		for i, e := range net.Edges {
			fmt.Fprintf(out, "%d %d %.17g %.17g\n", e[0], e[1], net.Siemens[i], net.Volts[i])
		}
	}
}

func judge(out *bufio.Writer) error {
	if answer == nil {
		return fmt.Errorf("built without KLU: add -tags klu, with cgo enabled")
	}
	fmt.Fprintf(out, "# Node voltages of random wiring-like networks (solver/internal/harness, Random(nodes, seed)), by %s:\n", by)
	fmt.Fprintln(out, "# klu_analyze, klu_factor and klu_solve with default settings on the assembled matrix of node conductances.")
	fmt.Fprintln(out, "# Renew: go run -tags klu ./solver/internal/judge klu > testdata/harness/klu.txt")
	fmt.Fprintln(out, "# \"net\", nodes, seed; then node and volts, a line a node; of the large networks every tenth node.")
	for _, c := range cases {
		volts, err := answer(harness.Random(c.nodes, c.seed))
		if err != nil {
			return err
		}
		fmt.Fprintln(out, "net", c.nodes, c.seed)
		for i := 0; i < c.nodes; i += c.step {
			fmt.Fprintf(out, "%d %.17g\n", i, volts[i])
		}
	}
	return nil
}
