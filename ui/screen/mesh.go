package screen

// This file makes triangles of lines and areas. Every edge fades over one pixel of the device, so that a whole drawing
// is smooth in a single batch of triangles, with no second buffer and no drawing twice.

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"

	"underload/ui/drawing"
)

// pt is a place in pixels of the device.
type pt struct{ x, y float64 }

func (p pt) plus(q pt) pt               { return pt{p.x + q.x, p.y + q.y} }
func (p pt) minus(q pt) pt              { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(k float64) pt         { return pt{p.x * k, p.y * k} }
func (p pt) dot(q pt) float64           { return p.x*q.x + p.y*q.y }
func (p pt) cross(q pt) float64         { return p.x*q.y - p.y*q.x }
func (p pt) length() float64            { return math.Hypot(p.x, p.y) }
func (p pt) left() pt                   { return pt{p.y, -p.x} }
func (p pt) close(q pt) bool            { return math.Abs(p.x-q.x) < 1e-6 && math.Abs(p.y-q.y) < 1e-6 }
func (p pt) between(q pt, k float64) pt { return p.plus(q.minus(p).times(k)) }

// towards is the unit vector from p to q; p and q are apart.
func (p pt) towards(q pt) pt {
	d := q.minus(p)
	return d.times(1 / d.length())
}

// ink is a colour with its alpha multiplied in, each from 0 to 1.
type ink struct{ r, g, b, a float32 }

func inkOf(c drawing.Colour) ink {
	a := float32(c>>24&0xFF) / 255
	part := func(shift uint) float32 { return float32(c>>shift&0xFF) / 255 * a }
	return ink{part(16), part(8), part(0), a}
}

func (i ink) faded(k float64) ink {
	f := float32(k)
	return ink{i.r * f, i.g * f, i.b * f, i.a * f}
}

// feather is how far an edge fades to either side of itself, in pixels of the device.
const feather = 0.5

// mesh is a batch of triangles.
type mesh struct {
	vertices []ebiten.Vertex
	indices  []uint32
}

func (m *mesh) clear() {
	m.vertices, m.indices = m.vertices[:0], m.indices[:0]
}

// vertex adds a corner and gives its index. All corners take their colour from the middle of a white image.
func (m *mesh) vertex(at pt, of ink) uint32 {
	m.vertices = append(m.vertices, ebiten.Vertex{DstX: float32(at.x), DstY: float32(at.y), SrcX: 1.5, SrcY: 1.5,
		ColorR: of.r, ColorG: of.g, ColorB: of.b, ColorA: of.a})
	return uint32(len(m.vertices) - 1)
}

func (m *mesh) triangle(a, b, c uint32) { m.indices = append(m.indices, a, b, c) }

func (m *mesh) quad(a, b, c, d uint32) {
	m.triangle(a, b, c)
	m.triangle(b, d, c)
}

// polygon fills a simple polygon, of either direction.
func (m *mesh) polygon(outline []pt, of ink) {
	outline = distinct(outline, true)
	if len(outline) < 3 || of.a == 0 {
		return
	}
	turn := math.Copysign(1, area(outline)) // so that the outside lies to the left of an edge, or to the right
	n := len(outline)
	inner := make([]uint32, n)
	outer := make([]uint32, n)
	for i, at := range outline {
		out := corner(outline[(i+n-1)%n], at, outline[(i+1)%n]).times(turn * feather)
		inner[i] = m.vertex(at.minus(out), of)
		outer[i] = m.vertex(at.plus(out), ink{})
	}
	for i := range outline {
		j := (i + 1) % n
		m.quad(inner[i], outer[i], inner[j], outer[j])
	}
	for _, ear := range ears(outline, turn) {
		m.triangle(inner[ear[0]], inner[ear[1]], inner[ear[2]])
	}
}

// area is twice the signed area of a polygon.
func area(outline []pt) float64 {
	sum := 0.0
	for i, p := range outline {
		sum += p.cross(outline[(i+1)%len(outline)])
	}
	return sum
}

// corner is the vector from a corner to where both its edges are one pixel further left; at a needle's point it is cut.
func corner(before, at, after pt) pt {
	a, b := before.towards(at).left(), at.towards(after).left()
	sum := a.plus(b)
	if l := sum.dot(sum); l > 0.25 {
		return sum.times(2 / l)
	}
	return a
}

// ears cuts a polygon into triangles.
func ears(outline []pt, turn float64) [][3]int {
	left := make([]int, len(outline))
	for i := range left {
		left[i] = i
	}
	var cut [][3]int
	for len(left) > 3 {
		found := false
		for k := range left {
			a, b, c := left[(k+len(left)-1)%len(left)], left[k], left[(k+1)%len(left)]
			if !isEar(outline, left, a, b, c, turn) {
				continue
			}
			cut = append(cut, [3]int{a, b, c})
			left = append(left[:k], left[k+1:]...)
			found = true
			break
		}
		if !found { // it crosses itself: what is left is filled as it comes
			break
		}
	}
	for k := 1; k+1 < len(left); k++ {
		cut = append(cut, [3]int{left[0], left[k], left[k+1]})
	}
	return cut
}

func isEar(outline []pt, left []int, a, b, c int, turn float64) bool {
	p, q, r := outline[a], outline[b], outline[c]
	if q.minus(p).cross(r.minus(q))*turn <= 0 {
		return false
	}
	for _, i := range left {
		if i == a || i == b || i == c {
			continue
		}
		at := outline[i]
		if q.minus(p).cross(at.minus(p))*turn >= 0 && r.minus(q).cross(at.minus(q))*turn >= 0 && p.minus(r).cross(at.minus(r))*turn >= 0 {
			return false
		}
	}
	return true
}

// distinct leaves out corners that lie on the one before.
func distinct(line []pt, closed bool) []pt {
	kept := make([]pt, 0, len(line))
	for _, p := range line {
		if len(kept) == 0 || !p.close(kept[len(kept)-1]) {
			kept = append(kept, p)
		}
	}
	if closed && len(kept) > 1 && kept[0].close(kept[len(kept)-1]) {
		kept = kept[:len(kept)-1]
	}
	return kept
}
