//go:build unix

package harness

// This file is the clock of benchmarks, which others on the machine do not leave alone: seconds of the processor, which are
// seconds on the wall where nobody else is at work.

import "syscall"

// ProcessorSeconds is how long the processor has worked for this process.
func ProcessorSeconds() float64 {
	var usage syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &usage) != nil {
		return 0
	}
	seconds := func(t syscall.Timeval) float64 { return float64(t.Sec) + 1e-6*float64(t.Usec) }
	return seconds(usage.Utime) + seconds(usage.Stime)
}
