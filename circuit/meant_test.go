package circuit

// Other words for kinds and keys lead to words that there are, and none of them is itself one.

import (
	"math"
	"strings"
	"testing"

	"underload/circuit/catalog"
)

func TestMeantWordsExist(t *testing.T) {
	for word, kind := range kindsMeant {
		if KindNamed(word) != nil || KindNamed(kind) == nil || word != strings.ToLower(word) {
			t.Errorf("%s for %s", word, kind)
		}
	}
	for kind, words := range keysMeant {
		k := KindNamed(kind)
		if k == nil {
			t.Errorf("there is no %s", kind)
			continue
		}
		has := keyNames(k.AllKeys())
		for word, key := range words {
			if contains(has, word) || !contains(has, key) {
				t.Errorf("%s of a %s for %s", word, kind, key)
			}
		}
	}
}

func TestMeantColoursExist(t *testing.T) {
	names := map[string]string{}
	for _, c := range catalog.Colours() {
		names[c.Code] = c.Name
	}
	for word, meant := range coloursMeant {
		if isCode(word, colourCodes) || word != strings.ToUpper(word) {
			t.Errorf("%s is a code itself", word)
		}
		for _, choice := range strings.Split(strings.ReplaceAll(meant, ", ", " or "), " or ") {
			code, name, _ := strings.Cut(choice, " for ")
			if known, ok := names[code]; !ok || known != name {
				t.Errorf("%s: %s for %s", word, code, name)
			}
		}
	}
}

func TestMeantMetalsExist(t *testing.T) {
	for word, metal := range metalsMeant {
		if isMetal(word) || !isMetal(metal) || isCode(strings.ToUpper(word), colourCodes) {
			t.Errorf("%s for %s", word, metal)
		}
	}
}

// One slip in a wire is one error.
func TestOneErrorASlip(t *testing.T) {
	for text, want := range map[string]string{
		"RD nan mm2":           "8:14: nan mm2 is no size, length or resistance of a wire",
		"RD 1 mm2 inf m":       "8:20: inf m is no size, length or resistance of a wire",
		"l.5 mm2 RD 2 m":       "8:11: l.5 mm2 is no size",
		"1.2.3 mm2 2 m":        "8:11: wire: ",
		"RD 0.75 sq 2 m":       `Did you mean "mm2"?`,
		"RD 1 mm2 alu":         "8:20: alu is no metal of a wire. Write aluminium",
		"RD AL":                "8:14: AL is no metal of a wire. Write aluminium",
		"1 mm2 m":              "8:17: m is no colour",
		"RD m":                 "8:14: m is no colour",
		"1 2.5 m":              "decimals with a point, as 1.5 mm2",
		"red 1 mm2":            "8:11: red is no colour code. Write RD",
		"RD 1 mm2 2 parsecs 1": "", // two slips, told one by one
	} {
		_, problems := Read("wire.yaml", []byte("underload: 1\nparts:\n  B1: {is: battery}\n  E1: {is: lamp, bulb: 5 W}\npaths:\n  a:\n  - B1.pos\n  - wire: "+text+"\n  - E1\n  - B1.neg\n"))
		said := problems.Error()
		if lines := strings.Count(said, "\n") + 1; (want == "") != (lines == 2) || want != "" && lines != 1 || !strings.Contains(said, want) {
			t.Errorf("%s:\n%s\nwant %s", text, said, want)
		}
	}
}

// Quotes make one word of a wire and what is said of it.
func TestQuotedWire(t *testing.T) {
	_, problems := Read("wire.yaml", []byte("underload: 1\nparts: {B1: {is: battery}, E1: {is: lamp, bulb: 5 W}}\npaths: {a: [B1.pos, \"wire: RD 1 mm2\", E1, B1.neg]}\n"))
	if said := problems.Error(); !strings.Contains(said, "Take the quotes away, and it is read as wire and what is said of it") || strings.Contains(said, "followed by a space") {
		t.Error(said)
	}
}

// A wire gauge stays one, however it is spelled.
func TestGaugeIsKept(t *testing.T) {
	for text, awg := range map[string]bool{"18 AWG": true, "awg 18": true, "18 ga": true, "18 gauge": true, "0.75 mm2": false, "": false} {
		w := wireText{}
		r := &reader{}
		if text != "" && !r.wireValue(&w, text, Pos{}) || w.awg != awg {
			t.Errorf("%s: %+v", text, w)
		}
		if wire := w.build(20); wire.AWG != awg || wire.Unsaid != (text == "") {
			t.Errorf("%s: %+v", text, wire)
		}
	}
}

// Capital units are units, and not colours that nobody knows.
func TestUnitsInCapitals(t *testing.T) {
	for text, metres := range map[string]float64{"RD 18 AWG 6 FT": 1.8288, "RD 18 AWG 6 IN": 0.1524, "30 CM RD": 0.3, "2 RD": 0, "6 BK 2 m": 0, "BR 2 m": 0} {
		w, problems := Read("wire.yaml", []byte("underload: 1\nparts: {B1: {is: battery}, E1: {is: lamp, bulb: 5 W}}\npaths: {a: [B1.pos, wire W1: "+text+", E1, B1.neg]}\n"))
		switch {
		case metres == 0 && w != nil:
			t.Errorf("%s was read", text)
		case metres > 0 && (w == nil || math.Abs(w.Wire("W1").Metres-metres) > 1e-9):
			t.Errorf("%s: %v", text, problems)
		}
	}
}

func TestSlipsOfAFirstCircuit(t *testing.T) {
	_, problems := Read("first.yaml", []byte(`underload: 1
parts:
  B1: {is: battery, voltage: 12.6 V}
  K5: {is: relay}
  Y1: {is: Solenoid, draws: 1.5 A}
  DC: {is: module, supply: 1, ground: 2, draws: 0.8 A}
paths:
  feed: [B1.pos, wire, K1.30-87, wire, DC.1]
  ground: [DC.2, wire, G1]
grounds:
  G1: {to: B1.neg}
`))
	want := strings.Join([]string{
		"first.yaml:3:21: a battery has no key voltage. Did you mean volts?",
		"first.yaml:5:12: there is no kind of part called Solenoid. Did you mean resistor?",
		"first.yaml:6:42: a module has no key draws. Did you mean awake?",
		"first.yaml:8:24: there is no part K1 to pass by 30-87. Did you mean K5?",
	}, "\n")
	if problems.Error() != want {
		t.Errorf("said:\n%v\nwant:\n%s", problems, want)
	}
}
