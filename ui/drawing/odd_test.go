package drawing

// These tests draw what is rare: no frame, two batteries, loops, boxes joined straight to each other, metal apart from the frame.

import (
	"fmt"
	"strings"
	"testing"
)

var odd = map[string]string{
	"no frame": `
parts:
  BATT: {is: battery}
  F: {is: fuse, rating: 10 A}
  L: {is: lamp, bulb: 5 W}
  M: {is: lamp, bulb: 5 W}
paths:
  a: [BATT.pos, wire, F, wire, L, wire, BATT.neg]
  b: [F.out, wire, M, wire, BATT.neg]
`,
	"one lamp": `
parts:
  BATT: {is: battery}
  L: {is: lamp, bulb: 5 W}
paths:
  a: [BATT.pos, wire, L, wire, BATT.neg]
`,
	"two batteries in series": `
parts:
  B1: {is: battery}
  B2: {is: battery}
  L: {is: lamp, bulb: 5 W}
  T: {is: lamp, bulb: 5 W}
paths:
  a: [G1, wire, B1.neg]
  b: [B1.pos, wire, S1, wire, B2.neg]
  c: [B2.pos, wire, L, wire, G1]
  tap: [S1, wire, T, wire, G1]
grounds:
  G1: {}
`,
	"two batteries side by side": `
parts:
  B1: {is: battery}
  B2: {is: battery}
  F1: {is: fuse, rating: 100 A, type: bolt-in}
  L: {is: lamp, bulb: 5 W}
paths:
  a: [G1, wire, B1.neg]
  b: [G2, wire, B2.neg]
  c: [B1.pos, wire, S1, wire, F1, wire, B2.pos]
  d: [S1, wire, L, wire, G1]
grounds:
  G1: {}
  G2: {to: G1}
`,
	"a loop, and a lamp across one splice": `
parts:
  BATT: {is: battery}
  L: {is: lamp, bulb: 5 W}
  M: {is: lamp, bulb: 5 W}
  R: {is: resistor, resistance: 10 ohm}
  R2: {is: resistor, resistance: 10 ohm}
paths:
  a: [BATT.pos, wire, S1, wire, L, wire, G1]
  b: [S1, wire, R, wire, S1]
  c: [S1, wire, S2, wire, S3]
  x: [S3, wire, S1]
  y: [S3, wire, R2, wire, S3]
  d: [S2, wire, M, wire, G1]
  e: [G0, wire, BATT.neg]
grounds:
  G0: {}
  G1: {to: G0}
`,
	"boxes joined to each other": `
parts:
  BATT: {is: battery}
  U1: {is: module, supply: ["1"], ground: ["2"], signals: ["3", "4", "5"], bus: [H, L]}
  U2: {is: module, supply: ["1"], ground: ["2"], signals: ["3", "4"], bus: [H, L]}
  RT: {is: terminator}
paths:
  a: [BATT.pos, wire, S1, wire, U1.1]
  b: [S1, wire, U2.1]
  c: [U1.2, wire, G1]
  d: [U2.2, wire, G1]
  e: [U1.3, wire, U2.3]
  f: [U1.4, wire, U1.5]
  g: [U1.H, wire: WH/GN, U2.H]
  h: [U1.L, wire: BN/WH, U2.L]
  i: [U2.4, wire, RT, wire, G1]
  j: [G1, wire, BATT.neg]
grounds:
  G1: {}
`,
	"metal apart from the frame": `
parts:
  BATT: {is: battery}
  L: {is: lamp, bulb: 5 W}
  M: {is: lamp, bulb: 5 W}
  N: {is: lamp, bulb: 5 W}
paths:
  a: [BATT.pos, wire, S1, wire, L, wire, T1]
  b: [S1, wire, M, wire, T2]
  c: [S1, wire, N, wire, T2]
  d: [T1, wire: BN 4 mm2 5 m, G1]
  e: [G0, wire, BATT.neg]
grounds:
  G0: {}
  G1: {to: G0}
  T1: {place: trailer}
  T2: {place: trailer, to: T1}
`,
	"splices bolted together, wires bolted to one terminal": `
parts:
  BATT: {is: battery}
  F: {is: fuse, rating: 10 A}
  L: {is: lamp, bulb: 5 W}
  M: {is: motor, draws: 3 A}
  K: {is: relay}
paths:
  a: [BATT.pos, S1, F, S2, S3, wire, L, G1]
  b: [S2, wire, M, wire, L.out]
  c: [S1, K.30-87, M.in]
  d: [F.out, wire, K.86-85, G1]
  e: [G1, BATT.neg]
grounds:
  G1: {}
splices:
  S1: {}
  S2: {}
  S3: {}
`,
	"ground straight to the clamp": `
parts:
  BATT: {is: battery}
  L: {is: lamp, bulb: 5 W}
  E: {is: led}
paths:
  a: [BATT.pos, wire, C1.1, wire, L, wire, C1.2, wire, G1]
  b: [BATT.pos, wire, C1.3, wire, E, wire, C1.4, wire, G2]
grounds:
  G1: {to: BATT.neg}
  G2: {to: G1}
`,
}

// many is a circuit with many wires through one connector to one stud, and a box with many pins.
func many() string {
	var parts, paths strings.Builder
	outputs, signals := []string{}, []string{}
	for i := 1; i <= 40; i++ {
		fmt.Fprintf(&parts, "  L%d: {is: lamp, bulb: 5 W}\n", i)
		fmt.Fprintf(&paths, "  c%d: [S1, wire: RD/WH 0.5 mm2, C1.%d, wire: RD 0.5 mm2, L%d, wire: BN 0.5 mm2, G1]\n", i, i, i)
	}
	for i := 3; i <= 26; i++ {
		fmt.Fprintf(&parts, "  M%d: {is: lamp, bulb: 5 W}\n", i)
		fmt.Fprintf(&paths, "  o%d: [S1, wire: GN 0.5 mm2, M%d, wire: GN/WH 0.5 mm2, U.%d]\n", i, i, i)
		outputs = append(outputs, fmt.Sprintf("%d: {pulls to: ground, for: M%d}", i, i))
	}
	for i := 27; i <= 30; i++ {
		signals = append(signals, fmt.Sprint(i))
	}
	return "parts:\n  BATT: {is: battery}\n  F1: {is: fuse, rating: 15 A}\n" + parts.String() +
		"  U: {is: module, supply: [1], ground: [2], signals: [" + strings.Join(signals, ", ") + "], outputs: {" + strings.Join(outputs, ", ") + "}}\n" +
		"paths:\n  feed: [BATT.pos, wire, S1]\n  back: [G1, wire, BATT.neg]\n  u: [S1, F1, wire, U.1]\n  g: [U.2, wire, G1]\n" + paths.String() +
		"splices:\n  S1: {reach: open}\ngrounds:\n  G1: {}\n"
}

// A stud with many wires is drawn several times, the pins of a box come in the order of the file, and a box that is cut
// has its name on each sheet.
func TestMany(t *testing.T) {
	l := Lay(madeUp(t, "many", "underload: 1\ntitle: many\n"+many()), page, nil)
	demand(t, "many", l)
	for _, h := range l.net.hubs {
		if h.stem() != nil && len(h.ends) > mostAtStud+1 {
			t.Errorf("%d wires on one picture of %s", len(h.ends)-1, h.name)
		}
	}
	turned := 0
	for i := 4; i <= 26; i++ {
		if l.middle(t, fmt.Sprint("M", i)) < l.middle(t, fmt.Sprint("M", i-1)) {
			turned++
		}
	}
	if turned > 0 {
		t.Errorf("%d of 24 pins are left of the one before", turned)
	}
	var box rect
	for h, r := range l.drawn.boxes {
		if h.name == "U" {
			box = r
		}
	}
	sheets, names := 0, 0
	for _, s := range l.Sheets {
		if s.From < box.x1 && s.To > box.x0 {
			sheets++
		}
	}
	for _, b := range l.drawn.labels {
		if b.words == "U" {
			names++
		}
	}
	if sheets < 2 || names != sheets {
		t.Errorf("U is on %d sheets and named %d times", sheets, names)
	}
}

func TestOddCircuits(t *testing.T) {
	for name, text := range odd {
		c := madeUp(t, name, "underload: 1\ntitle: odd\n"+text)
		for _, o := range []Options{page, small, {Width: 400, Height: 320}} {
			l := Lay(c, o, nil)
			demand(t, name, l)
			again := Lay(c, o, l)
			demand(t, name+", again", again)
		}
	}
}

// A window of any size gets a drawing.
func TestAnyWindow(t *testing.T) {
	c := example(t, "street-sweeper")
	for _, o := range []Options{{}, {Width: -5, Height: -5}, {Width: 10, Height: 10}, {Width: 5000, Height: 200}, {Width: 200, Height: 5000}, {Width: 4000, Height: 3000}} {
		l := Lay(c, o, nil)
		if l.Width < 0 || l.Height <= 0 || len(l.Sheets) == 0 || len(l.Scene(Showing{}).Shapes) == 0 {
			t.Errorf("%+v: %d x %d, %d sheets", o, l.Width, l.Height, len(l.Sheets))
		}
	}
}
