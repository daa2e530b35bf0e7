package view

// This file is the tags over the drawing: the two leads, and the currents of the path.

import (
	"math"

	"underload/ui/drawing"
)

// leadTags marks where the leads are, beside their points, on nothing else as far as can be.
func (v *View) leadTags(taken []box) []box {
	p := v.canvas.p
	for lead, name := range v.now.leads {
		spot := v.placeOfPoint(name)
		if spot == nil {
			continue
		}
		x, y := v.toWindow(*spot)
		if !v.plan.area.holds(x, y) {
			continue
		}
		tag := v.tagPlace(x, y, taken)
		taken = append(taken, tag)
		v.canvas.line(2, p.accent, at(x, y), leaderEnd(tag, x))
		v.canvas.circle(x, y, 3.5, 0, 0, p.accent)
		v.leadTag(lead, tag.x, tag.midY())
	}
	return taken
}

// tagPlace finds room for a lead's tag near its point.
func (v *View) tagPlace(x, y float64, taken []box) box {
	const w, h = 30.0, 20.0
	best, least := box{x + 12, y - h/2, w, h}, math.Inf(1)
	for _, dx := range []float64{12, 20, 34, 50, 70, 96, -12 - w, -24 - w, -54 - w, -74 - w, -100 - w} {
		for _, dy := range []float64{0, -14, 14, -26, 26, -40, 40, -58, 58, -78, 78} {
			b := box{x + dx, y + dy - h/2, w, h}
			cost := math.Abs(dx+w/2) + 1.2*math.Abs(dy)
			for _, t := range taken {
				switch {
				case !t.overlaps(b) || t.roomFor(b):
				case t.holds(x, y):
					cost += 40
				default:
					cost += 500
				}
			}
			if !v.plan.area.holds(b.x, b.y) || !v.plan.area.holds(b.right(), b.foot()) {
				cost += 2000
			}
			if cost += leaderCost(x, y, b, taken); cost < least {
				best, least = b, cost
			}
		}
	}
	return best
}

// roomFor reports whether a box is large enough for a tag to stand in it: a large part is.
func (b box) roomFor(tag box) bool {
	const large = 6000.0 // px²
	return b.w*b.h > large && b.holds(tag.x, tag.y) && b.holds(tag.right(), tag.foot())
}

// leaderEnd is where the line from a point at x ends at its tag.
func leaderEnd(tag box, x float64) drawing.Spot {
	if tag.right() < x {
		return at(tag.right(), tag.midY())
	}
	return at(tag.x, tag.midY())
}

// leaderCost is what it costs that the line to a tag runs over what is not its point's.
func leaderCost(x, y float64, tag box, taken []box) (cost float64) {
	const looks, each = 8, 40.0
	end := leaderEnd(tag, x)
	for i := 1; i < looks; i++ {
		lx, ly := x+(end.X-x)*float64(i)/looks, y+(end.Y-y)*float64(i)/looks
		for _, t := range taken {
			if t.holds(lx, ly) && !t.holds(x, y) && !t.roomFor(tag) {
				cost += each
			}
		}
	}
	return cost
}

// ampereTags writes each current of the path once, on the longest free straight of a wire, and gives the room that is
// taken then.
func (v *View) ampereTags(taken []box) []box {
	sh := v.now.live.showing
	if len(sh.Amps) == 0 {
		return taken
	}
	var told []string
	for range 6 {
		best, words, longest := box{}, "", 40.0
		for _, h := range v.strip().Hits {
			amps, known := sh.Amps[h.Name]
			if h.Kind != drawing.OnWire || !known || !sh.Path[h.Name] && h.Name != v.now.on || math.Abs(amps) < 0.0005 {
				continue
			}
			text := ampText(math.Abs(amps))
			length := max(h.W, h.H) * v.area.zoom
			if length <= longest || contains(told, text) {
				continue
			}
			if b, ok := v.tagRoom(h, text, taken); ok {
				best, words, longest = b, text, length
			}
		}
		if words == "" {
			break
		}
		told, taken = append(told, words), append(taken, best.inset(-3))
		v.ampereTag(best, words)
	}
	return taken
}

func contains(list []string, s string) bool {
	for _, other := range list {
		if other == s {
			return true
		}
	}
	return false
}

// tagRoom finds a place for a tag on a straight, at its middle or to either side of it.
func (v *View) tagRoom(h drawing.Hit, words string, taken []box) (box, bool) {
	w := math.Ceil(textWidth(words, 13, true)/8)*8 + 12
	x, y := v.toWindow(h.At)
	for _, shift := range []float64{0, -0.22, 0.22, -0.36, 0.36} {
		mx, my := x, y
		if h.W > h.H {
			mx += shift * h.W * v.area.zoom
		} else {
			my += shift * h.H * v.area.zoom
		}
		b := box{math.Round(mx - w/2), math.Round(my - 10), w, 20}
		free := v.plan.area.inset(4).holds(b.x, b.y) && v.plan.area.inset(4).holds(b.right(), b.foot())
		for _, t := range taken {
			free = free && !t.overlaps(b)
		}
		if free {
			return b, true
		}
	}
	return box{}, false
}

// takenRoom is where the drawing has words, points and parts.
func (v *View) takenRoom() []box {
	var taken []box
	for i := range v.strip().Shapes {
		s := &v.strip().Shapes[i]
		if s.Form == drawing.Text {
			if placed, seen := v.placed(s); seen {
				taken = append(taken, textBox(placed).inset(-3))
			}
		}
	}
	for _, h := range v.strip().Hits {
		if h.Kind == drawing.OnWire {
			continue
		}
		x, y := v.toWindow(h.At)
		b := box{x - 10, y - 10, 20, 20}
		if h.Kind == drawing.OnPart {
			b = box{x - h.W*v.area.zoom/2, y - h.H*v.area.zoom/2, h.W * v.area.zoom, h.H * v.area.zoom}
		} else if v.hasGauge(h.Name) {
			b = box{x - 44, y - 26, 60, 52}
		}
		taken = append(taken, b)
	}
	return taken
}

func (v *View) ampereTag(b box, words string) {
	p := v.canvas.p
	v.canvas.frame(b, 4, 1.4, p.ink, p.panel)
	v.canvas.text(b.midX(), middle(b, 13), style{size: 13, bold: true, fill: p.ink, anchor: drawing.Middle}, words)
}
