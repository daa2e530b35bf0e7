package drawing

// This file turns slots into pixels: every column claims the room of its symbols and their words, and columns stand as close
// as their claims allow. So no words can meet.

// rect is a rectangle in px: left, top, right, bottom.
type rect struct{ x0, y0, x1, y1 int }

func (r rect) meets(o rect) bool { return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1 }
func (r rect) grown(d int) rect  { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }
func (r rect) empty() bool       { return r.x1 <= r.x0 || r.y1 <= r.y0 }

// claim is room that a column needs, measured from its own x.
type claim struct {
	rect
	owner  any // claims of one owner do not push each other
	detail any // the symbol or box whose second line makes it this wide
}

// amount is how much stands beside the symbols, from everything to names only.
type amount struct {
	gap     int          // px between claims
	details bool         // second lines
	gauges  bool         // room for level gauges
	tags    bool         // room for lead tags
	places  bool         // where studs are
	dropped map[any]bool // symbols and boxes that have lost their second line
}

var amounts = []amount{
	{gap: 10, details: true, gauges: true, tags: true, places: true},
	{gap: 6, details: true, gauges: true, tags: true, places: true},
	{gap: 4, details: true, gauges: true, places: true},
	{gap: 4, details: true, gauges: true},
	{gap: 2, details: true},
	{gap: 2},
}

// Sizes of type, px.
const (
	nameSize   = 13.0
	detailSize = 12.0
	boxSize    = 15.0
)

// halfWidth is how far a symbol reaches left and right.
func (s *symbol) halfWidth() (left, right int) {
	switch s.shape {
	case fuse, fusibleLink:
		return 7, 7
	case contact:
		if s.spare != nil {
			return 17, 5
		}
		return 13, 5
	case coil:
		return 19, 19
	case lamp:
		return 18, 18
	case motor, generator:
		return 21, 21
	case battery:
		return 22, 22
	case cavity:
		return 8, 8
	case led, diode:
		return 12, 14
	}
	return 9, 9
}

// words are the lines beside a symbol.
func (s *symbol) words(a amount) (name, detail string) {
	name = s.name
	if s.shape == cavity && s.cavity2 != nil {
		name += "/" + s.cavity2.Pin
	}
	if a.details && !a.dropped[s] {
		detail = s.detail()
	}
	return name, detail
}

// labelRect is where the words of a symbol stand, from the column's x and the symbol's height.
func (s *symbol) labelRect(a amount, y int, left bool) rect {
	name, detail := s.words(a)
	wide := max(roomFor(name, nameSize, true), roomFor(detail, detailSize, false))
	l, r := s.halfWidth()
	up, down := 7, 7
	if detail != "" {
		up, down = 15, 15
	}
	if left {
		return rect{-l - 5 - wide, y - up, -l - 5, y + down}
	}
	return rect{r + 6, y - up, r + 6 + wide, y + down}
}

// layAcross gives slots their x for one amount of words and reports the least width.
func (l *Layout) layAcross(a amount) int {
	claims := l.claims(a)
	l.slotX = make([]int, len(claims))
	right := 0
	l.pitches = make([][]int, len(claims))
	for s := range claims {
		l.pitches[s] = make([]int, len(claims))
		x := 0
		for _, c := range claims[s] {
			x = max(x, -c.x0)
		}
		for t := range s {
			l.pitches[t][s] = apartBy(claims[t], claims[s], a.gap)
			x = max(x, l.slotX[t]+l.pitches[t][s])
		}
		l.slotX[s] = x
		for _, c := range claims[s] {
			right = max(right, x+c.x1)
		}
	}
	return right
}

const leastPitch = 22

// apartBy is how far apart two columns must stand.
func apartBy(left, right []claim, gap int) int {
	apart := leastPitch
	for _, a := range left {
		for _, b := range right {
			if a.y0 < b.y1 && b.y0 < a.y1 && (a.owner == nil || a.owner != b.owner) {
				apart = max(apart, a.x1-b.x0+gap)
			}
		}
	}
	return apart
}

// claims lists what every slot needs.
func (l *Layout) claims(a amount) [][]claim {
	slots := 0
	for _, c := range l.net.chains {
		slots = max(slots, c.slot+1)
	}
	all := make([][]claim, slots)
	add := func(slot int, r rect, owner any) {
		if !r.empty() {
			all[slot] = append(all[slot], claim{r, owner, nil})
		}
	}
	for _, c := range l.net.chains {
		top, bottom := l.h.extent(c)
		half := 8
		if c.paired {
			half = 13
		}
		add(c.slot, rect{-half, top - 6, half, bottom + 6}, nil)
		for _, it := range c.items {
			if it.symbol != nil {
				l.symbolClaims(it.symbol, a, func(r rect, detail any) { all[c.slot] = append(all[c.slot], claim{r, nil, detail}) })
			}
			if it.splice != nil {
				wide := roomFor(it.splice.Name, nameSize, true)
				y := l.h.at(it.node)
				add(c.slot, rect{0, y - 7, 10 + wide, y + 7}, nil)
			}
		}
		l.endClaims(c.top, a, func(r rect) { add(c.slot, r, nil) })
		l.endClaims(c.bottom, a, func(r rect) { add(c.slot, r, nil) })
	}
	for _, h := range l.net.hubs {
		l.boxClaims(h, a, func(slot int, r rect, owner, detail any) { all[slot] = append(all[slot], claim{r, owner, detail}) })
	}
	return all
}

func (l *Layout) symbolClaims(s *symbol, a amount, add func(r rect, detail any)) {
	y, half := l.h.at(s.node), symbolHalf[s.shape]
	left, right := s.halfWidth()
	add(rect{-left, y - half, right, y + half}, nil)
	words := s.labelRect(a, y, l.labelLeft(s))
	add(words, s)
	if s.shape != cavity {
		return
	}
	add(rect{-14, y - 16, words.x1 + 8, y + 16}, nil) // the connector's outline
	if a.gauges {
		add(rect{-gaugeRoom - 18, y - 16, 0, y + 16}, nil)
	}
	if a.tags {
		add(rect{0, y - 40, tagRoom, y - 16}, nil)
		add(rect{0, y + 16, tagRoom, y + 40}, nil)
	}
}

// Room left of a terminal for its gauge, and right of it for a lead's tag.
const gaugeRoom, tagRoom = 24, 34

// endClaims asks for the room of a pin's number, gauge and tag, and of a stud's words.
func (l *Layout) endClaims(e *end, a amount, add func(rect)) {
	y := l.h.at(e.hub.node)
	switch {
	case e.hub.kind == module || e.hub.kind == throws:
		edge, out := y-l.h.nodes[e.hub.node].up, -1
		if e.top {
			edge, out = y+l.h.nodes[e.hub.node].down, 1
		}
		words := roomFor(e.pinWords(), detailSize, false)
		if e.hub.satellite {
			half := max(22, words/2+2)
			if out < 0 {
				add(rect{-half, y - 24, half, y})
			} else {
				add(rect{-half, y, half, y + 24})
			}
			words = 0
		}
		up, down := edge-20, edge-1
		if out > 0 {
			up, down = edge+1, edge+20
		}
		x := 10
		if e.chain.paired {
			x = 16
		}
		add(rect{0, up, x + words, down})
		if e.hub.kind == module && e.other().hub.kind != open {
			if a.gauges {
				add(rect{-x - gaugeRoom + 8, min(edge+6*out, edge+36*out), 0, max(edge+6*out, edge+36*out)})
			}
			if a.tags {
				add(rect{0, min(edge+22*out, edge+44*out), tagRoom, max(edge+22*out, edge+44*out)})
			}
		}
	case e.stud != nil:
		wide := roomFor(e.stud.Name, nameSize, true)
		if a.places && e.stud.Place != "" {
			wide += 6 + min(roomFor(e.stud.Place, detailSize, false), 120)
		}
		add(rect{-15, y + 6, 18 + wide, y + 30})
	}
}

// pinWords is what stands beside a pin.
func (e *end) pinWords() string {
	if e.pin == nil {
		return ""
	}
	if e.pin2 != nil {
		return e.pin.Pin + "/" + e.pin2.Pin
	}
	return e.pin.Pin
}

// boxClaims asks for the room of a box beyond its first and last column, and for the words beside a switch.
func (l *Layout) boxClaims(h *hub, a amount, add func(slot int, r rect, owner, detail any)) {
	if h.kind != module && h.kind != throws || len(h.ends) == 0 {
		return
	}
	y := l.h.at(h.node)
	up, down := y-l.h.nodes[h.node].up-2, y+l.h.nodes[h.node].down+2
	if h.kind == throws {
		name, detail := h.name, longest(positions(h.part))
		wide := max(roomFor(name, nameSize, true), roomFor(detail, detailSize, false))
		add(h.span.from, rect{-18, up, 18, down}, h, nil)
		add(h.span.to, rect{-18, up, 18, down}, h, nil)
		add(h.span.to, rect{18, y - 15, 26 + wide, y + 15}, h, nil)
		return
	}
	m := h.margin() + 4
	add(h.span.from, rect{-m, up, m, down}, h, nil)
	add(h.span.to, rect{-m, up, m, down}, h, nil)
	add(h.span.from, rect{-m, up, h.boxWidth(a) - m + 8, down}, h, h)
}

// margin is how far a box reaches beyond its outer pins.
func (h *hub) margin() int {
	if h.satellite {
		return 26
	}
	return boxMargin
}

const boxMargin = 18

// boxWidth is the least width of a box: that of the words in it.
func (h *hub) boxWidth(a amount) int {
	wide := roomFor(h.name, boxSize, true)
	if h.satellite {
		if a.details && !a.dropped[h] && h.part.Kind.Name == "terminator" {
			wide += 40
		}
		return max(wide+16, 2*boxMargin)
	}
	if a.details && !a.dropped[h] {
		wide = max(wide, min(roomFor(h.part.Place, detailSize, false), 128))
	}
	return max(wide+20, 2*boxMargin)
}

// labelLeft reports whether a symbol's words stand left of it: where the dashed line of a relay leaves on the right.
func (l *Layout) labelLeft(s *symbol) bool { return l.leftLabels[s] }

// findLeftLabels looks at where the partners of linked symbols are.
func (l *Layout) findLeftLabels() {
	l.leftLabels = map[*symbol]bool{}
	for _, pair := range l.net.linkedSymbols() {
		for i, s := range pair {
			if s.sym != nil && pair[1-i].chain.slot > s.chain.slot {
				l.leftLabels[s.sym] = true
			}
		}
	}
}

// stretch spreads columns over the width there is, without tearing small drawings apart.
func (l *Layout) stretch(least, room int) int {
	target := min(room, least*17/10+80)
	if target <= least || len(l.slotX) < 2 {
		return least
	}
	first, last := l.slotX[0], l.slotX[len(l.slotX)-1]
	if last == first {
		return least
	}
	for i, x := range l.slotX {
		l.slotX[i] = first + (x-first)*(last-first+target-least)/(last-first)
	}
	return target
}
