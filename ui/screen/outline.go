package screen

// This file turns the forms of a drawing into lines of places, in pixels of the device.

import (
	"math"

	"underload/ui/drawing"
)

// arcSteps is how many straight pieces stand for a part of a circle so that none is a twentieth of a pixel off.
func arcSteps(radius, angle float64) int {
	if radius < 0.5 {
		return 4
	}
	return max(2, int(math.Ceil(math.Abs(angle)/(2*math.Acos(1-min(0.05/radius, 0.5))))))
}

// arc is a part of a circle; angles in radians, clockwise from the right.
func arc(middle pt, radius, from, to float64) []pt {
	steps := arcSteps(radius, to-from)
	line := make([]pt, steps+1)
	for i := range line {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(steps))
		line[i] = pt{middle.x + radius*cos, middle.y + radius*sin}
	}
	return line
}

func circle(middle pt, radius float64) []pt {
	if radius <= 0 {
		return nil
	}
	round := arc(middle, radius, 0, 2*math.Pi)
	return round[:len(round)-1]
}

// rectangle has its corners rounded by a radius.
func rectangle(a, b pt, radius float64) []pt {
	left, right, top, bottom := min(a.x, b.x), max(a.x, b.x), min(a.y, b.y), max(a.y, b.y)
	radius = min(radius, (right-left)/2, (bottom-top)/2)
	if radius <= 0 {
		return []pt{{left, top}, {right, top}, {right, bottom}, {left, bottom}}
	}
	var line []pt
	for i, middle := range []pt{{right - radius, top + radius}, {right - radius, bottom - radius}, {left + radius, bottom - radius}, {left + radius, top + radius}} {
		line = append(line, arc(middle, radius, float64(i-1)*math.Pi/2, float64(i)*math.Pi/2)...)
	}
	return line
}

// rounded is a line whose corners are curves that begin a radius before the corner, half a straight at most. It is the
// same curve that the drawing has as SVG.
func rounded(line []pt, radius float64) []pt {
	if radius <= 0 || len(line) < 3 {
		return line
	}
	curve := []pt{line[0]}
	for i := 1; i < len(line)-1; i++ {
		at := line[i]
		before, after := near(at, line[i-1], radius), near(at, line[i+1], radius)
		steps := arcSteps(radius, math.Pi/2)
		for k := range steps + 1 {
			t := float64(k) / float64(steps)
			curve = append(curve, before.between(at, t).between(at.between(after, t), t))
		}
	}
	return append(curve, line[len(line)-1])
}

func near(from, to pt, by float64) pt {
	far := math.Abs(to.x-from.x) + math.Abs(to.y-from.y)
	if far == 0 {
		return from
	}
	return from.between(to, min(by, far/2)/far)
}

// outline is the line of a shape, and whether it comes back to its begin.
func outline(s drawing.Shape, scale float64) (line []pt, closed bool) {
	at := make([]pt, len(s.Spots))
	for i, spot := range s.Spots {
		at[i] = pt{spot.X * scale, spot.Y * scale}
	}
	radius := s.Radius * scale
	switch {
	case s.Form == drawing.Line:
		return rounded(at, radius), false
	case s.Form == drawing.Area:
		return at, true
	case s.Form == drawing.Rect && len(at) == 2:
		return rectangle(at[0], at[1], radius), true
	case s.Form == drawing.Circle && len(at) == 1:
		return circle(at[0], radius), true
	case s.Form == drawing.Arc && len(at) == 1:
		return arc(at[0], radius, s.From*math.Pi/180, s.To*math.Pi/180), false
	}
	return nil, false
}
