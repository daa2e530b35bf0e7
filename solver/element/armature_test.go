package element

// This file checks coils that move contacts, against closed forms.

import (
	"math"
	"math/rand/v2"
	"testing"

	"underload/solver/transient"
)

// testArmature pulls in at 8 V and lets go at 1.5 V, at 20 degC.
func testArmature() *Armature {
	return &Armature{Ohms: 85, Henries: 0.3, Kelvin: coldKelvin, PullInAmps: 8.0 / 85, ReleaseAmps: 1.5 / 85, InSeconds: 3e-3, OutSeconds: 1.5e-3}
}

func TestArmatureSlopesAndEnergy(t *testing.T) {
	draw := func(r *rand.Rand, at *transient.Point) {
		at.Volts, at.States[0], at.Marks[ArmatureKelvin] = between(r, -400, 14), between(r, -0.2, 0.2), between(r, 250, 400)
	}
	checkSlopes(t, testArmature(), draw)
	checkEnergy(t, testArmature(), draw)
}

// buzzerSeconds is the period of a coil with a resistor across it that is fed through its own breaking contact.
//
// While the contact is closed the current runs towards I = E'/(R + r) with the time constant L/(R + r), where E' and r are
// those of the source behind its ohms with the resistor across; while it is open towards 0 with L/(R + Rp). So
//
//	T = L/(R+r) ln((I - i0)/(I - pull)) + in + L/(R+Rp) ln(i1/release) + out
//	i0 = release exp(-out (R+Rp)/L),  i1 = I - (I - pull) exp(-in (R+r)/L)
func buzzerSeconds(a *Armature, volts, ohms, across float64) float64 {
	thevenin, inner := volts*across/(across+ohms), across*ohms/(across+ohms)
	up, down := a.Henries/(a.Ohms+inner), a.Henries/(a.Ohms+across)
	top := thevenin / (a.Ohms + inner)
	least := a.ReleaseAmps * math.Exp(-a.OutSeconds/down)
	most := top - (top-a.PullInAmps)*math.Exp(-a.InSeconds/up)
	return up*math.Log((top-least)/(top-a.PullInAmps)) + a.InSeconds + down*math.Log(most/a.ReleaseAmps) + a.OutSeconds
}

// buzzer is that circuit, 12 V through a contact of 20 milliohm, 680 ohm across the coil.
func buzzer(t *testing.T, a *Armature, o transient.Options) (*transient.Run, transient.ID) {
	t.Helper()
	n := transient.New()
	feed, coil := n.Node(), n.Node()
	n.Source(transient.Ground, feed, 12, 1e-6)
	id := n.Element(coil, transient.Ground, a)
	n.Element(feed, coil, &Follower{Armature: id, Breaks: true, Ohms: 0.02 - 1e-6})
	n.Resistor(coil, transient.Ground, 680)
	return mustStart(t, n, o), id
}

func TestBuzzerAgainstItsClosedForm(t *testing.T) {
	want := buzzerSeconds(testArmature(), 12, 0.02, 680)
	if math.Abs(want-9.123908462e-3) > 5e-13 {
		t.Fatalf("the closed form gives %.12f s", want)
	}
	for _, c := range []struct {
		o     transient.Options
		bound float64
	}{{transient.Options{}, 2e-5}, {transient.Options{Tolerance: 1e-3, Method: transient.ESDIRK32}, 2e-4}, {transient.Options{Tolerance: 1e-7}, 1e-6}} {
		r, id := buzzer(t, testArmature(), c.o)
		var pulls []float64
		for r.Seconds() < 0.5 {
			if err := r.Step(0.5); err != nil {
				t.Fatal(err)
			}
			for _, f := range r.Fired() {
				if f.Element == id && f.Event == ArmaturePullsIn {
					pulls = append(pulls, f.Seconds)
				}
			}
		}
		if len(pulls) < 40 {
			t.Fatalf("%d periods in half a second", len(pulls))
		}
		got := (pulls[len(pulls)-1] - pulls[1]) / float64(len(pulls)-2)
		t.Logf("tolerance %v: period %.12f s, off by %.1e", c.o.Tolerance, got, got/want-1)
		if math.Abs(got/want-1) > c.bound {
			t.Errorf("tolerance %v: period %.10f s, closed form %.10f s", c.o.Tolerance, got, want)
		}
	}
}

// A coil that is cut off: its voltage turns once, to a peak of current times the resistor, and dies away with L/(R + Rp).
func TestCoilCutOffTurnsOnce(t *testing.T) {
	n := transient.New()
	coil := n.Node()
	feed := n.Source(transient.Ground, coil, 12, 0.01)
	id := n.Element(coil, transient.Ground, testArmature())
	n.Resistor(coil, transient.Ground, 680)
	r := mustStart(t, n, transient.Options{Volts: []float64{0, 12}})
	if r.Marks(id)[ArmaturePlace] != ArmatureIn {
		t.Fatal("it did not begin pulled in")
	}
	mustAdvance(t, r, 0.01)
	amps := r.States(id)[0]
	r.SetOhms(feed, math.Inf(1))
	last, turns := r.Volts(coil), 0
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	if peak := r.Volts(coil); math.Abs(peak+680*amps) > 1e-6*680*amps {
		t.Errorf("peak %v V, want %v V", peak, -680*amps)
	}
	for r.Seconds() < 0.02 {
		if v := r.Volts(coil); v*last < 0 {
			turns++
			last = v
		}
		if err := r.Step(0.02); err != nil {
			t.Fatal(err)
		}
		if s := r.Seconds() - 0.01; s > 1e-4 && s < 3e-3 {
			if want := amps * math.Exp(-s*(85+680)/0.3); math.Abs(r.States(id)[0]-want) > 1e-3*want+1e-6 {
				t.Errorf("%v s after: %v A, want %v A", s, r.States(id)[0], want)
			}
		}
	}
	if turns != 1 {
		t.Errorf("its voltage turned %d times", turns)
	}
	if r.Marks(id)[ArmaturePlace] != ArmatureOut {
		t.Error("it did not let go")
	}
}

// Without anything across it, the gap of its own contact breaks down and bounds the voltage.
func TestCoilCutOffWithoutAnythingAcross(t *testing.T) {
	n := transient.New()
	feed, coil := n.Node(), n.Node()
	n.Source(transient.Ground, feed, 12, 0.05)
	driver := n.Element(feed, transient.Ground, testArmature())
	contact := n.Element(feed, coil, &Follower{Armature: driver, Ohms: 0.01})
	n.Element(coil, transient.Ground, Coil{Ohms: 85, Henries: 0.3})
	r := mustStart(t, n, transient.Options{Volts: []float64{0, 12, 12}})
	r.Marks(contact)[FollowerHeld] = FollowerDead
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	if v := r.Volts(coil); v > -300 || v < -400 {
		t.Errorf("%v V", v)
	}
	mustAdvance(t, r, 0.1)
	if v := r.Volts(coil); math.Abs(v) > 1e-3 {
		t.Errorf("%v V in the end", v)
	}
}

// moves lists when contacts of an armature opened and closed, over a drive of 12 V from 10 to off seconds.
func moves(t *testing.T, a *Armature, off, end float64) (make, breaks []float64) {
	t.Helper()
	n := transient.New()
	coil, lamp, rest := n.Node(), n.Node(), n.Node()
	feed := n.Source(transient.Ground, coil, 0, 0.01)
	n.Resistor(coil, transient.Ground, 680)
	id := n.Element(coil, transient.Ground, a)
	makes := &Follower{Armature: id, Ohms: 0.003}
	broken := &Follower{Armature: id, Breaks: true, Ohms: 0.003}
	n.Source(transient.Ground, lamp, 12, 10)
	makeID := n.Element(lamp, transient.Ground, makes)
	n.Source(transient.Ground, rest, 12, 10)
	breakID := n.Element(rest, transient.Ground, broken)
	r := mustStart(t, n, transient.Options{})
	wasMade, wasBroken := false, true
	step := func(until float64) {
		for r.Seconds() < until {
			if err := r.Step(until); err != nil {
				t.Fatal(err)
			}
			made, isBroken := math.Abs(r.ElementAmps(makeID)) > 0.1, math.Abs(r.ElementAmps(breakID)) > 0.1
			if made != wasMade {
				make, wasMade = append(make, r.Seconds()), made
			}
			if isBroken != wasBroken {
				breaks, wasBroken = append(breaks, r.Seconds()), isBroken
			}
			if made && isBroken {
				t.Errorf("both contacts are closed at %v s", r.Seconds())
			}
		}
	}
	r.SetVolts(feed, 12)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	step(off)
	r.SetVolts(feed, 0)
	r.SetOhms(feed, 1e6)
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	step(end)
	return make, breaks
}

func TestContactsFollow(t *testing.T) {
	tau := 0.3 / 85.0
	pull := tau * math.Log(12/(12-8.0)) // 0.01 ohm of the source is left out
	fall := 0.3 / (85 + 680) * math.Log(12/1.5)
	near := func(name string, got, want []float64) {
		t.Helper()
		if len(got) != len(want) {
			t.Errorf("%s: %v, want %v", name, got, want)
			return
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 4e-6 {
				t.Errorf("%s: %v, want %v", name, got, want)
			}
		}
	}
	a := testArmature()
	make, breaks := moves(t, a, 0.1, 0.2)
	near("makes", make, []float64{pull + 3e-3, 0.1 + fall + 1.5e-3})
	near("breaks", breaks, []float64{pull + 3e-3, 0.1 + fall + 1.5e-3})

	a.FlightSeconds = 0.5e-3
	make, breaks = moves(t, a, 0.1, 0.2)
	near("makes after a flight", make, []float64{pull + 3e-3, 0.1 + fall + 1e-3})
	near("breaks before a flight", breaks, []float64{pull + 2.5e-3, 0.1 + fall + 1.5e-3})

	a.Bounces, a.BounceSeconds = 2, 0.4e-3
	make, _ = moves(t, a, 0.1, 0.2)
	in := pull + 3e-3
	near("bounces", make, []float64{in, in + 0.4e-3, in + 0.8e-3, in + 1e-3, in + 1.2e-3, 0.1 + fall + 1e-3})

	// Cut off in the middle of a bounce, of 6 ms: it lets go, and takes its time as ever.
	a.Bounces, a.BounceSeconds = 1, 6e-3
	off := in + 8e-3
	make, breaks = moves(t, a, off, 0.2)
	peak := 12 * (1 - math.Exp(-off/tau)) // of the amps that 12 V would bring, in volts
	away := off + 0.3/(85+680)*math.Log(peak/1.5)
	near("cut off in a bounce", make, []float64{in, in + 6e-3})
	near("cut off in a bounce, breaks", breaks, []float64{pull + 2.5e-3, away + 1.5e-3})

	// At 100 K more, copper has 1.393 times the ohms, and it pulls in at that many times the volts: later.
	hot := testArmature()
	hot.Kelvin += 100
	make, _ = moves(t, hot, 0.1, 0.11)
	warmer := 1.393 * 85
	near("hot", make[:1], []float64{3e-3 + 0.3/warmer*math.Log(12/(12-8*1.393))})

	// Cut off before it left: nothing moves.
	make, breaks = moves(t, testArmature(), pull+0.5e-3, 0.1)
	near("cut short", make, nil)
	near("cut short, breaks", breaks, nil)
}

func TestFollowerIsHeld(t *testing.T) {
	in, out := []float64{ArmatureIn}, []float64{ArmatureOut}
	for _, c := range []struct {
		breaks   bool
		held     float64
		armature []float64
		closed   bool
	}{
		{false, FollowerFree, in, true}, {false, FollowerFree, out, false}, {true, FollowerFree, in, false}, {true, FollowerFree, out, true},
		{false, FollowerFree, []float64{ArmatureFlying}, false}, {true, FollowerFree, []float64{ArmatureFlying}, false},
		{false, FollowerWelded, out, true}, {false, FollowerDead, in, false},
	} {
		f := &Follower{Breaks: c.breaks, Ohms: 0.01}
		if got := f.Closed([]float64{f.Ohms, c.held}, c.armature); got != c.closed {
			t.Errorf("%+v: closed %v", c, got)
		}
	}
}

// Driven on and off at any time and at any volts, an armature ends where it is driven, its contacts are never both closed,
// and nothing is left to happen.
func TestArmatureIsDrivenAtRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	changed := 0
	for trial := range 60 {
		a := testArmature()
		a.FlightSeconds = between(r, 0, 1.2e-3)
		if a.FlightSeconds < 0.3e-3 {
			a.FlightSeconds = 0
		}
		a.Bounces, a.BounceSeconds = r.IntN(4), between(r, 1e-4, 2e-3)
		n := transient.New()
		coil, common := n.Node(), n.Node()
		feed := n.Source(transient.Ground, coil, 0, 0.5)
		n.Resistor(coil, transient.Ground, 680)
		id := n.Element(coil, transient.Ground, a)
		n.Source(transient.Ground, common, 12, 1)
		made := n.Element(common, transient.Ground, &Follower{Armature: id, Ohms: 0.1})
		rest := n.Element(common, transient.Ground, &Follower{Armature: id, Breaks: true, Ohms: 0.1})
		run := mustStart(t, n, transient.Options{Tolerance: 1e-3, Energy: true})
		step := func(until float64) {
			for run.Seconds() < until {
				if err := run.Step(until); err != nil {
					t.Fatalf("trial %d: %v", trial, err)
				}
				changed += len(run.Fired())
				if run.ElementAmps(made) > 1 && run.ElementAmps(rest) > 1 {
					t.Fatalf("trial %d: both contacts are closed at %v s", trial, run.Seconds())
				}
			}
		}
		for range 40 {
			run.SetVolts(feed, []float64{0, 0, 5, 9, 12, 14}[r.IntN(6)])
			if err := run.Settle(); err != nil {
				t.Fatal(err)
			}
			step(run.Seconds() + between(r, 1e-4, 8e-3))
		}
		for _, volts := range []float64{14, 0} {
			run.SetVolts(feed, volts)
			if err := run.Settle(); err != nil {
				t.Fatal(err)
			}
			step(run.Seconds() + 0.1)
			marks := run.Marks(id)
			if want := volts / 14; marks[ArmaturePlace] != want || marks[ArmatureDriven] != want || !math.IsInf(a.Next(marks), 1) {
				t.Errorf("trial %d: at %v V it stands at %v, driven %v, next %v", trial, volts, marks[ArmaturePlace], marks[ArmatureDriven], a.Next(marks))
			}
		}
		if b := run.Balance(); math.Abs(b.Off()) > 1e-3*b.Given {
			t.Errorf("trial %d: energy off by %v of %v J", trial, b.Off(), b.Given)
		}
	}
	if changed < 1500 {
		t.Errorf("only %d changes in all", changed)
	}
}

// Elements keep nothing to themselves: gone back to in the middle, a run of all that melts, moves and flutters goes on as
// it did, bit for bit.
func TestGoneBackToAllGoesOnAsItDid(t *testing.T) {
	n := transient.New()
	feed, fused, joined, coil, load := n.Node(), n.Node(), n.Node(), n.Node(), n.Node()
	n.Source(transient.Ground, feed, 13, 0.05)
	strip := n.Element(feed, fused, testStrip())
	joint := testJoint()
	joint.Touches, joint.FilmOhms = false, 0.4
	film := n.Element(fused, joined, joint)
	flutter := n.Element(joined, coil, testFlutter())
	armature := n.Element(coil, transient.Ground, testArmature())
	n.Resistor(coil, transient.Ground, 680)
	n.Element(fused, load, &Follower{Armature: armature, Ohms: 0.01})
	n.Element(load, transient.Ground, NewNeck(0.72, 30, 0.5, 300, 1, 0.2, 0.1))
	ids := []transient.ID{strip, film, flutter, armature}
	r := mustStart(t, n, transient.Options{Seed: 9})
	mustAdvance(t, r, 0.3)
	for range 7 {
		if err := r.Step(10); err != nil {
			t.Fatal(err)
		}
	}
	var saved transient.Snapshot
	r.Save(&saved)
	record := func() []float64 {
		var seen []float64
		for r.Seconds() < 3 {
			if err := r.Step(3); err != nil {
				t.Fatal(err)
			}
			seen = append(seen, r.Seconds(), r.Volts(load), float64(len(r.Fired())))
			for _, id := range ids {
				seen = append(append(seen, r.States(id)...), r.Marks(id)...)
			}
		}
		return seen
	}
	first := record()
	r.Restore(&saved)
	again := record()
	if len(first) < 1000 || len(first) != len(again) {
		t.Fatalf("%d and %d numbers", len(first), len(again))
	}
	for i := range first {
		if first[i] != again[i] && !(math.IsInf(first[i], 1) && math.IsInf(again[i], 1)) {
			t.Fatalf("number %d is %v, and was %v", i, again[i], first[i])
		}
	}
}
