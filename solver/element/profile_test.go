package element

// This file checks sources that follow volts over time.

import (
	"math"
	"testing"

	"underload/solver/transient"
)

// ISO 16750-2, starting profile for 12 V systems, as a public repository states edition 2023: by level, volts US1 and US,
// seconds at US, milliseconds of the last rise. Times that all share: 5 ms down, 15 ms at US1, 50 ms up.
var printedLevels = map[string][4]float64{"I": {8, 9.5, 1, 40}, "II": {4.5, 6.5, 10, 100}, "III": {3, 5, 1, 100}, "IV": {6, 6.5, 10, 100}}

// As a supply of a small load each level has its lowest volts, its ripple and its times, whatever the tolerance: no dip
// is jumped over.
func TestStartingProfilesAsASupply(t *testing.T) {
	if len(StartingLevels) != len(printedLevels) {
		t.Fatalf("%d levels, want %d", len(StartingLevels), len(printedLevels))
	}
	for _, level := range StartingLevels {
		dip, trough, seconds, rise := printedLevels[level.Level][0], printedLevels[level.Level][1], printedLevels[level.Level][2], printedLevels[level.Level][3]/1e3
		for _, tolerance := range []float64{1e-2, 1e-4} {
			n := transient.New()
			post := n.Node()
			n.Element(post, transient.Ground, level.Profile(2, 0.01))
			n.Resistor(post, transient.Ground, 1000)
			r := mustStart(t, n, transient.Options{Tolerance: tolerance})
			lowest, troughs, fallen, returned := math.Inf(1), 0, 0., 0.
			const share = 1000 / 1000.01
			cycle := StartingPause + 0.005 + 0.015 + 0.050 + seconds + rise
			for r.Seconds() < cycle {
				if err := r.Step(cycle); err != nil {
					t.Fatal(err)
				}
				volts := r.Volts(post) / share
				lowest = math.Min(lowest, volts)
				switch after := r.Seconds() - StartingPause - 0.070; {
				case after > 1e-9 && after < seconds && math.Abs(volts-trough) < 1e-9:
					troughs++
				case fallen == 0 && math.Abs(volts-dip) < 1e-9:
					fallen = r.Seconds()
				case after > seconds && returned == 0 && math.Abs(volts-12) < 1e-9:
					returned = r.Seconds()
				}
			}
			if math.Abs(lowest-dip) > 1e-9 {
				t.Errorf("level %s: lowest %v V, want %v", level.Level, lowest, dip)
			}
			if want := int(2 * seconds); troughs != want { // 2 Hz
				t.Errorf("level %s: %d troughs at %v V, want %d", level.Level, troughs, trough, want)
			}
			if math.Abs(fallen-StartingPause-0.005) > 1e-9 || math.Abs(returned-cycle) > 1e-9 {
				t.Errorf("level %s: down at %v s, back at %v s, want %v and %v", level.Level, fallen, returned, StartingPause+0.005, cycle)
			}
			mustAdvance(t, r, 2*cycle-seconds-rise-0.06) // in the dip of the second cycle
			if volts := r.Volts(post) / share; math.Abs(volts-dip) > 1e-9 {
				t.Errorf("level %s: %v V in the second dip, want %v", level.Level, volts, dip)
			}
		}
	}
}

// watcher counts how often its volts fall below a threshold, as a module does that resets.
type watcher struct{ below, above float64 }

func (watcher) Size() transient.Size                     { return transient.Size{Marks: 2, Events: 2} }
func (watcher) Start(_ float64, _, marks []float64)      { marks[0], marks[1] = 1, 0 }
func (watcher) Rates(*transient.Point, *transient.Rates) {}
func (w watcher) Events(at *transient.Point, d []float64) {
	d[0], d[1] = -1, -1
	if at.Marks[0] == 1 {
		d[0] = 1 - at.Volts/w.below
	} else {
		d[1] = at.Volts/w.above - 1
	}
}
func (watcher) Fire(k int, at *transient.Point) {
	at.Marks[0] = float64(k)
	if k == 0 {
		at.Marks[1]++
	}
}

// What falls below a reset threshold of 6.5 V less a little: levels II, III and IV dip below it once a cycle, level I
// never; with 6.55 V each trough of levels II and IV counts too. Level III ripples between 5 and 7 V, which is not back.
func TestStartingProfilesCrossAThreshold(t *testing.T) {
	for level, want := range map[string][2]float64{"I": {0, 0}, "II": {1, 21}, "III": {1, 1}, "IV": {1, 21}} {
		for k, threshold := range []float64{6.45, 6.55} {
			for _, s := range StartingLevels {
				if s.Level != level {
					continue
				}
				n := transient.New()
				post := n.Node()
				n.Element(post, transient.Ground, s.Profile(1, 0.01))
				n.Resistor(post, transient.Ground, 1000)
				id := n.Element(post, transient.Ground, watcher{threshold, 7.1})
				r := mustStart(t, n, transient.Options{Tolerance: 1e-2, Volts: []float64{0, 12}})
				mustAdvance(t, r, 15)
				if got := r.Marks(id)[1]; got != want[k] {
					t.Errorf("level %s, %v V: %v resets, want %v", level, threshold, got, want[k])
				}
			}
		}
	}
}

// Two corners at one time are a jump, and corners at 0 s are passed at once.
func TestProfileJumps(t *testing.T) {
	p := &Profile{Ohms: 0.1, Corners: []Corner{{Volts: 5}, {Seconds: 1, Volts: 6}, {Seconds: 1, Volts: 9}, {Seconds: 2, Volts: 9}}}
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	n := transient.New()
	post := n.Node()
	n.Element(post, transient.Ground, p)
	n.Resistor(post, transient.Ground, 1e6)
	r := mustStart(t, n, transient.Options{})
	for seconds, want := range map[float64]float64{0: 5, 0.5: 5.5, 1: 9, 1.5: 9, 7: 9} {
		s := mustStart(t, n, transient.Options{})
		mustAdvance(t, s, seconds)
		if math.Abs(s.Volts(post)-want) > 1e-5 || math.Abs(p.volts(seconds, p.passed(seconds))-want) > 1e-12 {
			t.Errorf("after %v s: %v V, by itself %v V, want %v", seconds, s.Volts(post), p.volts(seconds, p.passed(seconds)), want)
		}
	}
	mustAdvance(t, r, 3)
	if bad := (&Profile{Ohms: 1, Corners: []Corner{{Seconds: 2}, {Seconds: 1}}}); bad.Check() == nil {
		t.Error("corners that go back in time are let through")
	}
}
