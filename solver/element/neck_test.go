package element

// This file checks wires that warm up against formulas from outside.

import (
	"math"
	"testing"

	"underload/solver/transient"
)

// One of 16 strands of a 0.5 mm2 wire (0.2 mm thick): 5.6 milliohm over 10 mm and 56 over 100 mm, worked out in one line.
func TestStrandOhms(t *testing.T) {
	for metres, want := range map[float64]float64{0.01: 5.5e-3, 0.1: 55e-3} {
		if got := NewNeck(0.02, 30, 0.5, 293.15, 1, 0.2, metres).NeckOhms; math.Abs(got/want-1) > 0.02 {
			t.Errorf("%v m: %v ohm, want %v", metres, got, want)
		}
	}
}

// A long bare strand melts near the textbook's 80 A d^1.5 (from memory), whatever its diameter: held well below, gone soon
// above. A neck of 10 mm stands far more, since its ends cool it; what fails is heat, or length.
func TestStrandMelts(t *testing.T) {
	melts := func(strandMM, metres, amps float64) bool {
		r, _, _ := behind(t, 1e4, 1e4/amps, NewNeck(0.002, 30, 5, 293.15, 1, strandMM, metres), transient.Options{})
		mustAdvance(t, r, 300)
		return r.Marks(0)[NeckOpen] == 1
	}
	for _, d := range []float64{0.1, 0.2, 0.3} {
		rule := 80 * math.Pow(d, 1.5)
		if melts(d, 1, 0.95*rule) {
			t.Errorf("a strand of %v mm melts below %v A", d, rule)
		}
		if !melts(d, 1, 1.08*rule) {
			t.Errorf("a strand of %v mm holds above %v A", d, rule)
		}
	}
	if melts(0.2, 0.01, 12) {
		t.Error("a neck of 10 mm melts at 12 A")
	}
	if !melts(0.2, 0.01, 40) {
		t.Error("a neck of 10 mm holds 40 A")
	}
}

// With copper that did not change, T - air = P/G (1 - exp(-t/tau)); at 1 A over 2 kelvin the change is 1 %.
func TestWireWarmsWithItsTimeConstant(t *testing.T) {
	w := testWire()
	w.AirKelvin = coldKelvin
	const amps = 5.0
	r, _, _ := behind(t, 1e4, 1e4/amps, w, transient.Options{Tolerance: 1e-6})
	// Exactly: the loss falls by I^2 R times copper's coefficient, so both the end and the time constant change.
	slower := w.WattsPerKelvin - amps*amps*w.Ohms*copperPerKelvin
	for _, seconds := range []float64{10, 60, 300} {
		mustAdvance(t, r, seconds)
		want := amps * amps * w.Ohms / slower * (1 - math.Exp(-seconds*slower/w.JoulesPerKelvin))
		if got := r.States(0)[0] - coldKelvin; math.Abs(got/want-1) > 2e-4 {
			t.Errorf("%v s: %v K warmer, want %v K", seconds, got, want)
		}
	}
	// A short: it melts, and then carries nothing.
	r, _, _ = behind(t, 12, 0.005, w, transient.Options{})
	for r.Seconds() < 60 && r.Marks(0)[WireOpen] == 0 {
		if err := r.Step(60); err != nil {
			t.Fatal(err)
		}
	}
	if r.Marks(0)[WireOpen] != 1 || math.Abs(r.ElementAmps(0)) > 1e-6 {
		t.Errorf("a wire with %v A through it at %v K after %v s", r.ElementAmps(0), r.States(0)[0], r.Seconds())
	}
}

// A neck against the equation of heat in a bar with its ends held, by finite differences: the hottest place at rest, and
// how it gets there. The lumped neck has one time constant where the bar has many: 3 % of the rise.
func TestNeckAgainstABar(t *testing.T) {
	const length, amps, cells = 0.02, 1.5, 60
	n := NewNeck(1e-6, 1e6, 1e6, coldKelvin, 1, 0.2, length) // the wire stays cold
	n.NeckToAirWattsPerKelvin = 0
	r, _, _ := behind(t, 1e4, 1e4/amps, n, transient.Options{Tolerance: 1e-6})
	area := math.Pi / 4 * 0.2e-3 * 0.2e-3
	heating := amps * amps * 1.724137931e-8 / (area * area) // W/m3 at 20 degC
	spacing := length / cells
	step := 0.2 * spacing * spacing * 3.45e6 / 390
	rise, next := make([]float64, cells+1), make([]float64, cells+1)
	for seconds := 0.0; seconds < 4; {
		for range 1000 {
			for i := 1; i < cells; i++ {
				flow := 390 * (rise[i-1] - 2*rise[i] + rise[i+1]) / (spacing * spacing)
				next[i] = rise[i] + step*(flow+heating*(1+0.00393*rise[i]))/3.45e6
			}
			rise, next = next, rise
			seconds += step
		}
		mustAdvance(t, r, seconds)
		got, want := r.States(0)[NeckKelvin]-coldKelvin, rise[cells/2]
		if math.Abs(got-want) > 0.03*5 || seconds > 3 && math.Abs(got/want-1) > 0.01 {
			t.Errorf("%.3f s: the neck is %.2f K warmer, the bar %.2f K", seconds, got, want)
		}
	}
}

// Where the rest of the wire is the weaker part, it melts, and opens too.
func TestWireOfANeckMelts(t *testing.T) {
	n := NewNeck(0.5, 1, 0.01, coldKelvin, 7, 0.2, 0.01)
	r, _, _ := behind(t, 1e4, 1e3, n, transient.Options{})
	for r.Seconds() < 600 && r.Marks(0)[NeckOpen] == 0 {
		if err := r.Step(600); err != nil {
			t.Fatal(err)
		}
	}
	if states := r.States(0); r.Marks(0)[NeckOpen] != 1 || states[NeckWireKelvin] < copperMeltKelvin-1e-3 || states[NeckKelvin] > copperMeltKelvin {
		t.Errorf("after %v s: open %v, states %v", r.Seconds(), r.Marks(0)[NeckOpen], states)
	}
}
