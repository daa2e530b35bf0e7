//go:build !unix

package transient_test

// This file stands in for the clock of clock_unix_test.go with the one on the wall.

import "time"

var began = time.Now()

func processorSeconds() float64 { return time.Since(began).Seconds() }
