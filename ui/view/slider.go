package view

// This file is the slider of a resistance, from 1 mΩ to 100 kΩ, and what follows while it is dragged.

import (
	"math"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/fault"
	"underload/ui/drawing"
)

// The ends of the slider, ohms.
const leastOhms, mostOhms = 1e-3, 1e5

// shareOf and ohmsOf go between a resistance and its place on the slider, which is logarithmic.
func shareOf(ohms float64) float64 {
	return min(1, max(0, math.Log(ohms/leastOhms)/math.Log(mostOhms/leastOhms)))
}

func ohmsOf(share float64) float64 {
	ohms := leastOhms * math.Pow(mostOhms/leastOhms, min(1, max(0, share)))
	decade := math.Pow(10, math.Floor(math.Log10(ohms))-2) // three digits are enough for anybody
	return math.Round(ohms/decade) * decade
}

// turnFault gives the fault at the place being set another resistance, as one act.
func (v *View) turnFault(share float64) {
	if v.grab.kind == grabSlider {
		v.turnOn(share)
		return
	}
	place := v.now.place
	v.act(func(s *state) error {
		err := onBench(s, func(b *sim.Bench) error { return b.Turn(place, ohmsOf(share)) })
		s.did = s.broken()
		return err
	})
}

// broken is the fault at the place being set, as it is told to a circuit in motion.
func (s *state) broken() []string {
	f, ok := s.faultAt(s.place)
	if !ok {
		return nil
	}
	return []string{"repair " + s.place, "break " + f.Text}
}

// turnOn goes on with an act that a drag has begun: only values change, nothing is wired anew.
func (v *View) turnOn(share float64) {
	s := &v.now
	ohms := ohmsOf(share)
	if f, ok := s.faultAt(s.place); !ok || f.Ohms == ohms {
		return
	}
	if err := s.turn(ohms); err != nil {
		v.tell(spoken(err))
		return
	}
	v.show(s)
	v.easing.jump(s.live.showing)
	v.area.strip = nil
	v.dirty = true
}

// turn brings a resistance to every bench of the state, and reads them again.
func (s *state) turn(ohms float64) error {
	if err := s.bench.Turn(s.place, ohms); err != nil {
		return err
	}
	l := s.live
	if l.held != nil {
		if err := l.held.Follow(); err != nil {
			return err
		}
		r := l.held.Reading()
		l.reading = &r
		l.seen, _ = l.held.Benches()
	}
	if l.climbed != nil {
		if err := l.climbed.Follow(); err != nil {
			return err
		}
		stairs := l.climbed.Staircase()
		l.stairs = &stairs
	}
	return nil
}

// turnable reports whether a fault has a resistance that a slider can set.
func (v *View) turnable(f fault.Fault) bool {
	if f.Ohms == 0 || math.IsInf(f.Ohms, 1) {
		return false
	}
	_, err := f.Turned(v.c, 1)
	return err == nil && f.Condition != "strands"
}

// namedOhms are the conditions that stand on the slider by their usual resistance.
var namedOhms = []string{"burnt", "bad-crimp", "fretted", "corroded", "spread"}

// ohmsSlider is the resistance, from 1 mΩ to 100 kΩ, a decade as long as any other.
func (v *View) ohmsSlider(b box, f fault.Fault) {
	cv, p := &v.canvas, v.canvas.p
	cv.text(b.x, b.y+15, style{size: 13, fill: p.ink2}, "Resistance")
	cv.text(b.right(), b.y+15, style{size: 15, bold: true, fill: p.ink, anchor: drawing.End}, quantity.Format(f.Ohms, quantity.Ohms, 3))
	track := box{b.x + 12, b.y + 40, b.w - 24, 4}
	share := shareOf(f.Ohms)
	c := control{id: "slider", label: "Resistance of " + f.Place, at: box{b.x, b.y + 20, b.w, 54}, do: func() {}, slide: v.turnFault, keys: func(k Key) bool { return v.sliderKey(k, f.Ohms) }}
	l := v.control(c)
	cv.fill(track, 2, p.line)
	cv.fill(box{track.x, track.y, track.w * share, track.h}, 2, p.accent)
	for i := range 9 {
		x := track.x + track.w*float64(i)/8
		cv.line(1, p.line, at(math.Round(x)+0.5, track.y+10), at(math.Round(x)+0.5, track.y+15))
	}
	for _, name := range namedOhms {
		if known, err := catalog.ConditionNamed(name); err == nil {
			x := track.x + track.w*shareOf(known.CentralOhms)
			cv.area(p.ok, at(x, track.y-4), at(x-4, track.y-11), at(x+4, track.y-11))
		}
	}
	for _, mark := range []struct {
		ohms  float64
		words string
	}{{1e-3, "1\u00a0mΩ"}, {1, "1\u00a0Ω"}, {1e3, "1\u00a0kΩ"}, {1e5, "100\u00a0kΩ"}} {
		x, anchor := track.x+track.w*shareOf(mark.ohms), drawing.Middle
		if mark.ohms == leastOhms {
			x, anchor = b.x, drawing.Start
		} else if mark.ohms == mostOhms {
			x, anchor = b.right(), drawing.End
		}
		cv.text(x, track.y+29, style{size: 12, fill: p.ink2, anchor: anchor}, mark.words)
	}
	knob := p.panel
	if l.over || v.grab.kind == grabSlider {
		knob = p.accentSoft
	}
	cv.circle(track.x+track.w*share, track.midY(), 10, 2.4, p.accent, knob)
}

// sliderKey turns the resistance by a tenth of a decade, with Shift by a whole one.
func (v *View) sliderKey(k Key, ohms float64) bool {
	step := 0.1
	if k.Shift {
		step = 1
	}
	share := shareOf(ohms)
	decades := math.Log10(mostOhms / leastOhms)
	switch k.Name {
	case "Left", "Down":
		v.turnFault(share - step/decades)
	case "Right", "Up":
		v.turnFault(share + step/decades)
	case "PageDown":
		v.turnFault(share - 1/decades)
	case "PageUp":
		v.turnFault(share + 1/decades)
	case "Home":
		v.turnFault(0)
	case "End":
		v.turnFault(1)
	default:
		return false
	}
	return true
}
