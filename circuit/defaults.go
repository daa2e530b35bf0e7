package circuit

// This file holds every value that stands where a file leaves one out, apart from those of the kinds of part, which
// stand in their table. FORMAT.md lists them all.

import (
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// The surroundings.
const (
	ambientCelsius   = 20
	ambientDimension = quantity.Celsius
	coldestCelsius   = -60 // outside of these two the models of wires and lamps have not been checked
	hottestCelsius   = 150
)

// A wire of which nothing is said: common practice for a light load in the middle of a vehicle, no source.
const (
	wireAreaMM2 = 0.75
	wireMetres  = 2.0
	wireMetal   = "copper"
)

// What is taken for a slip of the pen in a wire.
const (
	thinnestMM2    = 0.01
	thickestMM2    = 1000
	shortestMetres = 0.01
	longestMetres  = 200
	leastWireOhms  = 1e-6
	mostWireOhms   = 1e6
)

// Joints outside of terminals: common practice, no source.
const (
	studOhms   = 0.0005 // ring to metal; sound studs are 0.2 to 1 mohm
	bodyOhms   = 0.002  // the metal of a body or frame on to the next point; end to end 1 to 3 mohm
	spliceOhms = 0.0003 // what each leg of a splice adds, like a crimp
)

// outputOhms is the on-resistance of a module's output: a small low-side driver, common practice, no source.
const outputOhms = 0.6

// How things are reached where the file does not say.
const (
	partReach    = Near
	cavityReach  = Near
	fuseReach    = Open
	batteryReach = Open
	fusibleReach = InLoom
	spliceReach  = InLoom
	studReach    = Open
)

// platingTold is the plating of terminals.
const platingTold = "tin"

// platings are those there are.
var platings = []string{"tin", "silver", "gold"}

// Terminal sizes in millimetres, by what they belong to: common practice, no source.
const (
	smallTerminalMM  = 1.5 // modules, sensors, terminators, diagnostic sockets
	mediumTerminalMM = 2.8 // in-line connectors, relays, switches and loads
)

// terminalMM is the terminal size of a kind of part.
func terminalMM(kind *Kind) float64 {
	switch kind.Name {
	case "module", "sensor", "terminator", "socket":
		return smallTerminalMM
	}
	return mediumTerminalMM
}

// behindOhms is a pin's own metal on to what lies behind it: common practice, no source.
const behindOhms = 0.0001

// sizedFor gives a part's terminal the catalogue's figures for its kind and size.
func (t *Terminal) sizedFor(kind *Kind) {
	var size catalog.TerminalSize
	var err error
	switch kind.Name {
	case "fuse":
		size, err = catalog.TerminalNamed("fuse slot")
	case "battery":
		size, err = catalog.TerminalNamed("battery post")
	case "fusible link": // crimped on both ends, nothing to pull apart
		size, err = catalog.TerminalNamed("ring")
		size.PairOhms = size.CrimpOhms
	default:
		size, err = catalog.TerminalOf(t.SizeMM)
	}
	if err != nil {
		panic("circuit: a default terminal is not in the catalogue: " + err.Error())
	}
	t.CrimpOhms, t.ContactOhms, t.BehindOhms = size.CrimpOhms, size.PairOhms, behindOhms
	if kind.Name == "fuse" { // its cold resistance is measured from top to top
		t.BehindOhms = 0
	}
}

// sizedInline gives an in-line terminal its figures: crimp, contact, crimp.
func (t *Terminal) sizedInline() {
	size, err := catalog.TerminalOf(t.SizeMM)
	if err != nil {
		panic("circuit: a terminal size was not checked: " + err.Error())
	}
	t.CrimpOhms, t.ContactOhms, t.BehindOhms = size.CrimpOhms, size.PairOhms, size.CrimpOhms
}
