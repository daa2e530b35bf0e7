//go:build unix

package transient_test

// This file is the clock of benchmarks that last too long to be left alone by others on the machine: seconds of the
// processor, which are seconds on the wall where nobody else is at work.

import "syscall"

func processorSeconds() float64 {
	var usage syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &usage) != nil {
		return 0
	}
	seconds := func(t syscall.Timeval) float64 { return float64(t.Sec) + 1e-6*float64(t.Usec) }
	return seconds(usage.Utime) + seconds(usage.Stime)
}
