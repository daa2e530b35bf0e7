package sim

// This file brings modules to the mode that their feeds allow.

import (
	"errors"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver"
)

// stepModules looks at every module once more. Those that have to boot do so at the same moment, as when a key is
// turned: each is judged with the boot current of all of them, whatever their order in the file.
func (b *Bench) stepModules(flips map[*circuit.Part]int) (bool, error) {
	was := map[*circuit.Part]part.Mode{}
	var trying []*circuit.Part
	modules := b.c.OfKind("module")
	for _, p := range modules {
		s := b.states[p]
		was[p] = s.Mode
		switch {
		case flips[p] >= maxFlips:
		case s.Flaw.Dead:
			s.Mode = part.Dead
		case !b.stays(p):
			trying = append(trying, p)
		}
	}
	if err := b.boot(trying); err != nil {
		return false, err
	}
	changed := false
	for _, p := range modules {
		if s := b.states[p]; s.Mode != was[p] {
			changed = true
			if flips[p]++; flips[p] >= maxFlips {
				s.Mode = part.Cycling
			}
		}
	}
	return changed, b.solve(b.sol)
}

// stays reports whether a module goes on as it is: awake above its reset, or hung between its two thresholds.
func (b *Bench) stays(p *circuit.Part) bool {
	s, m := b.states[p], b.module(p)
	volts := m.SupplyVolts(b.sol)
	if s.Resting || !m.Woken(b.sol) || volts < p.Value("resets below") {
		return false
	}
	return s.Mode == part.Awake || s.Mode == part.Hung && volts < p.Value("runs above")
}

// boot finds the modes that modules come to: unloaded first, then as they boot, then awake.
func (b *Bench) boot(trying []*circuit.Part) error {
	for _, p := range trying {
		b.states[p].Mode = part.Asleep
	}
	if len(trying) == 0 {
		return nil
	}
	if err := b.solve(b.sol); err != nil {
		return err
	}
	var booting, awake []*circuit.Part
	for _, p := range trying {
		s, m := b.states[p], b.module(p)
		switch {
		case s.Resting:
		case m.SupplyVolts(b.sol) < p.Value("runs above"):
			s.Mode = part.Off
		case m.Woken(b.sol):
			booting = append(booting, p)
		}
	}
	for _, p := range booting {
		b.states[p].Mode, b.states[p].Kicks = part.Booting, part.Booting
	}
	if err := b.solve(b.sol); err != nil {
		return err
	}
	for _, p := range booting {
		switch volts := b.module(p).SupplyVolts(b.sol); {
		case volts < p.Value("resets below"):
			b.states[p].Mode = part.Cycling
		case volts < p.Value("runs above"):
			b.states[p].Mode = part.Hung
		default:
			awake = append(awake, p)
		}
	}
	return b.wake(awake)
}

// wake lets modules that have booted run, and puts those into reset that their own running current, or that of what
// they switch, pulls down.
func (b *Bench) wake(awake []*circuit.Part) error {
	for _, p := range awake {
		b.states[p].Mode = part.Awake
	}
	err := b.solve(b.sol)
	var none *solver.NoOperatingPointError
	if errors.As(err, &none) { // together they ask for more than the feeds can give at any volts
		b.sol = &solver.Solution{}
		for _, p := range awake {
			b.states[p].Mode, b.states[p].Kicks = part.Cycling, part.Awake
		}
		return nil
	}
	if err != nil {
		return err
	}
	for _, p := range awake {
		if s := b.states[p]; b.module(p).SupplyVolts(b.sol) < p.Value("resets below") {
			s.Mode, s.Kicks = part.Cycling, part.Awake
		}
	}
	return nil
}
