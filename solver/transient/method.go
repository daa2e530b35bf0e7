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
	rows  [][]float64
	gamma float64
	at    []float64 // share of the step at which each stage stands, the explicit first one included
	err   []float64 // result less the embedded one
	order float64   // of the error in one step as the estimate sees it
}

var tableaus = [...]tableau{ESDIRK43: esdirk43(), ESDIRK32: esdirk32(), TRBDF2: trbdf2()}

func newTableau(order float64, embedded []float64, rows ...[]float64) tableau {
	last := rows[len(rows)-1]
	t := tableau{rows: rows, gamma: last[len(last)-1], at: []float64{0}, order: order}
	for _, row := range rows {
		sum := 0.0
		for _, a := range row {
			sum += a
		}
		t.at = append(t.at, sum)
	}
	for j, b := range last {
		t.err = append(t.err, b-embedded[j])
	}
	return t
}

func trbdf2() tableau {
	d, w := 1-1/math.Sqrt2, math.Sqrt2/4
	return newTableau(3, []float64{(1 - w) / 3, (3*w + 1) / 3, d / 3}, []float64{d, d}, []float64{w, w, d})
}

func esdirk32() tableau {
	const q = 0.4358665215084590
	second := []float64{-(4*q*q - 6*q + 1) / (4 * q), (1 - 2*q) / (4 * q), q}
	return newTableau(3, append(append([]float64(nil), second...), 0), []float64{q, q}, second,
		[]float64{(6*q - 1) / (12 * q), -1 / ((24*q - 12) * q), -(6*q*q - 6*q + 1) / (6*q - 3), q})
}

func esdirk43() tableau {
	return newTableau(4,
		[]float64{4586570599. / 29645900160, 0, 178811875. / 945068544, 814220225. / 1159782912, -3700637. / 11593932, 61727. / 225920},
		[]float64{1. / 4, 1. / 4},
		[]float64{8611. / 62500, -1743. / 31250, 1. / 4},
		[]float64{5012029. / 34652500, -654441. / 2922500, 174375. / 388108, 1. / 4},
		[]float64{15267082809. / 155376265600, -71443401. / 120774400, 730878875. / 902184768, 2285395. / 8070912, 1. / 4},
		[]float64{82889. / 524892, 0, 15625. / 83664, 69875. / 102672, -2260. / 8211, 1. / 4})
}
