package plot

// This file draws a recording as a scene of plain shapes, which writes itself as SVG.

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"underload/sim/record"
	"underload/ui/drawing"
)

// The colours, which are those of the other pictures to hand over. Each pair of text and ground is at least 4.6:1, and
// no meaning rests on hue alone.
const (
	paper, panel = drawing.Colour(0xFFF6F3EC), drawing.Colour(0xFFFFFFFF)
	hair, frame  = drawing.Colour(0xFFDDD7CA), drawing.Colour(0xFF8A8475)
	ink, ink2    = drawing.Colour(0xFF1D2430), drawing.Colour(0xFF465062)
	trace        = drawing.Colour(0xFF2E3F9E)
	alert        = drawing.Colour(0xFFAB3704)
)

// Sizes, in px.
const (
	ordinaryWidth = 960.0
	leastWidth    = 420.0
	rightMargin   = 26.0
	leftMargin    = 26.0 // of words; panels begin behind the figures of their axes
	laneHeight    = 20.0
	mostFlagLanes = 7
	lineHeight    = 19.0
)

// DrawSVG writes a page as SVG.
func DrawSVG(w io.Writer, p Page) error {
	s := Scene(p)
	return s.WriteSVG(w, p.Title, 0, s.Width)
}

// Scene draws a page.
func Scene(p Page) *drawing.Scene {
	d := &picture{page: p, w: max(leastWidth, p.Width)}
	if p.Width == 0 {
		d.w = ordinaryWidth
	}
	d.from, d.to = p.window()
	d.tagged = Tag(p.Recording.Marks(), d.from, d.to)
	d.gutter()
	d.y = 14
	d.paragraph(p.Title, 20, true, ink, 26)
	d.paragraph(p.Setting, 13, false, ink2, 20)
	d.y += 6
	for c := range p.Recording.Channels() {
		d.channel(c)
	}
	d.axis()
	d.list()
	d.y += 6
	for _, note := range p.Notes {
		d.y += 4
		d.paragraph(note, 12, false, ink2, 17)
	}
	return &drawing.Scene{Width: d.w, Height: math.Ceil(d.y + 18), Ground: paper, Shapes: d.shapes}
}

// picture is a scene while it is drawn.
type picture struct {
	page        Page
	w, y        float64 // y is how far down it is filled
	from, to    float64
	left, right float64 // the sides of the panels
	scales      []scale
	tagged      []Tagged
	shapes      []drawing.Shape
}

func (d *picture) add(s drawing.Shape) { d.shapes = append(d.shapes, s) }

func spot(x, y float64) drawing.Spot { return drawing.Spot{X: x, Y: y} }

// text writes words with their baseline at y.
func (d *picture) text(x, y, size float64, bold bool, fill drawing.Colour, anchor drawing.Anchor, words string) {
	d.add(drawing.Shape{Form: drawing.Text, Spots: []drawing.Spot{spot(x, y)}, Size: size, Bold: bold, Fill: fill, Anchor: anchor, Words: words})
}

func (d *picture) line(stroke drawing.Colour, width float64, dash []float64, spots ...drawing.Spot) {
	d.add(drawing.Shape{Form: drawing.Line, Spots: spots, Stroke: stroke, Width: width, Dash: dash})
}

func (d *picture) rect(x, y, w, h, radius float64, fill, stroke drawing.Colour) {
	d.add(drawing.Shape{Form: drawing.Rect, Spots: []drawing.Spot{spot(x, y), spot(x+w, y+h)}, Radius: radius, Fill: fill, Stroke: stroke, Width: 1})
}

// paragraph sets words line under line across the page.
func (d *picture) paragraph(words string, size float64, bold bool, fill drawing.Colour, leading float64) {
	for _, line := range wrap(words, size, bold, d.w-leftMargin-rightMargin) {
		d.y += leading
		d.text(leftMargin, d.y, size, bold, fill, drawing.Start, line)
	}
}

const axisSize = 12.0

// gutter leaves room for the figures of every axis.
func (d *picture) gutter() {
	most := 24.0
	for c := range d.page.Recording.Channels() {
		s := scaleOf(d.page, c)
		d.scales = append(d.scales, s)
		for _, k := range s.ticks(5) {
			most = max(most, min(110, drawing.Wide(k.words, axisSize, false)))
		}
	}
	d.left, d.right = leftMargin+most+10, d.w-rightMargin
}

// x is where a time stands.
func (d *picture) x(seconds float64) float64 {
	return d.left + (d.right-d.left)*(seconds-d.from)/(d.to-d.from)
}

// height is that of a panel.
func (d *picture) height() float64 {
	return []float64{240, 240, 190, 150, 125}[min(4, len(d.scales))]
}

// channel draws a panel with its heading; the first has the flags of the marks above it.
func (d *picture) channel(c int) {
	d.heading(c)
	if c == 0 {
		d.flags()
	}
	s, top, high := d.scales[c], d.y, d.height()
	if len(s.words) > 0 {
		high = min(high, 26*(s.to-s.from+0.2))
	}
	foot := top + high
	y := func(v float64) float64 { return foot - high*s.share(v) }
	d.rect(d.left, top, d.right-d.left, high, 0, panel, 0)
	for _, k := range s.ticks(int(high / 34)) {
		if k.at < s.from || k.at > s.to {
			continue
		}
		d.line(hair, 1, nil, spot(d.left, y(k.at)), spot(d.right, y(k.at)))
		d.text(d.left-8, y(k.at)+4, axisSize, false, ink2, drawing.End, drawing.Shorten(k.words, axisSize, false, d.left-leftMargin-8))
	}
	ticks, _ := d.ticks()
	for _, k := range ticks {
		d.line(hair, 1, nil, spot(d.x(k.at), top), spot(d.x(k.at), foot))
	}
	for _, m := range d.tagged {
		if m.Done {
			d.line(ink2, 1, []float64{2, 3}, spot(d.x(m.Seconds), top), spot(d.x(m.Seconds), foot))
		}
	}
	for _, l := range d.page.Levels {
		if d.shows(l, c) {
			d.line(alert, 1.2, levelDash, spot(d.left, y(l.Value)), spot(d.right, y(l.Value)))
		}
	}
	d.curve(c, y)
	d.extremes(c, y)
	d.line(frame, 1, nil, spot(d.left, top), spot(d.left, foot), spot(d.right, foot))
	d.y = foot
}

var levelDash = []float64{7, 4}

func (d *picture) shows(l Level, channel int) bool {
	s := d.scales[channel]
	return l.Channel == channel && l.Value > s.from && l.Value < s.to
}

// heading names a channel, the levels drawn in its panel, and its extremes; what does not fit beside goes below.
func (d *picture) heading(c int) {
	ch := d.page.Recording.Channels()[c]
	d.y += 26
	name := ch.Name
	if unit := d.scales[c].unit; unit != "" {
		name += ", " + unit
	}
	name = drawing.Shorten(name, 15, true, d.right-leftMargin)
	d.text(leftMargin, d.y, 15, true, ink, drawing.Start, name)
	x := leftMargin + drawing.Wide(name, 15, true) + 22
	for _, l := range d.page.Levels {
		if !d.shows(l, c) {
			continue
		}
		words := Value(record.Channel{Unit: ch.Unit}, l.Value) + " " + l.Words
		wide := 34 + drawing.Wide(words, 12, false)
		if x+wide > d.right {
			x, d.y = leftMargin, d.y+17
		}
		d.line(alert, 1.2, levelDash, spot(x, d.y-4), spot(x+28, d.y-4))
		d.text(x+34, d.y, 12, false, ink2, drawing.Start, drawing.Shorten(words, 12, false, d.right-x-34))
		x += wide + 22
	}
	if told := d.reached(c); told != "" {
		if x+drawing.Wide(told, 12, false) > d.right {
			d.y += 17
		}
		d.text(d.right, d.y, 12, false, ink2, drawing.End, drawing.Shorten(told, 12, false, d.right-leftMargin))
	}
	d.y += 8
}

// reached says how far a channel went, and when.
func (d *picture) reached(c int) string {
	ch := d.page.Recording.Channels()[c]
	m, ok := d.page.Recording.Measure(c, d.from, d.to)
	if !ok || len(ch.Words) > 0 {
		return ""
	}
	span := d.to - d.from
	return fmt.Sprintf("least %s at %s, most %s at %s", Value(ch, m.Min), Time(m.MinSeconds, span), Value(ch, m.Max), Time(m.MaxSeconds, span))
}

// mostRows is how many rows are drawn one by one; of more, each px shows the extremes.
const mostRows = 1200

// curve draws what a channel did.
func (d *picture) curve(c int, y func(float64) float64) {
	r := d.page.Recording
	part := r.Part(d.from, d.to)
	if part.Rows() == 0 {
		return
	}
	if part.Rows() <= mostRows {
		var line path
		for i := range part.Rows() {
			line.lead(spot(d.x(part.Seconds(i)), y(part.Value(i, c))))
		}
		d.add(drawing.Shape{Form: drawing.Line, Spots: line.spots, Stroke: trace, Width: 1.8, Round: true})
		return
	}
	n := int(d.right - d.left)
	var over, under path
	for k, col := range columns(r, c, d.from, d.to, n) {
		if col.ok {
			x := d.left + (d.right-d.left)*(float64(k)+0.5)/float64(n)
			over.lead(spot(x, y(col.high)))
			under.lead(spot(x, y(col.low)))
		}
	}
	slices.Reverse(under.spots)
	d.add(drawing.Shape{Form: drawing.Area, Spots: append(over.spots, under.spots...), Fill: trace, Stroke: trace, Width: 1.4})
}

// path is a line of few spots that passes every spot it was led to, as far as can be seen.
type path struct {
	spots []drawing.Spot
	left  []drawing.Spot // out since the last spot but one
}

// lead takes the line on to a spot, and leaves out the last one if all that has been left out lies on the way.
func (l *path) lead(to drawing.Spot) {
	const most = 40
	n := len(l.spots)
	if n < 2 || len(l.left) == most || !between(l.spots[n-2], to, append(l.left, l.spots[n-1])) {
		l.spots, l.left = append(l.spots, to), l.left[:0]
		return
	}
	l.left = append(l.left, l.spots[n-1])
	l.spots[n-1] = to
}

// between reports whether spots lie on the straight way from one to another, as far as can be seen.
func between(from, to drawing.Spot, all []drawing.Spot) bool {
	const seen = 0.06 // px
	dx, dy := to.X-from.X, to.Y-from.Y
	far := math.Hypot(dx, dy)
	for _, at := range all {
		x, y := at.X-from.X, at.Y-from.Y
		if along := x*dx + y*dy; along < 0 || along > far*far || math.Abs(x*dy-y*dx) > seen*far {
			return false
		}
	}
	return true
}

// extremes rings the smallest and the largest value, where they are worth a look.
func (d *picture) extremes(c int, y func(float64) float64) {
	m, ok := d.page.Recording.Measure(c, d.from, d.to)
	if !ok || len(d.scales[c].words) > 0 || math.Abs(y(m.Min)-y(m.Max)) < 14 {
		return
	}
	for _, at := range []drawing.Spot{spot(d.x(m.MinSeconds), y(m.Min)), spot(d.x(m.MaxSeconds), y(m.Max))} {
		d.add(drawing.Shape{Form: drawing.Circle, Spots: []drawing.Spot{at}, Radius: 4, Stroke: alert, Width: 1.5})
	}
}

func (d *picture) ticks() ([]tick, string) {
	return timeTicks(d.from, d.to, int((d.right-d.left)/80))
}

// axis writes the times below the last panel.
func (d *picture) axis() {
	ticks, unit := d.ticks()
	free := 0.0
	end := d.right - drawing.Wide(unit, axisSize, true) - 8
	for _, k := range ticks {
		x, half := d.x(k.at), drawing.Wide(k.words, axisSize, false)/2
		d.line(frame, 1, nil, spot(x, d.y), spot(x, d.y+5))
		if x-half < free || x+half > end {
			continue
		}
		d.text(x, d.y+19, axisSize, false, ink2, drawing.Middle, k.words)
		free = x + half + 6
	}
	d.text(d.right, d.y+19, axisSize, true, ink2, drawing.End, unit)
	d.y += 28
}

// wrap breaks words at plain spaces into lines no wider than room.
func wrap(words string, size float64, bold bool, room float64) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(words, " ") {
		if word == "" {
			continue
		}
		word = drawing.Shorten(word, size, bold, room)
		switch {
		case line == "":
			line = word
		case drawing.Wide(line+" "+word, size, bold) > room:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
