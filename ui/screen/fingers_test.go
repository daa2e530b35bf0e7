package screen

// This file tries fingers on a bare view.

import (
	"testing"
	"time"

	"underload/circuits"
	"underload/ui/view"
)

func bareView(t *testing.T) *view.View {
	t.Helper()
	c, err := circuits.Read("orchard-sprayer")
	if err != nil {
		t.Fatal(err)
	}
	v, err := view.New(c, view.Options{ReducedMotion: true, Touch: true})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func where(t *testing.T, v *view.View, id string) finger {
	t.Helper()
	for _, c := range v.Report().Controls {
		if c.ID == id {
			return finger{id: 7, x: c.X, y: c.Y}
		}
	}
	t.Fatalf("there is no control %s", id)
	return finger{}
}

// A touch that begins and ends between two rounds is a tap; so is a second one right after it. One that stays is none,
// and neither is one that another joins.
func TestFingers(t *testing.T) {
	start := time.Unix(0, 0)
	for _, c := range []struct {
		name string
		do   func(v *view.View, fs *fingers, on finger)
		open bool // help
	}{
		{"down and up at once", func(v *view.View, fs *fingers, on finger) {
			fs.touch(v, start, []finger{on})
			fs.touch(v, start, nil)
		}, true},
		{"up only after a while, as another finger has already come down", func(v *view.View, fs *fingers, on finger) {
			fs.touch(v, start, []finger{on})
			fs.touch(v, start, []finger{{id: 8, x: 720, y: 450}})
		}, true},
		{"it stays", func(v *view.View, fs *fingers, on finger) {
			fs.touch(v, start, []finger{on})
			fs.wait(v, start.Add(longPress))
			fs.touch(v, start.Add(longPress), nil)
		}, false},
		{"it stays not long enough", func(v *view.View, fs *fingers, on finger) {
			fs.touch(v, start, []finger{on})
			fs.wait(v, start.Add(longPress-1))
			fs.touch(v, start.Add(longPress), nil)
		}, true},
		{"another joins it", func(v *view.View, fs *fingers, on finger) {
			other := finger{id: 8, x: on.x - 100, y: on.y + 200}
			fs.touch(v, start, []finger{on})
			fs.touch(v, start, []finger{on, other})
			fs.touch(v, start, []finger{on})
			fs.touch(v, start, nil)
		}, false},
		{"it slides off", func(v *view.View, fs *fingers, on finger) {
			fs.touch(v, start, []finger{on})
			on.y += 300
			fs.touch(v, start, []finger{on})
			fs.touch(v, start, nil)
		}, false},
	} {
		v, fs := bareView(t), &fingers{}
		c.do(v, fs, where(t, v, "help"))
		if got := v.Report().Dialog == "help"; got != c.open {
			t.Errorf("%s: help is open: %v, want %v", c.name, got, c.open)
		}
	}
}
