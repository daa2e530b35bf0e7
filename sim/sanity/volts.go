package sanity

// This file finds what gets far more volts than it is made for: a bulb, coil, motor or heater of a 12 V vehicle on 24 V.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/sim"
	"underload/sim/part"
)

// pullInShare is the share of its rated volts at which a relay surely pulls in (common practice, no source).
const pullInShare = 0.6

// tooMany is the share of its rated volts that makes a coil, motor or heater one of the wrong system (common practice, no
// source). Bulbs burn out at the same.
const tooMany = 1.5

// ratedVolts are those a load or coil is made for; 0 where nothing says so.
func ratedVolts(p *circuit.Part) float64 {
	switch p.Kind.Name {
	case "lamp":
		return part.Bulb(p).TestVolts
	case "heater", "motor":
		return p.Value("at")
	case "relay":
		return p.Value("pulls in") / pullInShare
	}
	return 0
}

// workingVolts are those across a load, or across a relay's coil.
func workingVolts(b *sim.Bench, p *circuit.Part) float64 {
	if p.Kind.Name == "relay" {
		return b.CoilVolts(p)
	}
	volts, _ := b.LoadVolts(p)
	return volts
}

// highVolts keeps the most volts that each load and coil got in any state.
type highVolts map[*circuit.Part]float64

// see looks at every load and coil on the bench.
func (h highVolts) see(b *sim.Bench) {
	for _, p := range b.Circuit().Parts {
		if ratedVolts(p) > 0 {
			h[p] = max(h[p], math.Abs(workingVolts(b, p)))
		}
	}
}

func (h highVolts) tell(k *checker) {
	for _, p := range k.c.Parts {
		got, rated := h[p], ratedVolts(p)
		if rated == 0 || got < tooMany*rated {
			continue
		}
		f := Finding{Rule: "high volts", Pos: p.Pos, At: p.Name}
		switch p.Kind.Name {
		case "lamp":
			f.Text = fmt.Sprintf("%s gets %s, and its bulb, %s, is made for %s: it burns out", p.Name, rounded(got), part.Bulb(p).Name, rounded(rated))
			f.Hint = "Give it one of a 24 V vehicle, such as \"21 W 24 V\""
		case "relay":
			f.Text = fmt.Sprintf("the coil of %s gets %s, and one that pulls in at %s is made for about %s: it overheats", p.Name, rounded(got), rounded(p.Value("pulls in")), rounded(rated))
			f.Hint = "Give it the figures of its own coil; of 24 V ones coil: 340 ohm, pulls in: 14.4 V, lets go: 3.2 V are usual"
		default:
			f.Text = fmt.Sprintf("%s gets %s, and is made for %s", p.Name, rounded(got), rounded(rated))
			f.Hint = "Give the volts it is rated at, at: 27 V of a 24 V vehicle, with what it takes at those"
		}
		k.find(f)
	}
}
