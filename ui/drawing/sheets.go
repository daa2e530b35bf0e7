package drawing

// This file cuts a strip that is wider than the window into sheets. The drawing stays one strip: a sheet is a window on it,
// and a flag tells where a line that is cut goes on.

import "slices"

// Prices of a cut, in tenths.
const (
	priceSheet    = 400
	priceCutLane  = 30
	priceCutBar   = 10
	priceCutBox   = 4000
	priceCutDash  = 60
	priceCutPlug  = 20
	priceManyCuts = 400 // for each line cut beyond four
	priceEmpty    = 400 // times the square of the empty share
	mostFlags     = 4
)

// flagRoom is kept on both sides of a cut.
const flagRoom = 72

// cutFlag tells at a cut where a line goes on.
type cutFlag struct {
	hub   *hub
	y     float64
	x     float64 // of the cut
	right bool    // at the right edge of a sheet
	to    int     // sheet, from 1
}

// sheetsWith gives the last slot of each sheet, with so many words.
func (l *Layout) sheetsWith(a amount) []int {
	left, right := l.slotEdges(a)
	return l.bestCuts(left, right)
}

// paginate cuts the slots into sheets and spreads each over the window, or leaves it as it was.
func (l *Layout) paginate(wish []int) {
	cuts := l.sheetsWith(l.amount)
	window := l.width()
	from := 0
	l.Sheets = nil
	old := slices.Clone(l.slotX)
	for i, to := range cuts {
		begin, end := i*window+roomBeside, (i+1)*window-roomBeside
		if i > 0 {
			begin = i*window + flagRoom
		}
		if i < len(cuts)-1 {
			end = (i+1)*window - flagRoom
		}
		if !l.settleX(wish, from, to, begin, end) {
			l.spread(old, from, to, begin, end)
		}
		l.Sheets = append(l.Sheets, Sheet{i * window, (i + 1) * window})
		from = to + 1
	}
	l.Width = len(cuts) * window
}

// slotEdges gives how far the claims of each slot reach.
func (l *Layout) slotEdges(a amount) (left, right []int) {
	for _, claims := range l.claims(a) {
		low, high := -8, 8
		for _, c := range claims {
			low, high = min(low, c.x0), max(high, c.x1)
		}
		left, right = append(left, low), append(right, high)
	}
	return left, right
}

// bestCuts gives the last slot of each sheet.
func (l *Layout) bestCuts(left, right []int) []int {
	n := len(l.slotX)
	room := l.width() - 2*flagRoom
	cost := make([]int, n+1)
	by := make([]int, n+1)
	for to := 1; to <= n; to++ {
		cost[to] = 1 << 40
		cut := 0
		if to < n {
			cut = l.cutCost(to)
		}
		for from := to - 1; from >= 0; from-- {
			wide := l.slotX[to-1] + right[to-1] - l.slotX[from] - left[from]
			if wide > room && from < to-1 {
				break
			}
			c := cost[from] + priceSheet + cut
			empty := max(0, 1000-1000*wide/room)
			c += priceEmpty * empty / 1000 * empty / 1000
			if c < cost[to] {
				cost[to], by[to] = c, from
			}
		}
	}
	var cuts []int
	for to := n; to > 0; to = by[to] {
		cuts = append([]int{to - 1}, cuts...)
	}
	return cuts
}

// cutCost is the price of a cut before a slot.
func (l *Layout) cutCost(slot int) int {
	sum, lines := 0, 0
	for _, h := range l.net.hubs {
		if !l.cutsHub(h, slot) {
			continue
		}
		switch {
		case h.kind == module || h.kind == throws:
			sum += priceCutBox
			continue
		case h.bar || h.kind == plate:
			sum += priceCutBar
		default:
			sum += priceCutLane
		}
		if h != l.net.rail {
			lines++
		}
	}
	for _, pair := range l.net.linkedSymbols() {
		if a, b := pair[0].chain.slot, pair[1].chain.slot; min(a, b) < slot && max(a, b) >= slot {
			sum += priceCutDash
		}
	}
	for _, p := range l.net.plugSpans() {
		if p.from < slot && p.to >= slot {
			sum += priceCutPlug
		}
	}
	return sum + max(0, lines-mostFlags+1)*priceManyCuts
}

// cutsHub reports whether a cut before a slot parts a hub; the frame is everywhere and needs no flag.
func (l *Layout) cutsHub(h *hub, slot int) bool {
	return len(h.ends) > 1 && h.kind != frame && h.span.from < slot && h.span.to >= slot
}

// plugSpans gives the slots that each in-line connector reaches over.
func (n *net) plugSpans() []span {
	at := map[string]int{}
	var spans []span
	for _, c := range n.chains {
		for _, it := range c.items {
			if it.symbol == nil || it.symbol.shape != cavity {
				continue
			}
			i, ok := at[it.symbol.cavity.Owner]
			if !ok {
				i = len(spans)
				at[it.symbol.cavity.Owner] = i
				spans = append(spans, span{c.slot, c.slot})
			}
			spans[i] = span{min(spans[i].from, c.slot), max(spans[i].to, c.slot)}
		}
	}
	return spans
}

// spread places the slots from..to between two edges, with their distances in proportion.
func (l *Layout) spread(old []int, from, to, begin, end int) {
	left, right := l.slotEdges(l.amount)
	first, last := old[from], old[to]
	low, high := begin-left[from], end-right[to]
	if last == first {
		l.slotX[from] = (low + high) / 2
		return
	}
	if loose := (last - first) * 19 / 10; high-low > loose {
		high = low + loose
	}
	high = max(high, low+last-first)
	for s := from; s <= to; s++ {
		l.slotX[s] = low + (old[s]-first)*(high-low)/(last-first)
	}
}

// flags finds where lines are cut.
func (l *Layout) flags() []cutFlag {
	var flags []cutFlag
	for i := 0; i+1 < len(l.Sheets); i++ {
		cut := l.Sheets[i].To
		var here []cutFlag
		for _, h := range l.net.hubs {
			if len(h.ends) < 2 || h.kind == frame || h.kind == module || h.kind == throws || l.slotX[h.span.from] >= cut || l.slotX[h.span.to] <= cut {
				continue
			}
			here = append(here, cutFlag{hub: h, y: l.y(h.node), x: float64(cut)})
		}
		for _, f := range here {
			before, after := f, f
			before.right, before.to, after.to = true, l.nextSheet(f.hub, i, 1), l.nextSheet(f.hub, i+1, -1)
			flags = append(flags, before, after)
		}
	}
	return flags
}

// nextSheet is the next sheet, in a direction, on which something hangs on a hub; counted from 1.
func (l *Layout) nextSheet(h *hub, from, step int) int {
	for i := from + step; i >= 0 && i < len(l.Sheets); i += step {
		for _, e := range h.ends {
			if e.chain.x >= l.Sheets[i].From && e.chain.x < l.Sheets[i].To {
				return i + 1
			}
		}
	}
	return from + step + 1
}
