package drawing

// These tests look at where gauges stand.

import (
	"strings"
	"testing"
)

// The gauges of in-line terminals and plugs, which are shown most, cover no name, no symbol and no other gauge.
func TestGaugesCoverNothing(t *testing.T) {
	looked := 0
	for _, name := range examples(t) {
		for _, o := range []Options{page, small, {Width: 728, Height: 400}} {
			l := laidOut(t, name, o)
			for i, point := range l.Circuit.Points() {
				r, ok := l.drawn.gauges[point.Name]
				if !ok || !plugged(point) {
					continue
				}
				looked++
				if far, _ := strings.CutSuffix(point.Name, ".b"); far != point.Name && l.drawn.gauges[far+".a"].y0 != r.y0 {
					t.Errorf("%s: the two gauges of %s are not level", name, far)
				}
				for _, b := range l.drawn.labels {
					if (b.kind == "name" || b.kind == "detail") && r.meets(inkOf(b)) {
						t.Errorf("%s %gx%g: the gauge of %s covers %q", name, o.Width, o.Height, point.Name, b.words)
					}
				}
				for _, b := range l.bodies() {
					if r.meets(b.r) && (b.chain != nil || o == page) {
						t.Errorf("%s %gx%g: the gauge of %s covers %s", name, o.Width, o.Height, point.Name, b.name)
					}
				}
				for _, other := range l.Circuit.Points()[:i] {
					if o2, ok := l.drawn.gauges[other.Name]; ok && plugged(other) && r.meets(o2.grown(1)) {
						t.Errorf("%s %gx%g: the gauges of %s and %s touch", name, o.Width, o.Height, point.Name, other.Name)
					}
				}
			}
		}
	}
	if looked < 500 {
		t.Errorf("only %d gauges", looked)
	}
}
