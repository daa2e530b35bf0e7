package drawing

// This file counts what is wrong with a drawing. It looks at the finished lines, words and symbols only, not at how they came
// about.

import (
	"fmt"
	"math"
	"strings"
)

// counts is what a drawing is judged by.
type counts struct {
	crossings   int // a column passing the line of a hub; wires of one hub, or of one pair, count once
	points      int // every place where two lines cross
	unbridged   int // of those: not lifted
	bends       int
	through     []string // lines through symbols or boxes that are not their own
	overlaps    []string // words on words, or on symbols
	onLines     []string // words on wires or on dashed outlines
	misplaced   []string // words of a wire that are nearer to another
	missing     []string // names that are not there
	unlabelled  int      // wires without words
	wires       int
	pointless   []string // points without a hit box, or which cannot be hit
	outside     []string // words off the paper
	cutBoxes    int
	mostFlagged int // flags at one edge of a sheet
}

func count(l *Layout) counts {
	var c counts
	l.countLines(&c)
	l.countWords(&c)
	l.countStrays(&c)
	l.countNames(&c)
	l.countHits(&c)
	l.countSheets(&c)
	return c
}

type segment struct {
	a, b  Spot
	piece int
	owner any
}

func (l *Layout) segments() (level, upright []segment) {
	for i, p := range l.drawn.pieces {
		for j := 1; j < len(p.path); j++ {
			a, b := p.path[j-1], p.path[j]
			switch {
			case a == b:
			case a.Y == b.Y:
				level = append(level, segment{Spot{min(a.X, b.X), a.Y}, Spot{max(a.X, b.X), a.Y}, i, p.lineOwner(a.Y)})
			case a.X == b.X:
				upright = append(upright, segment{Spot{a.X, min(a.Y, b.Y)}, Spot{a.X, max(a.Y, b.Y)}, i, p.chain})
			default:
				panic("a line that is neither level nor upright")
			}
		}
	}
	for _, b := range l.drawn.bars {
		if b.hub.kind != frame {
			level = append(level, segment{Spot{b.from, b.y}, Spot{b.to, b.y}, -1, b.hub})
		}
	}
	return level, upright
}

func (l *Layout) countLines(c *counts) {
	level, upright := l.segments()
	bridged := map[Spot]bool{}
	for _, x := range l.drawn.crossings {
		bridged[x.at] = true
	}
	type bundle struct{ column, line any }
	seen := map[bundle]bool{}
	for _, p := range l.drawn.pieces {
		c.bends += max(0, len(p.path)-2)
	}
	for _, u := range upright {
		own := u.owner.(*chain)
		for _, v := range level {
			if u.piece == v.piece || u.a.X <= v.a.X+0.5 || u.a.X >= v.b.X-0.5 || v.a.Y <= u.a.Y+0.5 || v.a.Y >= u.b.Y-0.5 {
				continue
			}
			if own.top.hub == v.owner || own.bottom.hub == v.owner {
				if h := v.owner.(*hub); h.paired && own.paired && own.top.hub.kind != bend && own.bottom.hub.kind != bend {
					continue // a tap on the far wire of its own pair passes the near one
				}
				c.crossings++ // a wire that crosses a lane of its own splice
			} else if key := (bundle{own, v.owner}); !seen[key] {
				seen[key] = true
				c.crossings++
			}
			c.points++
			if !bridged[Spot{u.a.X, v.a.Y}] {
				c.unbridged++
			}
		}
	}
	l.countThrough(c, level, upright)
}

// body is a symbol or box that no foreign line may pass.
type body struct {
	r     rect
	name  string
	chain *chain
	hub   *hub
}

func (b body) middle() Spot { return Spot{float64(b.r.x0+b.r.x1) / 2, float64(b.r.y0+b.r.y1) / 2} }

func (r rect) holds(s Spot) bool {
	return s.X >= float64(r.x0) && s.X <= float64(r.x1) && s.Y >= float64(r.y0) && s.Y <= float64(r.y1)
}

func (l *Layout) bodies() []body {
	var all []body
	for _, c := range l.net.chains {
		for _, it := range c.items {
			if s := it.symbol; s != nil {
				left, right := s.halfWidth()
				y, half := l.h.at(s.node), symbolHalf[s.shape]
				all = append(all, body{rect{c.x - left, y - half, c.x + right, y + half}, s.name, c, nil})
			}
		}
	}
	for h, r := range l.drawn.boxes {
		all = append(all, body{r, h.name, nil, h})
	}
	return all
}

func (l *Layout) countThrough(c *counts, level, upright []segment) {
	for i, b := range l.bodies() {
		for _, s := range append(append([]segment(nil), level...), upright...) {
			if s.a.X > float64(b.r.x1)-1 || s.b.X < float64(b.r.x0)+1 || s.a.Y > float64(b.r.y1)-1 || s.b.Y < float64(b.r.y0)+1 {
				continue
			}
			c.through = append(c.through, fmt.Sprintf("a line at %v-%v through %s", s.a, s.b, b.name))
		}
		for _, o := range l.bodies()[i+1:] {
			if b.r.meets(o.r) && (b.chain != o.chain || b.hub != o.hub) {
				c.through = append(c.through, b.name+" on "+o.name)
			}
		}
	}
	linked := map[string]bool{}
	for _, pair := range l.net.linkedSymbols() {
		linked[pair[0].name] = true
	}
	for _, d := range l.drawn.dashes {
		first, last := d[0], d[len(d)-1]
		for _, b := range l.bodies() {
			if linked[b.name] && (near(first, b.middle()) || near(last, b.middle()) || b.r.grown(1).holds(first) || b.r.grown(1).holds(last)) {
				continue // where it begins and ends
			}
			for i := 1; i < len(d); i++ {
				x0, x1 := min(d[i-1].X, d[i].X), max(d[i-1].X, d[i].X)
				y0, y1 := min(d[i-1].Y, d[i].Y), max(d[i-1].Y, d[i].Y)
				if d[i-1].Y == d[i].Y {
					x0, x1 = x0+3, x1-3
				}
				if x0 < float64(b.r.x1) && x1 > float64(b.r.x0) && y1 > float64(b.r.y0) && y0 < float64(b.r.y1) {
					c.through = append(c.through, "a relay's dashes through "+b.name)
				}
			}
		}
	}
}

func (l *Layout) countWords(c *counts) {
	level, upright := l.segments()
	lines := append(level, upright...)
	for i, b := range l.drawn.labels {
		r := inkOf(b)
		for _, o := range l.drawn.labels[i+1:] {
			if r.meets(inkOf(o)) {
				c.overlaps = append(c.overlaps, fmt.Sprintf("%q on %q", b.words, o.words))
			}
		}
		for _, o := range l.bodies() {
			inside := o.hub != nil && r.x0 >= o.r.x0 && r.x1 <= o.r.x1 && r.y0 >= o.r.y0 && r.y1 <= o.r.y1 && (b.of == o.name || strings.HasPrefix(b.of, o.name+"."))
			if r.meets(o.r) && !inside {
				c.overlaps = append(c.overlaps, fmt.Sprintf("%q on %s", b.words, o.name))
			}
		}
		for _, s := range lines {
			if r.meets(rect{int(s.a.X) - 2, int(s.a.Y) - 2, int(s.b.X) + 2, int(s.b.Y) + 2}) {
				c.onLines = append(c.onLines, fmt.Sprintf("%q on a line at %v-%v", b.words, s.a, s.b))
				break
			}
		}
		for _, p := range l.drawn.plugs {
			edges := r.meets(p.outline) && !(r.x0 > p.outline.x0 && r.x1 < p.outline.x1 && r.y0 > p.outline.y0 && r.y1 < p.outline.y1)
			if edges {
				c.onLines = append(c.onLines, fmt.Sprintf("%q on the outline of %s", b.words, p.name))
			}
		}
		if r.x0 < 0 || r.y0 < 0 || r.x1 > l.Width || r.y1 > l.Height {
			c.outside = append(c.outside, b.words)
		}
		for _, s := range l.Sheets[1:] {
			if r.x0 < s.From && r.x1 > s.From {
				c.outside = append(c.outside, b.words+", cut by the edge of a sheet")
			}
		}
	}
}

// countStrays looks for the words of wires that stand nearer to another wire.
func (l *Layout) countStrays(c *counts) {
	const slack = 2 // px, of roundings
	for _, b := range l.drawn.labels {
		if b.kind != "wire" {
			continue
		}
		own, other, whose := math.Inf(1), math.Inf(1), ""
		for _, p := range l.drawn.pieces {
			for i := 1; i < len(p.path); i++ {
				switch far := math.Sqrt(inkOf(b).off(p.path[i-1], p.path[i])); {
				case p.wire == nil:
				case p.wire.Name == b.of:
					own = min(own, far)
				case far < other:
					other, whose = far, p.wire.Name
				}
			}
		}
		if other < own-slack {
			c.misplaced = append(c.misplaced, fmt.Sprintf("%q of %s is %.0f px from it and %.0f px from %s", b.words, b.of, own, other, whose))
		}
	}
}

// countNames looks for the name of every thing of the circuit among the words.
func (l *Layout) countNames(c *counts) {
	said := map[string]bool{}
	for _, b := range l.drawn.labels {
		if b.kind == "wire" || b.kind == "detail" {
			continue
		}
		said[b.words] = true
		for part := range strings.SplitSeq(b.words, "/") {
			said[part] = true
		}
		if b.kind == "pin" {
			owner, _, _ := strings.Cut(b.of, ".")
			for part := range strings.SplitSeq(b.words, "/") {
				said[owner+"."+part] = true
			}
		}
	}
	want := func(name string) {
		if !said[name] {
			c.missing = append(c.missing, name)
		}
	}
	for _, p := range l.Circuit.Parts {
		want(p.Name)
	}
	for _, k := range l.Circuit.Connectors {
		for _, t := range k.Cavities {
			if said[t.Pin] && !said[t.Name] { // the second of a pair: C1.4/5
				continue
			}
			want(t.Name)
		}
	}
	for _, s := range l.Circuit.Splices {
		want(s.Name)
	}
	for _, s := range l.Circuit.Studs {
		want(s.Name)
	}
	for _, h := range l.net.hubs {
		for _, e := range h.ends {
			if e.pin != nil && h.kind == module {
				want(e.pin.Name)
			}
		}
	}
	for _, w := range l.Circuit.Wires {
		if len(wireLabels(w)) > 0 {
			c.wires++
		}
	}
	c.unlabelled = len(l.drawn.missing)
}

// countHits tries to hit every point of the circuit.
func (l *Layout) countHits(c *counts) {
	scene := l.Scene(Showing{})
	size := 36.0
	if l.Options.Touch {
		size = 44
	}
	at := map[string]Hit{}
	for _, h := range scene.Hits {
		if h.Kind != OnPoint {
			continue
		}
		if _, again := at[h.Name]; !again {
			at[h.Name] = h
		} else if got, _ := scene.Hit(h.At); got.Name != h.Name {
			c.pointless = append(c.pointless, fmt.Sprintf("%s, drawn again at %v, hits %s", h.Name, h.At, got.Name))
		}
	}
	for _, p := range l.Circuit.Points() {
		h, ok := at[p.Name]
		if !ok {
			c.pointless = append(c.pointless, p.Name+" has no hit box")
			continue
		}
		got, _ := scene.Hit(h.At)
		switch {
		case h.W < size-0.01 || h.H < size-0.01:
			c.pointless = append(c.pointless, fmt.Sprintf("%s is %gx%g", p.Name, h.W, h.H))
		case h.At.X < 0 || h.At.Y < 0 || h.At.X > scene.Width || h.At.Y > scene.Height:
			c.pointless = append(c.pointless, p.Name+" is off the paper")
		case got.Kind != OnPoint || got.Name != p.Name:
			c.pointless = append(c.pointless, fmt.Sprintf("%s at %v hits %s", p.Name, h.At, got.Name))
		}
		for _, q := range l.Circuit.Points() {
			if o, ok := at[q.Name]; ok && q.Name != p.Name && near(h.At, o.At) {
				c.pointless = append(c.pointless, p.Name+" is too near "+q.Name)
			}
		}
	}
}

// near reports whether two middles can hardly be told apart.
func near(a, b Spot) bool {
	dx, dy := a.X-b.X, a.Y-b.Y
	return dx*dx+dy*dy < 8*8
}

func (l *Layout) countSheets(c *counts) {
	at := map[[2]float64]int{}
	for _, f := range l.flags() {
		side := 0.0
		if f.right {
			side = 1
		}
		if f.hub != l.net.rail { // the rail is on every sheet
			at[[2]float64{f.x, side}]++
			c.mostFlagged = max(c.mostFlagged, at[[2]float64{f.x, side}])
		}
	}
	for i := 0; i+1 < len(l.Sheets); i++ {
		for _, r := range l.drawn.boxes {
			if r.x0 < l.Sheets[i].To && r.x1 > l.Sheets[i].To {
				c.cutBoxes++
			}
		}
	}
}

// inversions counts pairs of columns, both in two drawings, whose order has turned round.
func inversions(before, after *Layout) (turned, pairs int, sideways, upright float64) {
	old := after.net.oldSlots(before)
	type moved struct{ was, is int }
	var all []moved
	xOf := map[string]*chain{}
	for _, c := range before.net.chains {
		for _, m := range c.marks() {
			xOf[m] = c
		}
	}
	nodes := 0
	for _, c := range after.net.chains {
		if _, ok := old[c]; !ok {
			continue
		}
		for _, m := range c.marks() {
			if was := xOf[m]; was != nil {
				all = append(all, moved{was.x, c.x})
				break
			}
		}
	}
	for i, a := range all {
		for _, b := range all[:i] {
			pairs++
			if (a.was-b.was)*(a.is-b.is) < 0 {
				turned++
			}
		}
		sideways += float64(max(a.was-a.is, a.is-a.was)) / float64(len(all))
	}
	for name, a := range before.drawn.anchors {
		if b, ok := after.drawn.anchors[name]; ok {
			nodes++
			upright += max(a.at.Y-b.at.Y, b.at.Y-a.at.Y)
		}
	}
	return turned, pairs, sideways, upright / float64(max(1, nodes))
}
