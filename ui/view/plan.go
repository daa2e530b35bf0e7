package view

// This file divides the window: a strip at the top, the drawing below it, a panel at the foot, the bench at the right.

import "math"

// plan is where everything is, px of the composed picture, which is then magnified.
type plan struct {
	magnify       float64 // from composed px to px of the window
	width, height float64
	strip         box
	area          box // the drawing
	rail          box // beside the drawing: zoom and sheets
	panel         box // tabs and staircase
	bench         box
	small         bool // under 1280 px: labels go, rows become menus
	narrow        bool // under 960 px: the bench is a drawer over the rest
	slim          bool // under 600 px: a telephone
	low           bool // under 700 px: the panel is low
}

// The window from which everything is magnified, so that a large screen shows no small print.
const (
	largeWidth, largeHeight = 1600.0, 900.0
	smallWidth              = 1280.0
	narrowWidth             = 960.0
	slimWidth               = 600.0
	lowHeight               = 700.0
)

// planFor divides a window.
func planFor(width, height float64) plan {
	p := plan{magnify: max(1, math.Floor(4*min(width/largeWidth, height/largeHeight))/4)}
	p.width, p.height = math.Floor(width/p.magnify), math.Floor(height/p.magnify)
	p.small, p.narrow, p.slim, p.low = p.width < smallWidth, p.width < narrowWidth, p.width < slimWidth, p.height < lowHeight
	top, side, foot := 68.0, 368.0, 316.0
	if p.small {
		top, side = 56, min(296, p.width-44)
	}
	switch {
	case p.low:
		foot = 212
	case p.height < 800:
		foot = 248
	case p.height > 950:
		foot = 330
	}
	p.strip = box{0, 0, p.width, top}
	p.bench = box{p.width - side, top, side, p.height - top}
	if p.narrow {
		side = 0
	}
	p.panel = box{0, p.height - foot, p.width - side, foot}
	rail := 60.0
	if p.small {
		rail = 56
	}
	p.area = box{0, top, p.width - side - rail, p.height - top - foot}
	p.rail = box{p.area.right(), top, rail, p.area.h}
	return p
}
