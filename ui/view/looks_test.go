package view

// This file tries what is painted of a circuit in motion.

import (
	"math"
	"strings"
	"testing"
	"time"

	"underload/ui/drawing"
)

// A lamp that goes on and off faster than an eye should be shown is painted half lit; a slow one is painted as it is.
func TestFlicker(t *testing.T) {
	for _, c := range []struct {
		hertz    float64
		flickers bool
	}{{1, false}, {8, true}} {
		k := looks{blinks: map[string]*blink{}}
		got := false
		for frame := range 180 {
			k.passed = float64(frame) / 60
			_, share := math.Modf(k.passed * c.hertz)
			got = k.spare("E1", math.Round(share))
		}
		if got != c.flickers {
			t.Errorf("at %g Hz a lamp flickers: %v", c.hertz, got)
		}
	}
}

// What grows hot is told in words beside its colour, where faults may be seen; in a blind case it is not.
func TestHeatIsTold(t *testing.T) {
	for _, hide := range []bool{false, true} {
		v := open(t, "orchard-sprayer", Options{Faults: []string{"C14.4 spread 1.8 ohm"}, Hide: hide})
		if !hide {
			v.seat(SetFaults)
		}
		v.set("KEY=run")
		v.plug("PC1", true)
		v.placeLead(0, "PC1.1")
		v.placeLead(1, "PC1.8")
		v.choose("load-lamp")
		keys(v, "k", "]", "]")
		pass(v, 60)
		told := ""
		for _, tag := range v.clock.looks.tags {
			if tag.hot {
				told = tag.place + " " + tag.words
			}
		}
		if hide != (told == "") || !hide && !(strings.HasPrefix(told, "C14.4 ") && strings.HasSuffix(told, "°C")) {
			t.Errorf("hidden: %v, told: %q", hide, told)
		}
		if hide {
			continue
		}
		found := false
		for _, s := range v.Scene().Shapes {
			found = found || s.Form == drawing.Text && strings.HasSuffix(s.Words, "°C") && s.Bold
		}
		if !found {
			t.Error("no heat is painted")
		}
	}
}

// A frame of time that runs, of the vehicle of 151 parts, as a share of a frame of 60 Hz.
func BenchmarkFrameOfTime(b *testing.B) {
	v, err := New(vehicle(b, 151), Options{ReducedMotion: true})
	if err != nil {
		b.Fatal(err)
	}
	v.Scene()
	v.playTime()
	for b.Loop() {
		v.Tick(1.0 / 60)
		v.Scene()
	}
	b.ReportMetric(100*b.Elapsed().Seconds()/float64(b.N)/(time.Second/60).Seconds(), "%frame")
}

// The tag of what a part does stands on no wire, where there is another place: it would seem to speak of that.
func TestTagsKeepOffWires(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	by := box{400, 300, 40, 40}
	free := v.tagBeside(by, 60, []box{by}, nil)
	for _, wire := range []box{{free.midX() - 3, 200, 6, 300}, {300, free.midY() - 3, 300, 6}} {
		if got := v.tagBeside(by, 60, []box{by}, []box{wire}); got.overlaps(wire) || got.overlaps(by) {
			t.Errorf("with a wire at %v the tag of the part at %v stands at %v", wire, by, got)
		}
	}
}
