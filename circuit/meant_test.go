package circuit

// Other words for kinds and keys lead to words that there are, and none of them is itself one.

import (
	"strings"
	"testing"
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
