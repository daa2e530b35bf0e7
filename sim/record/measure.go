package record

// This file measures a channel over a stretch of time: extremes, mean, period, time below a level.

import (
	"math"
	"sort"
)

// Measured is what a channel did over a stretch. Values are in its unit.
type Measured struct {
	FromSeconds, ToSeconds float64 // within the recording
	Start, End             float64
	Min, MinSeconds        float64 // the smallest value, and when it was first reached
	Max, MaxSeconds        float64
	Mean                   float64 // over time; exact wherever rows have been left out between the ends of the stretch
}

// PeakToPeak is the largest value less the smallest.
func (m Measured) PeakToPeak() float64 { return m.Max - m.Min }

// Measure measures a channel between two times. ok is false where nothing is recorded there.
func (r *Recording) Measure(channel int, from, to float64) (m Measured, ok bool) {
	first, last := r.Span()
	from, to = max(from, first), min(to, last)
	if r.Rows() == 0 || !(from <= to) {
		return m, false
	}
	m = Measured{FromSeconds: from, ToSeconds: to, Start: r.before(from, channel), End: r.At(to, channel)}
	m.Min, m.MinSeconds, m.Max, m.MaxSeconds = math.Inf(1), 0, math.Inf(-1), 0
	see := func(seconds, v float64) {
		if v < m.Min {
			m.Min, m.MinSeconds = v, seconds
		}
		if v > m.Max {
			m.Max, m.MaxSeconds = v, seconds
		}
	}
	see(from, m.Start)
	for i := r.firstAt(from); i < r.Rows() && r.Seconds(i) <= to; i++ {
		see(r.Seconds(i), r.Value(i, channel))
	}
	see(to, m.End)
	m.Mean = m.Start
	if to > from {
		m.Mean = (r.sumAt(to, channel) - r.sumAt(from, channel)) / (to - from)
	}
	return m, true
}

// firstAt is the first row at or after a time.
func (r *Recording) firstAt(seconds float64) int {
	return sort.Search(r.Rows(), func(i int) bool { return r.Seconds(i) >= seconds })
}

// before is a value as At gives it, but of a jump what it jumps from.
func (r *Recording) before(seconds float64, channel int) float64 {
	if at := r.firstAt(seconds); at < r.Rows() && r.Seconds(at) == seconds {
		return r.Value(at, channel)
	}
	return r.At(seconds, channel)
}

// sumAt is the sum over time up to a time inside the recording. Between rows of which others have been left out, what
// these add is spread evenly.
func (r *Recording) sumAt(seconds float64, channel int) float64 {
	i := r.rowAt(seconds)
	if i == r.Rows()-1 {
		return r.sum(i, channel)
	}
	from, to := r.Seconds(i), r.Seconds(i+1)
	line := (to - from) * (r.Value(i, channel) + r.Value(i+1, channel)) / 2
	left := r.sum(i+1, channel) - r.sum(i, channel) - line
	here := (seconds - from) * (r.Value(i, channel) + r.between(i, seconds, channel)) / 2
	return r.sum(i, channel) + here + left*(seconds-from)/(to-from)
}

// Below is how long a channel was below a level between two times, in seconds, and by how much that may be wrong
// because rows have been left out.
func (r *Recording) Below(channel int, level, from, to float64) (seconds, within float64) {
	first, last := r.Span()
	from, to = max(from, first), min(to, last)
	if r.Rows() == 0 || !(from < to) || math.IsNaN(level) {
		return 0, 0
	}
	for i := max(0, r.rowAt(from)); i+1 < r.Rows() && r.Seconds(i) < to; i++ {
		a, b := max(from, r.Seconds(i)), min(to, r.Seconds(i+1))
		if a >= b {
			continue
		}
		seconds += below(r.between(i, a, channel), r.between(i, b, channel), level) * (b - a)
	}
	for n, b := range r.buckets {
		end := r.lastOf(r.buckets, n, r.Rows())
		if !b.thinned || !r.crosses(b.first, end, channel, level) {
			continue
		}
		within += max(0, min(to, r.Seconds(end))-max(from, r.Seconds(b.first)))
	}
	return seconds, within
}

// below is the share of a straight line that lies below a level.
func below(start, end, level float64) float64 {
	switch {
	case start < level && end < level:
		return 1
	case start >= level && end >= level:
		return 0
	case start < level:
		return (level - start) / (end - start)
	}
	return (level - end) / (start - end)
}

// crosses reports whether rows lie on both sides of a level.
func (r *Recording) crosses(from, to, channel int, level float64) bool {
	under, over := false, false
	for i := from; i <= to; i++ {
		v := r.Value(i, channel)
		under, over = under || v < level, over || v >= level
	}
	return under && over
}

// Beat is how often a channel comes back to the same point.
type Beat struct {
	Seconds           float64 // the period, in the mean
	Shortest, Longest float64 // of the periods seen, in seconds
	Periods           int     // whole ones
}

// Hertz is the frequency.
func (b Beat) Hertz() float64 { return 1 / b.Seconds }

// quiet is how far, as a share of peak to peak, a value has to come back before another crossing counts, so that a
// ripple is not taken for the beat (common practice, no source).
const quiet = 0.1

// Beat finds the period of a channel between two times, from one rising crossing of the middle between its extremes to
// the next. ok is false where there is not one whole period, and where too many rows have been left out to tell.
func (r *Recording) Beat(channel int, from, to float64) (b Beat, ok bool) {
	m, ok := r.Measure(channel, from, to)
	if !ok || m.PeakToPeak() == 0 {
		return b, false
	}
	var last float64
	edge := edge{Level: (m.Min + m.Max) / 2, Quiet: quiet * m.PeakToPeak()}
	edge.see(m.FromSeconds, m.Start)
	met := false
	for i := r.firstAt(from); i < r.Rows() && r.Seconds(i) <= to; i++ {
		at, crossed := edge.see(r.Seconds(i), r.Value(i, channel))
		if !crossed {
			continue
		}
		if met {
			period := at - last
			if b.Periods == 0 {
				b.Shortest, b.Longest = period, period
			}
			b.Shortest, b.Longest = min(b.Shortest, period), max(b.Longest, period)
			b.Seconds += period
			b.Periods++
		}
		last, met = at, true
	}
	if b.Periods == 0 || b.Shortest < 4*r.width {
		return Beat{}, false
	}
	b.Seconds /= float64(b.Periods)
	return b, true
}
