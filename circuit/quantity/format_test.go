package quantity

import (
	"math"
	"strings"
	"testing"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		value  float64
		d      Dimension
		digits int
		want   string // with ordinary spaces
	}{
		{1.8, Ohms, 3, "1.80 Ω"}, {0.015, Ohms, 2, "15 mΩ"}, {12.6, Volts, 3, "12.6 V"}, {1800, Ohms, 2, "1.8 kΩ"},
		{999.6, Ohms, 3, "1.00 kΩ"}, {0.9996, Volts, 3, "1.00 V"}, {1e7, Ohms, 2, "10 MΩ"}, {2.5e-7, Ohms, 2, "0.25 µΩ"},
		{0, Ohms, 3, "0 Ω"}, {math.Copysign(0, -1), Volts, 3, "0 V"}, {-0.35, Volts, 2, "\u2212350 mV"},
		{0.12, Percent, 2, "12 %"}, {0.075, Percent, 2, "7.5 %"}, {0.0625, Number, 0, "0.0625"}, {12345, Number, 0, "12 345"},
		{107.219, SquareMillimetres, 4, "107.2 mm²"}, {1234, SquareMillimetres, 2, "1 200 mm²"}, {0.4, Newtons, 1, "0.4 N"},
		{-40, Celsius, 2, "\u221240 °C"}, {20, Celsius, 3, "20.0 °C"}, {0.65, Amperes, 2, "650 mA"}, {0.6e-6, Amperes, 1, "600 nA"},
		{2.4, Metres, 2, "2.4 m"}, {0.005, Seconds, 1, "5 ms"}, {470e-6, Farads, 3, "470 µF"}, {2.8, Millimetres, 2, "2.8 mm"},
		{1234567, Volts, 0, "1 234.567 kV"}, {1e13, Ohms, 0, "10 000 GΩ"},
		{math.NaN(), Volts, 3, "no value"}, {math.Inf(1), Ohms, 3, "∞ Ω"}, {math.Inf(-1), Volts, 3, "\u2212∞ V"},
		{1e-30, Number, 2, "1.0e-30"}, {5e30, Volts, 1, "5e27 kV"},
	} {
		got := Format(c.value, c.d, c.digits)
		if plain := strings.NewReplacer(unitSpace, " ", groupSpace, " ").Replace(got); plain != c.want {
			t.Errorf("Format(%v, %v, %d) = %q, want %q", c.value, c.d, c.digits, plain, c.want)
		}
	}
}

// Number and unit stay together, and a thousand is set apart by the thin space.
func TestFormatSpaces(t *testing.T) {
	if got := Format(12345, SquareMillimetres, 0); got != "12\u202f345\u00a0mm²" {
		t.Errorf("got %q", got)
	}
}

func TestDimensionNames(t *testing.T) {
	for d := range dimensions {
		if d.String() == "" || d.Examples() == "" || (d.Symbol() == "") != (d == Number) {
			t.Errorf("dimension %d: name %q, symbol %q, examples %q", int(d), d, d.Symbol(), d.Examples())
		}
	}
	if Dimension(-1).String() != "unknown dimension" || Dimension(99).Symbol() != "" || Dimension(99).Examples() != "" {
		t.Error("an unknown dimension must not pretend to be one")
	}
}

func FuzzFormat(f *testing.F) {
	f.Add(1.8, 2, 3)
	f.Add(-1e-300, 0, 0)
	f.Add(math.MaxFloat64, 6, 40)
	f.Fuzz(func(t *testing.T, value float64, n, digits int) {
		d := Dimension(((n % int(dimensions)) + int(dimensions)) % int(dimensions))
		if got := Format(value, d, digits); got == "" || len(got) > 200 {
			t.Fatalf("Format(%v, %v, %d) = %q", value, d, digits, got)
		}
	})
}
