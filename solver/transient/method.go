package transient

// This file is the methods of stepping, as tables.

import "math"

// Method is a way to step: a diagonally implicit Runge-Kutta method with an explicit first stage, the same implicit
// share in all others, and a last stage that is the step's result. All are L-stable: what is too fast for a step dies
// away in it and does not ring.
type Method int

// The methods. The trapezoidal rule alone is not among them: it rings.
const (
	// ESDIRK43 is of order 4 with an error estimate of order 3, five implicit stages (Kennedy and Carpenter, "Additive
	// Runge-Kutta schemes for convection-diffusion-reaction equations", Applied Numerical Mathematics 44, 2003).
	ESDIRK43 Method = iota
	// ESDIRK32 is of order 3 with an error estimate of order 2, three implicit stages (Alexander's implicit share; Hosea
	// and Shampine, Kvaerno, BIT 44, 2004). It is the cheaper one for loose tolerances and where something happens at
	// every moment.
	ESDIRK32
	// TRBDF2 is of order 2 with an error estimate of order 3, two implicit stages (Bank and others 1985; Hosea and
	// Shampine, "Analysis and implementation of TR-BDF2", Applied Numerical Mathematics 20, 1996).
	TRBDF2
)

// String is the method's name.
func (m Method) String() string { return [...]string{"ESDIRK43", "ESDIRK32", "TRBDF2"}[m] }

// tableau is a method's coefficients. Row s has those of stage s+1; the last entry of each is gamma.
type tableau struct {
	rows    [][]float64
	gamma   float64
	at      []float64 // share of the step at which each stage stands, the explicit first one included
	ahead   []float64 // by stage: how far it stands beyond the last one, as a share of the way from the one before to that
	err     []float64 // result less the embedded one
	order   float64   // of the error in one step as the estimate sees it
	decay   float64   // that estimate in a decay of 1, for a step of z time constants, over z to the power of the order
	caution float64   // how far below the tolerance the estimate has to stay
}

// The cautions were found by trial on the circuits that SciPy judges. Where a decay is followed in steps of z time constants,
// the estimate of ESDIRK43 is 2.2e-4 z^4 and its own error 8.5e-4 z^5: in steps longer than a quarter of a time constant it
// is worse than it thinks. The estimate of TRBDF2, 0.040 z^3, is all of its error. That of ESDIRK32, 0.079 z^3, is far more
// than its error, 0.026 z^4. With 12 in place of 16 a hiccup's period at 1e-3 would be off by 1.3e-4, where at most 1e-4 is
// wanted; with 16 in place of 24 TRBDF2 would be half a tolerance off where a film breaks down.
var tableaus = [...]tableau{ESDIRK43: esdirk43(), ESDIRK32: esdirk32(), TRBDF2: trbdf2()}

// settling is the method of the first step after a change: two halves of backward Euler, which asks nothing of the slopes
// before it. What is all but at once comes to rest in the first half, so that its slope is gone in the second.
var settling = newTableau(2, 4, []float64{0, 1, 0}, []float64{0, 0.5}, []float64{0, 0.5, 0.5})

// table is the method of the next step.
func (r *Run) table() *tableau {
	if r.since == 0 {
		return &settling
	}
	return &r.method
}

func newTableau(order, caution float64, embedded []float64, rows ...[]float64) tableau {
	last := rows[len(rows)-1]
	t := tableau{rows: rows, gamma: last[len(last)-1], at: []float64{0}, ahead: []float64{0}, order: order, caution: caution}
	for s, row := range rows {
		sum := 0.0
		for _, a := range row {
			sum += a
		}
		ahead := 0.0
		if s > 0 {
			ahead = (sum - t.at[s]) / (t.at[s] - t.at[s-1])
		}
		t.at, t.ahead = append(t.at, sum), append(t.ahead, ahead)
	}
	for j, b := range last {
		t.err = append(t.err, b-embedded[j])
	}
	t.decay = t.ofDecay()
	return t
}

// ofDecay is the first term of the estimate for x' = -x that is not 0, in powers of the step. What a stage's slope has of
// one power is what the slopes before it have of the one below.
func (t *tableau) ofDecay() (term float64) {
	slopes := make([]float64, len(t.at))
	for s := range slopes {
		slopes[s] = 1
	}
	for power := 1; power < int(t.order); power++ {
		next := make([]float64, len(t.at))
		for s, row := range t.rows {
			for j, a := range row {
				next[s+1] += a * slopes[j]
			}
		}
		slopes = next
	}
	for s, e := range t.err {
		term += e * slopes[s]
	}
	return math.Abs(term)
}

func trbdf2() tableau {
	d, w := 1-1/math.Sqrt2, math.Sqrt2/4
	return newTableau(3, 24, []float64{(1 - w) / 3, (3*w + 1) / 3, d / 3}, []float64{d, d}, []float64{w, w, d})
}

func esdirk32() tableau {
	const q = 0.4358665215084590
	second := []float64{-(4*q*q - 6*q + 1) / (4 * q), (1 - 2*q) / (4 * q), q}
	return newTableau(3, 4, append(append([]float64(nil), second...), 0), []float64{q, q}, second,
		[]float64{(6*q - 1) / (12 * q), -1 / ((24*q - 12) * q), -(6*q*q - 6*q + 1) / (6*q - 3), q})
}

func esdirk43() tableau {
	return newTableau(4, 16,
		[]float64{4586570599. / 29645900160, 0, 178811875. / 945068544, 814220225. / 1159782912, -3700637. / 11593932, 61727. / 225920},
		[]float64{1. / 4, 1. / 4},
		[]float64{8611. / 62500, -1743. / 31250, 1. / 4},
		[]float64{5012029. / 34652500, -654441. / 2922500, 174375. / 388108, 1. / 4},
		[]float64{15267082809. / 155376265600, -71443401. / 120774400, 730878875. / 902184768, 2285395. / 8070912, 1. / 4},
		[]float64{82889. / 524892, 0, 15625. / 83664, 69875. / 102672, -2260. / 8211, 1. / 4})
}
