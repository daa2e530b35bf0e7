package circuit

// How pins are fed and grounded in the orchard sprayer, looked up as on its diagram, and in small circuits with loops.

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// sprayer reads the example that most tests here use.
func sprayer(t testing.TB) *Circuit {
	t.Helper()
	c, problems := ReadFile("../circuits/orchard-sprayer.yaml")
	if c == nil {
		t.Fatal(problems)
	}
	return c
}

// told writes feeds as lines of text.
func told(c *Circuit, feeds []Feed) string {
	var b strings.Builder
	for _, f := range feeds {
		sign := "minus"
		if f.Plus {
			sign = "plus"
		}
		fmt.Fprintf(&b, "%s (%s) to %s, %s", f.Terminal.Name, f.Purpose, sign, f.When())
		if f.Tested {
			fmt.Fprintf(&b, "; test at %s, %g min", f.Test.Name, f.Test.Minutes)
		}
		b.WriteString("\n")
		for _, way := range append([][]Link{f.Way}, f.Others...) {
			for _, l := range way {
				b.WriteString("  " + l.Name() + ": " + l.Says(c))
				for i, p := range l.Sharers {
					b.WriteString(map[bool]string{true: " | also ", false: ", "}[i == 0] + p.Name)
				}
				b.WriteString("\n")
			}
			if f.End != nil {
				b.WriteString("  = " + f.End.Name + "\n")
			}
		}
	}
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(b.String())
}

func TestFeeds(t *testing.T) {
	c := sprayer(t)
	var said strings.Builder
	for _, name := range []string{"PC1", "M1", "E3", "K2", "F7", "B1"} {
		feeds, err := c.Feeds(name)
		if err != nil {
			t.Fatal(err)
		}
		said.WriteString("== " + name + "\n" + told(c, feeds))
	}
	golden := "testdata/feeds.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(said.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if said.String() != string(want) {
		t.Errorf("told:\n%s\nwant:\n%s", said.String(), want)
	}
}

// small reads a circuit of a few lines.
func small(t *testing.T, parts, paths, grounds string) *Circuit {
	t.Helper()
	c, problems := Read("small.yaml", []byte("underload: 1\nparts:\n  B1: {is: battery}\n"+parts+"paths:\n"+paths+"grounds:\n  G1: {to: B1.neg}\n"+grounds))
	if c == nil {
		t.Fatal(problems)
	}
	return c
}

// way writes what is passed on a way by names alone.
func way(links []Link) string {
	var names []string
	for _, l := range links {
		switch {
		case l.Wire != nil:
			names = append(names, l.Wire.Name)
		case l.Cavity != nil:
			names = append(names, l.Cavity.Name)
		case l.Splice != nil:
			names = append(names, l.Splice.Name)
		case l.Stud != nil:
			names = append(names, l.Stud.Name)
		case l.Body != nil:
			names = append(names, "metal")
		default:
			names = append(names, l.Part.Name)
		}
	}
	return strings.Join(names, " ")
}

func TestFeedsInLoops(t *testing.T) {
	const lamp = "  E3: {is: lamp, bulb: 55 W}\n"
	for _, c := range []struct{ name, parts, paths, grounds, ask, want string }{
		{"two fuses side by side", lamp + "  F1: {is: fuse, rating: 10 A}\n  F2: {is: fuse, rating: 10 A}\n",
			"  a: [B1.pos, F1, S1, wire W1, E3, G1]\n  b: [B1.pos, F2, S1]\n", "", "E3.in",
			"plus always: W1 S1 F1 = B1.pos, or W1 S1 F2"},
		{"a ring of wires", lamp, "  a: [B1.pos, wire W1, S1, wire W2, S2, wire W3, C1.1, wire W4, S1]\n  b: [S2, wire W5, E3, G1]\n", "connectors: {C1: {}}\n", "E3.in",
			"plus always: W5 S2 W2 S1 W1 = B1.pos, or W5 S2 W3 C1.1 W4 S1 W1"},
		{"a grounded case and a strap", lamp, "  a: [B1.pos, wire W1, E3, wire W2, G1]\n  b: [E3.out, wire W3, B1.neg]\n", "", "E3.out",
			"minus always: W3 = B1.neg, or W2 G1 metal"},
		{"a motor turned both ways", "  M1: {is: motor, draws: 4 A}\n  SW: {is: switch, throws: {off: [b-1, c-1], up: [a-1, c-1], down: [b-1]}}\n",
			"  a: [B1.pos, wire W1, SW.a-1, wire W2, M1, wire W3, G1]\n  b: [SW.b, wire W4, G1]\n", "", "M1.in",
			"plus with SW in up: W2 SW W1 = B1.pos; minus with SW in off or down: W2 SW W4 G1 metal = B1.neg"},
		{"the rest contact of a relay", lamp + "  K1: {is: relay}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n",
			"  a: [B1.pos, wire W1, K1.30-87a, wire W2, E3, G1]\n  b: [B1.pos, SW, wire W3, K1.86-85, G1]\n", "", "E3.in",
			"plus with K1 at rest: W2 K1 W1 = B1.pos"},
		{"a relay behind a relay", lamp + "  K1: {is: relay}\n  K2: {is: relay}\n  SW: {is: switch, throws: {off: [], on: [1-2]}}\n",
			"  a: [B1.pos, wire W1, K1.30-87, wire W2, E3, G1]\n  b: [B1.pos, wire W4, K2.30-87, wire W3, K1.86-85, G1]\n  c: [B1.pos, wire W5, K2.86-85, SW, G1]\n", "", "E3.in",
			"plus with K1 pulled in (K2 pulled in (SW in on)): W2 K1 W1 = B1.pos"},
		{"relays that hold each other in", lamp + "  K1: {is: relay}\n  K2: {is: relay}\n",
			"  a: [B1.pos, wire W1, K1.30-87, wire W2, K2.86-85, G1]\n  b: [B1.pos, wire W3, K2.30-87, wire W4, K1.86-85, G1]\n  c: [K1.87, wire W5, E3, G1]\n", "", "E3.in",
			"plus with K1 pulled in (K2 pulled in (K1 pulled in)): W5 K1 W1 = B1.pos"},
		{"diodes either way", lamp + "  D1: {is: diode}\n  D2: {is: diode}\n",
			"  a: [B1.pos, D1, wire W1, E3, G1]\n  b: [E3.in, D2, wire W2, B1.pos]\n", "", "E3.in",
			"plus always: W1 D1 = B1.pos"},
		{"a sensor on a module's 5 V", "  PC: {is: module, supply: [1], ground: [8], reference: [5], sensor ground: [6], signals: [7]}\n  T1: {is: sensor}\n",
			"  a: [B1.pos, wire W1, PC.1]\n  b: [PC.8, wire W2, G1]\n  c: [PC.5, wire W3, T1.supply]\n  d: [PC.6, wire W4, T1.ground]\n  e: [PC.7, wire W5, T1.signal]\n", "", "T1.supply",
			"plus always: W3 = PC.5"},
		{"grounds in a row", lamp, "  a: [B1.pos, wire W1, E3, G3]\n", "  G2: {to: G1}\n  G3: {to: G2}\n", "E3.out",
			"minus always: G3 metal metal metal = B1.neg"},
		{"a load in between", lamp + "  R1: {is: resistor, resistance: 4 ohm}\n", "  a: [B1.pos, wire W1, R1, wire W2, E3, G1]\n", "", "E3.in",
			"through R1"},
		{"a sensor's signal is no feed", "  T1: {is: sensor}\n", "  a: [B1.pos, wire W1, T1.supply]\n  b: [T1.signal, wire W2, G1]\n", "", "T1.signal", ""},
		{"a switch that cannot be in two positions", lamp + "  SW: {is: switch, throws: {off: [], up: [a-1], down: [b-1]}}\n  M1: {is: motor, draws: 4 A}\n",
			"  a: [B1.pos, wire W1, SW.a-1, wire W2, M1, G1]\n  b: [SW.b, wire W3, G1]\n  c: [B1.pos, wire W4, E3, G1]\n", "", "E3.out", "minus always: G1 metal = B1.neg"},
		{"a relay that cannot be in and out", lamp + "  K1: {is: relay}\n  M1: {is: motor, draws: 4 A}\n",
			"  a: [B1.pos, wire W1, K1.87-30, wire W2, M1, G1]\n  b: [K1.87a, wire W3, G1]\n  c: [B1.pos, wire W4, E3, G1]\n  d: [B1.pos, K1.86-85, G1]\n", "", "E3.out", "minus always: G1 metal = B1.neg"},
		{"a switch passed twice in one position", lamp + "  SW: {is: switch, throws: {off: [], run: [a-b, b-c]}}\n",
			"  a: [B1.pos, wire W1, SW.a-b]\n  b: [SW.c, wire W2, E3, G1]\n  c: [SW.b, wire W3, C1.1, wire W4, G1]\n", "connectors: {C1: {}}\n", "E3.in", "plus with SW in run: W2 SW SW W1 = B1.pos; minus with SW in run: W2 SW W3 C1.1 W4 G1 metal = B1.neg"},
		{"two throws of one shaft, far apart", lamp + "  SW: {is: switch, throws: {off: [], up: [a-1, 2-c], down: [b-1, 2-d]}}\n",
			"  a: [B1.pos, wire W1, SW.a-1, wire W2, SW.2-d, wire W3, E3, G1]\n", "", "E3.in", "never: no way was found"},
	} {
		t.Run(c.name, func(t *testing.T) {
			circuit := small(t, c.parts, c.paths, c.grounds)
			part, _, _ := strings.Cut(c.ask, ".")
			feeds, err := circuit.Feeds(part)
			if err != nil {
				t.Fatal(err)
			}
			var said []string
			for _, f := range feeds {
				if f.Terminal.Name != c.ask {
					continue
				}
				if f.End == nil {
					said = append(said, f.When())
					continue
				}
				words := map[bool]string{true: "plus ", false: "minus "}[f.Plus] + f.When() + ": " + way(f.Way) + " = " + f.End.Name
				for _, other := range f.Others {
					words += ", or " + way(other)
				}
				said = append(said, words)
			}
			if got := strings.Join(said, "; "); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestFeedsOfNothing(t *testing.T) {
	c := sprayer(t)
	if _, err := c.Feeds("PC2"); err == nil || !strings.Contains(err.Error(), "did you mean PC1?") {
		t.Errorf("Feeds(PC2): %v", err)
	}
	if _, err := c.Feeds("nothing like it"); err == nil || !strings.Contains(err.Error(), "the parts are B1, F1") {
		t.Errorf("an unknown part: %v", err)
	}
	if feeds, err := c.Feeds("B1"); err != nil || len(feeds) > 0 {
		t.Errorf("a battery is fed by %v, %v", feeds, err)
	}
}

// A splice in the loom is no place to test: the test point then lies further on, or on the terminal itself.
func TestFeedTestPoint(t *testing.T) {
	c := small(t, "  E3: {is: lamp, bulb: 55 W, reach: loom}\n", "  a: [B1.pos, wire, E3, wire, S1, wire, C1.1, wire, G1]\n", "splices: {S1: {}}\nconnectors: {C1: {}}\n")
	feeds, err := c.Feeds("E3")
	if err != nil || len(feeds) != 2 {
		t.Fatalf("%v, %v", feeds, err)
	}
	for i, want := range []string{"B1.pos", "C1.1.a"} {
		if f := feeds[i]; f.Test.Name != want || !f.Tested {
			t.Errorf("%s: test at %q, want %q", f.Terminal.Name, f.Test.Name, want)
		}
	}
}

// Ways says of every part what Feeds says, but for what it leaves out.
func TestWaysAreFeeds(t *testing.T) {
	c := sprayer(t)
	ways := c.Ways()
	compared := 0
	for _, p := range c.Parts {
		feeds, err := c.Feeds(p.Name)
		if err != nil {
			t.Fatal(err)
		}
		brief := ways.Of(p)
		if len(brief) != len(feeds) {
			t.Fatalf("%s: %d ways, %d feeds", p.Name, len(brief), len(feeds))
		}
		for i, f := range feeds {
			b := brief[i]
			compared++
			if b.Terminal != f.Terminal || b.Plus != f.Plus || b.End != f.End || b.When() != f.When() || way(b.Way) != way(f.Way) {
				t.Errorf("%s: %s %s, want %s %s", f.Terminal.Name, b.When(), way(b.Way), f.When(), way(f.Way))
			}
			for _, l := range b.Way {
				if l.Sharers != nil {
					t.Errorf("%s: sharers were looked up", f.Terminal.Name)
				}
			}
		}
	}
	if compared < 15 {
		t.Fatalf("%d feeds", compared)
	}
}

// A stud where two cables are bolted ring on ring is on the way, though no current passes into its metal; one whose metal
// is passed stands there once.
func TestFeedsNameStudsFromRingToRing(t *testing.T) {
	const text = `underload: 1
parts:
  B1: {is: battery}
  L1: {is: lamp, bulb: 5 W}
  L2: {is: lamp, bulb: 5 W}
paths:
  feed: [B1.pos, wire, L1, wire, G2, wire, B1.neg]
  more: [L1.in, wire, L2, wire, G3]
  bolted: [L2.out, G4]
grounds:
  G2: {}
  G3: {to: G2}
  G4: {to: G3}
`
	c, problems := Read("studs.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	for _, row := range []struct {
		part string
		want []string
	}{
		{"L1", []string{"L1.out~G2", "G2", "G2~B1.neg"}},
		{"L2", []string{"G4", "L2.out~G3", "G3", "G3 on", "G2", "G2~B1.neg"}},
	} {
		feeds, err := c.Feeds(row.part)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, l := range feeds[len(feeds)-1].Way {
			got = append(got, l.Name())
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("%s goes by %v, want %v", row.part, got, row.want)
		}
	}
}
