package tidy

// This file gives each comment to the item it speaks of: beside what stands before it on its line, else above what comes
// next, or at the foot of a block when it is indented like that block and the block ends there.

import "strings"

// attach gives every comment of the source to an item.
func (s *source) attach(top *item) {
	all := inOrder(top)
	header := s.header(all)
	next := 0 // the first item that begins after the comment
	for _, c := range s.comments {
		for next < len(all) && all[next].start < c.start {
			next++
		}
		var before, after *item
		if next > 0 {
			before = all[next-1]
		}
		if next < len(all) {
			after = all[next]
		}
		r := remark{c.text, s.empty(s.lineOf(c.start) - 1)}
		switch {
		case before == nil && c.start < header:
			top.above = append(top.above, r)
		case before == nil:
			after.above = append(after.above, r)
		case !c.own:
			it := besideWhat(before, c.start)
			it.beside = append(it.beside, c.text)
		default:
			s.own(top, before, after, c, r)
		}
	}
	for _, it := range append(all, top) {
		settle(it)
	}
}

// inOrder lists all items that have a place, in the order of the source.
func inOrder(it *item) []*item {
	var all []*item
	for _, kid := range it.kids {
		if kid.start >= 0 {
			all = append(all, kid)
		}
		all = append(all, inOrder(kid)...)
	}
	return all
}

// header gives the offset up to which comments speak of the whole file: the last empty line before the first item.
func (s *source) header(all []*item) int {
	if len(all) == 0 {
		return len(s.text)
	}
	for line := s.lineOf(all[0].start) - 1; line > 0; line-- {
		if s.empty(line) {
			return s.lines[line]
		}
	}
	return 0
}

// besideWhat finds what a comment stands beside: what began last before it, or the brackets that ended after that.
func besideWhat(it *item, at int) *item {
	found := it
	for up := it.parent; up != nil && up.parent != nil; up = up.parent {
		if up.flow && up.end <= at {
			found = up
		}
	}
	return found
}

// own gives a comment on a line of its own to an item.
func (s *source) own(top, before, after *item, c comment, r remark) {
	if c.start < before.value && (before.leaf || before.flow) { // between a key and its value
		before.above = append(before.above, r)
		return
	}
	for it := before; it != nil; it = it.parent {
		if it.flow && it.value < c.start && c.start < it.end {
			if after != nil && after.start < it.end {
				after.above = append(after.above, r)
			} else {
				it.foot = append(it.foot, r)
			}
			return
		}
	}
	line := s.line(s.lineOf(c.start))
	column, least := len(line)-len(strings.TrimLeft(line, " \t")), -1 // of a sign between documents, if one stands before it
	if after != nil {
		least = s.columnOf(after.start)
		if after.parent.list && !after.parent.flow {
			least = after.parent.column
		}
	}
	for it := before; it != nil; it = it.parent {
		if len(it.kids) > 0 && it.kids[0].start >= 0 && !it.flow && it.column <= column && it.column > least && !holds(it, after) {
			it.foot = append(it.foot, r)
			return
		}
	}
	if after == nil {
		top.foot = append(top.foot, r)
	} else {
		after.above = append(after.above, r)
	}
}

// holds says that an item lies inside another.
func holds(it, inner *item) bool {
	for ; inner != nil; inner = inner.parent {
		if inner == it {
			return true
		}
	}
	return false
}

// settle leaves an item with at most one comment beside it, and none at a foot that will not be written.
func settle(it *item) {
	for len(it.beside) > 1 {
		it.above = append(it.above, remark{text: it.beside[0]})
		it.beside = it.beside[1:]
	}
	if len(it.kids) == 0 && it.parent != nil {
		it.above = append(it.above, it.foot...)
		it.foot = nil
	}
}
