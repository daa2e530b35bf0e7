package element

// This file holds what strips and necks share: a conductor of two masses in series that warm each other.

import (
	"math"

	"underload/solver/transient"
)

// twin is a small mass and a large one in series, each with its ohms, heat and way to the air, and a way between them.
// The first state of its rates is the small one's kelvin, the second the large one's.
type twin struct {
	smallOhms, largeOhms     float64 // at 20 degC
	perKelvin                float64
	smallJoules, largeJoules float64 // per kelvin
	between                  float64 // W/K
	smallToAir, largeToAir   float64 // W/K
	airKelvin                float64
	heatOhms                 float64 // heat from elsewhere into the large mass, over the square of amps
}

// ohms of both at their temperatures.
func (w *twin) ohms(small, large float64) (smallOhms, largeOhms float64) {
	return w.smallOhms * (1 + w.perKelvin*(small-coldKelvin)), w.largeOhms * (1 + w.perKelvin*(large-coldKelvin))
}

// lostWatts go to the air.
func (w *twin) lostWatts(small, large float64) float64 {
	return w.smallToAir*(small-w.airKelvin) + w.largeToAir*(large-w.airKelvin)
}

// rest finds the temperatures at which volts keep it; stable is false where there are none below limitKelvin. For each
// square of amps the balance is linear, and volts rise with it, so it is found by halving.
func (w *twin) rest(volts, limitKelvin float64) (small, large float64, stable bool) {
	coldSmall, coldLarge := w.ohms(w.airKelvin, w.airKelvin)
	low, high := 0.0, math.Pow(volts/(coldSmall+coldLarge), 2)
	for range 200 {
		middle := low + (high-low)/2
		a, b, ok := w.heated(middle)
		if smallOhms, largeOhms := w.ohms(a, b); ok && math.Sqrt(middle)*(smallOhms+largeOhms) <= math.Abs(volts) {
			low = middle
		} else {
			high = middle
		}
	}
	small, large, stable = w.heated(low)
	return small, large, stable && small < limitKelvin && large < limitKelvin
}

// heated solves for the temperatures at rest under a current, given its square. Where the metal's ohms rise faster than
// its loss of heat, there are none.
func (w *twin) heated(squareAmps float64) (small, large float64, stable bool) {
	a11 := w.between + w.smallToAir - squareAmps*w.smallOhms*w.perKelvin
	a22 := w.between + w.largeToAir - squareAmps*w.largeOhms*w.perKelvin
	det := a11*a22 - w.between*w.between
	air := w.airKelvin - coldKelvin
	r1 := squareAmps*w.smallOhms + w.smallToAir*air
	r2 := squareAmps*(w.largeOhms+w.heatOhms) + w.largeToAir*air
	return coldKelvin + (r1*a22+w.between*r2)/det, coldKelvin + (a11*r2+w.between*r1)/det, a11 > 0 && det > 0
}

// rates fills in the current and the two balances of heat.
func (w *twin) rates(volts, small, large float64, r *transient.Rates) {
	smallOhms, largeOhms := w.ohms(small, large)
	siemens := 1 / (smallOhms + largeOhms)
	amps := volts * siemens
	smallPerK, largePerK := w.smallOhms*w.perKelvin, w.largeOhms*w.perKelvin
	r.Amps, r.PerVolt = amps, siemens
	r.PerState[0], r.PerState[1] = -amps*siemens*smallPerK, -amps*siemens*largePerK
	square, twice := amps*amps, 2*amps
	flow := w.between * (small - large)

	share := 1 / w.smallJoules
	r.Rate[0] = (square*smallOhms - flow - w.smallToAir*(small-w.airKelvin)) * share
	r.RatePerV[0] = twice * siemens * smallOhms * share
	r.RatePerX[0][0] = (twice*r.PerState[0]*smallOhms + square*smallPerK - w.between - w.smallToAir) * share
	r.RatePerX[0][1] = (twice*r.PerState[1]*smallOhms + w.between) * share

	share, heating := 1/w.largeJoules, largeOhms+w.heatOhms
	r.Rate[1] = (square*heating + flow - w.largeToAir*(large-w.airKelvin)) * share
	r.RatePerV[1] = twice * siemens * heating * share
	r.RatePerX[1][0] = (twice*r.PerState[0]*heating + w.between) * share
	r.RatePerX[1][1] = (twice*r.PerState[1]*heating + square*largePerK - w.between - w.largeToAir) * share
}

// cooling fills in the two balances without a current, and the current of an open gap.
func (w *twin) cooling(at *transient.Point, small, large float64, r *transient.Rates) {
	w.rates(0, small, large, r)
	r.RatePerV[0], r.RatePerV[1] = 0, 0
	setGap(at, r)
}
