package element

// This file holds single elements in small circuits to SciPy's Radau (testdata/time, elements.py).

import (
	"math"
	"os"
	"testing"

	"gopkg.in/yaml.v3"

	"underload/solver/device"
	"underload/solver/transient"
)

// scene is a small circuit: what is changed before a time is run to, and what is looked at, in the order of the table.
type scene struct {
	volts  []float64 // by node, long ago
	build  func(n *transient.Network) (change func(r *transient.Run, seconds float64), look func(r *transient.Run) []float64)
	floors []float64 // below which an error of 1e-5 of the floor does not matter, by column
}

var judged = device.Junction{SaturationAmps: 1e-9, Ideality: 1.8, ThermalVolts: device.ThermalVolts27C, SeriesOhms: 0.01}

func lampScene(lamp device.Filament) scene {
	return scene{nil, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		source := n.Source(transient.Ground, top, lamp.RatedVolts, 0.03)
		id := n.Element(top, transient.Ground, NewFilament(lamp))
		return func(r *transient.Run, seconds float64) {
				if seconds == 0.5 {
					r.SetVolts(source, lamp.RatedVolts/2)
				}
			}, func(r *transient.Run) []float64 {
				return []float64{r.ElementAmps(id), r.States(id)[0]}
			}
	}, []float64{0, 0}}
}

func motorScene(steady device.SteadyMotor) scene {
	return scene{nil, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		source := n.Source(transient.Ground, top, steady.RatedVolts+0.5, 0.02)
		id := n.Element(top, transient.Ground, NewMotor(steady))
		return func(r *transient.Run, seconds float64) {
				if seconds == 1 {
					r.SetVolts(source, (steady.RatedVolts+0.5)/2)
				}
			}, func(r *transient.Run) []float64 {
				return r.States(id)
			}
	}, []float64{1, 0}}
}

func starterScene() scene {
	return scene{nil, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		n.Source(transient.Ground, top, 12, 0.008)
		id := n.Element(top, transient.Ground, starter())
		return func(*transient.Run, float64) {}, func(r *transient.Run) []float64 { return r.States(id) }
	}, []float64{0, 0, 0}}
}

// batteryScene has a battery between two circuits and itself. The volts of one that is being emptied fall so steeply with its
// charge that their error is told of 12 V, and that of what is held back of all charge.
func batteryScene(c *Cell, loads map[float64][2]float64, floors ...float64) scene {
	open, _, _ := c.openVolts(c.Charge, c.Kelvin)
	return scene{[]float64{0, open}, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		source := n.Source(transient.Ground, top, loads[0][0], loads[0][1])
		id := n.Element(top, transient.Ground, c)
		return func(r *transient.Run, seconds float64) {
				if load, ok := loads[seconds]; ok {
					r.SetVolts(source, load[0])
					r.SetOhms(source, load[1])
				}
			}, func(r *transient.Run) []float64 {
				return append([]float64{r.Volts(top)}, r.States(id)...)
			}
	}, floors}
}

func rectifierScene() scene {
	return scene{nil, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		anode, plate := n.Node(), n.Node()
		source := n.Source(transient.Ground, anode, 12, 1)
		id := n.Element(anode, plate, Law{judged})
		n.Element(plate, transient.Ground, NewCapacitor(1e-3))
		n.Resistor(plate, transient.Ground, 100)
		return func(r *transient.Run, seconds float64) {
				if seconds == 0.05 {
					r.SetVolts(source, 0)
				}
			}, func(r *transient.Run) []float64 {
				return []float64{r.Volts(plate), r.ElementAmps(id)}
			}
	}, []float64{0, 1e-3}}
}

func flywheelScene() scene {
	return scene{nil, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		source := n.Source(transient.Ground, top, 12.6, 1)
		id := n.Element(top, transient.Ground, Coil{Ohms: 85, Henries: 0.3})
		n.Element(transient.Ground, top, Law{judged})
		return func(r *transient.Run, seconds float64) {
				if seconds == 0.02 {
					r.SetOhms(source, 1e4)
				}
			}, func(r *transient.Run) []float64 {
				return []float64{r.ElementAmps(id), r.Volts(top)}
			}
	}, []float64{0.1, 0.1}}
}

func generatorScene() scene {
	return scene{[]float64{0, 14.2714570573}, func(n *transient.Network) (func(*transient.Run, float64), func(*transient.Run) []float64) {
		top := n.Node()
		load := n.Resistor(top, transient.Ground, 1)
		id := n.Element(top, transient.Ground, NewRegulator(14.3, 0.002, 70))
		loads := map[float64]float64{0.1: 0.3, 0.6: 0.1, 1.2: 1}
		return func(r *transient.Run, seconds float64) {
				if ohms, ok := loads[seconds]; ok {
					r.SetOhms(load, ohms)
				}
			}, func(r *transient.Run) []float64 {
				return []float64{r.Volts(top), r.States(id)[0]}
			}
	}, []float64{0, 0}}
}

func scenes() map[string]scene {
	day := NewCell(1, 12.6, 0.010, 60)
	day.AmpHours, day.AtHandShare = 60, 0
	day.Charge, day.ChargingOhms, day.ChargeStepVolts = 0.7, 0.040, 0.2
	thin, _ := thinning(day.ChargeAt(12.6))
	day.Ohms *= thin // what NewCell took off
	cold := *day
	cold.ChargeStepVolts, cold.Lags[0].Ohms, cold.Kelvin, cold.AmbientKelvin = 0, 0, 255.15, 293.15
	cold.JoulesPerKelvin, cold.WattsPerKelvin = 10e3, 3
	emptied := *day
	emptied.Charge, emptied.SurfaceVolts, emptied.AtHandShare = 1, 0, 0.4
	emptiedCold := emptied
	emptiedCold.ChargeStepVolts, emptiedCold.Lags[0].Ohms, emptiedCold.Kelvin = 0, 0, 255.15
	return map[string]scene{
		"lamp 12 V 55 W":       lampScene(device.Filament{RatedVolts: 12, RatedWatts: 55}),
		"lamp 13.5 V 5.5 W":    lampScene(device.Filament{RatedVolts: 13.5, RatedWatts: 5.5}),
		"rectifier":            rectifierScene(),
		"flywheel":             flywheelScene(),
		"fan":                  motorScene(device.SteadyMotor{RatedVolts: 13, RatedAmps: 28, StallAmps: 217}),
		"worm":                 motorScene(device.SteadyMotor{RatedVolts: 12, RatedAmps: 6, StallAmps: 30, FrictionShare: 0.7}),
		"starter":              starterScene(),
		"battery day":          batteryScene(day, map[float64][2]float64{0: {0, 0.1}, 60: {14.4, 0.03}, 3660: {0, 20}}, 0, 0, 0.01, 0.01, 0.01),
		"battery cold":         batteryScene(&cold, map[float64][2]float64{0: {0, 0.03}, 60: {0, 20}}, 0, 0, 0.01, 0.01, 0.01),
		"battery emptied":      batteryScene(&emptied, map[float64][2]float64{0: {0, 0.25}, 3600: {0, 1e3}, 14400: {14.4, 0.03}}, 12, 0, 0.01, 0.01, 60),
		"battery emptied cold": batteryScene(&emptiedCold, map[float64][2]float64{0: {0, 0.25}, 3600: {0, 1e3}}, 12, 0, 0.01, 60),
		"generator":            generatorScene(),
	}
}

func readJudged(t *testing.T) map[string][][]float64 {
	t.Helper()
	data, err := os.ReadFile("../../testdata/time/elements.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var tables map[string][][]float64
	if err := yaml.Unmarshal(data, &tables); err != nil {
		t.Fatal(err)
	}
	return tables
}

// judge returns the worst error of a scene over its table, relative to the value or its floor.
func judge(t *testing.T, s scene, rows [][]float64, o transient.Options) (worst float64, balance transient.Balance) {
	t.Helper()
	n := transient.New()
	change, look := s.build(n)
	o.Volts, o.Energy = s.volts, true
	r := mustStart(t, n, o)
	changes := []float64{0, 0.02, 0.05, 0.1, 0.5, 0.6, 1, 1.2, 60, 3600, 3660, 14400} // where any scene may change
	for _, row := range rows {
		for len(changes) > 0 && changes[0] < row[0] {
			mustAdvance(t, r, changes[0])
			change(r, changes[0])
			if err := r.Settle(); err != nil {
				t.Fatal(err)
			}
			changes = changes[1:]
		}
		mustAdvance(t, r, row[0])
		for k, value := range look(r)[:len(row)-1] {
			err := math.Abs(value-row[1+k]) / math.Max(math.Abs(row[1+k]), s.floors[k])
			if err > 1e-3 {
				t.Errorf("at %v s, column %d: %v, SciPy %v", row[0], k, value, row[1+k])
			}
			worst = math.Max(worst, err)
		}
	}
	return worst, r.Balance()
}

func TestAgainstSciPy(t *testing.T) {
	tables, all := readJudged(t), scenes()
	if len(tables) != len(all) {
		t.Fatalf("%d tables for %d scenes", len(tables), len(all))
	}
	for name, rows := range tables {
		if len(rows) == 0 {
			t.Fatalf("%s: an empty table", name)
		}
		for _, grade := range []struct{ tolerance, within float64 }{{1e-4, 5e-4}, {1e-6, 1e-5}, {1e-8, 1e-7}} {
			worst, balance := judge(t, all[name], rows, transient.Options{Tolerance: grade.tolerance})
			most := math.Abs(balance.Given) + math.Abs(balance.Lost) + math.Abs(balance.Stored)
			t.Logf("%s at %.0e: error %.1e, energy off by %.1e of %.4g J", name, grade.tolerance, worst, balance.Off()/most, most)
			if worst > grade.within {
				t.Errorf("%s at %.0e: error %.1e, want %.0e", name, grade.tolerance, worst, grade.within)
			}
			if math.Abs(balance.Off()) > 1e-4*most {
				t.Errorf("%s at %.0e: energy %+v", name, grade.tolerance, balance)
			}
		}
	}
}
