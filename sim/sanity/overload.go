package sanity

// This file adds up what the loads behind each fuse are rated for, as far as they can work together.

import (
	"fmt"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// fullShare is the share of its rating that a fuse is loaded with for long (common practice, no source).
const fullShare = 0.8

// ratedAmps is what a load or coil takes when it works as it is rated, on a battery of these volts.
func ratedAmps(p *circuit.Part, batteryVolts float64) float64 {
	switch p.Kind.Name {
	case "lamp":
		if bulb, err := catalog.BulbOf(p.Text("bulb")); err == nil {
			return bulb.Amps()
		}
	case "resistor":
		return batteryVolts / p.Value("resistance")
	case "heater":
		return p.Value("power") / p.Value("at")
	case "motor", "led":
		return p.Value("draws")
	case "module":
		return p.Value("awake")
	case "relay":
		return batteryVolts / p.Value("coil")
	}
	return 0
}

// share is how much of a load's current a fuse carries.
type share struct {
	load *circuit.Part
	amps float64
}

func (k *checker) overload() {
	carried := map[*circuit.Part][]share{}
	var plans []*plan
	for _, p := range k.c.Parts {
		if k.plans[p] == nil {
			continue
		}
		plans = append(plans, k.plans[p])
		k.carry(carried, p)
	}
	worst := map[*circuit.Part][]share{}
	for _, all := range together(plans) {
		lets := map[*plan]bool{}
		for _, p := range plans {
			lets[p] = all.lets(p)
		}
		for fuse, shares := range carried {
			var on []share
			for _, s := range shares {
				if lets[k.plans[s.load]] {
					on = append(on, s)
				}
			}
			if sum(on) > sum(worst[fuse]) {
				worst[fuse] = on
			}
		}
	}
	for _, p := range k.c.Parts {
		if on := worst[p]; len(on) > 0 {
			k.tellOverload(p, on)
		}
	}
}

// carry notes the fuses on the ways of a load. A module's current is divided evenly over its supply pins. What a module
// feeds goes through the module's own fuses.
func (k *checker) carry(carried map[*circuit.Part][]share, p *circuit.Part) {
	amps := ratedAmps(p, k.c.BatteryVolts())
	if amps == 0 {
		return
	}
	ways := k.waysOf(p)
	if p.Module != nil {
		ways = k.supplies(p)
		amps /= float64(max(1, len(ways)))
	}
	through := map[*circuit.Part]float64{}
	for _, f := range ways {
		k.along(through, f, amps, map[*circuit.Part]bool{p: true})
	}
	for fuse, amps := range through {
		carried[fuse] = append(carried[fuse], share{p, amps})
	}
}

// supplies are the ways of a module's supply pins.
func (k *checker) supplies(module *circuit.Part) []circuit.Feed {
	var ways []circuit.Feed
	for _, f := range k.feeds[module] {
		if f.Purpose == "supply" && f.End != nil {
			ways = append(ways, f)
		}
	}
	return ways
}

func (k *checker) along(through map[*circuit.Part]float64, f circuit.Feed, amps float64, passed map[*circuit.Part]bool) {
	for _, link := range f.Way {
		if link.Part != nil && isFuse(link.Part) {
			through[link.Part] = amps
		}
	}
	module := k.c.Part(f.End.Owner)
	if !f.Plus || module.Module == nil || passed[module] {
		return
	}
	passed[module] = true
	supplies := k.supplies(module)
	for _, supply := range supplies {
		k.along(through, supply, amps/float64(len(supplies)), passed)
	}
}

func sum(shares []share) float64 {
	total := 0.0
	for _, s := range shares {
		total += s.amps
	}
	return total
}

func (k *checker) tellOverload(fuse *circuit.Part, on []share) {
	total, rating := sum(on), fuse.Value("rating")
	if total <= fullShare*rating*tolerableShare {
		return
	}
	f := Finding{Rule: "overload", Pos: fuse.Pos, At: fuse.Name,
		Text: fmt.Sprintf("what can work together behind %s takes %s, %s of its %s: %s", fuse.Name, amps(total),
			quantity.Format(total/rating, quantity.Percent, 3), rated(rating), taking(on, total))}
	if f.Note = total <= rating*tolerableShare; !f.Note {
		f.Hint = "Fit a larger fuse if its wires allow, or divide the loads; or say under accepted why they never work together"
	}
	k.find(f)
}

// taking names what takes a twentieth of the whole and more; where nothing does, some of the many.
func taking(on []share, total float64) string {
	large := slices.DeleteFunc(slices.Clone(on), func(s share) bool { return s.amps < total/20 })
	if len(large) == 0 {
		large = on
	}
	var names []string
	const most = 6
	for _, s := range large[:min(len(large), most)] {
		names = append(names, s.load.Name)
	}
	if more := len(large) - len(names); more > 0 {
		names = append(names, fmt.Sprintf("%d more", more))
	}
	return strings.Join(names, ", ")
}
