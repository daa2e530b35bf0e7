package drawing

// This file holds what a drawing is made of when it is painted: plain shapes in order, and boxes to hit.

// Colour is 0xRRGGBB with 0xFF000000 added; zero is no colour.
type Colour uint32

func rgb(v uint32) Colour { return Colour(0xFF000000 | v) }

// Form says what a shape is.
type Form int

// The forms of a shape.
const (
	Line   Form = iota // through Spots, corners rounded by Radius
	Area               // polygon through Spots
	Rect               // from Spots[0] to Spots[1], corners rounded by Radius
	Circle             // around Spots[0]
	Arc                // around Spots[0] with Radius, from From to To, degrees clockwise from the right
	Text               // baseline at Spots[0]
)

// Anchor says which part of words stands at their spot.
type Anchor int

// The anchors of words.
const (
	Start Anchor = iota
	Middle
	End
)

// Shape is one thing to paint.
type Shape struct {
	Form     Form
	Spots    []Spot
	Radius   float64
	From, To float64
	Stroke   Colour
	Fill     Colour
	Width    float64 // of the stroke
	Dash     []float64
	Round    bool // stroke ends
	Words    string
	Size     float64
	Bold     bool
	Anchor   Anchor
	Of       string // the part, wire or point it belongs to; may be empty
}

// HitKind says what a hit box stands for.
type HitKind int

// The kinds of hit boxes.
const (
	OnPoint HitKind = iota
	OnPart
	OnWire
)

// Hit is a place to point at.
type Hit struct {
	Kind HitKind
	Name string
	At   Spot    // its middle
	W, H float64 // size
}

// Scene is a painted drawing.
type Scene struct {
	Width, Height float64
	Ground        Colour
	Shapes        []Shape
	Hits          []Hit
}

// Hit gives what a spot hits: among the boxes around it the one whose middle is nearest, points before parts before wires.
func (s *Scene) Hit(at Spot) (Hit, bool) {
	best, found := -1.0, -1
	for i, h := range s.Hits {
		dx, dy := at.X-h.At.X, at.Y-h.At.Y
		if dx < -h.W/2 || dx > h.W/2 || dy < -h.H/2 || dy > h.H/2 {
			continue
		}
		far := dx*dx + dy*dy + 1e6*float64(h.Kind)
		if found < 0 || far < best {
			best, found = far, i
		}
	}
	if found < 0 {
		return Hit{}, false
	}
	return s.Hits[found], true
}

// Theme is light or dark.
type Theme int

// The themes.
const (
	Light Theme = iota
	Dark
)

// Level is what a gauge beside a point shows, each from 0 (0 V) to 1 (the battery's open-circuit volts).
type Level struct {
	Now     float64
	Healthy float64 // below 0: not known
	Alert   bool    // out of the healthy range
}

// Showing is all that can change without anything moving.
type Showing struct {
	Theme     Theme
	Positions map[string]string  // of switches; the first position where nothing is said
	PulledIn  map[string]bool    // relays
	Apart     map[string]bool    // parts and connectors whose plug is pulled
	Out       map[string]bool    // fuses taken out
	Blown     map[string]bool    // fuses
	Lit       map[string]float64 // lamps and LEDs, 0 to 1
	Amps      map[string]float64 // of wires, by name
	Levels    map[string]Level   // of points
	Bad       map[string]bool    // in-line terminals known to be spread
	LeadA     string             // the point it touches
	LeadB     string
	Path      map[string]bool // wires and parts of the selected current path
	Selected  string          // part, wire or point
	Gauges    bool            // empty gauges where nothing was measured
}

// palette is the set of colours of a theme.
type palette struct {
	paper, panel, line, ink, ink2, ink3, accent, accentText, halo, alert, ok, lampHot, lampDim Colour
}

var palettes = map[Theme]palette{
	Light: {rgb(0xF6F3EC), rgb(0xFFFFFF), rgb(0x8A8475), rgb(0x1D2430), rgb(0x465062), rgb(0x566071), rgb(0x2E3F9E),
		rgb(0xFFFFFF), rgb(0xCBD5F3), rgb(0xAB3704), rgb(0x0A6570), rgb(0xFFD94F), rgb(0xF6E3B4)},
	Dark: {rgb(0x12161B), rgb(0x1A2027), rgb(0x7C8896), rgb(0xF2EFE8), rgb(0xC3CAD3), rgb(0x9EA8B4), rgb(0xA3B5FF),
		rgb(0x10152B), rgb(0x2D3A6B), rgb(0xFF9F70), rgb(0x74D0D6), rgb(0xFFD94F), rgb(0x6B5A2C)},
}

// insulation is what a wire's colour code looks like, in both themes.
var insulation = map[string]Colour{"BK": rgb(0x24272D), "BN": rgb(0x7A4A21), "RD": rgb(0xC4322B), "OG": rgb(0xE27D1C), "YE": rgb(0xEBC524),
	"GN": rgb(0x2E8B57), "BU": rgb(0x2B6DBD), "VT": rgb(0x7C50A6), "GY": rgb(0x8B929B), "WH": rgb(0xFBFAF5), "PK": rgb(0xEBA0B4),
	"TQ": rgb(0x2FB3B0), "GD": rgb(0xC9A24B), "SR": rgb(0xC3C8CE)}
