package screen

// This file measures what painting costs on the side of the processor.

import (
	"fmt"
	"strings"
	"testing"

	"underload/circuit"
	"underload/ui/drawing"
	"underload/ui/view"
)

// vehicle is a view of a made-up circuit of so many feeds, each with a fuse, a switch and a lamp.
func vehicle(t testing.TB, feeds int) *view.View {
	t.Helper()
	var parts, paths strings.Builder
	for i := range feeds {
		fmt.Fprintf(&parts, "  F%d: {is: fuse, rating: 10 A}\n  SW%d: {is: switch, throws: {on: [1-2], off: []}}\n  E%d: {is: lamp, bulb: 5 W}\n", i, i, i)
		fmt.Fprintf(&paths, "  feed %d: [S1, F%d, wire: OG 1 mm2 2 m, SW%d, wire: OG 1 mm2 1 m, E%d, wire: BK 1 mm2 0.5 m, G1]\n", i, i, i, i)
	}
	text := "underload: 1\nparts:\n  B1: {is: battery}\n" + parts.String() + "paths:\n  main: [B1.pos, wire: RD 25 mm2 1 m, S1]\n" +
		"  strap: [G1, wire: BK 25 mm2 0.5 m, B1.neg]\n" + paths.String() + "grounds:\n  G1: {place: frame}\nsplices:\n  S1: {reach: open}\n"
	c, problems := circuit.Read("vehicle.yaml", []byte(text))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	v, err := view.New(c, view.Options{ReducedMotion: true})
	if err != nil {
		t.Fatal(err)
	}
	v.Resize(1440, 900)
	return v
}

// All triangles of a picture of 300 parts, as a share of a frame of 60 Hz.
func BenchmarkTriangles(b *testing.B) {
	scene := vehicle(b, 100).Scene()
	m := &mesh{}
	for b.Loop() {
		m.clear()
		for _, shape := range scene.Shapes {
			if shape.Form != drawing.Text {
				m.shape(shape, 2)
			}
		}
	}
	b.ReportMetric(100*b.Elapsed().Seconds()/float64(b.N)/frame.Seconds(), "%frame")
	b.ReportMetric(float64(len(scene.Shapes)), "shapes")
	b.ReportMetric(float64(len(m.indices)/3), "triangles")
}
