//go:build scipy

package transient_test

// This file times SciPy beside the engine, in one run:
//
//	go test -tags scipy -run '^$' -bench SciPy ./solver/transient
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

	"underload/solver/internal/harness"
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

// raceSciPy sets the seconds of the processor that solve_ivp takes for a crank, the better of Radau and BDF at like
// error, against those of the engine: the ratio for plain, which has the Jacobian that solve_ivp finds by differences,
// and for tuned, with an exact one and the smallest system to solve. worst is the engine's error, ours its seconds.
func raceSciPy(b *testing.B, python string, nodes int, truth []float64) (ratios map[string]float64, worst, ours float64) {
	b.Helper()
	w := newWiring(nodes/15, kit{})
	ours = math.Inf(1)
	own := func() {
		for range 5 {
			r := mustStart(b, w.Network, transient.Options{Tolerance: 1e-4})
			began := harness.ProcessorSeconds()
			mustAdvance(b, r, crankEnds)
			ours = min(ours, harness.ProcessorSeconds()-began)
			worst = starterError(r.States(w.motor), truth)
		}
	}
	own()
	command := exec.Command(python, "../../testdata/time/harness.py", "race", fmt.Sprint(nodes))
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
	ratios = map[string]float64{}
	for kind, of := range races {
		if len(of["Radau"]) == 0 || len(of["BDF"]) == 0 {
			b.Fatal("SciPy raced nothing")
		}
		ratios[kind] = min(likeError(of["Radau"], worst), likeError(of["BDF"], worst)) / ours
	}
	return ratios, worst, ours
}

// BenchmarkAgainstSciPy: at least 20 for plain. tuned is asked for nothing: who uses solve_ivp does not reduce the
// equations by hand.
func BenchmarkAgainstSciPy(b *testing.B) {
	python := pythonWithSciPy(b)
	for _, c := range readGolden(b).Cranks {
		b.Run(fmt.Sprint(c.Nodes), func(b *testing.B) {
			for b.Loop() {
				ratios, worst, ours := raceSciPy(b, python, c.Nodes, c.Starter)
				for kind, ratio := range ratios {
					b.ReportMetric(ratio, "scipy-"+kind+"/own")
				}
				b.ReportMetric(worst*1e6, "error-ppm")
				b.ReportMetric(ours*1e3, "own-ms")
			}
		})
	}
}

func init() {
	besideSciPy = func(b *testing.B, g *golden) (measured []bar) {
		python := pythonWithSciPy(b)
		for _, c := range g.Cranks {
			ratios, _, _ := raceSciPy(b, python, c.Nodes, c.Starter)
			measured = append(measured,
				bar{9, fmt.Sprintf("seconds of SciPy over ours, %d nodes", c.Nodes), 20, 60, ratios["plain"], true},
				bar{9, fmt.Sprintf("the same with SciPy tuned by hand, %d nodes", c.Nodes), math.NaN(), math.NaN(), ratios["tuned"], true})
		}
		return measured
	}
}
