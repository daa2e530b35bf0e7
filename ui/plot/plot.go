// Package plot draws a recording: as text for a terminal, and as a scene of plain shapes, which is also its SVG. Each
// channel has a panel of its own over one axis of time, so that nothing rests on colour. Wherever more was recorded than
// there are columns, a column reaches from the smallest to the largest value: a dip stays visible however short.
package plot

// This file is what is drawn, and how its marks are named.

import (
	"fmt"

	"underload/sim/record"
)

// Level is a value of a channel that matters, such as the one below which a module resets.
type Level struct {
	Channel int
	Value   float64 // in the channel's unit
	Words   string
}

// Page is a recording to be drawn and what has to be said with it.
type Page struct {
	Title, Setting string
	Notes          []string // below the picture
	Recording      *record.Recording
	From, To       float64 // seconds; both 0: all of it
	Levels         []Level
	Width          float64 // of the picture in px; 0 for the ordinary width
}

// window is the time that is drawn: never empty.
func (p Page) window() (from, to float64) {
	from, to = p.From, p.To
	if from == 0 && to == 0 {
		from, to = p.Recording.Span()
	}
	if !(to > from) {
		to = from + 1
	}
	return from, to
}

// Tagged is a mark with the letter that stands for it: a capital for what was done, a small one for what happened. What
// there are no letters for is one mark without, at the end.
type Tagged struct {
	record.Mark
	Tag string
}

// letters is how many of each kind have a letter.
const letters = 26

// Tag names the marks of a recording between two times. What happens again and again is told once, if there are not
// letters enough otherwise.
func Tag(marks []record.Mark, from, to float64) []Tagged {
	var within []record.Mark
	for _, m := range marks {
		if m.Seconds >= from && m.Seconds <= to {
			within = append(within, m)
		}
	}
	told := within
	for often := 6; often > 0 && happened(told) > letters; often-- {
		told = record.Told(within, often)
	}
	var tagged, rest []Tagged
	acts, cues := 0, 0
	for _, m := range told {
		switch {
		case m.Done && acts < letters:
			tagged = append(tagged, Tagged{m, string(rune('A' + acts))})
			acts++
		case !m.Done && cues < letters:
			tagged = append(tagged, Tagged{m, string(rune('a' + cues))})
			cues++
		default:
			rest = append(rest, Tagged{Mark: m})
		}
	}
	if len(rest) > 1 {
		rest[0].Words = fmt.Sprintf("and %d more until %s", len(rest), Time(rest[len(rest)-1].Seconds, to-from))
		rest[0].More = 0
		rest = rest[:1]
	}
	return append(tagged, rest...)
}

// happened counts the marks of what happened by itself.
func happened(marks []record.Mark) int {
	n := 0
	for _, m := range marks {
		if !m.Done {
			n++
		}
	}
	return n
}

// column is what a channel did in one column of a picture.
type column struct {
	low, high float64
	ok        bool // something was recorded there
}

// columns is the smallest and largest value of a channel in each of n columns between two times, their edges included,
// so that neighbours join.
func columns(r *record.Recording, channel int, from, to float64, n int) []column {
	all := make([]column, n)
	first, last := r.Span()
	row := 0
	for row < r.Rows() && r.Seconds(row) < from {
		row++
	}
	for k := range all {
		a := from + (to-from)*float64(k)/float64(n)
		b := from + (to-from)*float64(k+1)/float64(n)
		if r.Rows() == 0 || b < first || a > last {
			continue
		}
		c := column{ok: true}
		c.low = r.At(min(max(a, first), last), channel)
		c.high = c.low
		c.reach(r.At(min(max(b, first), last), channel))
		for row < r.Rows() && r.Seconds(row) <= b {
			c.reach(r.Value(row, channel))
			row++
		}
		if row > 0 && r.Seconds(row-1) == b { // a jump on the edge belongs to both
			for back := row - 1; back >= 0 && r.Seconds(back) == b; back-- {
				row = back
			}
		}
		all[k] = c
	}
	return all
}

func (c *column) reach(v float64) { c.low, c.high = min(c.low, v), max(c.high, v) }
