package meter

// This file is which of a module's feeds and grounds a staircase follows, where it has several, and what is said of those
// that it does not.

import (
	"fmt"
	"slices"

	"underload/circuit"
	"underload/sim"
)

// ways are the supply and ground pins of a module that are on the path, and those that are not. Both are empty where there
// is but one way.
type ways struct{ on, off []string }

func waysOf(p *circuit.Part, way sim.Way) ways {
	var w ways
	if p.Module == nil {
		return w
	}
	for _, pin := range slices.Concat(p.Module.Supply, p.Module.Ground) {
		t := p.Terminal(pin)
		switch here := func(h sim.Hop) bool { return h.Place == t.Name }; {
		case slices.ContainsFunc(way.Up, here) || slices.ContainsFunc(way.Down, here):
			w.on = append(w.on, t.Name)
		case t.Spot != circuit.NoSpot:
			w.off = append(w.off, t.Name)
		}
	}
	if len(w.off) == 0 {
		w.on = nil
	}
	return w
}

// only limits a verdict to the way.
func (w ways) only() string {
	if len(w.off) == 0 {
		return ""
	}
	return " on this way"
}

// words tell the way and the others, after a verdict.
func (w ways) words() string {
	if len(w.off) == 0 {
		return ""
	}
	return fmt.Sprintf(" This is the way by %s; not judged here: %s.", list(w.on), list(w.off))
}

// deadWay tells of a way that brings nothing while its load works on another, or is empty.
func (s *Staircase) deadWay() string {
	const nothing = 0.02 // of what comes in the healthy circuit
	for _, st := range s.Steps {
		healthy := st.Healthy.Amps
		if !slices.Contains(s.ways.on, st.Place) || s.Amps < idleAmps || healthy < idleAmps || st.UnderLoad.Amps > nothing*healthy {
			continue
		}
		told := fmt.Sprintf("Next to nothing passes %s, where %s does in the healthy circuit: %s has its %s another way.", st.Place, amps(healthy), s.Load, amps(s.Amps))
		cause := s.mostLost()
		switch {
		case cause.blown:
			return fmt.Sprintf("%s On this one %s is blown: find what blew it before another one is fitted.", told, cause.Place)
		case cause.UnderLoad.Amps < noAmps:
			return fmt.Sprintf("%s On this one %s is open, with %s across it.", told, cause.named(), volts(cause.UnderLoad.Lost))
		}
		return fmt.Sprintf("%s On this one %s.", told, cause.says())
	}
	return ""
}

// mostLost is the step that loses most beside the load.
func (s *Staircase) mostLost() *Step {
	var most *Step
	for i := range s.Steps {
		if st := &s.Steps[i]; !st.Load && (most == nil || st.Excess() > most.Excess()) {
			most = st
		}
	}
	return most
}
