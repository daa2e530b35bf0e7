package circuit

// Where a lead can touch, in the orchard sprayer and in a circuit with every reach.

import (
	"slices"
	"strings"
	"testing"
)

func TestPoint(t *testing.T) {
	c := sprayer(t)
	for _, want := range []struct {
		name    string
		side    Side
		reach   Reach
		minutes float64
		says    string
	}{
		{"PC1.8", Harness, Near, 2, "harness side of PC1.8, on the tank frame: back-probe"},
		{"PC1.8.pin", PinSide, Apart, 2, "pin 8 of PC1 itself, on the tank frame: only with the connector apart, with the mating pin"},
		{"B1.neg", Harness, Open, 0.5, "the clamp on neg, behind the cab: open, a lead goes straight on"},
		{"B1.neg.pin", PinSide, Open, 0.5, "the post neg, behind the cab: open, a lead goes straight on"},
		{"F7.in", PinSide, Open, 0.5, "the fuse top at in, cab fuse box: open, a lead goes straight on"},
		{"KEY.ign", Harness, Trim, 5, "harness side of KEY.ign, dash: back-probe behind trim"},
		{"C14.4.a", Harness, Near, 2, "side a of cavity 4 in C14, bulkhead: back-probe"},
		{"C14.4.b", PinSide, Near, 2, "side b of cavity 4 in C14, bulkhead: back-probe"},
		{"S1", Tail, Open, 0.5, "splice S1, bus bar in the cab fuse box: open, a lead goes straight on"},
		{"S2", Tail, InLoom, 30, "splice S2: in the loom: open it, find it, wrap it again"},
		{"G2", Rings, Open, 0.5, "the rings on stud G2, tank frame: open, a lead goes straight on"},
		{"G2.frame", Metal, Open, 0.5, "bare metal beside stud G2, tank frame: open, a lead goes straight on"},
		{"K2.87a.pin", PinSide, Apart, 2, "pin 87a of K2 itself, cab fuse box: only with the connector apart, with the mating pin"},
	} {
		p, err := c.Point(want.name)
		if err != nil {
			t.Error(err)
			continue
		}
		if p.Name != want.name || p.Side != want.side || p.Reach != want.reach || p.Minutes != want.minutes || p.Says != want.says {
			t.Errorf("%s: side %d, %s, %g min, %q", p.Name, p.Side, p.Reach, p.Minutes, p.Says)
		}
		set := 0
		for _, is := range []bool{p.Terminal != nil, p.Splice != nil, p.Stud != nil} {
			if is {
				set++
			}
		}
		if set != 1 || p.Part != nil && p.Part.Terminal(p.Terminal.Pin) != p.Terminal {
			t.Errorf("%s does not say what it is on: %+v", p.Name, p)
		}
	}
}

func TestPointErrors(t *testing.T) {
	c := sprayer(t)
	for name, want := range map[string]string{
		"C14.4":      "C14.4.a or C14.4.b? A cavity has two sides: a towards the start of its path, b towards the end",
		"PC1":        "PC1 has terminals: PC1.1, PC1.1.pin, PC1.2, PC1.2.pin, PC1.8, PC1.8.pin, PC1.5 or PC1.5.pin?",
		"C14":        "C14 has cavities: C14.1.a, C14.1.b, C14.2.a, C14.2.b, C14.4.a or C14.4.b?",
		"W7":         "W7 is a wire, and a lead does not go through insulation: F7.out or C14.1.a?",
		"F7.pin":     "there is no point F7.pin; did you mean F7.in?",
		"g2.frame":   "there is no point g2.frame; did you mean G2.frame?",
		"F7.in.pin":  "there is no point F7.in.pin; F7 has F7.in and F7.out",
		"K2.87a":     "no wire comes to K2.87a: its cavity is empty. With the connector apart its pin can be touched: K2.87a.pin",
		"quite lost": "there is no point quite lost; a point is a terminal, a side of a cavity, a splice or a stud, like F7.in, C14.4.a, S2, G1",
		"":           "there is no point ; a point is a terminal, a side of a cavity, a splice or a stud, like F7.in, C14.4.a, S2, G1",
	} {
		p, err := c.Point(name)
		if err == nil {
			t.Errorf("Point(%q) is %s", name, p.Name)
		} else if err.Error() != want {
			t.Errorf("Point(%q):\ngot  %s\nwant %s", name, err, want)
		}
	}
}

// Each point is listed once, in the order parts, connectors, splices, studs; a fuse and a link have no pins of their own.
func TestPoints(t *testing.T) {
	c := small(t, "  L1: {is: fusible link, rating: 40 A}\n  F7: {is: fuse, rating: 15 A}\n  M1: {is: motor, draws: 4 A, pins: [M+, M_], reach: sealed}\n",
		"  a: [B1.pos, wire, L1, wire, F7, wire, C1.1, wire, S1, wire, M1, G1]\n", "splices: {S1: {}}\nconnectors: {C1: {reach: trim}}\n")
	var names []string
	for _, p := range c.Points() {
		names = append(names, p.Name+" "+p.Reach.String())
	}
	want := []string{"B1.pos open", "B1.pos.pin open", "B1.neg open", "B1.neg.pin open", "L1.in loom", "L1.out loom", "F7.in open", "F7.out open",
		"M1.M+ sealed", "M1.M+.pin apart", "M1.M_ sealed", "M1.M_.pin apart", "C1.1.a trim", "C1.1.b trim", "S1 loom", "G1 open", "G1.frame open"}
	if !slices.Equal(names, want) {
		t.Errorf("got  %s\nwant %s", strings.Join(names, ", "), strings.Join(want, ", "))
	}
	if p, err := c.Point("M1.in"); err != nil || p.Name != "M1.M+" {
		t.Errorf("the kind's own word for a pin gives %q, %v", p.Name, err)
	}
	if m := c.Part("M1"); m.Terminal("in") != m.Terminals[0] || m.Terminal("M_") != m.Terminals[1] || m.Terminal("x") != nil {
		t.Error("Part.Terminal does not know both names")
	}
}

func TestNearest(t *testing.T) {
	c := sprayer(t)
	for word, want := range map[string]string{"PCI": "PC1", "pc1.8": "PC1.8", "KEI": "KEY", "C14.4a": "C14.4.a", "B1.pso": "B1.pos", "W77": "W7", "nothing like it": "", "": ""} {
		if got := c.Nearest(word); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
	if got := c.Nearest("rum", "off", "run", "crank"); got != "run" {
		t.Errorf("Nearest among positions = %q", got)
	}
}
