package view

// This file is how a circuit in motion looks at an instant: volts at its points, light of its lamps, what relays and fuses
// do, what grows hot. It reads what sim has computed.

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"underload/circuit"
	"underload/sim"
	"underload/sim/part"
	"underload/ui/drawing"
)

// looks are the channels that the drawing is painted from.
type looks struct {
	run    *sim.Run
	points map[string]sim.Channel
	sound  map[string]sim.Channel // points of the healthy circuit
	amps   map[string]sim.Channel // of wires and LEDs
	lights map[string]sim.Channel
	usual  map[string]float64 // percent of light that a lamp gives at the volts that lamps are told at
	modes  map[string]sim.Channel
	speeds map[string]sim.Channel
	heats  map[string]sim.Channel
	tags   []timeTag
	blinks map[string]*blink
	passed float64 // of the person's seconds
}

// blink is how often a lamp went on and off lately.
type blink struct {
	on    bool
	times []float64 // of the person's seconds
}

// An eye is spared what blinks faster: it is painted half lit, and called flickering.
const (
	mostBlinks = 3   // changes
	blinkTime  = 1.0 // seconds
	halfLit    = 0.4
)

// spare looks at a lamp's light and reports whether it flickers.
func (k *looks) spare(name string, lit float64) bool {
	b := k.blinks[name]
	if b == nil {
		b = &blink{on: lit > halfLit}
		k.blinks[name] = b
	}
	if on := lit > halfLit; on != b.on {
		b.on, b.times = on, append(b.times, k.passed)
	}
	for len(b.times) > 0 && b.times[0] < k.passed-blinkTime {
		b.times = b.times[1:]
	}
	return len(b.times) > mostBlinks
}

// timeTag is a word over the drawing: the mode of a module, the heat of a joint.
type timeTag struct {
	place string
	words string
	hot   bool
}

// hotCelsius is from where on heat is shown: too hot to touch (common practice, no source).
const hotCelsius = 60.0

func (l *looks) begin(v *View, run, healthy *sim.Run) {
	*l = looks{run: run, points: map[string]sim.Channel{}, sound: map[string]sim.Channel{}, amps: map[string]sim.Channel{}, lights: map[string]sim.Channel{},
		usual: map[string]float64{}, modes: map[string]sim.Channel{}, speeds: map[string]sim.Channel{}, heats: map[string]sim.Channel{}, blinks: map[string]*blink{}}
	watch := func(into map[string]sim.Channel, name, text string) {
		if ch, err := run.Watch(text); err == nil {
			into[name] = ch
		}
	}
	for _, p := range v.c.Points() {
		watch(l.points, p.Name, p.Name)
		if healthy == nil {
			continue
		}
		if ch, err := healthy.Watch(p.Name); err == nil {
			l.sound[p.Name] = ch
		}
	}
	for _, w := range v.c.Wires {
		watch(l.amps, w.Name, "amps "+w.Name)
		watch(l.heats, w.Name, "heat "+w.Name)
	}
	for _, p := range v.c.Parts {
		switch p.Kind.Name {
		case "lamp":
			watch(l.lights, p.Name, "light "+p.Name)
			bulb := part.Bulb(p)
			l.usual[p.Name] = 100 * part.Filament(bulb, v.now.ambient(v.c)).LightShare(bulb.LightVolts())
		case "led":
			watch(l.amps, p.Name, "amps "+p.Name)
		case "module":
			watch(l.modes, p.Name, "mode "+p.Name)
		case "motor":
			watch(l.speeds, p.Name, "speed "+p.Name)
		case "fuse":
			watch(l.heats, p.Name, "heat "+p.Name)
		}
		for _, t := range p.Terminals {
			watch(l.heats, t.Name, "heat "+t.Name)
		}
	}
	for _, con := range v.c.Connectors {
		for _, t := range con.Cavities {
			watch(l.heats, t.Name, "heat "+t.Name)
		}
	}
}

// unknownLevel is that of the healthy circuit where it is not known: no mark stands on the gauge.
const unknownLevel = -1.0

// levelStep is the share of a gauge that an eye can tell apart.
const levelStep = 1.0 / 128

// round leaves what an eye can tell apart, so that nothing is painted anew for less.
func round(value, step float64) float64 { return math.Round(value/step) * step }

// show puts the present instant in place of what the bench shows at rest.
func (c *clock) show(v *View, s *state) {
	l, k := s.live, &c.looks
	if l.reading, l.waiting = nil, c.waiting; c.moving != nil {
		r := c.moving.Reading()
		l.reading, l.waiting = &r, ""
	}
	sh := &l.showing
	k.tags = k.tags[:0]
	for name := range sh.Lit {
		lit := round(k.glow(v.c.Part(name)), 1.0/64)
		if k.spare(name, lit) && c.running {
			lit = halfLit
			k.tags = append(k.tags, timeTag{place: name, words: "flickers"})
		}
		sh.Lit[name] = lit
	}
	full := v.openVolts(l.sound)
	beside := c.healthy.inStep(c.run.Seconds())
	for name, level := range sh.Levels {
		now := k.points[name].Read()
		level.Now = round(now/full, levelStep)
		level.Healthy, level.Alert = unknownLevel, false
		if beside {
			healthy := k.sound[name].Read()
			level.Healthy, level.Alert = max(0, round(healthy/full, levelStep)), math.Abs(now-healthy) > alertVolts
		}
		sh.Levels[name] = level
	}
	for name := range sh.Amps {
		if ch, ok := k.amps[name]; ok {
			sh.Amps[name] = roundAmps(ch.Read())
		}
	}
	for _, p := range v.c.Parts {
		st := c.run.State(p)
		sh.Positions[p.Name], sh.PulledIn[p.Name], sh.Out[p.Name] = st.Position, st.PulledIn, st.Out
		sh.Blown[p.Name] = st.Blown && (!s.blind() || st.Out)
	}
	k.findTurning(v.c, s)
	slices.SortFunc(k.tags, func(a, b timeTag) int { return cmp.Compare(a.place, b.place) })
	if !s.blind() {
		k.findTags(v.c, s)
	}
}

// climb puts the present instant in place of the pass of the staircase that is made now: of a test lamp the light one.
func (c *clock) climb(s *state) {
	l := s.live
	if l.climbed == nil {
		return
	}
	var sound *sim.Run
	if c.healthy.inStep(c.run.Seconds()) {
		sound = c.healthy.run
	}
	stairs := l.climbed.At(c.run, sound, s.with == "test-lamp")
	l.stairs = &stairs
}

// roundAmps keeps two digits, and nothing of what is next to none.
func roundAmps(amps float64) float64 {
	if math.Abs(amps) < 5e-4 || math.IsNaN(amps) {
		return 0
	}
	return round(amps, math.Pow(10, math.Floor(math.Log10(math.Abs(amps)))-1))
}

// glow is the light of a lamp or an LED, from 0 to 1.
func (k *looks) glow(p *circuit.Part) float64 {
	share := 0.0
	if ch, ok := k.lights[p.Name]; ok {
		share = ch.Read() / k.usual[p.Name]
	} else if ch, ok := k.amps[p.Name]; ok {
		share = math.Abs(ch.Read()) / max(p.Value("draws"), 1e-3)
	}
	if math.IsNaN(share) {
		return 0
	}
	return min(1, max(0, share))
}

// findTurning says of motors that they turn; how fast no eye can tell.
func (k *looks) findTurning(c *circuit.Circuit, s *state) {
	const still = 1.0 // rad/s: less is not seen
	for _, p := range c.OfKind("motor") {
		ch, ok := k.speeds[p.Name]
		if !ok {
			continue
		}
		speed := math.Abs(ch.Read())
		if !(speed > still) {
			continue
		}
		words := "turns"
		if !s.blind() {
			words = fmt.Sprintf("%.0f/min", round(speed*60/(2*math.Pi), 10))
		}
		k.tags = append(k.tags, timeTag{place: p.Name, words: words})
	}
}

// findTags says in words what colours alone would not.
func (k *looks) findTags(c *circuit.Circuit, s *state) {
	for _, p := range c.OfKind("module") {
		if ch, ok := k.modes[p.Name]; ok {
			if i := int(ch.Read()); i >= 0 && i < len(ch.Words) {
				k.tags = append(k.tags, timeTag{place: p.Name, words: ch.Words[i]})
			}
		}
	}
	for _, name := range k.hottestFirst(c, s) {
		if len(k.tags) > 12 {
			break
		}
		k.tags = append(k.tags, timeTag{name, degrees(round(k.heats[name].Read(), 5)), true})
	}
}

// glimpse is all that the screen shows of an instant.
type glimpse struct {
	words                string
	levels               map[string]drawing.Level
	lit, amps            map[string]float64
	pulledIn, blown, out map[string]bool
}

// seen is what the screen shows now.
func (k *looks) seen(v *View) glimpse {
	l := v.now.live
	sh := l.showing
	g := glimpse{v.clock.timeWords() + "\n" + l.waiting, sh.Levels, sh.Lit, sh.Amps, sh.PulledIn, sh.Blown, sh.Out}
	if l.reading != nil {
		value, spread, seen := figureWords(l.reading)
		g.words += value + spread + seen + healthyWords(l.reading)
	}
	for _, t := range k.tags {
		g.words += fmt.Sprint(t)
	}
	if v.now.tab == tabStairs && l.shown != nil {
		for _, st := range l.shown.Steps {
			g.words += fmt.Sprintf("\n%.0f %.0f %.0f", 1e3*st.Light.Lost, 1e3*st.UnderLoad.Lost, 1e3*st.Healthy.Lost)
		}
	}
	return g
}

func (g glimpse) same(o glimpse) bool {
	return g.words == o.words && maps.Equal(g.levels, o.levels) && maps.Equal(g.lit, o.lit) && maps.Equal(g.amps, o.amps) &&
		maps.Equal(g.pulledIn, o.pulledIn) && maps.Equal(g.blown, o.blown) && maps.Equal(g.out, o.out)
}

// hottestFirst lists what is too hot to touch, of what is known to be bad, of the fuses and the wires.
func (k *looks) hottestFirst(c *circuit.Circuit, s *state) []string {
	var hot []string
	celsius := map[string]float64{}
	look := func(name string) {
		ch, ok := k.heats[name]
		if !ok {
			return
		}
		if t := ch.Read(); t > hotCelsius && celsius[name] == 0 {
			hot, celsius[name] = append(hot, name), t
		}
	}
	for _, f := range s.bench.Faults() {
		look(f.Place)
	}
	for _, p := range c.OfKind("fuse") {
		look(p.Name)
	}
	for _, w := range c.Wires {
		look(w.Name)
	}
	slices.SortFunc(hot, func(a, b string) int { return cmp.Or(cmp.Compare(celsius[b], celsius[a]), cmp.Compare(a, b)) })
	return hot
}

// timeTags paints them, each near its place, on nothing else.
func (v *View) timeTags(taken []box) {
	if v.clock == nil {
		return
	}
	p := v.canvas.p
	wires := v.wireRoom()
	for _, t := range v.clock.looks.tags {
		boxes := v.boxesOf(t.place)
		if len(boxes) == 0 {
			continue
		}
		w := textWidth(t.words, 12, true) + 14
		if t.hot {
			w += 14
		}
		b := v.tagBeside(boxes[0], w, taken, wires)
		taken = append(taken, b)
		if !t.hot {
			v.canvas.frame(b, 4, 1.2, p.ok, p.okSoft)
			v.canvas.text(b.midX(), middle(b, 12), style{size: 12, bold: true, fill: p.ink, anchor: drawing.Middle}, t.words)
			continue
		}
		v.canvas.frame(b, 4, 1.6, p.alert, p.alertSoft)
		v.heatSign(b.x+11, b.midY())
		v.canvas.text(b.x+21, middle(b, 12), style{size: 12, bold: true, fill: p.ink}, t.words)
	}
}

// heatSign is warm air rising.
func (v *View) heatSign(x, y float64) {
	for _, dx := range []float64{-3, 1, 5} {
		v.canvas.line(1.4, v.canvas.p.alert, at(x+dx, y+5), at(x+dx-2, y+2), at(x+dx, y-1), at(x+dx-2, y-5))
	}
}

// wireRoom is where wires run.
func (v *View) wireRoom() (all []box) {
	for _, h := range v.strip().Hits {
		if h.Kind == drawing.OnWire {
			x, y := v.toWindow(h.At)
			all = append(all, box{x - h.W*v.area.zoom/2, y - h.H*v.area.zoom/2, h.W * v.area.zoom, h.H * v.area.zoom})
		}
	}
	return all
}

// tagBeside finds room for a tag of some width in a box or beside it, on no wire if that can be: it would seem to speak of
// that.
func (v *View) tagBeside(by box, w float64, taken, wires []box) box {
	const h = 20.0
	best, least := box{}, math.Inf(1)
	for _, b := range []box{{by.right() - w - 6, by.y + 6, w, h}, {by.x + 6, by.foot() - h - 6, w, h}, {by.right() - w - 6, by.foot() - h - 6, w, h},
		{by.midX() - w/2, by.midY() - h/2, w, h}, {by.right() - w - 6, by.midY() - h/2, w, h},
		{by.right() + 6, by.y - h/2, w, h}, {by.right() + 6, by.foot() - h/2, w, h}, {by.x - w - 6, by.y - h/2, w, h}, {by.x - w - 6, by.foot() - h/2, w, h},
		{by.midX() - w/2, by.y - h - 4, w, h}, {by.midX() - w/2, by.foot() + 4, w, h}, {by.right() + 40, by.midY() - h/2, w, h}, {by.x - w - 40, by.midY() - h/2, w, h}} {
		b.x, b.y = math.Round(b.x), math.Round(b.y)
		cost := math.Abs(b.midX()-by.midX()) + math.Abs(b.midY()-by.midY())
		for _, t := range taken {
			if t.overlaps(b) && !t.roomFor(b) {
				cost += 500
			}
		}
		for _, t := range wires {
			if t.overlaps(b) {
				cost += 100
			}
		}
		if a := v.plan.area; !a.holds(b.x, b.y) || !a.holds(b.right(), b.foot()) {
			cost += 2000
		}
		if cost < least {
			best, least = b, cost
		}
	}
	return best
}
