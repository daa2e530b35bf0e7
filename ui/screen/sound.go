package screen

// This file is short sounds, made and not recorded: a click of a relay, a pop of a fuse. They are only played where a
// person asked for them, and a machine without sound says so once.

import (
	"bytes"
	"encoding/binary"
	"math"

	"underload/ui/view"
)

// hertz is the rate of the samples, each of two bytes.
const hertz = 48000

// voice is how a sound is made: partial tones that die away, and how much of it is noise.
type voice struct {
	tones   []float64 // Hz
	seconds float64   // until it is inaudible
	noise   float64   // share
	loud    float64   // share of full scale
}

// voices are our own: two short knocks for a relay, a deeper one for a fuse, a soft tone for anything else.
var voices = map[view.Sound]voice{
	view.ClickIn:  {tones: []float64{2300, 3700}, seconds: 0.018, noise: 0.5, loud: 0.5},
	view.ClickOut: {tones: []float64{1700, 2900}, seconds: 0.022, noise: 0.5, loud: 0.4},
	view.Pop:      {tones: []float64{180, 410}, seconds: 0.060, noise: 0.7, loud: 0.6},
	view.Tone:     {tones: []float64{880}, seconds: 0.080, noise: 0, loud: 0.25},
}

// samples is a sound as signed numbers of two bytes, the low one first.
func samples(sound view.Sound) []byte {
	v := voices[sound]
	n := int(v.seconds * hertz)
	var out bytes.Buffer
	seed := uint32(1)
	for i := range n {
		t := float64(i) / hertz
		wave := 0.0
		for _, f := range v.tones {
			wave += math.Sin(2*math.Pi*f*t) / float64(len(v.tones))
		}
		seed = seed*1664525 + 1013904223 // a plain generator will do: nobody can tell noise from noise
		hiss := float64(int32(seed)) / math.MaxInt32
		const attack = 0.001 // seconds, or the speaker cracks
		fade := math.Exp(-6*t/v.seconds) * min(1, t/attack) * (1 - float64(i)/float64(n))
		value := v.loud * fade * ((1-v.noise)*wave + v.noise*hiss)
		binary.Write(&out, binary.LittleEndian, int16(math.MaxInt16*max(-1, min(1, value))))
	}
	return out.Bytes()
}
