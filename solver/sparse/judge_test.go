// Answers against those of other solvers, kept in testdata/harness: KLU (SuiteSparse) and SuperLU (SciPy). To renew them, from the top of the
// module:
//
//	CGO_ENABLED=1 go test -tags klu -run TestKLU ./solver/sparse -args -renew
//	go test -run TestAgainstJudges ./solver/sparse -args -networks networks.txt
//	python3 testdata/harness/splu.py solver/sparse/networks.txt > testdata/harness/splu.txt

package sparse

import (
	"bufio"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/solver/internal/harness"
)

var networksFile = flag.String("networks", "", "write the networks to be judged to this file")

// judged are the networks the judges solve, and of how many nodes one is kept.
var judged = []struct {
	nodes, step int
	seed        uint64
}{{50, 1, 1}, {50, 1, 2}, {200, 1, 1}, {200, 1, 2}, {1000, 1, 1}, {1000, 1, 2}, {5000, 10, 1}, {5000, 10, 2}}

// writeNetworks writes the judged networks, each after a line with nodes, seed and step.
func writeNetworks(t *testing.T, name string) {
	file, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range judged {
		fmt.Fprintln(file, j.nodes, j.seed, j.step)
		if err := harness.Random(j.nodes, j.seed).Write(file); err != nil {
			t.Fatal(err)
		}
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// agreement is how far the judges may differ from us, as a part of the node's voltage or of 1 mV, whichever is more. It is the judges' limit,
// not ours: they assemble the matrix, and with that round a megohm beside a milliohm (see TestNodeErrors for our own errors).
const agreement = 1e-9

func TestAgainstJudges(t *testing.T) {
	if *networksFile != "" {
		writeNetworks(t, *networksFile)
	}
	files, err := filepath.Glob("../../testdata/harness/*.txt")
	if err != nil || len(files) < 2 {
		t.Fatalf("%d files of answers, want those of KLU and SciPy (%v)", len(files), err)
	}
	for _, file := range files {
		networks, nodes, far := judgeFile(t, file)
		t.Logf("%s: %d networks, %d nodes, furthest %.2g", filepath.Base(file), networks, nodes, far)
		if networks < 8 || nodes < 3000 {
			t.Errorf("%s: only %d networks with %d nodes", file, networks, nodes)
		}
		if !(far <= agreement) {
			t.Errorf("%s: up to %g of a voltage apart", file, far)
		}
	}
}

func judgeFile(t *testing.T, name string) (networks, nodes int, far float64) {
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var x []float64
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		line := lines.Text()
		if strings.HasPrefix(line, "#") {
			continue
		}
		var size, node int
		var seed uint64
		var volts float64
		if _, err := fmt.Sscanf(line, "net %d %d", &size, &seed); err == nil {
			_, x = solve(harness.Random(size, seed))
			networks++
			continue
		}
		if _, err := fmt.Sscanf(line, "%d %g", &node, &volts); err != nil || node >= len(x) {
			t.Fatalf("%s: cannot make out %q: %v", name, line, err)
		}
		nodes++
		if d := math.Abs(x[node]-volts) / math.Max(math.Abs(volts), 1e-3); !(d <= far) {
			far = d
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return networks, nodes, far
}
