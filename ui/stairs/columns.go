// Package stairs turns a drop staircase into columns and lines: which steps share a column, where each trace runs, how
// wide the healthy band is, what is left out of the magnified form. It paints nothing.
package stairs

// This file is the columns, one a step, and how they are folded where there are too many.

import (
	"math"
	"slices"

	"underload/sim/meter"
)

// FoldBelowVolts is the loss from which a step stands by itself.
const FoldBelowVolts = 0.050

// Column is one place with all its steps, or neighbouring ones folded into one. X and W are px.
type Column struct {
	Steps   []meter.Step
	X, W    float64
	Battery bool // what the battery loses inside
	Omit    bool // left out of the magnified staircase
}

// Load reports whether the column is the load's.
func (c *Column) Load() bool { return c.Steps[0].Load }

// Worst reports whether the column is the step that loses most beyond a sound one.
func (c *Column) Worst() bool {
	return slices.ContainsFunc(c.Steps, func(s meter.Step) bool { return s.Worst })
}

// Folded reports whether several places share the column.
func (c *Column) Folded() bool { return c.Steps[0].Place != c.Steps[len(c.Steps)-1].Place }

// Places is how many places share the column.
func (c *Column) Places() int {
	places := 1
	for i, s := range c.Steps[1:] {
		if s.Place != c.Steps[i].Place {
			places++
		}
	}
	return places
}

// Sloped reports whether the loss is drawn along the column and not as a riser in its middle.
func (c *Column) Sloped() bool { return c.Folded() || c.Steps[0].Spread }

// Pass picks one of the four passes out of a step.
type Pass func(s meter.Step) meter.Level

// LightPass is the light test.
func LightPass(s meter.Step) meter.Level { return s.Light }

// LoadPass is the test under load.
func LoadPass(s meter.Step) meter.Level { return s.UnderLoad }

// HealthyPass is the healthy circuit under load.
func HealthyPass(s meter.Step) meter.Level { return s.Healthy }

// HealthyLightPass is the healthy circuit in the light test.
func HealthyLightPass(s meter.Step) meter.Level { return s.HealthyLight }

// Level is what a pass reads at the column: the volts behind its last step, and the losses together.
func (c *Column) Level(of Pass) meter.Level {
	sum := of(c.Steps[len(c.Steps)-1])
	sum.Lost, sum.Ohms = 0, 0
	for _, s := range c.Steps {
		l := of(s)
		sum.Missing = sum.Missing || l.Missing
		sum.Lost += l.Lost
		sum.Ohms += l.Ohms
	}
	return sum
}

// Sound is what the column would lose in the healthy circuit at the current that flows now.
func (c *Column) Sound() float64 {
	lost := 0.0
	for _, s := range c.Steps {
		lost += s.Healthy.Ohms * s.UnderLoad.Amps
	}
	return lost
}

// mayFold reports whether the column may share its place with a neighbour.
func (c *Column) mayFold() bool {
	return !c.Load() && !c.Worst() && !c.Battery && c.loses() < FoldBelowVolts
}

// loses is the larger loss of the light test and the load test.
func (c *Column) loses() float64 {
	return max(math.Abs(c.Level(LightPass).Lost), math.Abs(c.Level(LoadPass).Lost))
}

// Single gives every place a column of its own. The inside of a load's terminals is apart from the load.
func Single(s meter.Staircase) []*Column {
	var columns []*Column
	for i, step := range s.Steps {
		if i > 0 && step.Place == s.Steps[i-1].Place && !step.Load && !s.Steps[i-1].Load {
			last := columns[len(columns)-1]
			last.Steps = append(last.Steps, step)
			continue
		}
		columns = append(columns, &Column{Steps: []meter.Step{step}, Battery: step.Place == s.Battery})
	}
	return columns
}

// Fold joins the neighbours that lose least, as long as there is need and there are such.
func Fold(columns *[]*Column, need func() bool) {
	for need() {
		i := leastPair(*columns)
		if i < 0 {
			return
		}
		c := *columns
		c[i].Steps = append(c[i].Steps, c[i+1].Steps...)
		*columns = append(c[:i+1], c[i+2:]...)
	}
}

// CanFold reports whether any two neighbours may still be folded.
func CanFold(columns []*Column) bool { return leastPair(columns) >= 0 }

// leastPair finds the neighbours that lose least together and may fold, or -1.
func leastPair(columns []*Column) int {
	best, least := -1, math.Inf(1)
	for i := range len(columns) - 1 {
		a, b := columns[i], columns[i+1]
		if sum := a.loses() + b.loses(); a.mayFold() && b.mayFold() && sum < least {
			best, least = i, sum
		}
	}
	return best
}
