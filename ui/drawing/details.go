package drawing

// This file gives up second lines one by one, where they keep a drawing from fitting on its page.

import "slices"

// dropDetails gives up the widest second line on the chain of claims that makes the drawing as wide as it is, again and
// again, and reports the width it comes to.
func (l *Layout) dropDetails(least, room int) int {
	l.amount.dropped = map[any]bool{}
	for least > room {
		widest, which := 0, any(nil)
		l.alongCritical(func(c claim) {
			if gain := l.gain(c.detail); gain > widest {
				widest, which = gain, c.detail
			}
		})
		if which == nil {
			break
		}
		l.amount.dropped[which] = true
		least = l.layAcross(l.amount)
	}
	return least
}

// gain is the room that a symbol or box without its second line would give back.
func (l *Layout) gain(of any) int {
	if of == nil || l.amount.dropped[of] {
		return 0
	}
	less := l.amount
	less.details = false
	switch of := of.(type) {
	case *symbol:
		full, bare := of.labelRect(l.amount, 0, false), of.labelRect(less, 0, false)
		return full.x1 - full.x0 - bare.x1 + bare.x0
	case *hub:
		return of.boxWidth(l.amount) - of.boxWidth(less)
	}
	return 0
}

// alongCritical visits the claims that push the last column to where it is.
func (l *Layout) alongCritical(visit func(claim)) {
	claims := l.claims(l.amount)
	at := 0
	for s, x := range l.slotX { // the column whose words end furthest to the right
		for _, c := range claims[s] {
			if x+c.x1 >= l.slotX[at]+rightmost(claims[at]) {
				at = s
			}
		}
	}
	for _, c := range claims[at] {
		if c.x1 == rightmost(claims[at]) {
			visit(c)
		}
	}
	for at > 0 {
		before := -1
		for t := range at {
			if l.slotX[t]+l.pitches[t][at] == l.slotX[at] {
				before = t
			}
		}
		if before < 0 {
			return
		}
		for _, a := range claims[before] {
			for _, b := range claims[at] {
				if a.y0 < b.y1 && b.y0 < a.y1 && (a.owner == nil || a.owner != b.owner) && a.x1-b.x0+l.amount.gap == l.pitches[before][at] {
					visit(a)
					visit(b)
				}
			}
		}
		at = before
	}
}

func rightmost(claims []claim) int {
	right := 0
	for _, c := range claims {
		right = max(right, c.x1)
	}
	return right
}

// dropWidest gives up as few second lines as will do for so many sheets, the widest first. It reports whether that works.
func (l *Layout) dropWidest(sheets int) bool {
	all := map[any]bool{}
	var order []any
	for _, claims := range l.claims(l.amount) {
		for _, c := range claims {
			if !all[c.detail] && l.gain(c.detail) > 0 {
				all[c.detail] = true
				order = append(order, c.detail)
			}
		}
	}
	slices.SortStableFunc(order, func(a, b any) int { return l.gain(b) - l.gain(a) })
	fits := func(n int) bool {
		l.amount.dropped = map[any]bool{}
		for _, of := range order[:n] {
			l.amount.dropped[of] = true
		}
		l.layAcross(l.amount)
		return len(l.sheetsWith(l.amount)) <= sheets
	}
	low, high := 0, len(order) // too few, enough
	if !fits(high) {
		return false
	}
	for high-low > 1 {
		if middle := (low + high) / 2; fits(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return fits(high)
}
