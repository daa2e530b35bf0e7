package element

// This file holds the joint of which only the ohms are known.

import (
	"math"

	"underload/solver/transient"
)

// Ohmic is a joint of some ohms that warms its body, C T' = V I - G (T - air), and grows by its own heat:
//
//	(ln R)' = GrowthPerSecond (2^(x/30 K) - 1),  x = the body's rise over the air, rounded off towards 120 K
//
// so that it stays as it is while it carries little. While it is fretted, by movement that is told in the mark
// OhmicFretPerSecond, debris and oxide add to that, the faster the warmer, up to MostOhms:
//
//	(ln R)' = ... + FretPerSecond 2^((T - 20 degC)/30 K) (1 - R/MostOhms)
//
// To disturb it, set the mark OhmicDisturb to OhmicMoved, and settle:
// by HealChance it then has HealedOhms, and otherwise what it had at the start, or more if it has grown.
type Ohmic struct {
	Ohms                                    float64 // at the start
	BodyJoulesPerKelvin, BodyWattsPerKelvin float64
	AirKelvin                               float64
	GrowthPerSecond                         float64
	HealChance, HealedOhms                  float64
	MostOhms                                float64 // that fretting leads to; 0: it does nothing
}

// States of an Ohmic.
const (
	OhmicBodyKelvin = iota
	OhmicLnOhms
)

// Marks of an Ohmic. The first three may be changed during a run.
const (
	OhmicDisturb = iota // 0, or OhmicMoved
	OhmicAirKelvin
	OhmicFretPerSecond
	ohmicDraws
	ohmicMarks
)

// OhmicMoved is a value of OhmicDisturb.
const OhmicMoved = 1

// mostDoublings bounds what heat does to the growth, so that a slot that grows 1.5 times an hour at 10 W does not grow more
// than three times (common practice, no source).
const mostDoublings = 4

// Check reports the first parameter that makes no joint.
func (o *Ohmic) Check() error {
	healed := o.HealedOhms
	if o.HealChance == 0 {
		healed = 1
	}
	return first(
		positive("ohmic", "Ohms", o.Ohms), positive("ohmic", "BodyJoulesPerKelvin", o.BodyJoulesPerKelvin),
		positive("ohmic", "BodyWattsPerKelvin", o.BodyWattsPerKelvin), positive("ohmic", "AirKelvin", o.AirKelvin),
		notNegative("ohmic", "GrowthPerSecond", o.GrowthPerSecond), share("ohmic", "HealChance", o.HealChance),
		positive("ohmic", "HealedOhms", healed), notNegative("ohmic", "MostOhms", o.MostOhms),
	)
}

// Size is the states and marks above, and one event: that it was disturbed.
func (o *Ohmic) Size() transient.Size {
	return transient.Size{States: 2, Marks: ohmicMarks, Events: 1, Unit: [transient.MaxStates]float64{0.01, 1e-3}}
}

// Start has the body as warm as volts keep it.
func (o *Ohmic) Start(volts float64, states, marks []float64) {
	clear(marks)
	marks[OhmicAirKelvin] = o.AirKelvin
	states[OhmicBodyKelvin] = o.AirKelvin + volts*volts/(o.Ohms*o.BodyWattsPerKelvin)
	states[OhmicLnOhms] = math.Log(o.Ohms)
}

// Rates gives the current, the body's heat and the growth.
func (o *Ohmic) Rates(at *transient.Point, rates *transient.Rates) {
	const body, lnOhms = OhmicBodyKelvin, OhmicLnOhms
	siemens := math.Exp(-at.States[lnOhms])
	amps := at.Volts * siemens
	rates.Amps, rates.PerVolt, rates.PerState[lnOhms] = amps, siemens, -amps
	rise := at.States[body] - at.Marks[OhmicAirKelvin]
	rates.Rate[body] = (at.Volts*amps - o.BodyWattsPerKelvin*rise) / o.BodyJoulesPerKelvin
	rates.RatePerV[body] = 2 * amps / o.BodyJoulesPerKelvin
	rates.RatePerX[body][body] = -o.BodyWattsPerKelvin / o.BodyJoulesPerKelvin
	rates.RatePerX[body][lnOhms] = -at.Volts * amps / o.BodyJoulesPerKelvin
	near := math.Tanh(rise / (filmDoublingKelvin * mostDoublings))
	factor := math.Exp2(mostDoublings * near)
	rates.Rate[lnOhms] = o.GrowthPerSecond * (factor - 1)
	rates.RatePerX[lnOhms][body] = o.GrowthPerSecond * factor * math.Ln2 * (1 - near*near) / filmDoublingKelvin
	if perSecond, share := at.Marks[OhmicFretPerSecond], 1/(siemens*o.MostOhms); perSecond > 0 && share < 1 {
		fretted := perSecond * math.Exp2((at.States[body]-coldKelvin)/filmDoublingKelvin)
		rates.Rate[lnOhms] += fretted * (1 - share)
		rates.RatePerX[lnOhms][lnOhms] -= fretted * share
		rates.RatePerX[lnOhms][body] += fretted * (1 - share) * math.Ln2 / filmDoublingKelvin
	}
}

// Events are that it was disturbed.
func (o *Ohmic) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[OhmicDisturb] != 0 {
		distance[0] = 1
	}
}

// Fire draws whether it heals.
func (o *Ohmic) Fire(_ int, at *transient.Point) {
	at.Marks[OhmicDisturb] = 0
	heals := at.Draw(at.Marks[ohmicDraws]) < o.HealChance
	at.Marks[ohmicDraws]++
	if heals {
		at.States[OhmicLnOhms] = math.Log(o.HealedOhms)
	} else {
		at.States[OhmicLnOhms] = max(at.States[OhmicLnOhms], math.Log(o.Ohms))
	}
}

// Power is what its body loses to the air, and the heat it holds.
func (o *Ohmic) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	body := at.States[OhmicBodyKelvin]
	return o.BodyWattsPerKelvin * (body - at.Marks[OhmicAirKelvin]), 0, o.BodyJoulesPerKelvin * body
}
