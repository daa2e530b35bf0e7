package meter

// This file is eyes, ears and nose: what a person notices without any instrument.

import (
	"fmt"
	"strings"

	"underload/circuit"
	"underload/sim"
)

var look = instrument{
	name: "look", leads: noLeads, minutes: 6, says: "eyes, ears and nose",
	measure: measureLook,
	tell: func(t telling) (string, string) {
		return t.got.seen, "Eyes find what is burnt, wet, rubbed or loose in plain sight. A sound look proves no joint."
	},
}

// warmWatts in one joint, or a metre of wire, can be felt, and hotWatts smelt (common practice, no source).
const (
	warmWatts = 2.0
	hotWatts  = 8.0
)

func measureLook(b *sim.Bench, q Request) (raw, error) {
	r := raw{after: b, lines: works(b)}
	for _, p := range b.Circuit().Parts {
		s := b.State(p)
		switch {
		case p.Kind.Name == "relay" && s.PulledIn:
			r.lines = append(r.lines, p.Name+" is pulled in: it can be felt with a finger")
		case p.Kind.Name == "fuse" && s.Blown && s.Out:
			r.lines = append(r.lines, p.Name+" is blown: its element is parted")
		case p.Kind.Name == "fuse" && s.Out:
			r.lines = append(r.lines, p.Name+" is out; its element looks whole")
		}
		for _, t := range p.Terminals {
			r.lines = append(r.lines, lookAt(b, t)...)
		}
	}
	for _, con := range b.Circuit().Connectors {
		for _, t := range con.Cavities {
			r.lines = append(r.lines, lookAt(b, t)...)
		}
	}
	for _, s := range b.Circuit().Studs {
		if ohms, bad := b.Overlay().Stud[s]; bad && ohms > s.ContactOhms {
			r.lines = append(r.lines, s.Name+": not bright metal around the ring")
		}
	}
	for _, h := range b.Heat() {
		if w := b.Circuit().Wire(h.Place); w != nil && w.Metres > 1 {
			h.Watts /= w.Metres // a finger feels a length of wire, not all of it
		}
		if h.Watts >= hotWatts {
			r.lines = append(r.lines, fmt.Sprintf("%s is hot and smells: %.0f W goes into it", h.Place, h.Watts))
		} else if h.Watts >= warmWatts {
			r.lines = append(r.lines, h.Place+" is warm to the touch")
		}
	}
	r.seen = strings.Join(r.lines, "; ")
	if r.seen == "" {
		r.seen = "nothing to be noticed"
	}
	return r, nil
}

// lookAt is what an eye finds at a terminal: in a connector only when it is apart.
func lookAt(b *sim.Bench, t *circuit.Terminal) []string {
	grip, bad := b.Overlay().Grip[t]
	if !bad || grip.Looks == "" || (t.Reach != circuit.Open && !b.IsApart(t)) {
		return nil
	}
	return []string{t.Name + ": " + grip.Looks}
}
