package drawing

// This file outlines in-line connectors.

import "slices"

// plug is a run of cavities of one connector side by side, with no other wire between them.
type plug struct {
	name    string
	outline rect
}

func (l *Layout) makePlugs() {
	type key struct {
		name string
		y    int
	}
	rows := map[key][]*symbol{}
	var keys []key
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil && s.shape == cavity {
				k := key{s.cavity.Owner, l.h.at(s.node)}
				if rows[k] == nil {
					keys = append(keys, k)
				}
				rows[k] = append(rows[k], s)
			}
		}
	}
	for _, k := range keys {
		row := rows[k]
		slices.SortStableFunc(row, func(a, b *symbol) int { return a.chain.x - b.chain.x })
		from := 0
		for i := 1; i <= len(row); i++ {
			if i < len(row) && !l.between(row[i-1].chain, row[i].chain, k.y) {
				continue
			}
			l.drawn.plugs = append(l.drawn.plugs, plug{k.name, l.outline(row[from:i])})
			from = i
		}
	}
}

// outline is the dashed box of a run.
func (l *Layout) outline(run []*symbol) rect {
	y := l.h.at(run[0].node)
	left := 14
	if l.amount.gauges {
		left = gaugeRoom + 17
	}
	last := run[len(run)-1]
	words := last.labelRect(l.amount, y, false)
	half := l.plugHalf()
	return rect{run[0].chain.x - left, y - half, last.chain.x + words.x1 + 4, y + half}
}

// plugHalf is how far a connector's outline is above and below its terminals.
func (l *Layout) plugHalf() int {
	if l.h.ease < 40 {
		return 13
	}
	return 16
}

// between reports whether another column passes between two at a height.
func (l *Layout) between(a, b *chain, y int) bool {
	for _, c := range l.net.chains {
		if c == a || c == b || c.slot <= a.slot || c.slot >= b.slot {
			continue
		}
		if top, bottom := l.h.extent(c); top < y+16 && bottom > y-16 {
			return true
		}
	}
	return false
}
