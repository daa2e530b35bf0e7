package screen

// This file makes a pointer of one finger, and a pinch of two.

import (
	"math"
	"time"

	"underload/ui/view"
)

// A touch that stays in its place for so long means the other button.
const (
	longPress = 500 * time.Millisecond
	steady    = 8.0 // logical px that a finger may shake
)

// finger is where a touch is, logical px.
type finger struct {
	id             int
	x, y           float64
	firstX, firstY float64
	since          time.Time
	long           bool // it has counted as the other button, or has moved, or was joined by another
}

// fingers are those that are down; of two, how far they are apart is what counts.
type fingers struct{ down []finger }

// mayGrowLong reports whether a finger only has to stay to mean something else.
func (fs *fingers) mayGrowLong() bool { return len(fs.down) == 1 && !fs.down[0].long }

// touch takes what is down now instead of what was. Each change has to be told, or a short touch is lost.
func (fs *fingers) touch(v *view.View, now time.Time, down []finger) {
	before := fs.down
	fs.down = nil
	for _, f := range down {
		f.firstX, f.firstY, f.since = f.x, f.y, now
		for _, old := range before {
			if old.id == f.id {
				f.firstX, f.firstY, f.since, f.long = old.firstX, old.firstY, old.since, old.long
			}
		}
		fs.down = append(fs.down, f)
	}
	lifted := len(before) == 1 && (len(down) == 0 || len(down) == 1 && down[0].id != before[0].id)
	switch {
	case lifted:
		tell(v, view.Release, before[0], 0)
		v.Pointer(view.Pointer{Kind: view.Leave, Touch: true})
	case len(before) == 1 && len(down) > 1: // what the first one pressed is not meant
		v.Pointer(view.Pointer{Kind: view.Leave, Touch: true})
	case len(before) == 1 && len(down) == 1:
		fs.follow(v, before[0])
	case len(before) > 1 && len(down) > 1:
		pinch(v, before, fs.down)
	}
	if len(down) == 1 && (len(before) == 0 || lifted) {
		tell(v, view.Press, fs.down[0], 0)
	}
	if len(down) > 1 || len(before) > 1 {
		for i := range fs.down {
			fs.down[i].long = true
		}
	}
}

// follow moves with the only finger.
func (fs *fingers) follow(v *view.View, before finger) {
	f := &fs.down[0]
	if f.x != before.x || f.y != before.y {
		tell(v, view.Move, *f, 0)
	}
	if math.Hypot(f.x-f.firstX, f.y-f.firstY) > steady {
		f.long = true
	}
}

// wait makes the other button of the only finger once it has stayed long enough.
func (fs *fingers) wait(v *view.View, now time.Time) {
	if !fs.mayGrowLong() {
		return
	}
	if f := &fs.down[0]; now.Sub(f.since) >= longPress {
		f.long = true
		tell(v, view.Press, *f, 1)
		tell(v, view.Release, *f, 1)
	}
}

func tell(v *view.View, kind view.PointerKind, f finger, button int) {
	v.Pointer(view.Pointer{Kind: kind, X: f.x, Y: f.y, Touch: true, Button: button})
}

func pinch(v *view.View, before, now []finger) {
	apart := func(f []finger) float64 { return max(1, math.Hypot(f[0].x-f[1].x, f[0].y-f[1].y)) }
	middle := func(f []finger) (x, y float64) { return (f[0].x + f[1].x) / 2, (f[0].y + f[1].y) / 2 }
	x0, y0 := middle(before)
	x, y := middle(now)
	scale := apart(now) / apart(before)
	if x == x0 && y == y0 && scale == 1 {
		return
	}
	v.Pointer(view.Pointer{Kind: view.Pinch, X: x, Y: y, DX: x - x0, DY: y - y0, Scale: scale, Touch: true})
}
