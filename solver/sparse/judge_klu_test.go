//go:build klu

// KLU's answers of today, and the way to keep them.

package sparse

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"testing"

	"underload/solver/internal/harness"
)

var renew = flag.Bool("renew", false, "write KLU's answers to testdata/harness")

// TestKLU compares every node of more networks than are kept.
func TestKLU(t *testing.T) {
	if *renew {
		if err := os.WriteFile("../../testdata/harness/klu.txt", kluAnswers(t), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, n := range []int{50, 200, 1000, 5000} {
		for seed := range uint64(8) {
			net := harness.Random(n, seed)
			_, x := solve(net)
			for i, v := range kluSolve(t, net) {
				if d := math.Abs(x[i] - v); !(d <= agreement*math.Max(math.Abs(v), 1e-3)) {
					t.Errorf("%d nodes, seed %d: node %d: %g V, KLU %g V", n, seed, i, x[i], v)
				}
			}
		}
	}
}

func kluSolve(t *testing.T, net *harness.Network) []float64 {
	k, err := harness.NewKLU(harness.Assemble(net))
	if err != nil {
		t.Fatal(err)
	}
	defer k.Close()
	x := net.Amps()
	k.Solve(x)
	return x
}

func kluAnswers(t *testing.T) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, "# Node voltages of random wiring-like networks (solver/internal/harness, Random(nodes, seed)), by %s:\n", harness.SuiteSparse)
	fmt.Fprintln(&out, "# klu_analyze, klu_factor and klu_solve with default settings on the assembled matrix of node conductances.")
	fmt.Fprintln(&out, "# Renew: see solver/sparse/judge_test.go.")
	fmt.Fprintln(&out, "# \"net\", nodes, seed; then node and volts, a line a node; of the large networks every tenth node.")
	for _, j := range judged {
		x := kluSolve(t, harness.Random(j.nodes, j.seed))
		fmt.Fprintln(&out, "net", j.nodes, j.seed)
		for i := 0; i < j.nodes; i += j.step {
			fmt.Fprintf(&out, "%d %.17g\n", i, x[i])
		}
	}
	return out.Bytes()
}
