package element

// This file holds the contact that comes and goes when it is shaken.

import (
	"math"

	"underload/solver/transient"
)

// Flutter is a contact under vibration, to be put in series with what is steady of it. Each half-wave of the vibration
// has a chance that the contact lifts at its beginning: then it is a gap by OpenShare, or else a resistance between
// LowOhms and HighOhms, evenly drawn on a log scale, for a share of the half-wave, evenly drawn. The chance is
//
//	LiftChance x strength x 2^((T - 20 degC)/30 K) x (1 + moisture), at most 0.95
//
// Four numbers are drawn for each half-wave, whatever comes of them, so that what happens depends on the seed and on what
// is done to it, and never on the steps that are taken. All of it is common practice, no source: studies of fretting tell
// of bursts of fractions of a second, sooner with more movement, warmth and damp, and give no such law.
type Flutter struct {
	overGap
	ClosedOhms        float64
	LiftChance        float64 // of a half-wave, at strength 1, 20 degC and dry
	OpenShare         float64
	LowOhms, HighOhms float64
	Kelvin, Moisture  float64 // at the start
	Strength, Hertz   float64 // at the start, 0 is quiet; after that see Shake
}

// Marks of a Flutter. The first two may be changed during a run; Shake sets the next two.
const (
	FlutterKelvin   = iota
	FlutterMoisture // 0 dry to 1 wet
	FlutterStrength
	FlutterHertz
	FlutterLifted  // 0 closed, 1 lifted
	flutterSiemens // as it now is; 0: a gap
	flutterHalf    // half-waves so far
	flutterEnds    // seconds, of this one
	flutterNext    // seconds, or +Inf
	flutterMarks
)

const (
	mostLiftChance = 0.95
	leastLiftShare = 1e-3 // of a half-wave
	drawsPerHalf   = 4
)

// Check reports the first parameter that makes no such contact.
func (f *Flutter) Check() error {
	hertz := f.Hertz
	if f.Strength == 0 {
		hertz = 1
	}
	return first(
		positive("flutter", "ClosedOhms", f.ClosedOhms), share("flutter", "LiftChance", f.LiftChance),
		share("flutter", "OpenShare", f.OpenShare), positive("flutter", "LowOhms", f.LowOhms),
		positive("flutter", "HighOhms", f.HighOhms), positive("flutter", "Kelvin", f.Kelvin),
		notNegative("flutter", "HighOhms - LowOhms", f.HighOhms-f.LowOhms), share("flutter", "Moisture", f.Moisture),
		notNegative("flutter", "Strength", f.Strength), positive("flutter", "Hertz", hertz),
	)
}

// Size is the marks above.
func (f *Flutter) Size() transient.Size { return transient.Size{Marks: flutterMarks} }

// Start has it closed, shaken from 0 s on if it is shaken at all.
func (f *Flutter) Start(_ float64, _, marks []float64) {
	clear(marks)
	marks[FlutterKelvin], marks[FlutterMoisture] = f.Kelvin, f.Moisture
	f.Shake(marks, 0, f.Strength, f.Hertz)
}

// Shake begins, changes or ends the vibration, at the seconds of the run; it must be settled. Strength 1 is a firm wiggle
// by hand, 0 is rest; hertz is above 0 then. A half-wave that is on its way ends.
func (f *Flutter) Shake(marks []float64, seconds, strength, hertz float64) {
	marks[FlutterStrength], marks[FlutterHertz] = strength, hertz
	marks[FlutterLifted], marks[flutterSiemens] = 0, 1/f.ClosedOhms
	marks[flutterEnds], marks[flutterNext] = seconds, seconds
	if !(strength > 0 && hertz > 0) {
		marks[flutterNext] = math.Inf(1)
	}
}

// chance is that a half-wave lifts the contact.
func (f *Flutter) chance(marks []float64) float64 {
	warmth := math.Exp2((marks[FlutterKelvin] - coldKelvin) / filmDoublingKelvin)
	return min(f.LiftChance*marks[FlutterStrength]*warmth*(1+marks[FlutterMoisture]), mostLiftChance)
}

// Next is when it lifts or falls back.
func (f *Flutter) Next(marks []float64) float64 { return marks[flutterNext] }

// Tick lets it fall back in the middle of a half-wave, or begins the next.
func (f *Flutter) Tick(at *transient.Point) {
	marks := at.Marks
	begins := marks[flutterNext] >= marks[flutterEnds]
	marks[FlutterLifted], marks[flutterSiemens] = 0, 1/f.ClosedOhms
	if !begins {
		marks[flutterNext] = marks[flutterEnds]
		return
	}
	half := 0.5 / marks[FlutterHertz]
	count := drawsPerHalf * marks[flutterHalf]
	start := marks[flutterEnds]
	marks[flutterHalf]++
	marks[flutterEnds], marks[flutterNext] = start+half, start+half
	if at.Draw(count) >= f.chance(marks) {
		return
	}
	marks[FlutterLifted], marks[flutterSiemens] = 1, 0
	if at.Draw(count+1) >= f.OpenShare {
		marks[flutterSiemens] = 1 / (f.LowOhms * math.Pow(f.HighOhms/f.LowOhms, at.Draw(count+2)))
	}
	marks[flutterNext] = start + half*max(at.Draw(count+3), leastLiftShare)
}

// Rates is its resistance now, or the gap.
func (f *Flutter) Rates(at *transient.Point, rates *transient.Rates) {
	siemens := at.Marks[flutterSiemens]
	if siemens == 0 {
		setGap(at, rates)
		return
	}
	rates.Amps, rates.PerVolt = siemens*at.Volts, siemens
}

// Power is heat.
func (f *Flutter) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	var rates transient.Rates
	f.Rates(at, &rates)
	return rates.Amps * at.Volts, 0, 0
}
