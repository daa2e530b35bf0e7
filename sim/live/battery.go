package live

// This file is the battery: its charge, its resistance that shows in part at once and in part after a while, and a support
// charger on its posts.

import (
	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
)

const (
	// referenceKelvin is where the figures of a cell hold: the file's ambient temperature stands for it.
	referenceKelvin = 298.15
	// coldFactor is how many times its resistance a cell has at -18 °C, where its rating is told.
	coldFactor = 2
	// fullestVolts is more than any battery of six cells has at rest. A file that gives more means battery and running
	// generator together, which hold their volts.
	fullestVolts = 13.2
	// leastChargingOhms is what is left of a battery's resistance against being charged once its lags are taken off.
	leastChargingOhms = 1e-4
)

func newBattery(p *circuit.Part, w *Place) Part {
	neg, pos, s := w.Inside("neg"), w.Inside("pos"), w.State
	if s.Support {
		volts, ohms := part.Support()
		w.Net.Source(neg, pos, volts, ohms)
	}
	cell := Cell(p, s, w.AmbientCelsius, w.FileCelsius)
	if volts, ohms := part.Rested(p, s, w.AmbientCelsius); volts > fullestVolts*cell.Blocks {
		source := w.Net.Source(neg, pos, volts, ohms)
		return Part{Readings: map[string]Reading{
			"charge": constant("%", 100),
			"amps":   {Unit: "A", Read: func(v View) float64 { return v.Amps(source) }},
		}}
	}
	id := w.add("cell", pos, neg, cell)
	return Part{Readings: map[string]Reading{
		"charge": {Unit: "%", Read: func(v View) float64 { return max(0, 100*v.States(id)[0]/cell.AmpHours) }},
		"amps":   {Unit: "A", Read: func(v View) float64 { return -v.ElementAmps(id) }},
	}}
}

// Cell is what a battery is at an ambient temperature. The figures of its file hold at the file's own ambient temperature.
// Its inner resistance follows from its cold cranking amps where the file gives those and no resistance; those hold at
// -18 °C.
func Cell(p *circuit.Part, s *part.State, ambientCelsius, fileCelsius float64) *element.Cell {
	volts, ohms := part.Rested(p, s, ambientCelsius)
	blocks := element.BlocksOf(p.Value("volts"))
	cell := element.NewCell(blocks, volts, ohms, p.Value("capacity"))
	cell.Kelvin = referenceKelvin + ambientCelsius - fileCelsius
	if amps := p.Value("cold cranking"); amps > 0 && !p.Has("internal") && s.Flaw.Ohms == 0 {
		charge := cell.Charge
		cell = element.NewCrankingCell(blocks, p.Value("capacity"), amps)
		cell.Charge = charge
		posts := (p.Terminals[0].BehindOhms + p.Terminals[1].BehindOhms) / coldFactor // where the rating is told
		cell.Ohms = max(cell.Ohms-posts, cell.Ohms/4)
		cell.Kelvin = ambientCelsius + ZeroCelsius
	}
	cell.AmbientKelvin = cell.Kelvin
	if from := p.Value("charges from"); from > volts {
		cell.ChargeStepVolts = from - volts
	}
	if taking := p.Value("charging"); taking > 0 {
		taking = max(taking, s.Flaw.Ohms)
		cell.ChargingOhms = max(taking-cell.Lags[0].Ohms-cell.Lags[1].Ohms, leastChargingOhms)
	}
	return cell
}
