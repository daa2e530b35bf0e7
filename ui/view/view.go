// Package view is the bench a person works on, in two dimensions: what lies on it, what a pointer or a key does, and
// every panel composed as plain shapes. It opens no window, draws no pixel and computes no volts: sim and sim/meter do.
package view

// This file is the view as its host sees it.

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"

	"underload/circuit"
	"underload/sim"
	"underload/ui/drawing"
	"underload/ui/stairs"
)

// View is one bench on one screen. It is not safe for use by two goroutines at once.
type View struct {
	c     *circuit.Circuit
	o     Options
	theme drawing.Theme

	now          state
	past, future []state

	width, height float64 // of the window, as the host has it
	plan          plan
	lay           *drawing.Layout
	laidFor       box
	anew          bool    // it was laid out and not painted since
	relayIn       float64 // seconds until the drawing is laid out for a window that has changed; 0: it is
	area          area

	canvas   canvas
	controls []control
	columns  []*stairs.Column
	shields  []box // what lies over the drawing and takes the pointer from it
	scene    *drawing.Scene
	dirty    bool
	unseen   bool // composed, and not asked for since

	focus     string
	ring      bool // the focus shows: the last act came from the keyboard
	point     string
	menu      string // the menu or sheet that is open
	offered   []byte // kept work that waits for an answer
	offer     string // what is in it
	shelf     shelf  // what can be opened, while that menu is open
	openedBy  string // the control that opened it, which then has the focus again
	drawer    bool   // in a narrow window: the bench is open
	helpSigns bool   // F1 explains the drawing, not the keys
	openedAt  box    // where that stands
	popped    bool   // the little menu of what is selected is open
	armed     int    // 1: the next point takes lead A; 2: lead B
	hover     string // the control under the pointer
	lit       pick   // what the pointer lights up
	step      int    // the step under the pointer in the staircase, from 1; 0: none
	pointer   [2]float64
	chosenAt  [2]float64 // where the pointer was when something was selected
	pressed   string
	grab      grab
	magnified bool
	sum       sum
	scroll    map[string]int // first row shown of lists
	logEnd    logEnd
	note      string
	problems  string
	wants     []Want
	unkept    bool // something was done since the host was last asked to store
	easing    easing
	clock     *clock   // while time is on the circuit
	sounds    bool     // what can be heard is heard
	watchRun  *sim.Run // while time is at rest: what is there to be watched
	keptScope scope    // as it was set, while it is not
	choices   knownOptions
}

// New opens a circuit. The error is that of a fault that does not fit it, or of a circuit that cannot be solved.
func New(c *circuit.Circuit, o Options) (*View, error) {
	b, err := sim.New(c)
	if err != nil {
		return nil, err
	}
	if err := b.Break(o.Faults...); err != nil {
		return nil, err
	}
	v := &View{c: c, o: o, theme: o.Theme, scroll: map[string]int{}, area: area{zoom: 1}, keptScope: newScope()}
	v.now = state{bench: b, at: atRest, role: Practise, with: "volts", tab: tabStairs}
	if len(o.Faults) == 0 && !o.Hide {
		v.now.role = SetFaults
	}
	v.follow(&v.now)
	v.Resize(1440, 900)
	v.settle(v.now)
	v.easing.rest()
	v.unkept = false
	return v, nil
}

// Resize tells the view how large its window is, in logical px.
func (v *View) Resize(width, height float64) {
	if width == v.width && height == v.height {
		return
	}
	v.width, v.height = max(width, 320), max(height, 240)
	v.plan = planFor(v.width, v.height)
	v.dirty = true
	if v.lay != nil && !v.o.ReducedMotion {
		v.relayIn = relaySeconds
	}
}

// relaySeconds is how long a window has to keep its size before the drawing is laid out for it: a layout takes longer than
// a frame, and a window that is being dragged changes its size on every one.
const relaySeconds = 0.15

// layOut lays the circuit out for the area that there is for it, once somebody looks. The circuit of a file that has
// changed keeps its places as far as it can.
func (v *View) layOut() {
	a := v.plan.area
	if v.lay != nil && v.lay.Circuit == v.c && (v.laidFor == a || v.relayIn > 0) {
		return
	}
	var before *drawing.Layout
	if v.laidFor == a {
		before = v.lay
	}
	zoom := v.baseZoom()
	v.lay = drawing.Lay(v.c, drawing.Options{Width: math.Floor(a.w / zoom), Height: math.Floor(a.h / zoom), Touch: v.o.Touch}, before)
	v.laidFor, v.area, v.anew = a, area{zoom: zoom}, true
}

// narrowZoom is how small a drawing starts in a narrow window.
const narrowZoom = 0.9

// baseZoom is what a drawing starts with.
func (v *View) baseZoom() float64 {
	if v.plan.narrow {
		return narrowZoom
	}
	return 1
}

// Scene is the whole window as shapes in painting order. It is the same pointer while nothing has changed.
func (v *View) Scene() *drawing.Scene {
	v.compose()
	v.unseen = false
	return v.scene
}

// Changed reports whether there is something to paint since the last Scene.
func (v *View) Changed() bool { return v.dirty || v.unseen }

// Tick lets time pass. It reports whether anything still moves by itself; false means that nothing will until the next
// event.
func (v *View) Tick(seconds float64) (busy bool) {
	if v.relayIn > 0 {
		if v.relayIn -= seconds; v.relayIn <= 0 {
			v.relayIn, v.area.strip, v.dirty = 0, nil, true
		}
	}
	if v.easing.moving {
		v.easing.run(seconds)
		v.area.strip = nil
		v.dirty = true
	}
	held := v.pressAgain(seconds)
	return v.runTime(seconds) || held || v.easing.moving || v.relayIn > 0
}

// Reload takes the circuit of a file that has changed; where it has errors c is nil, and problems are shown over the
// last good drawing. What was set up, placed and logged stays, as far as the new circuit has a place for it.
func (v *View) Reload(c *circuit.Circuit, problems string) {
	v.dirty = true
	v.problems = strings.TrimSpace(problems)
	if c == nil || reflect.DeepEqual(c, v.c) { // saved again as it was
		return
	}
	before := v.session()
	o := v.o
	o.Theme, o.Faults = v.theme, nil // the faults come with the work
	fresh, err := New(c, o)
	if err != nil {
		v.problems = spoken(err)
		return
	}
	ran := v.clock != nil
	v.stopTime()
	v.keptScope = v.keptScope.fresh()
	v.c, v.past, v.future = c, nil, nil
	v.popped, v.menu, v.armed = false, "", 0
	v.now = fresh.now
	lost := v.resume(before)
	if ran {
		v.note = "The file has changed: time is at rest again."
	}
	if len(lost) > 0 {
		v.note = "No longer in the file: " + strings.Join(lost, ", ") + "."
	}
}

// SetTheme changes between light and dark.
func (v *View) SetTheme(t drawing.Theme) {
	if v.theme == t {
		return
	}
	v.theme = t
	v.area.strip = nil
	v.dirty = true
}

// Want is what the view asks of its host since it was last called.
func (v *View) Want() []Want {
	w := v.wants
	v.wants = nil
	if v.unkept {
		w = append(w, Want{Kind: Store, Data: v.Session()})
		v.unkept = false
	}
	return w
}

func (v *View) want(w Want) { v.wants = append(v.wants, w) }

// fileName is the name of the circuit's file without its ending, for names of what is saved.
func (v *View) fileName() string {
	name := filepath.Base(v.o.File)
	name = strings.TrimSuffix(name, filepath.Ext(name))
	if name == "" || name == "." {
		return "circuit"
	}
	return name
}

// title is what the circuit is called.
func (v *View) title() string {
	if v.c.Title != "" {
		return v.c.Title
	}
	return v.fileName()
}
