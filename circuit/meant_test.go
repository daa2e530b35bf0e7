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
	for word, meant := range coloursMeant {
		if isCode(word, colourCodes) || word != strings.ToUpper(word) {
			t.Errorf("%s is a code itself", word)
		}
		for _, choice := range strings.Split(strings.ReplaceAll(meant, ", ", " or "), " or ") {
			code, name, _ := strings.Cut(choice, " for ")
			if known, ok := catalog.ColourName(code); !ok || known != name {
				t.Errorf("%s: %s for %s", word, code, name)
			}
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
