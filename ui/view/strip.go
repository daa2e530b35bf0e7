package view

// This file is the strip at the top: the circuit's name, the key and the switches, the loads that can be asked for, the
// temperature, undo, help.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/ui/drawing"
)

// lever is a switch, a generator with the engine that turns it, or a load that a module runs when it is asked to.
type lever struct {
	name    string // KEY, ALT, M1, PC1.5
	part    *circuit.Part
	says    string   // what it is
	throws  []string // off, acc, run
	at      string   // where it stands
	isAsked bool
}

// levers lists the switches, the one with most positions first, then generators, and then what can be asked for.
func (v *View) levers() []lever {
	var all []lever
	for _, p := range v.c.OfKind("switch") {
		l := lever{name: p.Name, part: p, says: strings.TrimSuffix("switch, "+p.Place, ", "), at: v.now.positionOf(p)}
		for _, t := range p.Throws {
			l.throws = append(l.throws, t.Name)
		}
		all = append(all, l)
	}
	slices.SortStableFunc(all, func(a, b lever) int { return min(len(b.throws), 3) - min(len(a.throws), 3) })
	return append(append(all, v.engines()...), v.asked()...)
}

// engines lists the generators: each stands, or is turned slowly or at speed.
func (v *View) engines() []lever {
	var all []lever
	for _, p := range v.c.OfKind("generator") {
		l := lever{name: p.Name, part: p, says: strings.TrimSuffix("generator, "+p.Place, ", "), throws: []string{"still", "idling", "running"}, at: "still"}
		switch st := v.now.bench.State(p); {
		case st.Idling:
			l.at = "idling"
		case st.Running:
			l.at = "running"
		}
		all = append(all, l)
	}
	return all
}

// asked lists what modules can be asked to switch.
func (v *View) asked() []lever {
	var all []lever
	for _, m := range v.c.OfKind("module") {
		for _, out := range m.Module.Outputs {
			l := lever{name: out.For, part: m, says: "asked of " + m.Name, throws: []string{"off", "on"}, at: "off", isAsked: true}
			if l.name == "" {
				l.name = m.Name + "." + out.Pin
			}
			if v.now.bench.State(m).Asked[out.Pin] {
				l.at = "on"
			}
			if !slices.ContainsFunc(all, func(o lever) bool { return o.name == l.name }) {
				all = append(all, l)
			}
		}
	}
	return all
}

// passes reports whether current passes where the lever stands.
func (l lever) passes() bool {
	switch {
	case l.isAsked:
		return l.at == "on"
	case l.part.Kind.Name == "generator":
		return l.at != "still"
	}
	for _, t := range l.part.Throws {
		if t.Name == l.at {
			return len(t.Pairs) > 0
		}
	}
	return false
}

// next is the position after the present one.
func (l lever) next() string {
	i := slices.Index(l.throws, l.at)
	return l.throws[(i+1)%len(l.throws)]
}

func (v *View) topStrip() {
	cv, p := &v.canvas, v.canvas.p
	b := v.plan.strip
	cv.fill(b, 0, p.panel)
	v.rule(b.x, b.right(), b.foot()-1)
	mid := b.y + math.Floor(b.h/2)
	x := 16.0
	v.mark(x, mid-13)
	x += 40
	nameRoom := min(220, max(130, textWidth(v.title(), 13, false)))
	switch {
	case v.plan.slim: // the mark has to do
		nameRoom = -8
	case v.plan.small:
		nameRoom = min(128, 0.16*b.w)
		lines := wrap(v.title(), 14, true, nameRoom, 2)
		y := mid + 5 - float64(len(lines)-1)*8.5
		for _, line := range lines {
			cv.text(x, y, style{size: 14, bold: true, fill: p.ink}, line)
			y += 17
		}
	default:
		cv.text(x, mid-2, style{size: 20, bold: true, fill: p.ink}, "underload")
		cv.text(x, mid+17, style{size: 13, fill: p.ink2}, shorten(v.title(), 13, false, nameRoom))
	}
	right := v.stripTools(b)
	v.stripLevers(x+nameRoom+16, right-16, mid)
}

// stripTools paints undo, redo, help and the rest at the right, and gives where they begin.
func (v *View) stripTools(b box) float64 {
	h := v.row()
	if h < 40 && !v.plan.small {
		h = 40
	}
	y := b.midY() - h/2
	x, gap := b.right()-16-h, 8.0
	if v.plan.slim {
		x, gap = b.right()-8-h, 2
	}
	tool := func(id, label, off string, do func(), paint func(b box, ink colour)) {
		v.iconButton(control{id: id, label: label, at: box{x, y, h, h}, off: off, do: do}, paint)
		x -= h + gap
	}
	first := len(v.controls)
	tool("more", "More", "", func() { v.toggleMenu("more") }, func(b box, ink colour) { v.dotsSign(b.midX(), b.midY(), ink) })
	tool("help", "Help", "", func() { v.toggleMenu("help") }, func(b box, ink colour) {
		v.canvas.text(b.midX(), middle(b, 17), style{size: 17, bold: true, fill: ink, anchor: drawing.Middle}, "?")
	})
	tool("time", "Let time run, or hold it", "", v.playTime, func(b box, ink colour) { v.playSign(b.midX(), b.midY(), v.clock != nil && v.clock.running, ink) })
	tool("redo", "Redo", empty(len(v.future) == 0, "Nothing to redo"), v.redo, func(b box, ink colour) { v.turnSign(b.midX(), b.midY(), -1, ink) })
	tool("undo", "Undo", empty(len(v.past) == 0, "Nothing to undo"), v.undo, func(b box, ink colour) { v.turnSign(b.midX(), b.midY(), 1, ink) })
	slices.Reverse(v.controls[first:]) // Tab goes from left to right
	return x + h + gap
}

// empty gives a reason where there is one.
func empty(is bool, why string) string {
	if is {
		return why
	}
	return ""
}

// stripLevers sets as many levers side by side as there is room for; the rest go into a menu.
func (v *View) stripLevers(from, to, mid float64) {
	levers := v.levers()
	h := v.row()
	y := mid - h/2
	if !v.plan.small {
		y = mid - h/2 + 8
	}
	ambient := v.ambientWidth()
	menuWide := 132.0
	x := from
	shown := 0
	for i, l := range levers {
		w := v.leverWidth(l)
		after := ambient + 12
		if i < len(levers)-1 {
			after += menuWide + 12
		}
		if v.plan.small && i > 0 || x+w+12+after > to {
			break
		}
		v.lever(l, box{x, y, w, h})
		x += w + 12
		shown++
	}
	if rest := levers[shown:]; len(rest) > 0 {
		w, label := min(menuWide, max(104, to-x-ambient-12)), restLabel(rest, shown)
		if v.plan.slim {
			w, label = min(menuWide, to-x), "Set"
		}
		v.opener("levers", label, "levers", box{x, y, w, h}, nil)
		if !v.plan.small {
			v.heading(x, y-6, fmt.Sprintf("%d more", len(rest)))
		}
		x += w + 12
	}
	if x+ambient <= to+8 {
		v.ambient(box{x, y, ambient, h})
	}
}

func restLabel(rest []lever, shown int) string {
	on := 0
	for _, l := range rest {
		if l.passes() {
			on++
		}
	}
	words := "Switches"
	if on > 0 {
		words = fmt.Sprintf("%d on", on)
	}
	if shown == 0 {
		return "Controls"
	}
	return words
}

// leverWidth is the room a lever asks for.
func (v *View) leverWidth(l lever) float64 {
	if len(l.throws) > 2 {
		return max(segmentsWidth(l.throws), textWidth(l.name+", "+l.part.Place, 13, false))
	}
	longest := 0.0
	for _, t := range l.throws {
		longest = max(longest, textWidth(t, 14, true))
	}
	return max(math.Ceil((46+textWidth(l.name, 14, true)+6+longest)/8)*8, 88)
}

// lever paints one: many positions as a row of choices, two as a button that goes to the other one.
func (v *View) lever(l lever, b box) {
	if len(l.throws) > 2 {
		if !v.plan.small {
			words := l.name
			if l.part.Place != "" {
				words += ", " + l.part.Place
			}
			v.heading(b.x, b.y-6, shorten(words, 13, false, b.w))
		}
		v.segments("set:"+l.name, b, l.throws, l.throws, l.at, nil, func(to string) { v.set(l.name + "=" + to) })
		return
	}
	if !v.plan.small {
		words := l.part.Place
		if l.isAsked {
			words = l.says
		}
		v.heading(b.x, b.y-6, shorten(words, 13, false, b.w))
	}
	v.toggle(l, b)
}

// toggle paints a lever of two positions.
func (v *View) toggle(l lever, b box) {
	c := control{id: "set:" + l.name, label: l.name + " " + l.at, at: b, do: func() { v.set(l.name + "=" + l.next()) }}
	lk := v.control(c)
	on := l.passes()
	p := v.canvas.p
	in, ink := v.plate(b, lk, ordinary)
	if on {
		v.canvas.frame(in, 6, 1, p.accent, p.accentSoft)
		ink = p.ink
	}
	v.bladeSign(in.x+20, in.midY(), on, ink)
	v.canvas.text(in.x+38, middle(in, 14), style{size: 14, bold: true, fill: ink}, l.name)
	v.canvas.text(in.x+38+textWidth(l.name, 14, true)+6, middle(in, 14), style{size: 14, fill: ink}, l.at)
}

func (v *View) ambientWidth() float64 {
	return 2*max(v.row(), 40) + 62
}

// ambientStep is how much one press warms or cools everything, °C.
const ambientStep = 5

// ambient paints the temperature with a button on each side.
func (v *View) ambient(b box) {
	cv, p := &v.canvas, v.canvas.p
	if !v.plan.small {
		v.heading(b.x, b.y-6, "Ambient")
	}
	cv.frame(b, 6, 1, p.line, p.panel)
	side := (b.w - 62) / 2
	now := v.now.ambient(v.c)
	step := func(id, label string, x, by float64, minus bool) {
		v.iconIn(control{id: id, label: label, at: box{x, b.y, side, b.h}, again: true, do: func() {
			v.set(fmt.Sprintf("ambient=%g °C", now+by))
		}}, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), minus, ink) })
	}
	step("colder", "Colder", b.x, -ambientStep, true)
	cv.line(1, p.hair, at(b.x+side+0.5, b.y+8), at(b.x+side+0.5, b.foot()-8))
	cv.line(1, p.hair, at(b.right()-side+0.5, b.y+8), at(b.right()-side+0.5, b.foot()-8))
	cv.text(b.midX(), middle(b, 14), style{size: 14, fill: p.ink, anchor: drawing.Middle}, degrees(now))
	step("warmer", "Warmer", b.right()-side, ambientStep, false)
}

// iconIn paints a sign with a ground only while the pointer is on it.
func (v *View) iconIn(c control, paint func(b box, ink colour)) {
	c.bare = true
	l := v.control(c)
	if l.over {
		v.canvas.frame(c.at.inset(2), 5, 1, v.canvas.p.ink, v.canvas.p.panel)
	}
	paint(c.at, v.canvas.p.ink)
}

func degrees(v float64) string {
	return strings.Replace(fmt.Sprintf("%g\u00a0°C", v), "-", "−", 1)
}

// ambient is the temperature that was set last, or the circuit's own.
func (s *state) ambient(c *circuit.Circuit) float64 {
	celsius := c.AmbientCelsius
	for _, text := range s.setup {
		if rest, ok := strings.CutPrefix(text, "ambient="); ok {
			fmt.Sscanf(rest, "%g", &celsius)
		}
	}
	return celsius
}

// number writes a small count.
func number(n int) string { return fmt.Sprintf("%d", n) }
