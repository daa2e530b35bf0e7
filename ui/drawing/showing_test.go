package drawing

// These tests look at what is shown: that each state is seen, and at nothing but its own place.

import (
	"fmt"
	"slices"
	"testing"
)

// Each thing that can be shown changes the picture of the part, wire or point that it belongs to, and of nothing else.
func TestEachStateIsSeen(t *testing.T) {
	l := bench(t, "  K: {is: relay}\n  E: {is: led}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n  U: {is: module, supply: [\"1\"], ground: [\"2\"]}\n",
		"  a: [FB, wire W1: RD, K.30-87, wire, C1.1, wire, U.1]\n  b: [U.2, wire, C1.2, wire, G1]\n  c: [FB, wire, SW, wire, K.86-85, wire, G1]\n  d: [FB, wire, E, wire, G1]\n")
	yes := func(name string) map[string]bool { return map[string]bool{name: true} }
	for what, of := range map[string]struct {
		s    Showing
		only string
	}{
		"a relay pulled in":      {Showing{PulledIn: yes("K")}, "K"},
		"a switch on":            {Showing{Positions: map[string]string{"SW": "on"}}, "SW"},
		"a lamp lit":             {Showing{Lit: map[string]float64{"L0": 1}}, "L0"},
		"a lamp lit dimly":       {Showing{Lit: map[string]float64{"L0": 0.3}}, "L0"},
		"a light-emitting diode": {Showing{Lit: map[string]float64{"E": 1}}, "E"},
		"a fuse out":             {Showing{Out: yes("F0")}, "F0"},
		"a fuse blown":           {Showing{Blown: yes("F0")}, "F0"},
		"a module unplugged":     {Showing{Apart: yes("U")}, "U"},
		"a connector apart":      {Showing{Apart: yes("C1")}, "C1"},
		"a terminal spread":      {Showing{Bad: yes("C1.1")}, "C1"},
		"a part chosen":          {Showing{Selected: "L0"}, "L0"},
		"a module chosen":        {Showing{Selected: "U"}, "U"},
		"a connector chosen":     {Showing{Selected: "C1"}, "C1"},
		"a wire chosen":          {Showing{Selected: "W1"}, "W1"},
		"a path by a part":       {Showing{Path: yes("L0")}, "L0"},
		"a path by a wire":       {Showing{Path: yes("W1")}, "W1"},
		"amps":                   {Showing{Amps: map[string]float64{"W1": 10}}, "W1"},
		"lead A":                 {Showing{LeadA: "L0.out"}, "L0"},
		"lead B":                 {Showing{LeadB: "L0.out"}, "L0"},
		"a level":                {Showing{Levels: map[string]Level{"U.1": {Now: 1, Healthy: 1}}}, "U"},
		"a level that is wrong":  {Showing{Levels: map[string]Level{"U.1": {Now: 0.1, Healthy: 1, Alert: true}}}, "U"},
	} {
		rest, shown := drawnOf(l.Scene(Showing{})), drawnOf(l.Scene(of.s))
		if slices.Equal(rest[of.only], shown[of.only]) {
			t.Errorf("%s is not seen", what)
		}
		for name := range shown {
			if name != of.only && !slices.Equal(rest[name], shown[name]) {
				t.Errorf("%s changes how %q is drawn", what, name)
			}
		}
	}
	if dim, bright := svgOf(t, l, Showing{Lit: map[string]float64{"L0": 0.3}}), svgOf(t, l, Showing{Lit: map[string]float64{"L0": 1}}); dim == bright {
		t.Error("a lamp looks the same dim and bright")
	}
}

// drawnOf sorts the shapes of a scene by the part, wire or connector that they belong to.
func drawnOf(s *Scene) map[string][]string {
	of := map[string][]string{}
	for _, shape := range s.Shapes {
		name := shape.Of
		for i, r := range name {
			if r == '.' {
				name = name[:i]
				break
			}
		}
		of[name] = append(of[name], fmt.Sprint(shape))
	}
	return of
}

// Beside a switch there is room for its longest position, whichever it is in.
func TestRoomForEveryPosition(t *testing.T) {
	l := bench(t, "  SW: {is: switch, throws: {off: [], parking_lamps: [1-2], on: [1-2]}}\n", "  a: [FB, wire, SW, wire, G1]\n")
	at := slices.IndexFunc(l.drawn.labels, func(b label) bool { return b.of == "SW" && b.live })
	if at < 0 || l.drawn.labels[at].words != "parking_lamps" {
		t.Errorf("beside SW there is room for %q", l.drawn.labels[max(0, at)].words)
	}
}

// Words of wires and pins are left out while a gauge stands on them.
func TestGaugesCoverNoWords(t *testing.T) {
	left := 0
	for _, name := range examples(t) {
		l := laidOut(t, name, small)
		texts := map[Spot]bool{}
		for _, s := range l.Scene(everything(l.Circuit)).Shapes {
			if s.Form == Text {
				texts[Spot{s.Spots[0].X / l.Zoom, s.Spots[0].Y / l.Zoom}] = true
			}
		}
		for _, b := range l.drawn.labels {
			if b.kind != "wire" && b.kind != "pin" {
				continue
			}
			for point, r := range l.drawn.gauges {
				if !r.meets(inkOf(b)) {
					continue
				}
				if left++; texts[Spot{b.x, b.y}] {
					t.Errorf("%s: the gauge of %s stands on %q", name, point, b.words)
				}
			}
		}
	}
	if left == 0 {
		t.Error("no gauge stands on words")
	}
}

// The flags at the edge of a sheet do not cover each other.
func TestFlagsStandApart(t *testing.T) {
	looked := 0
	for _, name := range examples(t) {
		l := laidOut(t, name, small)
		var flags []rect
		for _, s := range l.Scene(Showing{}).Shapes {
			if s.Form == Area && len(s.Spots) == 5 && s.Fill == palettes[Light].panel {
				r := between(s.Spots[0], s.Spots[0])
				for _, at := range s.Spots {
					r = rect{min(r.x0, int(at.X)), min(r.y0, int(at.Y)), max(r.x1, int(at.X)), max(r.y1, int(at.Y))}
				}
				for _, other := range flags {
					if r.meets(other) {
						t.Errorf("%s: a flag at %v covers one at %v", name, r, other)
					}
				}
				flags = append(flags, r)
			}
		}
		looked += len(flags)
	}
	if looked < 20 {
		t.Errorf("only %d flags", looked)
	}
}
