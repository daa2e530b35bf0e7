package element

// This file holds how a battery moves in time.

import (
	"math"

	"underload/solver/transient"
)

// places says which state is which, -1 for one it has not, and how many there are.
type places struct {
	lags                          [2]int
	surface, held, kelvin, states int
}

func (c *Cell) places() places {
	p := places{states: 1}
	take := func(has bool) int {
		if !has {
			return -1
		}
		p.states++
		return p.states - 1
	}
	p.lags = [2]int{take(c.Lags[0].Ohms > 0), take(c.Lags[1].Ohms > 0)}
	p.surface, p.held, p.kelvin = take(c.SurfaceVolts > 0), take(c.AtHandShare > 0), take(c.JoulesPerKelvin > 0)
	return p
}

// Size is its states: ampere hours, then lags, surface, what is held back and temperature where it has them.
func (c *Cell) Size() transient.Size {
	p := c.places()
	size := transient.Size{States: p.states}
	unit := func(place int, is float64) {
		if place >= 0 && place < transient.MaxStates {
			size.Unit[place] = is
		}
	}
	unit(0, 1e-4)
	unit(p.lags[0], 1e-5)
	unit(p.lags[1], 1e-5)
	unit(p.surface, 1e-5)
	unit(p.held, 1e-4)
	unit(p.kelvin, 0.01)
	return size
}

// KelvinOf is its temperature, given its states.
func (c *Cell) KelvinOf(states []float64) float64 {
	if place := c.places().kelvin; place >= 0 {
		return states[place]
	}
	return c.Kelvin
}

// share is the charge at hand, as a share of all.
func (c *Cell) share(p places, states []float64) float64 {
	if p.held >= 0 {
		return (states[0] - states[p.held]) / c.AmpHours
	}
	return states[0] / c.AmpHours
}

// Start has it as a current of some minutes leaves it: its charge is Charge, whatever the volts, and all at hand, but lags
// and surface charge are those of the current that volts drive.
func (c *Cell) Start(volts float64, states, _ []float64) {
	p := c.places()
	lags, surface := p.lags, p.surface
	cold, _ := coldness(c.Kelvin)
	states[0] = c.Charge * c.AmpHours
	if p.held >= 0 {
		states[p.held] = 0
	}
	if p.kelvin >= 0 {
		states[p.kelvin] = c.Kelvin
	}
	settle := func(amps float64) {
		for k, place := range lags {
			if place >= 0 {
				states[place] = amps * c.Lags[k].Ohms * cold
			}
		}
		if surface >= 0 {
			in, _ := above(amps, cornerAmps)
			out, _ := above(-amps, cornerAmps)
			states[surface] = math.Max(c.StartSurfaceVolts, c.SurfaceVolts*in/(in+out+c.SurfaceCoulombs/c.SurfaceSeconds))
		}
	}
	// What lags and surface take away grows with the current they belong to: one answer, found by halves.
	low, high := -1e5, 1e5
	for range 80 {
		middle := (low + high) / 2
		settle(middle)
		if c.flow(p, volts, states).amps > middle {
			low = middle
		} else {
			high = middle
		}
	}
	settle((low + high) / 2)
}

// flow is the current into a battery.
type flow struct {
	amps, perVolt, perCharge, perKelvin float64
	cold, coldSlope                     float64 // factor on resistances
	emf, across                         float64 // volts of charge and surface; across the inner resistance
}

// flow returns what volts drive.
func (c *Cell) flow(p places, volts float64, states []float64) flow {
	share, kelvin := c.share(p, states), c.KelvinOf(states)
	open, openSlope, openKelvin := c.openVolts(share, kelvin)
	f := flow{emf: open}
	if p.surface >= 0 {
		f.emf += states[p.surface]
	}
	f.across = volts - f.emf
	for _, place := range p.lags {
		if place >= 0 {
			f.across -= states[place]
		}
	}
	f.cold, f.coldSlope = coldness(kelvin)
	thin, thinSlope := thinning(share)
	full, fullSlope := fullness(share)
	give, take := 1/(c.Ohms*f.cold*thin), 1/(c.ChargingOhms*f.cold*full)
	// It gives through one resistance below 0 V across, and takes through another from the step up.
	out, outSlope := above(cornerVolts-f.across, cornerVolts)
	out -= cornerVolts / 2
	in, inSlope := above(f.across-c.ChargeStepVolts, cornerVolts)
	f.amps = take*in - give*out
	f.perVolt = take*inSlope + give*outSlope
	f.perCharge = (give*thinSlope/thin*out - take*fullSlope/full*in - f.perVolt*openSlope) / c.AmpHours
	f.perKelvin = -f.amps*f.coldSlope/f.cold - f.perVolt*openKelvin
	return f
}

// Rates gives the current and how charge, lags, surface, what is held back and temperature change.
func (c *Cell) Rates(at *transient.Point, rates *transient.Rates) {
	p := c.places()
	f := c.flow(p, at.Volts, at.States)
	rates.Amps, rates.PerVolt = f.amps, f.perVolt
	rates.PerState[0] = f.perCharge
	for _, place := range [...]int{p.lags[0], p.lags[1], p.surface} {
		if place >= 0 {
			rates.PerState[place] = -f.perVolt
		}
	}
	if p.held >= 0 {
		rates.PerState[p.held] = -f.perCharge
	}
	if p.kelvin >= 0 {
		rates.PerState[p.kelvin] = f.perKelvin
	}
	in, inSlope := above(f.amps, cornerAmps)
	out, outSlope := above(-f.amps, cornerAmps)
	part, partSlope := stored(c.share(p, at.States))
	rateByAmps(rates, 0, (f.amps-in*(1-part))/3600, (1-inSlope*(1-part))/3600)
	byCharge := in * partSlope / c.AmpHours / 3600
	rates.RatePerX[0][0] += byCharge
	for k, place := range p.lags {
		if place >= 0 {
			c.rateLag(at, rates, &f, place, k, p.kelvin)
		}
	}
	if surface := p.surface; surface >= 0 {
		volts := at.States[surface]
		rateByAmps(rates, surface, (in*(c.SurfaceVolts-volts)-out*volts)/c.SurfaceCoulombs-volts/c.SurfaceSeconds,
			(inSlope*(c.SurfaceVolts-volts)+outSlope*volts)/c.SurfaceCoulombs)
		rates.RatePerX[surface][surface] -= (in+out)/c.SurfaceCoulombs + 1/c.SurfaceSeconds
	}
	if p.held >= 0 {
		rates.RatePerX[0][p.held] -= byCharge
		c.rateHeld(at, rates, p, in, inSlope, out, outSlope)
	}
	if p.kelvin >= 0 {
		c.rateKelvin(at, rates, &f, p)
	}
}

// rateHeld fills the row of what is held back, by amps in and out and their slopes.
func (c *Cell) rateHeld(at *transient.Point, rates *transient.Rates, p places, in, inSlope, out, outSlope float64) {
	held, few := at.States[p.held], refilledShare*c.AmpHours
	mixes, mixesSlope := c.mixing(c.KelvinOf(at.States))
	deep := (1/c.AtHandShare - 1) / 3600 // held back for each ampere, in a second
	fills := held / (held + few)
	rateByAmps(rates, p.held, deep*(out-in*fills)-mixes*held/3600, -deep*(outSlope+inSlope*fills))
	rates.RatePerX[p.held][p.held] -= deep*in*few/((held+few)*(held+few)) + mixes/3600
	if p.kelvin >= 0 {
		rates.RatePerX[p.held][p.kelvin] -= mixesSlope * held / 3600
	}
}

// rateByAmps sets a rate that depends on the current, by what it does on it.
func rateByAmps(rates *transient.Rates, row int, rate, perAmp float64) {
	rates.Rate[row] = rate
	rates.RatePerV[row] = perAmp * rates.PerVolt
	for column, slope := range rates.PerState {
		rates.RatePerX[row][column] = perAmp * slope
	}
}

// rateLag fills the row of a lag: the current less what its resistance passes, into its capacity.
func (c *Cell) rateLag(at *transient.Point, rates *transient.Rates, f *flow, place, k, kelvin int) {
	lag := c.Lags[k]
	passed := at.States[place] / (lag.Ohms * f.cold)
	rateByAmps(rates, place, (f.amps-passed)/lag.Farads, 1/lag.Farads)
	rates.RatePerX[place][place] -= 1 / (lag.Ohms * f.cold * lag.Farads)
	if kelvin >= 0 {
		rates.RatePerX[place][kelvin] += passed * f.coldSlope / f.cold / lag.Farads
	}
}

// heatWatts is what inner resistance and lags turn into heat.
func (c *Cell) heatWatts(at *transient.Point, f *flow, lags [2]int) float64 {
	heat := f.amps * f.across
	for k, place := range lags {
		if place >= 0 {
			heat += at.States[place] * at.States[place] / (c.Lags[k].Ohms * f.cold)
		}
	}
	return heat
}

// rateKelvin fills the row of its own temperature.
func (c *Cell) rateKelvin(at *transient.Point, rates *transient.Rates, f *flow, p places) {
	kelvin := p.kelvin
	heat := c.heatWatts(at, f, p.lags) - c.WattsPerKelvin*(at.States[kelvin]-c.AmbientKelvin)
	// amps times across changes by both: across falls with every state's own volts.
	rateByAmps(rates, kelvin, heat/c.JoulesPerKelvin, f.across/c.JoulesPerKelvin)
	rates.RatePerV[kelvin] += f.amps / c.JoulesPerKelvin
	row := &rates.RatePerX[kelvin]
	_, openSlope, openKelvin := c.openVolts(c.share(p, at.States), at.States[kelvin])
	byCharge := f.amps * openSlope / c.AmpHours / c.JoulesPerKelvin
	row[0] -= byCharge
	if p.held >= 0 {
		row[p.held] += byCharge
	}
	row[kelvin] -= (f.amps*openKelvin + c.WattsPerKelvin) / c.JoulesPerKelvin
	for k, place := range p.lags {
		if place >= 0 {
			siemens := 1 / (c.Lags[k].Ohms * f.cold)
			volts := at.States[place]
			row[place] += (2*volts*siemens - f.amps) / c.JoulesPerKelvin
			row[kelvin] -= volts * volts * siemens * f.coldSlope / f.cold / c.JoulesPerKelvin
		}
	}
	if p.surface >= 0 {
		row[p.surface] -= f.amps / c.JoulesPerKelvin
	}
}

// Power is heat lost, what its charge gives (below 0 while it takes), and what lags and warmth hold.
func (c *Cell) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	p := c.places()
	f := c.flow(p, at.Volts, at.States)
	lostWatts = c.heatWatts(at, &f, p.lags)
	for k, place := range p.lags {
		if place >= 0 {
			storedJoules += c.Lags[k].Farads * at.States[place] * at.States[place] / 2
		}
	}
	if p.kelvin >= 0 {
		lostWatts = c.WattsPerKelvin * (at.States[p.kelvin] - c.AmbientKelvin)
		storedJoules += c.JoulesPerKelvin * at.States[p.kelvin]
	}
	return lostWatts, -f.emf * f.amps, storedJoules
}
