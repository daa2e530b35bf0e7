package transient_test

// This file holds the circuits that are stepped: small ones, and a crank in a harness of many nodes, built as
// testdata/time/harness.py builds it.

import (
	"math"
	"os"
	"testing"

	"gopkg.in/yaml.v3"

	"underload/solver/transient"
)

const (
	starterCloses = 0.02 // seconds
	crankEnds     = 1.5
	openOhms      = 1e9
)

// golden is what SciPy found.
type golden struct {
	Crank, Inrush, Hiccups, Resets [][]float64
	InrushPeak                     []float64 `yaml:"inrush_peak"`
	RippleMinimum                  float64   `yaml:"ripple_minimum"`
	Melts                          []struct {
		Fuse     string
		Multiple float64
		Seconds  []float64
	}
	Cranks []struct {
		Nodes          int
		Starter, Loads []float64
		Ohms           float64
		Radau          [][]float64 // rtol, steps, error
	}
}

func readGolden(t testing.TB) *golden {
	t.Helper()
	g := &golden{}
	for _, name := range []string{"small.yaml", "harness.yaml"} {
		text, err := os.ReadFile("../../testdata/time/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if err := yaml.Unmarshal(text, g); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	if len(g.Crank) == 0 || len(g.Inrush) == 0 || len(g.Hiccups) == 0 || len(g.Resets) == 0 || len(g.Melts) == 0 || len(g.Cranks) == 0 {
		t.Fatal("golden data are missing")
	}
	return g
}

// mustStart starts a run.
func mustStart(t testing.TB, n *transient.Network, o transient.Options) *transient.Run {
	t.Helper()
	r, err := n.Start(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// mustAdvance goes to a time.
func mustAdvance(t testing.TB, r *transient.Run, seconds float64) {
	t.Helper()
	if err := r.Advance(seconds); err != nil {
		t.Fatal(err)
	}
}

// relative is how far a value is off, as a share of the true one.
func relative(value, truth float64) float64 { return math.Abs(value-truth) / math.Abs(truth) }

// crank is a battery, a starter and a lamp, perhaps with a module.
type crank struct {
	*transient.Network
	posts                   transient.Node
	motor, lamp, unit, cell transient.ID
}

func newCrank(unit *module) crank {
	c := crank{Network: transient.New()}
	c.posts = c.Node()
	c.cell = c.Element(c.posts, transient.Ground, battery)
	fed, lit := c.Node(), c.Node()
	c.Element(c.posts, fed, contact{[]float64{openOhms, 3e-3}, []float64{starterCloses}})
	c.motor = c.Element(fed, transient.Ground, motor{})
	c.Resistor(c.posts, lit, 0.05)
	c.lamp = c.Element(lit, transient.Ground, newLamp(12, 55, 300))
	if unit != nil {
		pin := c.Node()
		c.Resistor(c.posts, pin, 0.2)
		c.unit = c.Element(pin, transient.Ground, *unit)
	}
	return c
}

// chance is SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
type chance uint64

func (c *chance) draw() float64 {
	*c += 0x9E3779B97F4A7C15
	z := uint64(*c)
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return float64(z^z>>31) / (1 << 64)
}

func (c *chance) ohms(low, high float64) float64 { return low * math.Pow(high/low, c.draw()) }

func (c *chance) oneOf(count int) int { return int(c.draw() * float64(count)) }

// wiring is a harness of 15 nodes a load with a battery and a starter. What sits where a load, or a piece of wire, would
// be can be chosen.
type wiring struct {
	*transient.Network
	nodes  []transient.Node
	loads  []transient.ID
	motor  transient.ID
	inWire []transient.ID // elements that stand in a wire
	ohms   float64        // of all resistors
}

// kit is what goes into a harness beside its wires; nil functions are for the plain crank.
type kit struct {
	load   func(k int) transient.Element              // nil: the plain one
	inWire func(k int, ground bool) transient.Element // in the first piece of load k's feed, or the last but one of its ground
	parked bool                                       // the starter stays open
}

// newWiring builds a harness for so many loads.
func newWiring(loads int, k kit) *wiring {
	w := &wiring{Network: transient.New(), nodes: []transient.Node{transient.Ground}}
	for range 6 + 15*loads {
		w.nodes = append(w.nodes, w.Node())
	}
	for _, e := range [][3]float64{{1, 2, 1e-3}, {1, 4, 0.8e-3}, {5, 0, 0.7e-3}, {5, 6, 1.5e-3}, {6, 0, 1e-3}} {
		w.wire(int(e[0]), int(e[1]), e[2])
	}
	c := chance(loads)
	ends := make([][2]int, loads)
	for load := range loads {
		ends[load] = w.branch(load, &c, k)
	}
	w.Element(w.nodes[1], transient.Ground, battery)
	closes := starterCloses
	if k.parked {
		closes = math.Inf(1)
	}
	w.Element(w.nodes[4], w.nodes[3], contact{[]float64{openOhms, 1.5e-3}, []float64{closes}})
	w.motor = w.Element(w.nodes[3], w.nodes[5], motor{})
	for load, end := range ends {
		var what transient.Element
		if k.load != nil {
			what = k.load(load)
		}
		if what == nil {
			what = plainLoad(load)
		}
		w.loads = append(w.loads, w.Element(w.nodes[end[0]], w.nodes[end[1]], what))
	}
	return w
}

func (w *wiring) wire(a, b int, ohms float64) {
	w.Resistor(w.nodes[a], w.nodes[b], ohms)
	w.ohms += ohms
}

// branch is the way to a load and back: nodes 0 to 8 feed it, 9 to 12 are its ground, 13 and 14 a dead end.
func (w *wiring) branch(load int, c *chance, k kit) (ends [2]int) {
	base := 7 + 15*load
	spliced, grounded := c.draw() < 1./3, c.draw() < 1./3
	feeder, grounder := c.oneOf(max(load, 1)), c.oneOf(max(load, 1))
	from, to := 2, 6
	if spliced && load > 0 {
		from = 7 + 15*feeder + 4
	}
	if grounded && load > 0 {
		to = 7 + 15*grounder + 11
	}
	w.wire(from, base, c.ohms(2e-3, 2e-2))
	for j := range 12 {
		if j == 8 {
			continue
		}
		ohms := c.ohms(1e-3, 1e-2)
		if k.inWire != nil && (j == 0 || j == 10) {
			if what := k.inWire(load, j == 10); what != nil {
				w.inWire = append(w.inWire, w.Element(w.nodes[base+j], w.nodes[base+j+1], what))
				continue
			}
		}
		w.wire(base+j, base+j+1, ohms)
	}
	w.wire(base+12, to, c.ohms(2e-3, 2e-2))
	w.wire(base+4, base+13, c.ohms(1e-3, 1e-2))
	w.wire(base+13, base+14, c.ohms(1e-3, 1e-2))
	w.wire(base+6, base+10, 1e4)
	if load%3 == 2 {
		w.wire(base+12, base+12-15, 5e-3)
	}
	return [2]int{base + 8, base + 9}
}

// plainLoad is a lamp, a module, a lamp, a relay coil and so on.
func plainLoad(k int) transient.Element {
	switch {
	case k%4 == 1:
		return newModule(3, 0, 0, 12)
	case k%4 == 3:
		return coil{0.3, 85, 0.14, 1e-3}
	case k/2%10 == 0:
		return newLamp(12, 55, 2500)
	case k/2%10 == 5:
		return newLamp(13.5, 26.5, 2500)
	}
	return newLamp(13.5, 5.5, 2500)
}
