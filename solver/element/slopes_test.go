package element

// This file holds the checks that every element must pass: its slopes are those of its curves, and its energy adds up.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/transient"
)

// points is how many random points each element is tried at.
const points = 400

// pointFor returns a point with room for the states and marks of e, as it is at rest with no volts across it.
func pointFor(e transient.Element) *transient.Point {
	size := e.Size()
	at := &transient.Point{States: make([]float64, size.States), Marks: make([]float64, size.Marks)}
	e.Start(0, at.States, at.Marks)
	return at
}

// between draws evenly from low to high.
func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// ratesAt asks e for its rates.
func ratesAt(e transient.Element, at *transient.Point) transient.Rates {
	var rates transient.Rates
	e.Rates(at, &rates)
	return rates
}

// checkSlopes compares the slopes of an element with central differences at random points: draw sets volts, states and
// marks of a point that comes at rest. Each difference is taken with two widths, which tells how far it can be trusted;
// nine of ten must be good to 1e-5, so that the test is one of the slopes and not of its own slack.
func checkSlopes(t *testing.T, e transient.Element, draw func(r *rand.Rand, at *transient.Point)) {
	t.Helper()
	r := rand.New(rand.NewPCG(7, 11))
	size := e.Size()
	if size.States > transient.MaxStates {
		t.Fatalf("%d states", size.States)
	}
	sharp, all := 0, 0
	for range points {
		at := pointFor(e)
		draw(r, at)
		given := ratesAt(e, at)
		// One column for volts and one for each state, one row for amps and one for each rate.
		for column := -1; column < size.States; column++ {
			variable, unit := &at.Volts, 1e-3
			if column >= 0 {
				variable, unit = &at.States[column], size.Unit[column]
			}
			wide, narrow := difference(e, at, variable, unit, 1), difference(e, at, variable, unit, 0.5)
			for row := -1; row < size.States; row++ {
				value, slope := given.Amps, given.PerVolt
				switch {
				case row < 0 && column >= 0:
					slope = given.PerState[column]
				case row >= 0 && column < 0:
					value, slope = given.Rate[row], given.RatePerV[row]
				case row >= 0:
					value, slope = given.Rate[row], given.RatePerX[row][column]
				}
				best := narrow.by[row+1] + (narrow.by[row+1]-wide.by[row+1])/3
				scale := math.Abs(slope) + math.Abs(value)/math.Max(math.Abs(*variable), unit)
				slack := 1e-7*scale + 2*math.Abs(narrow.by[row+1]-wide.by[row+1]) + 1e-14*narrow.most[row+1]/narrow.width
				all++
				if slack <= 1e-5*scale {
					sharp++
				}
				if !(math.Abs(best-slope) <= slack) {
					t.Fatalf("row %d by column %d (-1: amps, volts) at %v V, states %v, marks %v: slope %v, difference quotient %v, slack %v",
						row, column, at.Volts, at.States, at.Marks, slope, best, slack)
				}
			}
		}
	}
	if all == 0 || sharp*10 < all*9 {
		t.Errorf("only %d of %d difference quotients are good to 1e-5", sharp, all)
	}
}

type quotients struct {
	by    [1 + transient.MaxStates]float64 // of amps, then of the rates
	most  [1 + transient.MaxStates]float64 // the values they were taken from
	width float64
}

// difference is the central difference of amps and rates by one variable of the point.
func difference(e transient.Element, at *transient.Point, variable *float64, unit, share float64) quotients {
	middle := *variable
	step := share * 1e-4 * math.Max(math.Abs(middle), unit)
	*variable = middle + step
	up, above := ratesAt(e, at), *variable
	*variable = middle - step
	down, below := ratesAt(e, at), *variable
	*variable = middle
	q := quotients{width: above - below}
	for row := range q.by {
		high, low := up.Amps, down.Amps
		if row > 0 {
			high, low = up.Rate[row-1], down.Rate[row-1]
		}
		q.by[row] = (high - low) / q.width
		q.most[row] = math.Max(math.Abs(high), math.Abs(low))
	}
	return q
}

// checkEnergy compares, at random points, volts times amps with what an element says it loses, gives and stores, the
// last by its change along the rates. It is for elements whose stored energy depends on states alone.
func checkEnergy(t *testing.T, e transient.Powered, draw func(r *rand.Rand, at *transient.Point)) {
	t.Helper()
	r := rand.New(rand.NewPCG(13, 17))
	size := e.Size()
	for range points {
		at := pointFor(e)
		draw(r, at)
		rates := ratesAt(e, at)
		lost, given, _ := e.Power(at)
		change, slack := 0.0, 0.0
		for k := range size.States {
			middle := at.States[k]
			step := 1e-4 * math.Max(math.Abs(middle), size.Unit[k])
			at.States[k] = middle + step
			_, _, up := e.Power(at)
			at.States[k] = middle - step
			_, _, down := e.Power(at)
			at.States[k] = middle
			change += (up - down) / (2 * step) * rates.Rate[k]
			slack += 1e-15 * (math.Abs(up) + math.Abs(down)) / step * math.Abs(rates.Rate[k])
		}
		in := at.Volts * rates.Amps
		if out := lost - given + change; !(math.Abs(in-out) <= slack+1e-7*(math.Abs(in)+math.Abs(lost)+math.Abs(given)+math.Abs(change))) {
			t.Fatalf("at %v V, states %v, marks %v: %v W go in, lost %v - given %v + stored %v is %v W",
				at.Volts, at.States, at.Marks, in, lost, given, change, out)
		}
	}
}
