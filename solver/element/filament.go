package element

// This file holds the incandescent lamp that warms up.

import (
	"math"

	"underload/solver/device"
	"underload/solver/transient"
)

// What makes the heat capacity of a filament out of volts and watts. All three are from memory: the share of a black
// body's radiation that leaves the surface of a tungsten coil, which partly shines on itself; the density of tungsten;
// and its specific heat, 132 J/(kg K) at room temperature and more when hot, as a mean.
const (
	coilEmissivity       = 0.25
	tungstenKGPerM3      = 19250
	tungstenJoulesPerKGK = 160
)

// stefanBoltzmann is in W/(m2 K4): 2 pi^5 k^4 / (15 h^3 c^2) with the constants of the SI.
const stefanBoltzmann = 5.670374419e-8

// radiantShare is the part of the heat that is radiated at rating, as in device.Filament.
const radiantShare = 0.95

// Filament is a tungsten lamp with its temperature as state, in kelvin. Resistance and loss of heat at a temperature are
// those of device.Filament: the table of tungsten's resistivity, the fourth power and a straight term. The rest is
//
//	C dT/dt = V^2/R(T) - loss(T)
//
// so that inrush and warming up come out of the table and are not put in. C is that of a round wire which at rating has
// the resistance of the lamp and radiates from its surface what the lamp does.
type Filament struct {
	lamp            device.Filament
	ohmsPerUnit     float64 // of the table
	joulesPerKelvin float64
}

// NewFilament returns a lamp of which only the rating is known.
func NewFilament(lamp device.Filament) *Filament {
	hot := lamp.KelvinAt(lamp.RatedVolts)
	hotUnits, _ := device.Resistivity(hot)
	hotOhms := lamp.RatedVolts * lamp.RatedVolts / lamp.RatedWatts
	// With d the diameter and l the length in metres: pi d l = surface, and l/d^2 = slimness.
	surfaceM2 := radiantShare * lamp.RatedWatts / (coilEmissivity * stefanBoltzmann * hot * hot * hot * hot)
	slimness := hotOhms * math.Pi / (4 * hotUnits * 1e-8)
	diameter := math.Cbrt(surfaceM2 / (math.Pi * slimness))
	kg := math.Pi / 4 * diameter * diameter * (slimness * diameter * diameter) * tungstenKGPerM3
	return &Filament{lamp: lamp, ohmsPerUnit: hotOhms / hotUnits, joulesPerKelvin: kg * tungstenJoulesPerKGK}
}

// Check reports the first parameter that makes no lamp.
func (f *Filament) Check() error { return f.lamp.Check() }

// JoulesPerKelvin is its heat capacity.
func (f *Filament) JoulesPerKelvin() float64 { return f.joulesPerKelvin }

// LightShare is its light at a temperature, relative to that at rated volts.
func (f *Filament) LightShare(kelvin float64) float64 {
	ohms, _ := f.ohms(kelvin)
	watts, _ := f.lamp.LossWatts(kelvin)
	if watts <= 0 {
		return 0
	}
	return f.lamp.LightShare(math.Sqrt(watts * ohms)) // the volts that hold it there
}

// ohms is its resistance and the slope per kelvin, with one look at the table.
func (f *Filament) ohms(kelvin float64) (ohms, perKelvin float64) {
	units, slope := device.Resistivity(kelvin)
	return f.ohmsPerUnit * units, f.ohmsPerUnit * slope
}

// Size is one state: kelvin.
func (f *Filament) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{0.05}}
}

// Start has it as hot as volts keep it.
func (f *Filament) Start(volts float64, states, _ []float64) { states[0] = f.lamp.KelvinAt(volts) }

// Rates gives its current and how fast it warms up.
func (f *Filament) Rates(at *transient.Point, rates *transient.Rates) {
	ohms, ohmsSlope := f.ohms(at.States[0])
	watts, wattsSlope := f.lamp.LossWatts(at.States[0])
	siemens := 1 / ohms
	amps := at.Volts * siemens
	rates.Amps = amps
	rates.PerVolt = siemens
	rates.PerState[0] = -amps * siemens * ohmsSlope
	rates.Rate[0] = (at.Volts*amps - watts) / f.joulesPerKelvin
	rates.RatePerV[0] = 2 * amps / f.joulesPerKelvin
	rates.RatePerX[0][0] = -(amps*amps*ohmsSlope + wattsSlope) / f.joulesPerKelvin
}

// Gentle: neither the table nor the fourth power bends much.
func (f *Filament) Gentle() {}

// Power is the heat and light it gives off, and the heat it holds.
func (f *Filament) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	lostWatts, _ = f.lamp.LossWatts(at.States[0])
	return lostWatts, 0, f.joulesPerKelvin * at.States[0]
}
