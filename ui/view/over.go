package view

// This file is what lies over the drawing: zoom buttons, sheets, news, errors of the file, and the little menu of what is
// selected.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/quantity"
	"underload/ui/drawing"
)

func (v *View) overDrawing() {
	a, r := v.plan.area, v.plan.rail
	v.canvas.fill(r, 0, v.canvas.p.paper)
	size := max(40, v.row())
	x, y := math.Round(r.midX()-size/2), r.y+12
	zoom := func(id, label string, do func(), paint func(b box, ink colour)) {
		v.iconButton(control{id: id, label: label, at: box{x, y, size, size}, again: id != "fit", do: do}, paint)
		y += size + 6
	}
	zoom("zoom-in", "Larger", func() { v.zoomBy(1.25, a.midX(), a.midY()) }, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), false, ink) })
	zoom("zoom-out", "Smaller", func() { v.zoomBy(0.8, a.midX(), a.midY()) }, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), true, ink) })
	zoom("fit", "Show all", v.fit, func(b box, ink colour) { v.fitSign(b.midX(), b.midY(), ink) })
	v.sheets(x, size)
	v.news()
	v.hoverTag()
	if v.popped && v.now.picked.name != "" && v.menu == "" {
		v.pop()
	}
}

// sheets turns the pages of a drawing that is wider than its room.
func (v *View) sheets(x, size float64) {
	n := len(v.lay.Sheets)
	if n < 2 {
		return
	}
	p, now := v.canvas.p, v.sheet()
	turn := func(id, label string, y float64, to int, off string, way float64) {
		v.iconButton(control{id: id, label: label, at: box{x, y, size, size}, off: off, do: func() { v.goToSheet(to) }}, func(b box, ink colour) {
			v.canvas.line(2, ink, at(b.midX()-way*3, b.midY()-6), at(b.midX()+way*3, b.midY()), at(b.midX()-way*3, b.midY()+6))
		})
	}
	y := v.plan.rail.foot() - 12 - 2*size - 30
	v.canvas.text(x+size/2, y+16, style{size: 12, fill: p.ink2, anchor: drawing.Middle}, fmt.Sprintf("%d of %d", now+1, n))
	turn("sheet-before", "Sheet before", y+24, now-1, empty(now == 0, "This is the first sheet"), -1)
	turn("sheet-after", "Next sheet", y+30+size, now+1, empty(now == n-1, "This is the last sheet"), 1)
}

// news writes errors of the file at the top of the drawing, and one line of news below them.
func (v *View) news() {
	a := v.plan.area
	y := a.y + 10
	room := a.w - 40
	if v.problems != "" {
		y = v.banner(box{a.x + 16, y, room, 0}, v.problemWords(room), true, mostProblems+2) + 6
	}
	if v.offered != nil {
		y = v.offerBanner(box{a.x + 16, y, room, 0}) + 6
	}
	words := v.note
	if words == "" && v.plan.narrow && !v.drawer && len(v.past) == 0 && v.complaintFirst() {
		words = "The complaint: " + v.c.Complaint // the bench, where it stands else, is put away
	}
	switch {
	case v.armed == 1:
		words = "Click the point for lead A. Esc puts it back."
	case v.armed == 2:
		words = "Click the point for lead B. Esc puts it back."
	}
	if words != "" {
		v.banner(box{a.x + 16, y, room, 0}, words, false, 3)
	}
}

// mostProblems is how many errors of the file are told; there may be many more.
const mostProblems = 4

// problemWords is what is wrong with the file, an error a line.
func (v *View) problemWords(room float64) string {
	errors := strings.Split(v.problems, "\n")
	words := "The file has changed and cannot be used; this is the last good drawing."
	for _, e := range errors[:min(len(errors), mostProblems)] {
		words += "\n" + shorten(e, 14, false, room-52)
	}
	if more := len(errors) - mostProblems; more > 0 {
		words += fmt.Sprintf("\nand %d more", more)
	}
	return words
}

// banner paints a few words over the drawing and gives the y below them.
func (v *View) banner(b box, words string, alert bool, most int) float64 {
	p := v.canvas.p
	lines := wrap(words, 14, false, b.w-52, most)
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, textWidth(line, 14, false))
	}
	left := 14.0
	if alert {
		left = 36
	}
	b.w, b.h = wide+left+14, float64(len(lines))*20+14
	fill, stroke := p.panel, p.line
	if alert {
		fill, stroke = p.alertSoft, p.alert
	}
	v.canvas.fill(box{b.x, b.y + 2, b.w, b.h}, 6, p.shadow)
	v.canvas.frame(b, 6, 1, stroke, fill)
	if alert {
		v.warnSign(b.x+19, b.y+17)
	}
	for i, line := range lines {
		v.canvas.text(b.x+left, b.y+7+float64(i)*20+15, style{size: 14, fill: p.ink}, line)
	}
	return b.foot()
}

// hoverTag names what the pointer is on, with its current where that is known.
func (v *View) hoverTag() {
	if v.lit.name == "" || v.grab.kind != grabNone || v.menu != "" || v.popped {
		return
	}
	x, y := v.pointer[0], v.pointer[1]
	v.tip(box{x - 1, y, 2, 14}, v.nameOf(v.lit))
}

// nameOf says what something of the drawing is, in a line.
func (v *View) nameOf(p pick) string {
	words := spelt(p.name)
	if says := v.saysOf(p); says != "" {
		words += ": " + says
	}
	if amps, ok := v.now.live.showing.Amps[p.name]; ok && p.kind == drawing.OnWire {
		words += ", " + ampText(math.Abs(amps))
	}
	return words
}

func (v *View) saysOf(p pick) string {
	switch p.kind {
	case drawing.OnPoint:
		if point, err := v.c.Point(p.name); err == nil {
			says, how, _ := strings.Cut(point.Says, ": ")
			if strings.HasPrefix(says, "harness side") || strings.HasPrefix(says, "side ") {
				return how
			}
			return says
		}
	case drawing.OnWire:
		if w := v.c.Wire(p.name); w != nil {
			return w.Made()
		}
	}
	if part := v.c.Part(p.name); part != nil {
		return strings.TrimSuffix(part.Kind.Name+", "+part.Place, ", ")
	}
	if con := v.c.Connector(p.name); con != nil {
		return strings.TrimSuffix("connector, "+con.Place, ", ")
	}
	return ""
}

// ampText writes a current.
func ampText(v float64) string {
	if v < 1e-6 {
		return "0\u00a0A"
	}
	return quantity.Format(v, quantity.Amperes, 3)
}

// deed is one thing that can be done with what is selected.
type deed struct {
	id, label, off string
	do             func()
}

// deeds lists what can be done with what is selected.
func (v *View) deeds(p pick) []deed {
	var all []deed
	if p.kind == drawing.OnPoint {
		why := v.far(v.now.bench, p.name)
		all = append(all, deed{"lead-a-here", "Lead A", why, func() { v.placeLead(0, p.name); v.popped = false }},
			deed{"lead-b-here", "Lead B", why, func() { v.placeLead(1, p.name); v.popped = false }})
	}
	if p.kind == drawing.OnWire {
		all = append(all, deed{"clamp-here", "Clamp here", "", func() { v.clampOn(p.name); v.popped = false }})
	}
	all = append(all, v.plugDeeds(v.ownerOf(p))...)
	if owner := v.ownerOf(p); v.wiggles(owner) {
		all = append(all, deed{"wiggle", v.wiggleWords(owner), "", func() { v.wiggle(owner) }})
	}
	if len(v.repairs(p)) > 0 {
		all = append(all, deed{"mend", "Mend …", "", func() { v.toggleMenu("mend") }})
	}
	if v.now.role == SetFaults {
		all = append(all, deed{"fault-here", "Set a fault", "", func() { v.popped, v.menu, v.drawer, v.dirty = false, "", true, true }})
	}
	if owner := v.ownerOf(p); v.c.Part(owner) != nil && v.c.Part(owner).Kind.Name != "battery" {
		all = append(all, deed{"inspect", "Inspect", "", func() { v.showTab(tabFeeds); v.popped = false }})
	}
	return all
}

// plugDeeds is what can be pulled, put back, taken apart and together.
func (v *View) plugDeeds(owner string) []deed {
	b := v.now.bench
	if con := v.c.Connector(owner); con != nil && len(con.Cavities) > 0 {
		return []deed{v.plugDeed(owner, b.IsApart(con.Cavities[0]))}
	}
	p := v.c.Part(owner)
	switch {
	case p == nil:
		return nil
	case p.Kind.Name == "fuse":
		st := b.State(p)
		if st.Out {
			deeds := []deed{{"fuse-in", "Put " + owner + " back", "", func() { v.set(owner + "=in") }}}
			if st.Blown {
				deeds = append(deeds, deed{"fuse-new", "New fuse", "", func() { v.set(fmt.Sprintf("%s=%g A", owner, p.Value("rating"))) }})
			}
			return deeds
		}
		return []deed{{"fuse-out", "Pull " + owner, "", func() { v.set(owner + "=out"); v.dropLost() }}}
	case p.Kind.Name == "battery":
		words, to := "Charger on", "support"
		if b.State(p).Support {
			words, to = "Charger off", "alone"
		}
		return []deed{v.plugDeed(owner, b.IsApart(p.Terminals[1])), {"support", words, "", func() { v.set(owner + "=" + to) }}}
	case p.Kind.Plugged && len(p.Terminals) > 0:
		return []deed{v.plugDeed(owner, b.IsApart(p.Terminals[0]))}
	}
	return nil
}

func (v *View) plugDeed(owner string, apart bool) deed {
	if apart {
		return deed{"together", "Join " + owner, "", func() { v.plug(owner, false) }}
	}
	return deed{"apart", "Take " + owner + " apart", "", func() { v.plug(owner, true) }}
}

// pop paints the little menu beside what is selected.
func (v *View) pop() {
	picked := v.now.picked
	boxes := v.boxesOf(picked.name)
	if len(boxes) == 0 {
		return
	}
	near := boxes[0]
	if picked.kind == drawing.OnWire { // a wire is long: beside where it was clicked
		near = box{v.chosenAt[0] - 6, v.chosenAt[1] - 6, 12, 12}
		if !v.plan.area.holds(near.midX(), near.midY()) {
			near = boxes[0]
		}
	}
	deeds := v.deeds(picked)
	const gap, pad = 8.0, 12.0
	h := v.target()
	wide, widths := -gap, make([]float64, len(deeds))
	for i, d := range deeds {
		widths[i] = max(72, math.Ceil(textWidth(d.label, 14, false)/8)*8+24)
		wide += widths[i] + gap
	}
	a, p := v.freeArea(), v.canvas.p
	most := a.w - 24
	head := wrap(v.nameOf(picked), 13, false, max(200, min(wide, most)-2*pad), 2)
	for _, line := range head {
		wide = max(wide, textWidth(line, 13, true))
	}
	rows := 1
	if wide+2*pad > most {
		rows, wide = 2, most-2*pad
	}
	b := box{near.midX() - wide/2 - pad, near.foot() + 8, wide + 2*pad, float64(len(head))*18 + 14 + float64(rows)*(h+gap) + 6}
	if b.foot() > a.foot()-6 {
		b.y = near.y - 8 - b.h
	}
	b.y = math.Round(max(b.y, a.y+6))
	b.x = math.Round(min(max(b.x, a.x+6), a.right()-b.w-6))
	v.canvas.fill(box{b.x, b.y + 3, b.w, b.h}, 8, p.shadow)
	v.canvas.frame(b, 8, 1, p.line, p.panel)
	v.shields = append(v.shields, b)
	y := b.y + 8
	for i, line := range head {
		v.canvas.text(b.x+pad, y+13, style{size: 13, bold: i == 0, fill: p.ink}, line)
		y += 18
	}
	x := b.x + pad
	y += 6
	for i, d := range deeds {
		if x+widths[i] > b.right()-pad+1 {
			x, y = b.x+pad, y+h+gap
		}
		v.button(control{id: d.id, label: d.label, at: box{x, y, widths[i], h}, off: d.off, do: d.do}, ordinary)
		x += widths[i] + gap
	}
}
