package sim

// This file is how a stretch of a run begins: at rest at 0 s, or where the one before it stands, with what parts remember.

import (
	"math"

	"underload/sim/live"
	"underload/solver"
	"underload/solver/element"
	"underload/solver/transient"
)

// start begins a run at the volts that the bench has at rest. That is not quite rest: fuses grow warm with the current
// they carry, and a full battery takes less charge than the bench lets it, so that what depends on its own volts is brought
// into agreement with what comes of it. Modules and coils take some milliseconds for that by themselves, before 0 s.
func (a *age) start(o RunOptions, rest *solver.Solution) error {
	volts := make([]float64, a.net.Nodes())
	for n := range a.w.net.Nodes() {
		volts[n] = rest.Volts(solver.Node(n))
	}
	for n, m := range a.beside {
		volts[n] = volts[m]
	}
	if err := a.begin(o, volts, -restRounds*restSeconds); err != nil {
		return err
	}
	now := a.run.Now()
	charged := a.charged()
	for _, m := range a.memories {
		m.settles = m.settles && a.unsure(m, math.Abs(now.ElementVolts(m.id)), charged)
	}
	for range restRounds {
		if err := a.agree(); err != nil {
			return err
		}
		if err := a.run.Advance(a.run.Seconds() + restSeconds); err != nil {
			return err
		}
		if a.differs() < 10*restMoves {
			break
		}
	}
	if err := a.run.Advance(0); err != nil {
		return err
	}
	a.opened = a.run.Balance()
	return nil
}

// unsure reports whether an element is to be started anew: not a battery that nothing charges, for which a microvolt too
// much would mean a charge that has been going on for ever, nor then a motor, since two in series would part; nor one that
// hangs in the air, where any current comes to any volts.
func (a *age) unsure(m *memory, volts float64, charged bool) bool {
	switch m.what.(type) {
	case *element.Cell:
		return charged
	case *element.Motor:
		return charged && volts > leastMotor
	}
	return true
}

// charged reports whether something is there that charges batteries.
func (a *age) charged() bool {
	for p, s := range a.plan.states {
		if s.Support || p.Kind.Name == "generator" && s.Running {
			return true
		}
	}
	return false
}

// agree starts what depends on its own volts anew with the volts that came of it, until they stay. A battery beside a
// generator would go to and fro in that, so it goes a part of the way only, and a smaller one where it overshoots.
func (a *age) agree() error {
	for _, m := range a.memories {
		m.began = a.run.Now().ElementVolts(m.id)
	}
	part, last := 1.0, math.Inf(1)
	for round := 0; ; round++ {
		for _, m := range a.memories {
			if m.settles {
				m.what.Start(m.began, a.run.States(m.id), a.run.Marks(m.id))
			}
		}
		if err := a.run.Settle(); err != nil {
			return err
		}
		now := a.differs()
		if now < restMoves {
			return nil
		}
		if round == mostStarts {
			return a.cold()
		}
		if now > overshoots*last {
			part = math.Max(part/2, leastPart)
		}
		last = now
		for _, m := range a.memories {
			m.began += part * (a.run.Now().ElementVolts(m.id) - m.began)
		}
	}
}

// cold starts cold what found no agreement, because it only gets hotter: from now on it does so in time.
func (a *age) cold() error {
	now := a.run.Now()
	for _, m := range a.memories {
		if _, is := m.what.(live.Restless); is && m.settles && math.Abs(now.ElementVolts(m.id)-m.began) > hotterVolts {
			m.settles = false
			m.what.Start(0, a.run.States(m.id), a.run.Marks(m.id))
		}
	}
	return a.run.Settle()
}

// differs is the most by which volts differ from those that an element was started with.
func (a *age) differs() (volts float64) {
	for _, m := range a.memories {
		if m.settles {
			volts = math.Max(volts, math.Abs(a.run.Now().ElementVolts(m.id)-m.began))
		}
	}
	return volts
}

// mostStarts is how often a start is tried again with the volts it led to, and restMoves when they agree; restRounds is how
// often time is then given to what agrees by itself, and restSeconds how much.
const (
	mostStarts  = 100
	restMoves   = 1e-6 // volts
	hotterVolts = 1e-3
	overshoots  = 0.9 // of the last difference: more is too far
	leastPart   = 0.02
	leastMotor  = 0.5 // volts

	restRounds  = 6
	restSeconds = 0.010
)

func (a *age) begin(o RunOptions, volts []float64, seconds float64) (err error) {
	a.run, err = a.net.Start(transient.Options{
		Tolerance: o.Tolerance, Seed: o.Seed, Volts: volts, Energy: o.Energy, Seconds: seconds,
	})
	return err
}

// follow begins where another age stands. Parts that renewed reports, and those that are new, come in as from the shelf.
func (a *age) follow(was *age, o RunOptions, renewed func(key string) bool) error {
	volts := make([]float64, a.net.Nodes())
	for name, n := range a.nodes {
		if old, ok := was.nodes[name]; ok {
			volts[n] = was.run.Volts(old)
		}
	}
	if err := a.begin(o, volts, was.run.Seconds()); err != nil {
		return err
	}
	old := map[string]*memory{}
	for _, m := range was.memories {
		old[m.key] = m
	}
	for _, m := range a.memories {
		before, ok := old[m.key]
		if ok && !renewed(m.key) && before.what.Size() == m.what.Size() {
			copy(a.run.States(m.id), was.run.States(before.id))
			carry(m.what, a.run.Marks(m.id), was.run.Marks(before.id))
			continue
		}
		a.unpack(m)
	}
	a.before, a.stats = was.balance(), was.total()
	a.shake()
	err := a.run.Settle()
	a.feel()
	a.opened = a.run.Balance()
	return err
}

// carry takes marks over, but for those that tell of what is around the element.
func carry(what transient.Element, marks, before []float64) {
	var kept []float64
	around, ok := what.(live.Surrounded)
	if ok {
		for _, k := range around.Around() {
			kept = append(kept, marks[k])
		}
	}
	copy(marks, before)
	for i, value := range kept {
		marks[around.Around()[i]] = value
	}
}

// unpack has an element begin as it comes from the shelf: cold, still and without a charge, but for a battery, which has
// its own, at rest. A generator that is turned from now on has no field yet.
func (a *age) unpack(m *memory) {
	states, marks := a.run.States(m.id), a.run.Marks(m.id)
	clear(states)
	clear(marks)
	switch what := m.what.(type) {
	case *element.Cell:
		what.Start(what.RestVolts(), states, marks)
	case *element.Regulator:
		what.Start(0, states, marks)
		clear(states)
	default:
		what.Start(0, states, marks)
	}
}

func (a *age) balance() transient.Balance {
	b, o, e := a.run.Balance(), a.opened, a.before
	return transient.Balance{
		Given: e.Given + b.Given - o.Given, Lost: e.Lost + b.Lost - o.Lost,
		Stored: e.Stored + b.Stored - o.Stored, Jumped: e.Jumped + b.Jumped - o.Jumped,
	}
}

func (a *age) total() transient.Stats {
	t, s := a.stats, a.run.Stats()
	t.Steps += s.Steps
	t.Rejected += s.Rejected
	t.Failed += s.Failed
	t.Fired += s.Fired
	t.Newtons += s.Newtons
	t.Stages += s.Stages
	return t
}
