package view

// This file is a hand that shakes a connector, which only means something in time.

// wiggles reports whether something can be shaken: a connector, or a part with a plug.
func (v *View) wiggles(owner string) bool {
	if v.c.Connector(owner) != nil {
		return true
	}
	p := v.c.Part(owner)
	return p != nil && p.Kind.Plugged
}

func (v *View) wiggleWords(owner string) string {
	if v.clock != nil && v.clock.run.Shaken(owner) {
		return "Hold " + owner + " still"
	}
	return "Wiggle " + owner
}

// wiggle begins to shake it, and sets time going for that; or holds it still.
func (v *View) wiggle(owner string) {
	v.popped = false
	if !v.startTime() {
		return
	}
	verb := "wiggle "
	if v.clock.run.Shaken(owner) {
		verb = "still "
	}
	if !v.act(func(s *state) error {
		s.did = []string{verb + owner}
		return nil
	}) {
		return
	}
	if verb == "wiggle " {
		v.clock.running = true
	}
	v.dirty = true
}

// wiggleKey does it to what is selected.
func (v *View) wiggleKey() {
	if owner := v.ownerOf(v.now.picked); v.wiggles(owner) {
		v.wiggle(owner)
		return
	}
	v.tell("Choose a connector in the drawing: W then wiggles it.")
}
