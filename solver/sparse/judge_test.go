// Answers against those of other solvers, kept in testdata/harness: KLU (SuiteSparse) and SuperLU (SciPy).

package sparse

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/solver/internal/harness"
)

// agreement is how far the judges may differ from us, as a part of the node's voltage or of 1 mV, whichever is more. It is the judges' limit,
// not ours: they assemble the matrix, and with that round a megohm beside a milliohm (see TestNodeErrors for our own errors).
const agreement = 1e-9

func TestAgainstJudges(t *testing.T) {
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
