package screen

// This file is short sounds, made and not recorded: a click of a relay, a pop of a fuse. They are only played where a
// person asked for them, and a machine without sound says so once.

import (
	"bytes"
	"encoding/binary"
	"math"
	"time"

	"github.com/ebitengine/oto/v3"

	"underload/ui/view"
)

// hertz is the rate of the samples, each of two bytes.
const hertz = 48000

// speaker plays sounds. It is made when the first one is asked for.
type speaker struct {
	context *oto.Context
	asked   bool
	failed  bool
	playing []*oto.Player // kept for as long as they play
}

// play plays a sound on a goroutine of its own, since a sound system may take its time.
func (g *game) play(sound view.Sound) {
	s := &g.speaker
	if !s.asked {
		s.asked = true
		go func() {
			context, err := newContext()
			g.tell(func() {
				if err != nil {
					s.failed = true
					g.view.Tell("There is no sound on this machine: " + err.Error() + ".")
					return
				}
				s.context = context
			})
		}()
	}
	if s.context == nil {
		return
	}
	if err := s.context.Err(); err != nil {
		if !s.failed {
			s.failed = true
			g.view.Tell("There is no sound any more: " + err.Error() + ".")
		}
		return
	}
	kept := s.playing[:0]
	for _, p := range s.playing {
		if p.IsPlaying() {
			kept = append(kept, p)
		}
	}
	s.playing = kept
	const most = 8 // at once
	if len(s.playing) < most {
		p := s.context.NewPlayer(bytes.NewReader(samples(sound)))
		p.Play()
		s.playing = append(s.playing, p)
	}
}

func newContext() (*oto.Context, error) {
	context, ready, err := oto.NewContext(&oto.NewContextOptions{SampleRate: hertz, ChannelCount: 1, Format: oto.FormatSignedInt16LE,
		BufferSize: 40 * time.Millisecond, ApplicationName: "underload"})
	if err != nil {
		return nil, err
	}
	<-ready
	return context, context.Err()
}

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
