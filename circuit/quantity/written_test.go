package quantity

// What is written into a file is read back to the last bit, and every spelling of a unit comes down to one.

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestWritten(t *testing.T) {
	for _, c := range []struct {
		value float64
		d     Dimension
		want  string
	}{
		{0.015, Ohms, "15 mohm"}, {1.8, Ohms, "1.8 ohm"}, {680, Ohms, "680 ohm"}, {22000, Ohms, "22 kohm"}, {2.5e-6, Ohms, "2.5 uohm"},
		{0.75, SquareMillimetres, "0.75 mm2"}, {1234.5, SquareMillimetres, "1234.5 mm2"}, {12.6, Volts, "12.6 V"}, {0.5, Percent, "50 %"},
		{-5, Celsius, "-5 °C"}, {2.8, Millimetres, "2.8 mm"}, {1.8288, Metres, "1.8288 m"}, {3, Number, "3"},
	} {
		if got := Written(c.value, c.d); got != c.want {
			t.Errorf("Written(%g, %v) = %q, want %q", c.value, c.d, got, c.want)
		}
	}
}

func TestWrittenIsReadBack(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		d := Dimension(chance.IntN(int(dimensions)))
		value := math.Exp(chance.NormFloat64()*4) * traits[d].largest / 1e4
		if value > traits[d].largest || value < smallest {
			continue
		}
		text := Written(value, d)
		if back, err := Parse(text, d); err != nil || back != value {
			t.Fatalf("Written(%v, %v) = %q, read back as %v (%v)", value, d, text, back, err)
		}
	}
}

func TestGaugeNames(t *testing.T) {
	for text, want := range map[string]string{"18 AWG": "18 AWG", "AWG 4/0": "4/0 AWG", "0000 awg": "4/0 AWG", "1/0 AWG": "1/0 AWG", "0.75 mm2": "", "40awg": "40 AWG"} {
		area, err := Parse(text, SquareMillimetres)
		if err != nil {
			t.Fatal(err)
		}
		if name, ok := Gauge(area); name != want || ok != (want != "") {
			t.Errorf("Gauge of %s is %q, %v; want %q", text, name, ok, want)
		}
	}
}

func TestRespell(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want string
	}{
		{"1.8Ω", Ohms, "1.8 ohm"}, {"1.8 ohms", Ohms, "1.8 ohm"}, {"1,8 ohm", Ohms, "1.8 ohm"}, {"15 mΩ", Ohms, "15 mohm"}, {"15milliohm", Ohms, "15 mohm"},
		{"4k7", Ohms, "4.7 kohm"}, {"22k", Ohms, "22 kohm"}, {"10 M", Ohms, "10 Mohm"}, {"1R8", Ohms, "1.8 ohm"}, {"100 uohm", Ohms, "100 uohm"},
		{"2.0metres", Metres, "2.0 m"}, {"240cm", Metres, "240 cm"}, {"6 feet", Metres, "6 ft"}, {"8'", Metres, "8 ft"}, {".5 m", Metres, "0.5 m"}, {"5. m", Metres, "5 m"},
		{"0.75mm²", SquareMillimetres, "0.75 mm2"}, {"0,75 sqmm", SquareMillimetres, "0.75 mm2"}, {"awg18", SquareMillimetres, "18 AWG"}, {"18 awg", SquareMillimetres, "18 AWG"},
		{"18 ga", SquareMillimetres, "18 ga"}, // the word says that it may be another gauge
		{"31 C", Celsius, "31 °C"}, {"68 F", Celsius, "68 °F"}, {"\u22125 degC", Celsius, "-5 °C"}, {"12 percent", Percent, "12 %"}, {"60amps", Amperes, "60 A"},
		{"65 mA", Amperes, "65 mA"}, {"1.2 kilowatt", Watts, "1.2 kW"}, {"2.8mm", Millimetres, "2.8 mm"}, {"0.11 inch", Millimetres, "0.11 in"}, {"1 800 V", Volts, "1800 V"},
		{"1e-3 ohm", Ohms, "1e-3 ohm"}, {"1.50E-3ohm", Ohms, "1.50e-3 ohm"}, {"nothing", Ohms, "nothing"}, {"5 V", Ohms, "5 V"}, {"12.60 V", Volts, "12.60 V"},
	} {
		if got := Respell(c.text, c.d); got != c.want {
			t.Errorf("Respell(%q, %v) = %q, want %q", c.text, c.d, got, c.want)
		}
	}
}

// Every spelling that Parse knows is written again with the same value, and the second time nothing changes.
func TestRespellKeepsValues(t *testing.T) {
	for d := range dimensions {
		first := map[float64]string{}
		for _, spelled := range spellings(d) {
			if strings.HasPrefix(strings.ToLower(spelled), "g") && spelled != "gf" {
				continue // a thousand million of anything but ohms is not believed
			}
			text := "0.050 " + spelled
			was, err := Parse(text, d)
			if err != nil {
				t.Fatalf("Parse(%q): %v", text, err)
			}
			again := Respell(text, d)
			if is, err := Parse(again, d); err != nil || is != was {
				t.Errorf("Respell(%q) = %q, which is %v and not %v (%v)", text, again, is, was, err)
			}
			if twice := Respell(again, d); twice != again {
				t.Errorf("Respell(%q) = %q", again, twice)
			}
			if other, met := first[was]; met && other != again {
				t.Errorf("%v: %q and %q are one value", d, other, again)
			}
			first[was] = again
		}
	}
}
