package view

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuits"
	"underload/sim"
	"underload/sim/meter"
	"underload/ui/drawing"
)

func example(t testing.TB, name string) *circuit.Circuit {
	t.Helper()
	c, err := circuits.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func open(t testing.TB, name string, o Options) *View {
	t.Helper()
	o.File, o.ReducedMotion = name+".yaml", true
	v, err := New(example(t, name), o)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

const looseGround = "C14.4 spread 1.8 ohm"

// click presses and lets go at a place of the window.
func click(v *View, x, y float64) {
	v.Pointer(Pointer{Kind: Move, X: x, Y: y})
	v.Pointer(Pointer{Kind: Press, X: x, Y: y})
	v.Pointer(Pointer{Kind: Release, X: x, Y: y})
}

func clickControl(t testing.TB, v *View, id string) {
	t.Helper()
	for _, c := range v.Report().Controls {
		if c.ID == id {
			if c.Off != "" {
				t.Fatalf("%s cannot be pressed: %s", id, c.Off)
			}
			click(v, c.X, c.Y)
			return
		}
	}
	if v.plan.narrow && !v.drawer && id != idDrawer { // it may be in the drawer
		clickControl(t, v, idDrawer)
		clickControl(t, v, id)
		return
	}
	t.Fatalf("there is no control %s", id)
}

func clickPoint(t testing.TB, v *View, name string) {
	t.Helper()
	for _, p := range v.Report().Points {
		if p.Name == name {
			click(v, p.X, p.Y)
			return
		}
	}
	t.Fatalf("%s is not in the drawing", name)
}

func keys(v *View, names ...string) {
	for _, name := range names {
		k := Key{Name: name}
		if rest, ok := strings.CutPrefix(name, "ctrl+"); ok {
			k = Key{Name: rest, Ctrl: true}
		}
		v.Key(k)
	}
}

// bench brings a bench to what the screen says, the way the command line does.
func bench(t testing.TB, c *circuit.Circuit, fault string, do ...func(b *sim.Bench) error) *sim.Bench {
	t.Helper()
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Break(fault); err != nil {
		t.Fatal(err)
	}
	for _, change := range do {
		if err := change(b); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// The main job with the pointer alone: key, plug, both leads, the test lamp that passes, the load lamp that fails, then
// the terminal's resistance dragged. Every number is the one that sim/meter takes on the same circuit.
func TestTheMainJobByPointer(t *testing.T) {
	for _, size := range [][2]float64{{800, 600}, {1024, 700}, {1440, 900}, {3840, 2160}} {
		v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
		v.Resize(size[0], size[1])
		if size[0] >= 1000 {
			clickControl(t, v, "set:KEY:run")
		} else {
			clickControl(t, v, "levers")
			clickControl(t, v, "set:KEY:run")
			clickControl(t, v, "close")
		}
		selectPart(t, v, "PC1")
		clickControl(t, v, "apart")
		for lead, point := range map[string]string{"lead-a": "PC1.1", "lead-b": "PC1.8"} {
			v.reveal(point)
			clickControl(t, v, lead)
			clickPoint(t, v, point)
		}
		pickInstrument(t, v, "test-lamp")
		ready := []func(b *sim.Bench) error{func(b *sim.Bench) error { return b.Set("KEY=run") }, func(b *sim.Bench) error { return b.Apart("PC1") }}
		agree(t, v, "test-lamp", bench(t, v.c, looseGround, ready...))
		if r := v.Report().Reading; r.Seen != "bright" {
			t.Errorf("%v: the test lamp is %s, and it has to pass", size, r.Seen)
		}
		pickInstrument(t, v, "load-lamp")
		agree(t, v, "load-lamp", bench(t, v.c, looseGround, ready...))
		if r := v.Report().Reading; r.Seen != "dim" {
			t.Errorf("%v: the load lamp is %s, and it has to fail", size, r.Seen)
		}
		clickControl(t, v, "role:set faults")
		v.pickFault("C14.4")
		drag(t, v, 0.3, 0.9, 0.55)
		f, _ := v.now.faultAt("C14.4")
		agree(t, v, "load-lamp", bench(t, v.c, f.Text, ready...))
	}
}

func selectPart(t testing.TB, v *View, name string) {
	t.Helper()
	for _, h := range v.strip().Hits {
		if h.Kind == drawing.OnPart && h.Name == name {
			v.selectPick(pick{drawing.OnPart, name})
			return
		}
	}
	t.Fatalf("%s is not in the drawing", name)
}

func pickInstrument(t testing.TB, v *View, name string) {
	t.Helper()
	if v.plan.small {
		clickControl(t, v, "instrument")
	}
	clickControl(t, v, "with:"+name)
}

// drag moves the slider's knob over some shares of its way.
func drag(t testing.TB, v *View, shares ...float64) {
	t.Helper()
	v.drawer = v.plan.narrow
	v.compose()
	c := v.find("slider")
	if c == nil {
		t.Fatal("there is no slider")
		return
	}
	at := *c
	m := v.plan.magnify
	x := func(share float64) float64 { return m * (at.at.x + 12 + share*(at.at.w-24)) }
	v.Pointer(Pointer{Kind: Press, X: x(shares[0]), Y: m * at.at.midY()})
	for _, share := range shares[1:] {
		v.Pointer(Pointer{Kind: Move, X: x(share), Y: m * at.at.midY()})
		if v.Report().Reading == nil {
			t.Fatal("no reading while the slider moves")
		}
	}
	v.Pointer(Pointer{Kind: Release, X: x(shares[len(shares)-1]), Y: m * at.at.midY()})
}

// agree holds the screen's reading and staircase against what sim/meter takes afresh.
func agree(t testing.TB, v *View, with string, b *sim.Bench) {
	t.Helper()
	want, err := meter.Take(b, meter.Request{With: with, Red: "PC1.1", Black: "PC1.8"})
	if err != nil {
		t.Fatal(err)
	}
	got := v.Report().Reading
	if got == nil {
		t.Fatalf("no reading: %s", v.Report().Waiting)
		return
	}
	if math.Abs(*got.Value-*want.Value) > 1e-6 || math.Abs(*got.Amps-*want.Amps) > 1e-6 || got.Seen != want.Seen || math.Abs(*got.Healthy-*want.Healthy) > 1e-6 {
		t.Errorf("%s reads %g V, %g A, %s; sim/meter takes %g V, %g A, %s", with, *got.Value, *got.Amps, got.Seen, *want.Value, *want.Amps, want.Seen)
	}
	stairs, err := meter.Stairs(b, meter.StairsRequest{With: "load-lamp", Red: "PC1.1", Black: "PC1.8"})
	if err != nil {
		t.Fatal(err)
	}
	live := v.now.live.stairs
	for i, st := range stairs.Steps {
		if math.Abs(st.UnderLoad.Lost-live.Steps[i].UnderLoad.Lost) > 1e-6 || math.Abs(st.Light.Lost-live.Steps[i].Light.Lost) > 1e-6 {
			t.Errorf("%s: step %s loses %g and %g live, %g and %g taken afresh", with, st.Place, live.Steps[i].UnderLoad.Lost, live.Steps[i].Light.Lost, st.UnderLoad.Lost, st.Light.Lost)
		}
	}
}

// The same job with the keyboard alone.
func TestTheMainJobByKeys(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
	v.set("KEY=run")
	v.plug("PC1", true)
	for range 60 {
		if v.focus == idDrawing {
			break
		}
		keys(v, "Tab")
	}
	for _, lead := range []struct{ point, key string }{{"PC1.1", "a"}, {"PC1.8", "b"}} {
		walkTo(t, v, lead.point)
		keys(v, lead.key)
	}
	keys(v, "7")
	r := v.Report()
	if r.LeadA != "PC1.1" || r.LeadB != "PC1.8" || r.Instrument != "load-lamp" || r.Reading == nil {
		t.Fatalf("the keys led to A %q, B %q, %s, %s", r.LeadA, r.LeadB, r.Instrument, r.Waiting)
	}
	agree(t, v, "load-lamp", bench(t, v.c, looseGround, func(b *sim.Bench) error { return b.Set("KEY=run") }, func(b *sim.Bench) error { return b.Apart("PC1") }))
	keys(v, "l", "r")
	if r := v.Report(); len(r.Log) != 1 || r.Tab != tabLog {
		t.Errorf("the log has %d readings and the tab is %s", len(r.Log), r.Tab)
	}
}

// walkTo goes from point to point with arrow keys; every step is taken that leads nearer.
func walkTo(t testing.TB, v *View, name string) {
	t.Helper()
	seen := map[string]bool{}
	queue := []string{v.point}
	from := map[string][2]string{}
	for len(queue) > 0 && !seen[name] {
		here := queue[0]
		queue = queue[1:]
		for _, key := range []string{"Up", "Down", "Left", "Right"} {
			v.point = here
			v.stepTo(key)
			if next := v.point; !seen[next] && next != here {
				seen[next], from[next] = true, [2]string{here, key}
				queue = append(queue, next)
			}
		}
		v.point = here
	}
	if !seen[name] {
		t.Fatalf("no arrows lead to %s", name)
	}
	v.point = name
	v.reveal(name)
}

// Every point that a lead can get to is on the way of the arrow keys, in every example.
func TestArrowsReachEveryPoint(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "street-sweeper", "bread-van"} {
		v := open(t, name, Options{})
		v.firstPoint()
		reached := map[string]bool{v.point: true}
		queue := []string{v.point}
		for len(queue) > 0 {
			here := queue[0]
			queue = queue[1:]
			for _, key := range []string{"Up", "Down", "Left", "Right"} {
				v.point = here
				v.stepTo(key)
				if !reached[v.point] {
					reached[v.point] = true
					queue = append(queue, v.point)
				}
			}
		}
		for _, h := range v.strip().Hits {
			if h.Kind == drawing.OnPoint && v.far(v.now.bench, h.Name) == "" && !reached[h.Name] {
				t.Errorf("%s: no arrows lead to %s", name, h.Name)
			}
		}
	}
}

// Everything that can be pressed has its own place for a pointer, and Tab comes to it.
func TestEveryControlByTabAndByClick(t *testing.T) {
	for _, name := range []string{"orchard-sprayer", "street-sweeper"} {
		all := sizes
		if name == "orchard-sprayer" {
			all = append(slices.Clip(sizes), [2]float64{400, 860}) // a telephone
		}
		for _, size := range all {
			for state, v := range states(t, name, size) {
				v.compose()
				want := map[string]bool{}
				for _, c := range v.controls {
					if want[c.id] {
						t.Errorf("%s %v %s: two controls are called %s", name, size, state, c.id)
					}
					want[c.id] = true
					if c.at.w < 28 || c.at.h < 28 {
						t.Errorf("%s %v %s: %s is %g by %g px", name, size, state, c.id, c.at.w, c.at.h)
					}
					if c.label == "" {
						t.Errorf("%s %v %s: %s has no name", name, size, state, c.id)
					}
					if got := v.under(c.at.midX(), c.at.midY()); c.id != idDrawing && (got == nil || got.id != c.id) {
						t.Errorf("%s %v %s: a click in the middle of %s meets another control", name, size, state, c.id)
					}
					window := box{0, 0, v.plan.width + 0.5, v.plan.height + 0.5}
					if !window.holds(c.at.x, c.at.y) || !window.holds(c.at.right(), c.at.foot()) {
						t.Errorf("%s %v %s: %s lies outside the window", name, size, state, c.id)
					}
				}
				got := map[string]bool{}
				for range len(v.controls) + 1 {
					v.walk(false)
					got[v.focus] = true
				}
				for id := range want {
					if !got[id] {
						t.Errorf("%s %v %s: Tab never comes to %s", name, size, state, id)
					}
				}
			}
		}
	}
}

var sizes = [][2]float64{{800, 600}, {1024, 700}, {1440, 900}, {3840, 2160}}

// states are one example in many states.
func states(t testing.TB, name string, size [2]float64) map[string]*View {
	t.Helper()
	first := open(t, name, Options{})
	first.Resize(size[0], size[1])
	var lay *drawing.Layout
	made := map[string]*View{}
	same := []string{"help", "help signs", "more", "shelf", "offer", "scope-a", "scope-sweep", "scope-set"} // for every circuit
	for _, state := range []string{"start", "blind", "reading", "fault", "log", "feeds", "magnified", "help", "more", "levers", "instruments", "sheet", "conditions", "picked", "mend", "drawer", "drawer and fault", "shelf", "offer", "time", "scope", "scope-a", "scope-sweep", "scope-set", "help signs"} {
		if name != "orchard-sprayer" && slices.Contains(same, state) {
			continue
		}
		v := open(t, name, Options{})
		v.Resize(size[0], size[1])
		v.lay, v.laidFor, v.area = lay, v.plan.area, area{zoom: v.baseZoom()}
		if lay != nil {
			v.c = lay.Circuit
			v.now.bench, _ = sim.New(v.c)
			v.follow(&v.now)
			v.settle(v.now)
		}
		if state != "start" {
			prepareBench(v)
		}
		prepare(v, state)
		v.dirty = true
		if lay == nil && state == "start" {
			v.compose()
			lay = v.lay
		}
		made[state] = v
	}
	return made
}

// prepareBench sets everything on, puts a load lamp over the battery, logs and lays a fault: in one act, for speed.
func prepareBench(v *View) {
	v.act(func(s *state) error {
		for _, l := range v.levers() {
			to := l.throws[len(l.throws)-1]
			if len(l.throws) > 3 {
				to = l.throws[2]
			}
			s.setup = append(s.setup, l.name+"="+to)
			if err := onBench(s, func(b *sim.Bench) error { return b.Set(l.name + "=" + to) }); err != nil {
				return err
			}
		}
		battery := v.c.OfKind("battery")[0]
		s.leads, s.with = [2]string{battery.Terminals[0].Name, battery.Terminals[1].Name}, "load-lamp"
		return nil
	})
	v.logReading()
	wire := v.c.Wires[len(v.c.Wires)/2].Name
	v.layFault(wire, wire+" high 1.2 ohm")
}

// prepare brings a view to a state by what a person could do.
func prepare(v *View, state string) {
	v.stopTime()
	v.note = ""
	if strings.HasPrefix(state, "scope") || state == "time" {
		v.stepTime(1)
		v.stepTime(1)
	}
	switch state {
	case "scope", "scope-a", "scope-sweep", "scope-set":
		v.showTab(tabScope)
		if state != "scope" {
			v.menu = state
		}
	case "blind", "reading", "sheet":
		v.seat(Practise)
	case "fault", "conditions", "drawer and fault":
		v.pickFault(v.c.Wires[len(v.c.Wires)/2].Name)
	case "log":
		v.showTab(tabLog)
	case "feeds":
		v.showTab(tabFeeds)
	case "magnified":
		v.magnified = true
	case "picked", "mend":
		v.selectPick(pick{drawing.OnPoint, v.c.OfKind("fuse")[0].Terminals[0].Name})
	}
	switch state {
	case "help signs":
		v.helpSigns, v.menu = true, "help"
	case "shelf":
		v.o.Shelf = shelfOf
		v.lookFor("circuit")
	case "offer":
		v.Offer(v.Session())
	case "help", "more", "levers", "instruments", "conditions", "mend":
		v.menu = state
	case "sheet":
		v.menu = "reading"
	}
	v.drawer = v.plan.narrow && (strings.HasPrefix(state, "drawer") || state == "instruments" || state == "conditions")
}

// With fingers every target is 44 px at least, the drawing's points too.
func TestTouchTargets(t *testing.T) {
	const finger = 44
	for _, size := range sizes {
		v := open(t, "street-sweeper", Options{Touch: true})
		v.Resize(size[0], size[1])
		fresh := v.now
		prepareBench(v)
		ready := v.now
		for _, state := range []string{"start", "blind", "reading", "fault", "log", "feeds", "magnified", "help", "more", "levers", "instruments", "conditions", "picked", "mend", "drawer", "drawer and fault", "shelf", "offer", "time", "scope", "scope-a", "scope-sweep", "scope-set"} {
			v.now, v.menu, v.popped = ready, "", false
			if state == "start" {
				v.now = fresh
			}
			prepare(v, state)
			v.area.strip, v.dirty = nil, true
			v.compose()
			for _, c := range v.controls {
				if c.at.h < finger-1 || c.at.w < finger-1 {
					t.Errorf("%v %s: %s is %g by %g px", size, state, c.id, c.at.w, c.at.h)
				}
			}
		}
		for _, h := range v.strip().Hits {
			if h.Kind != drawing.OnPoint {
				continue
			}
			x, y := v.toWindow(h.At)
			if got, ok := v.hitAt(x, y, true); !ok || got.name != h.Name {
				t.Errorf("%v: a finger on %s finds %q", size, h.Name, got.name)
			}
		}
	}
}

// Any sequence of acts can be taken back and done again, and the screen then says exactly what it said.
func TestUndoAndRedoRestoreEverything(t *testing.T) {
	for seed := range uint64(4) {
		v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}})
		rnd := rand.New(rand.NewPCG(seed, 7))
		acts := actsOf(v)
		reports := []Report{screen(v)}
		for len(reports) < 24 {
			acts[rnd.IntN(len(acts))]()
			if len(v.past) == len(reports) {
				reports = append(reports, screen(v))
			}
		}
		for i := len(reports) - 2; i >= 0; i-- {
			keys(v, "ctrl+z")
			same(t, seed, "undo", i, screen(v), reports[i])
		}
		for i := 1; i < len(reports); i++ {
			keys(v, "ctrl+y")
			same(t, seed, "redo", i, screen(v), reports[i])
		}
	}
}

// screen is the report without what an undo may not restore: whether there is anything to undo, and news.
func screen(v *View) Report {
	v.popped, v.note = false, ""
	v.dirty = true
	r := v.Report()
	r.CanUndo, r.CanRedo = false, false
	for i := range r.Controls {
		if r.Controls[i].ID == "undo" || r.Controls[i].ID == "redo" {
			r.Controls[i].Off = ""
		}
	}
	return r
}

func same(t *testing.T, seed uint64, what string, i int, got, want Report) {
	t.Helper()
	if reflect.DeepEqual(got, want) {
		return
	}
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for f := range g.NumField() {
		if !reflect.DeepEqual(g.Field(f).Interface(), w.Field(f).Interface()) {
			t.Errorf("seed %d, %s to act %d: %s is not as it was", seed, what, i, g.Type().Field(f).Name)
		}
	}
}

func actsOf(v *View) []func() {
	points := v.c.Points()
	rnd := rand.New(rand.NewPCG(3, 5))
	point := func() string { return points[rnd.IntN(len(points))].Name }
	names := instruments()
	faults := []string{"C14.4 spread 2 ohm", "W7 high 0.3 ohm", "G2 rust", "F7 blown", "K2 worn 2 ohm", "W21 open", "M1 stiff"}
	return []func(){
		func() { v.placeLead(0, point()) }, func() { v.placeLead(1, point()) }, v.swapLeads, v.takeOff,
		func() { v.choose(names[rnd.IntN(len(names))]) },
		func() { v.set("KEY=" + []string{"off", "run", "crank"}[rnd.IntN(3)]) }, func() { v.set("F7=" + []string{"in", "out"}[rnd.IntN(2)]) },
		func() { v.set("M1=" + []string{"on", "off"}[rnd.IntN(2)]) }, func() { v.set("ambient=60 °C") },
		func() { v.plug("C14", rnd.IntN(2) == 0) }, func() { v.plug("PC1", rnd.IntN(2) == 0) },
		func() { line := faults[rnd.IntN(len(faults))]; v.layFault(strings.Fields(line)[0], line) },
		func() { v.mend("C14.4") }, v.logReading, func() { v.seat(Role(rnd.IntN(2))) }, func() { v.showTab(tabs[rnd.IntN(3)]) },
		func() { v.selectPick(pick{drawing.OnPoint, point()}) }, func() { v.clampOn(v.c.Wires[rnd.IntN(len(v.c.Wires))].Name) },
		func() { v.turnFault(rnd.Float64()) },
	}
}

// A step under the pointer lights its part in the drawing, and a part its step.
func TestStepsAndPartsLightEachOther(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	v.compose()
	for i, c := range v.columns {
		if !c.Folded() {
			v.Pointer(Pointer{Kind: Move, X: c.X + c.W/2, Y: v.plan.panel.y + 120})
			if lit := v.Report().Lit; lit != c.Steps[0].Place {
				t.Errorf("on step %s the drawing lights %q", c.Steps[0].Place, lit)
			}
			if v.litColumn() != i {
				t.Errorf("step %s does not light up itself", c.Steps[0].Place)
			}
		}
	}
	for point, step := range map[string]string{"C14.4.b": "C14.4", "F7.in": "F7", "PC1.8": "PC1.8"} {
		for _, p := range v.Report().Points {
			if p.Name == point {
				v.Pointer(Pointer{Kind: Move, X: p.X, Y: p.Y})
			}
		}
		v.compose()
		if i := v.litColumn(); i < 0 || v.columns[i].Steps[0].Place != step {
			t.Errorf("on %s the staircase lights column %d, not %s", point, i, step)
		}
	}
	v.Pointer(Pointer{Kind: Move, X: 20, Y: v.plan.panel.foot() - 8})
	v.compose()
	if !strings.Contains(v.sum.words, "12.60") {
		t.Errorf("the row of the load test adds up to %q, and the battery has 12.60 V", v.sum.words)
	}
}

// Opening a menu by keys leads the focus into it, and closing it leads back.
func TestFocusGoesIntoMenusAndBack(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.compose()
	v.focus, v.ring = "help", true
	keys(v, "Enter")
	if r := v.Report(); r.Dialog != "help" || r.Focus != "close" {
		t.Errorf("with help open (%q) the focus is on %q", r.Dialog, r.Focus)
	}
	keys(v, "Escape")
	if r := v.Report(); r.Dialog != "" || r.Focus != "help" {
		t.Errorf("with help closed (%q) the focus is on %q", r.Dialog, r.Focus)
	}
}

// Whatever a hand does, nothing breaks: no panic, a scene of finite shapes, and a report that can be written.
func TestRandomHandsBreakNothing(t *testing.T) {
	names := []string{"Tab", "Enter", "Escape", "Space", "Up", "Down", "Left", "Right", "PageUp", "PageDown", "Home", "End", "Backspace", "F1", "?",
		"a", "b", "x", "l", "p", "s", "m", "g", "r", "f", "t", "+", "-", "1", "2", "3", "4", "5", "6", "7", "8", "9", "0", "e", "ctrl+z", "ctrl+y", "ctrl+c", "ctrl+Left",
		"k", "k", ".", ".", ",", "[", "]", "w", "o", "d", "ctrl+o"}
	for i, name := range []string{"orchard-sprayer", "street-sweeper", "bread-van"} {
		v := open(t, name, Options{Touch: i == 1})
		rnd := rand.New(rand.NewPCG(uint64(i), 11))
		for n := range 250 {
			if n%80 == 0 {
				size := sizes[rnd.IntN(3)]
				v.Resize(size[0], size[1])
			}
			x, y := rnd.Float64()*v.width, rnd.Float64()*v.height
			switch rnd.IntN(6) {
			case 0, 1:
				click(v, x, y)
			case 2:
				controls := v.Report().Controls
				c := controls[rnd.IntN(len(controls))]
				click(v, c.X, c.Y)
			case 3:
				v.Pointer(Pointer{Kind: Press, X: x, Y: y})
				v.Pointer(Pointer{Kind: Move, X: y, Y: x})
				v.Pointer(Pointer{Kind: PointerKind(2 + rnd.IntN(4)), X: y, Y: x, DY: 40, Scale: 1.1})
				v.Pointer(Pointer{Kind: Release, X: y, Y: x})
			default:
				keys(v, names[rnd.IntN(len(names))])
			}
			v.Tick(rnd.Float64() / 30)
			for _, s := range v.Scene().Shapes {
				for _, spot := range s.Spots {
					if math.IsNaN(spot.X+spot.Y) || math.IsInf(spot.X+spot.Y, 0) {
						t.Fatalf("%s, event %d: %v stands nowhere", name, n, s)
					}
				}
			}
		}
		if _, err := json.Marshal(v.Report()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// While nothing happens nothing is painted; what changes nothing on the screen paints nothing either.
func TestIdleMeansIdle(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.Pointer(Pointer{Kind: Move, X: 300, Y: 700})
	scene := v.Scene()
	for range 100 {
		if v.Tick(1.0/60) || v.Changed() || v.Scene() != scene {
			t.Fatal("a frame was painted while nothing changed")
		}
	}
	v.Pointer(Pointer{Kind: Move, X: 301, Y: 701})
	if v.Scene() != scene {
		t.Error("a pointer that lights nothing new makes a new frame")
	}
	clickControl(t, v, "set:KEY:run")
	if v.Scene() == scene {
		t.Error("the key was turned and the old frame is shown")
	}
}

// The engine that turns a generator is set beside the key: its battery then takes charge, and undo has it stand again.
func TestAGeneratorIsSetRunning(t *testing.T) {
	v := open(t, "quarry-tanker", Options{})
	v.placeLead(0, "BATT.pos")
	v.placeLead(1, "BATT.neg")
	volts := func() float64 { return *v.Report().Reading.Value }
	still := volts()
	for _, to := range []string{"running", "idling"} {
		clickControl(t, v, "set:ALT:"+to)
		if at := v.Report().Positions["ALT"]; at != to || volts() < still+1 {
			t.Errorf("%s: ALT is %q, and there are %.2f V, before %.2f V", to, at, volts(), still)
		}
	}
	v.undo()
	v.undo()
	if at := v.Report().Positions["ALT"]; at != "still" || math.Abs(volts()-still) > 1e-9 {
		t.Errorf("undone: ALT is %q, and there are %.2f V, before %.2f V", at, volts(), still)
	}
}

// A gauge goes to its new value within the time that is set for it, and then stands still.
func TestMotionEnds(t *testing.T) {
	v, err := New(example(t, "orchard-sprayer"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	v.Scene()
	v.set("KEY=run")
	frames := 0
	for v.Tick(1.0 / 60) {
		frames++
		v.Scene()
	}
	if frames == 0 || frames > 12 {
		t.Errorf("the gauges moved for %d frames of 1/60 s; 0.18 s were meant", frames)
	}
	if v.Tick(1) {
		t.Error("it moves again by itself")
	}
}

// While a window is being dragged larger the drawing is not laid out on every frame, and once it is let go it is.
func TestLayoutWaitsForTheWindow(t *testing.T) {
	v, err := New(example(t, "orchard-sprayer"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	v.Scene()
	first := v.lay
	for i := range 10 {
		v.Resize(1440+float64(10*i+10), 900)
		v.Scene()
		if v.lay != first || !v.Tick(1.0/60) {
			t.Fatal("the drawing was laid out while the window was dragged, or nothing is left to do")
		}
	}
	for v.Tick(1.0 / 60) {
		v.Scene()
	}
	v.Scene()
	if v.lay == first || v.laidFor != v.plan.area {
		t.Error("the window was let go, and the drawing is not laid out for it")
	}
}

// A hidden case gives nothing away: no fault, no gauge that was not probed, no step of the path, no current.
func TestBlindCaseGivesNothingAway(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}, Hide: true})
	v.set("KEY=run")
	v.plug("PC1", true)
	v.choose("load-lamp")
	v.placeLead(0, "PC1.1")
	v.placeLead(1, "PC1.8")
	r := v.Report()
	if len(r.Faults) != 0 || r.Role != "practise" {
		t.Errorf("role %s shows faults %v", r.Role, r.Faults)
	}
	if strings.Contains(string(v.Session()), "spread") {
		t.Error("the kept session holds the fault")
	}
	sh := v.now.live.showing
	if len(sh.Levels) != 2 || len(sh.Amps) != 0 || len(sh.Bad) > 0 && sh.Bad["C14.4"] {
		t.Errorf("the drawing shows %d gauges, %d currents, C14.4 spread: %v", len(sh.Levels), len(sh.Amps), sh.Bad["C14.4"])
	}
	for _, st := range r.Staircase.Steps {
		if st.Place == "C14.4" || strings.Contains(st.Place, "to C14.4") {
			t.Errorf("the staircase ends a step at C14.4, which was not probed: %s", st.Place)
		}
	}
	v.placeLead(0, "G2")
	v.placeLead(0, "C14.4.a")
	v.placeLead(0, "C14.4.b")
	v.placeLead(0, "PC1.1")
	worst := v.Report().Staircase.Worst()
	if worst == nil || worst.Place != "C14.4" {
		t.Errorf("both sides of C14.4 were probed, and the worst known step is %v", worst)
	}
	v.seat(SetFaults)
	keys(v, "s")
	if v.Report().Role != "practise" {
		t.Error("a trainee has got into the instructor's seat")
	}
}

// Out of reach says why and how.
func TestOutOfReachSaysHow(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	for point, want := range map[string]string{"PC1.8.pin": "take PC1 apart", "S2": "both sides", "M1.1.pin": "apart"} {
		if _, err := v.c.Point(point); err != nil {
			continue
		}
		v.placeLead(0, point)
		if r := v.Report(); r.LeadA != "" || !strings.Contains(r.Note, want) {
			t.Errorf("%s: lead on %q, told %q", point, r.LeadA, r.Note)
		}
	}
	v.plug("PC1", true)
	v.placeLead(0, "PC1.8.pin")
	if v.Report().LeadA != "PC1.8.pin" {
		t.Error("the pin of an unplugged module cannot be touched")
	}
	v.plug("PC1", false)
	if r := v.Report(); r.LeadA != "" {
		t.Error("the lead is still on a pin inside a joint")
	}
	keys(v, "ctrl+z")
	if r := v.Report(); r.LeadA != "PC1.8.pin" || !slices.Equal(r.Apart, []string{"PC1"}) {
		t.Errorf("undo gives lead %q, apart %v", r.LeadA, r.Apart)
	}
}

// No sentence on the screen speaks of flags of a command line.
func TestErrorsSpeakToThePersonAtTheBench(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	v.placeLead(0, "C14.4.a")
	v.placeLead(1, "C14.4.b")
	for _, name := range instruments() {
		v.choose(name)
		if r := v.Report(); strings.Contains(r.Waiting+r.Note+r.StairsWaiting, "--") {
			t.Errorf("%s: %s %s", name, r.Waiting, r.Note)
		}
	}
	v.takeOff()
	for _, name := range instruments() {
		v.choose(name)
		if r := v.Report(); strings.Contains(r.Waiting+r.Note+r.StairsWaiting, "--") || r.Reading == nil && r.Waiting == "" {
			t.Errorf("%s: %q %s", name, r.Waiting, r.Note)
		}
	}
}
