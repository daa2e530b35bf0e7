package view

// This file paints the small signs on buttons: plain strokes, our own.

import "underload/ui/drawing"

// sign paints the sign of an instrument around a middle, about 22 px wide.
func (v *View) sign(instrument string, x, y float64, ink colour) {
	cv := &v.canvas
	line := func(spots ...drawing.Spot) { cv.line(1.8, ink, spots...) }
	switch instrument {
	case "volts":
		cv.arc(x, y+5, 11, 200, 340, 1.8, ink)
		line(at(x, y+5), at(x+5, y-4))
		cv.circle(x, y+5, 1.8, 0, 0, ink)
	case "ohms":
		line(at(x-11, y), at(x-8, y), at(x-6, y-5), at(x-2, y+5), at(x+2, y-5), at(x+6, y+5), at(x+8, y), at(x+11, y))
	case "amps":
		line(at(x-12, y), at(x-5, y))
		line(at(x+5, y), at(x+12, y))
		cv.circle(x, y, 5.5, 1.8, ink, 0)
		line(at(x-2.5, y+2.5), at(x+2.5, y-2.5))
	case "clamp":
		cv.arc(x, y-2, 7, -60, 240, 1.8, ink)
		line(at(x-3, y+4.5), at(x-3, y+10))
		line(at(x+3, y+4.5), at(x+3, y+10))
	case "test-lamp":
		v.lampSign(x, y, 6.5, 1.5, ink)
	case "load-lamp":
		v.lampSign(x, y, 8.5, 2.4, ink)
	case "led-light":
		line(at(x-6, y+6), at(x-6, y-6), at(x+4, y), at(x-6, y+6))
		line(at(x+4, y-6), at(x+4, y+6))
		line(at(x+7, y-5), at(x+11, y-9))
		line(at(x+9, y), at(x+13, y-4))
	case "jumper":
		line(at(x-13, y), at(x-7, y))
		line(at(x+7, y), at(x+13, y))
		cv.frame(box{x - 7, y - 4, 14, 8}, 2, 1.8, ink, 0)
		line(at(x-7, y), at(x+7, y))
	case "drag":
		line(at(x-12, y), at(x-2, y))
		line(at(x-2, y-5), at(x+8, y-2))
		line(at(x-2, y+5), at(x+8, y+2))
		line(at(x-9, y-3.5), at(x-12.5, y), at(x-9, y+3.5))
	case "roll-call":
		for i, dy := range []float64{-6, 0, 6} {
			fill := ink
			if i == 1 {
				fill = 0
			}
			cv.circle(x-7, y+dy, 2.2, 1.4, ink, fill)
			line(at(x-2, y+dy), at(x+9, y+dy))
		}
	case "look":
		line(at(x-11, y), at(x-6, y-5), at(x, y-6.5), at(x+6, y-5), at(x+11, y), at(x+6, y+5), at(x, y+6.5), at(x-6, y+5), at(x-11, y))
		cv.circle(x, y, 3, 1.8, ink, 0)
	}
}

func (v *View) lampSign(x, y, r, width float64, ink colour) {
	v.canvas.circle(x, y, r, width, ink, 0)
	d := r * 0.7
	v.canvas.line(width, ink, at(x-d, y-d), at(x+d, y+d))
	v.canvas.line(width, ink, at(x-d, y+d), at(x+d, y-d))
}

// bladeSign is a contact, open or closed.
func (v *View) bladeSign(x, y float64, closed bool, ink colour) {
	v.canvas.circle(x-8, y+3, 1.8, 0, 0, ink)
	v.canvas.circle(x+8, y+3, 1.8, 0, 0, ink)
	tip := at(x+7, y-5)
	if closed {
		tip = at(x+8, y+3)
	}
	v.canvas.line(1.8, ink, at(x-8, y+3), tip)
}

// turnSign is an arrow that bends back, or forward.
func (v *View) turnSign(x, y, way float64, ink colour) {
	v.canvas.line(1.8, ink, at(x-way*6, y-2), at(x+way*2, y-2), at(x+way*6, y+1), at(x+way*6, y+4), at(x+way*3, y+7), at(x-way*1, y+7))
	v.canvas.line(1.8, ink, at(x-way*2, y-6.5), at(x-way*6.5, y-2), at(x-way*2, y+2.5))
}

func (v *View) dotsSign(x, y float64, ink colour) {
	for _, dx := range []float64{-6, 0, 6} {
		v.canvas.circle(x+dx, y, 1.9, 0, 0, ink)
	}
}

func (v *View) plusSign(x, y float64, minus bool, ink colour) {
	v.canvas.line(2, ink, at(x-6, y), at(x+6, y))
	if !minus {
		v.canvas.line(2, ink, at(x, y-6), at(x, y+6))
	}
}

// fitSign is four corners.
func (v *View) fitSign(x, y float64, ink colour) {
	for _, s := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		v.canvas.line(1.8, ink, at(x+s[0]*3, y+s[1]*7), at(x+s[0]*7, y+s[1]*7), at(x+s[0]*7, y+s[1]*3))
	}
}

func (v *View) swapSign(x, y float64, ink colour) {
	for _, s := range []float64{-1, 1} {
		v.canvas.line(1.8, ink, at(x+s*4, y+s*7), at(x+s*4, y-s*7))
		v.canvas.line(1.8, ink, at(x+s*4-3.5, y-s*3), at(x+s*4, y-s*7), at(x+s*4+3.5, y-s*3))
	}
}

// warnSign is a triangle with a bar.
func (v *View) warnSign(x, y float64) {
	p := v.canvas.p
	v.canvas.add(drawing.Shape{Form: drawing.Area, Spots: []drawing.Spot{at(x, y-8), at(x+9, y+7), at(x-9, y+7)}, Stroke: p.alert, Width: 1.6, Fill: 0})
	v.canvas.line(1.8, p.alert, at(x, y-3), at(x, y+2))
	v.canvas.circle(x, y+4.6, 1, 0, 0, p.alert)
}

// leadTag paints the sign of a lead: A solid and pointed, B outlined and notched.
func (v *View) leadTag(lead int, x, y float64) {
	p := v.canvas.p
	s := drawing.Shape{Form: drawing.Area, Width: 2, Stroke: p.accent}
	words, ink := "A", p.accentText
	if lead == 0 {
		s.Spots = []drawing.Spot{at(x, y), at(x+8, y-10), at(x+30, y-10), at(x+30, y+10), at(x+8, y+10)}
		s.Fill = p.accent
	} else {
		words, ink = "B", p.accent
		s.Spots = []drawing.Spot{at(x, y-10), at(x+30, y-10), at(x+30, y+10), at(x, y+10), at(x+7, y)}
	}
	v.canvas.add(s)
	v.canvas.text(x+19, y+5, style{size: 14, bold: true, fill: ink, anchor: drawing.Middle}, words)
}

// mark is the program's own sign: a dashed line that stays level over a stair that does not.
func (v *View) mark(x, y float64) {
	p := v.canvas.p
	v.canvas.dashed(2, p.light, []float64{5, 3}, at(x, y), at(x+24, y))
	v.canvas.line(3.2, p.accent, at(x, y+6), at(x+9, y+6), at(x+9, y+15), at(x+18, y+15), at(x+18, y+25), at(x+28, y+25))
}
