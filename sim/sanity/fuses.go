package sanity

// This file holds what is looked at around fuses without solving anything: wires too thin for their fuse, ways without a
// fuse, and builds of fuse that do not fit their rating or their loads.

import (
	"fmt"
	"math"

	"underload/circuit"
	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// Figures of these rules. Common practice, no source.
const (
	unfusedMM2     = 16  // starter and winch cables from here on are often left without a fuse
	bladeSlotAmps  = 30  // slots of miniature and standard blades are usually wired for this at most
	largeSlotAmps  = 80  // those of large blades
	melting        = 2.0 // builds are compared by how long they bear twice their rating
	copperPerArea  = 1.0 / 58 / 0.028264
	thinnestMM2    = 0.35 // the thinnest wire of the practice table; a thinner one is reckoned by its area
	tolerableShare = 1 + 1e-9
)

func (k *checker) fuses() {
	for _, p := range k.c.Parts {
		if !isFuse(p) {
			continue
		}
		region, next := k.rails.behind(p)
		k.thinWires(p, region)
		k.build(p, region, next)
	}
	k.unfused()
}

// mostFuseAmps is the largest fuse that is usually put on a wire; false where its size is not known or nobody said it:
// the ordinary size stands in for what is still to be looked up. Aluminium is reckoned as the copper of the same ohms.
func mostFuseAmps(w *circuit.Wire) (float64, bool) {
	if w.AreaMM2 <= 0 || w.Unsaid {
		return 0, false
	}
	area := w.AreaMM2
	if w.Metal == string(catalog.Aluminium) {
		area *= copperPerArea
	}
	if use, ok := catalog.UseOf(area); ok {
		return use.FuseMaxAmps, true
	}
	use, _ := catalog.UseOf(thinnestMM2)
	return math.Round(use.FuseMaxAmps*area/thinnestMM2*10) / 10, true
}

// thinWires looks at every wire that a fuse protects.
func (k *checker) thinWires(fuse *circuit.Part, region map[int]bool) {
	rating := fuse.Value("rating")
	for _, w := range k.c.Wires {
		if len(region) == 0 {
			return
		}
		if !region[int(w.From.Spot)] || !region[int(w.To.Spot)] {
			continue
		}
		most, known := mostFuseAmps(w)
		if !known || rating <= most*tolerableShare {
			continue
		}
		k.find(Finding{
			Rule: "thin wire", Pos: w.Pos, At: fuse.Name, also: []string{w.Name}, group: fuse.Name, worse: rating / most,
			Text: fmt.Sprintf("%s is %s, and %s behind it, %s, takes %s at most", fuse.Name, rated(rating), w.Name, size(w), rated(most)),
			Hint: fmt.Sprintf("Fit %s there, or a wire of %s or more, or say under accepted why it is right", rated(most), leastArea(rating)),
		})
	}
}

// leastArea is the thinnest copper wire of the table that a fuse of this rating is put on.
func leastArea(rating float64) string {
	for _, size := range catalog.RoadWires() {
		if use, ok := catalog.UseOf(size.AreaMM2); ok && use.FuseMaxAmps >= rating {
			return quantity.Format(size.AreaMM2, quantity.SquareMillimetres, 0)
		}
	}
	return "50 mm²"
}

// unfused looks for loads that can be reached from the battery's plus without passing a fuse.
func (k *checker) unfused() {
	told := map[string]bool{}
	for spot := range k.c.Spots {
		if k.rails.unfused[spot] < 0 {
			continue
		}
		for _, t := range k.rails.takes[spot] {
			if thinnest := k.thinnestTo(spot); thinnest != nil && !told[t.Owner] {
				told[t.Owner] = true
				k.find(Finding{
					Rule: "no fuse", Pos: k.c.Part(t.Owner).Pos, At: t.Owner, also: []string{t.Name, thinnest.Name},
					Text: fmt.Sprintf("%s is fed at %s without a fuse on the way, through %s, %s", t.Owner, t.Name, thinnest.Name, size(thinnest)),
					Hint: "Put a fuse close to the battery, or say under accepted why there is none",
				})
			}
		}
	}
}

// thinnestTo is the thinnest wire on the shortest way without a fuse, or nil where that needs none: where it has no
// wire, or only such as are thick enough to be left without. A wire of which only the ohms are known counts where there
// is no other.
func (k *checker) thinnestTo(spot int) *circuit.Wire {
	var thinnest *circuit.Wire
	for at := spot; k.rails.unfused[at] > 0; at = k.rails.by[at].to {
		w := k.rails.by[at].wire
		if w != nil && (thinnest == nil || thinnest.AreaMM2 == 0 || w.AreaMM2 > 0 && w.AreaMM2 < thinnest.AreaMM2) {
			thinnest = w
		}
	}
	if thinnest != nil && thinnest.AreaMM2 >= unfusedMM2 {
		return nil
	}
	return thinnest
}

// build looks at a fuse's build: too large a rating for the slots of that build, or a slow build where nothing on the
// fuse starts with a surge and it does not stand before other fuses.
func (k *checker) build(fuse *circuit.Part, region map[int]bool, next []*circuit.Part) {
	if fuse.Kind.Name != "fuse" {
		return
	}
	rating, is := fuse.Value("rating"), fuse.FuseType()
	slot := math.Inf(1)
	switch is {
	case catalog.Miniature, catalog.Standard:
		slot = bladeSlotAmps
	case catalog.Large:
		slot = largeSlotAmps
	}
	if rating > slot {
		k.find(Finding{Rule: "fuse type", Pos: fuse.Pos, At: fuse.Name,
			Text: fmt.Sprintf("%s is %s, and slots of %s fuses are usually made for %s at most", fuse.Name, rated(rating), is, rated(slot)),
			Hint: fmt.Sprintf("Use a %s fuse", catalog.UsualFuseType(rating))})
		return
	}
	usual := catalog.UsualFuseType(rating)
	least, most := bears(is)
	usualLeast, usualMost := bears(usual)
	if usualMost >= most || len(region) == 0 || len(next) > 0 || k.surges(region) {
		return
	}
	k.find(Finding{Rule: "fuse type", Pos: fuse.Pos, At: fuse.Name,
		Text: fmt.Sprintf("%s is a %s fuse: it bears twice its rating for %g to %g s, where a %s one bears it for %g to %g s, and nothing on it starts with a surge",
			fuse.Name, is, least, most, usual, usualLeast, usualMost),
		Hint: fmt.Sprintf("Use a %s fuse", usual)})
}

// bears is how long a build bears twice its rating.
func bears(is catalog.FuseType) (least, most float64) {
	for _, limit := range catalog.MeltTimes(is).Limits {
		if limit.OfRating == melting {
			return limit.MinSeconds, limit.MaxSeconds
		}
	}
	return 0, 0
}

// surges says that a motor hangs in a region.
func (k *checker) surges(region map[int]bool) bool {
	for spot := range region {
		for _, t := range k.rails.takes[spot] {
			if k.c.Part(t.Owner).Kind.Name == "motor" {
				return true
			}
		}
	}
	return false
}

func rated(a float64) string { return quantity.Format(a, quantity.Amperes, 0) }
func amps(a float64) string  { return quantity.Format(a, quantity.Amperes, 3) }
func volts(v float64) string { return quantity.Format(v, quantity.Volts, 3) }

// size is a wire's size in words.
func size(w *circuit.Wire) string {
	if w.AreaMM2 == 0 {
		return "of which only the ohms are known"
	}
	return w.Size()
}
