package record

// This file thins a recording whose room is full, and adds rows where a curve bends.

import (
	"math"
	"slices"
	"sort"
)

// place puts the newest row into the last bucket, or into one of its own, and makes room.
func (r *Recording) place(row int) {
	last := len(r.buckets) - 1
	if last < 0 || r.width == 0 || r.Seconds(row)-r.Seconds(r.buckets[last].first) > r.width {
		r.buckets = append(r.buckets, bucket{first: row})
	} else if row-r.buckets[last].first > 2*(2*len(r.channels)+2) {
		r.thinLast()
	}
	if r.Rows() > r.room {
		r.thin()
	}
}

// thinLast thins the bucket that is being filled.
func (r *Recording) thinLast() {
	b := &r.buckets[len(r.buckets)-1]
	rows := r.keep(b.first, r.Rows())
	b.thinned = true
	r.rows = r.rows[:r.move(rows, b.first)*r.stride()]
}

// thin joins neighbouring buckets that together are no longer than a width, and makes the width larger until three
// quarters of the room will do. What stands far apart in time is not joined, so that a burst is thinned first.
func (r *Recording) thin() {
	from, to := r.Span()
	// Two joined buckets in a row are longer than the width, so that there are at most twice as many as widths in the
	// span. With this width they surely fit into half the room.
	enough := 4 * float64(2*len(r.channels)+2) * (to - from) / float64(r.room)
	for r.width = max(2*r.width, enough/16); ; r.width *= 2 {
		r.join()
		if r.Rows() <= r.room*3/4 || r.width > 2*enough {
			return
		}
	}
}

// join is one pass of thin.
func (r *Recording) join() {
	old, ends := r.buckets, r.Rows()
	r.buckets = nil
	kept := 0
	for i := 0; i < len(old); {
		start := r.Seconds(old[i].first)
		j := i + 1
		for j < len(old) && r.Seconds(r.lastOf(old, j, ends))-start <= r.width {
			j++
		}
		end := ends
		if j < len(old) {
			end = old[j].first
		}
		rows := r.keep(old[i].first, end)
		thinned := len(rows) < end-old[i].first || slices.ContainsFunc(old[i:j], func(b bucket) bool { return b.thinned })
		r.buckets = append(r.buckets, bucket{kept, thinned})
		kept = r.move(rows, kept)
		i = j
	}
	r.rows = r.rows[:kept*r.stride()]
}

func (r *Recording) lastOf(buckets []bucket, i, ends int) int {
	if i+1 < len(buckets) {
		return buckets[i+1].first - 1
	}
	return ends - 1
}

// keep chooses the rows of a stretch that stay: its ends, and where each channel is smallest and largest.
func (r *Recording) keep(from, end int) []int {
	rows := []int{from, end - 1}
	for c := range r.channels {
		low, high := from, from
		for i := from; i < end; i++ {
			if r.Value(i, c) < r.Value(low, c) {
				low = i
			}
			if r.Value(i, c) > r.Value(high, c) {
				high = i
			}
		}
		rows = append(rows, low, high)
	}
	sort.Ints(rows)
	return slices.Compact(rows)
}

// move copies rows down to a place before them, and gives the place behind.
func (r *Recording) move(rows []int, to int) int {
	n := r.stride()
	for _, row := range rows {
		copy(r.rows[to*n:(to+1)*n], r.rows[row*n:(row+1)*n])
		to++
	}
	return to
}

// deepest is how often Follow halves a step.
const deepest = 6

// Follow records a curve from the last row to a time, with rows between where it bends: until the middle of a stretch
// lies within fine of the straight line, for every channel. fine is a share of the value, or of one in its unit if that
// is more. Stretches shorter than short, in seconds, are not looked into. read gives the curve at a time.
func (r *Recording) Follow(to, fine, short float64, read func(seconds float64, values []float64)) error {
	values := func(seconds float64) []float64 {
		v := make([]float64, len(r.channels))
		read(seconds, v)
		return v
	}
	end := values(to)
	if last := r.Rows() - 1; last >= 0 && to-r.Seconds(last) > short {
		start := slices.Clone(r.values(last))
		if err := r.bend(r.Seconds(last), to, start, end, fine, short, deepest, values); err != nil {
			return err
		}
	}
	return r.Add(to, end...)
}

// bend records what lies between two rows, without them.
func (r *Recording) bend(from, to float64, start, end []float64, fine, short float64, depth int, values func(float64) []float64) error {
	middle := from + (to-from)/2
	if depth == 0 || to-from <= short || middle <= from || middle >= to {
		return nil
	}
	at := values(middle)
	straight := onLine(at, start, end, 0.5, fine)
	if straight && depth == deepest { // a whole wave crosses the line in its middle
		straight = onLine(values(from+(to-from)/4), start, end, 0.25, fine) && onLine(values(from+3*(to-from)/4), start, end, 0.75, fine)
	}
	if straight {
		return nil
	}
	if err := r.bend(from, middle, start, at, fine, short, depth-1, values); err != nil {
		return err
	}
	if err := r.Add(middle, at...); err != nil {
		return err
	}
	return r.bend(middle, to, at, end, fine, short, depth-1, values)
}

// onLine reports whether values lie on the line between two rows, at a share of the way.
func onLine(at, start, end []float64, share, fine float64) bool {
	for c, v := range at {
		reach := max(1, math.Abs(start[c]), math.Abs(end[c]), math.Abs(v))
		if math.Abs(v-start[c]*(1-share)-end[c]*share) > fine*reach {
			return false
		}
	}
	return true
}
