package circuit

// This file says how a lead gets to a point and what that costs. The minutes are the catalogue's.

import "underload/circuit/catalog"

// Reach is how a lead gets to a point.
type Reach int

// The ways to a point, from the easiest to the hardest.
const (
	Open    Reach = iota // bare metal in plain sight: a fuse top, a stud, a battery clamp
	Near                 // back-probed, near and unsealed
	Sealed               // back-probed through a wire seal
	Trim                 // back-probed behind trim or a panel
	Apart                // on the pin's side: only with the connector apart
	InLoom               // buried: the loom has to be opened
	Nowhere              // inside a part: the model knows it, a person cannot touch it
)

var reaches = []struct {
	name string // as the file and the program write it
	act  string // of the catalogue, that a lead gets there by; empty: by none
	says string
}{
	Open:    {"open", catalog.FuseTop, "open, a lead goes straight on"},
	Near:    {"near", catalog.BackProbeNear, "back-probe"},
	Sealed:  {"sealed", catalog.BackProbeSealed, "back-probe past the wire seal, with a thin probe"},
	Trim:    {"trim", catalog.BackProbeTrim, "back-probe behind trim"},
	Apart:   {"apart", catalog.UnplugNear, "only with the connector apart, with the mating pin"},
	InLoom:  {"loom", catalog.OpenLoom, "in the loom: open it, find it, wrap it again"},
	Nowhere: {"nowhere", "", "inside the part: a lead cannot get there"},
}

// String is the word used in files and lists.
func (r Reach) String() string { return reaches[r].name }

// Says is a short phrase for people.
func (r Reach) Says() string { return reaches[r].says }

// Minutes is what it costs to put a lead there (common practice, no source).
func (r Reach) Minutes() float64 {
	if reaches[r].act == "" {
		return 0
	}
	return catalog.Minutes(reaches[r].act)
}

// reachNames are those that a file may give.
func reachNames() []string {
	return []string{Open.String(), Near.String(), Sealed.String(), Trim.String(), InLoom.String()}
}
