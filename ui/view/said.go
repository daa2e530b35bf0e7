package view

// This file is the present reading as one line of text: for the clipboard, for screen readers, for the log.

import (
	"fmt"
	"strings"

	"underload/sim/meter"
)

func (v *View) copyReading() {
	if v.now.live.reading == nil {
		v.tell("There is no reading to copy yet.")
		return
	}
	v.want(Want{Kind: CopyText, Text: v.Said()})
	v.tell("Copied: " + v.Said())
}

// Said is the present reading as one line, or what is missing for one.
func (v *View) Said() string {
	if c := v.clock; c != nil && c.running { // values that change at every moment would drown what happens
		if cues := c.run.Cues(); len(cues) > 0 {
			return cues[len(cues)-1].Says
		}
		return "Time runs."
	}
	r := v.now.live.reading
	if r == nil {
		return v.now.live.waiting
	}
	return saidOf(r)
}

// saidOf is a reading as one line.
func saidOf(r *meter.Reading) string {
	place := ""
	switch {
	case r.Red != "" && r.Black != "":
		place = fmt.Sprintf(", A on %s, B on %s", r.Red, r.Black)
	case r.Red != "":
		place = " in " + r.Red
	case r.On != "":
		place = " around " + r.On
	}
	value, spread, seen := figureWords(r)
	words := strings.Join(compact(value, spread), " ")
	if words != "" && seen != "" {
		words += ", "
	}
	said := fmt.Sprintf("%s%s: %s%s", labelOf(r.Instrument), place, words, seen)
	if healthy := healthyWords(r); healthy != "" {
		said += "; healthy: " + healthy
	}
	return said
}
