package transient_test

// This file holds what goes on in a harness of 300 nodes for the sake of speed: a fuse and a joint for ten minutes, a
// night with wake-ups, a plug that is wiggled; and checks that it goes on the same way every time.

import (
	"flag"
	"math"
	"slices"
	"testing"

	"underload/solver/transient"
)

var long = flag.Bool("long", false, "let scenes go on for as long as the bars ask")

// joint is a contact that warms up, and whose film grows faster the warmer it is: kelvin above the surroundings, and the
// logarithm of ohms.
type joint struct{ ohms, perDegree, heat, out, growth, doubles float64 }

var wornJoint = joint{5e-3, 0.0045, 2, 0.02, 1e-4, 30}

func (j joint) Size() transient.Size {
	return transient.Size{States: 2, Unit: [transient.MaxStates]float64{0.01, 1e-4}}
}

func (j joint) Start(_ float64, states, _ []float64) { states[1] = math.Log(j.ohms) }

func (j joint) Rates(at *transient.Point, r *transient.Rates) {
	rise := at.States[0]
	ohms := math.Exp(at.States[1]) * (1 + j.perDegree*rise)
	g := 1 / ohms
	byRise := -g * j.perDegree / (1 + j.perDegree*rise)
	v := at.Volts
	r.Amps, r.PerVolt, r.PerState[0], r.PerState[1] = g*v, g, byRise*v, -g*v
	r.Rate[0] = (g*v*v - j.out*rise) / j.heat
	r.RatePerV[0], r.RatePerX[0][0], r.RatePerX[0][1] = 2*g*v/j.heat, (byRise*v*v-j.out)/j.heat, -g*v*v/j.heat
	r.Rate[1] = j.growth * math.Exp2(rise/j.doubles)
	r.RatePerX[1][0] = r.Rate[1] * math.Ln2 / j.doubles
}

// wiggled is a contact that, in every half-wave of a shaking, may be bad for a while. Marks: half-waves begun, siemens,
// when that ends, draws made.
type wiggled struct {
	good, halfWave, chance float64
	least, most            float64 // ohms while bad
}

var wiggledPlug = wiggled{2e-3, 5e-3, 0.3, 0.1, 10e3}

func (w wiggled) Size() transient.Size { return transient.Size{Marks: 4} }

func (w wiggled) Start(_ float64, _, marks []float64) { marks[1], marks[2] = 1/w.good, math.Inf(1) }

func (w wiggled) Rates(at *transient.Point, r *transient.Rates) {
	r.PerVolt = at.Marks[1]
	r.Amps = r.PerVolt * at.Volts
}

func (w wiggled) Next(marks []float64) float64 { return min(marks[0]*w.halfWave, marks[2]) }

func (w wiggled) Tick(at *transient.Point) {
	m := at.Marks
	if m[2] <= at.Seconds {
		m[1], m[2] = 1/w.good, math.Inf(1)
		return
	}
	m[0]++
	if at.Draw(m[3]) < w.chance {
		m[1] = 1 / (w.least * math.Pow(w.most/w.least, at.Draw(m[3]+1)))
		m[2] = at.Seconds + at.Draw(m[3]+2)*w.halfWave*0.999
	}
	m[3] += 3
}

func (w wiggled) Power(at *transient.Point) (lost, given, stored float64) {
	return at.Marks[1] * at.Volts * at.Volts, 0, 0
}

// sleeper is a module that wakes by the clock for a while. Marks: as in module, then wake-ups and sleeps so far.
type sleeper struct {
	module
	every, after, awake float64 // seconds
}

func (s sleeper) Size() transient.Size {
	size := s.module.Size()
	size.Marks = 3
	return size
}

func (s sleeper) Start(volts float64, states, marks []float64) {
	s.module.Start(volts, states, marks)
	marks[0] = 1
}

func (s sleeper) Next(marks []float64) float64 {
	at := math.Floor(marks[2]/2)*s.every + s.every/2 + s.after
	if math.Mod(marks[2], 2) == 1 {
		at += s.awake
	}
	return at
}

func (s sleeper) Tick(at *transient.Point) {
	at.Marks[0] = 1 - at.Marks[0]
	at.Marks[2]++
}

// scene is something that goes on for a while.
type scene struct {
	name    string
	nodes   int
	seconds float64
	build   func() *wiring
}

const (
	night    = 8 * 3600.
	wakeUps  = 15
	atWiggle = 1 // the load whose feed is wiggled
)

// scenes are those of the bars.
var scenes = []scene{
	{"crank", 300, crankEnds, func() *wiring { return newWiring(20, kit{}) }},
	{"fuse at 110 % and a joint", 300, 600, warming},
	{"a night", 300, night, sleeping},
	{"wiggle", 300, 10, wiggling},
}

// warming has a fuse of 15 A in the feed of a load that draws 110 % of it, and a worn joint in its ground.
func warming() *wiring {
	return newWiring(20, kit{parked: true,
		load: func(k int) transient.Element {
			if k == 2 {
				return contact{ohms: []float64{0.72}}
			}
			return nil
		},
		inWire: func(k int, ground bool) transient.Element {
			switch {
			case k == 2 && ground:
				return wornJoint
			case k == 2:
				return fuses["M15"].fuse
			}
			return nil
		},
	})
}

// sleeping has two modules that wake by the clock, and a lamp that is switched at every second time: five changes a
// wake-up. All else is dark.
func sleeping() *wiring {
	const every = night / wakeUps
	toggles := contact{ohms: []float64{openOhms}}
	for k := range wakeUps {
		toggles.times = append(toggles.times, every*(float64(k)+0.5)+30)
		toggles.ohms = append(toggles.ohms, []float64{2e-3, openOhms}[k%2])
	}
	return newWiring(20, kit{parked: true,
		load: func(k int) transient.Element {
			switch {
			case k == 1 || k == 5:
				return sleeper{module{20e-3, 470e-6, 1e-4, 6, 0, 0, 0, 12.6}, every, float64(k) / 10, 20 + float64(k)}
			case k%4 == 1:
				return module{20e-3, 470e-6, 1e-4, 0, 0, 0, 0, 12.6}
			case k%4 == 3:
				return coil{0.3, 85e3, 0, 1e-3}
			case k != 2:
				return contact{ohms: []float64{1e7}} // switched off
			}
			return nil
		},
		inWire: func(k int, ground bool) transient.Element {
			if k == 2 && !ground {
				return toggles
			}
			return nil
		},
	})
}

// wiggling has a plug that is wiggled in the feed of a module.
func wiggling() *wiring {
	return newWiring(20, kit{parked: true,
		load: func(k int) transient.Element {
			if k == atWiggle {
				return newModule(20, 6, 7.5, 12)
			}
			return nil
		},
		inWire: func(k int, ground bool) transient.Element {
			if k == atWiggle && !ground {
				return wiggledPlug
			}
			return nil
		},
	})
}

// wiggle runs the wiggled plug for some seconds and counts what happens.
func wiggle(t testing.TB, seconds float64, o transient.Options) (fired int, resets float64, end []float64) {
	t.Helper()
	w := wiggling()
	r := mustStart(t, w.Network, o)
	for r.Seconds() < seconds {
		if err := r.Step(seconds); err != nil {
			t.Fatal(err)
		}
		fired += len(r.Fired())
	}
	for _, id := range w.loads {
		end = append(end, r.States(id)...)
	}
	return fired, r.Marks(w.loads[atWiggle])[1], end
}

func TestSameSeedSameRun(t *testing.T) {
	seconds := 1.0
	if *long {
		seconds = 10
	}
	fired, resets, end := wiggle(t, seconds, transient.Options{Method: transient.ESDIRK32, Tolerance: 1e-3, Seed: 42})
	if resets < 20 || fired < 200 {
		t.Fatalf("only %d things happen, %g resets", fired, resets)
	}
	_, _, again := wiggle(t, seconds, transient.Options{Method: transient.ESDIRK32, Tolerance: 1e-3, Seed: 42})
	if !slices.Equal(end, again) {
		t.Error("the same seed does not end at the same states, to the bit")
	}
	for _, o := range []transient.Options{
		{Method: transient.ESDIRK32, Tolerance: 1e-4}, {Method: transient.ESDIRK43, Tolerance: 1e-3},
		{Method: transient.ESDIRK43, Tolerance: 1e-4}, {Method: transient.ESDIRK43, Tolerance: 1e-6}, {Method: transient.TRBDF2, Tolerance: 1e-3},
	} {
		o.Seed = 42
		f, n, _ := wiggle(t, seconds, o)
		if f != fired || n != resets {
			t.Errorf("%v at %g: %d things happen with %g resets, with ESDIRK32 at 1e-3 %d with %g", o.Method, o.Tolerance, f, n, fired, resets)
		}
	}
	t.Logf("%d things happen in %g s, %g resets", fired, seconds, resets)
	if f, n, _ := wiggle(t, seconds, transient.Options{Method: transient.ESDIRK32, Tolerance: 1e-3, Seed: 43}); f == fired && n == resets {
		t.Error("another seed makes no difference")
	}
}

// allocations are those of a step in the middle of a scene.
func allocations(t testing.TB, s scene) float64 {
	t.Helper()
	r := mustStart(t, s.build().Network, transient.Options{Tolerance: 1e-3, Energy: true, Seed: 42})
	mustAdvance(t, r, s.seconds/100) // some lists grow to their size
	return testing.AllocsPerRun(50, func() {
		if err := r.Step(s.seconds); err != nil {
			t.Fatal(err)
		}
	})
}

func TestStepsOfAHarnessDoNotAllocate(t *testing.T) {
	for _, s := range scenes {
		if a := allocations(t, s); a != 0 {
			t.Errorf("%s: %g allocations a step", s.name, a)
		}
	}
}
