package live

// This file checks that every kind can be built and that the elements of this package have the slopes they tell.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver/element"
	"underload/solver/transient"
)

func TestEveryKindIsKnown(t *testing.T) {
	for _, k := range circuit.Kinds {
		if !Known(k.Name) {
			t.Errorf("a %s cannot be set in motion", k.Name)
		}
	}
	if len(circuit.Kinds) == 0 || len(table) != len(circuit.Kinds) {
		t.Errorf("%d kinds here, %d in circuit.Kinds", len(table), len(circuit.Kinds))
	}
}

// ordinary is a module of ordinary figures.
func ordinary() *Module {
	return &Module{
		Farads: 470e-6, SeriesOhms: 0.02, BootOhms: 18, AwakeWatts: 8.125, AsleepOhms: 12.5 / 0.0003, LockedOhms: 2500,
		RunsAbove: 9, ResetsBelow: 6.5, WakesAbove: 5, KneeVolts: 5.2, BootSeconds: 0.3, WaitSeconds: 0.05, SleepsAfterSeconds: 10,
	}
}

func ratesAt(e transient.Element, at *transient.Point) transient.Rates {
	var r transient.Rates
	e.Rates(at, &r)
	return r
}

// The slopes are held against central differences at random volts, in every mode.
func TestModuleSlopes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	m := ordinary()
	for mode := part.Off; mode <= part.Dead; mode++ {
		for n := range 300 {
			at := &transient.Point{Volts: 16 * r.Float64(), Marks: make([]float64, moduleMarks)}
			at.States = []float64{at.Volts + 0.2*(r.Float64()-0.5)}
			if r.IntN(4) == 0 {
				at.States[0] = 16 * r.Float64()
			}
			at.Marks[ModeMark], at.Marks[passMark] = float64(mode), float64(n%2)
			given := ratesAt(m, at)
			for column, variable := range []*float64{&at.Volts, &at.States[0]} {
				const h = 2e-8
				was := *variable
				*variable = was + h
				up := ratesAt(m, at)
				*variable = was - h
				down := ratesAt(m, at)
				*variable = was
				slopes := [2]float64{given.PerVolt, given.RatePerV[0]}
				if column == 1 {
					slopes = [2]float64{given.PerState[0], given.RatePerX[0][0]}
				}
				for row, values := range [2][2]float64{{up.Amps, down.Amps}, {up.Rate[0], down.Rate[0]}} {
					quotient := (values[0] - values[1]) / (2 * h)
					// Volts are known to 2e-15 of themselves, which the steepest slope, 1/SeriesOhms, passes on.
					noise := 8e-15 / m.SeriesOhms / h
					if row == 1 {
						noise /= m.Farads
					}
					if math.Abs(quotient-slopes[row]) > 1e-4*math.Abs(slopes[row])+noise {
						t.Fatalf("%v at %v V, inside %v V: row %d by column %d: slope %v, difference quotient %v",
							mode, at.Volts, at.States[0], row, column, slopes[row], quotient)
					}
				}
			}
		}
	}
}

// Its power is what its current brings in: lost + change of stored = volts times amps. Nothing comes of nothing.
func TestModuleEnergy(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	m := ordinary()
	for mode := part.Off; mode <= part.Dead; mode++ {
		for n := range 300 {
			at := &transient.Point{Volts: 40*r.Float64() - 20, States: []float64{16 * r.Float64()}, Marks: make([]float64, moduleMarks)}
			at.Marks[ModeMark], at.Marks[passMark] = float64(mode), float64(n%2)
			rates := ratesAt(m, at)
			lost, given, _ := m.Power(at)
			if in := at.Volts * rates.Amps; math.Abs(in-(lost-given)-m.Farads*at.States[0]*rates.Rate[0]) > 1e-9*(1+math.Abs(in)) {
				t.Fatalf("%v at %v V, inside %v V: %v W in, %v lost, %v given", mode, at.Volts, at.States[0], in, lost, given)
			}
			if lost < 0 || given != 0 {
				t.Fatalf("%v gives %v W at %v V, inside %v V", mode, given-lost, at.Volts, at.States[0])
			}
		}
	}
}

// A module at rest draws what package part says that it draws, in every mode.
func TestModuleAtRestIsThatOfPart(t *testing.T) {
	m := ordinary()
	for _, row := range []struct {
		mode   part.Mode
		amps   func(volts float64) float64
		within float64
	}{
		{part.Asleep, func(v float64) float64 { return v / m.AsleepOhms }, 2e-3},
		{part.Cycling, func(v float64) float64 { return v / m.LockedOhms }, 3e-3},
		{part.Hung, func(v float64) float64 { return v / m.BootOhms }, 2e-3},
		{part.Awake, func(v float64) float64 { return m.AwakeWatts / v }, 1e-4},
	} {
		for _, volts := range []float64{6.6, 9.1, 12.5, 15} {
			began := *m
			began.Began = row.mode
			at := &transient.Point{Volts: volts, States: make([]float64, 1), Marks: make([]float64, moduleMarks)}
			began.Start(volts, at.States, at.Marks)
			rates := ratesAt(&began, at)
			if want := row.amps(volts); math.Abs(rates.Amps-want) > row.within*want || math.Abs(rates.Rate[0]) > 1e-3 {
				t.Errorf("%v at %v V: %v A, want %v, and %v V/s at rest", row.mode, volts, rates.Amps, want, rates.Rate[0])
			}
		}
	}
}

// The volts at the pins and those inside that belong together: a module falls where its data sheet says it does.
func TestModuleThresholds(t *testing.T) {
	m := ordinary()
	for _, mode := range []part.Mode{part.Asleep, part.Booting, part.Awake, part.Hung} {
		began := *m
		began.Began = mode
		for _, share := range []float64{0.999, 1.001} {
			at := &transient.Point{Volts: m.ResetsBelow * share, States: make([]float64, 1), Marks: make([]float64, moduleMarks)}
			began.Start(at.Volts, at.States, at.Marks)
			distance := make([]float64, moduleEvents)
			began.Events(at, distance)
			if starved := distance[starvedEvent] >= 0; starved != (share < 1) {
				t.Errorf("%v at %.4f of its reset threshold: starved is %v (%v)", mode, share, starved, distance)
			}
		}
	}
}

// A gap is nothing below its volts, conducts beyond, and its slope is that of its curve.
func TestGap(t *testing.T) {
	for _, law := range []element.Curve{beyond(330), beyond(45), clamped{behind{2, 10}, 45}} {
		for volts := -400.0; volts < 400; volts += 0.37 {
			const h = 1e-5
			up, _ := law.At(volts + h)
			down, _ := law.At(volts - h)
			_, slope := law.At(volts)
			if quotient := (up - down) / (2 * h); math.Abs(quotient-slope) > 1e-5*(slope+1) {
				t.Fatalf("%T at %v V: slope %v, difference quotient %v", law, volts, slope, quotient)
			}
		}
	}
	if amps, _ := beyond(330).At(300); amps > 1e-12 {
		t.Errorf("a gap lets %v A pass at 300 V", amps)
	}
	if amps, _ := beyond(330).At(340); math.Abs(amps-100) > 1 {
		t.Errorf("a gap lets %v A pass at 340 V, want 100", amps)
	}
}

// A wake pin that is up counts as down again below 98 percent of its threshold, and one that is down as up from the threshold on.
func TestWakePinHasTwoThresholds(t *testing.T) {
	m := ordinary()
	m.WakePins, m.Began = 1, part.Awake
	n := transient.New()
	plus, wake := n.Node(), n.Node()
	n.Source(transient.Ground, plus, 12.5, 0.01)
	key := n.Source(transient.Ground, wake, 12, 0.01)
	id := n.Element(plus, transient.Ground, m, wake)
	r, err := n.Start(transient.Options{Volts: []float64{0, 12.5, 12}})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		share float64 // of its threshold
		up    float64
	}{{2, 1}, {1.01, 1}, {0.985, 1}, {0.975, 0}, {0.985, 0}, {0.999, 0}, {1.001, 1}, {0.985, 1}} {
		r.SetVolts(key, row.share*m.WakesAbove)
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
		if err := r.Advance(r.Seconds() + 0.1); err != nil {
			t.Fatal(err)
		}
		if up := r.Marks(id)[wokenMark]; up != row.up {
			t.Errorf("at %v of its threshold the wake pin is up: %v, want %v", row.share, up, row.up)
		}
	}
}
