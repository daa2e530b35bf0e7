package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"1.8 ohm", Ohms, 1.8}, {"1.8ohms", Ohms, 1.8}, {"1.8 Ω", Ohms, 1.8}, {"1.8 \u2126", Ohms, 1.8},
		{"15 mΩ", Ohms, 0.015}, {"15 mohm", Ohms, 0.015}, {"15 milliohm", Ohms, 0.015}, {"15 milliohms", Ohms, 0.015},
		{"15 mOhm", Ohms, 0.015}, {"10 Mohm", Ohms, 1e7}, {"10 MOHM", Ohms, 1e7}, {"10 MΩ", Ohms, 1e7}, {"10 megohm", Ohms, 1e7},
		{"22k", Ohms, 22e3}, {"22 K", Ohms, 22e3}, {"22 kΩ", Ohms, 22e3}, {"10M", Ohms, 1e7}, {"22R", Ohms, 22},
		{"4k7", Ohms, 4700}, {"1R8", Ohms, 1.8}, {"2M2", Ohms, 2.2e6}, {"0R05", Ohms, 0.05},
		{"1,8 ohm", Ohms, 1.8}, {"0,800 ohm", Ohms, 0.8}, {"12,75 ohm", Ohms, 12.75}, {"1,800.5 ohm", Ohms, 1800.5},
		{"1.800,5 ohm", Ohms, 1800.5}, {"1,800,000 ohm", Ohms, 1.8e6}, {"1.800.000 ohm", Ohms, 1.8e6},
		{"1\u202f800\u00a0mΩ", Ohms, 1.8}, {"1 800 mohm", Ohms, 1.8}, {"3e-3 ohm", Ohms, 0.003}, {"1.5E3ohm", Ohms, 1500},
		{"+5 ohm", Ohms, 5}, {".5 ohm", Ohms, 0.5}, {"5. ohm", Ohms, 5}, {"0 ohm", Ohms, 0}, {"500 µΩ", Ohms, 5e-4}, {"500 uohm", Ohms, 5e-4},
		{"0.75 mm2", SquareMillimetres, 0.75}, {"0.75 mm²", SquareMillimetres, 0.75}, {"0.75mm^2", SquareMillimetres, 0.75},
		{"0.75 sq mm", SquareMillimetres, 0.75}, {"0.75 MM2", SquareMillimetres, 0.75},
		{"2.4 m", Metres, 2.4}, {"240 cm", Metres, 2.4}, {"2400 mm", Metres, 2.4}, {"8 ft", Metres, 2.4384}, {"10 in", Metres, 0.254}, {"8'", Metres, 2.4384},
		{"2.4 M", Metres, 2.4}, {"2 meters", Metres, 2},
		{"55 W", Watts, 55}, {"1.2 kW", Watts, 1200}, {"55 watts", Watts, 55}, {"55w", Watts, 55},
		{"20 °C", Celsius, 20}, {"20C", Celsius, 20}, {"20 deg C", Celsius, 20}, {"68 F", Celsius, 20}, {"68 °F", Celsius, 20},
		{"293.15 K", Celsius, 20}, {"\u221240 °C", Celsius, -40}, {"\u221240 F", Celsius, -40},
		{"12V6", Volts, 12.6}, {"5v1", Volts, 5.1}, // the letter at the point: common practice, no source
		{"1 mm²", SquareMillimetres, 1}, {"1 mm ^2", SquareMillimetres, 1}, {"1 MM²", SquareMillimetres, 1}, {"2 cm²", SquareMillimetres, 200},
		{"12.6 V", Volts, 12.6}, {"12.6v", Volts, 12.6}, {"350 mV", Volts, 0.35}, {"\u20131.2 V", Volts, -1.2}, {"12.6\u00a0V", Volts, 12.6}, {"12.6\u2003V", Volts, 12.6}, {"12.6 V\n", Volts, 12.6},
		{"65 mA", Amperes, 0.065}, {"65 ma", Amperes, 0.065}, {"65 milliamps", Amperes, 0.065}, {"4.4 amp", Amperes, 4.4}, {"3 µA", Amperes, 3e-6},
		{"0.4 N", Newtons, 0.4}, {"3 lbf", Newtons, 13.3446648}, {"40 gf", Newtons, 0.392266},
		{"5 ms", Seconds, 0.005}, {"3 min", Seconds, 180}, {"2 h", Seconds, 7200}, {"2 seconds", Seconds, 2},
		{"470 uF", Farads, 470e-6}, {"470 µF", Farads, 470e-6}, {"470 \u03bcF", Farads, 470e-6}, {"10 nF", Farads, 1e-8},
		{"5 mH", Henries, 0.005}, {"0.4 henry", Henries, 0.4},
		{"12 %", Percent, 0.12}, {"12%", Percent, 0.12}, {"12 per cent", Percent, 0.12}, {"7.5 percent", Percent, 0.075},
		{"2.8 mm", Millimetres, 2.8}, {"0.25 in", Millimetres, 6.35}, {"1 cm", Millimetres, 10}, {"0.0028 m", Millimetres, 2.8},
		{"3", Number, 3}, {"1/16", Number, 1.0 / 16}, {"1\u20444", Number, 0.25}, {"-2.5", Number, -2.5}, {"1,5/2", Number, 0.75},
	} {
		got, err := Parse(c.text, c.d)
		if err != nil || math.Abs(got-c.want) > 1e-8*math.Abs(c.want)+1e-14 {
			t.Errorf("Parse(%q, %v) = %v, %v; want %v", c.text, c.d, got, err, c.want)
		}
	}
}

// A power-of-ten prefix must not cost the last bit: the value is the float64
// nearest to what was written.
func TestParsePrefixExact(t *testing.T) {
	for text, want := range map[string]float64{"15 mohm": 0.015, "0.3 mohm": 0.0003, "7 uohm": 7e-6, "0.1 kohm": 100, "12.7 mohm": 0.0127} {
		if got, err := Parse(text, Ohms); err != nil || got != want {
			t.Errorf("Parse(%q) = %v, %v; want exactly %v", text, got, err, want)
		}
	}
}

// Diameters and ohms a thousand feet: Georgia State University, HyperPhysics
// wire-gauge table, copper at 20 °C (read).
func TestGauge(t *testing.T) {
	for _, c := range []struct {
		text   string
		inches float64
	}{{"4/0 AWG", 0.46}, {"0000 AWG", 0.46}, {"8 AWG", 0.12849}, {"10 AWG", 0.10190}, {"AWG 12", 0.0808}, {"14AWG", 0.06408},
		{"16 awg", 0.05082}, {"18 AWG", 0.0403}, {"AWG18", 0.0403}, {"18 gauge", 0.0403}, {"18 ga", 0.0403}, {"20 AWG", 0.03196}, {"22 AWG", 0.02535}, {"24 AWG", 0.0201}} {
		got, err := Parse(c.text, SquareMillimetres)
		want := math.Pi / 4 * math.Pow(c.inches*25.4, 2)
		if err != nil || math.Abs(got-want) > 3e-4*want {
			t.Errorf("Parse(%q) = %v, %v; want %v mm²", c.text, got, err, want)
		}
	}
	if got, err := Parse("250 kcmil", SquareMillimetres); err != nil || math.Abs(got-126.677) > 0.001 {
		t.Errorf("250 kcmil = %v, %v", got, err)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		says []string // parts of the message
	}{
		{"", Ohms, []string{"nothing is written", "1.8 ohm, 15 mohm"}},
		{"1.8", Ohms, []string{"unit is missing", "1.8 ohm, 15 mohm"}},
		{"20", Celsius, []string{"unit is missing", "20 °C"}},
		{"3 A", Ohms, []string{"a current", "a resistance is wanted"}},
		{"15 m", Ohms, []string{"a length", "a resistance is wanted"}},
		{"68 F", Volts, []string{"a temperature or a capacitance"}},
		{"18 AWG", Metres, []string{"a wire size", "a length is wanted"}},
		{"12 V", Number, []string{"a voltage", "a plain number is wanted"}},
		{"1.8 ohn", Ohms, []string{`"ohn" is not known`, `did you mean "ohm"`}},
		{"15 millohms", Ohms, []string{`did you mean "milliohms"`}},
		{"12 vlots", Volts, []string{`did you mean "volts"`}},
		{"5 parsecs", Ohms, []string{`"parsecs" is not known`, "1.8 ohm"}},
		{"1,800 ohm", Ohms, []string{"1.800 or as 1800"}},
		{"12 5 ohm", Ohms, []string{"do not make one number"}},
		{"1.2.3 ohm", Ohms, []string{"do not make one number"}},
		{"1 80 ohm", Ohms, []string{"do not make one number"}},
		{"1² V", Volts, []string{"not known"}}, {"1^2 V", Volts, []string{"not known"}}, {"1e² V", Volts, nil}, {"12A6", Amperes, []string{"not known"}},
		{"0.75 sq", SquareMillimetres, []string{`"sq" is not known`, `did you mean "mm2"`}}, {"1.5 square", SquareMillimetres, []string{`did you mean "mm2"`}},
		{"NaN ohm", Ohms, []string{"no number"}}, {"Inf ohm", Ohms, []string{"no number"}}, {"-inf V", Volts, []string{"no number"}},
		{"0x10 ohm", Ohms, []string{"not known"}},
		{"1e999 ohm", Ohms, []string{"exponent"}}, {"1e99999999999999999999 ohm", Ohms, []string{"exponent"}},
		{"1e300 ohm", Ohms, []string{"larger than 100 GΩ"}},
		{"65 MA", Amperes, []string{"larger than", "did you mean m (a thousandth)"}},
		{"1e-40 ohm", Ohms, []string{"too small"}},
		{"-3 ohm", Ohms, []string{"below zero"}}, {"-1 m", Metres, []string{"below zero"}},
		{"-300 °C", Celsius, []string{"absolute zero"}},
		{"5/0 AWG", SquareMillimetres, []string{"4/0 to 1/0"}}, {"99 AWG", SquareMillimetres, []string{"4/0 to 40"}},
		{"1/0", Number, []string{"0 below the line"}}, {"1/2/3", Number, []string{"fraction"}}, {"1/1e500", Number, []string{"exponent"}}, {"1/x", Number, []string{"fraction"}},
		{"\xff\xfe", Volts, []string{"not text"}},
		{"1/\n6", Number, []string{"a line ends in it"}}, {"12\u2029V", Volts, []string{"a line ends in it"}}, {"1\x002 V", Volts, []string{"does not print"}},
		{strings.Repeat("1", 1000) + " V", Volts, []string{"too long"}},
		{strings.Repeat("Ω", 500), Volts, []string{"too long"}},
	} {
		got, err := Parse(c.text, c.d)
		var typed *ParseError
		if !errors.As(err, &typed) {
			t.Errorf("Parse(%q, %v) = %v, %v; want a *ParseError", c.text, c.d, got, err)
			continue
		}
		for _, part := range c.says {
			if !strings.Contains(strings.ReplaceAll(err.Error(), "\u00a0", " "), part) {
				t.Errorf("Parse(%q, %v): %q does not say %q", c.text, c.d, err, part)
			}
		}
	}
}

// Every spelling that the tables hold, and every example that a message gives, must be read.
func TestSpellingsAreRead(t *testing.T) {
	for d := range dimensions {
		list := spellings(d)
		if len(list) == 0 && d != Number {
			t.Errorf("%v has no spellings", d)
		}
		for _, s := range list {
			if _, err := Parse("1 "+s, d); err != nil && !strings.Contains(err.Error(), "larger than") {
				t.Errorf("Parse(%q, %v): %v", "1 "+s, d, err)
			}
		}
		for _, example := range strings.Split(d.Examples(), ", ") {
			if _, err := Parse(example, d); err != nil {
				t.Errorf("example of %v: %v", d, err)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1.8 ohm", "15 mΩ", "1\u202f800\u00a0mΩ", "4k7", "18 AWG", "4/0 AWG", "68 F", "1/16", "12 %", "1,800 ohm", "-1e-9 V",
		"1e999 V", "NaN", "0.1 in", "3 lbf", "\xff", "''", "e", "/0AWG", "2 h", "1 800,5 m", "\u22125 A", "0,5k", "10 MΩ", "°"} {
		for d := range dimensions {
			f.Add(s, int(d))
		}
	}
	f.Fuzz(func(t *testing.T, text string, n int) {
		d := Dimension(((n % int(dimensions)) + int(dimensions)) % int(dimensions))
		value, err := Parse(text, d)
		if err != nil {
			var typed *ParseError
			if !errors.As(err, &typed) || typed.Problem == "" || typed.Advice == "" {
				t.Fatalf("Parse(%q, %v): poor error %#v", text, d, err)
			}
			return
		}
		if math.IsNaN(value) || math.IsInf(value, 0) {
			t.Fatalf("Parse(%q, %v) = %v", text, d, value)
		}
		written := Format(value, d, 0)
		again, err := Parse(written, d)
		if err != nil || again != value {
			t.Fatalf("Parse(%q, %v) = %v; written as %q, which reads as %v, %v", text, d, value, written, again, err)
		}
	})
}
