package transient_test

// This file holds elements written for the tests alone, out of the equations in testdata/time/README.md, so that what
// SciPy integrates and what is stepped here is the same to the last digit.

import (
	"math"

	"underload/solver/transient"
)

// cell is a battery: volts behind ohms and two relaxations. Plus is the first terminal.
type cell struct {
	volts, ohms float64
	relax       [2][2]float64 // ohms, farads
}

var battery = cell{12.6, 5.5e-3, [2][2]float64{{1.5e-3, 300}, {3e-3, 20e3}}}

func (c cell) Size() transient.Size {
	return transient.Size{States: 2, Unit: [transient.MaxStates]float64{1e-5, 1e-5}}
}

func (c cell) Start(float64, []float64, []float64) {}

func (c cell) Rates(at *transient.Point, r *transient.Rates) {
	g := 1 / c.ohms
	r.Amps = g * (at.Volts - c.volts + at.States[0] + at.States[1])
	r.PerVolt = g
	for k, rf := range c.relax {
		r.PerState[k] = g
		r.Rate[k] = (-r.Amps - at.States[k]/rf[0]) / rf[1]
		r.RatePerV[k] = -g / rf[1]
		r.RatePerX[k][0], r.RatePerX[k][1] = -g/rf[1], -g/rf[1]
		r.RatePerX[k][k] -= 1 / (rf[0] * rf[1])
	}
}

func (c cell) Power(at *transient.Point) (lost, given, stored float64) {
	amps := (at.Volts - c.volts + at.States[0] + at.States[1]) / c.ohms
	lost = amps * amps * c.ohms
	for k, rf := range c.relax {
		lost += at.States[k] * at.States[k] / rf[0]
		stored += at.States[k] * at.States[k] * rf[1] / 2
	}
	return lost, -c.volts * amps, stored
}

// motor is a starter seen from the engine it turns: amps, rad/s and rad.
type motor struct{}

const (
	motorOhms, motorHenrys, motorK, motorInertia = 12e-3, 60e-6, 0.355, 0.3
)

func (motor) Size() transient.Size {
	return transient.Size{States: 3, Unit: [transient.MaxStates]float64{1e-3, 1e-4, 1e-4}}
}

func (motor) Start(float64, []float64, []float64) {}

func (motor) Rates(at *transient.Point, r *transient.Rates) {
	amps, speed, angle := at.States[0], at.States[1], at.States[2]
	held := math.Tanh(speed / 0.5)
	slope := (1 - held*held) / 0.5
	sin, cos := math.Sincos(2 * angle)
	r.Amps, r.PerState[0] = amps, 1
	r.Rate[0] = (at.Volts - motorOhms*amps - motorK*speed) / motorHenrys
	r.RatePerV[0] = 1 / motorHenrys
	r.RatePerX[0][0], r.RatePerX[0][1] = -motorOhms/motorHenrys, -motorK/motorHenrys
	r.Rate[1] = (motorK*amps - 60*held - 0.9*speed - 35*sin*held) / motorInertia
	r.RatePerX[1][0] = motorK / motorInertia
	r.RatePerX[1][1] = -(60*slope + 0.9 + 35*sin*slope) / motorInertia
	r.RatePerX[1][2] = -70 * cos * held / motorInertia
	r.Rate[2], r.RatePerX[2][1] = speed, 1
}

func (motor) Power(at *transient.Point) (lost, given, stored float64) {
	amps, speed, angle := at.States[0], at.States[1], at.States[2]
	held := math.Tanh(speed / 0.5)
	load := 60*held + 0.9*speed + 35*math.Sin(2*angle)*held
	return motorOhms*amps*amps + load*speed, 0, motorHenrys*amps*amps/2 + motorInertia*speed*speed/2
}

// lamp is a filament by its power law, 2800 K at its rating.
type lamp struct {
	coldOhms, radiated, conducted, heat, start float64
}

func newLamp(volts, watts, start float64) lamp {
	hot := volts * volts / watts
	surface := 0.95 * watts / (0.25 * 5.670374e-8 * math.Pow(2800, 4))
	d := math.Cbrt(4 * surface / (math.Pi * math.Pi * hot / 84.7e-8))
	return lamp{
		coldOhms: hot / math.Pow(2800./300, 1.21), radiated: 0.95 * watts / (math.Pow(2800, 4) - math.Pow(300, 4)),
		conducted: 0.05 * watts / 2500, heat: 19250 * surface * d / 4 * 160, start: start,
	}
}

func (l lamp) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{0.05}}
}

func (l lamp) Start(_ float64, states, _ []float64) { states[0] = l.start }

func (l lamp) Rates(at *transient.Point, r *transient.Rates) {
	kelvin := at.States[0]
	g, slope := colder(kelvin)
	g, slope = g/l.coldOhms, slope/l.coldOhms
	r.Amps, r.PerVolt, r.PerState[0] = g*at.Volts, g, slope*at.Volts
	r.Rate[0] = (at.Volts*at.Volts*g - l.lost(kelvin)) / l.heat
	r.RatePerV[0] = 2 * at.Volts * g / l.heat
	r.RatePerX[0][0] = (at.Volts*at.Volts*slope - 4*l.radiated*kelvin*kelvin*kelvin - l.conducted) / l.heat
}

func (lamp) Gentle() {}

// powers is (T/300)^-1.21 and its slope at every kelvin from 200 to 4000, so that a lamp costs no more than one with a
// table does.
var powers = func() (table [3801][2]float64) {
	for i := range table {
		kelvin := 200 + float64(i)
		y := math.Pow(kelvin/300, -1.21)
		table[i] = [2]float64{y, -1.21 * y / kelvin}
	}
	return table
}()

// colder is (T/300)^-1.21 and its slope, by cubic interpolation, to 1e-10; beyond the table to all digits.
func colder(kelvin float64) (y, slope float64) {
	if !(kelvin >= 200 && kelvin < 4000) {
		y = math.Pow(kelvin/300, -1.21)
		return y, -1.21 * y / kelvin
	}
	i := int(kelvin - 200)
	t := kelvin - 200 - float64(i)
	a, b := powers[i], powers[i+1]
	c, d := 3*(b[0]-a[0])-2*a[1]-b[1], a[1]+b[1]-2*(b[0]-a[0])
	return a[0] + t*(a[1]+t*(c+t*d)), a[1] + t*(2*c+3*t*d)
}

func (l lamp) lost(kelvin float64) float64 {
	return l.radiated*(kelvin*kelvin*kelvin*kelvin-8.1e9) + l.conducted*(kelvin-300)
}

func (l lamp) Power(at *transient.Point) (lost, given, stored float64) {
	return l.lost(at.States[0]), 0, l.heat * at.States[0]
}

// module is a capacitor behind ohms with a load of constant watts inside, and a leak always. Below knee volts the load is
// a resistance. It locks out below low volts inside and is back at high. Marks: off, number of lock-outs.
type module struct {
	ohms, farads, leak, watts, knee, low, high, start float64
}

func newModule(watts, low, high, start float64) module {
	return module{20e-3, 470e-6, 1e-3, watts, 0, low, high, start}
}

func (m module) Size() transient.Size {
	events := 2
	if m.high == 0 {
		events = 0
	}
	return transient.Size{States: 1, Marks: 2, Events: events, Unit: [transient.MaxStates]float64{1e-5}}
}

func (m module) Start(_ float64, states, _ []float64) { states[0] = m.start }

// load is amps inside, and their slope.
func (m module) load(at *transient.Point) (amps, slope float64) {
	u := at.States[0]
	amps, slope = m.leak*u, m.leak
	switch {
	case at.Marks[0] != 0:
	case u < m.knee:
		amps, slope = amps+m.watts*u/(m.knee*m.knee), slope+m.watts/(m.knee*m.knee)
	default:
		amps, slope = amps+m.watts/u, slope-m.watts/(u*u)
	}
	return amps, slope
}

func (m module) Rates(at *transient.Point, r *transient.Rates) {
	g := 1 / m.ohms
	r.Amps = g * (at.Volts - at.States[0])
	r.PerVolt, r.PerState[0] = g, -g
	amps, slope := m.load(at)
	r.Rate[0] = (r.Amps - amps) / m.farads
	r.RatePerV[0], r.RatePerX[0][0] = g/m.farads, (-g-slope)/m.farads
}

func (m module) Events(at *transient.Point, distance []float64) {
	distance[0], distance[1] = -1, -1
	if at.Marks[0] == 0 {
		distance[0] = 1 - at.States[0]/m.low
	} else {
		distance[1] = at.States[0]/m.high - 1
	}
}

func (m module) Fire(k int, at *transient.Point) {
	at.Marks[0] = float64(1 - k)
	at.Marks[1] += float64(1 - k)
}

func (m module) Power(at *transient.Point) (lost, given, stored float64) {
	u := at.States[0]
	amps, _ := m.load(at)
	return (at.Volts-u)*(at.Volts-u)/m.ohms + amps*u, 0, m.farads * u * u / 2
}

// fuse is a neck and a body in kelvin above the surroundings, and the molten part of the neck. Marks: solid, melting, open.
type fuse struct {
	neckOhms, bodyOhms, neckHeat, bodyHeat, between, out float64
}

const (
	meltsAt = 399.5
	latent  = 112 / 0.388
	alpha   = 0.0042
)

func (f fuse) Size() transient.Size {
	return transient.Size{States: 3, Marks: 1, Events: 3, Unit: [transient.MaxStates]float64{0.01, 0.01, 1e-5}}
}

func (f fuse) Start(float64, []float64, []float64) {}

func (f fuse) Rates(at *transient.Point, r *transient.Rates) {
	neck, body := at.States[0], at.States[1]
	flow, neckOhms, bodyOhms := f.between*(neck-body), f.neckOhms*(1+alpha*neck), f.bodyOhms*(1+alpha*body)
	if at.Marks[0] == 2 {
		r.Amps, r.PerVolt = 1e-9*at.Volts, 1e-9
		r.Rate[0], r.RatePerX[0][0], r.RatePerX[0][1] = -flow/f.neckHeat, -f.between/f.neckHeat, f.between/f.neckHeat
		r.Rate[1] = (flow - f.out*body) / f.bodyHeat
		r.RatePerX[1][0], r.RatePerX[1][1] = f.between/f.bodyHeat, -(f.between+f.out)/f.bodyHeat
		return
	}
	g := 1 / (neckOhms + bodyOhms)
	amps := g * at.Volts
	byNeck, byBody := -amps*g*f.neckOhms*alpha, -amps*g*f.bodyOhms*alpha
	r.Amps, r.PerVolt, r.PerState[0], r.PerState[1] = amps, g, byNeck, byBody
	watts := amps*amps*neckOhms - flow
	wattsPerV, wattsPerNeck, wattsPerBody := 2*amps*g*neckOhms, 2*amps*byNeck*neckOhms+amps*amps*f.neckOhms*alpha-f.between, 2*amps*byBody*neckOhms+f.between
	row, heat := 0, f.neckHeat
	if at.Marks[0] == 1 {
		row, heat = 2, latent*f.neckHeat
	}
	r.Rate[row], r.RatePerV[row] = watts/heat, wattsPerV/heat
	r.RatePerX[row][0], r.RatePerX[row][1] = wattsPerNeck/heat, wattsPerBody/heat
	r.Rate[1] = (amps*amps*bodyOhms + flow - f.out*body) / f.bodyHeat
	r.RatePerV[1] = 2 * amps * g * bodyOhms / f.bodyHeat
	r.RatePerX[1][0] = (2*amps*byNeck*bodyOhms + f.between) / f.bodyHeat
	r.RatePerX[1][1] = (2*amps*byBody*bodyOhms + amps*amps*f.bodyOhms*alpha - f.between - f.out) / f.bodyHeat
}

func (f fuse) Events(at *transient.Point, distance []float64) {
	distance[0], distance[1], distance[2] = -1, -1, -1
	switch at.Marks[0] {
	case 0:
		distance[0] = at.States[0]/meltsAt - 1
	case 1:
		distance[1], distance[2] = -at.States[2]-1e-6, at.States[2]-1
	}
}

func (f fuse) Fire(k int, at *transient.Point) {
	at.Marks[0] = [...]float64{1, 0, 2}[k]
	switch k {
	case 0:
		at.States[2] = 0
	case 1:
		at.States[0] = meltsAt * (1 - 1e-9)
	}
}

// coil is henrys behind ohms.
type coil struct{ henrys, ohms, start, unit float64 }

func (c coil) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{c.unit}}
}

func (c coil) Start(_ float64, states, _ []float64) { states[0] = c.start }

func (c coil) Rates(at *transient.Point, r *transient.Rates) {
	r.Amps, r.PerState[0] = at.States[0], 1
	r.Rate[0] = (at.Volts - c.ohms*at.States[0]) / c.henrys
	r.RatePerV[0], r.RatePerX[0][0] = 1/c.henrys, -c.ohms/c.henrys
}

func (c coil) Power(at *transient.Point) (lost, given, stored float64) {
	amps := at.States[0]
	return c.ohms * amps * amps, 0, c.henrys * amps * amps / 2
}

// capacitor is farads alone.
type capacitor struct{ farads, start, unit float64 }

func (c capacitor) Size() transient.Size {
	return transient.Size{States: 1, Unit: [transient.MaxStates]float64{c.unit}}
}

func (c capacitor) Start(_ float64, states, _ []float64) { states[0] = c.start }

func (c capacitor) Rates(*transient.Point, *transient.Rates) {}

func (c capacitor) Farads() float64 { return c.farads }

func (c capacitor) Power(at *transient.Point) (lost, given, stored float64) {
	return 0, 0, c.farads * at.States[0] * at.States[0] / 2
}

// contact changes its ohms at times known beforehand. Mark: how many have passed.
type contact struct {
	ohms  []float64 // before the first time, after it, ...
	times []float64
}

func (c contact) Size() transient.Size { return transient.Size{Marks: 1} }

func (c contact) Start(float64, []float64, []float64) {}

func (c contact) Rates(at *transient.Point, r *transient.Rates) {
	r.PerVolt = 1 / c.ohms[int(at.Marks[0])]
	r.Amps = r.PerVolt * at.Volts
}

func (c contact) Next(marks []float64) float64 {
	if int(marks[0]) < len(c.times) {
		return c.times[int(marks[0])]
	}
	return math.Inf(1)
}

func (c contact) Tick(at *transient.Point) { at.Marks[0]++ }

func (c contact) Power(at *transient.Point) (lost, given, stored float64) {
	return at.Volts * at.Volts / c.ohms[int(at.Marks[0])], 0, 0
}

// armature is a coil that pulls in above some amps and lets go below others, each with a time of travel. Marks: at rest,
// on the way in, in, on the way out; when it arrives.
type armature struct {
	coil
	pullAmps, holdAmps    float64
	inSeconds, outSeconds float64
}

func (a armature) Size() transient.Size {
	return transient.Size{States: 1, Marks: 2, Events: 2, Unit: [transient.MaxStates]float64{1e-3}}
}

func (a armature) Events(at *transient.Point, distance []float64) {
	distance[0], distance[1] = -1, -1
	switch at.Marks[0] {
	case 0:
		distance[0] = at.States[0]/a.pullAmps - 1
	case 2:
		distance[1] = 1 - at.States[0]/a.holdAmps
	}
}

func (a armature) Fire(k int, at *transient.Point) {
	at.Marks[0] = [...]float64{1, 3}[k]
	at.Marks[1] = at.Seconds + [...]float64{a.inSeconds, a.outSeconds}[k]
}

func (a armature) Next(marks []float64) float64 {
	if marks[0] == 1 || marks[0] == 3 {
		return marks[1]
	}
	return math.Inf(1)
}

func (a armature) Tick(at *transient.Point) { at.Marks[0] = math.Mod(at.Marks[0]+1, 4) }

// follower is the contact an armature opens.
type follower struct {
	of           transient.ID
	closed, open float64 // ohms
}

func (f follower) Size() transient.Size { return transient.Size{} }

func (f follower) Start(float64, []float64, []float64) {}

func (f follower) Rates(at *transient.Point, r *transient.Rates) {
	r.PerVolt = 1 / f.closed
	if at.MarksOf(f.of)[0] >= 2 {
		r.PerVolt = 1 / f.open
	}
	r.Amps = r.PerVolt * at.Volts
}
