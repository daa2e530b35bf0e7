package circuit

// What comes out of right files: names, joins, values, and what stands where nothing is said.

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"underload/circuit/catalog"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// Two steps with nothing between them are one spot; what a wire or a part lies between is two.
func TestSpots(t *testing.T) {
	c := small(t, "  F7: {is: fuse, rating: 15 A}\n  F8: {is: fuse, rating: 15 A}\n  E3: {is: lamp, bulb: 55 W}\n",
		"  a: [B1.pos, wire W1, S1, F7, C1.1, wire W2, E3, G1]\n  b: [S1, F8, wire W3, C1.2, E3.in]\n", "")
	spot := func(name string) Spot {
		if s := c.Splice(name); s != nil {
			return s.Spot
		}
		if s := c.Stud(name); s != nil {
			return s.Spot
		}
		base, far := strings.CutSuffix(name, ".b")
		if far {
			return c.Terminal(base).FarSpot
		}
		return c.Terminal(name).Spot
	}
	groups := [][]string{{"B1.pos"}, {"S1", "F7.in", "F8.in"}, {"F7.out", "C1.1"}, {"C1.1.b"}, {"E3.in", "C1.2.b"}, {"E3.out", "G1"}, {"F8.out"}, {"C1.2"}, {"B1.neg"}}
	if c.Spots != len(groups) {
		t.Errorf("%d spots, want %d", c.Spots, len(groups))
	}
	met := map[Spot]bool{}
	for _, group := range groups {
		if met[spot(group[0])] {
			t.Errorf("%s shares a spot with another group", group[0])
		}
		met[spot(group[0])] = true
		for _, name := range group {
			if s := spot(name); s != spot(group[0]) || s < 0 || int(s) >= c.Spots {
				t.Errorf("%s is spot %d, %s is %d", name, s, group[0], spot(group[0]))
			}
		}
	}
	w := c.Wire("W1")
	if w.From.Name != "B1.pos" || w.To.Name != "S1" || w.From.Splice != nil || w.To.Splice != c.Splice("S1") || w.To.Spot != spot("S1") {
		t.Errorf("wire W1: %+v", w)
	}
	if c.Wire("W2").From.Name != "C1.1.b" || c.Wire("W3").To.Name != "C1.2.a" {
		t.Error("wires end at the wrong sides of a cavity")
	}
}

func TestCavitySides(t *testing.T) {
	c := small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a: [B1.pos, wire, C1.1.b-a, wire, E3, wire, C1.2]\n  b: [C1.2.b, wire, G1]\n", "")
	ends := []string{}
	for _, w := range c.Wires {
		ends = append(ends, w.Name)
	}
	if want := []string{"B1.pos~C1.1.b", "C1.1.a~E3.in", "E3.out~C1.2.a", "C1.2.b~G1"}; !slices.Equal(ends, want) {
		t.Errorf("got %v, want %v", ends, want)
	}
}

func TestWireNames(t *testing.T) {
	c := small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a: [B1.pos, wire, S1, wire W9, E3, wire, G1]\n  b: [B1.pos, wire, S1]\n  c: [B1.pos, wire: 2 mohm, S1]\n", "")
	for _, name := range []string{"B1.pos~S1", "W9", "E3.out~G1", "B1.pos~S1#2", "B1.pos~S1#3"} {
		if c.Wire(name) == nil {
			t.Errorf("there is no wire %s", name)
		}
	}
}

func TestWireTexts(t *testing.T) {
	for text, want := range map[string]Wire{
		"":                         {AreaMM2: 0.75, Metres: 2, Metal: "copper", Ohms: 2 * 0.0247},
		"RD/GY 1.0 mm2 2.8 m":      {Colour: "RD/GY", AreaMM2: 1, Metres: 2.8, Metal: "copper", Ohms: 2.8 * 0.0185},
		"2.8 m 1mm² RD":            {Colour: "RD", AreaMM2: 1, Metres: 2.8, Metal: "copper", Ohms: 2.8 * 0.0185},
		"240cm GNYE":               {Colour: "GNYE", AreaMM2: 0.75, Metres: 2.4, Metal: "copper", Ohms: 2.4 * 0.0247},
		"BK 15 mohm":               {Colour: "BK", Metal: "copper", Ohms: 0.015},
		"1.8Ω":                     {Metal: "copper", Ohms: 1.8},
		"35 mm2 1 m aluminium":     {AreaMM2: 35, Metres: 1, Metal: "aluminium", Ohms: 0.028264 / 35},
		"aluminum 1 m BK 35 mm2":   {Colour: "BK", AreaMM2: 35, Metres: 1, Metal: "aluminium", Ohms: 0.028264 / 35},
		"18 AWG 10 ft":             {AreaMM2: math.Pi / 4 * math.Pow(0.127*math.Pow(92, 18.0/39), 2), AWG: true, Metres: 3.048, Metal: "copper", Ohms: 3.048 / 58 / (math.Pi / 4 * math.Pow(0.127*math.Pow(92, 18.0/39), 2))},
		"AWG 18 3.048 m copper WH": {Colour: "WH", AreaMM2: math.Pi / 4 * math.Pow(0.127*math.Pow(92, 18.0/39), 2), AWG: true, Metres: 3.048, Metal: "copper", Ohms: 3.048 / 58 / (math.Pi / 4 * math.Pow(0.127*math.Pow(92, 18.0/39), 2))},
	} {
		c := small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a:\n    - B1.pos\n    - wire W1: "+text+"\n    - E3\n    - G1\n", "")
		w := c.Wire("W1")
		if w.Colour != want.Colour || w.AWG != want.AWG || w.Metal != want.Metal || !near(w.AreaMM2, want.AreaMM2) || !near(w.Metres, want.Metres) || !near(w.Ohms, want.Ohms) {
			t.Errorf("%q is %+v, want %+v", text, *w, want)
		}
	}
}

// Copper gains 0.393 % a kelvin (IEC 60028, from memory): at 70 °C a wire has 1.1965 times the ohms it has at 20 °C.
func TestAmbientChangesWires(t *testing.T) {
	cold, warm := small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a: [B1.pos, wire W1, E3, G1]\n", ""), small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a: [B1.pos, wire W1, E3, G1]\n", "ambient: 70 °C\n")
	if cold.AmbientCelsius != 20 || warm.AmbientCelsius != 70 {
		t.Errorf("ambient %g and %g", cold.AmbientCelsius, warm.AmbientCelsius)
	}
	if got := warm.Wire("W1").Ohms / cold.Wire("W1").Ohms; !near(got, 1.1965) {
		t.Errorf("ratio %g", got)
	}
}

func TestTerminalDefaultsAndOverrides(t *testing.T) {
	c := small(t, "  F7: {is: fuse, rating: 15 A}\n  T1: {is: sensor}\n  M1: {is: motor, draws: 3 A, terminal size: 6.3 mm, plating: silver}\n",
		"  a: [B1.pos, wire, F7, wire, C1.1, wire, M1, wire, C1.2, G1]\n  b: [C1.3, wire, T1.supply]\n  c: [T1.ground, G1]\n  d: [F7.out, wire, C1.3.a]\n",
		"terminals:\n  C1.2: {size: 1.5 mm, contact: 9 mohm, reach: sealed, plating: gold}\n  C1.3: {crimp: 3 mohm, behind: 4 mohm}\n")
	for name, want := range map[string]Terminal{
		"B1.pos":    {SizeMM: 2.8, Plating: "tin", CrimpOhms: 0.0001, ContactOhms: 0.0001, BehindOhms: behindOhms, Reach: Open},
		"F7.in":     {SizeMM: 2.8, Plating: "tin", CrimpOhms: 0.0004, ContactOhms: 0.0006, Reach: Open},
		"M1.in":     {SizeMM: 6.3, Plating: "silver", CrimpOhms: 0.0003, ContactOhms: 0.001, BehindOhms: behindOhms, Reach: Near},
		"T1.supply": {SizeMM: 1.5, Plating: "tin", CrimpOhms: 0.0007, ContactOhms: 0.004, BehindOhms: behindOhms, Reach: Near},
		"C1.1":      {SizeMM: 2.8, Plating: "tin", CrimpOhms: 0.0005, ContactOhms: 0.002, BehindOhms: 0.0005, Reach: Near},
		"C1.2":      {SizeMM: 1.5, Plating: "gold", CrimpOhms: 0.0007, ContactOhms: 0.009, BehindOhms: 0.0007, Reach: Sealed},
		"C1.3":      {SizeMM: 2.8, Plating: "tin", CrimpOhms: 0.003, ContactOhms: 0.002, BehindOhms: 0.004, Reach: Near},
	} {
		got := c.Terminal(name)
		if got.SizeMM != want.SizeMM || got.Plating != want.Plating || got.Reach != want.Reach ||
			!near(got.CrimpOhms, want.CrimpOhms) || !near(got.ContactOhms, want.ContactOhms) || !near(got.BehindOhms, want.BehindOhms) {
			t.Errorf("%s is %+v", name, *got)
		}
	}
}

// A kind's default stands where the file is silent, and gives way where it speaks.
func TestValues(t *testing.T) {
	c := small(t, "  F7: {is: fuse, rating: 90 A}\n  F8: {is: fuse, rating: 20 A, type: large}\n  K2: {is: relay, coil: 90 ohm, suppressed by: diode}\n",
		"  a: [B1.pos, F7, F8, K2.86-85, G1]\n", "")
	b1, k2 := c.Part("B1"), c.Part("K2")
	for got, want := range map[float64]float64{b1.Value("volts"): 12.6, b1.Value("internal"): 0.008, k2.Value("coil"): 90, k2.Value("pulls in"): 7.2} {
		if got != want {
			t.Errorf("%g, want %g", got, want)
		}
	}
	if k2.Text("suppressed by") != "diode" || !k2.Has("coil") || k2.Has("contact") {
		t.Error("words and Has are wrong")
	}
	if c.Part("F7").FuseType() != catalog.BoltIn || c.Part("F8").FuseType() != catalog.Large {
		t.Error("types of fuses are wrong")
	}
	if c.Terminal("K2.30").Spot != NoSpot {
		t.Error("a terminal on no path has a spot")
	}
}

// The table of kinds is in itself sound, and says what the catalogue says.
func TestKinds(t *testing.T) {
	for _, kind := range Kinds {
		for _, key := range kind.Keys {
			if key.Form == Choice && key.DefaultText != "" && !slices.Contains(key.Choices, key.DefaultText) {
				t.Errorf("%s: the default of %s is none of its choices", kind.Name, key.Name)
			}
			if key.Required && (key.Default != 0 || key.DefaultText != "") || key.Says == "" {
				t.Errorf("%s: key %s is required and has a default, or says nothing", kind.Name, key.Name)
			}
		}
	}
}

func TestModulePins(t *testing.T) {
	c, problems := Read("module.yaml", []byte(strings.Replace(head, "grounds", `  PC1:
    is: module
    supply: 1
    ground: [8, 9]
    signals: [3]
    bus: [10, 11]
    outputs: {5: {pulls to: supply, for: E3, through: 20 mohm}, 6: {pulls to: ground, for: F7}}
grounds`, 1)+"  module: [F7.out, wire, PC1.1]\n  module ground: [PC1.8, G1]\n"))
	if c == nil {
		t.Fatal(problems)
	}
	var pins []string
	for _, terminal := range c.Part("PC1").Terminals {
		pins = append(pins, terminal.Pin)
	}
	if got := strings.Join(pins, " "); got != "1 8 9 3 10 11 5 6" {
		t.Errorf("pins %s", got)
	}
	m := c.Part("PC1").Module
	if len(m.Outputs) != 2 || m.Outputs[0] != (Output{"5", "supply", "E3", 0.020}) || m.Outputs[1] != (Output{"6", "ground", "F7", outputOhms}) {
		t.Errorf("outputs %+v", m.Outputs)
	}
	if len(problems) != 0 {
		t.Errorf("empty cavities of a module are no problem:\n%v", problems)
	}
}

func TestAccepted(t *testing.T) {
	c := small(t, "  E3: {is: lamp, bulb: 55 W}\n", "  a: [B1.pos, wire W1, S1, wire, C1.1, wire, E3, G1]\n",
		"splices: {S1: {}}\nconnectors: {C1: {}}\naccepted:\n- {rule: no fuse, at: E3, because: as drawn}\n- {at: W1, because: 'short: a hand', rule: volt drop}\n"+
			"- {rule: colour, at: C1, because: a}\n- {rule: colour, at: C1.1, because: a}\n- {rule: volt drop, at: S1, because: a}\n- {rule: volt drop, at: G1, because: a}\n- {rule: volt drop, at: E3.in, because: a}\n")
	if len(c.Accepted) != 7 {
		t.Fatalf("%d are accepted", len(c.Accepted))
	}
	first, second := c.Accepted[0], c.Accepted[1]
	if first.Rule != "no fuse" || first.At != "E3" || first.Because != "as drawn" || second.Rule != "volt drop" || second.At != "W1" || second.Because != "short: a hand" {
		t.Errorf("%+v", c.Accepted)
	}
	if second.Pos.Line != first.Pos.Line+1 || second.Pos.Column != 3 {
		t.Errorf("at %v and %v", first.Pos, second.Pos)
	}
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	good := filepath.Join(dir, "good.yaml")
	huge := filepath.Join(dir, "huge.yaml")
	for name, data := range map[string]string{good: head, huge: strings.Repeat("#", mostBytes+1)} {
		if err := os.WriteFile(name, []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if c, problems := ReadFile(good); c == nil || c.File != good {
		t.Errorf("a good file: %v", problems)
	}
	for name, want := range map[string]string{
		filepath.Join(dir, "none.yaml"): "none.yaml: cannot be read: ",
		dir:                             ": is not a file",
		huge:                            "huge.yaml:1:1: the file is larger than 2000000 bytes, the most that is read",
	} {
		if c, problems := ReadFile(name); c != nil || !strings.Contains(problems.Error(), want) {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

func TestProblems(t *testing.T) {
	ps := Problems{{File: "a", Pos: Pos{1, 2}, Text: "x", Hint: "Do y"}, {File: "a", Pos: Pos{3, 4}, Warning: true, Text: "z"}}
	if got := ps.Error(); got != "a:1:2: x. Do y\na:3:4: warning: z" {
		t.Errorf("%q", got)
	}
	if len(ps.Errors()) != 1 || len(ps.Warnings()) != 1 || ps.Err() == nil || ps.Warnings().Err() != nil {
		t.Error("errors and warnings are not told apart")
	}
}
