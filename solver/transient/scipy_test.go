//go:build scipy

package transient_test

// This file times SciPy beside the engine, in one run:
//
//	go test -tags scipy -run xxx -bench SciPy ./solver/transient
//
// It wants a Python 3 with SciPy on the path. SciPy gets the network reduced to the terminals of the elements beforehand.

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"underload/solver/transient"
)

// pythonWithSciPy is the first Python 3 on the path that has SciPy.
func pythonWithSciPy(b *testing.B) string {
	b.Helper()
	for _, folder := range filepath.SplitList(os.Getenv("PATH")) {
		python, err := exec.LookPath(filepath.Join(folder, "python3"))
		if err == nil && exec.Command(python, "-c", "import scipy").Run() == nil {
			return python
		}
	}
	b.Fatal("no python3 on the path has SciPy")
	return ""
}

// BenchmarkAgainstSciPy sets the seconds of the processor that solve_ivp takes for a crank, the better of Radau and BDF at like error,
// against those of the engine: at least 20 for plain. plain has the Jacobian that solve_ivp finds by differences, tuned an
// exact one and the smallest system to solve.
func BenchmarkAgainstSciPy(b *testing.B) {
	python := pythonWithSciPy(b)
	g := readGolden(b)
	for _, c := range g.Cranks {
		b.Run(fmt.Sprint(c.Nodes), func(b *testing.B) {
			w := newWiring(c.Nodes/15, kit{})
			for b.Loop() {
				ours, worst := math.Inf(1), 0.0
				own := func() {
					for range 5 {
						r := mustStart(b, w.Network, transient.Options{Tolerance: 1e-4})
						began := processorSeconds()
						mustAdvance(b, r, crankEnds)
						ours = min(ours, processorSeconds()-began)
						worst = starterError(r.States(w.motor), c.Starter)
					}
				}
				own()
				command := exec.Command(python, "../../testdata/time/harness.py", "race", fmt.Sprint(c.Nodes))
				command.Env = append(os.Environ(), "OPENBLAS_NUM_THREADS=1", "OMP_NUM_THREADS=1")
				out, err := command.Output()
				if err != nil {
					b.Fatalf("%s: %v", python, err)
				}
				own()
				races := map[string]map[string][][]float64{"plain": {}, "tuned": {}}
				for line := range strings.Lines(string(out)) {
					f := strings.Fields(line)
					var row []float64
					for _, i := range []int{2, 3, 5} {
						x, err := strconv.ParseFloat(f[i], 64)
						if err != nil {
							b.Fatal(err)
						}
						row = append(row, x)
					}
					races[f[0]][f[1]] = append(races[f[0]][f[1]], row)
				}
				for kind, of := range races {
					if len(of["Radau"]) == 0 || len(of["BDF"]) == 0 {
						b.Fatal("SciPy raced nothing")
					}
					best := min(likeError(of["Radau"], worst), likeError(of["BDF"], worst))
					b.ReportMetric(best/ours, "scipy-"+kind+"/own")
				}
				b.ReportMetric(worst*1e6, "error-ppm")
				b.ReportMetric(ours*1e3, "own-ms")
			}
		})
	}
}
