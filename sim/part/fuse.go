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
	ratingAmps float64
	ownOhms    float64 // 0: from the catalogue
	kind       catalog.FuseType
	soundOhms  float64 // of the right rating; looked up once
}

func newFuse(p *circuit.Part, w *Place) Inner {
	f := &fuse{net: w.Net, ratingAmps: p.Value("rating"), ownOhms: p.Value("resistance")}
	if p.Kind.Name == "fuse" && p.Text("type") != "" {
		f.kind = catalog.FuseType(p.Text("type"))
	}
	f.soundOhms = f.ohms(f.ratingAmps)
	f.element = w.resistor(w.Inside("in"), w.Inside("out"), f.soundOhms)
	return f
}

func (f *fuse) ohms(ratingAmps float64) float64 {
	if f.ownOhms > 0 && ratingAmps == f.ratingAmps {
		return f.ownOhms
	}
	kind := f.kind
	if kind == "" {
		kind = catalog.UsualFuseType(ratingAmps)
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

func (f *fuse) fitted(s *State) float64 {
	if s.RatingAmps > 0 {
		return s.RatingAmps
	}
	return f.ratingAmps
}

func (f *fuse) Adjust(s *State) {
	ohms := f.soundOhms
	if fitted := f.fitted(s); fitted != f.ratingAmps {
		ohms = f.ohms(fitted)
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
	return math.Abs(at.Amps(f.element)) / f.fitted(s)
}

func (f *fuse) Step(s *State, at *solver.Solution) bool {
	if s.Blown || s.Flaw.Dead || f.Share(s, at) <= BlowShare {
		return false
	}
	s.Blown = true
	return true
}
