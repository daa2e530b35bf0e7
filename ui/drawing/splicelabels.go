package drawing

// This file names splices: close to their dot, along their line, or at the end of a leader.

import "fmt"

// spliceLabels sets the names of splices beside their dots, further along their line where there is no room.
func (l *Layout) spliceLabels(o *layer, set func(label)) {
	for _, h := range l.net.hubs {
		if h.kind != junction || len(h.ends) == 0 {
			continue
		}
		if h.paired {
			for i, p := range h.places {
				x := l.placeX(h, i)
				if p.high != nil && p.low != nil {
					l.spliceLabel(o, set, fmt.Sprintf("%s/%s", p.high.Name, p.low.Name), p.high.Name, x, l.y(h.node), 6, h)
				}
			}
			continue
		}
		if h.name == "" || h.splice == nil {
			continue
		}
		x := l.homeX(h)
		if h.bar {
			x = float64(l.slotX[h.span.from])
		}
		half := 0
		if h.fans() {
			half = h.lanes.half() - 6
		}
		l.spliceLabel(o, set, h.name, h.name, x, l.y(h.node), half, h)
	}
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if it.splice != nil {
				words := it.splice.Name
				if it.splice2 != nil {
					words += "/" + it.splice2.Name
				}
				l.spliceLabel(o, set, words, it.splice.Name, float64(c.x), l.y(it.node), 0, nil)
			}
		}
	}
}

func (l *Layout) spliceLabel(o *layer, set func(label), words, of string, x, y float64, half int, h *hub) {
	b := label{words: words, size: nameSize, bold: true, of: of, kind: "name"}
	up, down := y-float64(half)-7, y+float64(half)+17
	if h != nil && h.bar {
		up, down = up-3, down+2
	}
	try := func(dx, at float64, anchor Anchor) bool {
		b.x, b.y, b.anchor = x+dx, at, anchor
		r := b.box()
		return free(r.grown(1), o.solid, o.wires) && l.onPaper(r)
	}
	for _, dx := range []float64{0, 14, 28, 42, 60, 80, 100, 120, 150, 190, 240, 300, 380} {
		if h != nil && dx > 0 && x+dx > float64(l.slotX[h.span.to])+40 && x-dx < float64(l.slotX[h.span.from])-40 {
			break
		}
		for _, at := range []float64{up, down} {
			if try(7+dx, at, Start) || try(-7-dx, at, End) {
				l.leader(b, x, y, h)
				set(b)
				return
			}
		}
	}
	for _, dy := range []float64{4.5, -20, 24, -34, 38} { // off its line, beside it
		for _, dx := range []float64{10, 16, 24} {
			if try(dx, y+dy, Start) || try(-dx, y+dy, End) {
				set(b)
				return
			}
		}
	}
	b.anchor = Start
	for far := 1; far < 40; far++ { // anywhere near, with a leader
		for k := range 8 * far {
			dx, dy := ringSpot(k, far)
			b.x, b.y = x+float64(dx*8), y+float64(dy*7)
			if r := b.box(); free(r.grown(1), o.solid, o.wires) && l.onPaper(r) {
				l.drawn.leaders = append(l.drawn.leaders, [2]Spot{{x, y}, {max(float64(r.x0)+2, min(float64(r.x1)-2, x)), b.y - 4}})
				set(b)
				return
			}
		}
	}
	set(b)
}

// leader joins a splice to its name where that stands neither close to it nor along its line.
func (l *Layout) leader(b label, x, y float64, h *hub) {
	const close = 30
	r := b.box()
	beside := max(float64(r.x0)-x, x-float64(r.x1))
	along := h != nil && r.x1 > l.slotX[h.span.from] && r.x0 < l.slotX[h.span.to]
	if beside < close || along {
		return
	}
	l.drawn.leaders = append(l.drawn.leaders, [2]Spot{{x, y}, {max(float64(r.x0), min(float64(r.x1), x)), b.y - 4}})
}

// ringSpot walks round a square ring.
func ringSpot(k, far int) (dx, dy int) {
	side, along := k/(2*far), k%(2*far)
	switch side {
	case 0:
		return far, along - far
	case 1:
		return along - far, far
	case 2:
		return -far, along - far
	}
	return along - far, -far
}
