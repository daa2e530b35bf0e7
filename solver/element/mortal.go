package element

// This file holds the incandescent lamp that burns out.

import "underload/solver/transient"

// MortalOpen is the mark of a Mortal: 1 once it has burnt out.
const MortalOpen = 0

// Mortal is a filament that burns out where it gets hotter than some volts would keep it.
type Mortal struct {
	overGap
	Filament   *Filament
	BurnsVolts float64
}

// Check reports the first parameter that makes no lamp.
func (m *Mortal) Check() error {
	return first(m.Filament.Check(), positive("mortal", "BurnsVolts", m.BurnsVolts))
}

// Size is the filament's state, the mark, and one event: that it opens.
func (m *Mortal) Size() transient.Size {
	size := m.Filament.Size()
	size.Marks, size.Events = 1, 1
	return size
}

// Start has it as hot as volts keep it, or open for long.
func (m *Mortal) Start(volts float64, states, marks []float64) {
	m.Filament.Start(volts, states, marks)
	if marks[MortalOpen] = 0; volts > m.BurnsVolts || volts < -m.BurnsVolts {
		m.Filament.Start(0, states, marks)
		marks[MortalOpen] = 1
	}
}

// Rates are those of the filament; an open one cools down.
func (m *Mortal) Rates(at *transient.Point, rates *transient.Rates) {
	if at.Marks[MortalOpen] == 0 {
		m.Filament.Rates(at, rates)
		return
	}
	watts, slope := m.Filament.lamp.LossWatts(at.States[0])
	setGap(at, rates)
	rates.Rate[0], rates.RatePerX[0][0] = -watts/m.Filament.joulesPerKelvin, -slope/m.Filament.joulesPerKelvin
}

// Events is that it is too hot.
func (m *Mortal) Events(at *transient.Point, distance []float64) {
	distance[0] = -1
	if at.Marks[MortalOpen] == 0 {
		distance[0] = at.States[0]/m.Filament.lamp.KelvinAt(m.BurnsVolts) - 1
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
