package element

// This file holds the incandescent lamp that burns out.

import (
	"math"

	"underload/solver/transient"
)

// States, marks and events of a Mortal.
const (
	MortalKelvin = 0 // state
	MortalSpent  = 1 // state: share of its life
	MortalOpen   = 0 // mark: 1 once it has burnt out
)

// Mortal is a filament that burns out. Its life goes with a power of the volts that keep it as hot as it is, and what it
// has spent of it adds up.
type Mortal struct {
	overGap
	Filament    *Filament
	LifeSeconds float64 // at the filament's rated volts
	Exponent    float64 // of life by volts, below 0
}

// Check reports the first parameter that makes no lamp.
func (m *Mortal) Check() error {
	return first(m.Filament.Check(), positive("mortal", "LifeSeconds", m.LifeSeconds), positive("mortal", "-Exponent", -m.Exponent))
}

// Size is the temperature in kelvin and the share of life spent; whether it is open; that it opens.
func (m *Mortal) Size() transient.Size {
	return transient.Size{States: 2, Marks: 1, Events: 1, Unit: [transient.MaxStates]float64{m.Filament.Size().Unit[0], 0.01}}
}

// Start has it as hot as volts keep it, and new.
func (m *Mortal) Start(volts float64, states, marks []float64) {
	m.Filament.Start(volts, states, marks)
	states[MortalSpent], marks[MortalOpen] = 0, 0
}

// Rates are those of the filament, and how fast it spends its life.
func (m *Mortal) Rates(at *transient.Point, rates *transient.Rates) {
	kelvin := at.States[MortalKelvin]
	watts, wattsSlope := m.Filament.lamp.LossWatts(kelvin)
	if at.Marks[MortalOpen] == 1 {
		setGap(at, rates)
		rates.Rate[0], rates.RatePerX[0][0] = -watts/m.Filament.joulesPerKelvin, -wattsSlope/m.Filament.joulesPerKelvin
		return
	}
	m.Filament.Rates(at, rates)
	if watts <= 0 {
		return
	}
	ohms, ohmsSlope := m.Filament.ohms(kelvin)
	share := math.Sqrt(watts*ohms) / m.Filament.lamp.RatedVolts // of its volts that hold it there
	rates.Rate[1] = math.Pow(share, -m.Exponent) / m.LifeSeconds
	rates.RatePerX[1][0] = rates.Rate[1] * -m.Exponent * (wattsSlope/watts + ohmsSlope/ohms) / 2
}

// Events is that its life is spent.
func (m *Mortal) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[MortalOpen] == 0 {
		distance[0] = at.States[MortalSpent] - 1
	}
}

// Fire opens it.
func (m *Mortal) Fire(_ int, at *transient.Point) { at.Marks[MortalOpen] = 1 }

// Power is the heat and light it gives off, and the heat it holds.
func (m *Mortal) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	lostWatts, givenWatts, storedJoules = m.Filament.Power(at)
	if at.Marks[MortalOpen] == 1 {
		amps, _ := gap(at.Volts)
		lostWatts += amps * at.Volts
	}
	return lostWatts, givenWatts, storedJoules
}
