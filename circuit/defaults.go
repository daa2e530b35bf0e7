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
	bodyOhms   = 0.002  // the metal of a body or frame on to the next point; end to end 1 to 3 mohm
	spliceOhms = 0.0003 // what each leg of a splice adds, like a crimp
)

// studOhms is a sound stud, ring to metal, as the catalogue has it.
var studOhms = listed("ring").PairOhms

// outputOhms is the on-resistance of a module's output: a low-side driver that is made for valves, relays and small
// motors, which loses the 0.3 V that practice allows a switch at 3 A. Common practice, no source.
const outputOhms = 0.1

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
	switch kind.Name {
	case "fuse":
		size = listed("fuse slot")
	case "battery":
		size = listed("battery post")
	case "generator": // bolted
		size = listed("ring")
	case "fusible link": // crimped on both ends, nothing to pull apart
		size = listed("ring")
		size.PairOhms = size.CrimpOhms
	default:
		size = blade(t.SizeMM)
	}
	t.CrimpOhms, t.ContactOhms, t.BehindOhms = size.CrimpOhms, size.PairOhms, behindOhms
	if kind.Name == "fuse" { // its cold resistance is measured from top to top
		t.BehindOhms = 0
	}
}

// sizedInline gives an in-line terminal its figures: crimp, contact, crimp.
func (t *Terminal) sizedInline() {
	size := blade(t.SizeMM)
	t.CrimpOhms, t.ContactOhms, t.BehindOhms = size.CrimpOhms, size.PairOhms, size.CrimpOhms
}

// listed is a terminal of the catalogue that is no blade.
func listed(name string) catalog.TerminalSize {
	size, err := catalog.TerminalNamed(name)
	if err != nil {
		panic("circuit: " + err.Error())
	}
	return size
}

// blade is a blade terminal of a size that has been checked.
func blade(sizeMM float64) catalog.TerminalSize {
	size, err := catalog.TerminalOf(sizeMM)
	if err != nil {
		panic("circuit: " + err.Error())
	}
	return size
}
