package transient

// This file checks what is left to chance.

import (
	"math"
	"testing"
)

// Every seed, element and count has a number of its own, even over the whole range: with n even numbers the mean is off by
// more than 4 standard deviations, sqrt(1/12/n) each, less than once in ten thousand.
func TestDrawsAreTheirOwn(t *testing.T) {
	const n = 20
	seen, sum := map[float64]bool{}, 0.0
	for seed := range uint64(n) {
		for element := range uint64(n) {
			for count := range uint64(n) {
				x := draw(seed, element, count)
				if x < 0 || x >= 1 || x != draw(seed, element, count) {
					t.Fatalf("seed %d, element %d, count %d: %v", seed, element, count, x)
				}
				seen[x] = true
				sum += x
			}
		}
	}
	const all = n * n * n
	if len(seen) != all {
		t.Errorf("%d numbers in %d draws", len(seen), all)
	}
	if off := math.Abs(sum/all - 0.5); off > 4*math.Sqrt(1.0/12/all) {
		t.Errorf("their mean is off by %.3f", off)
	}
}
