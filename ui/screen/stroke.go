package screen

// This file makes triangles of strokes: joins, ends and dashes.

import "math"

// pen is how a line is drawn.
type pen struct {
	width float64 // in pixels of the device
	of    ink
	round bool      // ends
	dash  []float64 // on, off, on, ... in pixels of the device
}

// stroke draws a line through places, or around them.
func (m *mesh) stroke(line []pt, closed bool, with pen) {
	if with.of.a == 0 || with.width <= 0 {
		return
	}
	line = distinct(line, closed)
	if len(line) == 1 && with.round {
		m.polygon(circle(line[0], with.width/2), with.of)
	}
	if len(line) < 2 {
		return
	}
	if with.width < 1 { // thinner than a pixel: as wide as one, and paler
		with.of, with.width = with.of.faded(with.width), 1
	}
	if len(with.dash) == 0 {
		m.strip(line, closed && len(line) > 2, with)
		return
	}
	if closed {
		line = append(line, line[0])
	}
	for _, piece := range dashes(line, with.dash) {
		m.strip(piece, false, with)
	}
}

// bend is the least cosine between two pieces of a line that are joined with a point; sharper ones are joined round.
const bend = -0.2

// strip draws a line without dashes, cut where it turns sharply.
func (m *mesh) strip(line []pt, closed bool, with pen) {
	n := len(line)
	from := 0
	for i := 1; i < n-1; i++ {
		if line[i-1].towards(line[i]).dot(line[i].towards(line[i+1])) < bend {
			m.ribbon(line[from:i+1], false, with)
			m.polygon(circle(line[i], with.width/2), with.of)
			from = i
		}
	}
	if from > 0 && closed {
		m.ribbon(append(append([]pt{}, line[from:]...), line[0]), false, with)
		return
	}
	m.ribbon(line[from:], closed, with)
}

// ribbon draws a line that never turns sharply: across it four rows of corners, clear, full, full and clear.
func (m *mesh) ribbon(line []pt, closed bool, with pen) {
	n := len(line)
	if n < 2 {
		return
	}
	half := with.width / 2
	rows := make([][4]uint32, 0, n+2)
	across := func(at, side pt, of ink) {
		rows = append(rows, [4]uint32{
			m.vertex(at.plus(side.times(half+feather)), ink{}),
			m.vertex(at.plus(side.times(half-feather)), of),
			m.vertex(at.minus(side.times(half-feather)), of),
			m.vertex(at.minus(side.times(half+feather)), ink{}),
		})
	}
	for i, at := range line {
		switch {
		case closed || i > 0 && i < n-1:
			across(at, corner(line[(i+n-1)%n], at, line[(i+1)%n]), with.of)
		case i == 0:
			along := at.towards(line[1])
			across(at.minus(along.times(feather)), along.left(), ink{})
			across(at.plus(along.times(min(feather, at.minus(line[1]).length()/2))), along.left(), with.of)
		default:
			along := line[i-1].towards(at)
			across(at.minus(along.times(min(feather, at.minus(line[i-1]).length()/2))), along.left(), with.of)
			across(at.plus(along.times(feather)), along.left(), ink{})
		}
	}
	if closed {
		rows = append(rows, rows[0])
	}
	for i := 1; i < len(rows); i++ {
		for k := range 3 {
			m.quad(rows[i-1][k], rows[i-1][k+1], rows[i][k], rows[i][k+1])
		}
	}
	if with.round && !closed {
		m.polygon(halfDisc(line[0], line[1].towards(line[0]), half), with.of)
		m.polygon(halfDisc(line[n-1], line[n-2].towards(line[n-1]), half), with.of)
	}
}

// halfDisc is half a disc at the end of a line that runs out in a direction; it reaches back into the line as far as the
// line's own end fades.
func halfDisc(at, out pt, radius float64) []pt {
	side := out.left()
	outline := []pt{at.minus(out.times(2 * feather)).minus(side.times(radius)), at.minus(out.times(2 * feather)).plus(side.times(radius))}
	steps := arcSteps(radius, math.Pi)
	for i := range steps + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(steps))
		outline = append(outline, at.plus(side.times(radius*cos)).plus(out.times(radius*sin)))
	}
	return outline
}

// dashes cuts a line into its dashes.
func dashes(line []pt, pattern []float64) [][]pt {
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	if total < 0.5 { // nobody could see them
		return [][]pt{line}
	}
	var cut [][]pt
	k, left, on := 0, pattern[0], true
	piece := []pt{line[0]}
	for i := 1; i < len(line); i++ {
		at, end := line[i-1], line[i]
		length := end.minus(at).length()
		gone := 0.0
		for length-gone > left {
			gone += left
			here := at.between(end, gone/length)
			if on {
				cut = append(cut, append(piece, here))
			}
			on = !on
			k = (k + 1) % len(pattern)
			left = pattern[k]
			piece = []pt{here}
		}
		left -= length - gone
		piece = append(piece, end)
	}
	if on {
		cut = append(cut, piece)
	}
	whole := cut[:0]
	for _, piece := range cut {
		if piece = distinct(piece, false); len(piece) > 1 {
			whole = append(whole, piece)
		}
	}
	return whole
}
