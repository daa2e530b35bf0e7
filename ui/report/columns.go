package report

// This file is the columns of the staircase, one a step, and how they are folded where there are too many.

import (
	"fmt"
	"math"

	"underload/sim/meter"
)

const (
	narrowest        = 58.0   // px, a column
	narrowestLoad    = 104.0  // px, the load's column
	narrowestOmitted = 78.0   // px, the worst step's column and the battery's: words stand in them
	widestLabel      = 128.0  // px, a step's name
	leanPage         = 1000.0 // px, a page of few steps
	widePage         = 1240.0 // px, at which columns begin to fold
	leftMargin       = 116.0
	rightMargin      = 28.0

	foldBelowVolts = 0.050 // a step that loses this much stands by itself

	nameSize, saysSize = 13.0, 12.0
)

// column is one step, or neighbouring ones folded into one.
type column struct {
	steps   []meter.Step
	x, w    float64
	battery bool // what the battery loses inside
	omit    bool // left out of the magnified staircase
}

func (c *column) load() bool   { return c.steps[0].Load }
func (c *column) worst() bool  { return c.steps[0].Worst }
func (c *column) folded() bool { return len(c.steps) > 1 }

// sloped reports whether the loss is drawn along the column and not as a riser in its middle.
func (c *column) sloped() bool { return c.folded() || c.steps[0].Spread }

// pass picks one of the four passes out of a step.
type pass func(s meter.Step) meter.Level

func lightPass(s meter.Step) meter.Level        { return s.Light }
func loadPass(s meter.Step) meter.Level         { return s.UnderLoad }
func healthyPass(s meter.Step) meter.Level      { return s.Healthy }
func healthyLightPass(s meter.Step) meter.Level { return s.HealthyLight }

// level is what a pass reads at the column: the volts behind its last step, and the losses together.
func (c *column) level(of pass) meter.Level {
	sum := of(c.steps[len(c.steps)-1])
	sum.Lost, sum.Ohms = 0, 0
	for _, s := range c.steps {
		l := of(s)
		sum.Missing = sum.Missing || l.Missing
		sum.Lost += l.Lost
		sum.Ohms += l.Ohms
	}
	return sum
}

// sound is what the column would lose in the healthy circuit at the current that flows now.
func (c *column) sound() float64 {
	lost := 0.0
	for _, s := range c.steps {
		lost += s.Healthy.Ohms * s.UnderLoad.Amps
	}
	return lost
}

// names are the lines of the column's name.
func (c *column) names() []string {
	if c.folded() {
		return []string{c.steps[0].Place + " to", c.steps[len(c.steps)-1].Place}
	}
	return []string{c.steps[0].Place}
}

// says are the lines below the name.
func (c *column) says() []string {
	if c.folded() {
		return []string{fmt.Sprintf("%d steps", len(c.steps))}
	}
	return wrap(c.steps[0].Says, saysSize, false, max(c.needs()-8, 50))
}

// needs is the least width of the column, in px.
func (c *column) needs() float64 {
	wide := narrowest
	switch {
	case c.load():
		wide = narrowestLoad
	case c.worst(), c.battery:
		wide = narrowestOmitted
	}
	for _, name := range c.names() {
		wide = max(wide, min(textWidth(name, nameSize, true), widestLabel)+10)
	}
	for word := range words(c.steps[0].Says) {
		wide = max(wide, min(textWidth(word, saysSize, false), widestLabel)+10)
	}
	for _, of := range []pass{lightPass, loadPass, healthyPass} {
		wide = max(wide, textWidth(Milliohms(c.level(of)), nameSize, true)+14)
	}
	return wide
}

// mayFold reports whether the column may share its place with a neighbour.
func (c *column) mayFold() bool {
	return !c.load() && !c.worst() && !c.battery && c.loses() < foldBelowVolts
}

// loses is the larger loss of the light test and the load test.
func (c *column) loses() float64 {
	return max(math.Abs(c.level(lightPass).Lost), math.Abs(c.level(loadPass).Lost))
}

// setColumns folds the steps into columns that fit on a page, and sets them side by side. It gives the page's width,
// which grows where folding does not do.
func setColumns(s meter.Staircase) (columns []*column, width float64) {
	columns = single(s)
	needed := func() float64 {
		sum := leftMargin + rightMargin
		for _, c := range columns {
			sum += c.needs()
		}
		return sum
	}
	fold(&columns, func() bool { return needed() > widePage })
	width = min(max(needed(), leanPage), max(needed(), widePage))
	spare := (width - needed()) / float64(max(1, len(columns)))
	x := leftMargin
	for _, c := range columns {
		c.x, c.w = x, c.needs()+spare
		x += c.w
	}
	return columns, width
}

func single(s meter.Staircase) []*column {
	columns := make([]*column, len(s.Steps))
	for i, step := range s.Steps {
		columns[i] = &column{steps: []meter.Step{step}, battery: step.Place == s.Battery}
	}
	return columns
}

// fold joins the neighbours that lose least, as long as there is need and there are such.
func fold(columns *[]*column, need func() bool) {
	for need() {
		i := leastPair(*columns)
		if i < 0 {
			return
		}
		c := *columns
		c[i].steps = append(c[i].steps, c[i+1].steps...)
		*columns = append(c[:i+1], c[i+2:]...)
	}
}

// leastPair finds the neighbours that lose least together and may fold, or -1.
func leastPair(columns []*column) int {
	best, least := -1, math.Inf(1)
	for i := range len(columns) - 1 {
		a, b := columns[i], columns[i+1]
		if sum := a.loses() + b.loses(); a.mayFold() && b.mayFold() && sum < least {
			best, least = i, sum
		}
	}
	return best
}
