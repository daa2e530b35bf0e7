package view

// This file is the bench in a narrow window: a drawer at the right, over the drawing and the panel. While it is shut, a
// button in the row of tabs says what is in hand and what it reads.

import (
	"math"
	"slices"
)

const idDrawer = "drawer"

// The room of the button that opens it.
const drawerWidth, slimDrawerWidth = 236.0, 130.0

func (v *View) pullDrawer() {
	v.drawer, v.popped = !v.drawer, false
	v.dirty = true
}

// shutDrawer clears the way to the drawing.
func (v *View) shutDrawer() {
	if v.drawer {
		v.drawer, v.dirty = false, true
	}
}

// drawerButton paints what opens the drawer, and gives the room left of it.
func (v *View) drawerButton(head box) box {
	if !v.plan.narrow {
		return head
	}
	p := v.canvas.p
	wide := drawerWidth
	if v.plan.slim {
		wide = slimDrawerWidth
	}
	b := box{v.panelBox().right() - wide - 4, v.panelBox().y + 1, wide, tabHeight - 1}
	if v.o.Touch {
		b.h++
	}
	head.w = b.x - 8 - head.x
	if v.drawer {
		return head
	}
	value, _ := v.inHand()
	l := v.control(control{id: idDrawer, label: "Bench: " + v.instrumentLine() + ", " + value, at: b, do: v.pullDrawer})
	in, ink := v.plate(b.inset(2), l, ordinary)
	v.sign(v.now.with, in.x+22, in.midY(), ink)
	v.canvas.line(2, ink, at(in.right()-12, in.midY()-6), at(in.right()-18, in.midY()), at(in.right()-12, in.midY()+6))
	x, room := in.x+40, in.w-66
	v.canvas.text(x, in.midY()-2, style{size: 14, bold: true, fill: ink}, shorten(value, 14, true, room))
	v.canvas.text(x, in.midY()+13, style{size: 12, fill: p.ink2}, shorten(v.leadsLine(), 12, false, room))
	return head
}

// inHand is the reading in a few words; ok is false where there is none.
func (v *View) inHand() (words string, ok bool) {
	r := v.now.live.reading
	if r == nil {
		return labelOf(v.now.with) + ": – –", false
	}
	value, _, seen := figureWords(r)
	return joined(value, seen), true
}

// leadsLine says where the leads are.
func (v *View) leadsLine() string {
	if v.now.on != "" && v.now.with == "clamp" {
		return "around " + spelt(v.now.on)
	}
	a, b := v.now.leads[0], v.now.leads[1]
	if a == "" && b == "" {
		return "no lead is placed"
	}
	return "A " + orElse(a, "–") + "  B " + orElse(b, "–")
}

// openDrawer paints the bench over the rest, with a handle at its edge; nothing under it can be pressed.
func (v *View) openDrawer() {
	b, p := v.plan.bench, v.canvas.p
	handle := box{b.x - 43, math.Round(v.plan.area.midY()) - 36, 44, 72}
	v.controls = slices.DeleteFunc(v.controls, func(c control) bool {
		return c.id != idDrawing && (b.overlaps(c.at) || handle.overlaps(c.at))
	})
	v.canvas.fill(box{b.x - 4, b.y, 4, b.h}, 0, p.shadow)
	v.benchColumn()
	v.shields = append(v.shields, b, handle)
	l := v.control(control{id: idDrawer, label: "Put the bench away", at: handle, bare: true, do: v.pullDrawer})
	in, ink := v.plate(handle, l, ordinary)
	v.canvas.line(2, ink, at(in.midX()-4, in.midY()-8), at(in.midX()+4, in.midY()), at(in.midX()-4, in.midY()+8))
}

// freeArea is the drawing's room as far as the drawer leaves it in sight.
func (v *View) freeArea() box {
	a := v.plan.area
	if v.plan.narrow && v.drawer {
		a.w = min(a.w, v.plan.bench.x-46-a.x)
	}
	return a
}
