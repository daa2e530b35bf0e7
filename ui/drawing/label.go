package drawing

// This file finds room for words: names always, details and wire labels where they fit.

import (
	"math"
	"strings"

	"underload/circuit"
)

// label is a line of words with its place.
type label struct {
	words  string
	x      float64
	y      float64 // baseline
	size   float64
	bold   bool
	anchor Anchor
	of     string
	soft   bool // ink2
	live   bool // words that change: how a switch or relay stands
	part   *circuit.Part
	kind   string
	under  []circuit.Point // those whose gauges stand on it
}

// box is the room of a label.
func (b label) box() rect {
	wide := textWidth(b.words, b.size, b.bold)
	x := b.x
	switch b.anchor {
	case End:
		x -= wide
	case Middle:
		x -= wide / 2
	}
	return rect{int(x) - 1, int(b.y-0.76*b.size) - 1, int(x+wide) + 2, int(b.y+0.24*b.size) + 1}
}

// inkOf is the room that the letters of a label really cover.
func inkOf(b label) rect {
	r := b.box()
	return rect{r.x0 + 1, r.y0 + 1, r.x1 - 1, r.y1 - 1}
}

// layer is what labels must keep clear of.
type layer struct {
	solid []rect // symbols, words, boxes
	wires []rect
	soft  []rect // room kept for gauges and tags at ease
	tools []rect // room that they need
}

func free(r rect, sets ...[]rect) bool {
	for _, set := range sets {
		for _, s := range set {
			if r.meets(s) {
				return false
			}
		}
	}
	return true
}

func (l *Layout) label() {
	free := l.obstacles()
	set := func(b label) {
		l.drawn.labels = append(l.drawn.labels, b)
		free.solid = append(free.solid, b.box())
	}
	l.symbolLabels(set)
	l.boxLabels(set)
	l.pinLabels(set)
	l.studLabels(set)
	l.spliceLabels(free, set)
	l.wireLabels(free, set)
}

// symbolLabels sets names and details beside symbols.
func (l *Layout) symbolLabels(set func(label)) {
	for _, c := range l.net.chains {
		for _, it := range c.items {
			s := it.symbol
			if s == nil {
				continue
			}
			y := l.h.at(s.node)
			r := s.labelRect(l.amount, y, l.labelLeft(s))
			name, detail := s.words(l.amount)
			x, anchor := float64(c.x+r.x0), Start
			if l.labelLeft(s) {
				x, anchor = float64(c.x+r.x1), End
			}
			base := float64(y) + 4.5
			if detail != "" {
				base = float64(y) - 2
			}
			set(label{words: name, x: x, y: base, size: nameSize, bold: true, anchor: anchor, of: s.name, kind: "name"})
			if detail != "" {
				set(label{words: detail, x: x, y: base + 15, size: detailSize, anchor: anchor, of: s.name, soft: true, live: s.shape == contact, part: s.part, kind: "detail"})
			}
		}
	}
}

// boxLabels sets the words in boxes, and beside switches.
func (l *Layout) boxLabels(set func(label)) {
	for _, h := range l.net.hubs {
		r, ok := l.drawn.boxes[h]
		if !ok {
			continue
		}
		y := float64(r.y0+r.y1) / 2
		if h.kind == throws {
			x := float64(r.x1) + 8
			if !l.amount.details {
				set(label{words: h.name, x: x, y: y + 4.5, size: nameSize, bold: true, of: h.name, kind: "name"})
				continue
			}
			words := longest(positions(h.part))
			if h.part.Kind.Name == "relay" {
				words = "at rest"
			}
			set(label{words: h.name, x: x, y: y - 2, size: nameSize, bold: true, of: h.name, kind: "name"})
			set(label{words: words, x: x, y: y + 13, size: detailSize, soft: true, of: h.name, live: true, part: h.part, kind: "detail"})
			continue
		}
		x, room := float64(r.x0)+10, float64(r.x1-r.x0)-18
		if h.satellite {
			l.satelliteLabels(h, x, y, set)
			continue
		}
		wide := int(textWidth(h.name, boxSize, true))
		for _, sheet := range l.Sheets { // again on each further sheet that it reaches
			if sheet.From > r.x0+wide && sheet.From+wide+20 < r.x1 {
				set(label{words: h.name, x: float64(sheet.From) + 10, y: y + 5, size: boxSize, bold: true, of: h.name, kind: "name"})
			}
		}
		detail := h.part.Place
		if h.part.Kind.Name == "terminator" {
			detail = (&symbol{shape: terminator, part: h.part}).detail()
		}
		if !l.amount.details || l.amount.dropped[h] && textWidth(detail, detailSize, false) > room || detail == "" {
			set(label{words: h.name, x: x, y: y + 5, size: boxSize, bold: true, of: h.name, kind: "name"})
			continue
		}
		set(label{words: h.name, x: x, y: y - 3, size: boxSize, bold: true, of: h.name, kind: "name"})
		set(label{words: Shorten(detail, detailSize, false, room), x: x, y: y + 13, size: detailSize, soft: true, of: h.name, kind: "detail"})
	}
}

// satelliteLabels sets the name and the value, or the place, of a sensor or terminator on one line below its upper pins' names.
func (l *Layout) satelliteLabels(h *hub, x, y float64, set func(label)) {
	r := l.drawn.boxes[h]
	if y += 15; h.grounded() {
		y -= 10.5
	}
	set(label{words: h.name, x: x, y: y, size: nameSize, bold: true, of: h.name, kind: "name"})
	detail, wide := h.part.Place, textWidth(h.name, nameSize, true)+8
	if h.part.Kind.Name == "terminator" {
		detail = (&symbol{shape: terminator, part: h.part}).detail()
	}
	if words := Shorten(detail, detailSize, false, float64(r.x1-r.x0)-18-wide); l.amount.details && len(words) > 6 {
		set(label{words: words, x: x + wide, y: y, size: detailSize, soft: true, of: h.name, kind: "detail"})
	}
}

// pinLabels sets the numbers of pins.
func (l *Layout) pinLabels(set func(label)) {
	for _, c := range l.net.chains {
		for _, e := range []*end{c.top, c.bottom} {
			if words := l.pinWordsInOrder(e); words != "" && (e.hub.kind == module || e.hub.kind == throws) {
				y := l.y(e.hub.node) - float64(l.h.nodes[e.hub.node].up) - 6
				if e.top {
					y = l.y(e.hub.node) + float64(l.h.nodes[e.hub.node].down) + 15
				}
				x := float64(c.x) + 10
				if c.paired {
					x += 5
				}
				if e.hub.satellite {
					set(label{words: words, x: float64(c.x), y: l.y(e.hub.node) + e.satelliteBase(), size: detailSize, anchor: Middle, soft: true, of: e.pin.Name, kind: "pin"})
					continue
				}
				set(label{words: words, x: x, y: y, size: detailSize, soft: true, of: e.pin.Name, kind: "pin"})
			}
		}
	}
}

// satelliteBase is the base line of a pin's name inside a satellite, px below the box's middle.
func (e *end) satelliteBase() float64 {
	switch {
	case e.top:
		return 22
	case e.hub.grounded():
		return -14
	}
	return -9
}

// pinWordsInOrder names the pins of a pair from left to right.
func (l *Layout) pinWordsInOrder(e *end) string {
	if e.pin != nil && e.pin2 != nil && l.pairOffset(e.chain, 1) > 0 {
		return e.pin2.Pin + "/" + e.pin.Pin
	}
	return e.pinWords()
}

// studLabels sets the names of studs below the frame.
func (l *Layout) studLabels(set func(label)) {
	for _, c := range l.net.chains {
		for _, e := range []*end{c.top, c.bottom} {
			if e.stud == nil {
				continue
			}
			x, y := float64(c.x)+18, l.y(e.hub.node)+21
			set(label{words: e.stud.Name, x: x, y: y, size: nameSize, bold: true, of: e.stud.Name, kind: "name"})
			if l.amount.places && e.stud.Place != "" {
				wide := textWidth(e.stud.Name, nameSize, true)
				set(label{words: Shorten(e.stud.Place, detailSize, false, 120), x: x + wide + 6, y: y, size: detailSize, soft: true, of: e.stud.Name, kind: "detail"})
			}
		}
	}
}

// wireLabels labels every wire once, on its longest free straight: clear of all room kept for gauges and tags, and twice as
// near to its own wire as to any other, if that goes; else clear of the gauges; else where it is left out while a gauge
// stands there.
func (l *Layout) wireLabels(o *layer, set func(label)) {
	done := map[*circuit.Wire]bool{}
	for _, off := range []float64{nearWire, 14, 21} {
		for _, kept := range [][][]rect{{o.tools, o.soft}, {o.tools}, nil} {
			sets := append([][]rect{o.solid, o.wires}, kept...)
			times := 1.0
			if len(kept) == 2 {
				times = 2
			}
			for _, p := range l.drawn.pieces {
				if p.wire == nil || done[p.wire] {
					continue
				}
				sets[0] = o.solid
				if b, ok := l.wireLabel(p, off, times, sets); ok {
					done[p.wire] = true
					set(b)
					o.solid[len(o.solid)-1] = b.wireBox().grown(1)
				}
			}
		}
	}
	for _, w := range l.Circuit.Wires {
		if !done[w] && len(wireLabels(w)) > 0 {
			l.drawn.missing = append(l.drawn.missing, w.Name)
		}
	}
}

// wireBox is the room of a wire's words: hardly any of it is below capitals and figures.
func (b label) wireBox() rect {
	r := b.box()
	if strings.Trim(b.words, flat) == "" {
		r.y1 = int(b.y) + 2
	}
	return r
}

// flat are the letters that reach hardly below their line.
const flat = "ABCDEFGHIJKLMNOPRSTUVWXYZ0123456789/.\u00a0"

// Unlabelled names the wires that have no words beside them because there was no room.
func (l *Layout) Unlabelled() []string { return l.drawn.missing }

// nearWire is how far the words beside a wire are from its middle, px.
const nearWire = 7

// wireLabel tries the words of a wire, fullest first, along its straights, longest first, at a distance from it, and with
// other wires so many times as far.
func (l *Layout) wireLabel(p piece, off, times float64, sets [][]rect) (label, bool) {
	for _, words := range wireLabels(p.wire) {
		b := label{words: words, size: detailSize, of: p.wire.Name, soft: true, kind: "wire"}
		fits := func(x, y float64, anchor Anchor) bool {
			b.x, b.y, b.anchor = x, y, anchor
			r := b.wireBox()
			if !l.onPaper(r) || !free(r, sets...) || !free(rect{r.x0 - 3, r.y0 - 1, r.x1 + 3, r.y1 + 1}, sets[0]) {
				return false
			}
			return l.nearestTo(p, r, times)
		}
		for _, i := range straights(p.path) {
			from, to := p.path[i], p.path[i+1]
			if from.X == to.X && l.beside(from, to, off, fits) || from.X != to.X && off == nearWire && l.along(from, to, textWidth(words, detailSize, false), fits) {
				return b, true
			}
		}
	}
	return label{}, false
}

// nearestTo reports whether words are no nearer to any other wire than to their own, or so many times as far.
func (l *Layout) nearestTo(own piece, words rect, times float64) bool {
	far := own.from(words) * times * times
	for _, p := range l.drawn.pieces {
		if p.wire != nil && p.wire != own.wire && p.from(words) < far {
			return false
		}
	}
	return true
}

// from is the square of the distance between a piece and words, px.
func (p piece) from(words rect) float64 {
	least := math.Inf(1)
	for i := 1; i < len(p.path); i++ {
		least = min(least, words.off(p.path[i-1], p.path[i]))
	}
	return least
}

// off is the square of the distance of a rectangle from a straight, px. It is exact, so that every machine gets the same.
func (r rect) off(a, b Spot) float64 {
	dx := max(0, min(a.X, b.X)-float64(r.x1), float64(r.x0)-max(a.X, b.X))
	dy := max(0, min(a.Y, b.Y)-float64(r.y1), float64(r.y0)-max(a.Y, b.Y))
	return dx*dx + dy*dy
}

// beside tries places right and left of an upright wire, the middle first.
func (l *Layout) beside(from, to Spot, off float64, fits func(x, y float64, anchor Anchor) bool) bool {
	long, middle := max(from.Y, to.Y)-min(from.Y, to.Y), (from.Y+to.Y)/2+4
	step := 6.0
	if long < 40 {
		step = 1
	}
	for d := 0.0; d <= max(0, long/2-4); d += step {
		for _, y := range []float64{middle + d, middle - d} {
			if fits(from.X+off, y, Start) || fits(from.X-off, y, End) {
				return true
			}
		}
	}
	return false
}

// along tries places above and below a level wire, the middle first; else the middle of the next free stretch.
func (l *Layout) along(from, to Spot, wide float64, fits func(x, y float64, anchor Anchor) bool) bool {
	const step = 4
	long, middle := max(from.X, to.X)-min(from.X, to.X), (from.X+to.X)/2
	most := long/2 - wide/2 - 4
	for d := 0.0; d <= most || d == 0 && wide < long; d += step {
		for _, side := range []float64{1, -1} {
			for _, y := range []float64{from.Y - nearWire, from.Y + nearWire + 8} {
				if !fits(middle+side*d, y, Middle) {
					continue
				}
				far := d
				for d > 0 && far+step <= most && fits(middle+side*(far+step), y, Middle) {
					far += step
				}
				return fits(middle+side*(d+far)/2, y, Middle) || fits(middle+side*d, y, Middle)
			}
		}
	}
	return false
}

// onPaper reports whether words keep off the edges of all sheets.
func (l *Layout) onPaper(r rect) bool {
	const edge = 6
	for _, s := range l.Sheets {
		if r.x0 < s.From+edge && r.x1 > s.From-edge {
			return false
		}
	}
	return r.y0 >= 4 && r.x1 <= l.Width-edge && r.y1 <= l.Height-4
}

// straights lists the straights of a path, the longest first.
func straights(path []Spot) []int {
	var order []int
	long := func(i int) float64 {
		a, b := path[i], path[i+1]
		return max(a.X, b.X) - min(a.X, b.X) + max(a.Y, b.Y) - min(a.Y, b.Y)
	}
	for i := 0; i+1 < len(path); i++ {
		order = append(order, i)
		for j := len(order) - 1; j > 0 && long(order[j]) > long(order[j-1]); j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	return order
}
