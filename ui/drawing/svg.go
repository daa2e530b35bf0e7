package drawing

// This file writes a scene as SVG.

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// WriteSVG writes the scene, or the part of it between two places across it.
func (s *Scene) WriteSVG(w io.Writer, title string, from, to float64) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="%s 0 %s %s" font-family="Go, Helvetica, Arial, 'Liberation Sans', sans-serif">`+"\n",
		num(to-from), num(s.Height), num(from), num(to-from), num(s.Height))
	if title != "" {
		fmt.Fprintf(out, "<title>%s</title>\n", ForXML(title))
	}
	fmt.Fprintf(out, `<rect x="%s" width="%s" height="%s" fill="%s"/>`+"\n", num(from), num(to-from), num(s.Height), s.Ground.hex())
	for _, shape := range s.Shapes {
		if left, right := shape.reach(); right < from || left > to {
			continue
		}
		out.WriteString(shape.svg())
		out.WriteByte('\n')
	}
	out.WriteString("</svg>\n")
	return out.Flush()
}

// num writes a length to a tenth of a pixel.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64)
}

func (c Colour) hex() string {
	if c == 0 {
		return "none"
	}
	return fmt.Sprintf("#%06X", uint32(c)&0xFFFFFF)
}

// reach is how far a shape extends to the left and right.
func (s Shape) reach() (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for _, at := range s.Spots {
		left, right = min(left, at.X), max(right, at.X)
	}
	wide := s.Width / 2
	switch s.Form {
	case Circle, Arc:
		wide += s.Radius
	case Text:
		wide += textWidth(s.Words, s.Size, s.Bold)
	}
	return left - wide, right + wide
}

// svg is one element.
func (s Shape) svg() string {
	b := &strings.Builder{}
	paint := func() {
		fmt.Fprintf(b, ` fill="%s"`, s.Fill.hex())
		if s.Stroke != 0 {
			fmt.Fprintf(b, ` stroke="%s" stroke-width="%s"`, s.Stroke.hex(), num2(s.Width))
			if len(s.Dash) > 0 {
				dashes := make([]string, len(s.Dash))
				for i, d := range s.Dash {
					dashes[i] = num(d)
				}
				fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Join(dashes, " "))
			}
			if s.Round {
				b.WriteString(` stroke-linecap="round"`)
			}
		}
		b.WriteString("/>")
	}
	switch s.Form {
	case Line:
		fmt.Fprintf(b, `<path d="%s"`, s.pathData())
		paint()
	case Area:
		fmt.Fprintf(b, `<path d="%sZ"`, s.pathData())
		paint()
	case Rect:
		a, c := s.Spots[0], s.Spots[1]
		fmt.Fprintf(b, `<rect x="%s" y="%s" width="%s" height="%s"`, num(a.X), num(a.Y), num(c.X-a.X), num(c.Y-a.Y))
		if s.Radius > 0 {
			fmt.Fprintf(b, ` rx="%s"`, num(s.Radius))
		}
		paint()
	case Circle:
		fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s"`, num(s.Spots[0].X), num(s.Spots[0].Y), num(s.Radius))
		paint()
	case Arc:
		from, to := s.onArc(s.From), s.onArc(s.To)
		large := 0
		if s.To-s.From > 180 {
			large = 1
		}
		fmt.Fprintf(b, `<path d="M%s %sA%s %s 0 %d 1 %s %s"`, num(from.X), num(from.Y), num(s.Radius), num(s.Radius), large, num(to.X), num(to.Y))
		paint()
	case Text:
		s.text(b)
	}
	return b.String()
}

// num2 writes a width to a hundredth of a pixel.
func num2(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func (s Shape) text(b *strings.Builder) {
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" fill="%s"`, num(s.Spots[0].X), num(s.Spots[0].Y), num(s.Size), s.Fill.hex())
	if s.Bold {
		b.WriteString(` font-weight="700"`)
	}
	if s.Anchor != Start {
		fmt.Fprintf(b, ` text-anchor="%s"`, map[Anchor]string{Middle: "middle", End: "end"}[s.Anchor])
	}
	fmt.Fprintf(b, ">%s</text>", ForXML(s.Words))
}

func (s Shape) onArc(degrees float64) Spot {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Spot{s.Spots[0].X + s.Radius*cos, s.Spots[0].Y + s.Radius*sin}
}

// pathData draws straights, with corners rounded where a line has a radius.
func (s Shape) pathData() string {
	b := &strings.Builder{}
	last := len(s.Spots) - 1
	for i, at := range s.Spots {
		switch {
		case i == 0:
			fmt.Fprintf(b, "M%s %s", num(at.X), num(at.Y))
		case s.Form == Line && s.Radius > 0 && i < last:
			before, after := towards(at, s.Spots[i-1], s.Radius), towards(at, s.Spots[i+1], s.Radius)
			fmt.Fprintf(b, "L%s %sQ%s %s %s %s", num(before.X), num(before.Y), num(at.X), num(at.Y), num(after.X), num(after.Y))
		default:
			fmt.Fprintf(b, "L%s %s", num(at.X), num(at.Y))
		}
	}
	return b.String()
}

// towards goes from one spot towards another, half the way at most.
func towards(from, to Spot, by float64) Spot {
	dx, dy := to.X-from.X, to.Y-from.Y
	far := math.Abs(dx) + math.Abs(dy)
	if far == 0 {
		return from
	}
	share := min(by, far/2) / far
	return Spot{from.X + float64(dx*share), from.Y + float64(dy*share)}
}

// WriteSVG paints one sheet of a layout, counted from 1, or all of the strip for 0.
func (l *Layout) WriteSVG(w io.Writer, s Showing, sheet int) error {
	scene := l.Scene(s)
	from, to := 0.0, scene.Width
	if sheet != 0 {
		if sheet < 0 || sheet > len(l.Sheets) {
			return fmt.Errorf("there is no sheet %d; the drawing has %d", sheet, len(l.Sheets))
		}
		from = float64(l.Sheets[sheet-1].From) * l.Zoom
		if sheet < len(l.Sheets) {
			to = float64(l.Sheets[sheet-1].To) * l.Zoom
		}
	}
	return scene.WriteSVG(w, l.Circuit.Title, from, to)
}

// ForXML escapes words, and leaves out what XML cannot hold: control characters and bytes that are no text.
func ForXML(words string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\uFFFE' || r == '\uFFFF' {
			return ' '
		}
		return r
	}, words))
}
