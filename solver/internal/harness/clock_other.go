//go:build !unix

package harness

// This file stands in for the clock of clock_unix.go with the one on the wall.

import "time"

var began = time.Now()

// ProcessorSeconds is how long this process has been running.
func ProcessorSeconds() float64 { return time.Since(began).Seconds() }
