package view

// This file is what of the things noticed can be heard. It is off until a person asks for it, and words stand beside every
// sound.

import (
	"strings"

	"underload/sim"
)

// soundOf is how something noticed sounds; ok is false for what is only seen or smelt.
func soundOf(c sim.Cue) (sound Sound, ok bool) {
	says := strings.TrimPrefix(c.Says, c.Place+" ")
	switch {
	case says == "clicks in":
		return ClickIn, true
	case says == "clicks out":
		return ClickOut, true
	case says == "blows":
		return Pop, true
	case says == "resets", says == "is up":
		return Tone, true
	}
	return 0, false
}

// mostSounds is how many sounds a frame makes: what chatters faster than pictures change would be a hum.
const mostSounds = 2

// sound asks for the sounds of what was noticed just now.
func (v *View) sound(cues []sim.Cue) {
	if !v.sounds {
		return
	}
	made := 0
	for _, c := range cues {
		if s, ok := soundOf(c); ok && made < mostSounds {
			v.want(Want{Kind: Play, Sound: s})
			made++
		}
	}
}

func (v *View) toggleSounds() {
	v.sounds = !v.sounds
	if v.sounds {
		v.want(Want{Kind: Play, Sound: ClickIn}) // so that it is known what to listen for, and whether there is sound at all
		v.tell("Relays and fuses are heard while time runs.")
		return
	}
	v.tell("Sound is off.")
}
