package screen

// This file looks at the samples of the sounds.

import (
	"encoding/binary"
	"math"
	"testing"

	"underload/ui/view"
)

// Each sound is heard, is short, and neither begins nor ends with a crack.
func TestSamples(t *testing.T) {
	if len(voices) != 4 {
		t.Fatalf("%d voices", len(voices))
	}
	for sound := range voices {
		data := samples(sound)
		var most, last float64
		for i := 0; i+1 < len(data); i += 2 {
			v := float64(int16(binary.LittleEndian.Uint16(data[i:]))) / math.MaxInt16
			most = max(most, math.Abs(v))
			if i < 8 && math.Abs(v) > 0.1 {
				t.Errorf("sound %d begins with %g", sound, v)
			}
			last = math.Abs(v)
		}
		seconds := float64(len(data)) / 2 / hertz
		if most < 0.05 || most > 0.9 || last > 0.01 || seconds < 0.01 || seconds > 0.1 {
			t.Errorf("sound %d: loudest %g, last %g, %g s long", sound, most, last, seconds)
		}
	}
	if len(samples(view.Sound(99))) != 0 {
		t.Error("what is no sound is heard")
	}
}
