package record

// This file holds the scope to what it shows, and the meter that keeps extremes to a plain sliding mean.

import (
	"math"
	"math/rand/v2"
	"testing"
)

// pulse is 12 V, but 6 V for 20 ms from every whole second on.
func pulse(at float64) float64 {
	if _, part := math.Modf(at); part < 0.02 {
		return 6
	}
	return 12
}

// feed runs a scope on the pulse in steps of a millisecond.
func feed(t *testing.T, s *Scope, from, to float64) {
	t.Helper()
	for k := int(math.Round(from * 1000)); k <= int(math.Round(to*1000)); k++ {
		at := float64(k) / 1000
		if err := s.Add(at, pulse(at), at); err != nil {
			t.Fatal(err)
		}
	}
}

func scope(t *testing.T, s Settings) *Scope {
	t.Helper()
	sc, err := NewScope(channels(2), s)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func TestTrigger(t *testing.T) {
	for name, c := range map[string]struct {
		set Settings
		at  float64
	}{
		"falling":    {Settings{Seconds: 0.2, Before: 0.25, Sweep: Normal, Trigger: Trigger{Level: 9, Slope: Falling}}, 3},
		"rising":     {Settings{Seconds: 0.2, Before: 0.25, Sweep: Normal, Trigger: Trigger{Level: 9, Slope: Rising}}, 3.02},
		"single":     {Settings{Seconds: 0.2, Before: 0.25, Sweep: Single, Trigger: Trigger{Level: 9, Slope: Falling}}, 1},
		"second":     {Settings{Seconds: 0.2, Before: 1, Sweep: Single, Trigger: Trigger{Channel: 1, Level: 2.5}}, 2.5},
		"whole":      {Settings{Seconds: 0.2, Before: 0, Sweep: Single, Trigger: Trigger{Channel: 1, Level: 2.5}}, 2.5},
		"never back": {Settings{Seconds: 0.2, Before: 0.5, Sweep: Single, Trigger: Trigger{Level: 9, Slope: Falling, Quiet: 2}}, 1},
	} {
		s := scope(t, c.set)
		feed(t, s, 0.5, 3.5)
		shown, ok := s.Screen()
		if !ok || !shown.Triggered || math.Abs(shown.At-c.at) > 0.0011 {
			t.Errorf("%s: triggered %v at %g s, want %g", name, shown.Triggered, shown.At, c.at)
			continue
		}
		if math.Abs(shown.From-(shown.At-0.2*c.set.Before)) > 1e-12 || math.Abs(shown.To-shown.From-0.2) > 1e-12 {
			t.Errorf("%s: the screen goes from %g to %g s", name, shown.From, shown.To)
		}
		from, to := shown.Span()
		if math.Abs(from-shown.From) > 1e-12 || math.Abs(to-shown.To) > 1e-12 {
			t.Errorf("%s: recorded from %g to %g s", name, from, to)
		}
		if s.Waits() != (c.set.Sweep == Normal) {
			t.Errorf("%s: waits is %v", name, s.Waits())
		}
	}
}

// An edge lies where the line crosses the level, and a ripple that does not go far enough back is none.
func TestFirstEdge(t *testing.T) {
	r := New(channels(1), 0)
	for _, row := range [][2]float64{{0, 12}, {1, 8}, {2, 10}, {3, 8}, {4, 16}, {4, 4}, {5, 12}} {
		add(t, r, row[0], row[1])
	}
	for _, c := range []struct {
		trigger Trigger
		from    float64
		at      float64
		ok      bool
	}{
		{Trigger{Level: 9, Slope: Falling}, 0, 0.75, true}, {Trigger{Level: 9, Slope: Falling}, 0.8, 2.5, true}, {Trigger{Level: 9}, 0, 1.5, true},
		{Trigger{Level: 9, Quiet: 1.5}, 0, 4.625, true}, {Trigger{Level: 9, Slope: Falling, Quiet: 1.5}, 0.8, 4, true}, {Trigger{Level: 17}, 0, 0, false}, {Trigger{Level: 9}, 5, 0, false},
	} {
		at, ok := r.FirstEdge(c.trigger, c.from)
		if ok != c.ok || math.Abs(at-c.at) > 1e-12 {
			t.Errorf("%+v from %g s: at %g s (%v), want %g", c.trigger, c.from, at, ok, c.at)
		}
	}
}

func TestSingleShotIsArmedAgain(t *testing.T) {
	s := scope(t, Settings{Seconds: 0.1, Sweep: Single, Trigger: Trigger{Level: 9, Slope: Falling}})
	feed(t, s, 0.5, 3.5)
	s.Arm()
	feed(t, s, 3.501, 5.5)
	if shown, _ := s.Screen(); math.Abs(shown.At-4) > 0.0011 {
		t.Errorf("the second shot is at %g s, want 4", shown.At)
	}
}

func TestSweeps(t *testing.T) {
	quiet := Trigger{Level: 3, Slope: Falling}
	auto := scope(t, Settings{Seconds: 0.2, Sweep: Auto, Trigger: quiet})
	feed(t, auto, 0, 1.5)
	if shown, ok := auto.Screen(); !ok || shown.Triggered || shown.To < 1.3 {
		t.Errorf("auto shows %v up to %g s, triggered %v", ok, shown.To, shown.Triggered)
	}
	normal := scope(t, Settings{Seconds: 0.2, Sweep: Normal, Trigger: quiet})
	feed(t, normal, 0, 1.5)
	if _, ok := normal.Screen(); ok || !normal.Waits() {
		t.Error("normal shows what was not triggered")
	}
	roll := scope(t, Settings{Seconds: 0.2, Sweep: Roll})
	feed(t, roll, 0, 1.5)
	if shown, ok := roll.Screen(); !ok || shown.To != 1.5 || math.Abs(shown.From-1.3) > 1e-12 || roll.Waits() {
		t.Errorf("roll shows %g to %g s", shown.From, shown.To)
	}
	if rows := roll.past.Rows(); rows > 210 {
		t.Errorf("roll holds %d rows", rows)
	}
}

func TestCueTrigger(t *testing.T) {
	s := scope(t, Settings{Seconds: 0.2, Before: 0.5, Sweep: Single, Trigger: Trigger{Cue: "k2 clicks"}})
	feed(t, s, 0, 1.2)
	s.Cue(1.2, "F7 opens")
	s.Cue(1.2, "K2 clicks in")
	feed(t, s, 1.201, 2)
	shown, ok := s.Screen()
	if !ok || shown.At != 1.2 || len(shown.Marks()) != 2 {
		t.Errorf("shown %v at %g s with %v", ok, shown.At, shown.Recording)
	}
}

func TestScopeGoesBack(t *testing.T) {
	s := scope(t, Settings{Seconds: 0.5, Before: 0.5, Sweep: Normal, Trigger: Trigger{Level: 9, Slope: Falling}})
	feed(t, s, 0.5, 1.1)
	s.Back(0.9)
	if !s.Waits() {
		t.Error("a trigger that has not happened yet")
	}
	feed(t, s, 0.901, 1.6)
	if shown, ok := s.Screen(); !ok || math.Abs(shown.At-1) > 0.0011 {
		t.Errorf("shown %v at %g s", ok, shown.At)
	}
}

func TestScopeRefuses(t *testing.T) {
	for _, s := range []Settings{{}, {Seconds: math.NaN()}, {Seconds: math.Inf(1)}, {Seconds: 1, Before: -0.1}, {Seconds: 1, Before: 1.1}, {Seconds: 1, Before: math.NaN()},
		{Seconds: 1, Trigger: Trigger{Channel: 2}}, {Seconds: 1, Trigger: Trigger{Channel: -1}}, {Seconds: 1, Trigger: Trigger{Level: math.NaN()}}, {Seconds: 1, Trigger: Trigger{Quiet: -1}}} {
		if _, err := NewScope(channels(2), s); err == nil {
			t.Errorf("%+v is taken", s)
		}
	}
	for _, n := range []int{0, 3} {
		if _, err := NewScope(channels(n), Settings{Seconds: 1}); err == nil {
			t.Errorf("%d channels are taken", n)
		}
	}
}

// A dip as long as the response is shown in full, half as long by half; the peak mode shows what the ordinary one misses.
func TestMinMaxOfADip(t *testing.T) {
	for _, c := range []struct{ response, dip, want float64 }{
		{OrdinaryResponse, 0.100, 6}, {OrdinaryResponse, 0.250, 6}, {OrdinaryResponse, 0.050, 9}, {OrdinaryResponse, 0.005, 11.7},
		{PeakResponse, 0.005, 6}, {PeakResponse, 0.001, 6}, {PeakResponse, 0.0002, 10.8},
	} {
		m := NewMinMax(c.response)
		for _, row := range [][2]float64{{0, 12}, {3600, 12}, {3600, 6}, {3600 + c.dip, 6}, {3600 + c.dip, 12}, {7200, 12}} {
			if err := m.Add(row[0], row[1]); err != nil {
				t.Fatal(err)
			}
		}
		low, high, now, ok := m.Shows()
		if !ok || math.Abs(low.Value-c.want) > 1e-6 || math.Abs(high.Value-12) > 1e-6 || math.Abs(now-12) > 1e-6 {
			t.Errorf("a dip of %g s on a response of %g s shows %g, %g, now %g; want %g", c.dip, c.response, low.Value, high.Value, now, c.want)
		}
		if at := 3600 + min(c.dip, c.response); math.Abs(low.Seconds-at) > 1e-6 {
			t.Errorf("it was shown at %g s, want %g", low.Seconds, at)
		}
	}
}

// The extremes are those of the sliding mean, summed up plainly in small steps.
func TestMinMaxIsTheSlidingMean(t *testing.T) {
	for seed := range uint64(25) {
		rng := rand.New(rand.NewPCG(seed, 5))
		r := New(channels(1), 0)
		m := NewMinMax(0.1)
		at, value := 0.0, 5.0
		for range 60 {
			if rng.IntN(4) > 0 {
				at += math.Pow(10, -3+2.5*rng.Float64())
			}
			value = 10 * rng.Float64()
			add(t, r, at, value)
			if err := m.Add(at, value); err != nil {
				t.Fatal(err)
			}
		}
		first, last := r.Span()
		mean := func(to float64) float64 {
			from := to - 0.1
			sum := 0.0
			if from < first {
				sum += (min(to, first) - from) * r.before(first, 0)
				from = first
			}
			if from < to {
				piece, _ := r.Measure(0, from, to)
				sum += piece.Mean * (to - from)
			}
			return sum / 0.1
		}
		low, high := math.Inf(1), math.Inf(-1)
		for k := range 20001 {
			v := mean(first + (last-first)*float64(k)/20000)
			low, high = min(low, v), max(high, v)
		}
		gotLow, gotHigh, now, _ := m.Shows()
		if gotLow.Value > low+1e-9 || gotLow.Value < low-0.02 || gotHigh.Value < high-1e-9 || gotHigh.Value > high+0.02 || math.Abs(now-mean(last)) > 0.01 {
			t.Errorf("seed %d: shows %g and %g, now %g; the sliding mean has %g and %g, now %g", seed, gotLow.Value, gotHigh.Value, now, low, high, mean(last))
		}
	}
}

// Fed every microsecond for a second, the meter holds a thousand values or so, and is off by nothing that shows.
func TestMinMaxIsBounded(t *testing.T) {
	m := NewMinMax(0.1)
	for k := range 1000001 {
		at := float64(k) * 1e-6
		if err := m.Add(at, 12+math.Sin(2*math.Pi*5*at)); err != nil {
			t.Fatal(err)
		}
	}
	if len(m.past) > 2200 {
		t.Errorf("%d values are held", len(m.past))
	}
	// A sine through a sliding mean of half its period keeps 2/pi of its height (sinc, elementary).
	low, high, _, _ := m.Shows()
	if want := 2 / math.Pi; math.Abs(high.Value-12-want) > 1e-4 || math.Abs(12-low.Value-want) > 1e-4 {
		t.Errorf("shows %g and %g, want 12 ± %g", low.Value, high.Value, want)
	}
	m.Reset()
	if low, high, now, _ := m.Shows(); low.Value != now || high.Value != now {
		t.Errorf("after a reset it shows %g and %g, now %g", low.Value, high.Value, now)
	}
}

func TestMinMaxRefuses(t *testing.T) {
	m := NewMinMax(1)
	if _, _, _, ok := m.Shows(); ok {
		t.Error("it shows something before the first value")
	}
	if err := m.Add(1, 2); err != nil {
		t.Fatal(err)
	}
	for _, row := range [][2]float64{{0, 1}, {math.NaN(), 1}, {2, math.NaN()}, {2, math.Inf(1)}, {math.Inf(1), 0}} {
		if m.Add(row[0], row[1]) == nil {
			t.Errorf("%v is taken", row)
		}
	}
}
