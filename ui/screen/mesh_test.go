package screen

// This file holds the triangles against geometry: what they cover, weighed by how much of a pixel's colour they lay on,
// is the area of the shape.

import (
	"math"
	"testing"

	"underload/ui/drawing"
)

// covered is the area of all triangles, each weighed by its corners' alpha.
func covered(m *mesh) float64 {
	sum := 0.0
	for i := 0; i < len(m.indices); i += 3 {
		a, b, c := m.vertices[m.indices[i]], m.vertices[m.indices[i+1]], m.vertices[m.indices[i+2]]
		area := math.Abs(float64((b.DstX-a.DstX)*(c.DstY-a.DstY)-(c.DstX-a.DstX)*(b.DstY-a.DstY))) / 2
		sum += area * float64(a.ColorA+b.ColorA+c.ColorA) / 3
	}
	return sum
}

func spots(xy ...float64) []drawing.Spot {
	s := make([]drawing.Spot, len(xy)/2)
	for i := range s {
		s[i] = drawing.Spot{X: xy[2*i], Y: xy[2*i+1]}
	}
	return s
}

const black drawing.Colour = 0xFF000000

func TestAreas(t *testing.T) {
	for _, row := range []struct {
		name  string
		shape drawing.Shape
		area  float64
		off   float64 // px² by which round ends and corners may differ
	}{
		{"square", drawing.Shape{Form: drawing.Rect, Spots: spots(10, 20, 50, 40), Fill: black}, 800, 0.5},
		{"square, the other way", drawing.Shape{Form: drawing.Rect, Spots: spots(50, 40, 10, 20), Fill: black}, 800, 0.5},
		{"rounded square", drawing.Shape{Form: drawing.Rect, Spots: spots(10, 20, 50, 40), Radius: 8, Fill: black}, 800 - 64*(4-math.Pi), 2},
		{"circle", drawing.Shape{Form: drawing.Circle, Spots: spots(50, 50), Radius: 18, Fill: black}, math.Pi * 18 * 18, 5},
		{"ring", drawing.Shape{Form: drawing.Circle, Spots: spots(50, 50), Radius: 18, Stroke: black, Width: 2}, math.Pi * 36 * 2, 2},
		{"half ring", drawing.Shape{Form: drawing.Arc, Spots: spots(50, 50), Radius: 18, From: 90, To: 270, Stroke: black, Width: 2}, math.Pi * 18 * 2, 2},
		{"triangle", drawing.Shape{Form: drawing.Area, Spots: spots(0, 0, 40, 0, 0, 30), Fill: black}, 600, 1},
		{"triangle, the other way", drawing.Shape{Form: drawing.Area, Spots: spots(0, 0, 0, 30, 40, 0), Fill: black}, 600, 1},
		{"notched", drawing.Shape{Form: drawing.Area, Spots: spots(0, 0, 40, 0, 40, 40, 20, 10, 0, 40), Fill: black}, 1600 - 600, 2},
		{"line", drawing.Shape{Form: drawing.Line, Spots: spots(10, 10, 110, 10), Stroke: black, Width: 4}, 400, 0.5},
		{"slanted line", drawing.Shape{Form: drawing.Line, Spots: spots(0, 0, 30, 40), Stroke: black, Width: 3}, 150, 0.5},
		{"line with round ends", drawing.Shape{Form: drawing.Line, Spots: spots(10, 10, 110, 10), Stroke: black, Width: 8, Round: true}, 800 + math.Pi*16, 18}, // where an end is put on, 8 px² lie twice
		{"hair line", drawing.Shape{Form: drawing.Line, Spots: spots(10, 10, 110, 10), Stroke: black, Width: 0.25}, 25, 0.2},
		{"corner", drawing.Shape{Form: drawing.Line, Spots: spots(10, 10, 60, 10, 60, 60), Stroke: black, Width: 4}, 400, 0.5},
		{"dashes", drawing.Shape{Form: drawing.Line, Spots: spots(0, 10, 100, 10), Stroke: black, Width: 2, Dash: []float64{5, 15}}, 5 * 5 * 2, 0.5},
		{"dashes around a corner", drawing.Shape{Form: drawing.Line, Spots: spots(0, 0, 30, 0, 30, 30), Stroke: black, Width: 2, Dash: []float64{10, 10}}, 30 * 2, 0.5},
		{"filled and framed", drawing.Shape{Form: drawing.Rect, Spots: spots(10, 10, 30, 30), Fill: black, Stroke: black, Width: 2}, 400 + 160, 1},
	} {
		for _, scale := range []float64{1, 1.5, 3} {
			m := &mesh{}
			m.shape(row.shape, scale)
			got := covered(m) / (scale * scale)
			if math.Abs(got-row.area) > row.off {
				t.Errorf("%s at %g covers %.2f px², want %.2f", row.name, scale, got, row.area)
			}
		}
	}
}

// A straight line of whole width on whole pixels is as sharp as the screen: in the middle of each of its pixels it is
// full, in the middle of each pixel beside them there is nothing.
func TestLinesAreSharp(t *testing.T) {
	m := &mesh{}
	m.shape(drawing.Shape{Form: drawing.Line, Spots: spots(0, 10.5, 50, 10.5), Stroke: black, Width: 1}, 1)
	for y, want := range map[float64]float64{8.5: 0, 9.5: 0, 10.5: 1, 11.5: 0, 12.5: 0} {
		if got := alphaAt(m, 25, y); math.Abs(got-want) > 1e-6 {
			t.Errorf("at %g it is %g, want %g", y, got, want)
		}
	}
}

// alphaAt is the greatest alpha that a triangle has at a place.
func alphaAt(m *mesh, x, y float64) float64 {
	most := 0.0
	for i := 0; i < len(m.indices); i += 3 {
		a, b, c := m.vertices[m.indices[i]], m.vertices[m.indices[i+1]], m.vertices[m.indices[i+2]]
		pa, pb, pc, p := pt{float64(a.DstX), float64(a.DstY)}, pt{float64(b.DstX), float64(b.DstY)}, pt{float64(c.DstX), float64(c.DstY)}, pt{x, y}
		all := pb.minus(pa).cross(pc.minus(pa))
		if all == 0 {
			continue
		}
		u, v, w := pb.minus(p).cross(pc.minus(p))/all, pc.minus(p).cross(pa.minus(p))/all, pa.minus(p).cross(pb.minus(p))/all
		if u >= 0 && v >= 0 && w >= 0 {
			most = max(most, u*float64(a.ColorA)+v*float64(b.ColorA)+w*float64(c.ColorA))
		}
	}
	return most
}

// No shape, however odd, makes a corner that is not a number, or an index beyond the corners.
func FuzzShape(f *testing.F) {
	f.Add(uint8(0), 1.0, 2.0, 1.0, 2.0, 30.0, -4.0, 3.0, 2.0, 5.0, 2.0)
	f.Add(uint8(1), 0.0, 0.0, 40.0, 0.0, 0.0, 30.0, 0.0, 1.0, 0.0, 0.0)
	f.Add(uint8(2), 0.0, 0.0, 40.0, 10.0, 0.0, 30.0, 50.0, 1.0, 0.0, 3.0)
	f.Add(uint8(4), 5.0, 5.0, 0.0, 0.0, 0.0, 0.0, 9.0, 1.0, 3.0, 2.0)
	f.Fuzz(func(t *testing.T, form uint8, x0, y0, x1, y1, x2, y2, radius, width, on, off float64) {
		for _, v := range []float64{x0, y0, x1, y1, x2, y2, radius, width, on, off} {
			if !(math.Abs(v) < 1e4) {
				return
			}
		}
		s := drawing.Shape{Form: drawing.Form(form % 5), Spots: spots(x0, y0, x1, y1, x2, y2), Radius: radius, From: x1, To: x2,
			Fill: black, Stroke: black, Width: width, Round: on > off}
		switch s.Form {
		case drawing.Rect:
			s.Spots = s.Spots[:2]
		case drawing.Circle, drawing.Arc:
			s.Spots = s.Spots[:1]
		}
		if on > 1 && off > 1 {
			s.Dash = []float64{on, off}
		}
		m := &mesh{}
		m.shape(s, 1.25)
		if len(m.indices)%3 != 0 {
			t.Fatalf("%d indices", len(m.indices))
		}
		for _, i := range m.indices {
			if int(i) >= len(m.vertices) {
				t.Fatalf("index %d of %d corners", i, len(m.vertices))
			}
		}
		for _, v := range m.vertices {
			if math.IsNaN(float64(v.DstX+v.DstY)) || math.IsInf(float64(v.DstX+v.DstY), 0) {
				t.Fatalf("a corner at %g, %g", v.DstX, v.DstY)
			}
		}
	})
}
