// Package record is recorded traces as data: what was read of several channels at uneven times, within a bounded room,
// and what a scope or a meter that keeps the extremes makes of it. It computes no circuit and draws nothing.
package record

// This file is the recording: rows of values, and the marks beside them.

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Channel is one thing recorded.
type Channel struct {
	Name       string
	Unit       string   // V, A, °C, %, rad/s; "" for a mode
	Words      []string // of a mode: the word for each value, from 0
	Resolution float64  // one count of the display that shows it, in Unit; 0: told as exactly as it is known
}

// Recording is rows of values, one value for each channel, at times that never go back. Between two rows a value goes
// in a straight line; two rows at the same time are a jump. Once its room is full it is thinned: rows are left out, but
// never the smallest or largest value that a channel had in a stretch (see Width). It is not safe for use by two
// goroutines at once.
type Recording struct {
	channels []Channel
	room     int

	rows    []float64 // each: seconds, the values, and each value's sum over time up to here
	buckets []bucket
	width   float64
	marks   marks
	hear    []func(seconds float64, values []float64) error
}

// bucket is the rows of a stretch of time that are thinned together: up to the next bucket's first one.
type bucket struct {
	first   int
	thinned bool
}

// DefaultRoom is enough rows for most runs.
const DefaultRoom = 1 << 16

// leastRoom is the fewest rows that can hold the extremes of several stretches.
func leastRoom(channels int) int { return 16 * (2*channels + 2) }

// New begins a recording that holds so many rows at most; 0 stands for DefaultRoom, and very small ones are enlarged.
func New(channels []Channel, room int) *Recording {
	if room == 0 {
		room = DefaultRoom
	}
	return &Recording{channels: slices.Clone(channels), room: max(room, leastRoom(len(channels)))}
}

// Channels are those recorded, in order.
func (r *Recording) Channels() []Channel { return r.channels }

func (r *Recording) stride() int { return 1 + 2*len(r.channels) }

// Rows is how many rows are kept.
func (r *Recording) Rows() int { return len(r.rows) / r.stride() }

// Seconds is the time of a row.
func (r *Recording) Seconds(row int) float64 { return r.rows[row*r.stride()] }

// Value is a channel's value in a row, in its unit.
func (r *Recording) Value(row, channel int) float64 { return r.rows[row*r.stride()+1+channel] }

// sum is a channel's value summed over time from the first row to this one, in its unit times seconds.
func (r *Recording) sum(row, channel int) float64 {
	return r.rows[row*r.stride()+1+len(r.channels)+channel]
}

// Span is the time of the first and of the last row, in seconds.
func (r *Recording) Span() (from, to float64) {
	if r.Rows() == 0 {
		return 0, 0
	}
	return r.Seconds(0), r.Seconds(r.Rows() - 1)
}

// Width is the longest stretch, in seconds, of which only the ends and each channel's smallest and largest value are
// kept; 0 while every row is.
func (r *Recording) Width() float64 { return r.width }

// Add records a row. It is refused where it goes back in time, has not one value for each channel, or holds what is no
// finite number.
func (r *Recording) Add(seconds float64, values ...float64) error {
	if err := r.refuse(seconds, values); err != nil {
		return err
	}
	last := r.Rows() - 1
	if last >= 0 && r.Seconds(last) == seconds && slices.Equal(r.values(last), values) {
		return nil // it says nothing new
	}
	r.rows = append(append(r.rows, seconds), values...)
	for c, v := range values {
		sum := 0.0
		if last >= 0 {
			sum = r.sum(last, c) + (seconds-r.Seconds(last))*(v+r.Value(last, c))/2
		}
		r.rows = append(r.rows, sum)
	}
	r.place(last + 1)
	for _, hear := range r.hear {
		if err := hear(seconds, values); err != nil {
			return err
		}
	}
	return nil
}

func (r *Recording) refuse(seconds float64, values []float64) error {
	if len(values) != len(r.channels) {
		return fmt.Errorf("%d values for %d channels", len(values), len(r.channels))
	}
	if !sane(seconds) {
		return fmt.Errorf("a row at %g s: that is no time", seconds)
	}
	for c, v := range values {
		if !sane(v) {
			return fmt.Errorf("%s at %g s is %g, which is no value", r.channels[c].Name, seconds, v)
		}
	}
	if _, to := r.Span(); r.Rows() > 0 && seconds < to {
		return fmt.Errorf("a row at %g s comes after one at %g s", seconds, to)
	}
	return nil
}

// sane reports whether a number can be reckoned with: neither none, nor beyond all bounds.
func sane(v float64) bool { return math.Abs(v) < 1e100 }

func (r *Recording) values(row int) []float64 {
	at := row*r.stride() + 1
	return r.rows[at : at+len(r.channels)]
}

// At is a channel's value at a time: on the straight line between two rows, of a jump what it jumps to, and outside the
// recording its first or last value. An empty recording gives NaN.
func (r *Recording) At(seconds float64, channel int) float64 {
	before := r.rowAt(seconds)
	switch {
	case r.Rows() == 0:
		return math.NaN()
	case before < 0:
		return r.Value(0, channel)
	case before == r.Rows()-1:
		return r.Value(before, channel)
	}
	return r.between(before, seconds, channel)
}

// rowAt is the last row at or before a time, or -1.
func (r *Recording) rowAt(seconds float64) int {
	return sort.Search(r.Rows(), func(i int) bool { return r.Seconds(i) > seconds }) - 1
}

// between is the value on the line from a row to the next, which is later.
func (r *Recording) between(row int, seconds float64, channel int) float64 {
	from, to := r.Seconds(row), r.Seconds(row+1)
	share := (seconds - from) / (to - from)
	return r.Value(row, channel)*(1-share) + r.Value(row+1, channel)*share
}

// Back takes away everything later than a time, as if it had not happened.
func (r *Recording) Back(seconds float64) {
	keep := r.rowAt(seconds) + 1
	r.rows = r.rows[:keep*r.stride()]
	for len(r.buckets) > 0 && r.buckets[len(r.buckets)-1].first >= keep {
		r.buckets = r.buckets[:len(r.buckets)-1]
	}
	r.marks.back(seconds)
}

// Forget takes away what is older than a time, but for the row from which a line leads there.
func (r *Recording) Forget(before float64) {
	drop := r.rowAt(before)
	if drop < 1 {
		return
	}
	at := sort.Search(len(r.buckets), func(i int) bool { return r.buckets[i].first > drop }) - 1
	left := slices.Clone(r.buckets[at:])
	for i := range left {
		left[i].first = max(0, left[i].first-drop)
	}
	r.buckets = left
	r.rows = append(r.rows[:0], r.rows[drop*r.stride():]...)
	r.marks.forget(before)
	if r.Rows() < r.room/4 && !slices.ContainsFunc(r.buckets, func(b bucket) bool { return b.thinned }) {
		r.width = 0
	}
}

// Part is a copy of what lies between two times, the values there included.
func (r *Recording) Part(from, to float64) *Recording {
	p := New(r.channels, r.room)
	first, last := r.Span()
	from, to = max(from, first), min(to, last)
	if r.Rows() == 0 || from > to {
		return p
	}
	row := make([]float64, len(r.channels))
	edge := func(seconds float64) {
		for c := range row {
			row[c] = r.At(seconds, c)
		}
		p.take(seconds, row)
	}
	start := sort.Search(r.Rows(), func(i int) bool { return r.Seconds(i) >= from })
	if r.Seconds(start) > from {
		edge(from)
	}
	i := start
	for ; i < r.Rows() && r.Seconds(i) <= to; i++ {
		p.take(r.Seconds(i), r.values(i))
	}
	if _, end := p.Span(); end < to {
		edge(to)
	}
	p.width = r.width
	for _, m := range r.Marks() {
		if m.Seconds >= from && m.Seconds <= to {
			p.marks.add(m)
		}
	}
	return p
}

// take records a row that is known to be good.
func (r *Recording) take(seconds float64, values []float64) {
	if err := r.Add(seconds, values...); err != nil {
		panic("record: " + err.Error())
	}
}

// Listen has every further row told to somebody, in order and before any is left out: a scope, a meter. An error ends
// the Add.
func (r *Recording) Listen(hear func(seconds float64, values []float64) error) {
	r.hear = append(r.hear, hear)
}

// Display says how finely a channel is shown: one count, in its unit.
func (r *Recording) Display(channel int, resolution float64) {
	r.channels[channel].Resolution = resolution
}

// FirstEdge finds where a channel first crosses a level at or after a time. ok is false where it does not.
func (r *Recording) FirstEdge(t Trigger, from float64) (seconds float64, ok bool) {
	e := edge{Level: t.Level, Quiet: t.Quiet, Falling: t.Slope == Falling}
	for i := max(0, r.rowAt(from)); i < r.Rows(); i++ {
		if at, crossed := e.see(r.Seconds(i), r.Value(i, t.Channel)); crossed && at >= from {
			return at, true
		}
	}
	return 0, false
}
