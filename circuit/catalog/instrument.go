// What the usual instruments do to a circuit, and how well they read.

package catalog

// Range is one range of an instrument.
type Range struct {
	FullScale  float64 // in the instrument's unit
	Resolution float64 // one count
	OpenVolts  float64 // ohmmeters: what the range drives an open with
	TestAmps   float64 // ohmmeters: what it drives through a short
}

// Accuracy is ± (Share of reading + Counts of the range's resolution + Fixed).
type Accuracy struct {
	Share  float64
	Counts float64
	Fixed  float64
}

// Meter is a meter with its ranges, smallest first.
type Meter struct {
	InputOhms float64 // between the leads
	LeadOhms  float64 // both leads together
	Ranges    []Range
	Accuracy  Accuracy
	FuseAmps  float64 // its own fuse; 0: none
	Source    Source
}

// Voltmeter: 10 MΩ, ± (0.5 % + 2 counts), a display of 4000 counts.
var Voltmeter = Meter{10e6, 0, []Range{{0.4, 1e-4, 0, 0}, {4, 1e-3, 0, 0}, {40, 1e-2, 0, 0}, {400, 1e-1, 0, 0}},
	Accuracy{0.005, 2, 0}, 0, voltmeterSource}

// Ohmmeter: 3.2 V on an open at most, ± (0.8 % + 2 digits), about 1 mA in its
// lowest range (read, as an example); the test currents of the other ranges,
// the lower open volts there and 0.2 Ω of leads are common practice, no source.
var Ohmmeter = Meter{0, 0.2, []Range{{400, 0.1, 3.2, 1e-3}, {4e3, 1, 1.2, 1e-4}, {40e3, 10, 1.2, 1e-5}, {400e3, 100, 1.2, 1e-6}, {4e6, 1e3, 1.2, 1e-7}, {40e6, 1e4, 1.2, 3e-8}},
	Accuracy{0.008, 2, 0}, 0, ohmmeterSource}

// ContinuityOhms: a meter beeps below this (three manuals say 50 to 100 Ω, read).
const ContinuityOhms = 50.0

// Ammeter, in line: 100 mV at 10 A (a manual, read, as an example); accuracy common practice, no source.
var Ammeter = Meter{0.010, 0, []Range{{10, 1e-3, 0, 0}}, Accuracy{0.01, 3, 0}, 10, fromPractice}

// Clamp: ± 2 % of reading (from memory) ± 30 mA of zero that wanders (common practice).
var Clamp = Meter{0, 0, []Range{{40, 0.01, 0, 0}, {400, 0.1, 0, 0}}, Accuracy{0.02, 0, 0.030}, 0, clampSource}

// Lights and the rest (common practice, no source).
const (
	LEDLightVolts     = 2.0 // where an LED light begins to conduct
	LEDFullVolts      = 12.0
	LEDLightOhms      = 1000. // 10 mA at 12 V
	TestLampWatts     = 3.0   // 0.25 A at 12 V; at 24 V half of that
	LoadLampWatts     = 55.0  // 4.39 A at 13.2 V
	LoadLampWatts24V  = 70.0  // 2.68 A at 28 V
	BrightAbove       = 0.70  // share of light above which an eye calls a lamp bright
	DimAbove          = 0.03  // below this an eye calls it dark
	JumperFuseAmps    = 10.0
	JumperOhms        = 0.020
	ScopeInputOhms    = 1e6
	DragGaugeNewtons  = 0.1 // resolution
	JointThermalError = 2.0 // °C, a spot thermometer on a dull joint
)
