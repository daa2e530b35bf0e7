// A stopwatch for benchmarks that compare: all contestants run in turn, many rounds, and only ratios of the same round are compared.

package harness

import (
	"slices"
	"time"
)

// Contestant is something to be timed.
type Contestant struct {
	Name string
	Run  func()
	Each int // how many equal things Run does; 0 counts as 1
}

// Times holds the nanoseconds one thing took, by contestant and round.
type Times map[string][]float64

// sample is how long each contestant runs in a round; short enough that a disturbance of the machine meets all alike.
const sample = 1500 * time.Microsecond

// Race runs all contestants in turn, for the given number of rounds, by the clock of the processor.
func Race(rounds int, contestants ...Contestant) Times {
	clock := func() time.Duration { return time.Duration(1e9 * ProcessorSeconds()) }
	times := Times{}
	repeat := make([]int, len(contestants))
	for i, c := range contestants {
		c.Run()
		for took := time.Duration(0); took < sample; {
			repeat[i] = max(1, 2*repeat[i])
			start := clock()
			for range repeat[i] {
				c.Run()
			}
			took = clock() - start
		}
	}
	for range rounds {
		for i, c := range contestants {
			start := clock()
			for range repeat[i] {
				c.Run()
			}
			took := float64(clock()-start) / float64(repeat[i]*max(1, c.Each))
			times[c.Name] = append(times[c.Name], took)
		}
	}
	return times
}

// Median returns the middle of the times of one contestant, in nanoseconds.
func (t Times) Median(name string) float64 { return median(t[name]) }

// Ratio returns the middle of the ratios that two contestants reached round by round.
func (t Times) Ratio(name, peer string) float64 {
	ratios := make([]float64, len(t[name]))
	for i, x := range t[name] {
		ratios[i] = x / t[peer][i]
	}
	return median(ratios)
}

func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}
