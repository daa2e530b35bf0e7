package device

// This file checks the lamp against handbook figures.

import (
	"math"
	"testing"
)

func TestResistivityKeepsTheTable(t *testing.T) {
	read := 0
	for _, row := range Tungsten {
		if rho, _ := Resistivity(row.Kelvin); math.Abs(rho-row.MicroOhmCM) > 1e-12 {
			t.Errorf("%v K: %v, table %v", row.Kelvin, rho, row.MicroOhmCM)
		}
		if row.FromReading {
			read++
		}
	}
	if read != 8 {
		t.Errorf("%d rows are marked as read, want 8", read)
	}
	// An independent page of properties, in Celsius, within its 3 percent.
	for celsius, want := range map[float64]float64{20: 5.5, 227: 10.5, 727: 24.3, 1727: 55.7, 2727: 90.4, 3227: 108.5} {
		if rho, _ := Resistivity(celsius + 273.15); math.Abs(rho/want-1) > 0.03 {
			t.Errorf("%v C: %v, second table %v", celsius, rho, want)
		}
	}
	last := 0.0
	for kelvin := 200.0; kelvin < 4000; kelvin++ {
		rho, slope := Resistivity(kelvin)
		if rho <= last || slope <= 0 {
			t.Fatalf("%v K: %v does not rise", kelvin, rho)
		}
		last = rho
	}
}

// exponent is d ln y / d ln V between two voltages.
func exponent(y func(volts float64) float64, low, high float64) float64 {
	return math.Log(y(high)/y(low)) / math.Log(high/low)
}

func (f Filament) amps(volts float64) float64 {
	amps, _ := f.At(volts)
	return amps
}

func TestRating(t *testing.T) {
	for _, f := range []Filament{
		{RatedVolts: 12, RatedWatts: 55}, {RatedVolts: 13.5, RatedWatts: 5}, {RatedVolts: 28, RatedWatts: 21, AmbientKelvin: 350},
		{RatedVolts: 12, RatedWatts: 21, HotKelvin: 2900},
	} {
		if p := f.amps(f.RatedVolts) * f.RatedVolts; math.Abs(p/f.RatedWatts-1) > 1e-12 {
			t.Errorf("%+v takes %v W at its rating", f, p)
		}
		if k := f.KelvinAt(f.RatedVolts); math.Abs(k-f.hot()) > 1e-9*k {
			t.Errorf("%+v is at %v K", f, k)
		}
		if light := f.LightShare(f.RatedVolts); math.Abs(light-1) > 1e-10 {
			t.Errorf("%+v gives %v of its rated light at rating", f, light)
		}
	}
}

func TestInrush(t *testing.T) {
	// Tungsten at 2800 K has 14 to 16 times its resistance at 300 K (table: 15.0).
	f := Filament{RatedVolts: 12, RatedWatts: 55, HotKelvin: 2800}
	if ratio := 12 / f.amps(12) / f.ColdOhms(); ratio < 14 || ratio > 16 {
		t.Errorf("hot to cold: %v, want 14 to 16", ratio)
	}
	// OpenStax, College Physics, chapter 20: a headlight that takes 2.50 A of 12.0 V
	// hot has 0.350 ohm cold. The book uses a linear law for the resistance.
	f = Filament{RatedVolts: 12, RatedWatts: 30}
	if ohms := f.ColdOhms(); math.Abs(ohms/0.350-1) > 0.1 {
		t.Errorf("cold headlight: %v ohm, book 0.350", ohms)
	}
	// A colder day makes a lower cold resistance: about 0.45 percent a kelvin near
	// room temperature (the same chapter's coefficient for tungsten, 4.5e-3).
	f.AmbientKelvin = 280
	cold := f.ColdOhms()
	f.AmbientKelvin = 300
	if share := 1 - cold/f.ColdOhms(); math.Abs(share/20-4.5e-3) > 4e-4 {
		t.Errorf("20 K less take %v of the cold resistance", share)
	}
}

// Fink and Beaty, Standard Handbook for Electrical Engineers, 11th edition, page
// 22-8, as an encyclopedia quotes it: near rating current goes with the 0.55th
// power of voltage, watts with the 1.6th, light with the 3.4th, colour temperature
// with the 0.42nd. Two signal lamps in a regulator's informal paper give light
// exponents of 3.13 and 2.63.
func TestExponents(t *testing.T) {
	for _, f := range []Filament{{RatedVolts: 12, RatedWatts: 55}, {RatedVolts: 12, RatedWatts: 21}, {RatedVolts: 12, RatedWatts: 55, HotKelvin: 2900}} {
		for _, test := range []struct {
			name      string
			y         func(float64) float64
			low, high float64
		}{
			{"current", f.amps, 0.50, 0.58},
			{"watts", func(v float64) float64 { return v * f.amps(v) }, 1.50, 1.62},
			{"light", f.LightShare, 3.2, 3.8},
			{"temperature", f.KelvinAt, 0.36, 0.44},
		} {
			if e := exponent(test.y, 9, 14); e < test.low || e > test.high {
				t.Errorf("%+v: %s goes with the power %.3f, want %v to %v", f, test.name, e, test.low, test.high)
			}
		}
	}
}

// The CIE 1924 sensitivity of the eye, every 20 nm from 400 to 720 (from memory
// of the standard table), weighs the light of a black body.
var sensitivity = []float64{0.0004, 0.004, 0.023, 0.06, 0.139, 0.323, 0.71, 0.954, 0.995, 0.87, 0.631, 0.381, 0.175, 0.061, 0.017, 0.0041, 0.00105}

func blackBodyLight(kelvin float64) float64 {
	sum := 0.0
	for i, eye := range sensitivity {
		metres := (400 + 20*float64(i)) * 1e-9
		sum += eye * math.Pow(metres*1e6, -5) / math.Expm1(0.014388/(metres*kelvin))
	}
	return sum
}

func TestLightFollowsBlackBody(t *testing.T) {
	f := Filament{RatedVolts: 12, RatedWatts: 55}
	for _, volts := range []float64{6, 8, 10, 11, 13, 14, 15} {
		want := blackBodyLight(f.KelvinAt(volts)) / blackBodyLight(f.hot())
		if got := f.LightShare(volts); math.Abs(got/want-1) > 0.03 {
			t.Errorf("%v V: light %v, black body %v", volts, got, want)
		}
	}
}

func TestTemperatureSolvesTheBalance(t *testing.T) {
	f := Filament{RatedVolts: 12, RatedWatts: 21, AmbientKelvin: 260}
	for _, volts := range []float64{1e-6, 1e-3, 0.1, 1, 5, 12, 24, 100} {
		kelvin := f.KelvinAt(volts)
		watts, _ := f.LossWatts(kelvin)
		if p := volts * f.amps(volts); math.Abs(p/watts-1) > 1e-6 {
			t.Errorf("%v V: takes %v W, gives off %v W", volts, p, watts)
		}
	}
	if i := f.amps(0.01); math.Abs(0.01/i/f.ColdOhms()-1) > 0.01 {
		t.Errorf("10 mV see %v ohm, cold resistance is %v", 0.01/i, f.ColdOhms())
	}
}
