package element

// This file holds the contact between two metals that touch in a few spots, with a film between.

import (
	"math"

	"underload/solver/transient"
)

// lorenz is the Lorenz number in V2/K2 (R. Holm, Electric Contacts, 4th ed., through repositories that use it).
const lorenz = 2.44e-8

// SpotKelvin is the temperature of the hottest place of a metal spot whose two sides are at bodyKelvin, with volts
// across it: T^2 = T0^2 + U^2/(4 L) (the voltage-temperature relation, R. Holm, Electric Contacts, 4th ed.).
func SpotKelvin(bodyKelvin, volts float64) float64 {
	return math.Sqrt(bodyKelvin*bodyKelvin + volts*volts/(4*lorenz))
}

// Plating is the metal that touches. At SofteningVolts across it the spots begin to grow, at MeltingVolts they melt; none
// gets hotter than MeltKelvin.
type Plating struct {
	SofteningVolts, MeltingVolts, MeltKelvin float64
	OhmsPerKelvin                            float64
}

// Tin is the usual plating of a vehicle's terminals. 0.13 V: Holm, through a repository; the rest from memory.
var Tin = Plating{SofteningVolts: 0.07, MeltingVolts: 0.13, MeltKelvin: 505, OhmsPerKelvin: 0.0045}

// How fast spots grow at twice the softening and twice the melting volts, by a factor of e, and over how many volts that
// sets in. Slow creep and quick melting: only the order is known; no source.
const (
	softeningSeconds = 10.0
	meltingSeconds   = 1e-3
	growthWidth      = 0.010
)

// filmDoublingKelvin is the warmth that doubles the growth of a film: four times for 60 K more, as tin in fretting grows
// several times faster at 60 to 85 degC than at room temperature (Holm conference paper of 1988, abstract read).
const filmDoublingKelvin = 30

// meltWidth rounds, in kelvin, the corner at which a spot stops getting hotter.
const meltWidth = 2.0

// partedBelow is the share of the film's conductance below which metal spots no longer count.
const partedBelow = 0.01

// Joint is a contact: metal spots of conductance g beside a film, both across the same volts, in a body that they warm.
//
//	I = V (g/d + 1/film)    d = 1 + 2/3 OhmsPerKelvin ((T0 + Tm)/2 - 20 degC)
//	body:  C T0' = V I - G (T0 - air)
//	spots: (ln g)' = growth by softening and melting - FretPerSecond
//	film:  (ln film)' = FilmPerSecond 2^((T0 - 20 degC)/30 K)
//
// Tm is the spot's temperature of SpotKelvin, at most that of melting: without that bound a spot at 11 V would be taken
// for 35 000 K hot, and grow far too large. So metal that carries a current cannot keep much more than MeltingVolts, and
// what loses volts is film. A film breaks down at BreakdownVolts: spots then form that carry its current at MeltingVolts.
// They are lost again when FretPerSecond has worn them down to almost nothing, or when the joint is disturbed.
//
// To disturb it, set the mark JointDisturb to JointMoved or JointWiped, and settle. Wiping cleans it; moving cleans it by
// HealChance, and otherwise leaves it with its film of FilmOhms, or more if more has grown, and no metal.
type Joint struct {
	MetalOhms     float64 // of the spots at the start, at 20 degC
	Touches       bool    // there are spots at the start
	FilmOhms      float64 // at the start, and when moved in vain
	CleanOhms     float64 // of the spots when it is clean, under a sound terminal's force
	CleanFilmOhms float64
	ForceShare    float64 // of a sound terminal's force: clean ohms go with its root (R ~ F^-1/2, Holm)

	BreakdownVolts float64 // of the film; +Inf: never
	FilmPerSecond  float64 // growth of its ln at 20 degC
	FretPerSecond  float64 // loss of ln g by movement
	HealChance     float64

	BodyJoulesPerKelvin, BodyWattsPerKelvin float64
	AirKelvin                               float64
	Plating                                 Plating
}

// States of a Joint.
const (
	JointBodyKelvin = iota
	JointLnMetal    // ln of the spots' siemens at 20 degC
	JointLnFilm     // ln of the film's ohms
)

// Marks of a Joint. Disturb, air and fretting may be changed during a run.
const (
	JointTouches = iota // 1: there are spots
	JointDisturb        // one of the values below
	JointAirKelvin
	JointFretPerSecond
	jointDraws
	jointMarks
)

// Values of JointDisturb.
const (
	JointLeft = iota
	JointMoved
	JointWiped
)

// Events of a Joint.
const (
	JointIsDisturbed = iota
	JointBreaksDown
	JointParts
)

// Check reports the first parameter that makes no joint.
func (j *Joint) Check() error {
	breakdown := j.BreakdownVolts
	if math.IsInf(breakdown, 1) {
		breakdown = 1
	}
	return first(
		positive("joint", "MetalOhms", j.MetalOhms), positive("joint", "FilmOhms", j.FilmOhms),
		positive("joint", "CleanOhms", j.CleanOhms), positive("joint", "CleanFilmOhms", j.CleanFilmOhms),
		positive("joint", "ForceShare", j.ForceShare), positive("joint", "BreakdownVolts", breakdown),
		notNegative("joint", "FilmPerSecond", j.FilmPerSecond), notNegative("joint", "FretPerSecond", j.FretPerSecond),
		share("joint", "HealChance", j.HealChance),
		positive("joint", "BodyJoulesPerKelvin", j.BodyJoulesPerKelvin), positive("joint", "BodyWattsPerKelvin", j.BodyWattsPerKelvin),
		positive("joint", "AirKelvin", j.AirKelvin),
		positive("joint", "Plating.SofteningVolts", j.Plating.SofteningVolts), positive("joint", "Plating.MeltingVolts", j.Plating.MeltingVolts),
		positive("joint", "Plating.MeltKelvin", j.Plating.MeltKelvin), notNegative("joint", "Plating.OhmsPerKelvin", j.Plating.OhmsPerKelvin),
	)
}

// Size is the states, marks and events above.
func (j *Joint) Size() transient.Size {
	return transient.Size{States: 3, Marks: jointMarks, Events: 3, Unit: [transient.MaxStates]float64{0.01, 1e-3, 1e-3}}
}

// Start has the body as warm as volts keep it, with spots and film as they were given.
func (j *Joint) Start(volts float64, states, marks []float64) {
	clear(marks)
	if j.Touches {
		marks[JointTouches] = 1
	}
	marks[JointAirKelvin], marks[JointFretPerSecond] = j.AirKelvin, j.FretPerSecond
	states[JointLnMetal], states[JointLnFilm] = -math.Log(j.MetalOhms), math.Log(j.FilmOhms)
	// The warmer, the fewer watts, so that halving finds the body.
	low, high := j.AirKelvin, j.AirKelvin
	watts := func(kelvin float64) float64 {
		amps, _, _ := j.metal(volts, kelvin, states[JointLnMetal], marks)
		return volts * (amps + volts*math.Exp(-states[JointLnFilm]))
	}
	high += watts(low) / j.BodyWattsPerKelvin
	for range 100 {
		middle := low + (high-low)/2
		if watts(middle) > j.BodyWattsPerKelvin*(middle-j.AirKelvin) {
			low = middle
		} else {
			high = middle
		}
	}
	states[JointBodyKelvin] = low
}

// spot is the temperature of the hottest place, and its slopes by volts and by the body's temperature.
func (j *Joint) spot(volts, bodyKelvin float64) (kelvin, perVolt, perKelvin float64) {
	free := SpotKelvin(bodyKelvin, volts)
	// The lesser of free and what it cannot pass: the melting point or, if that is hotter, the body.
	over, overSlope := corner(bodyKelvin - j.Plating.MeltKelvin)
	top, topSlope := j.Plating.MeltKelvin+over, overSlope
	short, shortSlope := corner(free - top)
	return free - short, (1 - shortSlope) * volts / (4 * lorenz * free),
		(1-shortSlope)*bodyKelvin/free + shortSlope*topSlope
}

// corner is x where it is above 0 and nothing below, rounded over meltWidth to both sides; and its slope.
func corner(x float64) (y, slope float64) {
	switch {
	case x <= -meltWidth:
		return 0, 0
	case x >= meltWidth:
		return x, 1
	}
	return (x + meltWidth) * (x + meltWidth) / (4 * meltWidth), (x + meltWidth) / (2 * meltWidth)
}

// metal is the current through the spots, and its slopes by volts and by the body's temperature; by ln g it is itself.
func (j *Joint) metal(volts, bodyKelvin, lnMetal float64, marks []float64) (amps, perVolt, perKelvin float64) {
	if marks[JointTouches] == 0 {
		return 0, 0, 0
	}
	hottest, hotPerVolt, hotPerKelvin := j.spot(volts, bodyKelvin)
	rise := j.Plating.OhmsPerKelvin / 3 // two thirds, of the mean of both
	d := 1 + rise*(bodyKelvin+hottest-2*coldKelvin)
	siemens := math.Exp(lnMetal) / d
	amps = volts * siemens
	return amps, siemens - amps/d*rise*hotPerVolt, -amps / d * rise * (1 + hotPerKelvin)
}

// Rates gives the current of spots and film, the body's heat and the growth of both.
func (j *Joint) Rates(at *transient.Point, rates *transient.Rates) {
	const body, lnMetal, lnFilm = JointBodyKelvin, JointLnMetal, JointLnFilm
	volts := at.Volts
	amps, perVolt, perKelvin := j.metal(volts, at.States[body], at.States[lnMetal], at.Marks)
	film := math.Exp(-at.States[lnFilm])
	rates.Amps, rates.PerVolt = amps+volts*film, perVolt+film
	rates.PerState[body], rates.PerState[lnMetal], rates.PerState[lnFilm] = perKelvin, amps, -volts*film

	rates.Rate[body] = (volts*rates.Amps - j.BodyWattsPerKelvin*(at.States[body]-at.Marks[JointAirKelvin])) / j.BodyJoulesPerKelvin
	rates.RatePerV[body] = (rates.Amps + volts*rates.PerVolt) / j.BodyJoulesPerKelvin
	for k, slope := range rates.PerState[:3] {
		rates.RatePerX[body][k] = volts * slope / j.BodyJoulesPerKelvin
	}
	rates.RatePerX[body][body] -= j.BodyWattsPerKelvin / j.BodyJoulesPerKelvin

	if at.Marks[JointTouches] != 0 {
		soft, softSlope := above(math.Abs(volts)-j.Plating.SofteningVolts, growthWidth)
		melt, meltSlope := above(math.Abs(volts)-j.Plating.MeltingVolts, growthWidth)
		softly, quickly := 1/(j.Plating.SofteningVolts*softeningSeconds), 1/(j.Plating.MeltingVolts*meltingSeconds)
		rates.Rate[lnMetal] = soft*softly + melt*quickly - at.Marks[JointFretPerSecond]
		rates.RatePerV[lnMetal] = math.Copysign(softSlope*softly+meltSlope*quickly, volts)
	}
	if j.FilmPerSecond > 0 {
		growth := j.FilmPerSecond * math.Exp2((at.States[body]-coldKelvin)/filmDoublingKelvin)
		rates.Rate[lnFilm], rates.RatePerX[lnFilm][body] = growth, growth*math.Ln2/filmDoublingKelvin
	}
}

// Events are that it was disturbed, that its film breaks down, and that its spots are worn away.
func (j *Joint) Events(at *transient.Point, distance []float64) {
	distance[JointIsDisturbed], distance[JointBreaksDown], distance[JointParts] = -1, -1, -1
	if at.Marks[JointDisturb] != JointLeft {
		distance[JointIsDisturbed] = 1
	}
	if at.Marks[JointTouches] == 0 {
		distance[JointBreaksDown] = math.Abs(at.Volts)/j.BreakdownVolts - 1
	} else {
		distance[JointParts] = math.Log(partedBelow) - at.States[JointLnMetal] - at.States[JointLnFilm]
	}
}

// Fire makes or takes the spots.
func (j *Joint) Fire(k int, at *transient.Point) {
	switch k {
	case JointBreaksDown:
		at.Marks[JointTouches] = 1
		at.States[JointLnMetal] = math.Log(math.Abs(at.Volts)/j.Plating.MeltingVolts) - at.States[JointLnFilm]
	case JointParts:
		at.Marks[JointTouches] = 0
	case JointIsDisturbed:
		j.disturb(at)
	}
}

func (j *Joint) disturb(at *transient.Point) {
	heals := at.Marks[JointDisturb] == JointWiped
	if !heals {
		heals = at.Draw(at.Marks[jointDraws]) < j.HealChance
		at.Marks[jointDraws]++
	}
	at.Marks[JointDisturb] = JointLeft
	if heals {
		at.Marks[JointTouches] = 1
		at.States[JointLnMetal] = math.Log(math.Sqrt(j.ForceShare) / j.CleanOhms)
		at.States[JointLnFilm] = math.Log(j.CleanFilmOhms)
		return
	}
	at.Marks[JointTouches] = 0
	at.States[JointLnFilm] = max(at.States[JointLnFilm], math.Log(j.FilmOhms))
}

// Power is what its body loses to the air, and the heat it holds.
func (j *Joint) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	body := at.States[JointBodyKelvin]
	return j.BodyWattsPerKelvin * (body - at.Marks[JointAirKelvin]), 0, j.BodyJoulesPerKelvin * body
}
