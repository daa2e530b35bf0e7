package drawing

// This file holds sets of columns, a bit for each, so that the columns between two others are found at once.

import "math/bits"

// set is a set of small numbers.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) add(i int) { s[i/64] |= 1 << (i % 64) }

// meets counts what two sets have in common.
func (s set) meets(o set) int {
	count := 0
	for i, word := range s {
		count += bits.OnesCount64(word & o[i])
	}
	return count
}

// shelves tells which columns stand in which slots.
type shelves struct {
	before []set // for each slot, the columns left of it; one more than there are slots
	found  set   // scratch
}

func newShelves(n int) shelves {
	s := shelves{found: newSet(n)}
	for range 2*n + 3 {
		s.before = append(s.before, newSet(n))
	}
	return s
}

// fill puts columns into slots.
func (s *shelves) fill(slots []int, used int) {
	for at := range used + 1 {
		clear(s.before[at])
	}
	for c, slot := range slots {
		s.before[slot+1].add(c)
	}
	for at := 1; at <= used; at++ {
		for i, word := range s.before[at-1] {
			s.before[at][i] |= word
		}
	}
}

// among gives those of a set that stand in the slots from..to. What it gives holds until the next call.
func (s *shelves) among(of set, from, to int) set {
	left, right := s.before[from], s.before[max(from, to+1)]
	for i := range s.found {
		s.found[i] = right[i] &^ left[i] & of[i]
	}
	return s.found
}

// count counts them.
func (s *shelves) count(of set, from, to int) int {
	left, right := s.before[from], s.before[max(from, to+1)]
	count := 0
	for i := range left {
		count += bits.OnesCount64(right[i] &^ left[i] & of[i])
	}
	return count
}
