package sanity

// This file is a map of what hangs on the battery's plus, spot by spot: through wires, in-line terminals, fuses, switches,
// relay contacts and diodes, never through a load, and never into what hangs on the minus.

import (
	"slices"

	"underload/circuit"
)

// way leads from one spot to another.
type way struct {
	to     int
	wire   *circuit.Wire
	part   *circuit.Part
	cavity *circuit.Terminal
}

// fused says that a way goes through a fuse or a fusible link.
func (w way) fused() bool { return w.part != nil && isFuse(w.part) }

func isFuse(p *circuit.Part) bool { return p.Kind.Name == "fuse" || p.Kind.Name == "fusible link" }

// sources are the kinds that give current, with the terminal of their plus.
var sources = []struct{ kind, plus string }{{"battery", "pos"}, {"generator", "B+"}}

func isSource(p *circuit.Part) bool {
	return slices.ContainsFunc(sources, func(s struct{ kind, plus string }) bool { return s.kind == p.Kind.Name })
}

// rails is the map.
type rails struct {
	c       *circuit.Circuit
	ways    [][]way
	minus   []bool                      // hangs on a battery's minus by plain conductors
	depth   []int                       // how many things lie between a spot and a battery's plus; -1 where it does not hang on it
	unfused []int                       // the same without passing a fuse
	by      []way                       // the last of these ways, backwards: to is the spot before
	takes   map[int][]*circuit.Terminal // where loads, coils, modules and sockets take their current
}

func railsOf(c *circuit.Circuit) *rails {
	r := &rails{c: c, ways: make([][]way, c.Spots), minus: make([]bool, c.Spots), takes: map[int][]*circuit.Terminal{}}
	for _, w := range c.Wires {
		r.both(int(w.From.Spot), int(w.To.Spot), way{wire: w})
	}
	for _, con := range c.Connectors {
		for _, t := range con.Cavities {
			r.both(int(t.Spot), int(t.FarSpot), way{cavity: t})
		}
	}
	r.findMinus() // before the parts are in: plain conductors only
	for _, p := range c.Parts {
		r.part(p)
	}
	var plus []int
	for _, source := range sources {
		for _, p := range c.OfKind(source.kind) {
			if t := p.Terminal(source.plus); t.Spot != circuit.NoSpot && !r.minus[t.Spot] {
				plus = append(plus, int(t.Spot))
			}
		}
	}
	r.depth, _ = r.reach(plus, func(way) bool { return false })
	r.unfused, r.by = r.reach(plus, way.fused)
	return r
}

func (r *rails) both(a, b int, w way) {
	w.to = b
	r.ways[a] = append(r.ways[a], w)
	w.to = a
	r.ways[b] = append(r.ways[b], w)
}

// part adds what a part lets pass to other parts, and where it takes current itself.
func (r *rails) part(p *circuit.Part) {
	switch {
	case p.Kind.Load, p.Kind.Name == "socket":
		for _, t := range p.Terminals {
			r.take(t)
		}
		return
	case isSource(p):
		return
	case p.Kind.Name == "relay":
		r.take(p.Terminal("85"))
		r.take(p.Terminal("86"))
		r.pass(p, "30", "87")
		r.pass(p, "30", "87a")
		return
	case p.Kind.Name == "diode":
		in, out := p.Terminals[0], p.Terminals[1]
		if in.Spot != circuit.NoSpot && out.Spot != circuit.NoSpot {
			r.ways[in.Spot] = append(r.ways[in.Spot], way{to: int(out.Spot), part: p})
		}
		return
	}
	for _, pair := range p.Kind.Pass {
		r.pass(p, pair[0], pair[1])
	}
	for _, throw := range p.Throws {
		for _, pair := range throw.Pairs {
			r.pass(p, pair[0], pair[1])
		}
	}
}

func (r *rails) take(t *circuit.Terminal) {
	if t.Spot != circuit.NoSpot {
		r.takes[int(t.Spot)] = append(r.takes[int(t.Spot)], t)
	}
}

func (r *rails) pass(p *circuit.Part, a, b string) {
	from, to := p.Terminal(a), p.Terminal(b)
	if from.Spot != circuit.NoSpot && to.Spot != circuit.NoSpot {
		r.both(int(from.Spot), int(to.Spot), way{part: p})
	}
}

// findMinus marks what hangs on a battery's minus, and on studs whose metal goes there. Where batteries stand in series
// the minus of one is the plus of the other, and is left alone.
func (r *rails) findMinus() {
	plus := map[int]bool{}
	var from []int
	for _, b := range r.c.OfKind("battery") {
		if t := b.Terminal("pos"); t.Spot != circuit.NoSpot {
			plus[int(t.Spot)] = true
		}
		if t := b.Terminal("neg"); t.Spot != circuit.NoSpot {
			from = append(from, int(t.Spot))
		}
	}
	for _, s := range r.c.Studs {
		if s.To != "" {
			from = append(from, int(s.Spot))
		}
	}
	for _, start := range from {
		if r.minus[start] {
			continue
		}
		region, series := []int{start}, plus[start]
		seen := map[int]bool{start: true}
		for i := 0; i < len(region); i++ {
			for _, w := range r.ways[region[i]] {
				if !seen[w.to] {
					seen[w.to] = true
					region = append(region, w.to)
					series = series || plus[w.to]
				}
			}
		}
		for _, spot := range region {
			r.minus[spot] = !series
		}
	}
}

// reach walks from some spots, never into the minus nor through what is barred. It gives how many ways lie between, and
// the last way to each spot, backwards.
func (r *rails) reach(from []int, barred func(way) bool) (depth []int, by []way) {
	depth, by = make([]int, r.c.Spots), make([]way, r.c.Spots)
	for i := range depth {
		depth[i] = -1
	}
	queue := append([]int(nil), from...)
	for _, spot := range queue {
		depth[spot] = 0
	}
	for ; len(queue) > 0; queue = queue[1:] {
		spot := queue[0]
		for _, w := range r.ways[spot] {
			if depth[w.to] < 0 && !r.minus[w.to] && !barred(w) {
				depth[w.to] = depth[spot] + 1
				by[w.to] = w
				by[w.to].to = spot
				queue = append(queue, w.to)
			}
		}
	}
	return depth, by
}

// behind lists the spots that a fuse feeds up to the next fuses, and those fuses; nothing where it feeds nothing by
// itself. It only goes away from the battery, else it would come through a change-over switch to what another fuse feeds.
func (r *rails) behind(fuse *circuit.Part) (region map[int]bool, next []*circuit.Part) {
	in, out := fuse.Terminals[0].Spot, fuse.Terminals[1].Spot
	if in == circuit.NoSpot || out == circuit.NoSpot || r.depth[in] < 0 && r.depth[out] < 0 {
		return nil, nil
	}
	start := int(out)
	if r.depth[in] < 0 || r.depth[out] >= 0 && r.depth[out] < r.depth[in] {
		start = int(in)
	}
	if r.unfused[start] >= 0 || r.minus[start] {
		return nil, nil
	}
	region = map[int]bool{start: true}
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		for _, w := range r.ways[queue[0]] {
			switch {
			case w.fused():
				if w.part != fuse {
					next = append(next, w.part)
				}
			case !region[w.to] && !r.minus[w.to] && r.unfused[w.to] < 0 && r.depth[w.to] >= r.depth[queue[0]]:
				region[w.to] = true
				queue = append(queue, w.to)
			}
		}
	}
	return region, next
}
