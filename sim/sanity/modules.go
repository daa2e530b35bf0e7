package sanity

// This file keeps which modules were awake in any state, and what kept the others from it.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
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
	for _, p := range m.asleep(k.c) {
		f := Finding{Rule: "never awake", Pos: p.Pos, At: p.Name}
		best := m.best[p]
		switch {
		case best.SupplyVolts < p.Value("runs above") || best.Mode > part.Asleep:
			f.Text = fmt.Sprintf("%s is %s in the best position of the switches, with %s, and runs above %s", p.Name, best.Mode, rounded(best.SupplyVolts), rounded(p.Value("runs above")))
			f.Hint = "Look at what feeds and grounds it, and at its own figures"
		case math.IsInf(m.wake[p], -1):
			f.Rule, f.Text, f.Hint = "never woken", fmt.Sprintf("no wake pin of %s is on a path", p.Name), "Trace one"
		default:
			f.Rule = "never woken"
			f.Text = fmt.Sprintf("no position of the switches brings %s to a wake pin of %s: it gets %s at most", rounded(p.Value("wakes above")), p.Name, rounded(max(0, m.wake[p])))
			f.Hint = "Trace what wakes it, from the key on"
		}
		k.find(f)
	}
}

// rounded is a voltage to a hundredth of a volt.
func rounded(v float64) string { return quantity.Format(math.Round(v*100)/100, quantity.Volts, 0) }

// asleep lists the modules that were never awake.
func (m *modules) asleep(c *circuit.Circuit) []*circuit.Part {
	return slices.DeleteFunc(c.OfKind("module"), func(p *circuit.Part) bool { return m.awake[p] })
}

// search tries every position of every switch, alone and beside all that can be on at once, while a module was never
// awake: what wakes it may come through a load, and such ways are not planned.
func (m *modules) search(k *checker, s *stand, all []*plan) {
	left := mostStates
	for _, p := range k.c.OfKind("switch") {
		for _, throw := range p.Throws {
			for _, others := range append([]*plan{newPlan()}, all[:min(2, len(all))]...) {
				if left--; left < 0 || len(m.asleep(k.c)) == 0 {
					return
				}
				settings := slices.DeleteFunc(others.settings(), func(set string) bool { return strings.HasPrefix(set, p.Name+"=") })
				if throw.Name != p.Throws[0].Name {
					settings = append(settings, p.Name+"="+throw.Name)
				}
				if b, ok := s.visit(settings); ok {
					m.see(b)
				}
			}
		}
	}
}
