package report

// This file turns levels into lines: the whole staircase, and the magnified one without the load's own step.

import (
	"math"

	"underload/sim/meter"
)

// tolerance is how much longer or shorter than drawn a healthy circuit's wires may be.
const tolerance = 0.30

// scale maps a value onto the height of a plot.
type scale struct {
	plot     box
	from, to float64 // the values at the top and at the foot
}

func (s scale) y(v float64) float64 { return s.plot.y + s.plot.h*(v-s.from)/(s.to-s.from) }

// tread draws one column from a value to the next one: a slope for what is spread along a wire, a riser for what sits
// in one place, a slope over the middle for the load.
func tread(c *column, before, after float64) []spot {
	left, right := c.x, c.x+c.w
	switch {
	case c.load():
		return []spot{{left, before}, {left + 0.12*c.w, before}, {right - 0.12*c.w, after}, {right, after}}
	case c.sloped():
		return []spot{{left, before}, {right, after}}
	}
	middle := left + c.w/2
	return []spot{{left, before}, {middle, before}, {middle, after}, {right, after}}
}

// wholeTrace is the volts of a pass along the path, in pieces where steps are missing.
func wholeTrace(columns []*column, of pass, s scale) [][]spot {
	var pieces [][]spot
	var piece []spot
	for _, c := range columns {
		l := c.level(of)
		if l.Missing {
			if len(piece) > 0 {
				pieces = append(pieces, piece)
			}
			piece = nil
			continue
		}
		piece = append(piece, tread(c, s.y(l.Volts+l.Lost), s.y(l.Volts))...)
	}
	return append(pieces, piece)
}

// wholeBand is the healthy circuit's own levels, with wires longer or shorter by the tolerance: what is lost before the
// load varies against the battery's volts, what is lost behind it against zero.
func wholeBand(columns []*column, openVolts float64, s scale) []spot {
	const leastHalf = 3.0 // px
	var upper, lower []spot
	behind := false
	for _, c := range columns {
		l := c.level(healthyPass)
		if l.Missing {
			continue
		}
		spread := func(v float64, behind bool) float64 {
			if behind {
				return tolerance * math.Abs(v)
			}
			return tolerance * math.Abs(openVolts-v)
		}
		before, after := l.Volts+l.Lost, l.Volts
		b := spread(before, behind)
		behind = behind || c.load()
		a := spread(after, behind)
		half := func(v, d float64) float64 { return max(leastHalf, math.Abs(s.y(v+d)-s.y(v))) }
		upper = append(upper, tread(c, s.y(before)-half(before, b), s.y(after)-half(after, a))...)
		lower = append(lower, tread(c, s.y(before)+half(before, b), s.y(after)+half(after, a))...)
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	return upper
}

// side is the columns on one side of the load.
type side struct {
	name    string
	columns []*column
}

func sides(columns []*column) []side {
	for i, c := range columns {
		if c.load() {
			return []side{{"Battery + side", columns[:i]}, {"Battery − side", columns[i+1:]}}
		}
	}
	return []side{{"Battery + side", columns}}
}

// lost adds up what the magnified staircase shows of a side.
func (sd side) lost(of func(*column) float64) float64 {
	sum := 0.0
	for _, c := range sd.columns {
		if !c.omit {
			sum += of(c)
		}
	}
	return sum
}

func lostOf(of pass) func(*column) float64 {
	return func(c *column) float64 { return c.level(of).Lost }
}

// lostTrace is the volts lost so far along one side, in pieces around what is left out.
func lostTrace(sd side, of func(*column) float64, s scale) [][]spot {
	var pieces [][]spot
	var piece []spot
	sum := 0.0
	for _, c := range sd.columns {
		if c.omit {
			pieces = append(pieces, piece)
			piece = nil
			continue
		}
		before := sum
		sum += of(c)
		piece = append(piece, tread(c, s.y(before), s.y(sum))...)
	}
	return append(pieces, piece)
}

// lostBand is what the healthy circuit would lose at the same current, with its tolerance.
func lostBand(sd side, s scale) [][]spot {
	const leastHalf = 2.5
	sound := func(share float64) func(*column) float64 {
		return func(c *column) float64 { return share * c.sound() }
	}
	low, high := lostTrace(sd, sound(1-tolerance), s), lostTrace(sd, sound(1+tolerance), s)
	var bands [][]spot
	for i := range low {
		var around []spot
		for _, p := range low[i] {
			around = append(around, spot{p.x, p.y - leastHalf})
		}
		for k := len(high[i]) - 1; k >= 0; k-- {
			around = append(around, spot{high[i][k].x, high[i][k].y + leastHalf})
		}
		bands = append(bands, around)
	}
	return bands
}

// markOmitted marks what the magnified staircase leaves out beside the load: what the battery loses inside, which is not
// the wiring's, and the worst step where it would crush all others.
func markOmitted(columns []*column) {
	for _, c := range columns {
		c.omit = c.battery
	}
	worst := worstOf(columns)
	if worst == nil || worst.omit {
		return
	}
	worst.omit = true
	rest := 0.0
	for _, sd := range sides(columns) {
		rest = max(rest, sd.lost(lostOf(loadPass)))
	}
	worst.omit = worst.level(loadPass).Lost > rest
}

func worstOf(columns []*column) *column {
	for _, c := range columns {
		if c.worst() {
			return c
		}
	}
	return nil
}

// highest is the largest level of any pass, in volts.
func highest(s meter.Staircase) float64 {
	top := s.OpenVolts
	for _, st := range s.Steps {
		for _, of := range []pass{lightPass, loadPass, healthyPass, healthyLightPass} {
			l := of(st)
			top = max(top, l.Volts, l.Volts+l.Lost)
		}
	}
	return top
}

// lowest is the smallest level of any pass, at most zero.
func lowest(s meter.Staircase) float64 {
	foot := 0.0
	for _, st := range s.Steps {
		for _, of := range []pass{lightPass, loadPass, healthyPass} {
			foot = min(foot, of(st).Volts)
		}
	}
	return foot
}

// ticks are round values from one to the other, about five of them.
func ticks(from, to float64) []float64 {
	rough := (to - from) / 5
	decade := math.Pow(10, math.Floor(math.Log10(rough)))
	gap := decade
	for _, times := range []float64{1, 2, 3, 5, 10} {
		if gap = times * decade; gap >= rough {
			break
		}
	}
	var at []float64
	for k := math.Ceil(from/gap - 1e-9); k*gap <= to+gap*1e-9; k++ {
		at = append(at, k*gap+0) // never minus zero
	}
	return at
}
