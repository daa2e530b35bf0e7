package view

// This file paints: rectangles, lines, words. Everything on the screen goes through here.

import (
	"math"
	"strings"

	"underload/ui/drawing"
)

// box is a rectangle, px from the top left corner of the window.
type box struct{ x, y, w, h float64 }

func (b box) right() float64 { return b.x + b.w }
func (b box) foot() float64  { return b.y + b.h }
func (b box) midX() float64  { return b.x + b.w/2 }
func (b box) midY() float64  { return b.y + b.h/2 }

func (b box) holds(x, y float64) bool {
	return x >= b.x && x < b.right() && y >= b.y && y < b.foot()
}

func (b box) overlaps(o box) bool {
	return b.x < o.right() && o.x < b.right() && b.y < o.foot() && o.y < b.foot()
}

// inset is the box made smaller all round.
func (b box) inset(by float64) box { return box{b.x + by, b.y + by, b.w - 2*by, b.h - 2*by} }

func at(x, y float64) drawing.Spot { return drawing.Spot{X: x, Y: y} }

// canvas gathers shapes in painting order.
type canvas struct {
	p      *palette
	shapes []drawing.Shape
}

func (c *canvas) add(s drawing.Shape) { c.shapes = append(c.shapes, s) }

// fill paints a rectangle.
func (c *canvas) fill(b box, radius float64, fill colour) {
	c.add(drawing.Shape{Form: drawing.Rect, Spots: []drawing.Spot{at(b.x, b.y), at(b.right(), b.foot())}, Radius: radius, Fill: fill})
}

// frame paints a rectangle with an edge of some width, which lies within the box.
func (c *canvas) frame(b box, radius, width float64, stroke, fill colour, dash ...float64) {
	in := b.inset(width / 2)
	c.add(drawing.Shape{Form: drawing.Rect, Spots: []drawing.Spot{at(in.x, in.y), at(in.right(), in.foot())}, Radius: radius,
		Stroke: stroke, Width: width, Fill: fill, Dash: dash})
}

func (c *canvas) line(width float64, stroke colour, spots ...drawing.Spot) {
	c.add(drawing.Shape{Form: drawing.Line, Spots: spots, Stroke: stroke, Width: width})
}

func (c *canvas) dashed(width float64, stroke colour, dash []float64, spots ...drawing.Spot) {
	c.add(drawing.Shape{Form: drawing.Line, Spots: spots, Stroke: stroke, Width: width, Dash: dash})
}

func (c *canvas) area(fill colour, spots ...drawing.Spot) {
	c.add(drawing.Shape{Form: drawing.Area, Spots: spots, Fill: fill})
}

func (c *canvas) circle(x, y, r, width float64, stroke, fill colour) {
	c.add(drawing.Shape{Form: drawing.Circle, Spots: []drawing.Spot{at(x, y)}, Radius: r, Width: width, Stroke: stroke, Fill: fill})
}

func (c *canvas) arc(x, y, r, from, to, width float64, stroke colour) {
	c.add(drawing.Shape{Form: drawing.Arc, Spots: []drawing.Spot{at(x, y)}, Radius: r, From: from, To: to, Width: width, Stroke: stroke})
}

// style is how words are set.
type style struct {
	size   float64
	bold   bool
	fill   colour
	anchor drawing.Anchor
}

// text writes one line of words with its baseline at y, on whole px.
func (c *canvas) text(x, y float64, s style, words string) {
	if words == "" {
		return
	}
	words = strings.ReplaceAll(words, "\u202f", "\u00a0") // the faces have no thin space
	c.add(drawing.Shape{Form: drawing.Text, Spots: []drawing.Spot{at(math.Round(x), math.Round(y))}, Words: words, Size: s.size, Bold: s.bold,
		Fill: s.fill, Anchor: s.anchor})
}

// middle is the baseline that sets words of a size in the middle of a box.
func middle(b box, size float64) float64 { return b.midY() + 0.36*size }

// lines writes words in lines and gives the y below them.
func (c *canvas) lines(b box, s style, leading float64, most int, words string) float64 {
	y := b.y
	for _, line := range wrap(words, s.size, s.bold, b.w, most) {
		c.text(b.x, y+0.5*leading+0.36*s.size, s, line)
		y += leading
	}
	return y
}

// textBox is the room that a shape of words takes.
func textBox(s drawing.Shape) box {
	w := textWidth(s.Words, s.Size, s.Bold)
	x := s.Spots[0].X
	switch s.Anchor {
	case drawing.Middle:
		x -= w / 2
	case drawing.End:
		x -= w
	}
	return box{x, s.Spots[0].Y - 0.8*s.Size, w, s.Size}
}
