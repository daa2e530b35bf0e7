package drawing

// These tests hold single things to how they are drawn: what is above what, which kind is which symbol, what stays a pair.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
)

// bench is a small circuit around some parts and paths. The rail is FB, the ground G1.
func bench(t *testing.T, parts, paths string) *Layout {
	t.Helper()
	text := "underload: 1\ntitle: small\nparts:\n  BATT: {is: battery}\n  F0: {is: fuse, rating: 10 A}\n  L0: {is: lamp, bulb: 5 W}\n" + parts +
		"paths:\n  feed: [BATT.pos, wire, FB]\n  lamp: [FB, F0, wire, L0, wire, G1]\n  back: [G0, wire, BATT.neg]\n" + paths +
		"splices:\n  FB: {reach: open}\ngrounds:\n  G0: {place: by the battery}\n  G1: {to: G0}\n"
	l := Lay(madeUp(t, "small", text), page, nil)
	demand(t, t.Name(), l)
	return l
}

// at finds a point.
func (l *Layout) at(t *testing.T, point string) Spot {
	t.Helper()
	a, ok := l.drawn.anchors[point]
	if !ok {
		t.Fatalf("there is no %s", point)
	}
	return a.at
}

// Where there is no height to draw a coil level with its contact, a dashed line with turns joins them and runs along no wire.
func TestUnlevelRelay(t *testing.T) {
	l := laidOut(t, "mist-blower", page)
	coil, blade := l.at(t, "K2.86"), l.at(t, "K2.30")
	if coil.Y-blade.Y < 40 {
		t.Fatalf("K2 is level: coil at %v, contact at %v", coil, blade)
	}
	found := false
	for _, d := range l.drawn.dashes {
		first, last := d[0], d[len(d)-1]
		if len(d) < 4 || max(first.X, coil.X)-min(first.X, coil.X) > 25 || max(last.X, blade.X)-min(last.X, blade.X) > 25 {
			continue
		}
		found = true
		for i := 2; i+1 < len(d); i++ {
			for _, p := range l.drawn.pieces {
				for j := 1; j < len(p.path); j++ {
					a, b := p.path[j-1], p.path[j]
					if upright := d[i].X == d[i-1].X; upright == (a.X == b.X) && between(d[i-1], d[i]).grown(5).meets(between(a, b).grown(1)) {
						t.Errorf("the dashes %v run along a wire at %v-%v", d, a, b)
					}
				}
			}
		}
	}
	if !found {
		t.Error("no line joins the coil and the contact of K2")
	}
}

// Every kind of part of the format is drawn, with all its points.
func TestEveryKind(t *testing.T) {
	given := map[string]string{"fuse": ", rating: 5 A", "fusible link": ", rating: 30 A", "switch": ", throws: {off: [], on: [1-2]}", "lamp": ", bulb: 5 W",
		"resistor": ", resistance: 10 ohm", "heater": ", power: 50 W", "motor": ", draws: 3 A", "diode": "", "led": "", "terminator": ""}
	boxes := map[string]string{"relay": "", "module": `, supply: ["1"], ground: ["2"]`, "sensor": "", "socket": `, supply: ["1"], ground: ["2"]`, "generator": ""}
	paths := map[string]string{"relay": "  a: [FB, wire, X.30-87, wire, G1]\n  b: [FB, wire, X.86-85, wire, G1]\n",
		"module": "  a: [FB, wire, X.1]\n  b: [X.2, wire, G1]\n", "socket": "  a: [FB, wire, X.1]\n  b: [X.2, wire, G1]\n",
		"generator": "  a: [FB, wire, X.B+]\n  b: [X.case, wire, G1]\n",
		"sensor":    "  a: [FB, wire, X.supply]\n  b: [X.ground, wire, G1]\n"}
	for _, kind := range circuit.Kinds {
		keys, two := given[kind.Name]
		path := "  a: [FB, wire, X, wire, G1]\n"
		switch more, box := boxes[kind.Name]; {
		case kind.Name == "battery":
			continue // in every circuit
		case box:
			keys, path = more, paths[kind.Name]
		case !two:
			t.Errorf("no test draws a %s", kind.Name)
			continue
		}
		l := bench(t, fmt.Sprintf("  X: {is: %s%s}\n", kind.Name, keys), path)
		if !slices.ContainsFunc(l.drawn.labels, func(b label) bool { return b.words == "X" }) {
			t.Errorf("%s: no name", kind.Name)
		}
	}
}

// Current runs down: plus above minus, supply pins above ground pins, whichever way the file tells it.
func TestCurrentRunsDown(t *testing.T) {
	l := bench(t, "  D1: {is: diode}\n  M: {is: motor, draws: 3 A}\n  U: {is: module, supply: [\"1\"], ground: [\"2\"], outputs: {\"3\": {pulls to: ground, for: K}}}\n  K: {is: relay}\n",
		"  backwards: [G1, wire, M.out-in, wire, D1.out-in, wire, FB]\n  a: [U.2, wire, G1]\n  b: [U.1, wire, FB]\n  c: [U.3, wire, K.85-86, wire, FB]\n  d: [G1, wire, K.87-30, wire, FB]\n")
	for _, pair := range [][2]string{{"BATT.pos", "BATT.neg"}, {"D1.in", "D1.out"}, {"D1.out", "M.in"}, {"M.in", "M.out"}, {"U.1", "U.2"}, {"K.86", "K.85"}, {"K.85", "U.3"},
		{"U.3", "U.2"}, {"K.30", "K.87"}, {"FB", "M.in"}, {"M.out", "G1"}} {
		if above, below := l.at(t, pair[0]), l.at(t, pair[1]); above.Y >= below.Y {
			t.Errorf("%s at %v is not above %s at %v", pair[0], above, pair[1], below)
		}
	}
	if coil, blade := l.at(t, "K.86"), l.at(t, "K.30"); coil.Y-blade.Y > 12 || blade.Y-coil.Y > 12 {
		t.Errorf("coil at %v and contact at %v are not level", coil, blade)
	}
}

// A change-over relay with both sides wired, and a key with several positions, show which way they stand.
func TestThrows(t *testing.T) {
	l := bench(t, "  K: {is: relay}\n  A: {is: lamp, bulb: 5 W}\n  B: {is: lamp, bulb: 5 W}\n  KEY: {is: switch, throws: {off: [], acc: [b-acc], run: [b-acc, b-ign], crank: [b-ign, b-st]}}\n  C: {is: lamp, bulb: 5 W}\n",
		"  a: [FB, wire, K.30-87, wire, A, wire, G1]\n  b: [K.87a, wire, B, wire, G1]\n  c: [KEY.acc, wire, K.86-85, wire, G1]\n  d: [FB, wire, KEY.b-ign, wire, C, wire, G1]\n")
	for _, below := range []string{"K.87", "K.87a"} {
		if l.at(t, below).Y <= l.at(t, "K.30").Y {
			t.Errorf("%s is not below K.30", below)
		}
	}
	if _, ok := l.drawn.anchors["KEY.st.pin"]; !ok {
		t.Error("the empty terminal KEY.st is not drawn")
	}
	words := func(s Showing) []string {
		var all []string
		for _, shape := range l.Scene(s).Shapes {
			if shape.Form == Text && (shape.Of == "KEY" || shape.Of == "K") {
				all = append(all, shape.Words)
			}
		}
		slices.Sort(all)
		return slices.Compact(all)
	}
	if got := words(Showing{}); !slices.Equal(got, []string{"K", "KEY", "at rest", "off"}) {
		t.Errorf("at rest: %q", got)
	}
	if got := words(Showing{Positions: map[string]string{"KEY": "run"}, PulledIn: map[string]bool{"K": true}}); !slices.Equal(got, []string{"K", "KEY", "in", "run"}) {
		t.Errorf("switched: %q", got)
	}
	if svgOf(t, l, Showing{}) == svgOf(t, l, Showing{PulledIn: map[string]bool{"K": true}}) {
		t.Error("a relay looks the same pulled in")
	}
}

// A switch with two poles is two contacts, and no current passes between them.
func TestPoles(t *testing.T) {
	l := bench(t, "  SW: {is: switch, throws: {off: [], on: [1-2, 3-4]}}\n  A: {is: lamp, bulb: 5 W}\n  B: {is: lamp, bulb: 5 W}\n",
		"  a: [FB, wire, SW.1-2, wire, A, wire, G1]\n  b: [FB, wire, B, wire, SW.3-4, wire, G1]\n")
	if l.at(t, "SW.1").X == l.at(t, "SW.3").X {
		t.Error("both poles stand in one column")
	}
	if a, b := l.at(t, "A.in"), l.at(t, "SW.2"); b.Y >= a.Y {
		t.Error("the pole in the feed is not above its lamp")
	}
	if a, b := l.at(t, "B.out"), l.at(t, "SW.3"); b.Y <= a.Y {
		t.Error("the pole in the ground is not below its lamp")
	}
}

// The two wires of a bus run side by side to the same places, high with high and low with low.
func TestBusPairs(t *testing.T) {
	for _, name := range []string{"donor-bus", "library-van"} {
		l := laidOut(t, name, page)
		pairs := 0
		for _, c := range l.net.chains {
			if !c.paired {
				continue
			}
			pairs++
			for _, it := range c.items {
				if it.wire == nil || it.wire2 == nil || it.wire.Colour == it.wire2.Colour || it.wire.AreaMM2 != it.wire2.AreaMM2 {
					t.Errorf("%s: a pair of %v and %v", name, it.wire, it.wire2)
				}
			}
		}
		if pairs < 4 {
			t.Errorf("%s: %d pairs", name, pairs)
		}
		for _, w := range l.Circuit.Wires {
			if bus := strings.HasPrefix(w.Colour, "WH/GN") || strings.HasPrefix(w.Colour, "BN/WH"); bus && w.AreaMM2 == 0.35 && !l.paired(w.Name) {
				t.Errorf("%s: %s of the bus runs alone", name, w.Name)
			}
		}
		if !l.net.busesInOrder() {
			t.Errorf("%s: the places of the bus are out of order", name)
		}
	}
}

// A ground in the way of a bus gets a sign of its own above it, under the name of its stud, and the stud
// can be touched there.
func TestGroundSigns(t *testing.T) {
	l := laidOut(t, "library-van", page)
	bus, signs := 0, 0
	for _, h := range l.net.hubs {
		if h.paired {
			bus = l.h.at(h.node)
		}
	}
	names := map[string]int{}
	for _, b := range l.drawn.labels {
		names[b.words]++
	}
	for _, h := range l.net.hubs {
		if h.kind != sign {
			continue
		}
		signs++
		if y := l.h.at(h.node); y >= bus {
			t.Errorf("the sign of %s at %d is not above the bus at %d", h.ends[0].stud.Name, y, bus)
		}
	}
	if signs < 3 || names["G5"] < 2 || names["G8"] != 1 {
		t.Errorf("%d signs, G5 %d times, G8 %d times", signs, names["G5"], names["G8"])
	}
	hits := 0
	for _, h := range l.Scene(Showing{}).Hits {
		if h.Name == "G5" {
			hits++
		}
	}
	if hits != names["G5"] {
		t.Errorf("G5 is drawn %d times and can be hit at %d places", names["G5"], hits)
	}
	for _, h := range laidOut(t, "mist-blower", page).net.hubs {
		if h.kind == sign {
			t.Errorf("%s is drawn apart though nothing is in the way", h.ends[0].stud.Name)
		}
	}
}

// A stud with nothing in the way of its wires is drawn once.
func TestStudsAreDrawnOnce(t *testing.T) {
	l := bench(t, "  A: {is: lamp, bulb: 5 W}\n  B: {is: lamp, bulb: 5 W}\n", "  a: [FB, wire, A, wire, G1]\n  b: [FB, wire, B, wire, G1]\n")
	rings := 0
	for _, b := range l.drawn.labels {
		if b.words == "G1" {
			rings++
		}
	}
	if rings != 1 {
		t.Errorf("G1 is drawn %d times", rings)
	}
}

// What brings the grounds of sensors together lies below them, out of the way of their signals.
func TestSensorGroundsBelow(t *testing.T) {
	l := laidOut(t, "vineyard-harvester", page)
	for _, sensor := range []string{"OIL", "BOOST", "RAIL", "PED1"} {
		if ground, signal := l.at(t, sensor+".ground"), l.at(t, sensor+".signal"); ground.Y <= signal.Y || l.at(t, "SG").Y <= ground.Y {
			t.Errorf("%s: signal at %v, ground at %v, SG at %v", sensor, signal, ground, l.at(t, "SG"))
		}
	}
	if ground, signal := l.at(t, "PED2.ground"), l.at(t, "PED2.signal"); ground.Y != signal.Y {
		t.Errorf("PED2 has wires of its own: signal at %v, ground at %v", signal, ground)
	}
}

// A wire at a splice of four or more has a level lane of its own.
func TestLanes(t *testing.T) {
	fans := 0
	for _, name := range examples(t) {
		l := laidOut(t, name, page)
		for _, h := range l.net.hubs {
			if !h.fans() || len(h.ends) < 4 {
				continue
			}
			fans++
			seen := map[[2]int]bool{}
			for _, e := range h.ends {
				side := 0
				if e.chain.slot < h.lanes.home {
					side = -1
				} else if e.chain.slot > h.lanes.home {
					side = 1
				}
				if key := [2]int{side, h.lanes.offset[e]}; side != 0 && seen[key] {
					t.Errorf("%s: two wires at %s share a lane", name, h.name)
				} else {
					seen[key] = true
				}
			}
		}
	}
	if fans == 0 {
		t.Error("no splice has four wires")
	}
}

// In a roomy drawing every in-line terminal and pin has 44 px of wire beside it for a gauge and a tag.
func TestRoomForInstruments(t *testing.T) {
	l := Lay(example(t, "rescue-buggy"), Options{Width: 1400, Height: 760}, nil)
	if !l.amount.gauges || !l.amount.tags {
		t.Fatalf("no room is kept: %+v", l.amount)
	}
	for _, r := range l.h.rules {
		if free := l.h.distance(r) - l.h.nodes[r.upper].down - l.h.nodes[r.lower].up; r.wish == terminalWish && free < terminalWish {
			t.Errorf("%d px beside a terminal at ease %d", free, l.h.ease)
		}
	}
	shown := l.Scene(everything(l.Circuit))
	var gauges []rect
	for _, s := range shown.Shapes {
		if s.Form == Rect && s.Fill == palettes[Light].panel && s.Radius == 3*l.Zoom {
			gauges = append(gauges, rect{int(s.Spots[0].X), int(s.Spots[0].Y), int(s.Spots[1].X), int(s.Spots[1].Y)})
		}
	}
	if len(gauges) < 10 {
		t.Errorf("%d gauges", len(gauges))
	}
}

// On a page most terminals have that room, too; where many things are in series none has less than a gauge needs.
func TestWireBesideTerminals(t *testing.T) {
	all, roomy := 0, 0
	for _, name := range examples(t) {
		l := laidOut(t, name, page)
		for _, r := range l.h.rules {
			if r.wish < terminalWish || r.wish > 50 { // two boxes wish for more
				continue
			}
			free := l.h.at(r.lower) - l.h.nodes[r.lower].up - l.h.at(r.upper) - l.h.nodes[r.upper].down
			if all++; free >= terminalWish {
				roomy++
			}
			if free < 28 && name != "mist-blower" || free < 18 { // there ten things are in series
				t.Errorf("%s: %d px beside a terminal", name, free)
			}
		}
	}
	if 4*roomy < 3*all || all == 0 {
		t.Errorf("%d of %d terminals have %d px of wire", roomy, all, terminalWish)
	}
}

// One way down that is full takes nothing from the others.
func TestEaseOfEachWayDown(t *testing.T) {
	h := &heights{bottom: 200, ease: 0, rail: 0, frame: 1}
	for range 2 {
		h.add(0, 0)
	}
	way := func(things int) []int {
		nodes := []int{0}
		for range things {
			nodes = append(nodes, h.add(10, 10))
		}
		nodes = append(nodes, 1)
		for i, lower := range nodes[1:] {
			h.rules = append(h.rules, rule{upper: nodes[i], lower: lower, least: 10, wish: terminalWish})
		}
		return nodes
	}
	full, roomy := way(6), way(2)
	h.spring()
	free := func(upper, lower int) int { return h.at(lower) - h.nodes[lower].up - h.at(upper) - h.nodes[upper].down }
	for i, lower := range full[1:] {
		if got := free(full[i], lower); got < 10 {
			t.Errorf("%d px between six things in 200 px", got)
		}
	}
	for i, lower := range roomy[1:] {
		if got := free(roomy[i], lower); got < terminalWish {
			t.Errorf("%d px beside a terminal with only one other in its way", got)
		}
	}
}

// Ohm's law has no say here: whatever the numbers in the file, the picture stays, as long as the words are no longer.
func TestOtherValuesSamePlaces(t *testing.T) {
	text := string(source(t, "orchard-sprayer"))
	other := strings.NewReplacer("12.6 V", "12.1 V", "15 mohm", "25 mohm", "rating: 30 A", "rating: 20 A", "boots as: 3 ohm", "boots as: 6 ohm", "1.2 m", "9.2 m").Replace(text)
	if other == text {
		t.Fatal("nothing was changed")
	}
	a, b := Lay(madeUp(t, "a", text), page, nil), Lay(madeUp(t, "b", other), page, nil)
	for name, p := range a.drawn.anchors {
		if q := b.drawn.anchors[name]; p.at != q.at {
			t.Errorf("%s moved from %v to %v", name, p.at, q.at)
		}
	}
}

// A sheet that does not exist is refused.
func TestNoSuchSheet(t *testing.T) {
	l := Lay(example(t, "orchard-sprayer"), page, nil)
	for _, sheet := range []int{-1, 2} {
		if err := l.WriteSVG(&strings.Builder{}, Showing{}, sheet); err == nil || !strings.Contains(err.Error(), "the drawing has 1") {
			t.Errorf("sheet %d: %v", sheet, err)
		}
	}
}

// In a drawing that is magnified whatever is drawn can be hit over all its length and width.
func TestHitsAreMagnified(t *testing.T) {
	l := laidOut(t, "snow-groomer", page)
	if l.Zoom <= 1 {
		t.Fatal("the drawing is not magnified")
	}
	scene := l.Scene(Showing{})
	if scene.Width != page.Width || scene.Height != page.Height {
		t.Errorf("it is %g x %g px", scene.Width, scene.Height)
	}
	within := func(kind HitKind, name string, at Spot) bool {
		return slices.ContainsFunc(scene.Hits, func(h Hit) bool {
			return h.Kind == kind && h.Name == name && max(at.X-h.At.X, h.At.X-at.X) <= h.W/2+0.01 && max(at.Y-h.At.Y, h.At.Y-at.Y) <= h.H/2+0.01
		})
	}
	for _, p := range l.drawn.pieces {
		for _, at := range p.path {
			if p.wire != nil && !within(OnWire, p.wire.Name, Spot{at.X * l.Zoom, at.Y * l.Zoom}) {
				t.Errorf("%s cannot be hit at %v", p.wire.Name, at)
			}
		}
	}
	for h, r := range l.drawn.boxes {
		if corner := (Spot{float64(r.x0+1) * l.Zoom, float64(r.y1-1) * l.Zoom}); !within(OnPart, h.name, corner) {
			t.Errorf("%s cannot be hit at %v", h.name, corner)
		}
	}
	for _, h := range scene.Hits {
		if h.Kind == OnPoint && (h.W < 35.9 || h.W > 36.1) {
			t.Errorf("%s is %g px wide", h.Name, h.W)
		}
	}
}
