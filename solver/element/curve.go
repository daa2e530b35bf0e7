package element

// This file holds a smooth curve through the rows of a table.

import (
	"math"
	"sort"
)

// curve runs through points with rising x without overshooting between them: cubics whose slopes at the points are the
// weighted harmonic means of the slopes to both sides (F. N. Fritsch and J. Butland, SIAM Journal on Scientific and
// Statistical Computing 5, 1984). Beyond its ends it is straight.
type curve struct {
	x, y, slope []float64
}

func newCurve(x, y []float64) *curve {
	last := len(x) - 1
	rise := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	c := &curve{x: x, y: y, slope: make([]float64, len(x))}
	c.slope[0], c.slope[last] = rise(0), rise(last-1)
	for i := 1; i < last; i++ {
		before, after := x[i]-x[i-1], x[i+1]-x[i]
		if left, right := rise(i-1), rise(i); left*right > 0 {
			w1, w2 := 2*after+before, after+2*before
			c.slope[i] = (w1 + w2) / (w1/left + w2/right)
		}
	}
	return c
}

// at returns the curve and its slope.
func (c *curve) at(x float64) (y, slope float64) {
	last := len(c.x) - 1
	switch {
	case math.IsNaN(x):
		return x, x
	case x <= c.x[0]:
		return c.y[0] + c.slope[0]*(x-c.x[0]), c.slope[0]
	case x >= c.x[last]:
		return c.y[last] + c.slope[last]*(x-c.x[last]), c.slope[last]
	}
	i := sort.SearchFloat64s(c.x, x) - 1
	width := c.x[i+1] - c.x[i]
	t, rise := (x-c.x[i])/width, c.y[i+1]-c.y[i]
	c2 := 3*rise - width*(2*c.slope[i]+c.slope[i+1])
	c3 := width*(c.slope[i]+c.slope[i+1]) - 2*rise
	return c.y[i] + t*(width*c.slope[i]+t*(c2+t*c3)), c.slope[i] + t*(2*c2+3*t*c3)/width
}
