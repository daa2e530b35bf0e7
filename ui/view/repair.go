package view

// This file is what can be mended, at what is selected. A person mends what they believe to be bad: nothing here tells
// whether it was.

import (
	"fmt"
	"strings"

	"underload/sim"
	"underload/ui/drawing"
)

// repair is one act: what is said to the bench, and how it stands in a menu.
type repair struct{ act, label, says, off string }

// isMending reports whether something that was done is a repair, and no setting.
func isMending(text string) bool {
	verb, _, _ := strings.Cut(text, " ")
	switch verb {
	case "repair", "clean", "replace", "reseat":
		return true
	}
	return false
}

// repairs lists what can be mended at what is selected.
func (v *View) repairs(p pick) []repair {
	var all []repair
	add := func(verb, place, says, off string) {
		all = append(all, repair{verb + " " + place, capital(verb) + " " + spelt(place), says, off})
	}
	place, owner := v.faultPlace(p), v.ownerOf(p)
	part := v.c.Part(owner)
	switch {
	case place == "":
	case p.kind == drawing.OnWire:
		add("repair", place, "the whole wire", "")
	case p.kind == drawing.OnPoint:
		if v.c.Terminal(place) != nil {
			add("repair", place, "a new terminal on the wire", "")
		} else {
			add("repair", place, "made anew", "")
		}
		add("clean", place, "film and rust only", "")
	}
	if part != nil && part.Kind.Name == "fuse" {
		add("replace", owner, fmt.Sprintf("new, %g\u00a0A", part.Value("rating")), "")
	} else if part != nil {
		add("replace", owner, "the part alone", "")
	}
	if con := v.c.Connector(owner); con != nil && len(con.Cavities) > 0 {
		add("reseat", owner, "pulled and put back", empty(v.now.bench.IsApart(con.Cavities[0]), owner+" is apart"))
	} else if part != nil && part.Kind.Plugged && len(part.Terminals) > 0 {
		add("reseat", owner, "pulled and put back", empty(v.now.bench.IsApart(part.Terminals[0]), owner+" is apart"))
	}
	return all
}

// doRepair does it, and asks for the test that proves it.
func (v *View) doRepair(r repair) {
	v.menu, v.popped = "", false
	done := v.act(func(s *state) error {
		s.setup, s.did = append(s.setup, r.act), []string{r.act}
		return onBench(s, func(b *sim.Bench) error { return b.Mend(r.act) })
	})
	if done {
		v.tell("Done: " + r.act + ". Now take the same test again: a reading that has not changed says that it was not this.")
	}
}

func (v *View) mendMenu() {
	var items []item
	for _, r := range v.repairs(v.now.picked) {
		items = append(items, item{id: "act:" + r.act, label: r.label, says: r.says, off: r.off, do: func() { v.doRepair(r) }})
	}
	if len(items) == 0 {
		v.menu = ""
		return
	}
	at := v.plan.area
	if near := v.boxesOf(v.now.picked.name); len(near) > 0 {
		at = near[0]
	}
	w := min(380, v.plan.width-16)
	v.items(v.menuBox(at.midX()-w/2, at.foot()+8, w, float64(len(items))*v.target()+16), items, 1)
}
