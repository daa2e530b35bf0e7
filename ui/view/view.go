// Package view is the bench a person works on, in two dimensions: what lies on it, what a pointer or a key does, and
// every panel composed as plain shapes. It opens no window, draws no pixel and computes no volts: sim and sim/meter do.
package view

// This file is the view as its host sees it.

import (
	"underload/circuit"
	"underload/ui/drawing"
)

// View is one bench on one screen. It is not safe for use by two goroutines at once.
type View struct {
	c     *circuit.Circuit
	o     Options
	scene *drawing.Scene
}

// New opens a circuit. The error is that of a fault that does not fit it, or of a circuit that cannot be solved.
func New(c *circuit.Circuit, o Options) (*View, error) {
	v := &View{c: c, o: o}
	v.Resize(1440, 900)
	return v, nil
}

// Resize tells the view how large its window is, in logical px.
func (v *View) Resize(width, height float64) {
	v.scene = &drawing.Scene{Width: width, Height: height}
}

// Scene is the whole window as shapes in painting order. It is the same pointer while nothing has changed.
func (v *View) Scene() *drawing.Scene { return v.scene }

// Changed reports whether there is something to paint since the last Scene.
func (v *View) Changed() bool { return false }

// Tick lets time pass. It reports whether anything still moves by itself; false means that nothing will until the next
// event.
func (v *View) Tick(seconds float64) (busy bool) { return false }

// Pointer tells what a pointer did.
func (v *View) Pointer(p Pointer) {}

// Key tells that a key was pressed.
func (v *View) Key(k Key) {}

// Reload takes the circuit of a file that has changed; where it has errors c is nil, and problems are shown over the
// last good drawing.
func (v *View) Reload(c *circuit.Circuit, problems string) {}

// Open takes a file that was asked for: a log, or faults.
func (v *View) Open(name string, data []byte) {}

// Session is the state of the work, to be kept by the host.
func (v *View) Session() []byte { return nil }

// Restore brings back what Session gave.
func (v *View) Restore(session []byte) error { return nil }

// SetTheme changes between light and dark.
func (v *View) SetTheme(t drawing.Theme) {}

// Report is what the screen says.
func (v *View) Report() Report { return Report{} }

// Said is the last reading as one line.
func (v *View) Said() string { return "" }

// Want is what the view asks of its host since it was last called.
func (v *View) Want() []Want { return nil }
