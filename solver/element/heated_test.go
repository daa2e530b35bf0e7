package element

// This file puts what warms up through the checks of slopes_test.go, and looks at where it begins.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/transient"
)

// testStrip is the strip of testdata/time/heat.py.
func testStrip() *Strip {
	return &Strip{NeckOhms: 1e-3, BodyOhms: 9e-3, OhmsPerKelvin: 0.0042, NeckJoulesPerKelvin: 2e-4, BodyJoulesPerKelvin: 0.15,
		NeckToBodyWattsPerKelvin: 2e-3, BodyToAirWattsPerKelvin: 0.012, MeltKelvin: 692.65, LatentKelvins: 289, AirKelvin: 293.15}
}

// testJoint is a contact of tin in a small body, as in testdata/time/heat.py.
func testJoint() *Joint {
	return &Joint{MetalOhms: 0.01, Touches: true, FilmOhms: 50, CleanOhms: 0.02, CleanFilmOhms: 1e3, ForceShare: 0.25, BreakdownVolts: 0.5,
		FilmPerSecond: 1e-4, FretPerSecond: 2e-3, HealChance: 0.5, BodyJoulesPerKelvin: 2, BodyWattsPerKelvin: 0.02, AirKelvin: 293.15, Plating: Tin}
}

func testOhmic() *Ohmic {
	return &Ohmic{Ohms: 0.045, BodyJoulesPerKelvin: 20, BodyWattsPerKelvin: 0.1, AirKelvin: 300, GrowthPerSecond: 2e-5, HealChance: 0.5, HealedOhms: 0.009}
}

func testWire() *Wire {
	return &Wire{Ohms: 0.02, JoulesPerKelvin: 30, WattsPerKelvin: 0.5, AirKelvin: 300}
}

func testNeck() *Neck { return NewNeck(0.02, 30, 0.5, 300, 1, 0.2, 0.1) }

func TestHeatedSlopesAndEnergy(t *testing.T) {
	strip := func(mode float64) func(*rand.Rand, *transient.Point) {
		return func(r *rand.Rand, at *transient.Point) {
			at.Volts, at.Marks[StripMode], at.Marks[StripHeatOhms] = between(r, -0.5, 0.5), mode, between(r, 0, 0.05)
			at.States[0], at.States[1], at.States[2] = between(r, 250, 690), between(r, 250, 600), between(r, 0, 1)
			if mode == StripOpen && r.IntN(2) == 0 {
				at.Volts = between(r, -500, 500)
			}
		}
	}
	for mode := range 3 {
		checkSlopes(t, testStrip(), strip(float64(mode)))
		checkEnergy(t, testStrip(), strip(float64(mode)))
	}
	for open := range 2 {
		wire := func(r *rand.Rand, at *transient.Point) {
			at.Volts, at.Marks[0] = between(r, -2, 2), float64(open)
			for k := range at.States {
				at.States[k] = between(r, 250, 1350)
			}
		}
		checkSlopes(t, testWire(), wire)
		checkEnergy(t, testWire(), wire)
		checkSlopes(t, testNeck(), wire)
		checkEnergy(t, testNeck(), wire)
		joint := func(r *rand.Rand, at *transient.Point) {
			at.Volts, at.Marks[JointTouches] = between(r, -0.3, 0.3), float64(open)
			if r.IntN(3) == 0 {
				at.Volts = between(r, -14, 14)
			}
			at.States[0], at.States[1], at.States[2] = between(r, 250, 560), between(r, -3, 8), between(r, -3, 10)
		}
		checkSlopes(t, testJoint(), joint)
		checkEnergy(t, testJoint(), joint)
	}
	ohmic := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0], at.States[1] = between(r, -2, 2), between(r, 290, 900), between(r, -5, 3)
		at.Marks[OhmicFretPerSecond] = float64(r.IntN(2)) * 0.03
	}
	frets := testOhmic()
	frets.MostOhms = 10
	for _, o := range []*Ohmic{testOhmic(), frets} {
		checkSlopes(t, o, ohmic)
		checkEnergy(t, o, ohmic)
	}
}

// At rest no temperature changes, whatever the volts; more than the metal bears has melted it long ago.
func TestHeatedRest(t *testing.T) {
	plain := testJoint() // its spots and film go on changing; its body rests
	plain.FretPerSecond, plain.FilmPerSecond = 0, 0
	for name, c := range map[string]struct {
		e       transient.Element
		bodies  int
		holds   float64 // volts
		meltsAt float64 // volts, 0: never
	}{
		"strip": {testStrip(), 2, 0.15, 0.30}, "neck": {testNeck(), 2, 0.3, 8}, "wire": {testWire(), 1, 1, 8},
		"joint": {plain, 1, 0.069, 0}, "film": {func() *Joint { j := *plain; j.Touches = false; return &j }(), 1, 0.4, 0},
	} {
		for _, volts := range []float64{0, 0.01, -c.holds, c.holds} {
			at := rest(c.e, volts)
			rates := ratesAt(c.e, at)
			for k := range c.bodies {
				most := math.Abs(rates.RatePerV[k]*volts) + math.Abs(rates.RatePerX[k][k]*at.States[k])
				if !(math.Abs(rates.Rate[k]) <= 1e-10*most) || at.States[k] < 293 {
					t.Errorf("%s at %v V: state %d is %v K and changes by %v a second", name, volts, k, at.States[k], rates.Rate[k])
				}
			}
			if volts == c.holds && (at.States[0] < 293.2 || math.Abs(rates.Amps) < 1e-3) {
				t.Errorf("%s at %v V: %v K, %v A", name, volts, at.States[0], rates.Amps)
			}
		}
		if c.meltsAt > 0 {
			at := rest(c.e, c.meltsAt)
			if rates := ratesAt(c.e, at); math.Abs(rates.Amps) > 1e-7 {
				t.Errorf("%s at %v V since long ago still carries %v A", name, c.meltsAt, rates.Amps)
			}
		}
	}
}

func TestChecksOfHeated(t *testing.T) {
	type checked interface{ Check() error }
	armature := testArmature()
	for name, e := range map[string]checked{
		"strip": testStrip(), "joint": testJoint(), "ohmic": testOhmic(), "wire": testWire(), "neck": testNeck(), "flutter": testFlutter(),
		"armature": armature, "follower": &Follower{Ohms: 0.01},
	} {
		if err := e.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	strip, joint, ohmic, wire, neck, flutter := testStrip(), testJoint(), testOhmic(), testWire(), testNeck(), testFlutter()
	strip.BodyToAirWattsPerKelvin = 0
	joint.HealChance = 1.5
	ohmic.HealedOhms = 0
	wire.AirKelvin = math.NaN()
	neck.NeckOhms = math.Inf(1)
	flutter.HighOhms = flutter.LowOhms / 2
	armature.FlightSeconds = 1
	for name, e := range map[string]checked{
		"strip": strip, "joint": joint, "ohmic": ohmic, "wire": wire, "neck": neck, "flutter": flutter, "armature": armature, "follower": &Follower{},
	} {
		if e.Check() == nil {
			t.Errorf("a poor %s was accepted", name)
		}
		refused(t, name, e)
	}
}
