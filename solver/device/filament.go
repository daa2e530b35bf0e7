package device

// This file holds the filament of an incandescent lamp.

import "math"

// What is taken of a lamp whose maker states only volts and watts. The
// temperatures are usual ones, from memory of lighting texts; the share of heat
// that leaves through gas and leads is an estimate.
const (
	brightKelvin = 2750 // from brightWatts up
	smallKelvin  = 2500
	brightWatts  = 15
	roomKelvin   = 300
	gasShare     = 0.05
)

// lightKelvin is the exponent of Wien's law at the wavelength that stands for the
// eye as a whole: c2/wavelength with c2 = 0.014388 m K and 572 nm. For lamp
// temperatures it follows the visible part of a black body's light, weighed by
// the eye's sensitivity, within 3 percent from half to 1.25 times rated volts.
const lightKelvin = 0.014388 / 572e-9

// Filament is a tungsten lamp that has come to its temperature. Its resistance
// follows from its temperature by the table Tungsten. The temperature follows
// from the balance of heat
//
//	V^2/R(T) = A (T^4 - Ta^4) + G (T - Ta)
//
// in which radiation is 95 percent at rating, and gas and leads the rest: a sum
// of a fourth power and a straight term is what measurements on lamps show (M.
// Carla, American Journal of Physics 2013, doi 10.1119/1.4802873). Cold
// resistance, inrush and how current and light depend on voltage come out of this; none is put in.
type Filament struct {
	RatedVolts, RatedWatts float64
	AmbientKelvin          float64 // 0 stands for 300 K
	HotKelvin              float64 // at RatedVolts; 0 stands for 2750 K, below 15 W for 2500 K
}

// Check reports the first parameter that makes no lamp.
func (f Filament) Check() error {
	return first(
		positive("filament", "RatedVolts", f.RatedVolts),
		positive("filament", "RatedWatts", f.RatedWatts),
		within("filament", "AmbientKelvin", f.ambient(), 200, 1000),
		within("filament", "HotKelvin", f.hot(), 1500, 3500),
	)
}

func (f Filament) ambient() float64 {
	if f.AmbientKelvin == 0 {
		return roomKelvin
	}
	return f.AmbientKelvin
}

func (f Filament) hot() float64 {
	switch {
	case f.HotKelvin != 0:
		return f.HotKelvin
	case f.RatedWatts < brightWatts:
		return smallKelvin
	}
	return brightKelvin
}

// OhmsAt returns the resistance at a temperature and its slope per kelvin.
func (f Filament) OhmsAt(kelvin float64) (ohms, perKelvin float64) {
	hot, _ := Resistivity(f.hot())
	rho, slope := Resistivity(kelvin)
	scale := f.RatedVolts * f.RatedVolts / (f.RatedWatts * hot)
	return scale * rho, scale * slope
}

// LossWatts returns the heat the filament gives off at a temperature and its
// slope per kelvin.
func (f Filament) LossWatts(kelvin float64) (watts, perKelvin float64) {
	hot, ambient := f.hot(), f.ambient()
	radiation := (1 - gasShare) * f.RatedWatts / (fourth(hot) - fourth(ambient))
	gas := gasShare * f.RatedWatts / (hot - ambient)
	watts = radiation*(fourth(kelvin)-fourth(ambient)) + gas*(kelvin-ambient)
	return watts, 4*radiation*kelvin*kelvin*kelvin + gas
}

func fourth(x float64) float64 { return x * x * x * x }

// ColdOhms returns the resistance at ambient temperature.
func (f Filament) ColdOhms() float64 {
	ohms, _ := f.OhmsAt(f.ambient())
	return ohms
}

// KelvinAt returns the temperature at volts.
func (f Filament) KelvinAt(volts float64) float64 {
	square := volts * volts
	// loss(T) R(T) = V^2 is solved for T by Newton inside a bracket; the left side
	// rises steadily. The first guess is from loss ~ T^4 and R ~ T^1.2.
	low, high := f.ambient(), f.hot()
	for high < 1e9 && f.demand(high) < square {
		low, high = high, 2*high
	}
	kelvin := f.hot() * math.Pow(square/(f.RatedVolts*f.RatedVolts), 1/5.2)
	kelvin = min(max(kelvin, low), high)
	for range 100 {
		ohms, ohmsSlope := f.OhmsAt(kelvin)
		watts, wattsSlope := f.LossWatts(kelvin)
		over := watts*ohms - square
		if over > 0 {
			high = kelvin
		} else {
			low = kelvin
		}
		next := kelvin - over/(watts*ohmsSlope+ohms*wattsSlope)
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		done := math.Abs(next-kelvin) <= 1e-13*kelvin
		kelvin = next
		if done {
			break
		}
	}
	return kelvin
}

func (f Filament) demand(kelvin float64) float64 {
	ohms, _ := f.OhmsAt(kelvin)
	watts, _ := f.LossWatts(kelvin)
	return ohms * watts
}

// LightShare returns the light at volts relative to that at RatedVolts.
func (f Filament) LightShare(volts float64) float64 {
	return math.Exp(lightKelvin * (1/f.hot() - 1/f.KelvinAt(volts)))
}

// At returns the lamp's amps and their slope in siemens, the temperature having
// followed the voltage.
func (f Filament) At(volts float64) (amps, siemens float64) {
	if math.IsNaN(volts) {
		return volts, volts
	}
	kelvin := f.KelvinAt(volts)
	ohms, ohmsSlope := f.OhmsAt(kelvin)
	watts, wattsSlope := f.LossWatts(kelvin)
	// I = V/R(T) and loss(T) R(T) = V^2 give dT/dV, and with loss = V^2/R:
	// dI/dV = (1/R) (R loss' - loss R')/(R loss' + loss R').
	return volts / ohms, (ohms*wattsSlope - watts*ohmsSlope) / (ohms*wattsSlope + watts*ohmsSlope) / ohms
}

// Limit stops a step that would reverse the lamp at 0 V, where it is cold:
// without that an iteration can hop for ever between two hot states of opposite
// sign.
func (f Filament) Limit(from, to float64) float64 {
	if from*to < 0 {
		return 0
	}
	return to
}
