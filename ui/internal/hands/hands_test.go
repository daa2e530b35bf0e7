package hands

// This file plays the case on the view alone.

import (
	"testing"

	"underload/circuits"
	"underload/ui/view"
)

// bare is a view without a window.
type bare struct {
	t *testing.T
	v *view.View
}

func (b bare) Until(what string, says func(view.Report) bool) view.Report {
	b.t.Helper()
	for range 600 { // frames
		b.v.Scene()
		if r := b.v.Report(); says(r) {
			return r
		}
		if !b.v.Tick(1.0 / 60) {
			break
		}
	}
	b.t.Fatalf("the view does not say %s: %+v", what, b.v.Report())
	return view.Report{}
}
func (b bare) Press(x, y float64)   { b.v.Pointer(view.Pointer{Kind: view.Press, X: x, Y: y}) }
func (b bare) Move(x, y float64)    { b.v.Pointer(view.Pointer{Kind: view.Move, X: x, Y: y}) }
func (b bare) Release(x, y float64) { b.v.Pointer(view.Pointer{Kind: view.Release, X: x, Y: y}) }
func (b bare) Keep(string)          {}

func TestOnTheViewAlone(t *testing.T) {
	c, err := circuits.Read(Example)
	if err != nil {
		t.Fatal(err)
	}
	v, err := view.New(c, view.Options{File: Example, ReducedMotion: true})
	if err != nil {
		t.Fatal(err)
	}
	v.Resize(1440, 900)
	Play(t, bare{t, v})
}
