package plot

// This file is axes: which values they span, where their ticks stand, and how times and values are written.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"underload/circuit/quantity"
	"underload/sim/record"
)

// scale is the axis of a channel's values.
type scale struct {
	from, to float64 // at the foot and at the top, in the channel's unit
	times    float64 // a value in the unit that is shown: 1000 for mV
	unit     string
	words    []string // of a mode
}

// scaleOf spans what a channel does between two times, and the levels that lie near.
func scaleOf(p Page, channel int) scale {
	r := p.Recording
	ch := r.Channels()[channel]
	s := scale{times: 1, unit: ch.Unit, words: ch.Words}
	from, to := p.window()
	m, ok := r.Measure(channel, from, to)
	if !ok {
		m.Min, m.Max = 0, 1
	}
	if len(ch.Words) > 0 { // only the modes that it has been in, and those between
		s.from, s.to = m.Min-0.4, m.Max+0.4
		return s
	}
	low, high := m.Min, m.Max
	for _, l := range p.Levels {
		if reach := m.PeakToPeak(); l.Channel == channel && l.Value > m.Min-reach && l.Value < m.Max+reach {
			low, high = min(low, l.Value), max(high, l.Value)
		}
	}
	// What is as good as flat is not blown up to show the last digits of the arithmetic.
	most := max(math.Abs(low), math.Abs(high))
	if least := max(4e-3*most, 4*ch.Resolution, 1e-9); high-low < least {
		middle := (low + high) / 2
		low, high = middle-least/2, middle+least/2
	}
	pad := 0.06 * (high - low)
	s.from, s.to = low-pad, high+pad
	if m.Min >= 0 && s.from < 0 {
		s.from = 0 - 0.02*(high-low)
	}
	if ch.Unit == "V" || ch.Unit == "A" || ch.Unit == "W" {
		switch {
		case most < 1e-3:
			s.times, s.unit = 1e6, "µ"+ch.Unit
		case most < 1:
			s.times, s.unit = 1e3, "m"+ch.Unit
		}
	}
	return s
}

// share is how far up a value stands, from 0 to 1.
func (s scale) share(v float64) float64 { return min(1, max(0, (v-s.from)/(s.to-s.from))) }

// tick is a place on an axis with its words.
type tick struct {
	at    float64
	words string
}

// ticks are about so many round values, in their order.
func (s scale) ticks(about int) []tick {
	if len(s.words) > 0 {
		var all []tick
		for i, w := range s.words {
			if at := float64(i); at >= s.from && at <= s.to {
				all = append(all, tick{at, w})
			}
		}
		return all
	}
	gap := roundGap((s.to-s.from)*s.times/float64(max(1, about)), false)
	digits := max(0, -int(math.Floor(math.Log10(gap)+1e-9)))
	var all []tick
	for _, v := range rounds(s.from*s.times, s.to*s.times, gap) {
		all = append(all, tick{v / s.times, number(v, digits)})
	}
	return all
}

// number writes a value with so many decimals and a real minus sign.
func number(v float64, digits int) string {
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}

// decimal gaps of an axis, and those of minutes and hours, within a decade or up to the next unit.
var (
	decimal = []float64{1, 2, 5, 10}
	sixties = []float64{1, 2, 5, 10, 15, 20, 30, 60}
)

// RoundGap is the next round gap of an axis that is at least so wide: 1, 2, 5, 10 and so on.
func RoundGap(least float64) float64 { return roundGap(least, false) }

// TimeGap is the gap in seconds between about so many round times of a span: minutes and hours are no tens of seconds.
func TimeGap(span float64, about int) float64 {
	u := timeUnitOf(span)
	return roundGap(span/u.seconds/float64(max(1, about)), u.sixty) * u.seconds
}

// roundGap is the next round gap that is at least so wide, of tens or of what sixty parts into.
func roundGap(least float64, sixty bool) float64 {
	if sixty && least > 1 && least <= 60 {
		for _, g := range sixties {
			if g >= least {
				return g
			}
		}
	}
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	for _, g := range decimal {
		if g*decade >= least*(1-1e-9) {
			return g * decade
		}
	}
	return 10 * decade
}

// rounds are the multiples of a gap between two values, both included. There are none where the gap is below what the
// values are known to.
func rounds(from, to, gap float64) []float64 {
	var all []float64
	for k := math.Ceil(from/gap - 1e-9); k*gap <= to+1e-9*gap && k < k+1; k++ {
		all = append(all, k*gap)
	}
	return all
}

// timeUnit is the unit of an axis of time.
type timeUnit struct {
	name    string
	seconds float64
	sixty   bool // of the next unit are one of it
}

func timeUnitOf(span float64) timeUnit {
	switch {
	case span < 2e-3:
		return timeUnit{"µs", 1e-6, false}
	case span < 1:
		return timeUnit{"ms", 1e-3, false}
	case span <= 180:
		return timeUnit{"s", 1, true}
	case span <= 3*3600:
		return timeUnit{"min", 60, true}
	}
	return timeUnit{"h", 3600, false}
}

// timeTicks are about so many round times between two, and the unit that they are written in.
func timeTicks(from, to float64, about int) (ticks []tick, unit string) {
	u := timeUnitOf(to - from)
	gap := roundGap((to-from)/u.seconds/float64(max(1, about)), u.sixty)
	digits := max(0, -int(math.Floor(math.Log10(gap)+1e-9)))
	for _, v := range rounds(from/u.seconds, to/u.seconds, gap) {
		ticks = append(ticks, tick{v * u.seconds, number(v, digits)})
	}
	return ticks, u.name
}

// Time writes a time of a run as exactly as its span asks for: 0.214 s in three seconds, 4 h 45 min 23 s in a night.
func Time(seconds, span float64) string {
	sign := ""
	if seconds < 0 {
		sign, seconds = "−", -seconds
	}
	switch {
	case span < 1e-3:
		return sign + number(seconds*1e6, 1) + "\u00a0µs"
	case span < 0.02:
		return sign + number(seconds*1e3, 3) + "\u00a0ms"
	case span < 0.5:
		return sign + number(seconds*1e3, 1) + "\u00a0ms"
	case span <= 180:
		return sign + number(seconds, 3-int(math.Floor(math.Log10(max(1, span))))) + "\u00a0s"
	}
	digits := 0
	if span <= 1000 {
		digits = 1
	}
	tenths := math.Pow10(digits)
	whole := math.Round(seconds*tenths) / tenths
	hours, minutes := math.Floor(whole/3600), math.Floor(math.Mod(whole, 3600)/60)
	told := number(math.Mod(whole, 60), digits) + "\u00a0s"
	switch {
	case hours > 0:
		told = fmt.Sprintf("%.0f\u00a0h %02.0f\u00a0min %s", hours, minutes, told)
	case minutes > 0:
		told = fmt.Sprintf("%.0f\u00a0min %s", minutes, told)
	}
	return sign + told
}

// Value writes a channel's value as its display would, or to four digits.
func Value(ch record.Channel, v float64) string {
	if len(ch.Words) > 0 {
		if i := int(math.Round(v)); i >= 0 && i < len(ch.Words) {
			return ch.Words[i]
		}
		return number(v, 0)
	}
	if ch.Resolution > 0 {
		v = math.Round(v/ch.Resolution) * ch.Resolution
		digits := max(0, -int(math.Floor(math.Log10(ch.Resolution)+1e-9)))
		return strings.TrimRight(number(v, digits)+"\u00a0"+ch.Unit, "\u00a0")
	}
	text := quantity.Format(v, quantity.Number, 4)
	if strings.Contains(text, ".") && !strings.Contains(text, "e") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return strings.TrimRight(text+"\u00a0"+ch.Unit, "\u00a0")
}
