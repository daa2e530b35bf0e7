package sim

// This file lets the circuit come to rest: relays pull in, fuses blow, modules boot or fail to.

import (
	"errors"
	"slices"

	"underload/circuit"
	"underload/sim/part"
	"underload/solver"
)

// maxFlips is how often one part may change to and fro before it is taken to chatter. It also bounds the settling: every
// round but the last changes some part.
const maxFlips = 6

func (b *Bench) rewire() {
	b.w = wire(b.c, b.overlay, b.ambient)
	b.w.attached = b.w.attached[:0]
	for _, a := range b.attached {
		red, black := b.nodeNamed(a.Red), b.nodeNamed(a.Black)
		var br solver.Branch
		switch {
		case a.Law != nil:
			br = b.w.net.AddDevice(red, black, a.Law)
		case a.Volts != 0:
			br = b.w.net.AddSource(black, red, a.Volts, a.Ohms)
		default:
			br = b.w.net.AddResistor(red, black, a.Ohms)
		}
		b.w.tag(br, Instrument)
		b.w.attached = append(b.w.attached, br)
	}
	b.sol = &solver.Solution{}
	b.kick = nil
}

// Instrument is the place of whatever is attached to the circuit.
const Instrument = "instrument"

func (b *Bench) adjust() { b.w.adjust(b.overlay, b.wiped, b.apart, b.states) }

func (b *Bench) solve(into *solver.Solution) error {
	b.near = nil
	b.adjust()
	return b.w.net.Solve(into)
}

func (b *Bench) settle() error {
	before := b.snapshot()
	b.chatters = nil
	flips := map[*circuit.Part]int{}
	for changed := true; changed; {
		if err := b.solveOrShed(flips); err != nil {
			return err
		}
		if changed = b.stepParts(flips); changed {
			continue
		}
		var err error
		if changed, err = b.stepModules(flips); err != nil {
			return err
		}
	}
	if b.chatters = b.chattering(flips); len(b.chatters) > 0 {
		for _, p := range b.chatters {
			b.states[p].PulledIn = false
		}
		if err := b.solve(b.sol); err != nil {
			return err
		}
	}
	b.moved = b.changes(before)
	return b.solveKick()
}

// chattering lists the relays that were held still after too many changes and would still change: one whose contact
// takes its own coil's volts away. Like a cycling module such a relay has two readings, at rest let go and with a kick
// pulled in.
func (b *Bench) chattering(flips map[*circuit.Part]int) []*circuit.Part {
	var found []*circuit.Part
	for _, p := range b.c.OfKind("relay") {
		if flips[p] >= maxFlips && b.w.inner[p].Step(b.states[p].Clone(), b.sol) {
			found = append(found, p)
		}
	}
	return found
}

// solveOrShed solves; where the awake modules ask for more power than the feeds can give at any volts, the weakest of
// them falls into reset until the rest stand.
func (b *Bench) solveOrShed(flips map[*circuit.Part]int) error {
	for {
		err := b.solve(b.sol)
		var none *solver.NoOperatingPointError
		if err == nil || !errors.As(err, &none) {
			return err
		}
		weakest := b.weakestAwake()
		if weakest == nil {
			return err
		}
		b.states[weakest].Mode, b.states[weakest].Kicks = part.Cycling, part.Booting
		flips[weakest] = maxFlips
		b.sol = &solver.Solution{}
	}
}

func (b *Bench) weakestAwake() *circuit.Part {
	var weakest *circuit.Part
	lowest := 0.0
	cold := &solver.Solution{}
	awake := b.modulesIn(part.Awake)
	for _, p := range awake {
		b.states[p].Mode = part.Booting // a resistance always has an operating point
	}
	err := b.solve(cold)
	for _, p := range awake {
		b.states[p].Mode = part.Awake
		if err != nil {
			continue
		}
		volts := b.module(p).SupplyVolts(cold)
		if weakest == nil || volts < lowest {
			weakest, lowest = p, volts
		}
	}
	return weakest
}

func (b *Bench) modulesIn(mode part.Mode) []*circuit.Part {
	var found []*circuit.Part
	for _, p := range b.c.OfKind("module") {
		if b.states[p].Mode == mode {
			found = append(found, p)
		}
	}
	return found
}

func (b *Bench) module(p *circuit.Part) *part.Module { return b.w.inner[p].(*part.Module) }

func (b *Bench) stepParts(flips map[*circuit.Part]int) bool {
	changed := false
	first := b.firstToMelt()
	for _, p := range b.c.Parts {
		if _, fuse := b.w.inner[p].(part.Fuse); fuse && p != first || flips[p] >= maxFlips {
			continue
		}
		if b.w.inner[p].Step(b.states[p], b.sol) {
			flips[p]++
			changed = true
		}
	}
	return changed
}

// firstToMelt is the fuse or link with the most current for its rating: a short blows the fuse of its branch, and the
// larger one before it is saved by that.
func (b *Bench) firstToMelt() *circuit.Part {
	var first *circuit.Part
	most := 0.0
	for _, p := range b.c.Parts {
		if f, ok := b.w.inner[p].(part.Fuse); ok {
			if share := f.Share(b.states[p], b.sol); share > most {
				first, most = p, share
			}
		}
	}
	return first
}

// stepModules brings each module to the mode that its feeds allow while the others stay as they are.
func (b *Bench) stepModules(flips map[*circuit.Part]int) (bool, error) {
	changed := false
	for _, p := range b.c.OfKind("module") {
		s := b.states[p]
		if flips[p] >= maxFlips {
			continue
		}
		was := s.Mode
		if was == part.Awake && b.keepsAwake(p) {
			continue
		}
		next, err := b.tryBoot(p)
		if err != nil {
			return false, err
		}
		s.Mode = next
		if next != was {
			changed = true
			if flips[p]++; flips[p] >= maxFlips {
				s.Mode = part.Cycling
			}
		}
	}
	return changed, b.solve(b.sol)
}

func (b *Bench) keepsAwake(p *circuit.Part) bool {
	m := b.module(p)
	return !b.states[p].Flaw.Dead && !b.states[p].Resting && m.Woken(b.sol) && m.SupplyVolts(b.sol) >= p.Value("resets below")
}

// tryBoot finds the mode a module comes to: unloaded first, then as it boots, then awake.
func (b *Bench) tryBoot(p *circuit.Part) (part.Mode, error) {
	s, m := b.states[p], b.module(p)
	if s.Flaw.Dead {
		return part.Dead, nil
	}
	runs, resets := p.Value("runs above"), p.Value("resets below")
	s.Mode = part.Asleep
	if err := b.solve(b.sol); err != nil {
		return 0, err
	}
	if s.Resting {
		return part.Asleep, nil
	}
	if m.SupplyVolts(b.sol) < runs {
		return part.Off, nil
	}
	if !m.Woken(b.sol) {
		return part.Asleep, nil
	}
	s.Mode, s.Kicks = part.Booting, part.Booting
	if err := b.solve(b.sol); err != nil {
		return 0, err
	}
	switch volts := m.SupplyVolts(b.sol); {
	case volts < resets:
		return part.Cycling, nil
	case volts < runs:
		return part.Hung, nil
	}
	s.Mode = part.Awake
	var none *solver.NoOperatingPointError
	if err := b.solve(b.sol); errors.As(err, &none) {
		b.sol = &solver.Solution{}
		return part.Cycling, nil
	} else if err != nil {
		return 0, err
	}
	if m.SupplyVolts(b.sol) < resets {
		s.Kicks = part.Awake // it boots, and its own outputs then pull it down
		return part.Cycling, nil
	}
	return part.Awake, nil
}

// solveKick solves once more with every cycling module in its boot and every chattering relay pulled in: what a meter
// that keeps the extremes would catch.
func (b *Bench) solveKick() error {
	b.kick = nil
	cycling := b.modulesIn(part.Cycling)
	if len(cycling) == 0 && len(b.chatters) == 0 {
		return nil
	}
	for _, p := range b.chatters {
		b.states[p].PulledIn = true
	}
	for _, p := range cycling {
		b.states[p].Mode = b.states[p].Kicks
	}
	kick := &solver.Solution{}
	err := b.solve(kick)
	var none *solver.NoOperatingPointError
	if errors.As(err, &none) { // awake they ask for more than there is
		for _, p := range cycling {
			b.states[p].Mode = part.Booting
		}
		err = b.solve(kick)
	}
	for _, p := range b.chatters {
		b.states[p].PulledIn = false
	}
	for _, p := range cycling {
		b.states[p].Mode = part.Cycling
	}
	if err != nil {
		return err
	}
	b.kick = kick
	b.adjust()
	return nil
}

type snapshot map[*circuit.Part]part.State

func (b *Bench) snapshot() snapshot {
	s := snapshot{}
	for p, state := range b.states {
		s[p] = *state
	}
	return s
}

// changes tells in words what is different from before.
func (b *Bench) changes(before snapshot) []string {
	var told []string
	for _, p := range b.c.Parts {
		was, is := before[p], b.states[p]
		switch {
		case slices.Contains(b.chatters, p):
			told = append(told, p.Name+" chatters")
		case was.PulledIn != is.PulledIn && is.PulledIn:
			told = append(told, p.Name+" clicks in")
		case was.PulledIn != is.PulledIn:
			told = append(told, p.Name+" clicks out")
		case !was.Blown && is.Blown && !b.overlay.Blown[p]:
			told = append(told, p.Name+" blows")
		case p.Module != nil && p.Kind.Name == "module" && was.Mode != is.Mode:
			told = append(told, p.Name+" is "+is.Mode.String())
		}
	}
	return told
}
