package screen

// This file paints a scene: triangles for its shapes, glyphs for its words, in painting order.

import (
	"bytes"
	"image"
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"underload/ui/drawing"
)

// face is the letters' shapes in every size.
func face(file []byte) *text.GoTextFaceSource {
	source, err := text.NewGoTextFaceSource(bytes.NewReader(file))
	if err != nil {
		panic(err) // the file is part of the program
	}
	return source
}

// painter holds what painting needs again and again.
type painter struct {
	white         *ebiten.Image
	regular, bold *text.GoTextFaceSource
	faces         map[faceKey]*text.GoTextFace
	mesh          mesh
}

type faceKey struct {
	size float64
	bold bool
}

func newPainter() *painter {
	white := ebiten.NewImage(3, 3)
	white.Fill(color.White)
	return &painter{white: white, regular: face(goregular.TTF), bold: face(gobold.TTF), faces: map[faceKey]*text.GoTextFace{}}
}

// paint covers an image with a scene; scale is the device's pixels to one of the scene.
func (p *painter) paint(on *ebiten.Image, scene *drawing.Scene, scale float64) {
	ground := inkOf(scene.Ground)
	on.Fill(color.RGBA{uint8(ground.r*255 + .5), uint8(ground.g*255 + .5), uint8(ground.b*255 + .5), 255})
	p.mesh.clear()
	for _, shape := range scene.Shapes {
		if shape.Form == drawing.Text {
			if seen(on.Bounds(), shape, scale) {
				p.flush(on)
				p.words(on, shape, scale)
			}
			continue
		}
		p.mesh.shape(shape, scale)
	}
	p.flush(on)
}

// shape adds a shape that is not words.
func (m *mesh) shape(s drawing.Shape, scale float64) {
	line, closed := outline(s, scale)
	if s.Fill != 0 {
		m.polygon(line, inkOf(s.Fill))
	}
	if s.Stroke == 0 {
		return
	}
	with := pen{width: s.Width * scale, of: inkOf(s.Stroke), round: s.Round}
	for _, d := range s.Dash {
		with.dash = append(with.dash, d*scale)
	}
	m.stroke(line, closed, with)
}

// flush draws the triangles so far.
func (p *painter) flush(on *ebiten.Image) {
	if len(p.mesh.indices) > 0 {
		on.DrawTriangles32(p.mesh.vertices, p.mesh.indices, p.white, &ebiten.DrawTrianglesOptions{ColorScaleMode: ebiten.ColorScaleModePremultipliedAlpha})
		p.mesh.clear()
	}
}

// face gives the letters of a size, in pixels of the device.
func (p *painter) face(size float64, bold bool) *text.GoTextFace {
	key := faceKey{size, bold}
	if p.faces[key] == nil {
		source := p.regular
		if bold {
			source = p.bold
		}
		p.faces[key] = &text.GoTextFace{Source: source, Size: size}
	}
	return p.faces[key]
}

// words draws words whose baseline and begin lie on whole pixels of the device.
func (p *painter) words(on *ebiten.Image, s drawing.Shape, scale float64) {
	if s.Words == "" || s.Fill == 0 || len(s.Spots) == 0 {
		return
	}
	face := p.face(s.Size*scale, s.Bold)
	x := s.Spots[0].X * scale
	if s.Anchor != drawing.Start {
		width := text.AdvanceAt(s.Words, len(s.Words), face)
		if s.Anchor == drawing.Middle {
			width /= 2
		}
		x -= width
	}
	options := &text.DrawOptions{}
	options.GeoM.Translate(math.Round(x), math.Round(s.Spots[0].Y*scale-face.Metrics().HAscent))
	of := inkOf(s.Fill)
	options.ColorScale.Scale(of.r, of.g, of.b, of.a)
	text.Draw(on, s.Words, face, options)
}

// seen reports whether words can reach into the picture; no letter is wider than its size times 1.1.
func seen(within image.Rectangle, s drawing.Shape, scale float64) bool {
	if len(s.Spots) == 0 {
		return false
	}
	size := s.Size * scale
	wide := 1.1 * size * float64(len(s.Words))
	x, y := s.Spots[0].X*scale, s.Spots[0].Y*scale
	return x+wide > 0 && x-wide < float64(within.Max.X) && y+size > 0 && y-size < float64(within.Max.Y)
}
