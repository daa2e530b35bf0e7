package view

// This file is what was noticed while time ran: in the log, and as lines for the bench.

import "slices"

// mostNoticed is how much is written down of one run: a relay may chatter all night.
const mostNoticed = 200

// secondsNow is when it is; nil at rest.
func (v *View) secondsNow() *float64 {
	if v.clock == nil {
		return nil
	}
	now := v.clock.run.Seconds()
	return &now
}

// hear writes down what has been noticed since the last time.
func (v *View) hear() {
	c := v.clock
	cues := c.run.Cues()
	news := cues[min(c.heard, len(cues)):]
	v.sound(news)
	for _, cue := range news {
		c.scope.cue(cue)
		v.dirty, v.unkept = true, true
		if c.noted >= mostNoticed {
			continue
		}
		c.noted++
		when := cue.Seconds
		v.now.log = append(slices.Clip(v.now.log), Entry{Number: len(v.now.log) + 1, Seconds: &when, Noticed: cue.Says})
	}
	c.heard = len(cues)
}

// unhear takes back what was noticed later than a time to which the run has been taken back.
func (v *View) unhear(seconds float64) {
	c := v.clock
	from := len(v.now.log)
	for from > 0 {
		e := v.now.log[from-1]
		if e.Noticed == "" || *e.Seconds <= seconds {
			break
		}
		from--
		c.noted--
	}
	v.now.log = slices.Clip(v.now.log[:from])
	c.heard = min(c.heard, len(c.run.Cues()))
}

// heardLately are the last things noticed, the newest first.
func (v *View) heardLately() []string {
	var lines []string
	cues := v.clock.run.Cues()
	for i := len(cues) - 1; i >= 0 && len(lines) < 12; i-- {
		lines = append(lines, v.when(cues[i].Seconds)+": "+cues[i].Says)
	}
	return lines
}
