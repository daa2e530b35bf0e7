package circuit

// This file tells how batteries are stacked: two of 12 V in series are a vehicle of 24 V, and 0 V is the lowest minus.

import "underload/circuit/catalog"

// stack is the batteries as they stand on one another.
type stack struct {
	lowest, highest *Part
	volts           float64 // of the highest plus post against the lowest minus post
}

// Lowest is the battery whose minus is 0 V: the first in the file that stands on no other; nil where there is none.
func (c *Circuit) Lowest() *Part { return c.stack.lowest }

// Highest is the battery whose plus is the highest: the first of them in the file.
func (c *Circuit) Highest() *Part { return c.stack.highest }

// BatteryVolts are those that the file gives the highest plus post against 0 V.
func (c *Circuit) BatteryVolts() float64 { return c.stack.volts }

// SystemVolts is 12 or 24.
func (c *Circuit) SystemVolts() float64 { return catalog.SystemVolts(c.stack.volts) }

func (c *Circuit) makeStack() {
	batteries := c.OfKind("battery")
	if len(batteries) == 0 {
		return
	}
	below := map[*Part]*Part{}
	if len(batteries) > 1 {
		w := wired(c)
		for _, b := range batteries {
			below[b] = w.under(b)
		}
	}
	c.stack.lowest = batteries[0]
	for _, b := range batteries {
		if below[b] == nil {
			c.stack.lowest = b
			break
		}
	}
	for _, b := range batteries {
		volts, on := 0.0, b
		for range batteries { // as many as there are: a ring of them ends too
			volts += on.Value("volts")
			if on = below[on]; on == nil {
				break
			}
		}
		if volts > c.stack.volts {
			c.stack.highest, c.stack.volts = b, volts
		}
	}
}

// under is the battery on whose plus another one's minus lies, through metal, fuses and battery switches; nil where it
// stands on none.
func (w *wiring) under(b *Part) *Part {
	minus := b.Terminal("neg").Spot
	if minus == NoSpot {
		return nil
	}
	seen, todo := map[int]bool{int(minus): true}, []int{int(minus)}
	for len(todo) > 0 {
		at := todo[0]
		todo = todo[1:]
		for _, t := range w.battery[at] {
			if t.Pin == "pos" && t.Owner != b.Name {
				return w.circuit.Part(t.Owner)
			}
		}
		for _, h := range w.hops[at] {
			if p := h.link.Part; (p == nil || bridges(p)) && !seen[h.to] {
				seen[h.to], todo = true, append(todo, h.to)
			}
		}
	}
	return nil
}

// bridges tells what may lie between two batteries.
func bridges(p *Part) bool {
	switch p.Kind.Name {
	case "fuse", "fusible link":
		return true
	}
	return p.Kind.Name == "switch" && len(p.Terminals) == 2
}
