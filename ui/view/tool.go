package view

// This file paints the instrument into the circuit, between its two leads: a double ring with twin lines, so that nobody
// takes it for a part of the vehicle. Where there is no room that hides nothing, it stays on the bench.

import (
	"math"
	"slices"

	"underload/ui/drawing"
)

const (
	toolRadius  = 16.0
	longestLead = 320.0 // px of one lead on the screen
)

// tool is where the instrument stands, and how its leads run there.
type tool struct {
	at    drawing.Spot
	leads [2][]drawing.Spot
}

// instrumentInCircuit paints it where it fits, and gives the room that is taken then.
func (v *View) instrumentInCircuit() []box {
	s := &v.now
	if s.with == "clamp" && s.on != "" {
		return v.clampInCircuit()
	}
	if s.live.reading == nil || slices.Contains(noLeads, s.with) || s.with == "clamp" || s.with == "drag" {
		return nil
	}
	a, b := v.placeOfPoint(s.leads[0]), v.placeOfPoint(s.leads[1])
	if a == nil || b == nil {
		return nil
	}
	ax, ay := v.toWindow(*a)
	bx, by := v.toWindow(*b)
	t, ok := v.toolBetween(at(ax, ay), at(bx, by), v.inTheWay())
	if !ok {
		return nil
	}
	v.paintTool(t)
	return append(append(runs(t.leads[0]), runs(t.leads[1])...), t.room())
}

// clampInCircuit paints its jaws around the longest straight of its wire, where that covers nothing.
func (v *View) clampInCircuit() []box {
	var on drawing.Hit
	for _, h := range v.strip().Hits {
		if h.Kind == drawing.OnWire && h.Name == v.now.on && max(h.W, h.H) > max(on.W, on.H) {
			on = h
		}
	}
	if max(on.W, on.H) == 0 {
		return nil
	}
	const r = 11.0
	full := v.inTheWay()
	x, y, fits := 0.0, 0.0, false
	for _, share := range []float64{-1.0 / 6, 1.0 / 6, 0, -0.3, 0.3, -0.42, 0.42} {
		if x, y = v.toWindow(on.At); on.W > on.H {
			x += share * on.W * v.area.zoom
		} else {
			y += share * on.H * v.area.zoom
		}
		ring := box{x - r - 8, y - r - 2, 2*r + 10, 2*r + 10}
		if fits = v.plan.area.inset(r).holds(x, y) && !slices.ContainsFunc(full, ring.overlaps); fits {
			break
		}
	}
	if !fits {
		return nil
	}
	ink := v.canvas.p.accent
	v.canvas.circle(x, y, r, 2, ink, 0)
	v.canvas.circle(x, y, r-3.4, 1.6, ink, 0)
	v.canvas.line(2, v.canvas.p.paper, at(x+r*0.7, y-r*0.7), at(x+r*0.9, y-r*0.5)) // where it opens
	v.canvas.line(6, ink, at(x-r*0.8, y+r*0.8), at(x-r*0.8-6, y+r*0.8+6))
	v.canvas.line(2.4, v.canvas.p.panel, at(x-r*0.8, y+r*0.8), at(x-r*0.8-6, y+r*0.8+6))
	return []box{{x - r - 8, y - r - 2, 2*r + 10, 2*r + 10}}
}

func (t tool) room() box {
	const r = toolRadius + 3
	return box{t.at.X - r, t.at.Y - r, 2 * r, 2 * r}
}

// inTheWay is what the instrument must not cover: words, points with their gauges, and parts. The inside of a part that
// was unplugged is free, since it is not there.
func (v *View) inTheWay() []box {
	var all []box
	for i := range v.strip().Shapes {
		s := &v.strip().Shapes[i]
		if s.Form != drawing.Text {
			continue
		}
		if placed, seen := v.placed(s); seen {
			all = append(all, textBox(placed).inset(-2))
		}
	}
	for _, h := range v.strip().Hits {
		if h.Kind == drawing.OnWire || h.Kind == drawing.OnPart && v.now.live.showing.Apart[h.Name] {
			continue
		}
		x, y := v.toWindow(h.At)
		b := box{x - 9, y - 9, 18, 18}
		if h.Kind == drawing.OnPart {
			b = box{x - h.W*v.area.zoom/2, y - h.H*v.area.zoom/2, h.W * v.area.zoom, h.H * v.area.zoom}
		} else if v.hasGauge(h.Name) {
			b = box{x - 34, y - 24, 42, 48}
		}
		all = append(all, b)
	}
	return all
}

// toolBetween finds the nearest place for the instrument from which both leads reach their points and cover nothing.
func (v *View) toolBetween(a, b drawing.Spot, full []box) (best tool, ok bool) {
	room := v.plan.area.inset(6)
	midX, midY := (a.X+b.X)/2, (a.Y+b.Y)/2
	least := math.Inf(1)
	for _, dx := range []float64{0, -28, 28, -56, 56, -84, 84, -120, 120} {
		for _, dy := range []float64{0, -24, 24, -48, 48, -80, 80, -120, 120} {
			t := tool{at: at(math.Round(midX+dx), math.Round(midY+dy))}
			ring := t.room()
			if !room.holds(ring.x, ring.y) || !room.holds(ring.right(), ring.foot()) || slices.ContainsFunc(full, ring.overlaps) {
				continue
			}
			cost, fits := math.Abs(dx)+math.Abs(dy), true
			for i, from := range []drawing.Spot{a, b} {
				length := 0.0
				t.leads[i], length = leadTo(from, t.at)
				cost += length
				fits = fits && length <= longestLead && !crosses(t.leads[i], full)
			}
			if fits && cost < least && !crosses(t.leads[0], []box{spotBox(b)}) && !crosses(t.leads[1], []box{spotBox(a)}) {
				best, least, ok = t, cost, true
			}
		}
	}
	return best, ok
}

func spotBox(s drawing.Spot) box { return box{s.X - 7, s.Y - 7, 14, 14} }

// leadTo runs a lead from a point to the ring: straight where that is possible, else to the side first and then up or
// down.
func leadTo(from, ring drawing.Spot) (way []drawing.Spot, length float64) {
	dx, dy := ring.X-from.X, ring.Y-from.Y
	length = math.Abs(dx) + math.Abs(dy)
	switch {
	case math.Abs(dy) <= toolRadius+2: // beside it
		end := at(ring.X-math.Copysign(toolRadius, dx), ring.Y)
		if math.Abs(dy) < 1 {
			return []drawing.Spot{from, end}, length
		}
		mid := (from.X + end.X) / 2
		return []drawing.Spot{from, at(mid, from.Y), at(mid, ring.Y), end}, length
	case math.Abs(dx) < 1:
		return []drawing.Spot{from, at(ring.X, ring.Y-math.Copysign(toolRadius, dy))}, length
	}
	return []drawing.Spot{from, at(ring.X, from.Y), at(ring.X, ring.Y-math.Copysign(toolRadius, dy))}, length
}

// crosses reports whether a way runs over one of the boxes, but for those that it begins in.
func crosses(way []drawing.Spot, full []box) bool {
	for _, run := range runs(way) {
		for _, other := range full {
			if run.overlaps(other) && !other.holds(way[0].X, way[0].Y) {
				return true
			}
		}
	}
	return false
}

// runs are the straights of a way, as wide as a lead.
func runs(way []drawing.Spot) []box {
	const half = 4
	var all []box
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		all = append(all, box{min(a.X, b.X) - half, min(a.Y, b.Y) - half, math.Abs(a.X-b.X) + 2*half, math.Abs(a.Y-b.Y) + 2*half})
	}
	return all
}

func (v *View) paintTool(t tool) {
	cv, p := &v.canvas, v.canvas.p
	for _, way := range t.leads {
		cv.add(drawing.Shape{Form: drawing.Line, Spots: way, Stroke: p.accent, Width: 6, Radius: 7, Round: true})
		cv.add(drawing.Shape{Form: drawing.Line, Spots: way, Stroke: p.panel, Width: 2.4, Radius: 7, Round: true})
		cv.circle(way[0].X, way[0].Y, 3.5, 0, 0, p.accent)
	}
	fill := p.panel
	if r := v.now.live.reading; r.LightPercent != nil {
		switch share := *r.LightPercent / 100; {
		case share > 0.7:
			cv.circle(t.at.X, t.at.Y, toolRadius+6, 0, 0, p.lampDim)
			fill = p.lampHot
		case share >= 0.03:
			fill = p.lampDim
		}
	}
	cv.circle(t.at.X, t.at.Y, toolRadius, 1.6, p.accent, p.panel)
	cv.circle(t.at.X, t.at.Y, toolRadius-3.4, 1.6, p.accent, fill)
	ink := p.ink
	if fill == p.lampHot { // which is light in both themes
		ink = palettes[drawing.Light].ink
	}
	switch v.now.with {
	case "volts", "ohms", "amps":
		letter := map[string]string{"volts": "V", "ohms": "Ω", "amps": "A"}[v.now.with]
		cv.text(t.at.X, t.at.Y+5, style{size: 14, bold: true, fill: ink, anchor: drawing.Middle}, letter)
	case "test-lamp", "load-lamp":
		const d = (toolRadius - 3.4) * 0.7
		cv.line(2, ink, at(t.at.X-d, t.at.Y-d), at(t.at.X+d, t.at.Y+d))
		cv.line(2, ink, at(t.at.X-d, t.at.Y+d), at(t.at.X+d, t.at.Y-d))
	default:
		v.sign(v.now.with, t.at.X-1, t.at.Y, ink)
	}
}
