package record

// This file holds recordings to what they promise: nothing extreme is lost, sums are exact, room is bounded.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

var volts = Channel{Name: "B1.pos", Unit: "V"}

func add(t testing.TB, r *Recording, seconds float64, values ...float64) {
	t.Helper()
	if err := r.Add(seconds, values...); err != nil {
		t.Fatal(err)
	}
}

// A dip of 1 ms in eight hours, in a recording that has room for a thousand rows and is fed millions.
func TestDipInEightHours(t *testing.T) {
	r := New([]Channel{volts, {Name: "amps W3", Unit: "A"}}, 1000)
	const dipAt, dip = 17123.4567, 6.31
	fed := 0
	for at := 0.0; at < 8*3600; at += 0.01 {
		add(t, r, at, 12.4+0.05*math.Sin(at), 0.3)
		fed++
		if at < dipAt && at+0.01 >= dipAt {
			add(t, r, dipAt, 12.4, 0.3)
			add(t, r, dipAt, dip, 4)
			add(t, r, dipAt+0.001, dip, 4)
			add(t, r, dipAt+0.001, 12.4, 0.3)
		}
	}
	if r.Rows() > 1000 || fed < 2e6 {
		t.Fatalf("%d rows are kept of %d", r.Rows(), fed)
	}
	m, ok := r.Measure(0, 0, 8*3600)
	if !ok || m.Min != dip || m.MinSeconds != dipAt {
		t.Errorf("the dip reads %g V at %g s", m.Min, m.MinSeconds)
	}
	if m, _ = r.Measure(1, dipAt-1, dipAt+1); m.Max != 4 {
		t.Errorf("the current of the dip reads %g A", m.Max)
	}
	if r.Width() <= 0 || r.Width() > 8*3600/20 {
		t.Errorf("thinned to %g s", r.Width())
	}
	// 12.4 V but for 1 ms, and a sine whose mean over the time is nearly 0.
	want := 12.4 - 0.001*(12.4-dip)/(8*3600) + 0.05*(1-math.Cos(8*3600))/(8*3600)
	if m, _ = r.Measure(0, 0, 8*3600); math.Abs(m.Mean-want) > 1e-6 {
		t.Errorf("the mean is %.9f V, want %.9f", m.Mean, want)
	}
}

// random feeds a recording and gives what it was fed. Steps are from microseconds to minutes; some are jumps.
func random(t testing.TB, r *Recording, rows int, seed uint64) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 1))
	at, n := rng.NormFloat64(), len(r.Channels())
	var fed [][]float64
	for range rows {
		if rng.IntN(8) > 0 {
			at += math.Pow(10, -6+7*rng.Float64())
		}
		row := []float64{at}
		for range n {
			row = append(row, math.Round(100*rng.NormFloat64()))
		}
		fed = append(fed, row)
		add(t, r, at, row[1:]...)
	}
	return fed
}

func channels(n int) []Channel {
	all := make([]Channel, n)
	for i := range all {
		all[i] = Channel{Name: fmt.Sprint("c", i), Unit: "V"}
	}
	return all
}

// Whatever is fed: rows that are kept were fed, in their order; no stretch loses its extremes; the room holds.
func TestThinning(t *testing.T) {
	thinned := 0
	for seed := range uint64(40) {
		n := int(seed%4) + 1
		room := leastRoom(n) * (1 + int(seed%3))
		r := New(channels(n), room)
		fed := random(t, r, 200+int(seed)*100, seed)
		if r.Rows() > room {
			t.Fatalf("seed %d: %d rows in a room for %d", seed, r.Rows(), room)
		}
		k := 0
		for i := range r.Rows() {
			row := append([]float64{r.Seconds(i)}, r.values(i)...)
			for k < len(fed) && !slices.Equal(fed[k], row) {
				k++
			}
			if k == len(fed) {
				t.Fatalf("seed %d: row %d was not fed, or not in this order", seed, i)
			}
		}
		if last := fed[len(fed)-1]; r.Seconds(r.Rows()-1) != last[0] || r.Seconds(0) != fed[0][0] {
			t.Errorf("seed %d: an end is missing", seed)
		}
		if r.Width() > 0 {
			thinned++
		}
		extremesStay(t, seed, r, fed)
	}
	if thinned < 20 {
		t.Errorf("only %d were thinned", thinned)
	}
}

func extremesStay(t *testing.T, seed uint64, r *Recording, fed [][]float64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 2))
	from, to := r.Span()
	for range 30 {
		a := from + (to-from)*rng.Float64()
		b := a + (to-a)*rng.Float64()
		for c := range r.Channels() {
			low, high := math.Inf(1), math.Inf(-1)
			for _, row := range fed {
				if row[0] >= a && row[0] <= b {
					low, high = min(low, row[1+c]), max(high, row[1+c])
				}
			}
			m, ok := r.Measure(c, a-r.Width(), b+r.Width())
			if !ok || m.Min > low || m.Max < high {
				t.Fatalf("seed %d: from %g to %g s channel %d reached %g and %g, kept are %g and %g", seed, a, b, c, low, high, m.Min, m.Max)
			}
		}
	}
}

// The sum over time is that of everything that was fed, to the last digits, between any two kept rows.
func TestMeanOfThinned(t *testing.T) {
	for seed := range uint64(20) {
		r := New(channels(2), 0)
		r.room = leastRoom(2)
		fed := random(t, r, 3000, seed)
		if r.Width() == 0 {
			t.Fatal("not thinned")
		}
		rng := rand.New(rand.NewPCG(seed, 3))
		for range 20 {
			i := rng.IntN(r.Rows() - 1)
			k := i + 1 + rng.IntN(r.Rows()-i-1)
			a, b := r.Seconds(i), r.Seconds(k)
			if a == b {
				continue
			}
			sum := 0.0
			for n := 1; n < len(fed); n++ {
				if fed[n-1][0] >= a && fed[n][0] <= b {
					sum += (fed[n][0] - fed[n-1][0]) * (fed[n][1] + fed[n-1][1]) / 2
				}
			}
			m, _ := r.Measure(0, a, b)
			if math.Abs(m.Mean*(b-a)-sum) > 1e-9*(1+100*(fed[len(fed)-1][0]-fed[0][0])) {
				t.Errorf("seed %d: from %g to %g s the sum is %g, want %g", seed, a, b, m.Mean*(b-a), sum)
			}
		}
	}
}

// Time below a level, thinned or not, is right within what it says.
func TestBelow(t *testing.T) {
	for seed := range uint64(20) {
		full, thin := New(channels(1), 1<<20), New(channels(1), 0)
		thin.room = leastRoom(1)
		for _, row := range random(t, full, 2000, seed) {
			add(t, thin, row[0], row[1])
		}
		from, to := full.Span()
		from += (to - from) / 7
		to -= (to - from) / 9
		want, within := full.Below(0, 30, from, to)
		if within != 0 {
			t.Fatal("nothing has been left out, and it is not sure")
		}
		got, within := thin.Below(0, 30, from, to)
		if math.Abs(got-want) > within+1e-9 {
			t.Errorf("seed %d: below for %g ± %g s, want %g", seed, got, within, want)
		}
		if want <= 0 || want >= to-from {
			t.Errorf("seed %d: below for %g s of %g", seed, want, to-from)
		}
	}
	// A ramp from 0 to 10 V in 10 s is below 3 V for 3 s; a square wave of period 2 s below 5 V half the time.
	ramp := New(channels(1), 0)
	add(t, ramp, 0, 0)
	add(t, ramp, 10, 10)
	if got, _ := ramp.Below(0, 3, 0, 10); math.Abs(got-3) > 1e-12 {
		t.Errorf("a ramp is below for %g s, want 3", got)
	}
	if got, _ := ramp.Below(0, 3, 1, 2); math.Abs(got-1) > 1e-12 {
		t.Errorf("a piece of a ramp is below for %g s, want 1", got)
	}
	square := New(channels(1), 0)
	for k := range 10 {
		for _, row := range [][2]float64{{0, 12}, {1, 12}, {1, 0}, {2, 0}} {
			add(t, square, 2*float64(k)+row[0], row[1])
		}
	}
	if got, _ := square.Below(0, 5, 0, 20); math.Abs(got-10) > 1e-12 {
		t.Errorf("a square wave is below for %g s, want 10", got)
	}
}

// A burst that is thinned while it goes on is not called sure.
func TestBelowInABurst(t *testing.T) {
	r := New(channels(1), leastRoom(1))
	for k := range 3 * leastRoom(1) {
		add(t, r, float64(k), 12)
	}
	from, _ := r.Span()
	_, to := r.Span()
	if _, within := r.Below(0, 9, from, to); within != 0 {
		t.Errorf("12 V throughout are below 9 V within %g s", within)
	}
	for k := range 40 {
		add(t, r, to+float64(k)*1e-3, float64(6+6*(k%2)))
	}
	if _, within := r.Below(0, 9, to, to+1); within < 0.03 || within > 0.05 {
		t.Errorf("a thinned burst of 39 ms is known within %g s", within)
	}
}

// The sum over time goes on without a jump through what has been left out.
func TestSumHasNoJumps(t *testing.T) {
	r := New(channels(1), leastRoom(1))
	random(t, r, 3000, 1)
	from, to := r.Span()
	for i := 1; i < r.Rows(); i++ {
		at := r.Seconds(i)
		before := at - 1e-9*(to-from)
		if before <= r.Seconds(i-1) {
			continue
		}
		if a, b := r.sumAt(before, 0), r.sum(i, 0); math.Abs(a-b) > 1e-6*(to-from) {
			t.Fatalf("before %g s the sum is %g, then %g", at, a, b)
		}
	}
}

func TestMeasure(t *testing.T) {
	r := New(channels(1), 0)
	for _, row := range [][2]float64{{0, 12}, {1, 12}, {1, 8}, {3, 10}} {
		add(t, r, row[0], row[1])
	}
	m, ok := r.Measure(0, 0.5, 2)
	want := Measured{FromSeconds: 0.5, ToSeconds: 2, Start: 12, End: 9, Min: 8, MinSeconds: 1, Max: 12, MaxSeconds: 0.5, Mean: (6 + 8.5) / 1.5}
	if !ok || m != want {
		t.Errorf("measured %+v, want %+v", m, want)
	}
	if m.PeakToPeak() != 4 {
		t.Errorf("%g from peak to peak, want 4", m.PeakToPeak())
	}
	if _, ok := r.Measure(0, 4, 5); ok {
		t.Error("something is measured behind the end")
	}
	if _, ok := r.Measure(0, math.NaN(), 5); ok {
		t.Error("something is measured from no time")
	}
	if _, ok := New(channels(1), 0).Measure(0, 0, 1); ok {
		t.Error("something is measured in an empty recording")
	}
	if got := r.At(1, 0); got != 8 {
		t.Errorf("at the jump it is %g, want what it jumps to", got)
	}
	if !math.IsNaN(New(channels(1), 0).At(0, 0)) {
		t.Error("an empty recording has a value")
	}
}

// A sine of 7 Hz with a ripple of 90 Hz on it: the beat is that of the sine.
func TestBeat(t *testing.T) {
	r := New(channels(2), 0)
	for at := 0.0; at < 2; at += 0.0003 {
		add(t, r, at, 10+2*math.Sin(2*math.Pi*7*at)+0.1*math.Sin(2*math.Pi*90*at), at)
	}
	b, ok := r.Beat(0, 0, 2)
	if !ok || math.Abs(b.Hertz()-7) > 0.02 || b.Periods != 12 || b.Longest-b.Shortest > 0.01 {
		t.Errorf("%g Hz over %d periods (%v), want 7", b.Hertz(), b.Periods, b)
	}
	if _, ok := r.Beat(0, 0, 0.1); ok {
		t.Error("a period is found in less than one")
	}
	if _, ok := r.Beat(1, 0, 2); ok {
		t.Error("a ramp has a period")
	}
	coarse := New(channels(1), 0)
	coarse.room = leastRoom(1)
	for at := 0.0; at < 100; at += 0.002 {
		add(t, coarse, at, math.Sin(2*math.Pi*7*at))
	}
	if b, ok := coarse.Beat(0, 0, 100); ok {
		t.Errorf("%v is found where rows up to %g s have been left out", b, coarse.Width())
	}
}

func TestRefusedRows(t *testing.T) {
	r := New(channels(2), 0)
	add(t, r, 1, 2, 3)
	for _, row := range [][]float64{{2, 1}, {2, 1, 2, 3}, {0.5, 1, 2}, {math.NaN(), 1, 2}, {math.Inf(1), 1, 2}, {2, math.NaN(), 2}, {2, 1e200, 2}, {2, 1, math.Inf(-1)}} {
		if err := r.Add(row[0], row[1:]...); err == nil {
			t.Errorf("%v is taken", row)
		}
	}
	add(t, r, 1, 2, 3)
	if r.Rows() != 1 {
		t.Errorf("%d rows, though the second said nothing new", r.Rows())
	}
}

func TestBackAndForget(t *testing.T) {
	for seed := range uint64(30) {
		r := New(channels(2), leastRoom(2))
		fed := random(t, r, 1200, seed)
		from, to := r.Span()
		rng := rand.New(rand.NewPCG(seed, 4))
		cut := from + (to-from)*rng.Float64()
		r.Mark(Mark{Seconds: cut - 1e-9, Words: "before"})
		r.Mark(Mark{Seconds: cut + 1e-9, Words: "after"})
		before, mean := r.At(cut, 0), 0.0
		if m, ok := r.Measure(0, from, r.Seconds(r.rowAt(cut))); ok {
			mean = m.Mean
		}
		if seed%2 == 0 {
			r.Back(cut)
			if _, end := r.Span(); end > cut {
				t.Fatalf("seed %d: a row at %g s after going back to %g", seed, end, cut)
			}
			if m, ok := r.Measure(0, from, cut); ok && math.Abs(m.Mean-mean) > 1e-9*math.Abs(mean) {
				t.Errorf("seed %d: the mean was %g and is %g", seed, mean, m.Mean)
			}
			if ms := r.Marks(); len(ms) != 1 || ms[0].Words != "before" {
				t.Errorf("marks %v", ms)
			}
			for _, row := range fed { // and on from there
				if row[0] > cut {
					add(t, r, row[0], row[1:]...)
				}
			}
			extremesStay(t, seed, r, fed)
			continue
		}
		r.Forget(cut)
		if ms := r.Marks(); len(ms) != 1 || ms[0].Words != "after" {
			t.Errorf("marks %v", ms)
		}
		if got := r.At(cut, 0); got != before {
			t.Errorf("seed %d: at %g s it was %g and is %g", seed, cut, before, got)
		}
		if n := r.buckets[0].first; n != 0 {
			t.Errorf("seed %d: the first bucket begins with row %d", seed, n)
		}
		for _, row := range fed {
			add(t, r, to+row[0]-from, row[1:]...)
		}
	}
}

// What is recorded between the steps stays as near to the curve as was asked, and a straight line gets no rows.
func TestFollow(t *testing.T) {
	curve := func(at float64) float64 { return 12 - 3*math.Exp(-at/0.02) + 0.4*math.Sin(40*at) }
	r := New(channels(2), 0)
	read := func(at float64, v []float64) { v[0], v[1] = curve(at), 5+at }
	if err := r.Follow(0, 1e-3, 0, read); err != nil {
		t.Fatal(err)
	}
	for at := 0.1; at <= 1; at += 0.1 {
		if err := r.Follow(at, 1e-3, 0, read); err != nil {
			t.Fatal(err)
		}
	}
	worst := 0.0
	for at := 0.0; at < 1; at += 1e-4 {
		worst = max(worst, math.Abs(r.At(at, 0)-curve(at)))
	}
	if worst > 2e-3*12 {
		t.Errorf("%g V off", worst)
	}
	if r.Rows() > 300 {
		t.Errorf("%d rows", r.Rows())
	}
	rough := New(channels(2), 0)
	for at := 0.0; at <= 1; at += 0.1 {
		if err := rough.Follow(at, 1e-3, 0.03, read); err != nil {
			t.Fatal(err)
		}
	}
	if rough.Rows() < 20 || rough.Rows() > 45 { // each tenth of a second is halved twice at most
		t.Errorf("%d rows where nothing below 30 ms is looked into", rough.Rows())
	}
	straight := New(channels(1), 0)
	for k := range 10 {
		if err := straight.Follow(float64(k)/10, 1e-3, 0, func(at float64, v []float64) { v[0] = 3 * at }); err != nil {
			t.Fatal(err)
		}
	}
	if straight.Rows() != 10 {
		t.Errorf("a straight line has %d rows, want 10", straight.Rows())
	}
	if err := r.Follow(1.1, 1e-3, 0, func(_ float64, v []float64) { v[0] = math.NaN() }); err == nil {
		t.Error("what is no number is recorded")
	}
}

func TestPart(t *testing.T) {
	r := New(channels(1), 0)
	for _, row := range [][2]float64{{0, 0}, {2, 4}, {2, 10}, {4, 10}} {
		add(t, r, row[0], row[1])
	}
	r.Mark(Mark{Seconds: 2, Words: "K2 clicks in"})
	p := r.Part(1, 3)
	want := [][2]float64{{1, 2}, {2, 4}, {2, 10}, {3, 10}}
	if p.Rows() != len(want) || len(p.Marks()) != 1 {
		t.Fatalf("%d rows, %d marks", p.Rows(), len(p.Marks()))
	}
	for i, row := range want {
		if p.Seconds(i) != row[0] || p.Value(i, 0) != row[1] {
			t.Errorf("row %d is %g, %g, want %v", i, p.Seconds(i), p.Value(i, 0), row)
		}
	}
	if p := r.Part(7, 8); p.Rows() != 0 {
		t.Errorf("%d rows behind the end", p.Rows())
	}
}

func TestMarks(t *testing.T) {
	r := New(channels(1), 0)
	for i := range 3 * mostMarks {
		r.Mark(Mark{Seconds: float64(i), Words: []string{"K2 clicks in", "K2 lets go"}[i%2]})
	}
	r.Mark(Mark{Seconds: 5.5, Words: "KEY=run", Done: true})
	r.Mark(Mark{Seconds: 4 * mostMarks, Words: "K2 lets go", Done: true})
	all := r.Marks()
	if last := all[len(all)-1]; !last.Done || last.Words != "K2 lets go" {
		t.Errorf("the last is %v", last)
	}
	all = all[:len(all)-1]
	if len(all) > mostMarks+1 {
		t.Errorf("%d marks are held", len(all))
	}
	if all[6].Words != "KEY=run" {
		t.Errorf("the seventh mark is %v", all[6])
	}
	told := Told(all, 4)
	count := 0
	for _, m := range told {
		count += 1 + m.More
	}
	if len(told) != 3 || count != 3*mostMarks+1 || told[0].Through != 3*mostMarks-2 || told[1].Through != 3*mostMarks-1 || told[2].Words != "KEY=run" {
		t.Errorf("told as %v", told)
	}
	if few := Told(all[:6], 4); len(few) != 6 {
		t.Errorf("%d of 6 are told one by one", len(few))
	}
}

// FuzzRecording feeds anything.
func FuzzRecording(f *testing.F) {
	f.Add([]byte{1, 2, 3, 200, 5, 6, 0, 0, 9}, 0.5)
	f.Add([]byte{255, 255, 0, 1, 1, 1}, math.NaN())
	f.Fuzz(func(t *testing.T, steps []byte, level float64) {
		r := New(channels(1), 1)
		at := 0.0
		for i, b := range steps {
			at += math.Ldexp(float64(b&7), int(b>>3)-20)
			v := float64(b)
			if i%17 == 16 {
				v = level
			}
			if err := r.Add(at, v); err == nil && i%29 == 28 {
				r.Back(at / 2)
				at /= 2
			}
			if i%61 == 60 {
				r.Forget(at / 3)
			}
		}
		if r.Rows() > leastRoom(1) {
			t.Fatalf("%d rows", r.Rows())
		}
		from, to := r.Span()
		if m, ok := r.Measure(0, from, to); ok && (m.Min > m.Max || math.IsNaN(m.Mean)) {
			t.Errorf("measured %+v", m)
		}
		if s, within := r.Below(0, level, from, to); !(s >= 0) || s > (to-from)*(1+1e-9) || within < 0 {
			t.Errorf("below for %g ± %g s of %g", s, within, to-from)
		}
		r.Beat(0, from, to)
		r.Part(from+(to-from)/3, to)
	})
}
