package view

// This file is the bench column: role, leads, instruments, and below them either the reading alone or the setting of
// faults with the reading above it.

import (
	"math"
	"strings"

	"underload/sim/meter"
	"underload/ui/drawing"
)

// instrumentWords are the names as they stand on the buttons, and the keys that take them in hand.
var instrumentWords = map[string]struct{ label, key string }{
	"volts": {"Volts", "1"}, "ohms": {"Ohms", "2"}, "amps": {"Amps", "3"}, "clamp": {"Clamp", "4"}, "test-lamp": {"Test lamp", "5"},
	"led-light": {"LED light", "6"}, "load-lamp": {"Load lamp", "7"}, "jumper": {"Jumper", "8"}, "drag": {"Drag gauge", "9"},
	"roll-call": {"Roll call", "0"}, "look": {"Look", "e"},
}

// instruments lists all of them as sim/meter does.
func instruments() []string {
	names, _ := meter.Instruments()
	return names
}

func labelOf(instrument string) string {
	if w, ok := instrumentWords[instrument]; ok {
		return w.label
	}
	return plain(instrument)
}

func (v *View) benchColumn() {
	b, p := v.plan.bench, v.canvas.p
	v.canvas.fill(b, 0, p.panel)
	v.canvas.line(1, p.hair, at(b.x+0.5, b.y), at(b.x+0.5, b.foot()))
	inner := box{b.x + 16, b.y + 12, b.w - 32, b.h - 24}
	if v.plan.small {
		inner = box{b.x + 14, b.y + 10, b.w - 28, b.h - 20}
	}
	setting := v.now.role == SetFaults
	y := v.roles(inner)
	y = v.leads(inner, y, v.plan.small || setting)
	if v.plan.small || setting {
		y = v.instrumentMenu(inner, y)
	} else {
		y = v.instrumentGrid(inner, y)
	}
	rest := box{inner.x, y, inner.w, inner.foot() - y}
	if setting {
		v.faultBench(rest)
		return
	}
	v.readingBench(rest)
}

// roles paints the seats and gives the y below them.
func (v *View) roles(b box) float64 {
	h := v.row() + 2
	off := map[string]string{}
	if v.o.Hide {
		off[SetFaults.String()] = "The faults of this case are hidden: this is the trainee's seat."
	}
	names := []string{Practise.String(), SetFaults.String()}
	v.segments("role", box{b.x, b.y, b.w, h}, names, []string{"Practise", "Set faults"}, v.now.role.String(), off, func(name string) {
		if name == SetFaults.String() {
			v.seat(SetFaults)
			return
		}
		v.seat(Practise)
	})
	return b.y + h + 10
}

// leads paints where the leads are and gives the y below them: one under the other with words, or side by side.
func (v *View) leads(b box, y float64, beside bool) float64 {
	h := v.target()
	id := [2]string{"lead-a", "lead-b"}
	arm := func(lead int) func() {
		return func() {
			v.armed, v.popped = lead+1, false
			v.shutDrawer()
			if v.now.leads[lead] != "" {
				v.placeLead(lead, "")
				v.armed = lead + 1
			}
			v.dirty = true
		}
	}
	if beside {
		swap := v.row()
		w := (b.w - 2*8 - swap) / 2
		v.lead(0, control{id: id[0], at: box{b.x, y, w, h}, do: arm(0)}, false)
		v.swapButton(box{b.x + w + 8, y, swap, h})
		v.lead(1, control{id: id[1], at: box{b.right() - w, y, w, h}, do: arm(1)}, false)
		return y + h + 8
	}
	v.heading(b.x, y+11, "Leads")
	y += 18
	w := b.w - v.row() - 8
	v.lead(0, control{id: id[0], at: box{b.x, y, w, h}, do: arm(0)}, true)
	v.swapButton(box{b.right() - v.row(), y + h/2 + 4, v.row(), h})
	v.lead(1, control{id: id[1], at: box{b.x, y + h + 8, w, h}, do: arm(1)}, true)
	return y + 2*h + 8 + 12
}

func (v *View) swapButton(b box) {
	off := empty(v.now.leads == [2]string{}, "No lead is on a point")
	v.iconButton(control{id: "swap", label: "Swap leads", at: b, off: off, do: v.swapLeads}, func(b box, ink colour) { v.swapSign(b.midX(), b.midY(), ink) })
}

// lead paints one lead's place; while it waits for a point it is marked.
func (v *View) lead(lead int, c control, words bool) {
	p := v.canvas.p
	name := v.now.leads[lead]
	c.label = "Lead " + string(rune('A'+lead)) + ": " + orElse(name, "not placed")
	l := v.control(c)
	in, _ := v.plate(c.at, l, ordinary)
	if v.armed == lead+1 {
		v.canvas.frame(in, 6, 2, p.accent, p.accentSoft)
	}
	v.leadTag(lead, in.x+9, in.midY())
	x := in.x + 46
	room := in.right() - 8 - x
	switch {
	case name == "":
		choices := []string{"not placed", "none"}
		if v.armed == lead+1 {
			choices = []string{"click a point", "where?"}
		}
		words := choices[0]
		if textWidth(words, 13, false) > room {
			words = choices[1]
		}
		v.canvas.text(x, middle(in, 13), style{size: 13, fill: p.ink2}, words)
	case words:
		v.canvas.text(x, in.midY()-3, style{size: 14, bold: true, fill: p.ink}, shorten(name, 14, true, room))
		v.canvas.text(x, in.midY()+14, style{size: 13, fill: p.ink2}, shorten(v.saysOf(pick{drawing.OnPoint, name}), 13, false, room))
	case textWidth(name, 14, true) <= room:
		v.canvas.text(x, middle(in, 14), style{size: 14, bold: true, fill: p.ink}, name)
	default: // its part above its pin
		owner, pin, _ := strings.Cut(name, ".")
		v.canvas.text(x, in.midY()-3, style{size: 13, bold: true, fill: p.ink}, shorten(owner, 13, true, room))
		v.canvas.text(x, in.midY()+13, style{size: 13, bold: true, fill: p.ink}, shorten("."+pin, 13, true, room))
	}
}

func orElse(words, otherwise string) string {
	if words == "" {
		return otherwise
	}
	return words
}

// instrumentGrid paints a button an instrument and gives the y below them.
func (v *View) instrumentGrid(b box, y float64) float64 {
	v.heading(b.x, y+11, "Instrument")
	y += 18
	const columns, gap = 4, 8.0
	w := (b.w - (columns-1)*gap) / columns
	h := 54.0
	if b.h < 780 {
		h = 48
	}
	for i, name := range instruments() {
		at := box{b.x + float64(i%columns)*(w+gap), y + float64(i/columns)*(h+gap), w, h}
		c := control{id: "with:" + name, label: labelOf(name), at: at, on: v.now.with == name, do: func() { v.choose(name) }}
		l := v.control(c)
		in, ink := v.plate(at, l, ordinary)
		v.sign(name, in.midX(), in.y+h*0.34, ink)
		v.canvas.text(in.midX(), in.foot()-8, style{size: 13, bold: l.on, fill: ink, anchor: drawing.Middle}, shorten(c.label, 13, l.on, w-4))
	}
	rows := math.Ceil(float64(len(instruments())) / columns)
	return y + rows*(h+gap) + 4
}

// instrumentMenu paints the instrument in hand as a button that opens a menu, and gives the y below it.
func (v *View) instrumentMenu(b box, y float64) float64 {
	h := v.target()
	v.opener("instrument", labelOf(v.now.with), "instruments", box{b.x, y, b.w, h}, func(in box, ink colour) float64 {
		v.sign(v.now.with, in.x+26, in.midY(), ink)
		return 38
	})
	return y + h + 10
}
