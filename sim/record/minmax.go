package record

// This file is a hand-held meter that keeps the smallest and largest value it has shown.

import (
	"fmt"
	"math"
)

// How long a dip has to last for a hand-held meter to show all of it (common practice, no source): as the meter comes,
// and in its peak mode.
const (
	OrdinaryResponse = 0.100 // s
	PeakResponse     = 0.001 // s
)

// MinMax is such a meter. What it shows at any time is the mean over its response before that time: a dip that lasts as
// long is shown in full, one that lasts half as long by half. Before the first value it is taken to have been there
// since long ago.
type MinMax struct {
	response float64
	past     []moment // from the last one at or before now less the response
	low      Extreme
	high     Extreme
	now      float64
}

// moment is a value and its sum over time so far.
type moment struct{ seconds, value, sum float64 }

// Extreme is a value shown, and when.
type Extreme struct{ Value, Seconds float64 }

// NewMinMax is a meter with a response in seconds, above 0.
func NewMinMax(response float64) *MinMax {
	if !(response > 0) {
		panic("record: a meter needs a response above 0 s")
	}
	return &MinMax{response: response}
}

// Response is that of the meter, in seconds.
func (m *MinMax) Response() float64 { return m.response }

// Reset lets the meter begin anew with what it shows now, as its button does.
func (m *MinMax) Reset() {
	if n := len(m.past); n > 0 {
		at := Extreme{m.now, m.past[n-1].seconds}
		m.low, m.high = at, at
	}
}

// Shows is the smallest and the largest value shown since the start or the last Reset, and the present one. ok is false
// before the first value.
func (m *MinMax) Shows() (low, high Extreme, now float64, ok bool) {
	return m.low, m.high, m.now, len(m.past) > 0
}

// crumb is the share of the response within which values are not held one by one. It bounds the room; what is shown
// stays exact but for the shape of the curve within a crumb.
const crumb = 1.0 / 1024

// Add gives the meter the next value. It refuses a time that goes back and what is no finite number.
func (m *MinMax) Add(seconds, value float64) error {
	if !sane(seconds) || !sane(value) {
		return fmt.Errorf("%g at %g s is no value", value, seconds)
	}
	if len(m.past) == 0 {
		m.past = []moment{{seconds - 2*m.response, value, 0}, {seconds, value, 2 * m.response * value}}
		m.now = value
		m.Reset()
		return nil
	}
	last := m.past[len(m.past)-1]
	if seconds < last.seconds {
		return fmt.Errorf("a value at %g s comes after one at %g s", seconds, last.seconds)
	}
	next := moment{seconds, value, last.sum + (seconds-last.seconds)*(last.value+value)/2}
	m.sweep(last, next)
	m.hold(next)
	return nil
}

// sweep lets the window move from one moment to the next and keeps the extremes of its mean. Between two bends, of the
// curve or of the curve as it was a response ago, the mean goes along a parabola.
func (m *MinMax) sweep(last, next moment) {
	from := last.seconds
	tail := 0
	for from < next.seconds {
		for tail+1 < len(m.past) && m.past[tail+1].seconds <= from-m.response {
			tail++
		}
		to := next.seconds
		if tail+1 < len(m.past) {
			to = min(to, m.past[tail+1].seconds+m.response)
		}
		if to <= from { // no further in the figures there are
			to = min(next.seconds, math.Nextafter(from, math.Inf(1)))
		}
		m.stretch(last, next, tail, from, to)
		from = to
	}
}

// stretch is one parabola.
func (m *MinMax) stretch(last, next moment, tail int, from, to float64) {
	gone := func(seconds float64) moment { return m.gone(last, next, tail, seconds-m.response) }
	head := func(seconds float64) moment { return along(last, next, seconds) }
	mean := func(seconds float64) float64 { return (head(seconds).sum - gone(seconds).sum) / m.response }
	m.see(to, mean(to))
	slope := func(seconds float64) float64 { return head(seconds).value - gone(seconds).value }
	if a, b := slope(from), slope(to); a*b < 0 {
		top := from + (to-from)*a/(a-b)
		m.see(top, mean(top))
	}
	m.now = mean(to)
}

// gone is the moment a response ago, which may lie on the line that is just being added.
func (m *MinMax) gone(last, next moment, tail int, seconds float64) moment {
	if tail+1 < len(m.past) {
		return along(m.past[tail], m.past[tail+1], seconds)
	}
	return along(last, next, seconds)
}

// along is the moment at a time on the line between two.
func along(a, b moment, seconds float64) moment {
	if b.seconds <= a.seconds {
		return b
	}
	share := (seconds - a.seconds) / (b.seconds - a.seconds)
	value := a.value + (b.value-a.value)*share
	return moment{seconds, value, a.sum + (seconds-a.seconds)*(a.value+value)/2}
}

func (m *MinMax) see(seconds, value float64) {
	if value < m.low.Value {
		m.low = Extreme{value, seconds}
	}
	if value > m.high.Value {
		m.high = Extreme{value, seconds}
	}
}

// hold keeps a moment and lets go of those that are not needed any more. Moments closer than a crumb to the last but one
// take the place of the last.
func (m *MinMax) hold(next moment) {
	n := len(m.past)
	if n >= 2 && next.seconds-m.past[n-2].seconds < crumb*m.response {
		m.past[n-1] = next
	} else {
		m.past = append(m.past, next)
	}
	drop := 0
	for drop+1 < len(m.past) && m.past[drop+1].seconds <= next.seconds-m.response {
		drop++
	}
	if drop > 0 {
		m.past = append(m.past[:0], m.past[drop:]...)
	}
}
