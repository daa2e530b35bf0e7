package view

// This file offers work that was kept: nothing is brought back that nobody asked for.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// Offer asks the person whether to take up kept work (see Session) again. What is no session of this circuit, or has
// nothing in it, is passed over. The first act without an answer leaves it.
func (v *View) Offer(data []byte) {
	var kept session
	if json.Unmarshal(data, &kept) != nil || kept.Version != sessionVersion || kept.Circuit != v.title() {
		return
	}
	var has []string
	count := func(n int, one, many string) {
		switch {
		case n == 1:
			has = append(has, one)
		case n > 1:
			has = append(has, fmt.Sprintf("%d %s", n, many))
		}
	}
	noticed := 0
	for _, e := range kept.Log {
		if e.Noticed != "" {
			noticed++
		}
	}
	count(len(kept.Log)-noticed, "1 reading", "readings")
	count(noticed, "1 thing noticed", "things noticed")
	if !v.o.Hide {
		count(len(kept.Faults), "1 fault", "faults")
	}
	count(len(kept.Setup), "1 setting", "settings")
	if leads := slices.DeleteFunc(kept.Leads, func(name string) bool { return name == "" }); len(leads) > 0 {
		has = append(has, "leads on "+strings.Join(leads, " and "))
	}
	if len(has) == 0 {
		return
	}
	v.offered, v.offer = bytes.Clone(data), "Work from last time is kept: "+strings.Join(has, ", ")+"."
	v.dirty = true
}

// Offers reports whether kept work waits for an answer.
func (v *View) Offers() bool { return v.offered != nil }

func (v *View) takeUp() {
	data := v.offered
	v.leave()
	if err := v.Restore(data); err != nil {
		v.tell(spoken(err))
	}
}

// leave lets it be.
func (v *View) leave() {
	if v.offered != nil {
		v.offered, v.offer, v.dirty = nil, "", true
	}
}

// offerBanner paints the question with its two answers, and gives the y below it.
func (v *View) offerBanner(b box) float64 {
	p, h := v.canvas.p, v.target()
	b.w = min(b.w, 460)
	lines := wrap(v.offer, 14, false, b.w-28, 2)
	b.h = float64(len(lines))*20 + 14 + h + 8
	v.canvas.fill(box{b.x, b.y + 2, b.w, b.h}, 6, p.shadow)
	v.canvas.frame(b, 6, 1, p.line, p.panel)
	v.shields = append(v.shields, b)
	for i, line := range lines {
		v.canvas.text(b.x+14, b.y+7+float64(i)*20+15, style{size: 14, fill: p.ink}, line)
	}
	y := b.foot() - h - 8
	v.button(control{id: "take-up", label: "Take it up again", at: box{b.x + 12, y, 168, h}, do: v.takeUp}, primary)
	v.button(control{id: "leave", label: "Start afresh", at: box{b.x + 188, y, 140, h}, do: v.leave}, ordinary)
	return b.foot()
}
