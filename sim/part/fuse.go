package part

// This file is the fuse and the fusible link: a small resistance that opens for good when too much current passes.

import (
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/solver"
)

// BlowShare is the share of its rating above which a fuse is taken to blow at rest: blade fuses melt within 600 s (the
// large type within 1800 s) at 135 percent of their rating, and hold at 110 percent for 100 hours (time-current table
// of a fuse maker's data sheet said to meet ISO 8820-3).
const BlowShare = 1.35

type fuse struct {
	net        *solver.Network
	element    solver.Branch
	part       *circuit.Part
	ratingAmps float64
	soundOhms  float64 // of the right rating; looked up once
}

func newFuse(p *circuit.Part, w *Place) Inner {
	f := &fuse{net: w.Net, part: p, ratingAmps: p.Value("rating")}
	f.soundOhms = FuseOhms(p, f.ratingAmps)
	f.element = w.resistor(w.Inside("in"), w.Inside("out"), f.soundOhms)
	return f
}

// FuseKind is how a fuse of a rating is built that is put in a slot; of a link it is that of a link.
func FuseKind(p *circuit.Part, ratingAmps float64) catalog.FuseType {
	switch {
	case p.Kind.Name == "fusible link":
		return catalog.FusibleLink
	case p.Text("type") != "":
		return catalog.FuseType(p.Text("type"))
	}
	return catalog.UsualFuseType(ratingAmps)
}

// FuseOhms is the cold resistance of a fuse, or link, of a rating that is put in a slot.
func FuseOhms(p *circuit.Part, ratingAmps float64) float64 {
	if own := p.Value("resistance"); own > 0 && ratingAmps == p.Value("rating") {
		return own
	}
	kind := catalog.UsualFuseType(ratingAmps)
	if p.Kind.Name == "fuse" {
		kind = FuseKind(p, ratingAmps)
	}
	made, err := catalog.FuseOf(kind, ratingAmps)
	if err != nil { // a rating that this build is not made in: whatever build is
		made, err = catalog.FuseOf(catalog.UsualFuseType(ratingAmps), ratingAmps)
	}
	if err != nil {
		return unknownFuseOhms
	}
	return made.ColdOhms
}

// unknownFuseOhms stands for a fuse of a rating that nobody makes.
const unknownFuseOhms = 0.001

// Fitted is the rating of the fuse that is in a slot.
func Fitted(p *circuit.Part, s *State) float64 {
	if s.RatingAmps > 0 {
		return s.RatingAmps
	}
	return p.Value("rating")
}

func (f *fuse) Adjust(s *State) {
	ohms := f.soundOhms
	if fitted := Fitted(f.part, s); fitted != f.ratingAmps {
		ohms = FuseOhms(f.part, fitted)
	}
	if s.Blown || s.Flaw.Dead {
		ohms = math.Inf(1)
	}
	f.net.SetOhms(f.element, ohms)
}

// Fuse is a part that opens for good.
type Fuse interface {
	Inner
	// Share is the current it carries over the rating of what is fitted. Of two in series the one with the larger share
	// melts first, and then saves the other.
	Share(s *State, at *solver.Solution) float64
}

func (f *fuse) Share(s *State, at *solver.Solution) float64 {
	return math.Abs(at.Amps(f.element)) / Fitted(f.part, s)
}

func (f *fuse) Step(s *State, at *solver.Solution) bool {
	if s.Blown || s.Flaw.Dead || f.Share(s, at) <= BlowShare {
		return false
	}
	s.Blown = true
	return true
}
