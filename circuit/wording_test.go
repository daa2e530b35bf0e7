package circuit

import "testing"

// A wire is told in the system that the file gives it in, and with its ohms where nothing else is known.
func TestWiresInWords(t *testing.T) {
	const text = `underload: 1
parts:
  B1: {is: battery}
  R1: {is: resistor, resistance: 6 ohm}
paths:
  a:
    - B1.pos
    - wire W1: RD/YE 18 AWG 2 m
    - S1
    - wire W2: BN 2 mohm
    - S2
    - wire W3: 2.5 mm2 10 ft
    - S3
    - wire W4: 2/0 AWG 0.5 m aluminium
    - S4
    - wire W5
    - R1
    - wire W6: 3 mohm
    - B1.neg
splices: {S1: {}, S2: {}, S3: {}, S4: {}}
`
	c, problems := Read("wires.yaml", []byte(text))
	if c == nil {
		t.Fatal(problems)
	}
	for name, want := range map[string]string{
		"W1": "RD/YE 18\u00a0AWG 2\u00a0m", "W2": "BN 2.00\u00a0mΩ", "W3": "2.5\u00a0mm² 3.05\u00a0m",
		"W4": "2/0\u00a0AWG 0.5\u00a0m aluminium", "W5": "0.75\u00a0mm² 2\u00a0m", "W6": "3.00\u00a0mΩ",
	} {
		if got := c.Wire(name).Made(); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
		if got := c.Wire(name).Says(); got != name+" "+want {
			t.Errorf("%s: %q", name, got)
		}
	}
}
