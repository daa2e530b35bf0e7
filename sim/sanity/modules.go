package sanity

// This file keeps which modules were awake in any state, and what kept the others from it.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/sim"
	"underload/sim/part"
)

// modules remembers.
type modules struct {
	awake map[*circuit.Part]bool
	wake  map[*circuit.Part]float64          // the highest volts at a wake pin, against the module's own ground
	best  map[*circuit.Part]sim.ModuleReport // the one with the highest supply
}

func newModules(c *circuit.Circuit) *modules {
	m := &modules{map[*circuit.Part]bool{}, map[*circuit.Part]float64{}, map[*circuit.Part]sim.ModuleReport{}}
	for _, p := range c.OfKind("module") {
		m.wake[p] = math.Inf(-1)
	}
	return m
}

// see looks at every module on the bench.
func (m *modules) see(b *sim.Bench) {
	for _, r := range b.Modules() {
		m.awake[r.Part] = m.awake[r.Part] || r.Mode == part.Awake
		if before, seen := m.best[r.Part]; !seen || r.SupplyVolts > before.SupplyVolts || r.Mode > before.Mode {
			m.best[r.Part] = r
		}
		for _, pin := range r.Part.Module.Wake {
			t := r.Part.Terminal(pin)
			if p, err := b.Circuit().Point(t.Name); err == nil && t.Spot != circuit.NoSpot {
				m.wake[r.Part] = max(m.wake[r.Part], b.Volts(p)-r.OwnVolts)
			}
		}
	}
}

// tell tells of modules that were never awake.
func (m *modules) tell(k *checker) {
	for _, p := range k.c.OfKind("module") {
		if m.awake[p] {
			continue
		}
		f := Finding{Rule: "never awake", Pos: p.Pos, At: p.Name}
		best := m.best[p]
		switch {
		case best.SupplyVolts < p.Value("runs above") || best.Mode > part.Asleep:
			f.Text = fmt.Sprintf("%s is %s in the best position of the switches, with %s, and runs above %s", p.Name, best.Mode, volts(best.SupplyVolts), volts(p.Value("runs above")))
			f.Hint = "Look at what feeds and grounds it, and at its own figures"
		case math.IsInf(m.wake[p], -1):
			f.Rule, f.Text, f.Hint = "never woken", fmt.Sprintf("no wake pin of %s is on a path", p.Name), "Trace one"
		default:
			f.Rule = "never woken"
			f.Text = fmt.Sprintf("no position of the switches brings %s to a wake pin of %s: it gets %s at most", volts(p.Value("wakes above")), p.Name, volts(m.wake[p]))
			f.Hint = "Trace what wakes it, from the key on"
		}
		k.find(f)
	}
}
