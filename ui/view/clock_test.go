package view

// This file tries time on the circuit: on the screen it says what a run without a screen says, and going back undoes.

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"underload/circuit"
	"underload/sim"
	"underload/sim/meter"
	"underload/ui/drawing"
)

// pass lets so many frames go by, 60 in a second.
func pass(v *View, frames int) {
	for range frames {
		v.Tick(1.0 / 60)
	}
}

// alone is the same case on a run of its own: what is done, and when.
func alone(t *testing.T, v *View, until float64, acts ...struct {
	at   float64
	text string
}) *sim.Run {
	t.Helper()
	b, err := sim.New(example(t, "orchard-sprayer"))
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break(looseGround); err != nil {
		t.Fatal(err)
	}
	r, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range acts {
		if err := r.At(a.at, a.text); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.Advance(until, nil); err != nil {
		t.Fatal(err)
	}
	return r
}

type timed = struct {
	at   float64
	text string
}

func says(t *testing.T, r *sim.Run, watch string) float64 {
	t.Helper()
	ch, err := r.Watch(watch)
	if err != nil {
		t.Fatal(err)
	}
	return ch.Read()
}

// The case in motion, by the controls alone: run, turn the key, hold; then volts, gauges, cues and the scope are those of
// a run without a screen.
func TestTimeOnTheScreen(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	clickControl(t, v, "tab:scope")
	clickControl(t, v, "time")
	pass(v, 30)
	turned := v.Report().Time.Seconds
	clickControl(t, v, "set:KEY:run")
	pass(v, 60)
	clickControl(t, v, "time-play")
	r := v.Report()
	if r.Time.Running || math.Abs(r.Time.Seconds-1.5) > 1e-6 {
		t.Fatalf("held: %v, after 90 frames it is %g s", !r.Time.Running, r.Time.Seconds)
	}
	run := alone(t, v, r.Time.Seconds, timed{turned, "KEY=run"})
	want := says(t, run, "PC1.1 against PC1.8")
	if math.Abs(*r.Reading.Value-want) > 2e-3*math.Abs(want) {
		t.Errorf("the voltmeter reads %g V on the screen, %g V without one", *r.Reading.Value, want)
	}
	var cues []string
	for _, c := range run.Cues() {
		cues = append(cues, c.Says)
	}
	if !slices.Equal(r.Time.Cues, cues) || len(cues) == 0 {
		t.Errorf("noticed on the screen: %q, without one %q", r.Time.Cues, cues)
	}
	for i, point := range []string{"PC1.1", "PC1.8"} {
		if got, want := r.Time.Scope[i], says(t, run, point); got.Watch != point || math.Abs(got.Now-want) > 2e-3*math.Abs(want)+1e-4 || got.Least > got.Now || got.Most < got.Now {
			t.Errorf("channel %d of the scope: %+v, without a screen %g V", i, got, want)
		}
	}
	noticed := 0
	for _, e := range r.Log {
		if e.Noticed != "" {
			noticed++
		}
	}
	if noticed != len(cues) {
		t.Errorf("%d of %d cues are in the log", noticed, len(cues))
	}
}

// Held time, and time at rest, ask for no more frames; time that runs does.
func TestTimeThatIsHeldIsIdle(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.Scene()
	if v.Tick(0.1) {
		t.Error("it is busy before time runs")
	}
	keys(v, "Space")
	if !v.Tick(0.1) {
		t.Error("running time asks for no frame")
	}
	v.Scene()
	if v.Tick(0.3); !v.Changed() {
		t.Error("the clock stands still while time runs")
	}
	keys(v, "k")
	v.Scene()
	at := v.Report().Time.Seconds
	if v.Tick(0.1) || v.Changed() || v.Report().Time.Seconds != at {
		t.Error("held time goes on")
	}
	keys(v, ".")
	if got := v.Report().Time.Seconds; math.Abs(got-at-frameSeconds) > 1e-9 || v.Tick(0.1) {
		t.Errorf("a step leads from %g s to %g s", at, got)
	}
	clickControl(t, v, "time-rest")
	if v.Report().Time != nil || v.Tick(0.1) {
		t.Error("at rest there still is a time")
	}
}

// A step back takes back what was done since, and the screen says what it said; so does undoing.
func TestTimeGoesBack(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "B1.neg")
	keys(v, "k")
	pass(v, 30)
	keys(v, "k")
	before := v.Report()
	keys(v, ".")
	v.set("KEY=run")
	keys(v, ".", ".", ".")
	if r := v.Report(); r.Positions["KEY"] != "run" || *r.Reading.Value == *before.Reading.Value {
		t.Fatalf("with the key on %s it reads %g V as before", r.Positions["KEY"], *r.Reading.Value)
	}
	for range 4 {
		keys(v, ",")
	}
	r := v.Report()
	if math.Abs(r.Time.Seconds-before.Time.Seconds) > 1e-9 || r.Positions["KEY"] != "off" || math.Abs(*r.Reading.Value-*before.Reading.Value) > 1e-6 {
		t.Errorf("back at %g s of %g s the key is at %s, and it reads %g V, before %g V", r.Time.Seconds, before.Time.Seconds, r.Positions["KEY"], *r.Reading.Value, *before.Reading.Value)
	}
	v.set("KEY=run")
	keys(v, ".", ".")
	keys(v, "ctrl+z")
	if r := v.Report(); r.Positions["KEY"] != "off" || r.Time == nil || math.Abs(r.Time.Seconds-before.Time.Seconds) > 1e-5 {
		t.Errorf("undone: the key is at %s, the time %+v", r.Positions["KEY"], r.Time)
	}
	keys(v, "ctrl+y", ".")
	if r := v.Report(); r.Positions["KEY"] != "run" || r.Time == nil {
		t.Errorf("done again: the key is at %s", r.Positions["KEY"])
	}
}

// What cannot be done in time changes nothing; what was done before time began can be undone only by ending time.
func TestTimeAndUndo(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.set("KEY=run")
	keys(v, ".")
	keys(v, "ctrl+z")
	if r := v.Report(); r.Time != nil || r.Positions["KEY"] != "off" {
		t.Errorf("what came before time is undone: the time is %+v, the key at %s", r.Time, r.Positions["KEY"])
	}
	keys(v, ".")
	v.layFault("C14.4", looseGround)
	keys(v, ".")
	if got := v.Report().Faults; len(got) != 1 {
		t.Errorf("faults laid in time: %q", got)
	}
	v.mend("C14.4")
	keys(v, ".")
	if heat := says(t, v.clock.run, "C14.4.a against C14.4.b"); math.Abs(heat) > 0.05 {
		t.Errorf("mended in time, the joint still loses %g V", heat)
	}
}

// A resistance that is dragged while time runs is that of the circuit in motion once it is let go, and undone with it.
func TestDragInTime(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	v.pickFault("C14.4")
	keys(v, ".", ".", ".", ".")
	before := *v.Report().Reading.Value
	drag(t, v, 0.2, 0.3, 0.4)
	f, _ := v.now.faultAt("C14.4")
	loss := says(t, v.clock.run, "C14.4.a against C14.4.b") // at the instant of the change, the joint is cold
	if ohms := math.Abs(loss) / *v.Report().Reading.Amps; math.Abs(ohms-f.Ohms) > 0.05*f.Ohms {
		t.Errorf("the joint has %g ohm in motion, %g ohm on the slider", ohms, f.Ohms)
	}
	keys(v, ".", ".", ".", ".")
	if after := *v.Report().Reading.Value; math.Abs(after-before) < 1 {
		t.Errorf("the lamp has %g V before the drag and %g V after it", before, after)
	}
	keys(v, "ctrl+z")
	if r := v.Report(); math.Abs(*r.Reading.Value-before) > 0.2 {
		t.Errorf("undone, the lamp has %g V, before %g V", *r.Reading.Value, before)
	}
}

// A connector is wiggled from the drawing, and held still again.
func TestWiggle(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	keys(v, ".")
	v.selectPick(v.pickOf("C14.4"))
	clickControl(t, v, "wiggle")
	if r := v.Report(); r.Time == nil || !r.Time.Running || !v.clock.run.Shaken("C14") {
		t.Fatalf("wiggled: %+v", r.Time)
	}
	pass(v, 20)
	keys(v, "w")
	if v.clock.run.Shaken("C14") {
		t.Error("it is still wiggled")
	}
	keys(v, ",", ",", ",")
	v.selectPick(v.pickOf("C14.4"))
	if v.clock.run.Shaken("C14") != strings.HasPrefix(v.wiggleWords("C14"), "Hold") {
		t.Errorf("stepped back, the menu says %q", v.wiggleWords("C14"))
	}
	v.timeBackTo(0)
	if words := v.wiggleWords("C14"); !strings.HasPrefix(words, "Wiggle") {
		t.Errorf("back at the beginning the menu says %q", words)
	}
}

// Instruments that do not read in time say so, and those that do read again after a change of leads.
func TestInstrumentsInTime(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(0, "F7.in")
	v.placeLead(1, "G1")
	keys(v, "k", "k")
	for with, reads := range map[string]bool{"volts": true, "test-lamp": true, "load-lamp": true, "led-light": true, "ohms": true, "amps": true, "jumper": true, "look": false, "roll-call": true, "drag": false} {
		v.choose(with)
		keys(v, ".")
		r := v.Report()
		if (r.Reading != nil) != reads || r.Reading == nil && r.Waiting == "" {
			t.Errorf("%s: reading %v, waiting %q", with, r.Reading, r.Waiting)
		}
	}
	v.choose("volts")
	v.placeLead(1, "F7.out")
	keys(v, ".")
	if r := v.Report(); r.Reading == nil || math.Abs(*r.Reading.Value) > 0.1 {
		t.Errorf("over the fuse it reads %v", r.Reading)
	}
	if said := v.Said(); !strings.Contains(said, "F7.out") || !strings.Contains(said, "healthy: ") {
		t.Errorf("a screen reader hears %q", said)
	}
}

// While time runs the staircase is that of the instant: a lamp that is cold makes steps that a warm one does not, and the
// healthy circuit's are beside them.
func TestStaircaseInTime(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.seat(SetFaults)
	work(v)
	rest := v.Report().Staircase
	v.placeLead(0, "")
	keys(v, "k", "k")
	v.placeLead(0, "PC1.1") // the lamp is cold
	loses := func(s *meter.Staircase, place string) (own, healthy float64) {
		for _, st := range s.Steps {
			if st.Place == place && st.Piece == "contact" {
				return st.UnderLoad.Lost, st.Healthy.Lost
			}
		}
		t.Fatalf("%s is no step", place)
		return 0, 0
	}
	for _, steps := range []int{0, 1, 20} {
		for range steps {
			keys(v, ".")
		}
		r := v.Report()
		own, _ := loses(r.Staircase, "C14.4")
		if want := says(t, v.clock.run, "C14.4.a against C14.4.b"); math.Abs(own-math.Abs(want)) > 1e-4*own || math.Abs(r.Staircase.Amps-*r.Reading.Amps) > 1e-9 {
			t.Errorf("at %g s C14.4 loses %g V on the stairs at %g A, %g V in the run at %g A", r.Time.Seconds, own, r.Staircase.Amps, want, *r.Reading.Amps)
		}
		sum := 0.0
		for _, st := range r.Staircase.Steps {
			sum += st.UnderLoad.Lost
		}
		if math.Abs(sum-r.Staircase.OpenVolts) > 1e-3 {
			t.Errorf("at %g s all steps lose %g V of %g V", r.Time.Seconds, sum, r.Staircase.OpenVolts)
		}
		if steps == 0 {
			if cold, _ := loses(rest, "C14.4"); own < 1.2*cold {
				t.Errorf("with a cold lamp C14.4 loses %g V, with a warm one %g V", own, cold)
			}
		}
		if worst := r.Staircase.Worst(); worst == nil || worst.Place != "C14.4" {
			t.Errorf("the worst step is %+v", worst)
		}
	}
	_, healthy := loses(v.Report().Staircase, "C14.4")
	if _, want := loses(rest, "C14.4"); math.Abs(healthy-want) > 0.05*want {
		t.Errorf("warm, the healthy C14.4 loses %g V, at rest %g V", healthy, want)
	}
	clickControl(t, v, "time-rest")
	own, _ := loses(v.Report().Staircase, "C14.4")
	if want, _ := loses(rest, "C14.4"); math.Abs(own-want) > 1e-6 {
		t.Errorf("back at rest C14.4 loses %g V, before %g V", own, want)
	}
}

// The trigger of a single shot stops the screen at its edge.
func TestSingleShot(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(0, "PC1.2")
	v.showTab(tabScope)
	v.setTrigger(func(s *scope) { s.sweep, s.level, s.screen = 3, 6, 3 })
	v.choose("volts")
	keys(v, "k")
	pass(v, 12)
	if shown, ok := v.clock.scope.shown(); !ok || shown.Triggered || !v.clock.scope.waits() {
		t.Error("before the trigger the scope does not wait, or shows nothing meanwhile")
	}
	v.set("KEY=run")
	pass(v, 30)
	shown, ok := v.clock.scope.shown()
	if !ok || !shown.Triggered || math.Abs(shown.At-0.2) > 1e-3 {
		t.Fatalf("triggered: %v at %g s, want 0.2 s", shown.Triggered, shown.At)
	}
	v.Want()
	clickControl(t, v, "more")
	clickControl(t, v, "save-trace")
	saved := v.Want()
	i := slices.IndexFunc(saved, func(w Want) bool { return w.Kind == SaveFile && strings.HasSuffix(w.Name, "-trace.svg") })
	if i < 0 || !strings.Contains(string(saved[i].Data), "KEY=run") || !strings.Contains(string(saved[i].Data), "PC1.2") {
		t.Error("the trace is not saved with its channel and what was done")
	}
	v.Report()
	handle := controlOf(t, v, "scope-level")
	for _, kind := range []PointerKind{Press, Move, Release} {
		y := handle.Y
		if kind != Press {
			y -= handle.H / 4
		}
		v.Pointer(Pointer{Kind: kind, X: handle.X, Y: y})
	}
	if v.clock.scope.level <= 6 {
		t.Errorf("dragged up, the level is %g V", v.clock.scope.level)
	}
	if shown, ok := v.clock.scope.shown(); !ok || !shown.Triggered || math.Abs(shown.At-0.2) > 1e-3 {
		t.Error("with another level the picture that was held is gone")
	}
	v.setTrigger(func(s *scope) { s.on = triggerCue })
	pass(v, 30)
	v.set("M1=on")
	pass(v, 60)
	if shown, ok := v.clock.scope.shown(); !ok || shown.At < 1 {
		t.Errorf("hung on what is noticed, the scope shows %v at %g s; noticed: %q, it is %g s", ok, shown.At, v.Report().Time.Cues, v.clock.run.Seconds())
	}
	v.stopTime()
	if shown, ok := v.scopeNow().shown(); !ok || shown.At < 1 {
		t.Errorf("with time at rest the scope keeps no screen: %v", ok)
	}
	v.Scene()
	v.cursorKey(Key{Name: "Home"})
	v.cursorKey(Key{Name: "Right"})
	if share := v.scopeNow().cursor; math.Abs(share-0.01) > 1e-9 {
		t.Errorf("the cursor stands at %g", share)
	}
	v.Scene()
}

// Sound is off until it is asked for; then a relay that pulls in is heard once.
func TestSound(t *testing.T) {
	heard := func(v *View) (all []Sound) {
		for _, w := range v.Want() {
			if w.Kind == Play {
				all = append(all, w.Sound)
			}
		}
		return all
	}
	v := open(t, "snow-groomer", Options{})
	for _, on := range []bool{false, true} {
		if on {
			clickControl(t, v, "more")
			clickControl(t, v, "sound")
			if got := heard(v); len(got) != 1 {
				t.Errorf("switched on, it plays %v", got)
			}
		}
		keys(v, ".")
		v.set("KEY=crank")
		keys(v, ".", ".", ".")
		got := heard(v)
		if on != slices.Contains(got, ClickIn) || !on && len(got) > 0 || on && len(got) > 4 {
			t.Errorf("sound on: %v, heard while cranking: %v, noticed: %v", on, got, v.Report().Time.Cues)
		}
		v.stopTime()
		v.set("KEY=off")
	}
}

// While time runs the key springs back from crank when it is let go; at rest it stays.
func TestTheKeySpringsBack(t *testing.T) {
	v := open(t, "snow-groomer", Options{})
	clickControl(t, v, "set:KEY:crank")
	if at := v.Report().Positions["KEY"]; at != "crank" {
		t.Fatalf("at rest the key is at %s", at)
	}
	clickControl(t, v, "set:KEY:run")
	keys(v, "k")
	pass(v, 6)
	c := controlOf(t, v, "set:KEY:crank")
	v.Pointer(Pointer{Kind: Move, X: c.X, Y: c.Y})
	v.Pointer(Pointer{Kind: Press, X: c.X, Y: c.Y})
	pass(v, 60)
	if r := v.Report(); r.Positions["KEY"] != "crank" || !slices.ContainsFunc(v.clock.looks.tags, func(t timeTag) bool { return t.place == "ST" }) {
		t.Errorf("held, the key is at %s; the drawing says %v", r.Positions["KEY"], v.clock.looks.tags)
	}
	v.Pointer(Pointer{Kind: Release, X: c.X, Y: c.Y})
	if at := v.Report().Positions["KEY"]; at != "run" {
		t.Errorf("let go, the key is at %s", at)
	}
	click(v, c.X, c.Y)
	if r := v.Report(); r.Positions["KEY"] != "run" || !strings.Contains(r.Note, "Hold it down") {
		t.Errorf("after a click the key is at %s, and it says %q", r.Positions["KEY"], r.Note)
	}
}

// What a channel can watch is offered as a list, all of which can be reached and watched; a blind case gives nothing away.
func TestWhatCanBeWatched(t *testing.T) {
	for _, role := range []Role{SetFaults, Practise} {
		v := open(t, "cinema-van", Options{})
		v.seat(role)
		v.Resize(1024, 700)
		v.showTab(tabScope)
		keys(v, ".")
		clickControl(t, v, "scope-set")
		clickControl(t, v, "scope-a")
		seen := map[string]bool{}
		for range 20 {
			down := ""
			for _, c := range v.Report().Controls {
				if watch, ok := strings.CutPrefix(c.ID, "watch:"); ok && watch != "" {
					seen[watch] = true
				}
				if c.ID == "down:scope-a" && c.Off == "" {
					down = c.ID
				}
			}
			if down == "" {
				break
			}
			clickControl(t, v, down)
		}
		if len(seen) < 15 || role == SetFaults && (!seen["supply BODY"] || !seen["mode BODY"]) {
			t.Errorf("%v: only %d things are offered", role, len(seen))
		}
		for watch := range seen {
			word, _, _ := strings.Cut(watch, " ")
			if role == Practise && slices.Contains([]string{"supply", "mode", "heat", "charge", "speed"}, word) {
				t.Errorf("a blind case offers %q", watch)
			}
		}
		keys(v, "Escape")
		clickControl(t, v, "scope-set")
		clickControl(t, v, "scope-a")
		clickControl(t, v, "watch:BATT.pos")
		if got := v.Report().Time.Scope; len(got) != 1 || got[0].Watch != "BATT.pos" {
			t.Errorf("%v: the scope shows %+v", role, got)
		}
	}
}

// A fuse that has blown while time ran is blown at rest too, until it is replaced.
func TestWhatIsBlownStaysBlown(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.set("KEY=run")
	v.placeLead(0, "F7.out")
	v.placeLead(1, "B1.neg")
	keys(v, ".")
	for _, act := range []string{"break C14.1 short-to-ground", "repair C14.1"} { // the bench at rest does not know of it
		if err := v.clock.run.Do(act); err != nil {
			t.Fatal(err)
		}
		keys(v, ".", ".", ".", ".")
	}
	if !slices.Contains(v.Report().Time.Cues, "F7 blows") {
		t.Fatalf("noticed: %q", v.Report().Time.Cues)
	}
	clickControl(t, v, "time-rest")
	r := v.Report()
	if r.Time != nil || *r.Reading.Value > 6 || !strings.Contains(r.Note, "F7") {
		t.Errorf("at rest F7 lets %g V through, and it says %q", *r.Reading.Value, r.Note)
	}
	v.selectPick(v.pickOf("F7"))
	clickControl(t, v, "mend")
	clickControl(t, v, "act:replace F7")
	if r := v.Report(); *r.Reading.Value < 12 {
		t.Errorf("replaced, it lets %g V through", *r.Reading.Value)
	}
}

// A step back leaves the instrument on as it was: a lamp that was warm is warm, and reads what it read.
func TestStepBackKeepsTheLampWarm(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	v.layFault("C14.4", "C14.4 spread 0.5 ohm")
	keys(v, "k")
	pass(v, 60)
	keys(v, "k")
	var readings []float64
	for range 4 {
		readings = append(readings, *v.Report().Reading.Amps)
		keys(v, ".")
	}
	for i := len(readings) - 1; i >= 0; i-- {
		keys(v, ",")
		if got := *v.Report().Reading.Amps; math.Abs(got-readings[i]) > 1e-3*readings[i] {
			t.Errorf("back at step %d it draws %g A, before %g A", i, got, readings[i])
		}
	}
	first, last := readings[0], readings[3]
	if first > 6 || last > first {
		t.Errorf("the lamp was not warm: %v", readings)
	}
}

// The pace that is written is the pace that is run.
func TestPaces(t *testing.T) {
	unit := map[string]float64{"min/s": 60, "h/s": 3600}
	for i, p := range paces {
		var rate float64
		switch number, per, ok := strings.Cut(p.words, " "); {
		case ok:
			n, err := strconv.ParseFloat(number, 64)
			if err != nil || unit[per] == 0 {
				t.Fatalf("%q is no pace", p.words)
			}
			rate = n * unit[per]
		case strings.HasPrefix(p.words, "1/"):
			n, err := strconv.ParseFloat(p.words[2:], 64)
			if err != nil {
				t.Fatal(err)
			}
			rate = 1 / n
		default:
			n, err := strconv.ParseFloat(strings.TrimSuffix(p.words, "×"), 64)
			if err != nil {
				t.Fatal(err)
			}
			rate = n
		}
		if rate != p.rate || i > 0 && p.rate <= paces[i-1].rate {
			t.Errorf("%q runs at %g", p.words, p.rate)
		}
		v := open(t, "orchard-sprayer", Options{})
		v.startTime()
		v.setPace(i - usualPace)
		keys(v, "k")
		pass(v, 6)
		if got := v.clock.run.Seconds(); math.Abs(got-0.1*p.rate) > 1e-6*p.rate {
			t.Errorf("at %q six frames take %g s", p.words, got)
		}
	}
}

// What jumps is recorded with what it was before and after, and what bends between two steps with its bends.
func TestTheScopeRecordsJumpsAndBends(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(0, "PC1.2")
	keys(v, ".", ".")
	v.set("KEY=run")
	keys(v, ".")
	r, jumped := v.clock.scope.all, false
	for i := 1; i < r.Rows(); i++ {
		jumped = jumped || r.Seconds(i) == r.Seconds(i-1) && math.Abs(r.Value(i, 0)-r.Value(i-1, 0)) > 10
	}
	if !jumped {
		t.Error("the key's jump is a slope in the recording")
	}
	// a lamp's inrush, against the same run read at fifty instants of its own
	v = open(t, "orchard-sprayer", Options{})
	v.keptScope.chosen[0] = "amps E3"
	v.keptScope.screen = 3
	v.startTime()
	keys(v, ".")
	v.set("SW3=on")
	keys(v, ".", ".", ".", ".")
	b, err := sim.New(example(t, "orchard-sprayer"))
	if err != nil {
		t.Fatal(err)
	}
	run, err := b.Run(sim.RunOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if err := run.At(frameSeconds, "SW3=on"); err != nil {
		t.Fatal(err)
	}
	for i := range 50 {
		at := frameSeconds + 0.15*float64(i+1)/50
		if err := run.Advance(at, nil); err != nil {
			t.Fatal(err)
		}
		want := says(t, run, "amps E3")
		if got := v.clock.scope.all.At(at, 0); math.Abs(got-want) > 0.01*want {
			t.Errorf("at %g s the scope has %g A, the run %g A", at, got, want)
		}
	}
}

// A wire that has burnt through while time ran, and a fusible link that has melted, are open at rest too.
func TestWhatIsBurntStaysBurnt(t *testing.T) {
	c, problems := circuit.Read("hot.yaml", []byte(`
underload: 1
title: more than it carries
parts:
  B1: {is: battery, volts: 12.6 V, internal: 2 mohm, capacity: 200 Ah}
  L1: {is: fusible link, rating: 60 A}
  R1: {is: resistor, resistance: 220 mohm}
  R2: {is: resistor, resistance: 150 mohm}
paths:
  link: [B1.pos, L1, wire: RD 16 mm2 0.3 m, R1, wire: BN 16 mm2 0.3 m, B1.neg]
  bare: [B1.pos, wire: RD 1.5 mm2 0.3 m, R2, wire: BN 16 mm2 0.3 m, B1.neg]
`))
	if problems.Err() != nil {
		t.Fatal(problems.Err())
	}
	for _, row := range []struct{ point, hurt, laid, done string }{
		{"R2.in", "B1.pos to R2.in", "B1.pos~R2.in strands 1/7 20 mm", ""},
		{"R1.in", "L1", "", "L1.out short-to-ground 10 mohm"},
	} {
		v, err := New(c, Options{ReducedMotion: true})
		if err != nil {
			t.Fatal(err)
		}
		if row.laid != "" {
			v.layFault("B1.pos~R2.in", row.laid)
		}
		v.placeLead(0, row.point)
		v.placeLead(1, "B1.neg")
		keys(v, "]", ".")
		if row.done != "" { // the bench at rest does not know of it
			for _, act := range []string{"break " + row.done, "repair L1.out"} {
				if err := v.clock.run.Do(act); err != nil {
					t.Fatal(err)
				}
				keys(v, ".", ".", ".", ".", ".", ".")
			}
		}
		keys(v, "]", ".", ".", ".", ".", ".")
		clickControl(t, v, "time-rest")
		if r := v.Report(); r.Reading == nil || math.Abs(*r.Reading.Value) > 1 || !strings.Contains(r.Note, row.hurt) {
			t.Errorf("%s: at rest it reads %g V there, and it says %q", row.hurt, *r.Reading.Value, r.Note)
		}
	}
}

// A lamp that far too many volts have burnt out while time ran is dead at rest too, switched on or not.
func TestLampThatBurnsOutStaysDead(t *testing.T) {
	c, problems := circuit.Read("truck.yaml", []byte(`
underload: 1
title: a bulb of 12 V in a vehicle of 24 V
parts:
  B1: {is: battery}
  B2: {is: battery}
  S: {is: switch, throws: {off: [], on: [1-2]}}
  L: {is: lamp, bulb: 21 W}
paths:
  series: [B1.pos, wire: 25 mm2 0.3 m, B2.neg]
  lamp: [B2.pos, wire, S, wire, L, wire, B1.neg]
`))
	if problems.Err() != nil {
		t.Fatal(problems.Err())
	}
	v, err := New(c, Options{ReducedMotion: true})
	if err != nil {
		t.Fatal(err)
	}
	keys(v, ".")
	for _, act := range []string{"S=on", "S=off"} {
		if err := v.clock.run.Do(act); err != nil {
			t.Fatal(err)
		}
		if err := v.clock.run.Advance(v.clock.run.Seconds()+1, nil); err != nil {
			t.Fatal(err)
		}
	}
	clickControl(t, v, "time-rest")
	if s := v.now.bench.State(c.Part("L")); !s.Flaw.Dead || !strings.Contains(v.Report().Note, "Burnt out, and still is: L.") {
		t.Errorf("dead %v, and it says %q", s.Flaw.Dead, v.Report().Note)
	}
}

// A trace of channel B alone is called B.
func TestTheSecondChannelAlone(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(1, "PC1.2")
	v.showTab(tabScope)
	keys(v, ".", ".")
	if !slices.ContainsFunc(v.Scene().Shapes, func(s drawing.Shape) bool { return strings.HasPrefix(s.Words, "B, PC1.2: ") }) {
		t.Error("no trace is called B")
	}
	v.setTrigger(func(s *scope) { s.sweep, s.level = 2, 6 })
	if words := v.triggerWords(); !strings.HasPrefix(words, "B rises") {
		t.Errorf("the scope waits until %q", words)
	}
}
