package element

// This file holds the lead-acid battery.

import (
	"fmt"
	"math"

	"underload/solver/transient"
)

// OpenVolts is what a rested battery of six cells has between its posts at 26.7 degrees Celsius, by the share of its
// charge that is left: a battery maker's page; other published tables differ by a tenth of a volt. The rows past full and
// past empty are our own: volts go on rising past full, and past empty they fall so steeply that delivery ends within two
// hundredths of its ampere hours. Between the rows runs a smooth rising curve.
var OpenVolts = [...]struct{ Share, Volts float64 }{
	{-0.01, 6}, {-0.005, 10.5}, {0, 11.89}, {0.25, 12.06}, {0.5, 12.24}, {0.75, 12.45}, {1, 12.65}, {1.1, 12.8},
}

// openCurve runs through OpenVolts.
var openCurve = func() *curve {
	var share, volts []float64
	for _, row := range OpenVolts {
		share, volts = append(share, row.Share), append(volts, row.Volts)
	}
	return newCurve(share, volts)
}()

const (
	warmKelvin = 299.85 // 26.7 degrees Celsius, of the table
	roomKelvin = 298.15 // 25 degrees Celsius, at which resistances are given
)

// The rating for cold cranking, SAE J537 as trade pages quote it: at -18 degrees Celsius, for 30 s, at least 7.2 V. What a
// battery that meets its rating has in hand is common practice, no source.
const (
	crankingKelvin  = 273.15 - 18
	crankingSeconds = 30
	crankingVolts   = 7.2
	handVolts       = 0.1
)

// openPerKelvin is how open-circuit volts of six cells rise with temperature: 0.2 mV/K for each, from memory. The 24 mV
// for 5.6 K of trade pages belong to readings of acid density.
const openPerKelvin = 6 * 0.0002

// halvingKelvin is the cooling that doubles a resistance: at -18 it is twice that at 25 degrees Celsius, the lower end of
// what is usual for starter batteries (an estimate, no source).
const halvingKelvin = roomKelvin - crankingKelvin

// emptyFactor is how much more than 1 the inner resistance of an empty battery is, as multiple of that of a full one. It
// grows with the square of what is missing. An estimate, no source.
const emptyFactor = 1.5

// What a battery takes of a charge: near full its resistance against being charged is fullFactor times what it is when
// well down, and of what flows the part that is stored fades out, the rest making gas. Both are common practice, no
// source: at 14.3 V a battery half empty takes tens of amperes, a full one about one.
const (
	fullFactor   = 40
	fullShare    = 0.05 // of charge, over which it builds up
	gassingShare = 0.01
)

// The surface charge of six cells: a battery just off the charger reads some tenths of a volt high, for hours, or until
// headlamps have been on for a minute or two. Common practice, no source.
const (
	surfaceVolts    = 0.4
	surfaceCoulombs = 600
	surfaceSeconds  = 4 * 3600
)

// A battery gives its ampere hours only to a load that takes its time: part of its charge lies deep in the plates, and comes
// out as acid finds its way in. The two wells of J. F. Manwell and J. G. McGowan (Solar Energy 50, 1993, through a
// repository that uses them) are that: atHandShare of all charge is there at once, and what a load has taken from there is
// made good from the rest by mixesPerHour. Both are our fit to what 25 A find in starter batteries (see the test); how much
// slower that goes in the cold, to the temperature factors of IEEE 485 (from memory). Ampere hours are those of ratingHours.
const (
	atHandShare        = 0.42
	mixesPerHour       = 1.3
	mixesHalvingKelvin = 10
	ratingHours        = 20
	refilledShare      = 0.02 // of all charge: with less than that held back, charging has the less to fill
)

// slowShare is what a steady current takes of all charge until nothing is at hand, if that takes so many hours (from the
// source above).
func slowShare(hours, atHand, mixes float64) float64 {
	gone := -math.Expm1(-mixes * hours)
	return mixes * hours * atHand / (gone + atHand*(mixes*hours-gone))
}

// The corners between giving and taking, in volts and amps.
const (
	cornerVolts = 0.0005
	cornerAmps  = 0.001
)

// Lag is a resistance with a capacity across it.
type Lag struct {
	Ohms, Farads float64
}

// Cell is a lead-acid battery: open-circuit volts that follow its charge at hand, an inner resistance, up to two lags in
// series (polarisation), and a surface charge. States are the ampere hours still in it, the volts of each lag with Ohms
// above 0, the volts of its surface charge if SurfaceVolts is above 0, the ampere hours held back if AtHandShare is above
// 0, and its kelvin if JoulesPerKelvin is above 0; at most five.
//
// Resistances are given at 25 degrees Celsius and full charge; the farads of a lag do not depend on either. Of the charge
// q that is left, h is held back from the plates where the current meets it, with c for AtHandShare:
//
//	dh/dt = (1/c - 1) I - MixesPerHour 2^((T - 25 degC)/10 K) h
//
// so that it has the volts of q - h, is empty where they are equal, and comes back by itself when it is left alone. Charging
// fills first what is held back.
type Cell struct {
	AmpHours float64 // from full to empty, however slowly
	Charge   float64 // share of AmpHours at the start
	Blocks   float64 // how many times six cells: 1 for 12 V

	Ohms            float64
	ChargingOhms    float64 // while it takes charge
	ChargeStepVolts float64 // how far above its own volts it begins to take charge
	Lags            [2]Lag

	AtHandShare  float64 // of all charge, without waiting; 0: all of it
	MixesPerHour float64 // at 25 degrees Celsius

	// The layer of fresh acid at the plates that charging leaves: it adds up to SurfaceVolts, comes or goes with
	// SurfaceCoulombs of charge in or out, and by itself within SurfaceSeconds.
	SurfaceVolts, SurfaceCoulombs, SurfaceSeconds float64
	StartSurfaceVolts                             float64 // more than what charging leaves at the start

	Kelvin                          float64 // at the start, or for good
	JoulesPerKelvin, WattsPerKelvin float64 // 0: it keeps its temperature
	AmbientKelvin                   float64
}

// shares of a battery's resistance: at once, after half a second, after a minute; and those times. Estimates, no source.
var (
	resistanceShares = [3]float64{0.55, 0.15, 0.30}
	lagSeconds       = [2]float64{0.45, 60}
)

// BlocksOf is how many times six cells a battery of some volts at rest is. Below 9 V it is so many cells of 2.1 V, as of
// 6 V; from there on 12 V or a multiple.
func BlocksOf(openVolts float64) float64 {
	const cellVolts, cells = 2.1, 6
	if openVolts < 9 {
		return math.Max(1, math.Round(openVolts/cellVolts)) / cells
	}
	return math.Max(1, math.Round(openVolts/(cellVolts*cells)))
}

// NewCell returns a battery at 25 degrees Celsius of which only rested volts, the resistance a load of some minutes
// finds, and the ampere hours it gives within 20 hours are known. At rest it is a source of that many volts and ohms. It takes charge as easily as it
// gives it while it is well down.
func NewCell(blocks, openVolts, ohms, ampHours float64) *Cell {
	c := &Cell{
		AmpHours: ampHours / slowShare(ratingHours, atHandShare, mixesPerHour), AtHandShare: atHandShare, MixesPerHour: mixesPerHour,
		Blocks: blocks, Kelvin: roomKelvin, AmbientKelvin: roomKelvin,
		SurfaceCoulombs: surfaceCoulombs, SurfaceSeconds: surfaceSeconds,
	}
	c.SurfaceVolts = surfaceVolts * c.Blocks
	c.Charge = c.ChargeAt(openVolts)
	thin, _ := thinning(c.Charge)
	c.setOhms(ohms)
	c.Ohms /= thin
	return c
}

// NewCrankingCell returns a full battery which at -18 degrees Celsius gives crankingAmps for 30 s and then still has a
// little over 7.2 V for each block of six cells: the definition of its rating. Ampere hours that such a current would
// empty within the 30 s make no such battery; it is then taken to be just empty at their end.
func NewCrankingCell(blocks, ampHours, crankingAmps float64) *Cell {
	c := NewCell(blocks, blocks*OpenVolts[len(OpenVolts)-2].Volts, 1, ampHours)
	c.Charge = 1
	mixes, _ := c.mixing(crankingKelvin)
	held := (1/c.AtHandShare - 1) * crankingAmps * -math.Expm1(-mixes*crankingSeconds/3600) / mixes
	left := math.Max(0, 1-(crankingAmps*crankingSeconds/3600+held)/c.AmpHours)
	volts, _, _ := c.openVolts(left, crankingKelvin)
	thin, _ := thinning(left)
	cold, _ := coldness(crankingKelvin)
	share := resistanceShares[0] * thin
	for k, lag := range lagSeconds { // each lag is slower in the cold, as its resistance is higher
		share += resistanceShares[k+1] * -math.Expm1(-crankingSeconds/(lag*cold))
	}
	c.setOhms((volts - blocks*(crankingVolts+handVolts)) / (crankingAmps * cold * share))
	return c
}

// SteadyOhms is what a load that goes on for minutes finds in the cell: its resistance with all lags, at its charge and
// temperature.
func (c *Cell) SteadyOhms() float64 {
	thin, _ := thinning(c.Charge)
	cold, _ := coldness(c.Kelvin)
	ohms := c.Ohms * thin
	for _, lag := range c.Lags {
		ohms += lag.Ohms
	}
	return ohms * cold
}

// SteadyChargingOhms is the same of what charges it.
func (c *Cell) SteadyChargingOhms() float64 {
	full, _ := fullness(c.Charge)
	cold, _ := coldness(c.Kelvin)
	return (c.ChargingOhms*full + c.Lags[0].Ohms + c.Lags[1].Ohms) * cold
}

// SetChargingOhms has what charges it find so many ohms at its charge and at 25 degrees Celsius, its lags among them, of
// which so many are the least for all else.
func (c *Cell) SetChargingOhms(ohms, least float64) {
	full, _ := fullness(c.Charge)
	c.ChargingOhms = math.Max(ohms-c.Lags[0].Ohms-c.Lags[1].Ohms, least) / full
}

// setOhms shares out a resistance.
func (c *Cell) setOhms(ohms float64) {
	c.Ohms = resistanceShares[0] * ohms
	c.ChargingOhms = c.Ohms
	for k, seconds := range lagSeconds {
		c.Lags[k].Ohms = resistanceShares[k+1] * ohms
		c.Lags[k].Farads = seconds / c.Lags[k].Ohms
	}
}

// Check reports the first parameter that makes no battery.
func (c *Cell) Check() error {
	const name = "battery"
	err := first(
		positive(name, "AmpHours", c.AmpHours),
		notNegative(name, "Charge", math.Abs(c.Charge)),
		positive(name, "Blocks", c.Blocks),
		positive(name, "Ohms", c.Ohms),
		positive(name, "ChargingOhms", c.ChargingOhms),
		notNegative(name, "ChargeStepVolts", c.ChargeStepVolts),
		positive(name, "Kelvin", c.Kelvin),
		notNegative(name, "JoulesPerKelvin", c.JoulesPerKelvin),
		notNegative(name, "SurfaceVolts", c.SurfaceVolts),
		notNegative(name, "StartSurfaceVolts", c.StartSurfaceVolts),
		share(name, "AtHandShare", c.AtHandShare),
	)
	if c.AtHandShare > 0 {
		err = first(err, positive(name, "MixesPerHour", c.MixesPerHour))
	}
	for _, lag := range c.Lags {
		err = first(err, notNegative(name, "Lags.Ohms", lag.Ohms))
		if lag.Ohms > 0 {
			err = first(err, positive(name, "Lags.Farads", lag.Farads))
		}
	}
	if c.SurfaceVolts > 0 {
		err = first(err, positive(name, "SurfaceCoulombs", c.SurfaceCoulombs), positive(name, "SurfaceSeconds", c.SurfaceSeconds))
	}
	if c.JoulesPerKelvin > 0 {
		err = first(err, notNegative(name, "WattsPerKelvin", c.WattsPerKelvin), positive(name, "AmbientKelvin", c.AmbientKelvin))
	}
	if err == nil && c.places().states > transient.MaxStates {
		err = fmt.Errorf("%s: two lags, a surface charge, charge that is held back and a temperature of its own are one too many; leave one out", name)
	}
	return err
}

// ChargeAt is the share of charge at which a rested battery has the given volts, at the temperature it starts with.
func (c *Cell) ChargeAt(openVolts float64) float64 {
	low, high := -1.0, 2.0
	for range 60 {
		middle := (low + high) / 2
		if volts, _, _ := c.openVolts(middle, c.Kelvin); volts < openVolts {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// RestVolts is what it has at the start where nothing has been drawn from it, or put in, for long.
func (c *Cell) RestVolts() float64 {
	volts, _, _ := c.openVolts(c.Charge, c.Kelvin)
	return volts
}

// openVolts is what it has at rest, with its slopes by charge and by kelvin.
func (c *Cell) openVolts(share, kelvin float64) (volts, perShare, perKelvin float64) {
	volts, perShare = openCurve.at(share)
	return c.Blocks * (volts + openPerKelvin*(kelvin-warmKelvin)), c.Blocks * perShare, c.Blocks * openPerKelvin
}

// coldness is the factor on a resistance at a temperature, and its slope.
func coldness(kelvin float64) (factor, perKelvin float64) {
	factor = math.Exp2((roomKelvin - kelvin) / halvingKelvin)
	return factor, -math.Ln2 / halvingKelvin * factor
}

// mixing is what of the charge held back comes to hand in an hour, as a share of it, and its slope.
func (c *Cell) mixing(kelvin float64) (perHour, perKelvin float64) {
	perHour = c.MixesPerHour * math.Exp2((kelvin-roomKelvin)/mixesHalvingKelvin)
	return perHour, math.Ln2 / mixesHalvingKelvin * perHour
}

// thinning is the factor on the inner resistance at a share of charge, and its slope: acid grows thin.
func thinning(share float64) (factor, perShare float64) {
	missing := math.Max(0, 1-share)
	return 1 + emptyFactor*missing*missing, -2 * emptyFactor * missing
}

// fullness is the factor on the resistance against being charged, and its slope.
func fullness(share float64) (factor, perShare float64) {
	e := fullFactor * math.Exp((share-1)/fullShare)
	return 1 + e, e / fullShare
}

// stored is the part of a charging current that is stored, and its slope.
func stored(share float64) (part, perShare float64) {
	part = 1 / (1 + math.Exp((share-1)/gassingShare))
	return part, -part * (1 - part) / gassingShare
}
