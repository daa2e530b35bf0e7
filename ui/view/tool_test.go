package view

// This file looks at where instruments stand in the circuit.

import (
	"testing"

	"underload/circuits"
	"underload/ui/drawing"
)

// Wherever an instrument stands it and its leads cover no words, and its leads end at their points; between the plug's
// feed and ground of the module that was complained of it always finds its place.
func TestInstrumentsCoverNoWords(t *testing.T) {
	looked, found := 0, 0
	for i, name := range circuits.Names() {
		v := open(t, name, Options{})
		v.Resize(sizes[1+i%2][0], sizes[1+i%2][1])
		v.compose()
		var words []box
		for i := range v.strip().Shapes {
			if s, seen := v.placed(&v.strip().Shapes[i]); seen && s.Form == drawing.Text {
				words = append(words, textBox(s))
			}
		}
		var spots []drawing.Spot
		for _, h := range v.strip().Hits {
			if x, y := v.toWindow(h.At); h.Kind == drawing.OnPoint && v.plan.area.holds(x, y) {
				spots = append(spots, at(x, y))
			}
		}
		full := v.inTheWay()
		for i := range spots {
			a, b := spots[i], spots[(i+2)%len(spots)]
			looked++
			made, ok := v.toolBetween(a, b, full)
			if !ok {
				continue
			}
			found++
			if made.leads[0][0] != a || made.leads[1][0] != b {
				t.Errorf("%s: the leads end at %v and %v, not at %v and %v", name, made.leads[0][0], made.leads[1][0], a, b)
			}
			for _, room := range append(append(runs(made.leads[0]), runs(made.leads[1])...), made.room()) {
				for _, w := range words {
					if room.inset(1).overlaps(w) && !w.holds(a.X, a.Y) && !w.holds(b.X, b.Y) {
						t.Errorf("%s: between %v and %v the instrument or a lead lies on words at %v", name, a, b, w)
					}
				}
			}
		}
	}
	if looked < 300 || found < 40 {
		t.Errorf("of %d pairs of points %d have room for an instrument", looked, found)
	}
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	work(v)
	v.compose()
	if len(v.instrumentInCircuit()) == 0 {
		t.Error("the load lamp finds no place in the unplugged module")
	}
	v.clampOn("W42")
	v.compose()
	rooms := v.clampInCircuit()
	if len(rooms) != 1 {
		t.Fatal("the clamp finds no place on W42")
	}
	for _, b := range v.inTheWay() {
		if b.overlaps(rooms[0]) {
			t.Errorf("the clamp covers what stands at %v", b)
		}
	}
}
