package sim

// This file looks at a pair of bus wires in a run as a scope does, and holds the levels against those of the bench at
// rest, which are held against ISO 11898-2 in bus_test.go.

import (
	"math"
	"testing"

	"underload/circuits"
)

// fiveEqual is how many equal bits may follow each other before one of the other kind is stuffed in (ISO 11898-1, from
// memory).
const fiveEqual = 5

// listen runs a circuit for a second with its key on and reads the difference on the diagnostic socket's pins through
// the last 10 ms, in the middle of every bit.
func listen(t *testing.T, faults ...string) (difference []float64) {
	t.Helper()
	c, err := circuits.Read("donor-bus")
	if err != nil {
		t.Fatal(err)
	}
	b := broken(t, c, faults...)
	if err := b.Set("KEY=run"); err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(RunOptions{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	pair, err := r.Watch("SS.6 against SS.14")
	if err != nil {
		t.Fatal(err)
	}
	const end = 1.0
	last := 0.0
	if err := r.Advance(end, func() bool {
		for at := math.Ceil(max(last, end-cycleSeconds)/bitSeconds)*bitSeconds + bitSeconds/2; at < r.Seconds(); at += bitSeconds {
			difference = append(difference, pair.ReadAt(at))
		}
		last = r.Seconds()
		return true
	}); err != nil {
		t.Fatal(err)
	}
	if len(difference) < 4990 {
		t.Fatalf("%d bits in 10 ms", len(difference))
	}
	return difference
}

func TestBusTalks(t *testing.T) {
	for _, want := range []struct {
		fault    string
		dominant float64 // V, by hand in bus_test.go
		frames   int     // of five modules
	}{
		{"", 2.0, 5},
		{"RT1 dead", 2.4, 5},
		{"LH short-to LL 0.3 ohm", 0.06, 5},
		{"LIFT dead", 2.0, 4},
	} {
		var faults []string
		if want.fault != "" {
			faults = append(faults, want.fault)
		}
		equal, frames, quiet, dominant := 0, 0, frameBits, 0
		var last bool
		for i, v := range listen(t, faults...) {
			level := math.Abs(v) > want.dominant/8 // behind a short a far speaker is quieter
			if level {
				dominant++
				if math.Abs(v-want.dominant) > 0.05 {
					t.Fatalf("%q: bit %d is at %.3f V, want %.2f V", want.fault, i, v, want.dominant)
				}
				if quiet > endBits {
					frames++
				}
				quiet = 0
			} else {
				quiet++
				if math.Abs(v) > 0.05 {
					t.Fatalf("%q: between bits there are %.3f V", want.fault, v)
				}
			}
			if equal++; level != last {
				equal = 1
			}
			last = level
			if level && equal > fiveEqual {
				t.Fatalf("%q: %d dominant bits in a row", want.fault, equal)
			}
		}
		if frames != want.frames || dominant < want.frames*frameBits/4 {
			t.Errorf("%q: %d frames with %d dominant bits in 10 ms, want %d frames", want.fault, frames, dominant, want.frames)
		}
	}
}

func TestMomentsShowTheTalk(t *testing.T) {
	c, err := circuits.Read("donor-bus")
	if err != nil {
		t.Fatal(err)
	}
	b := broken(t, c)
	if err := b.Set("KEY=run"); err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	high, err := r.Watch("SS.6")
	if err != nil {
		t.Fatal(err)
	}
	post, err := r.Watch("BATT.pos")
	if err != nil {
		t.Fatal(err)
	}
	last, low, top, reads := 0.0, math.Inf(1), math.Inf(-1), 0
	if err := r.Advance(3, func() bool {
		if n := len(post.Moments(last, r.Seconds(), 1e-3)); n > 0 {
			t.Fatalf("%d moments of a battery post", n)
		}
		for _, at := range high.Moments(last, r.Seconds(), 3.0/4000) {
			v := high.ReadAt(at)
			low, top = min(low, v), max(top, v)
			reads++
		}
		last = r.Seconds()
		return true
	}); err != nil {
		t.Fatal(err)
	}
	if low > 2.6 || top < 3.4 || reads < 300 || reads > 20000 {
		t.Errorf("from %.2f to %.2f V in %d reads, want about 2.5 to 3.5 V", low, top, reads)
	}
}

func TestFramesAreWellFormed(t *testing.T) {
	talk := &talk{seed: 7}
	ones := 0
	for message := range uint64(2000) {
		bits := talk.frame(int(message%9), message)
		equal := 0
		for i, bit := range bits[:dominantBits] {
			if equal++; i > 0 && bit != bits[i-1] {
				equal = 1
			}
			if equal > fiveEqual {
				t.Fatalf("message %d has %d equal bits", message, equal)
			}
			if bit {
				ones++
			}
		}
		for _, bit := range bits[dominantBits:] {
			if bit {
				t.Fatalf("message %d does not end recessive", message)
			}
		}
		if !bits[0] {
			t.Fatalf("message %d does not begin dominant", message)
		}
	}
	if share := float64(ones) / (2000 * dominantBits); share < 0.45 || share > 0.55 {
		t.Errorf("%.2f of the bits are dominant", share)
	}
}
