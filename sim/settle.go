package sim

// This file lets the circuit come to rest: relays pull in, fuses blow, modules boot or fail to.

import (
	"errors"
	"math"
	"slices"

	"underload/circuit"
	"underload/circuit/catalog"
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
	return b.w.placed(b.w.net.Solve(into))
}

// settle lets everything come to rest. A film that breaks through only in the kick of something that cycles has that
// begin anew; every film does so once.
func (b *Bench) settle() error {
	before := b.snapshot()
	var broken []string
	for again := true; again; {
		if err := b.rest(&broken); err != nil {
			return err
		}
		if again = b.kick != nil && b.breakFilms(b.kick, &broken); again {
			for _, p := range b.modulesIn(part.Cycling) {
				b.states[p].Mode = part.Off
			}
		}
	}
	b.moved = append(broken, b.changes(before)...)
	return nil
}

// rest is settle for films that break through at rest.
func (b *Bench) rest(broken *[]string) error {
	b.chatters = nil
	flips := map[*circuit.Part]int{}
	for changed := true; changed; {
		if err := b.solveOrShed(flips); err != nil {
			return err
		}
		if changed = b.stepParts(flips); changed {
			continue
		}
		if changed = b.breakFilms(b.sol, broken); changed {
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
	return b.solveKick()
}

// breakFilms lets films break through that have too many volts across them, and tells whether one did.
func (b *Bench) breakFilms(at *solver.Solution, broken *[]string) bool {
	found := false
	for t := range b.overlay.Film {
		open := math.IsInf(b.overlay.Contact[t], 1) // it has backed out as well
		if _, wiped := b.wiped[t]; wiped || open || math.Abs(at.Drop(b.w.joints[t].contact)) < catalog.FilmBreaksVolts || b.IsApart(t) {
			continue
		}
		b.wiped[t] = catalog.BrokenFilmOhms
		*broken = append(*broken, t.Name+"'s film breaks through")
		found = true
	}
	slices.Sort(*broken)
	return found
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

// solveKick solves once more with every cycling module in the instant of its reset and every chattering relay pulled in:
// what a meter that keeps the extremes would catch.
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
		b.states[p].Mode, b.states[p].Falling = b.states[p].Kicks, true
	}
	kick := &solver.Solution{}
	err := b.solve(kick)
	var none *solver.NoOperatingPointError
	if errors.As(err, &none) { // with them up, others ask for more than there is
		for _, p := range cycling {
			b.states[p].Mode = part.Booting
		}
		err = b.solve(kick)
	}
	for _, p := range b.chatters {
		b.states[p].PulledIn = false
	}
	for _, p := range cycling {
		b.states[p].Mode, b.states[p].Falling = part.Cycling, false
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
		case !was.Blown && is.Blown && p.Kind.Name == "lamp":
			told = append(told, p.Name+" burns out")
		case !was.Blown && is.Blown && !b.overlay.Blown[p]:
			told = append(told, p.Name+" blows")
		case p.Module != nil && p.Kind.Name == "module" && was.Mode != is.Mode:
			told = append(told, p.Name+" is "+is.Mode.String())
		}
	}
	return told
}
