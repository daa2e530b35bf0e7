package view

// This file is the bar of time, over the panel while time is on the circuit: back, run, step, slower, faster, the clock,
// and what was noticed last.

import (
	"fmt"
	"math"

	"underload/ui/drawing"
)

// barRoom is how high it is.
func (v *View) barRoom() float64 { return v.target() + 8 }

// panelBox is the panel at the foot, as far as the bar of time leaves it.
func (v *View) panelBox() box {
	b := v.plan.panel
	if v.clock != nil {
		b.y += v.barRoom()
		b.h -= v.barRoom()
	}
	return b
}

func (v *View) timeBar() {
	c := v.clock
	if c == nil {
		return
	}
	cv, p := &v.canvas, v.canvas.p
	b := v.plan.panel
	b.h = v.barRoom()
	cv.fill(b, 0, p.panel)
	v.rule(b.x, b.right(), b.y)
	size := v.target()
	x, y := b.x+8, b.y+4
	put := func(w float64) box {
		at := box{x, y, w, size}
		x += w + 4
		return at
	}
	atStart := empty(c.run.Seconds() == 0, "Time stands at its beginning")
	v.iconButton(control{id: "time-back", label: "Back by " + v.stepWords(), at: put(size), off: atStart, again: true, do: func() { v.stepTime(-1) }}, func(b box, ink colour) { v.stepSign(b.midX(), b.midY(), -1, ink) })
	label := "Let time run"
	if c.running {
		label = "Hold time"
	}
	v.iconButton(control{id: "time-play", label: label, at: put(size + 16), on: c.running, do: v.playTime}, func(b box, ink colour) { v.playSign(b.midX(), b.midY(), c.running, ink) })
	v.iconButton(control{id: "time-step", label: "On by " + v.stepWords(), at: put(size), again: true, do: func() { v.stepTime(1) }}, func(b box, ink colour) { v.stepSign(b.midX(), b.midY(), 1, ink) })
	if !v.plan.slim {
		x += 8
	}
	v.iconButton(control{id: "time-slower", label: "Slower", at: put(size), off: empty(c.pace == 0, "Time runs as slowly as it can"), do: func() { v.setPace(-1) }}, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), true, ink) })
	mid := put(72)
	if v.plan.slim { // the clock has no room of its own
		cv.text(mid.midX(), mid.midY()-2, style{size: 13, bold: true, fill: p.ink, anchor: drawing.Middle}, shorten(c.timeWords(), 13, true, mid.w))
		cv.text(mid.midX(), mid.midY()+14, style{size: 12, fill: p.ink2, anchor: drawing.Middle}, paces[c.pace].words)
	} else {
		cv.text(mid.midX(), middle(mid, 14), style{size: 14, bold: true, fill: p.ink, anchor: drawing.Middle}, paces[c.pace].words)
	}
	v.iconButton(control{id: "time-faster", label: "Faster", at: put(size), off: empty(c.pace == len(paces)-1, "Time runs as fast as it can"), do: func() { v.setPace(1) }}, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), false, ink) })
	if v.plan.slim {
		v.closeTime(box{b.right() - 4 - size, y, size, size})
		return
	}
	x += 8
	words := c.timeWords()
	cv.text(x, middle(box{x, y, 0, size}, 17), style{size: 17, bold: true, fill: p.ink}, words)
	x += max(92, textWidth(words, 17, true)+16)
	rest := box{b.right() - 8 - 84, y, 84, size}
	v.button(control{id: "time-rest", label: "At rest", at: rest, do: v.stopTime}, ordinary)
	v.lastCue(box{x, y, rest.x - 12 - x, size})
}

// closeTime is At rest as a sign.
func (v *View) closeTime(b box) {
	v.iconButton(control{id: "time-rest", label: "At rest", at: b, do: v.stopTime}, func(c box, ink colour) {
		v.canvas.line(2, ink, at(c.midX()-6, c.midY()-6), at(c.midX()+6, c.midY()+6))
		v.canvas.line(2, ink, at(c.midX()-6, c.midY()+6), at(c.midX()+6, c.midY()-6))
	})
}

// stepWords is how far a step goes.
func (v *View) stepWords() string {
	seconds := frameSeconds * paces[v.clock.pace].rate
	switch {
	case seconds < 1e-3:
		return fmt.Sprintf("%g\u00a0µs", math.Round(seconds*1e6))
	case seconds < 1:
		return fmt.Sprintf("%g\u00a0ms", math.Round(seconds*1e3))
	}
	return fmt.Sprintf("%g\u00a0s", seconds)
}

// lastCue is what was noticed last, and when.
func (v *View) lastCue(b box) {
	p := v.canvas.p
	if b.w < 90 {
		return
	}
	cues := v.clock.run.Cues()
	if len(cues) == 0 {
		v.canvas.text(b.x, middle(b, 13), style{size: 13, fill: p.ink2}, shorten("Nothing is noticed yet.", 13, false, b.w))
		return
	}
	last := cues[len(cues)-1]
	v.canvas.text(b.x, b.midY()-2, style{size: 14, bold: true, fill: p.ink}, shorten(last.Says, 14, true, b.w))
	when := "at " + v.when(last.Seconds)
	if len(cues) > 1 {
		when += ", before it: " + cues[len(cues)-2].Says
	}
	v.canvas.text(b.x, b.midY()+15, style{size: 12, fill: p.ink2}, shorten(when, 12, false, b.w))
}

// when is an instant in words, to the millisecond within the first minutes.
func (v *View) when(seconds float64) string {
	switch {
	case seconds < 100:
		return fmt.Sprintf("%.3f\u00a0s", seconds)
	case seconds < 7200:
		return fmt.Sprintf("%.0f\u00a0min %04.1f\u00a0s", math.Floor(seconds/60), math.Mod(seconds, 60))
	}
	return fmt.Sprintf("%.0f\u00a0h %02.0f\u00a0min", math.Floor(seconds/3600), math.Floor(math.Mod(seconds, 3600)/60))
}

// clockWords is a time as a clock shows it: minutes, seconds, and so many decimals.
func clockWords(seconds float64, digits int) string {
	hours, minutes := math.Floor(seconds/3600), math.Floor(math.Mod(seconds, 3600)/60)
	wide := 2
	if digits > 0 {
		wide = 3 + digits
	}
	words := fmt.Sprintf("%02.0f:%0*.*f", minutes, wide, digits, math.Mod(seconds, 60))
	if hours > 0 {
		words = fmt.Sprintf("%.0f:%s", hours, words)
	}
	return words
}

// playSign is a triangle, or two bars.
func (v *View) playSign(x, y float64, running bool, ink colour) {
	if running {
		v.canvas.fill(box{x - 6, y - 7, 4, 14}, 1, ink)
		v.canvas.fill(box{x + 2, y - 7, 4, 14}, 1, ink)
		return
	}
	v.canvas.area(ink, at(x-5, y-8), at(x+8, y), at(x-5, y+8))
}

// stepSign is a triangle with a bar, forwards or back.
func (v *View) stepSign(x, y, way float64, ink colour) {
	v.canvas.area(ink, at(x-way*6, y-7), at(x+way*4, y), at(x-way*6, y+7))
	v.canvas.line(2.4, ink, at(x+way*7, y-7), at(x+way*7, y+7))
}
