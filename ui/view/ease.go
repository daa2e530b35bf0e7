package view

// This file lets gauges and lamps go to new values in a moment instead of at once. Nothing else moves by itself.

import (
	"underload/ui/drawing"
)

// easeSeconds is how long that takes.
const easeSeconds = 0.18

// easing is where gauges and lamps are on their way.
type easing struct {
	moving    bool
	at        float64 // 0 to 1
	from, to  map[string]drawing.Level
	dim, glow map[string]float64
	levels    map[string]drawing.Level // as shown now
	lit       map[string]float64
}

// ease starts from what is shown now to what the present state shows.
func (v *View) ease() {
	v.area.strip = nil
	sh := v.now.live.showing
	e := &v.easing
	e.from, e.dim = e.levels, e.lit
	e.to, e.glow = sh.Levels, sh.Lit
	if v.o.ReducedMotion || e.same() {
		e.rest()
		return
	}
	e.at, e.moving = 0, true
	e.step()
}

// same reports whether there is nothing to move.
func (e *easing) same() bool {
	for name, to := range e.to {
		if from, ok := e.from[name]; ok && from.Now != to.Now {
			return false
		}
	}
	for name, to := range e.glow {
		if from, ok := e.dim[name]; ok && from != to {
			return false
		}
	}
	return true
}

// rest is there at once.
func (e *easing) rest() {
	e.moving, e.at = false, 1
	e.levels, e.lit = e.to, e.glow
}

// jump shows values that follow a hand, which is motion enough.
func (e *easing) jump(sh drawing.Showing) {
	e.to, e.glow = sh.Levels, sh.Lit
	e.rest()
}

func (e *easing) run(seconds float64) {
	e.at += seconds / easeSeconds
	if e.at >= 1 {
		e.rest()
		return
	}
	e.step()
}

// step works out what is shown on the way: quick at first, slow at the end.
func (e *easing) step() {
	rest := 1 - min(1, e.at)
	share := 1 - rest*rest*rest
	e.levels = make(map[string]drawing.Level, len(e.to))
	for name, to := range e.to {
		if from, ok := e.from[name]; ok {
			to.Now = from.Now + share*(to.Now-from.Now)
		}
		e.levels[name] = to
	}
	e.lit = make(map[string]float64, len(e.glow))
	for name, to := range e.glow {
		e.lit[name] = to
		if from, ok := e.dim[name]; ok {
			e.lit[name] = from + share*(to-from)
		}
	}
}
