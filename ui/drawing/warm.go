package drawing

// This file carries the order of one drawing over to the next, so that an edit moves as little as it can.

// marks are the names by which a column is known again: its symbols, its pins, its studs, its wires.
func (c *chain) marks() []string {
	var marks []string
	if len(c.items) == 0 && c.bottom.stud != nil { // which of the drawings of its stud
		for _, e := range c.top.hub.ends {
			if w := e.wire(); w != nil {
				marks = append(marks, "ring of "+w.Name)
			}
		}
		return marks
	}
	for _, it := range c.items {
		switch {
		case it.symbol != nil && it.symbol.part != nil:
			marks = append(marks, "part "+it.symbol.name+"/"+it.symbol.ends[0].Pin)
		case it.symbol != nil:
			marks = append(marks, "cavity "+it.symbol.name)
		case it.splice != nil:
			marks = append(marks, "splice "+it.splice.Name)
		case it.wire != nil:
			marks = append(marks, "wire "+it.wire.Name)
		}
	}
	for _, e := range []*end{c.top, c.bottom} {
		switch {
		case e.pin != nil:
			marks = append(marks, "pin "+e.pin.Name)
		case e.stud != nil:
			marks = append(marks, "stud "+e.stud.Name)
		}
	}
	return marks
}

// oldSlots finds the columns of the drawing before among those of this one: the one that shares most marks.
func (n *net) oldSlots(before *Layout) map[*chain]int {
	if before == nil {
		return nil
	}
	known := map[string]*chain{}
	for _, c := range before.net.chains {
		for _, m := range c.marks() {
			known[m] = c
		}
	}
	old := map[*chain]int{}
	for _, c := range n.chains {
		votes := map[*chain]int{}
		var best *chain
		for _, m := range c.marks() {
			if was := known[m]; was != nil {
				if votes[was]++; best == nil || votes[was] > votes[best] {
					best = was
				}
			}
		}
		if best != nil {
			old[c] = best.slot
		}
	}
	for _, hub := range n.hubs { // below a stud that had one wire only there was no piece of its own
		stem := hub.stem()
		if stem == nil {
			continue
		}
		for _, e := range hub.ends {
			slot, ok := old[e.chain]
			if _, known := old[stem.chain]; ok && !known {
				old[stem.chain] = slot
			}
		}
	}
	return old
}

// wishes gives each slot the x it had in the drawing before; 0: none.
func (l *Layout) wishes(old map[*chain]int, before *Layout) []int {
	wish := make([]int, len(l.slotX))
	if before == nil {
		return wish
	}
	for _, c := range l.net.chains {
		if slot, ok := old[c]; ok && wish[c.slot] == 0 {
			wish[c.slot] = before.slotX[slot]
		}
	}
	forgetMoved(wish)
	return wish
}

// settleX puts the slots from..to where they were and moves them only as far as new ones push, between two edges. It
// reports whether there is room and there were any.
func (l *Layout) settleX(wish []int, from, to, begin, end int) bool {
	left, right := l.slotEdges(l.amount)
	x := make([]int, to+1)
	known := false
	for s := from; s <= to; s++ { // as far left as old places allow
		x[s] = begin - left[s]
		if wish[s] >= begin && wish[s] <= end {
			x[s], known = max(x[s], wish[s]), true
		}
		for t := from; t < s; t++ {
			x[s] = max(x[s], x[t]+l.pitches[t][s])
		}
	}
	for s := to; s >= from; s-- { // back in from the right edge
		x[s] = min(x[s], end-right[s])
		for t := s + 1; t <= to; t++ {
			x[s] = min(x[s], x[t]-l.pitches[s][t])
		}
		if x[s] < begin-left[s] {
			return false
		}
	}
	if known {
		copy(l.slotX[from:to+1], x[from:])
	}
	return known
}

// forgetMoved clears the wishes of those that no longer stand in the order they had: of as few as will do.
func forgetMoved(wish []int) {
	longest, last := make([]int, len(wish)), make([]int, len(wish)) // run of kept ones that ends here, and the one before
	end := -1
	for i, x := range wish {
		if last[i] = -1; x == 0 {
			continue
		}
		longest[i] = 1
		for j := range i {
			if wish[j] > 0 && wish[j] <= x && longest[j] >= longest[i] {
				longest[i], last[i] = longest[j]+1, j
			}
		}
		if end < 0 || longest[i] > longest[end] {
			end = i
		}
	}
	kept := make([]bool, len(wish))
	for ; end >= 0; end = last[end] {
		kept[end] = true
	}
	for i := range wish {
		if !kept[i] {
			wish[i] = 0
		}
	}
}
