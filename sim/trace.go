package sim

// This file follows the current of one load from the battery's plus to its minus, along the larger branch where it
// divides.

import (
	"fmt"
	"math"
	"slices"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/solver"
)

// Hop is one branch on the way of a current. Nodes are told by names that are the same on every bench of this circuit.
type Hop struct {
	Place    string          // a wire, a terminal, a part, a stud
	Piece    string          // a crimp, a contact or a slot, where its place has several pieces
	Points   []circuit.Point // where a lead stands on its end
	nth      int             // which branch of its place
	from, to string
}

// Way is the way of a load's current: hops before the load, from the battery's open-circuit volts on, and after it,
// down to the battery's minus.
type Way struct {
	Battery  *circuit.Part
	Up, Down []Hop
}

// NoWayError says that no current takes a closed way through the load.
type NoWayError struct{ Why, Do string }

// Error tells what to do.
func (e *NoWayError) Error() string {
	return "no closed path: " + e.Why + ". " + e.Do
}

// smallestAmps is the least current that still has a way to follow.
const smallestAmps = 1e-7

// TraceAttached follows the current of the i-th attachment.
func (b *Bench) TraceAttached(i int) (Way, error) {
	red, black := b.nodeNamed(b.attached[i].Red), b.nodeNamed(b.attached[i].Black)
	if b.AttachedAmps(i) < smallestAmps {
		return Way{}, &NoWayError{"no current flows from --red to --black", "Put --red on the supply side, and set the switches that feed it (--set)"}
	}
	return b.trace(red, black)
}

// TracePart follows the current that a load draws by itself, along the larger branch where it divides, or by one of a
// module's supply or ground pins if that is given. Of a module that cycles it is the current of its kick.
func (b *Bench) TracePart(p *circuit.Part, by *circuit.Terminal) (Way, error) {
	switch {
	case p.Kind.Name == "relay":
		return Way{}, fmt.Errorf("%s is a relay: only a load has a current of its own; for the way of its coil, a plain load in its place: --apart %s --red %s --black %s --with %q",
			p.Name, p.Name, p.Terminal("86").Name, p.Terminal("85").Name, quantity.Written(p.Value("coil"), quantity.Ohms))
	case !p.Kind.Load:
		return Way{}, fmt.Errorf("%s is a %s: only a load has a current of its own", p.Name, p.Kind.Name)
	}
	plus, minus := b.loadEnds(p)
	if b.loadAmps(b.sol, p) < smallestAmps {
		return Way{}, &NoWayError{p.Name + " draws no current", "Set the switches that feed it, or ask for it (--set)"}
	}
	if by != nil {
		switch {
		case p.Module != nil && slices.Contains(p.Module.Supply, by.Pin):
			plus = b.w.joints[by].inside
		case p.Module != nil && slices.Contains(p.Module.Ground, by.Pin):
			minus = b.w.joints[by].inside
		default:
			return Way{}, fmt.Errorf("%s is no supply or ground pin of a module: name the load itself, %s", by.Name, p.Name)
		}
		if b.TerminalAmps(by) < smallestAmps {
			return Way{}, &NoWayError{"no current passes " + by.Name, "Set the switches that feed it (--set)"}
		}
	}
	return b.trace(plus, minus)
}

// loadEnds are the nodes inside a load between which it does its work, the one that its current comes in at first.
func (b *Bench) loadEnds(p *circuit.Part) (plus, minus solver.Node) {
	if p.Kind.Name == "module" {
		return b.module(p).Own()
	}
	first, last := p.Terminals[0], p.Terminals[len(p.Terminals)-1]
	plus, minus = b.w.joints[first].inside, b.w.joints[last].inside
	if b.sol.Amps(b.w.joints[first].behind) < 0 {
		plus, minus = minus, plus
	}
	return plus, minus
}

// loadAmps is what a load draws, whichever way round it is wired.
func (b *Bench) loadAmps(at *solver.Solution, p *circuit.Part) float64 {
	return math.Abs(b.signedAmps(at, p))
}

// signedAmps is what comes into a load at its first terminal; of a module, what it draws.
func (b *Bench) signedAmps(at *solver.Solution, p *circuit.Part) float64 {
	if p.Kind.Name == "module" {
		return b.module(p).Amps(at)
	}
	return at.Amps(b.w.joints[p.Terminals[0]].behind)
}

type step struct {
	link  Link
	nth   int
	other solver.Node
	amps  float64 // out of the node asked about, into the branch
}

// neighbours lists the branches at every node.
func (b *Bench) neighbours() map[solver.Node][]step {
	if b.near != nil {
		return b.near
	}
	at := map[solver.Node][]step{}
	count := map[string]int{}
	for _, l := range b.w.links {
		nth := count[l.Place]
		count[l.Place]++
		from, to := b.w.net.Ends(l.Branch)
		amps := b.sol.Amps(l.Branch)
		at[from] = append(at[from], step{l, nth, to, amps})
		at[to] = append(at[to], step{l, nth, from, -amps})
	}
	b.near = at
	return at
}

func (b *Bench) trace(plus, minus solver.Node) (Way, error) {
	at := b.neighbours()
	up, battery, err := b.climb(at, plus)
	if err != nil {
		return Way{}, err
	}
	end := b.w.joints[battery.Terminals[1]].inside
	down, err := b.follow(at, minus, end)
	if err != nil {
		return Way{}, err
	}
	return Way{Battery: battery, Up: up, Down: down}, nil
}

// climb goes against the current until it meets a battery or a running generator, and returns the hops in the order of the current.
func (b *Bench) climb(at map[solver.Node][]step, from solver.Node) ([]Hop, *circuit.Part, error) {
	battery := map[solver.Node]*circuit.Part{}
	for _, p := range append(b.c.OfKind("battery"), b.c.OfKind("generator")...) {
		battery[b.w.joints[p.Terminals[0]].inside] = p
	}
	var hops []Hop
	node := from
	points := b.pointsAt(node)
	for range b.w.net.Nodes() {
		if p := battery[node]; p != nil {
			hops = append(hops, Hop{Place: p.Name, Points: points, from: emf, to: b.w.called[node]})
			slices.Reverse(hops)
			return hops, p, nil
		}
		s, ok := largest(at[node], -1)
		if !ok {
			break
		}
		if !b.joins(s.link) {
			hops = append(hops, Hop{s.link.Place, s.link.piece, points, s.nth, b.w.called[s.other], b.w.called[node]})
			points = nil
		}
		node = s.other
		points = append(b.pointsAt(node), points...)
	}
	return nil, nil, &NoWayError{"the current does not come from a battery", "Choose points between a battery and its ground"}
}

// emf is the name of the open-circuit level inside a battery, which is no node.
const emf = "emf"

// follow goes with the current from one node to another.
func (b *Bench) follow(at map[solver.Node][]step, from, to solver.Node) ([]Hop, error) {
	var hops []Hop
	node := from
	for range b.w.net.Nodes() {
		if node == to {
			return hops, nil
		}
		s, ok := largest(at[node], +1)
		if !ok {
			break
		}
		if !b.joins(s.link) {
			hops = append(hops, Hop{s.link.Place, s.link.piece, nil, s.nth, b.w.called[node], b.w.called[s.other]})
		}
		node = s.other
		if n := len(hops); n > 0 {
			hops[n-1].Points = append(hops[n-1].Points, b.pointsAt(node)...)
		}
	}
	return nil, &NoWayError{"the current does not come back to the battery", "Choose points between a battery and its ground"}
}

// pointsAt are the points on which a lead touches a node.
func (b *Bench) pointsAt(n solver.Node) []circuit.Point {
	var at []circuit.Point
	for _, p := range b.c.Points() {
		if b.w.at(p, b.states) == n {
			at = append(at, p)
		}
	}
	return at
}

// joins reports whether a branch is a mere join inside a part, which loses nothing and is no step.
func (b *Bench) joins(l Link) bool { return b.w.net.Ohms(l.Branch) == 0 }

// largest is the branch with the largest current out of (+1) or into (-1) a node.
func largest(steps []step, sign float64) (step, bool) {
	best, most := step{}, smallestAmps
	for _, s := range steps {
		if amps := s.amps * sign; amps > most {
			best, most = s, amps
		}
	}
	return best, most > smallestAmps
}

// Ends are the volts before and after a hop and the amps through it, on this bench at rest, or, while asked for and
// there is one, in the boot of a cycling module. A hop that this bench does not have reads NaN.
func (b *Bench) Ends(h Hop, kick bool) (before, after, amps float64) {
	at := b.sol
	if kick && b.kick != nil {
		at = b.kick
	}
	nan := math.NaN()
	to, ok := b.w.names[h.to]
	if !ok {
		return nan, nan, nan
	}
	after = at.Volts(to)
	branch, ok := b.nthOf(h.Place, h.nth)
	if !ok {
		return nan, nan, nan
	}
	amps = math.Abs(at.Amps(branch))
	if h.from == emf {
		return b.openVolts(h.Place, branch, at), after, amps
	}
	from, ok := b.w.names[h.from]
	if !ok {
		return nan, nan, nan
	}
	return at.Volts(from), after, amps
}

// openVolts is the level inside a source: a battery's rested volts, or what a generator's regulator holds.
func (b *Bench) openVolts(place string, source solver.Branch, at *solver.Solution) float64 {
	if p := b.c.Part(place); p != nil && p.Kind.Name == "generator" {
		return p.Value("volts") + at.Volts(b.w.joints[p.Terminals[1]].inside)
	}
	return b.w.net.EMF(source) + at.Volts(b.w.minusOf(source))
}

func (w *wiring) minusOf(source solver.Branch) solver.Node {
	minus, _ := w.net.Ends(source)
	return minus
}

func (b *Bench) nthOf(place string, nth int) (solver.Branch, bool) {
	if branches := b.w.branches[place]; nth < len(branches) {
		return branches[nth], true
	}
	return 0, false
}
