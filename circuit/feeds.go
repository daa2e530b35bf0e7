package circuit

// This file answers what a person looks up first on a diagram: how each pin of a part is fed and grounded, through
// what, when, what else hangs on the same things, and where to test it. It knows what is joined to what; it computes
// no volts.

import (
	"fmt"
	"slices"
)

// Limits of an answer.
const (
	mostOtherWays = 4   // beside the shortest
	mostTries     = 6   // ways that could never be closed, before it is said that there is none
	mostRelays    = 4   // relays that feed the coils of relays
	mostShared    = 300 // things on one way of which it is told what else hangs on them
)

// Feed is the way from one terminal of a part to the battery, or to what stands for it: a module's output, its 5 V or
// its sensor ground.
type Feed struct {
	Terminal *Terminal
	Purpose  string    // supply, wake, ground, coil, or the terminal's own name
	Plus     bool      // towards the battery's plus; false: towards its minus
	Way      []Link    // from the terminal to the end, the shortest way; nil where there is none
	End      *Terminal // where it ends; nil where there is no way
	Through  *Part     // where there is no way: a load that stands in between, so that the two work in series
	Others   [][]Link  // other ways to an end of the same sign, a few at most
	Needs    []Need    // what must be so for the way to be closed; none: always
	Test     Point     // the point nearest to the terminal that a lead can get to with everything joined
	Tested   bool      // there is such a point
}

// Link is one thing on a way: a wire, a cavity, a splice, a stud, a stud's metal on to the next, or a part with the
// terminals it is passed by. Exactly one of Wire, Cavity, Splice, Stud, Body and Part is set.
type Link struct {
	Wire      *Wire
	Cavity    *Terminal
	Splice    *Splice
	Stud      *Stud
	Body      *Stud // the metal from this stud to where it goes
	Part      *Part
	In, Out   *Terminal // of Part, in the direction of the way
	Positions []string  // of a switch: those that pass
	Sharers   []*Part   // what else takes current through a fuse, link, cavity, splice or stud
}

// Need is something that must be so for a way to carry current.
type Need struct {
	Part      *Part
	Positions []string // a switch in one of these positions
	PulledIn  bool     // a relay that must be pulled in; false for a relay: it must be at rest
	Output    *Output  // a module's output that must be on
	By        []Need   // what pulls the relay in
}

// Feeds lists how the terminals of a part are fed and grounded: supply, wake and ground pins of a module or socket, the
// coil and contacts of a relay, and every terminal of any other part but a battery. A terminal that can get to both
// signs is listed twice. Terminals of the kinds that must have a way, and have none, are listed without it, with the load
// that stands in between where there is one. Ways through switches and relays are such as can be closed as a whole. The
// error names the nearest part.
func (c *Circuit) Feeds(part string) ([]Feed, error) {
	p := c.parts[part]
	if p == nil {
		names := make([]string, len(c.Parts))
		for i, other := range c.Parts {
			names[i] = other.Name
		}
		if near := c.Nearest(part, names...); near != "" {
			return nil, fmt.Errorf("there is no part %s; did you mean %s?", clip(part), near)
		}
		return nil, fmt.Errorf("there is no part %s; the parts are %s", clip(part), list(names, "and"))
	}
	return wired(c).feeds(p, false), nil
}

// Ways answers the same for every part of a circuit, without what costs more than all the rest: other ways, what else
// hangs on a way, and where to test.
type Ways struct{ w *wiring }

// Ways gets ready to answer.
func (c *Circuit) Ways() *Ways { return &Ways{wired(c)} }

// Of lists how the terminals of a part are fed and grounded, as Feeds does.
func (ways *Ways) Of(p *Part) []Feed { return ways.w.feeds(p, true) }

// feeds looks up the terminals of a part.
func (w *wiring) feeds(p *Part, brief bool) []Feed {
	var feeds []Feed
	for _, ask := range asks(p) {
		if ask.terminal.Spot == NoSpot {
			continue
		}
		found := false
		for _, plus := range ask.signs {
			if feed, ok := w.feed(p, ask.terminal, plus, brief); ok {
				feed.Purpose, found = ask.purpose, true
				feeds = append(feeds, feed)
			}
		}
		if !found && ask.must {
			feed := Feed{Terminal: ask.terminal, Purpose: ask.purpose, Plus: ask.signs[0], Through: w.through(p, ask.terminal)}
			if !brief {
				feed.Test, feed.Tested = w.test(feed)
			}
			feeds = append(feeds, feed)
		}
	}
	return feeds
}

// ask is one terminal to look up.
type ask struct {
	terminal *Terminal
	purpose  string
	signs    []bool // true: plus
	must     bool   // listed even where there is no way
}

// asks lists the terminals of a part that are worth looking up.
func asks(p *Part) []ask {
	var all []ask
	if p.Kind.Name == "battery" {
		return nil
	}
	if p.Module != nil {
		for _, group := range []struct {
			purpose string
			pins    []string
			plus    bool
		}{{"supply", p.Module.Supply, true}, {"wake", p.Module.Wake, true}, {"ground", p.Module.Ground, false}} {
			for _, pin := range group.pins {
				all = append(all, ask{p.Terminal(pin), group.purpose, []bool{group.plus}, true})
			}
		}
		return all
	}
	if p.Kind.Name == "sensor" {
		return []ask{{p.Terminal("supply"), "supply", []bool{true}, true}, {p.Terminal("ground"), "ground", []bool{false}, true}}
	}
	for _, t := range p.Terminals {
		purpose, must := t.Pin, p.Kind.Load && p.Kind.Name != "terminator" // both ends of a terminator are a bus
		if p.Kind.Name == "relay" && isCoil(p, t) {
			purpose, must = "coil", true
		}
		all = append(all, ask{t, purpose, []bool{true, false}, must})
	}
	return all
}

// feed finds the way from a terminal to an end of one sign.
func (w *wiring) feed(p *Part, t *Terminal, plus, brief bool) (Feed, bool) {
	hops, node, ok := w.search(p, t, plus, nil)
	if !ok {
		return Feed{}, false
	}
	feed := Feed{Terminal: t, Plus: plus, End: w.end(node, p, plus)}
	shared := mostShared
	if brief {
		shared = 0
	}
	feed.Way = w.links(p, int(t.Spot), hops, node, shared)
	feed.Needs = w.needs(feed.Way, feed.End, map[*Part]bool{p: true})
	if brief {
		return feed, true
	}
	feed.Others = w.others(p, t, plus, hops)
	feed.Test, feed.Tested = w.test(feed)
	return feed, true
}

// search finds the shortest way from a terminal to an end of one sign that can be closed as a whole, without the hop
// that is left out. It gives up where several ways in a row cannot.
func (w *wiring) search(p *Part, t *Terminal, plus bool, leftOut *hop) (way []*hop, last int, ok bool) {
	goal, never := func(node int) bool { return w.end(node, p, plus) != nil }, barred(p, plus)
	out := []func(*hop) bool{sameThing(leftOut)}
	for range mostTries {
		hops, node, ok := w.shortest(int(t.Spot), goal, func(h *hop) bool {
			return never(h) || slices.ContainsFunc(out, func(refuses func(*hop) bool) bool { return refuses(h) })
		})
		if !ok {
			return nil, 0, false
		}
		bad := firstClash(hops)
		if bad == nil {
			return hops, node, true
		}
		out = append(out, sameThing(bad))
	}
	return nil, 0, false
}

// barred refuses the part that asks, and diodes the wrong way round: a way to plus runs against the current, and so
// through a diode from out to in.
func barred(p *Part, plus bool) func(*hop) bool {
	return func(h *hop) bool {
		part := h.link.Part
		if part == nil {
			return false
		}
		return part == p || part.Kind.Name == "diode" && (h.link.In == part.Terminals[0]) == plus
	}
}

// end gives the terminal at a node that a way of one sign can end at, or nil.
func (w *wiring) end(node int, asker *Part, plus bool) *Terminal {
	for _, t := range w.battery[node] {
		if (t == w.circuit.parts[t.Owner].Terminal("pos")) == plus {
			return t
		}
	}
	for _, t := range w.outputs[node] {
		if t.Owner != asker.Name && w.plusPins[t] == plus {
			return t
		}
	}
	return nil
}

// links turns hops into the things on the way, with the splices and studs between them and, of so many of them, what else
// hangs on each.
func (w *wiring) links(p *Part, start int, hops []*hop, last, left int) []Link {
	var way []Link
	add := func(link Link, node int, next *hop, shared bool) {
		if left--; shared && left >= 0 {
			link.Sharers = without(p, w.sharers(node, sameThing(next)))
		}
		way = append(way, link)
	}
	var before *hop
	met := func(node int, next *hop) { // what is met without being passed: splices, and studs from ring to ring
		for _, s := range w.splices[node] {
			add(Link{Splice: s}, node, next, true)
		}
		for _, s := range w.rings[node] {
			if (before == nil || before.link.Stud != s) && (next == nil || next.link.Stud != s) {
				add(Link{Stud: s}, node, next, true)
			}
		}
	}
	node := start
	for _, h := range hops {
		met(node, h)
		fused := h.link.Part != nil && (h.link.Part.Kind.Name == "fuse" || h.link.Part.Kind.Name == "fusible link")
		add(h.link, node, h, fused || h.link.Cavity != nil || h.link.Stud != nil)
		node, before = h.to, h
	}
	met(last, nil)
	return way
}

// sameThing refuses the hop through one thing, in either direction; nil refuses none.
func sameThing(h *hop) func(*hop) bool {
	return func(other *hop) bool {
		return h != nil && (other == h || other.from == h.to && other.to == h.from &&
			other.link.Wire == h.link.Wire && other.link.Part == h.link.Part && other.link.Cavity == h.link.Cavity)
	}
}

// without leaves a part out of a list.
func without(p *Part, parts []*Part) []*Part {
	var rest []*Part
	for _, other := range parts {
		if other != p {
			rest = append(rest, other)
		}
	}
	return rest
}

// others finds a few ways that do without one of the parts or studs on the shortest.
func (w *wiring) others(p *Part, t *Terminal, plus bool, hops []*hop) [][]Link {
	var ways [][]Link
	told := map[string]bool{signature(hops): true}
	for tries, h := range hops {
		if len(ways) >= mostOtherWays || tries >= 4*mostOtherWays {
			break
		}
		again, node, ok := w.search(p, t, plus, h)
		if sign := signature(again); ok && !told[sign] {
			told[sign] = true
			ways = append(ways, w.links(p, int(t.Spot), again, node, mostShared))
		}
	}
	return ways
}

// signature tells two ways apart.
func signature(hops []*hop) string {
	text := ""
	for _, h := range hops {
		text += fmt.Sprintf("%d>", h.to)
		if h.link.Wire != nil {
			text += h.link.Wire.Name
		}
		if h.link.Part != nil {
			text += h.link.Part.Name
		}
	}
	return text
}

// needs lists what must be so for a way to be closed.
func (w *wiring) needs(way []Link, end *Terminal, asked map[*Part]bool) []Need {
	var needs []Need
	for _, link := range way {
		switch {
		case link.Part == nil:
		case link.Part.Kind.Name == "switch":
			if len(link.Positions) < len(link.Part.Throws) {
				needs = append(needs, Need{Part: link.Part, Positions: link.Positions})
			}
		case link.Part.Kind.Name == "relay":
			need := Need{Part: link.Part, PulledIn: !link.rests()}
			if need.PulledIn {
				need.By = w.coilNeeds(link.Part, asked)
			}
			needs = append(needs, need)
		}
	}
	if part := w.circuit.parts[end.Owner]; part.Module != nil {
		for i := range part.Module.Outputs {
			if out := &part.Module.Outputs[i]; out.Pin == end.Pin {
				needs = append(needs, Need{Part: part, Output: out})
			}
		}
	}
	return needs
}

// coilNeeds lists what pulls a relay in: the needs of both ends of its coil.
func (w *wiring) coilNeeds(relay *Part, asked map[*Part]bool) []Need {
	if asked[relay] || len(asked) > mostRelays {
		return nil
	}
	asked[relay] = true
	var needs []Need
	for _, t := range []*Terminal{relay.Terminal("86"), relay.Terminal("85")} {
		if t.Spot == NoSpot {
			continue
		}
		for _, plus := range []bool{true, false} {
			hops, node, ok := w.search(relay, t, plus, nil)
			if !ok {
				continue
			}
			var way []Link
			for _, h := range hops {
				way = append(way, h.link)
			}
			needs = append(needs, w.needs(way, w.end(node, relay, plus), asked)...)
			break
		}
	}
	return needs
}

// through finds the load of two terminals that stands nearest between a terminal and the battery, or nil.
func (w *wiring) through(p *Part, t *Terminal) *Part {
	between := func(node int) *Part {
		for _, load := range w.loads[node] {
			if other := w.circuit.parts[load.Owner]; other != p && other.Kind.Load && len(other.Kind.Terminals) == 2 {
				return other
			}
		}
		return nil
	}
	_, node, ok := w.shortest(int(t.Spot), func(node int) bool { return between(node) != nil }, func(h *hop) bool { return h.link.Part == p })
	if !ok {
		return nil
	}
	return between(node)
}

// test gives the point nearest to the terminal that a lead can get to with everything joined.
func (w *wiring) test(feed Feed) (Point, bool) {
	names := []string{feed.Terminal.Name}
	for _, link := range feed.Way {
		switch {
		case link.Cavity != nil:
			names = append(names, link.Cavity.Name+".a", link.Cavity.Name+".b")
		case link.Splice != nil:
			names = append(names, link.Splice.Name)
		case link.Stud != nil:
			names = append(names, link.Stud.Name)
		case link.Part != nil:
			names = append(names, link.In.Name, link.Out.Name)
		}
	}
	if feed.End != nil {
		names = append(names, feed.End.Name)
	}
	for _, name := range names {
		if p, err := w.circuit.Point(name); err == nil && p.Reach < Apart {
			return p, true
		}
	}
	return Point{}, false
}
