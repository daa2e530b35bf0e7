package report

// This file is the columns of the staircase, one a step, and how they are folded where there are too many.

import (
	"fmt"

	"underload/sim/meter"
	"underload/ui/stairs"
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

	nameSize, saysSize = 13.0, 12.0
)

// names are the lines of the column's name.
func names(c *stairs.Column) []string {
	if c.Folded() {
		return []string{c.Steps[0].Place + " to", c.Steps[len(c.Steps)-1].Place}
	}
	return []string{c.Steps[0].Place}
}

// says are the lines below the name.
func says(c *stairs.Column) []string {
	if c.Folded() {
		return []string{fmt.Sprintf("%d steps", c.Places())}
	}
	return wrap(c.Steps[0].Says, saysSize, false, max(needs(c)-8, 50))
}

// needs is the least width of the column, in px.
func needs(c *stairs.Column) float64 {
	wide := narrowest
	switch {
	case c.Load():
		wide = narrowestLoad
	case c.Worst(), c.Battery:
		wide = narrowestOmitted
	}
	for _, name := range names(c) {
		wide = max(wide, min(textWidth(name, nameSize, true), widestLabel)+10)
	}
	for word := range words(c.Steps[0].Says) {
		wide = max(wide, min(textWidth(word, saysSize, false), widestLabel)+10)
	}
	for _, of := range []stairs.Pass{stairs.LightPass, stairs.LoadPass, stairs.HealthyPass} {
		wide = max(wide, textWidth(Milliohms(c.Level(of)), nameSize, true)+14)
	}
	return wide
}

// setColumns folds the steps into columns that fit on a page, and sets them side by side. It gives the page's width,
// which grows where folding does not do.
func setColumns(s meter.Staircase) (columns []*stairs.Column, width float64) {
	columns = stairs.Single(s)
	needed := func() float64 {
		sum := leftMargin + rightMargin
		for _, c := range columns {
			sum += needs(c)
		}
		return sum
	}
	stairs.Fold(&columns, func() bool { return needed() > widePage })
	width = min(max(needed(), leanPage), max(needed(), widePage))
	spare := (width - needed()) / float64(max(1, len(columns)))
	x := leftMargin
	for _, c := range columns {
		c.X, c.W = x, needs(c)+spare
		x += c.W
	}
	return columns, width
}
