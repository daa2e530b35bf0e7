// Conditions a terminal or joint can be in. All common practice, no source.

package catalog

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/spelling"
)

// Place says where in a joint a condition sits.
type Place string

// The places of a joint.
const (
	AtContact Place = "contact" // between terminal and pin
	AtCrimp   Place = "crimp"   // between wire and terminal
	AtStud    Place = "stud"    // between ring and metal
	Anywhere  Place = "any"
)

// Condition is a named state of a joint: the ohms it adds, and what it shows.
type Condition struct {
	Name                 string
	Place                Place
	LowOhms, CentralOhms float64
	HighOhms             float64 // +Inf: it may be open
	DragShare            float64 // of a sound terminal's drag
	Looks                string  // what an eye would notice; empty: it looks sound
	Unplug               Unplug
}

// Unplug is what pulling the joint apart and joining it again does.
type Unplug struct {
	Heals float64 // chance that it reads well afterwards
	Ohms  float64 // what it then adds
	Says  string
}

// A film on a tight contact holds back small volts, and breaks through under larger ones: a dry test has to stay below
// 20 mV for that reason (ASTM B539 and IEC 60512, summaries read). From where on it breaks through, and what is left then,
// is common practice, no source.
const (
	FilmBreaksVolts = 0.5
	BrokenFilmOhms  = 0.010
)

var conditions = []Condition{
	{"spread", AtContact, 0.1, 6, 100, 0.16, "its mouth stands wider than its neighbours'", Unplug{0.5, 0.020, "wipes it bright for a day to a month"}},
	{"fretted", AtContact, 0.010, 0.5, 1000, 0.9, "fine black spots where it touches", Unplug{0.7, 0.010, "wipes it bright for days to months"}},
	{"filmed", AtContact, 1, 20, 10000, 1, "", Unplug{0.9, 0.004, "wipes the film away until another has grown"}},
	{"corroded", AtContact, 0.05, 2, 50, 0.7, "green or white deposit, a swollen seal", Unplug{0.4, 0.5, "helps for some weeks, the water is still there"}},
	{"backed-out", AtContact, 1e6, math.Inf(1), math.Inf(1), 0, "sits lower than its neighbours and moves at a light tug", Unplug{0.5, 0.004, "may be pushed home, lost at the next tug"}},
	{"burnt", AtContact, 0.005, 0.045, 0.3, 0.4, "brown plastic, dulled metal", Unplug{0.5, 0.009, "better for days, then hot again"}},
	{"rust", AtStud, 0.005, 0.9, 5, 1, "rust under and around the ring", Unplug{0.6, 0.001, "tightened, it may hold for a while"}},
	{"painted", AtStud, 0.05, 1, 20, 1, "paint between ring and metal", Unplug{0.6, 0.001, "turning the ring may cut through"}},
	{"bad-crimp", AtCrimp, 0.005, 0.2, 2, 1, "the wire turns in the barrel, or insulation is caught in it", Unplug{0.1, 0.02, "twisting the wire makes it better or worse"}},
	{"high", Anywhere, 0.05, 1, 1000, 1, "", Unplug{0, 1, "nothing changes"}},
	{"open", Anywhere, math.Inf(1), math.Inf(1), math.Inf(1), 1, "", Unplug{0, math.Inf(1), "nothing changes"}},
}

// ConditionNamed finds a condition by name, in any case.
func ConditionNamed(name string) (Condition, error) {
	var names []string
	for _, c := range conditions {
		if strings.EqualFold(c.Name, name) {
			return c, nil
		}
		names = append(names, c.Name)
	}
	if near, ok := spelling.Nearest(name, names); ok {
		return Condition{}, fmt.Errorf("condition %q is not known; did you mean %q?", name, near)
	}
	return Condition{}, fmt.Errorf("condition %q is not known; the conditions are %s", name, strings.Join(names, ", "))
}
