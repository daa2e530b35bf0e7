package view

// This file is the key that springs back: while time runs, a starter is cranked for as long as the pointer holds it.

import "strings"

// sprung are the positions from which a switch springs back.
var sprung = []string{"crank", "start"}

// springs turns a switch that springs back, if that is what is pressed, and reports whether it was.
func (v *View) springs(c *control) bool {
	if v.clock == nil || !v.clock.running || c.off != "" {
		return false
	}
	name, to, ok := strings.Cut(strings.TrimPrefix(c.id, "set:"), ":")
	if !ok || !strings.HasPrefix(c.id, "set:") || !contains(sprung, to) {
		return false
	}
	part := v.c.Part(name)
	if part == nil {
		return false
	}
	before := v.now.positionOf(part)
	if before == to {
		return false
	}
	v.grab.kind, v.grab.id, v.focus = grabSpring, name+"="+before, c.id
	v.set(name + "=" + to)
	return true
}

// springBack lets it go to where it was.
func (v *View) springBack() {
	if v.clock == nil {
		return
	}
	held := v.clock.run.Seconds() - v.now.at
	v.set(v.grab.id)
	const short = 0.4 // seconds: less is a slip
	if held < short*min(1, paces[v.clock.pace].rate) {
		v.tell("It springs back. Hold it down for as long as you want to crank.")
	}
}
