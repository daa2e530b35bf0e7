package meter

// This file is eyes, ears and nose: what a person notices without any instrument.

import (
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/sim"
)

var look = instrument{
	name: "look", leads: noLeads, minutes: catalog.Minutes(catalog.QuickLook), says: "eyes, ears and nose",
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
		case b.Chatters(p):
			r.lines = append(r.lines, p.Name+" chatters: it clicks without end")
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
	warm, err := warmer(b)
	if err != nil {
		return raw{}, err
	}
	r.lines = append(r.lines, warm...)
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

// warmer tells the joints and wires that get hotter than they would in the sound circuit: what a starter cable always
// does is no news.
func warmer(b *sim.Bench) ([]string, error) {
	sound, err := b.Sound()
	if err != nil {
		return nil, err
	}
	usual := map[string]float64{}
	for _, h := range sound.Heat() {
		usual[h.Place] = h.Watts
	}
	var lines []string
	found := map[string]bool{}
	for _, h := range b.Heat() {
		watts := h.Watts - usual[h.Place]
		if w := b.Circuit().Wire(h.Place); w != nil && w.Metres > 1 {
			watts /= w.Metres // a finger feels a length of wire, not all of it
		}
		// A finger finds the place, and not what is wrong with it.
		place := strings.TrimPrefix(h.Place, sim.ShortAt)
		if found[place] || watts < warmWatts {
			continue
		}
		found[place] = true
		if watts >= hotWatts {
			lines = append(lines, place+" is hot and smells")
		} else {
			lines = append(lines, place+" is warm to the touch")
		}
	}
	return lines, nil
}
