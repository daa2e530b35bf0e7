package sim

// This file is what is on a run from outside: instruments, with the current through them and the light of a lamp among
// them, and the hand that shakes a connector.

import (
	"underload/solver/device"
	"underload/solver/element"
)

// Attached is what instruments are on now, for reading only. After stepping back it is what was on then.
func (r *Run) Attached() []Attachment { return r.age.plan.attached }

// AttachedAmps is the current through an instrument now, in the order in which they were put on, from red to black.
func (r *Run) AttachedAmps(n int) float64 { return r.age.attached[n].amps(view{r.age.run.Now()}) }

// AttachedLight is the light of a filament lamp between two leads now, relative to that at its rated volts. It lags
// behind the volts, as the filament has to grow warm. ok is false for what is no lamp.
func (r *Run) AttachedLight(n int) (share float64, ok bool) {
	lamp, ok := r.age.plan.attached[n].Law.(device.Filament)
	if !ok {
		return 0, false
	}
	kelvin := r.age.run.States(r.age.attached[n].element)[0]
	return element.NewFilament(lamp).LightShare(kelvin), true
}

// AttachedBlown reports whether the fuse of an instrument has melted.
func (r *Run) AttachedBlown(n int) bool {
	return r.age.plan.attached[n].FuseAmps > 0 && r.age.run.Marks(r.age.attached[n].element)[element.StripMode] == element.StripOpen
}

// Shaken reports whether a connector or part is being wiggled now.
func (r *Run) Shaken(name string) bool { return r.age.shaken[name] > 0 }
