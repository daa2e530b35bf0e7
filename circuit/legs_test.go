package circuit

// The legs of a path say by which sides each thing is met, with a wire between or without.

import (
	"strings"
	"testing"
)

// legsOf writes the legs of a path: a wire as -, metal to metal as =.
func legsOf(p *Path) string {
	var told []string
	for _, leg := range p.Legs() {
		mark := "="
		if leg.Wire != nil {
			mark = "-"
		}
		told = append(told, leg.From+mark+leg.To)
	}
	return strings.Join(told, " ")
}

func TestLegs(t *testing.T) {
	c, problems := Read("legs.yaml", []byte(`underload: 1
parts:
  B1: {is: battery}
  F7: {is: fuse, rating: 15 A}
  F8: {is: fuse, rating: 15 A}
  K2: {is: relay}
  E3: {is: lamp, bulb: 55 W}
  E4: {is: lamp, bulb: 55 W}
connectors:
  C1: {}
  C2: {}
  C3: {}
splices:
  S1: {}
grounds:
  G1: {to: B1.neg}
paths:
  bar: [B1.pos, wire, S1, F7, C1.1, C2.1.b-a, C3.1, S2]
  relay: [S2, K2.30-87, wire, E3, G1]
  coil: [S2, K2.86-85, wire, C1.2, G1]
  far: [K2.30, wire, F8.out-in, wire, C2.2.b]
  near: [C2.2.a, E4, wire, G1]
`))
	if c == nil {
		t.Fatal(problems)
	}
	want := []string{
		"B1.pos-S1 S1=F7.in F7.out=C1.1.a C1.1.b=C2.1.b C2.1.a=C3.1.a C3.1.b=S2",
		"S2=K2.30 K2.87-E3.in E3.out=G1",
		"S2=K2.86 K2.85-C1.2.a C1.2.b=G1",
		"K2.30-F8.out F8.in-C2.2.b",
		"C2.2.a=E4.in E4.out-G1",
	}
	for i, p := range c.Paths {
		if got := legsOf(p); got != want[i] {
			t.Errorf("%s: %s\nwant %s", p.Name, got, want[i])
		}
	}
}

// Of every path of every example each leg starts at the thing where the one before it ended.
func TestLegsHangTogether(t *testing.T) {
	for name, data := range exampleFiles(t) {
		c, problems := Read(name, data)
		if c == nil {
			t.Fatal(problems)
		}
		for _, p := range c.Paths {
			legs := p.Legs()
			if len(legs) == 0 {
				t.Errorf("%s: path %s has no legs", name, p.Name)
			}
			for i := 1; i < len(legs); i++ {
				before, _, _ := strings.Cut(legs[i-1].To, ".")
				after, _, _ := strings.Cut(legs[i].From, ".")
				if before != after {
					t.Errorf("%s: path %s: %s", name, p.Name, legsOf(p))
				}
			}
		}
	}
}
