package live

// This file is what a control module does with its feed over time: it charges its input capacitor, sleeps, boots, works,
// resets when it is starved, waits, and tries again.

import (
	"math"

	"underload/sim/part"
	"underload/solver/device"
	"underload/solver/transient"
)

// Module is a control module between its own supply and its own ground, behind its pins. Its current passes an element
// that lets nothing back out, and a small resistance, into a capacitor, and what the module does is fed from there.
//
// All thresholds and currents are told as they are measured at the pins when nothing moves, as in a data sheet; what
// that is at the capacitor is worked out here. A module at rest is therefore the same as that of package part.
//
// The nodes it senses are those of its wake pins. Nodes, capacitor, series resistance and times are common practice, no
// source, where a file does not say.
type Module struct {
	Farads, SeriesOhms       float64
	BootOhms                 float64
	AwakeWatts               float64
	AsleepOhms, LockedOhms   float64 // what it is asleep or off, and between two attempts to boot
	RunsAbove, ResetsBelow   float64 // volts at its pins
	WakesAbove               float64 // volts of a wake pin
	KneeVolts                float64 // below these it is a resistance, not a constant power
	BootSeconds, WaitSeconds float64
	SleepsAfterSeconds       float64 // from when its last wake pin fell
	WakePins                 int     // how many nodes it senses
	Held                     bool    // awake whatever its wake pins say
	Resting                  bool    // never woken
	WakesEverySeconds        float64 // by itself, out of its sleep; 0: never
	Began                    part.Mode
}

// The marks of a module.
const (
	ModeMark   = iota // a part.Mode; part.Cycling is the wait between two attempts
	dueMark           // when the present mode ends by itself, s
	wokenMark         // 1 while a wake pin is up
	sleepMark         // when it falls asleep, s
	passMark          // 1 while its rectifier conducts
	ResetsMark        // how often it has reset
	BootsMark         // how often it has begun to boot
	wakesMark         // when it wakes by itself, s
	moduleMarks
)

// The events of a module.
const (
	fedEvent = iota
	starvedEvent
	wokenEvent
	letGoEvent
	blockEvent
	conductEvent
	planEvent
	moduleEvents
)

// The element that lets nothing back out is an active rectifier: it shuts off where more than blockVolts over the series
// resistance, a quarter of an ampere, would flow back, and conducts again once the pins are above the capacitor (common
// practice, no source). In between it is a plain resistance, and an event at either end of that is easier to follow than any
// curve with such a corner.
const (
	blockVolts   = 5e-3
	conductVolts = 1e-3
	blockedOhms  = 1e6
)

// letGoShare is the share of its threshold at which a wake pin counts as down again (common practice, no source).
const letGoShare = 0.98

// deadOhms is what is left of a module that is open inside.
const deadOhms = 1e9

// Size is one state, the volts of the capacitor.
func (m *Module) Size() transient.Size {
	s := transient.Size{States: 1, Marks: moduleMarks, Events: moduleEvents}
	s.Unit[0] = 10e-6
	return s
}

// Start charges the capacitor to what it has at rest.
func (m *Module) Start(volts float64, states, marks []float64) {
	marks[ModeMark] = float64(m.Began)
	marks[dueMark], marks[sleepMark], marks[wakesMark] = math.Inf(1), math.Inf(1), math.Inf(1)
	switch m.Began {
	case part.Cycling:
		marks[dueMark] = m.WaitSeconds
	case part.Booting:
		marks[dueMark] = m.BootSeconds
	}
	if m.always() {
		marks[wokenMark] = 1
	}
	marks[passMark] = 1
	u := math.Max(volts, 0)
	for range 50 { // the drop is some hundredths of a volt, so that each round gains two digits or more
		amps, _ := m.load(u, m.Began)
		next := math.Max(volts, 0) - amps*m.SeriesOhms
		if math.Abs(next-u) < 1e-15*math.Abs(u) {
			break
		}
		u = next
	}
	states[0] = u
}

// Quick says that its capacitor is charged in microseconds.
func (m *Module) Quick() {}

func (m *Module) always() bool { return !m.Resting && (m.Held || m.WakePins == 0) }

// ohms is what lies between pins and capacitor.
func (m *Module) ohms(marks []float64) float64 {
	if marks[passMark] == 1 {
		return m.SeriesOhms
	}
	return blockedOhms
}

// load is what the module takes from its capacitor.
func (m *Module) load(u float64, mode part.Mode) (amps, slope float64) {
	ohms := m.AsleepOhms
	switch mode {
	case part.Awake:
		return m.work(u)
	case part.Booting, part.Hung:
		ohms = m.BootOhms - m.SeriesOhms
	case part.Cycling:
		ohms = m.LockedOhms
	case part.Dead:
		ohms = deadOhms
	}
	return u / ohms, 1 / ohms
}

func (m *Module) law() device.ConstantPower {
	return device.ConstantPower{Watts: m.AwakeWatts, KneeVolts: m.KneeVolts}
}

// work is the amps of constant power at the pins, as a function of the capacitor's volts: what is lost on the way is
// found from the current that would flow without, and then once more, which is good to a millionth.
func (m *Module) work(u float64) (amps, slope float64) {
	law := m.law()
	amps, slope = law.At(u)
	for range 2 {
		var now float64
		amps, now = law.At(u + m.SeriesOhms*amps)
		slope = now * (1 + m.SeriesOhms*slope)
	}
	return amps, slope
}

func modeOf(marks []float64) part.Mode { return part.Mode(marks[ModeMark]) }

// Rates is the current at the pins and how fast the capacitor charges.
func (m *Module) Rates(at *transient.Point, r *transient.Rates) {
	u := at.States[0]
	load, loadSlope := m.load(u, modeOf(at.Marks))
	r.PerVolt = 1 / m.ohms(at.Marks)
	r.Amps = (at.Volts - u) * r.PerVolt
	r.PerState[0] = -r.PerVolt
	r.Rate[0] = (r.Amps - load) / m.Farads
	r.RatePerV[0] = r.PerVolt / m.Farads
	r.RatePerX[0][0] = (r.PerState[0] - loadSlope) / m.Farads
}

// Power accounts for the series resistance, the load and the capacitor.
func (m *Module) Power(at *transient.Point) (lostWatts, givenWatts, storedJoules float64) {
	u := at.States[0]
	load, _ := m.load(u, modeOf(at.Marks))
	return (at.Volts-u)*(at.Volts-u)/m.ohms(at.Marks) + load*u, 0, m.Farads * u * u / 2
}

// atCapacitor is what the capacitor has in a mode when the pins have so many volts and nothing moves.
func (m *Module) atCapacitor(pins float64, mode part.Mode) float64 {
	amps := pins / m.AsleepOhms
	switch mode {
	case part.Awake:
		amps, _ = m.law().At(pins)
	case part.Booting, part.Hung:
		amps = pins / m.BootOhms
	}
	return pins - m.SeriesOhms*amps
}

// highest is the wake pin with the most volts.
func (m *Module) highest(at *transient.Point) float64 {
	most := math.Inf(-1)
	for i := range m.WakePins {
		most = math.Max(most, at.Sensed(i))
	}
	return most
}

// Events are: fed well enough, starved, woken, no longer woken; its rectifier blocks, and conducts; and it begins, or no
// longer has, to wake by itself.
func (m *Module) Events(at *transient.Point, distance []float64) {
	for k := range distance {
		distance[k] = -1
	}
	u, mode := at.States[0], modeOf(at.Marks)
	if at.Marks[passMark] == 1 {
		distance[blockEvent] = (u-at.Volts)/blockVolts - 1
	} else {
		distance[conductEvent] = (at.Volts-u)/conductVolts - 1
	}
	switch mode {
	case part.Dead:
		return
	case part.Off, part.Hung:
		distance[fedEvent] = u/m.atCapacitor(m.RunsAbove, mode) - 1
	}
	switch mode {
	case part.Booting, part.Awake, part.Hung, part.Asleep:
		distance[starvedEvent] = 1 - u/m.atCapacitor(m.ResetsBelow, mode)
	}
	if m.always() && at.Marks[wokenMark] == 0 {
		distance[wokenEvent] = 1
	}
	if planned := !math.IsInf(at.Marks[wakesMark], 1); planned != (m.WakesEverySeconds > 0) {
		distance[planEvent] = 1
	}
	if m.WakePins == 0 || m.Held || m.Resting {
		return
	}
	if at.Marks[wokenMark] == 0 {
		distance[wokenEvent] = m.highest(at)/m.WakesAbove - 1
	} else {
		distance[letGoEvent] = 1 - m.highest(at)/(letGoShare*m.WakesAbove)
	}
}

// Fire changes the mode.
func (m *Module) Fire(k int, at *transient.Point) {
	marks, now := at.Marks, at.Seconds
	mode := modeOf(marks)
	switch k {
	case blockEvent:
		marks[passMark] = 0
	case conductEvent:
		marks[passMark] = 1
	case planEvent:
		marks[wakesMark] = math.Inf(1)
		if m.WakesEverySeconds > 0 {
			marks[wakesMark] = math.Max(now, 0) + m.WakesEverySeconds
		}
	case fedEvent:
		if mode == part.Hung {
			enter(marks, part.Awake, math.Inf(1))
			return
		}
		if marks[wokenMark] == 0 {
			enter(marks, part.Asleep, math.Inf(1))
			return
		}
		m.boot(marks, now)
	case starvedEvent:
		if mode == part.Asleep {
			enter(marks, part.Off, math.Inf(1))
			return
		}
		marks[ResetsMark]++
		marks[sleepMark] = math.Inf(1)
		enter(marks, part.Cycling, now+m.WaitSeconds)
	case wokenEvent:
		marks[wokenMark], marks[sleepMark] = 1, math.Inf(1)
		if mode == part.Asleep {
			enter(marks, part.Off, math.Inf(1)) // and at once on from there, where it is fed well enough
		}
	case letGoEvent:
		marks[wokenMark] = 0
		if mode == part.Awake || mode == part.Hung || mode == part.Booting {
			marks[sleepMark] = now + m.SleepsAfterSeconds
		}
	}
}

func (m *Module) boot(marks []float64, now float64) {
	marks[BootsMark]++
	enter(marks, part.Booting, now+m.BootSeconds)
}

func enter(marks []float64, mode part.Mode, due float64) {
	marks[ModeMark], marks[dueMark] = float64(mode), due
}

// Next is when a boot or a wait ends, or when it falls asleep, or wakes by itself.
func (m *Module) Next(marks []float64) float64 {
	return min(marks[dueMark], marks[sleepMark], marks[wakesMark])
}

// Tick ends a boot, a wait, the day, or a stretch of sleep.
func (m *Module) Tick(at *transient.Point) {
	marks := at.Marks
	if marks[wakesMark] <= min(marks[dueMark], marks[sleepMark]) {
		m.wake(at)
		return
	}
	if marks[sleepMark] <= marks[dueMark] {
		marks[sleepMark] = math.Inf(1)
		enter(marks, part.Asleep, math.Inf(1))
		return
	}
	u := at.States[0]
	switch modeOf(marks) {
	case part.Booting:
		mode := part.Awake
		if u < m.atCapacitor(m.RunsAbove, part.Hung) {
			mode = part.Hung
		}
		enter(marks, mode, math.Inf(1))
	default: // a wait; from off it goes on at once where it is fed well enough
		enter(marks, part.Off, math.Inf(1))
	}
}

// wake boots a module that sleeps, as its wake pins would that go up for an instant.
func (m *Module) wake(at *transient.Point) {
	marks, now := at.Marks, at.Seconds
	marks[wakesMark] = now + m.WakesEverySeconds
	if modeOf(marks) == part.Asleep && at.States[0] >= m.atCapacitor(m.RunsAbove, part.Asleep) {
		marks[sleepMark] = now + m.SleepsAfterSeconds
		m.boot(marks, now)
	}
}
