package drawing

// This file reads a circuit back from the finished lines, and holds it against the circuit that was drawn.

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// conductors joins ends of lines that touch.
type conductors struct {
	of map[string]string
}

func (c *conductors) root(key string) string {
	if c.of[key] == "" {
		c.of[key] = key
	}
	for c.of[key] != key {
		key = c.of[key]
	}
	return key
}

func (c *conductors) join(a, b string) { c.of[c.root(a)] = c.root(b) }

func spotKey(s Spot) string { return fmt.Sprintf("%.1f,%.1f", s.X, s.Y) }

// saysTheSame joins what touches in the drawing and compares which wires meet with which wires meet in the circuit.
func saysTheSame(t *testing.T, name string, l *Layout) {
	t.Helper()
	drawn := &conductors{of: map[string]string{}}
	ends := map[string][]Spot{} // of each wire
	for _, p := range l.drawn.pieces {
		a, b := p.path[0], p.path[len(p.path)-1]
		switch {
		case p.hub != nil:
			drawn.join(spotKey(a), spotKey(b)) // a piece of a bus; looked at below
		case p.wire == nil:
			drawn.join(spotKey(a), spotKey(b))
		default:
			ends[p.wire.Name] = append(ends[p.wire.Name], a, b)
		}
	}
	l.joinHubs(drawn)
	want := map[string][]string{}
	for _, w := range l.Circuit.Wires {
		if w.From.Spot != w.To.Spot {
			want[fmt.Sprint(w.From.Spot)] = append(want[fmt.Sprint(w.From.Spot)], w.Name)
			want[fmt.Sprint(w.To.Spot)] = append(want[fmt.Sprint(w.To.Spot)], w.Name)
		}
	}
	got := map[string][]string{}
	for _, w := range l.Circuit.Wires {
		if w.From.Spot == w.To.Spot || l.paired(w.Name) {
			continue
		}
		spots := slices.Clone(ends[w.Name])
		if len(spots) == 4 { // turned back: two halves that meet
			spots = slices.DeleteFunc(spots, func(s Spot) bool { return slices.Index(ends[w.Name], s) != lastIndex(ends[w.Name], s) })
		}
		if len(spots) != 2 {
			t.Errorf("%s: wire %s is drawn with %d ends", name, w.Name, len(ends[w.Name]))
			return
		}
		for _, s := range spots {
			got[drawn.root(spotKey(s))] = append(got[drawn.root(spotKey(s))], w.Name)
		}
	}
	if a, b := l.meetings(want), l.meetings(got); a != b {
		t.Errorf("%s: the drawing joins other wires than the circuit:\n%s", name, firstDifference(a, b))
	}
}

func lastIndex(all []Spot, s Spot) int {
	for i := len(all) - 1; i >= 0; i-- {
		if all[i] == s {
			return i
		}
	}
	return -1
}

// joinHubs joins what ends on one hub, and the pictures of one stud.
func (l *Layout) joinHubs(drawn *conductors) {
	for _, h := range l.net.hubs {
		y := l.y(h.node)
		switch {
		case h.kind == frame || h.kind == plate || h.kind == sign:
			for _, e := range h.ends {
				if e.stud != nil {
					drawn.join(spotKey(Spot{float64(e.chain.x), y}), "stud "+e.stud.Name)
				}
			}
		case h.kind == junction && h.bar:
			for _, e := range h.ends {
				drawn.join(spotKey(Spot{float64(e.chain.x), y}), "bar "+fmt.Sprint(h.node))
			}
		case h.kind == junction && !h.paired:
			for _, e := range h.ends {
				at := Spot{l.homeX(h), y + float64(h.lanes.offset[e])}
				drawn.join(spotKey(at), "splice "+fmt.Sprint(h.node))
			}
			if h.stud != nil {
				drawn.join("splice "+fmt.Sprint(h.node), "stud "+h.stud.Name)
			}
		}
	}
}

// meetings writes which wires meet, a line each. Buses are left to TestBusPairs.
func (l *Layout) meetings(at map[string][]string) string {
	var lines []string
	for _, wires := range at {
		wires = slices.DeleteFunc(slices.Clone(wires), func(name string) bool { return l.paired(name) })
		if len(wires) == 0 {
			continue
		}
		slices.Sort(wires)
		lines = append(lines, strings.Join(wires, " "))
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

func (l *Layout) paired(name string) bool {
	for _, p := range l.drawn.pieces {
		if p.wire != nil && p.wire.Name == name && (p.hub != nil || p.chain.paired || p.chain.top.hub.paired || p.chain.bottom.hub.paired) {
			return true
		}
	}
	return false
}

func firstDifference(a, b string) string {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range max(len(as), len(bs)) {
		x, y := "", ""
		if i < len(as) {
			x = as[i]
		}
		if i < len(bs) {
			y = bs[i]
		}
		if x != y {
			return fmt.Sprintf("circuit %q, drawing %q", x, y)
		}
	}
	return ""
}
