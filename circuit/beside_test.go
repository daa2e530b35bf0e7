package circuit

import "testing"

// The end of a part's place is where it is wanted in a drawing; words that name no part are words.
func TestBeside(t *testing.T) {
	for place, want := range map[string]Beside{
		"left of F9":                       {LeftOf: "F9"},
		"'cab fuse box,  right   of F9'":   {RightOf: "F9"},
		"'left of the seat, left of F9'":   {LeftOf: "F9"},
		"cab fuse box":                     {},
		"left of engine":                   {},
		"left of F9 and a little above":    {},
		"'left of F9, behind the trim'":    {},
		"right of G1":                      {}, // a stud is no part
		"left of WHATEVER":                 {},
		"'underneath: left of F9, really'": {},
	} {
		c, problems := Read("place.yaml", []byte("underload: 1\nparts:\n  BATT: {is: battery}\n  F7: {is: fuse, rating: 15 A, place: "+place+"}\n"+
			"  F9: {is: fuse, rating: 15 A}\n  L: {is: lamp, bulb: 5 W}\npaths:\n  a: [BATT.pos, wire, F7, wire, F9, wire, L, wire, G1]\ngrounds:\n  G1: {to: BATT.neg}\n"))
		if c == nil {
			t.Errorf("%s: %v", place, problems)
			continue
		}
		if got := c.Part("F7").Drawn; got != want {
			t.Errorf("%s: drawn %+v, want %+v", place, got, want)
		}
	}
}
