package stairs

// This file turns levels into lines: the whole staircase, and the magnified one without the load's own step.

import (
	"math"

	"underload/sim/meter"
	"underload/ui/drawing"
)

// Tolerance is how much longer or shorter than drawn a healthy circuit's wires may be.
const Tolerance = 0.30

// Spot is a place in a picture, px from its top left corner.
type Spot = drawing.Spot

// At is a spot.
func At(x, y float64) Spot { return Spot{X: x, Y: y} }

// Box is a rectangle, px from its top left corner.
type Box struct{ X, Y, W, H float64 }

// Area is a box.
func Area(x, y, w, h float64) Box { return Box{x, y, w, h} }

// Overlaps reports whether two boxes share ground.
func (b Box) Overlaps(o Box) bool {
	return b.X < o.X+o.W && o.X < b.X+b.W && b.Y < o.Y+o.H && o.Y < b.Y+b.H
}

// Scale maps a value onto the height of a plot.
type Scale struct {
	Plot     Box
	From, To float64 // the values at the top and at the foot
}

// Y is the height at which a value stands.
func (s Scale) Y(v float64) float64 { return s.Plot.Y + s.Plot.H*(v-s.From)/(s.To-s.From) }

// tread draws one column from a value to the next one: a slope for what is spread along a wire, a riser for what sits
// in one place, a slope over the middle for the load.
func tread(c *Column, before, after float64) []Spot {
	left, right := c.X, c.X+c.W
	switch {
	case c.Load():
		return []Spot{At(left, before), At(left+0.12*c.W, before), At(right-0.12*c.W, after), At(right, after)}
	case c.Sloped():
		return []Spot{At(left, before), At(right, after)}
	}
	middle := left + c.W/2
	return []Spot{At(left, before), At(middle, before), At(middle, after), At(right, after)}
}

// WholeTrace is the volts of a pass along the path, in pieces where steps are missing.
func WholeTrace(columns []*Column, of Pass, s Scale) [][]Spot {
	var pieces [][]Spot
	var piece []Spot
	for _, c := range columns {
		l := c.Level(of)
		if l.Missing {
			if len(piece) > 0 {
				pieces = append(pieces, piece)
			}
			piece = nil
			continue
		}
		piece = append(piece, tread(c, s.Y(l.Volts+l.Lost), s.Y(l.Volts))...)
	}
	return append(pieces, piece)
}

// WholeBand is the healthy circuit's own levels, with wires longer or shorter by the Tolerance: what is lost before the
// load varies against the battery's volts, what is lost behind it against zero.
func WholeBand(columns []*Column, openVolts float64, s Scale) []Spot {
	const leastHalf = 3.0 // px
	var upper, lower []Spot
	behind := false
	for _, c := range columns {
		l := c.Level(HealthyPass)
		if l.Missing {
			continue
		}
		spread := func(v float64, behind bool) float64 {
			if behind {
				return Tolerance * math.Abs(v)
			}
			return Tolerance * math.Abs(openVolts-v)
		}
		before, after := l.Volts+l.Lost, l.Volts
		b := spread(before, behind)
		behind = behind || c.Load()
		a := spread(after, behind)
		half := func(v, d float64) float64 { return max(leastHalf, math.Abs(s.Y(v+d)-s.Y(v))) }
		upper = append(upper, tread(c, s.Y(before)-half(before, b), s.Y(after)-half(after, a))...)
		lower = append(lower, tread(c, s.Y(before)+half(before, b), s.Y(after)+half(after, a))...)
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	return upper
}

// Side is the columns on one side of the load.
type Side struct {
	Name    string
	Columns []*Column
}

// Sides parts the columns at the load.
func Sides(columns []*Column) []Side {
	for i, c := range columns {
		if c.Load() {
			return []Side{{"Battery + side", columns[:i]}, {"Battery − side", columns[i+1:]}}
		}
	}
	return []Side{{"Battery + side", columns}}
}

// Lost adds up what the magnified staircase shows of a side.
func (sd Side) Lost(of func(*Column) float64) float64 {
	sum := 0.0
	for _, c := range sd.Columns {
		if !c.Omit {
			sum += of(c)
		}
	}
	return sum
}

// LostOf is what a pass loses in a column.
func LostOf(of Pass) func(*Column) float64 {
	return func(c *Column) float64 { return c.Level(of).Lost }
}

// LostTrace is the volts lost so far along one side, in pieces around what is left out.
func LostTrace(sd Side, of func(*Column) float64, s Scale) [][]Spot {
	var pieces [][]Spot
	var piece []Spot
	sum := 0.0
	for _, c := range sd.Columns {
		if c.Omit {
			pieces = append(pieces, piece)
			piece = nil
			continue
		}
		before := sum
		sum += of(c)
		piece = append(piece, tread(c, s.Y(before), s.Y(sum))...)
	}
	return append(pieces, piece)
}

// LostBand is what the healthy circuit would lose at the same current, with its tolerance.
func LostBand(sd Side, s Scale) [][]Spot {
	const leastHalf = 2.5
	sound := func(share float64) func(*Column) float64 {
		return func(c *Column) float64 { return share * c.Sound() }
	}
	low, high := LostTrace(sd, sound(1-Tolerance), s), LostTrace(sd, sound(1+Tolerance), s)
	var bands [][]Spot
	for i := range low {
		var around []Spot
		for _, p := range low[i] {
			around = append(around, At(p.X, p.Y-leastHalf))
		}
		for k := len(high[i]) - 1; k >= 0; k-- {
			around = append(around, At(high[i][k].X, high[i][k].Y+leastHalf))
		}
		bands = append(bands, around)
	}
	return bands
}

// MarkOmitted marks what the magnified staircase leaves out beside the load: what the battery loses inside, which is not
// the wiring's, and the worst step where it would crush all others.
func MarkOmitted(columns []*Column) {
	for _, c := range columns {
		c.Omit = c.Battery
	}
	worst := WorstOf(columns)
	if worst == nil || worst.Omit {
		return
	}
	worst.Omit = true
	rest := 0.0
	for _, sd := range Sides(columns) {
		rest = max(rest, sd.Lost(LostOf(LoadPass)))
	}
	worst.Omit = worst.Level(LoadPass).Lost > rest
}

// WorstOf is the marked column, or nil where the path is sound.
func WorstOf(columns []*Column) *Column {
	for _, c := range columns {
		if c.Worst() {
			return c
		}
	}
	return nil
}

// Highest is the largest level of any pass, in volts.
func Highest(s meter.Staircase) float64 {
	top := s.OpenVolts
	for _, st := range s.Steps {
		for _, of := range []Pass{LightPass, LoadPass, HealthyPass, HealthyLightPass} {
			l := of(st)
			top = max(top, l.Volts, l.Volts+l.Lost)
		}
	}
	return top
}

// Lowest is the smallest level of any pass, at most zero.
func Lowest(s meter.Staircase) float64 {
	foot := 0.0
	for _, st := range s.Steps {
		for _, of := range []Pass{LightPass, LoadPass, HealthyPass} {
			foot = min(foot, of(st).Volts)
		}
	}
	return foot
}

// Ticks are round values from one to the other, about five of them.
func Ticks(from, to float64) []float64 {
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
