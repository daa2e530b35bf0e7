//go:build !js

package screen

// This file plays sounds on a desktop, by way of the library that Ebiten itself plays with, used directly so that a machine
// without sound is no reason to close the window.

import (
	"bytes"
	"time"

	"github.com/ebitengine/oto/v3"

	"underload/ui/view"
)

// speaker plays sounds. It is made when the first one is asked for.
type speaker struct {
	context *oto.Context
	asked   bool
	failed  bool
	playing []*oto.Player // kept for as long as they play
}

// play plays a sound on a goroutine of its own, since a sound system may take its time.
func (h *host) play(sound view.Sound) {
	s, g := &h.speaker, h.game
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
