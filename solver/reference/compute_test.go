package reference

// This file computes what is not a worked circuit: wires, fuses and lamps, out
// of the program's tables and device laws and through its solver.

import (
	"fmt"
	"math"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/solver"
	"underload/solver/device"
)

// given hands out what a value is given for, piece by piece; the first error stays.
type given struct {
	left []string
	err  error
}

func (g *given) text() string {
	if len(g.left) == 0 {
		g.err = fmt.Errorf("something is missing")
		return ""
	}
	next := g.left[0]
	g.left = g.left[1:]
	return next
}

func (g *given) number(d quantity.Dimension) float64 {
	value, err := quantity.Parse(g.text(), d)
	if err != nil && g.err == nil {
		g.err = err
	}
	return value
}

// computes is everything a value may name under compute.
var computes = map[string]func(*given) float64{
	"wire ohms": func(g *given) float64 {
		area, metal := g.number(quantity.SquareMillimetres), catalog.Metal(g.text())
		celsius, metres := g.number(quantity.Celsius), g.number(quantity.Metres)
		return g.ohms(catalog.WireOhmsPerMetre(area, metal, celsius) * metres)
	},
	"class 5 wire": func(g *given) float64 {
		area, metres := g.number(quantity.SquareMillimetres), g.number(quantity.Metres)
		for _, size := range catalog.Class5Wires() {
			if size.AreaMM2 == area {
				return g.ohms(size.OhmPerMetre * metres)
			}
		}
		g.err = fmt.Errorf("no class 5 wire of %g mm²", area)
		return 0
	},
	"gauge diameter": func(g *given) float64 { // in inches
		return math.Sqrt(g.number(quantity.SquareMillimetres)*4/math.Pi) / 25.4
	},
	"fuse ohms":  func(g *given) float64 { return g.ohms(g.fuse().ColdOhms) },
	"fuse volts": func(g *given) float64 { return g.fuse().RatedVolts },
	"fuse a2s":   func(g *given) float64 { return g.fuse().MeltA2S },
	"fuse amps": func(g *given) float64 { // at so many volts across it, cold
		ohms := g.fuse().ColdOhms
		return g.amps(g.number(quantity.Volts), func(n *solver.Network, a solver.Node) solver.Branch {
			return n.AddResistor(a, solver.Ground, ohms)
		})
	},
	"fuse holds":  func(g *given) float64 { return g.melt().MinSeconds },
	"fuse melts":  func(g *given) float64 { return g.melt().MaxSeconds },
	"bulb watts":  func(g *given) float64 { return g.bulb().TestWatts },
	"bulb lumens": func(g *given) float64 { return g.bulb().Lumens },
	"bulb amps":   func(g *given) float64 { return g.bulb().Amps() },
	"metal resistivity": func(g *given) float64 { // Ω·mm²/m
		resistivity, _ := catalog.Metal(g.text()).Resistivity()
		return resistivity
	},
	"metal per kelvin": func(g *given) float64 {
		_, perKelvin := catalog.Metal(g.text()).Resistivity()
		return perKelvin
	},
	"terminal drag":   func(g *given) float64 { return g.terminal().DragNewtons },
	"terminal act at": func(g *given) float64 { return g.terminal().ActOhms },
	"relay": func(g *given) float64 {
		what := g.text()
		value, known := map[string]float64{"coil": catalog.PlugInRelay.CoilOhms, "pull-in": catalog.PlugInRelay.PullInVolts, "release": catalog.PlugInRelay.ReleaseVolts}[what]
		if !known {
			g.err = fmt.Errorf("a relay has no %q", what)
		}
		return value
	},
	"tungsten": func(g *given) float64 { // 1e-8 Ω·m
		resistivity, _ := device.Resistivity(g.number(quantity.Celsius) + 273.15)
		return resistivity
	},
	"lamp cold ohms": func(g *given) float64 {
		return g.ohms(g.lamp().ColdOhms())
	},
	"lamp watts": func(g *given) float64 {
		lamp, volts := g.lamp(), g.number(quantity.Volts)
		return volts * g.lampAmps(lamp, volts)
	},
	"lamp lumens": func(g *given) float64 {
		lamp, rated := g.lamp(), g.number(quantity.Number)
		return rated * lamp.LightShare(g.number(quantity.Volts))
	},
	"lamp exponent": func(g *given) float64 {
		lamp, what := device.Filament{RatedVolts: 12, RatedWatts: 55}, g.text()
		low, high := 11.5, 12.5
		between := func(a, b float64) float64 { return math.Log(b/a) / math.Log(high/low) }
		switch what {
		case "amps":
			return between(g.lampAmps(lamp, low), g.lampAmps(lamp, high))
		case "watts":
			return between(low*g.lampAmps(lamp, low), high*g.lampAmps(lamp, high))
		case "light":
			return between(lamp.LightShare(low), lamp.LightShare(high))
		case "kelvin":
			return between(lamp.KelvinAt(low), lamp.KelvinAt(high))
		}
		g.err = fmt.Errorf("a lamp has no %q", what)
		return 0
	},
}

func (g *given) fuse() catalog.Fuse {
	kind := catalog.FuseType(g.text())
	fuse, err := catalog.FuseOf(kind, g.number(quantity.Amperes))
	if err != nil && g.err == nil {
		g.err = err
	}
	return fuse
}

// melt finds the melting limit of a build at a share of its rating.
func (g *given) melt() catalog.MeltLimit {
	kind, share := catalog.FuseType(g.text()), g.number(quantity.Number)
	for _, limit := range catalog.MeltTimes(kind).Limits {
		if limit.OfRating == share {
			return limit
		}
	}
	g.err = fmt.Errorf("a %s fuse has no limit at %g times its rating", kind, share)
	return catalog.MeltLimit{}
}

func (g *given) bulb() catalog.Bulb {
	bulb, err := catalog.BulbNamed(g.text())
	if err != nil && g.err == nil {
		g.err = err
	}
	return bulb
}

func (g *given) terminal() catalog.TerminalSize {
	size, err := catalog.TerminalOf(g.number(quantity.Millimetres))
	if err != nil && g.err == nil {
		g.err = err
	}
	return size
}

func (g *given) lamp() device.Filament {
	volts := g.number(quantity.Volts)
	lamp := device.Filament{RatedVolts: volts, RatedWatts: g.number(quantity.Watts)}
	if err := lamp.Check(); err != nil && g.err == nil {
		g.err = err
	}
	return lamp
}

func (g *given) lampAmps(lamp device.Filament, volts float64) float64 {
	return g.amps(volts, func(n *solver.Network, a solver.Node) solver.Branch {
		return n.AddDevice(a, solver.Ground, lamp)
	})
}

// amps solves for the current through a part across an ideal source.
func (g *given) amps(volts float64, add func(*solver.Network, solver.Node) solver.Branch) float64 {
	n := solver.NewNetwork()
	a := n.AddNode()
	n.AddSource(solver.Ground, a, volts, 0)
	part := add(n, a)
	var s solver.Solution
	if err := n.Solve(&s); err != nil {
		g.err = err
		return 0
	}
	return s.Amps(part)
}

// ohms measures a resistance with 1 A.
func (g *given) ohms(ohms float64) float64 {
	n := solver.NewNetwork()
	a := n.AddNode()
	n.AddCurrent(solver.Ground, a, 1)
	n.AddResistor(a, solver.Ground, ohms)
	var s solver.Solution
	if err := n.Solve(&s); err != nil {
		g.err = err
		return 0
	}
	return s.Volts(a)
}
