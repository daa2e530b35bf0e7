package view

// This file is the drawing in its area: where it has been moved to, what of it is seen, and what the pointer is over.

import (
	"math"
	"strings"

	"underload/ui/drawing"
)

// area is how the drawing lies in its room.
type area struct {
	zoom       float64
	panX, panY float64        // px of the room, of the drawing's left top corner
	strip      *drawing.Scene // as laid out, for what is shown now
}

// The limits of zooming.
const leastZoom, mostZoom = 0.6, 2.5

// smallestText is the size below which no words are set, whatever the zoom.
const smallestText = 12.0

const idDrawing = "drawing"

// strip is the drawing as laid out, painted for what is shown now.
func (v *View) strip() *drawing.Scene {
	v.layOut()
	if v.area.strip == nil {
		sh := v.now.live.showing
		sh.Theme = v.theme
		sh.Levels, sh.Lit = v.easing.levels, v.easing.lit
		v.area.strip = v.lay.Scene(sh)
		if v.anew {
			v.anew = false
			v.fitNearly()
		}
	}
	return v.area.strip
}

// fitNearly shows a drawing that was just laid out whole, where it is only a little taller than its room.
func (v *View) fitNearly() {
	const nearly = 0.88
	if share := v.plan.area.h / (v.area.strip.Height * v.area.zoom); share < 1 && share > nearly {
		v.area.zoom *= share
	}
}

// toWindow and toStrip turn places of the drawing into places of the window and back.
func (v *View) toWindow(s drawing.Spot) (x, y float64) {
	a := v.plan.area
	return a.x + v.area.panX + s.X*v.area.zoom, a.y + v.area.panY + s.Y*v.area.zoom
}

func (v *View) toStrip(x, y float64) drawing.Spot {
	a := v.plan.area
	return at((x-a.x-v.area.panX)/v.area.zoom, (y-a.y-v.area.panY)/v.area.zoom)
}

// keepInside keeps some of the drawing in its room: where it is smaller than the room it does not move at all.
func (v *View) keepInside() {
	a, s := v.plan.area, v.strip()
	limit := func(pan, room, size float64) float64 {
		if size <= room {
			return math.Round((room - size) / 2)
		}
		return math.Round(min(0, max(pan, room-size)))
	}
	v.area.panX = limit(v.area.panX, a.w, s.Width*v.area.zoom)
	v.area.panY = limit(v.area.panY, a.h, s.Height*v.area.zoom)
}

// zoomBy magnifies around a place of the window.
func (v *View) zoomBy(by, x, y float64) {
	before := v.toStrip(x, y)
	v.area.zoom = min(max(v.area.zoom*by, leastZoom), mostZoom)
	nx, ny := v.toWindow(before)
	v.area.panX += x - nx
	v.area.panY += y - ny
	v.keepInside()
	v.dirty = true
}

// fit shows the whole sheet.
func (v *View) fit() {
	s, a := v.strip(), v.plan.area
	v.area.zoom = min(v.baseZoom(), max(leastZoom, a.h/s.Height))
	v.keepInside()
	v.dirty = true
}

// sheet is the sheet in the middle of the room, from 0.
func (v *View) sheet() int {
	middle := v.toStrip(v.plan.area.midX(), 0).X / v.lay.Zoom
	for i, s := range v.lay.Sheets {
		if middle < float64(s.To) {
			return i
		}
	}
	return len(v.lay.Sheets) - 1
}

// goToSheet shows a sheet.
func (v *View) goToSheet(n int) {
	n = max(0, min(n, len(v.lay.Sheets)-1))
	v.area.zoom = v.baseZoom()
	v.area.panX = -float64(v.lay.Sheets[n].From) * v.lay.Zoom * v.area.zoom
	v.keepInside()
	v.dirty = true
}

// reveal brings a point into sight.
func (v *View) reveal(name string) {
	a := v.plan.area
	for _, h := range v.strip().Hits {
		if h.Kind != drawing.OnPoint || h.Name != name {
			continue
		}
		x, y := v.toWindow(h.At)
		if !a.inset(24).holds(x, y) {
			v.area.panX += a.midX() - x
			v.area.panY += a.midY() - y
			v.keepInside()
		}
		break // a stud may be drawn twice
	}
	v.dirty = true
}

func (v *View) drawingArea() {
	a := v.plan.area
	v.controls = append(v.controls, control{id: idDrawing, label: "Drawing: " + v.title(), at: a, keys: v.drawingKey})
	v.keepInside()
	s := v.strip()
	v.halo()
	start := len(v.canvas.shapes)
	for i := range s.Shapes {
		if sh, seen := v.placed(&s.Shapes[i]); seen {
			v.canvas.add(sh)
		}
	}
	if v.area.zoom < 1 {
		v.thinWords(start)
	}
	taken := append(v.takenRoom(), v.instrumentInCircuit()...)
	taken = v.leadTags(taken)
	taken = v.ampereTags(taken)
	v.timeTags(taken)
	v.markPoint()
}

// placed moves a shape of the drawing to its place in the window; seen is false where it is out of sight.
func (v *View) placed(s *drawing.Shape) (drawing.Shape, bool) {
	a, z := v.plan.area, v.area.zoom
	dx, dy := a.x+v.area.panX, a.y+v.area.panY
	out := *s
	out.Spots = make([]drawing.Spot, len(s.Spots))
	left, right, top, foot := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i, spot := range s.Spots {
		x, y := dx+spot.X*z, dy+spot.Y*z
		out.Spots[i] = drawing.Spot{X: x, Y: y}
		left, right, top, foot = min(left, x), max(right, x), min(top, y), max(foot, y)
	}
	reach := s.Radius*z + s.Width*z/2 + 2
	if s.Form == drawing.Text {
		reach = 12*float64(len(s.Words))*z + 16
	}
	if right+reach < a.x || left-reach > a.right() || foot+reach < a.y || top-reach > a.foot() {
		return out, false
	}
	if z == 1 {
		return out, true
	}
	out.Radius, out.Width, out.Size = s.Radius*z, s.Width*z, s.Size*z
	if len(s.Dash) > 0 {
		out.Dash = make([]float64, len(s.Dash))
		for i, d := range s.Dash {
			out.Dash[i] = d * z
		}
	}
	return out, true
}

// thinWords sets small words at the smallest size, and leaves out those that would then stand on others: second lines
// first.
func (v *View) thinWords(start int) {
	shapes := v.canvas.shapes[start:]
	var kept []box
	drop := map[int]bool{}
	for _, bold := range []bool{true, false} {
		for i := range shapes {
			s := &shapes[i]
			if s.Form != drawing.Text || s.Bold != bold {
				continue
			}
			s.Size = max(s.Size, smallestText)
			b := textBox(*s).inset(-1)
			for _, other := range kept {
				if other.overlaps(b) {
					drop[i] = true
					break
				}
			}
			if !drop[i] {
				kept = append(kept, b)
			}
		}
	}
	left := shapes[:0]
	for i, s := range shapes {
		if !drop[i] {
			left = append(left, s)
		}
	}
	v.canvas.shapes = v.canvas.shapes[:start+len(left)]
}

// hitAt is what of the drawing lies under a place of the window. Targets do not shrink with the drawing.
func (v *View) hitAt(x, y float64, touch bool) (pick, bool) {
	spot := v.toStrip(x, y)
	least := 36.0
	if touch || v.o.Touch {
		least = 44
	}
	least /= v.area.zoom
	best, found, far := pick{}, false, 0.0
	for _, h := range v.strip().Hits {
		w, t := h.W, h.H
		switch h.Kind {
		case drawing.OnPoint:
			w, t = max(w, least), max(t, least)
		case drawing.OnWire:
			w, t = max(w, least/3), max(t, least/3)
		}
		dx, dy := math.Abs(spot.X-h.At.X), math.Abs(spot.Y-h.At.Y)
		if dx > w/2 || dy > t/2 {
			continue
		}
		d := dx*dx + dy*dy + 1e6*float64(h.Kind)
		if h.Kind == drawing.OnPart && w*t > 6000 { // a large box is hit where nothing smaller is
			d += 1e7
		}
		if !found || d < far {
			best, found, far = pick{h.Kind, h.Name}, true, d
		}
	}
	if found && best.kind == drawing.OnPoint {
		return best, true
	}
	if name := v.gaugeAt(spot); name != "" {
		return pick{drawing.OnPoint, name}, true
	}
	return best, found
}

// gaugeAt is the point whose gauge is at a place of the drawing: to press a gauge is to press its point.
func (v *View) gaugeAt(spot drawing.Spot) string {
	for i := range v.strip().Shapes {
		s := &v.strip().Shapes[i]
		if s.Form != drawing.Rect || s.Of == "" || len(s.Spots) != 2 || !v.hasGauge(s.Of) {
			continue
		}
		a, b := s.Spots[0], s.Spots[1]
		if spot.X >= a.X && spot.X <= b.X && spot.Y >= a.Y && spot.Y <= b.Y {
			return s.Of
		}
	}
	return ""
}

// boxesOf is where something of the drawing is in the window.
func (v *View) boxesOf(name string) []box {
	var all []box
	for _, h := range v.strip().Hits {
		if h.Name != name && (h.Kind != drawing.OnPoint || h.Name != name+".a" && h.Name != name+".b") {
			continue
		}
		x, y := v.toWindow(h.At)
		w, t := h.W*v.area.zoom, h.H*v.area.zoom
		if h.Kind == drawing.OnPoint {
			w, t = 22, 22
		}
		all = append(all, box{x - w/2, y - t/2, w, t})
	}
	return all
}

// halo lights what the pointer is on, in the drawing or in the staircase, under everything else.
func (v *View) halo() {
	name := v.litName()
	if name == "" {
		return
	}
	p := v.canvas.p
	if v.c.Wire(name) != nil {
		for i := range v.strip().Shapes {
			s := &v.strip().Shapes[i]
			if s.Of != name || s.Form != drawing.Line || len(s.Dash) > 0 {
				continue
			}
			if lit, seen := v.placed(s); seen {
				lit.Stroke, lit.Round = p.accent, true
				lit.Width += 6
				v.canvas.add(lit)
			}
		}
		return
	}
	for _, b := range v.boxesOf(name) {
		v.canvas.frame(b.inset(-4), 8, 2, p.accent, p.accentSoft)
	}
}

// litName is what is lit: by the pointer in the drawing, or by a step of the staircase.
func (v *View) litName() string {
	if v.lit.name != "" {
		return v.lit.name
	}
	if st := v.stepAt(v.step); st != "" {
		return st
	}
	return ""
}

// markPoint shows the point that keys act on.
func (v *View) markPoint() {
	if v.focus != idDrawing || !v.ring || v.point == "" {
		return
	}
	for _, b := range v.boxesOf(v.point) {
		v.canvas.frame(b.inset(-2), 6, 2, v.canvas.p.accent, 0)
		v.canvas.frame(b.inset(-5), 8, 1, v.canvas.p.panel, 0)
	}
}

// placeOf is the step or place of a fault that something of the drawing belongs to: a cavity's two sides are one place.
func (v *View) placeOf(p pick) string {
	if p.kind != drawing.OnPoint {
		return p.name
	}
	point, err := v.c.Point(p.name)
	switch {
	case err != nil:
		return p.name
	case point.Terminal != nil:
		return point.Terminal.Name
	case point.Stud != nil:
		return point.Stud.Name
	}
	return point.Splice.Name
}

// ownerOf is the part or connector that something of the drawing belongs to, or "".
func (v *View) ownerOf(p pick) string {
	if p.kind == drawing.OnWire {
		return ""
	}
	owner, _, _ := strings.Cut(p.name, ".")
	if v.c.Part(owner) != nil || v.c.Connector(owner) != nil {
		return owner
	}
	return ""
}
