package view

// This file is what follows from a state: the reading, the staircase, and what the drawing shows. It asks sim and
// sim/meter, and computes nothing itself.

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"underload/sim"
	"underload/sim/meter"
	"underload/sim/part"
	"underload/ui/drawing"
)

// live is what follows from a state.
type live struct {
	held    *meter.Held
	climbed *meter.Climbed

	reading       *meter.Reading
	waiting       string // why there is no reading, and what to do
	stairs        *meter.Staircase
	stairsWaiting string
	shown         *meter.Staircase // as much of it as may be shown
	noticed       []string         // what a person sees, hears and smells

	seen, sound *sim.Bench // the circuit and the healthy one, with the instrument on
	showing     drawing.Showing
}

// instruments without leads, and those with one.
var noLeads = []string{"roll-call", "look"}

// follow works out what follows from a state.
func (v *View) follow(s *state) {
	l := &live{}
	s.live = l
	v.hold(s)
	if v.clock != nil {
		v.clock.takeInHand(s)
	}
	v.climb(s)
	v.see(s)
	s.notice()
	if s.with == "load-lamp" && l.reading != nil {
		s.taken = true
	}
	s.mark()
	v.show(s)
}

// request is the test as it is set up; ok is false where something is still missing.
func (s *state) request() (q meter.Request, missing string) {
	q.With = s.with
	switch {
	case slices.Contains(noLeads, s.with):
		return q, ""
	case s.with == "clamp":
		if q.On = s.on; q.On == "" {
			return q, "Choose a wire for the clamp."
		}
	case s.with == "drag":
		if q.Red = s.leads[0]; q.Red == "" {
			return q, "Put lead A on the terminal to be gauged; its connector has to be apart."
		}
	default:
		q.Red, q.Black = s.leads[0], s.leads[1]
		switch {
		case q.Red == "" && q.Black == "":
			return q, "Put lead A on a point, then lead B."
		case q.Red == "":
			return q, "Put lead A on a point."
		case q.Black == "":
			return q, "Put lead B on a point."
		}
	}
	return q, ""
}

func (v *View) hold(s *state) {
	l := s.live
	q, missing := s.request()
	if missing != "" {
		l.waiting = missing
		return
	}
	held, err := meter.Hold(s.bench, q)
	if err != nil {
		l.waiting = spoken(err)
		return
	}
	l.held = held
	r := held.Reading()
	l.reading = &r
}

// climb makes the staircase: through a lamp between the leads, else through a load's own current.
func (v *View) climb(s *state) {
	l := s.live
	q := meter.StairsRequest{}
	lamp := s.with == "load-lamp" || s.with == "test-lamp"
	switch {
	case lamp && s.leads[0] != "" && s.leads[1] != "" && l.reading != nil:
		q.Red, q.Black = s.leads[0], s.leads[1]
	default:
		q.Part = v.subject(s)
	}
	if q.Part == "" && q.Red == "" {
		l.stairsWaiting = "Choose a load that runs, or put a load lamp between two points."
		return
	}
	climbed, err := meter.Climb(s.bench, q)
	if err != nil {
		l.stairsWaiting = noPath(err, q.Part)
		return
	}
	l.climbed = climbed
	stairs := climbed.Staircase()
	l.stairs = &stairs
}

// noPath says what to do where no current takes a closed way.
func noPath(err error, part string) string {
	var none *sim.NoWayError
	if !errors.As(err, &none) {
		return spoken(err)
	}
	if part != "" {
		return part + " draws no current, even in the healthy circuit. Set the switches that feed it, put its connectors together, or ask for it."
	}
	return "No closed path through these points. Place lead A on the supply side."
}

// subject is the load whose own path is shown: the one that was selected last, else the one that was complained of, which
// is taken to be the first module, else the first load that draws current.
func (v *View) subject(s *state) string {
	owner := s.picked.name
	if s.picked.kind == drawing.OnPoint {
		owner, _, _ = strings.Cut(owner, ".")
	}
	if p := v.c.Part(owner); p != nil && p.Kind.Load {
		s.subject = p.Name
	}
	if s.subject != "" {
		return s.subject
	}
	first := ""
	for _, p := range v.c.Parts {
		if !p.Kind.Load {
			continue
		}
		if p.Kind.Name == "module" {
			return p.Name
		}
		if first == "" {
			first = p.Name
		}
	}
	return first
}

// see finds the benches whose volts the drawing shows.
func (v *View) see(s *state) {
	l := s.live
	if l.held != nil {
		l.seen, l.sound = l.held.Benches()
	}
	if l.seen == nil {
		l.seen = s.bench
	}
	if l.sound == nil {
		if sound, err := s.bench.Sound(); err == nil {
			l.sound = sound
		} else {
			l.sound = s.bench
		}
	}
}

// notice is what a person sees, hears and smells without any instrument.
func (s *state) notice() {
	if lines, err := meter.Glance(s.bench); err == nil {
		s.live.noticed = lines
	}
}

// blind reports whether only what was probed may be shown.
func (s *state) blind() bool { return s.role == Practise }

// show gathers what the drawing shows.
func (v *View) show(s *state) {
	l := s.live
	if v.clock != nil {
		v.clock.climb(s)
	}
	l.shown = v.shownStairs(s)
	b := l.seen
	sh := drawing.Showing{
		Positions: map[string]string{}, PulledIn: map[string]bool{}, Apart: map[string]bool{}, Out: map[string]bool{}, Blown: map[string]bool{},
		Lit: map[string]float64{}, Amps: map[string]float64{}, Levels: map[string]drawing.Level{}, Bad: map[string]bool{},
		Path: v.pathOf(s), Selected: s.picked.name, Gauges: true,
	}
	for _, p := range v.c.Parts {
		st := b.State(p)
		sh.Positions[p.Name] = st.Position
		sh.PulledIn[p.Name], sh.Out[p.Name] = st.PulledIn, st.Out
		sh.Blown[p.Name] = st.Blown && (!s.blind() || st.Out) // a blown fuse is seen once it is out
		if len(p.Terminals) > 0 && p.Kind.Name != "fuse" {
			sh.Apart[p.Name] = s.bench.IsApart(p.Terminals[0])
		}
		if p.Kind.Name == "lamp" || p.Kind.Name == "led" {
			sh.Lit[p.Name] = v.glow(b, p.Name)
		}
	}
	for _, con := range v.c.Connectors {
		if len(con.Cavities) > 0 {
			sh.Apart[con.Name] = s.bench.IsApart(con.Cavities[0])
		}
		for _, t := range con.Cavities {
			grip, bad := s.bench.Overlay().Grip[t]
			sh.Bad[t.Name] = bad && grip.Name == "spread" && !s.blind()
		}
	}
	if !s.blind() {
		for _, w := range v.c.Wires {
			sh.Amps[w.Name], _, _ = b.WireAmps(w)
		}
	} else if s.with == "clamp" && l.reading != nil {
		sh.Amps[s.on], _, _ = b.WireAmps(v.c.Wire(s.on))
	}
	v.levels(s, &sh)
	l.showing = sh
	if v.clock != nil {
		v.clock.show(v, s)
	}
}

// glow is the light of a lamp, from 0 to 1.
func (v *View) glow(b *sim.Bench, name string) float64 {
	p := v.c.Part(name)
	volts, amps := b.LoadVolts(p)
	if p.Kind.Name == "led" {
		return min(1, math.Abs(amps)/max(p.Value("draws"), 1e-3))
	}
	state := b.State(p)
	return min(1, part.Light(p, &state, volts))
}

// pathOf is everything on the way of the load's current, or on the feeds that are shown.
func (v *View) pathOf(s *state) map[string]bool {
	if s.tab == tabFeeds {
		return v.feedPath(s)
	}
	l := s.live
	path := map[string]bool{}
	if l.stairs == nil {
		return path
	}
	for _, st := range l.stairs.Steps {
		path[st.Place] = true
		if owner, _, ok := strings.Cut(st.Place, "."); ok && v.c.Part(owner) != nil {
			path[owner] = true
		}
	}
	return path
}

// levels are the gauges: of every point where all is shown, of probed points in a blind case.
func (v *View) levels(s *state, sh *drawing.Showing) {
	l := s.live
	full := v.openVolts(l.sound)
	for _, p := range v.c.Points() {
		if s.blind() && !s.probed[p.Name] {
			continue
		}
		if !s.blind() && !gauged(p.Name, v) {
			continue
		}
		now, healthy := l.seen.Volts(p), l.sound.Volts(p)
		sh.Levels[p.Name] = drawing.Level{Now: now / full, Healthy: max(0, healthy/full), Alert: math.Abs(now-healthy) > alertVolts}
	}
}

// alertVolts is how far a point may be off the healthy circuit before its gauge is marked: what practice allows a whole
// side of a circuit.
const alertVolts = 0.5

// gauged reports whether a point has a gauge of its own where everything is shown: in-line terminals and the plugs of
// modules.
func gauged(name string, v *View) bool {
	p, err := v.c.Point(name)
	if err != nil || p.Terminal == nil {
		return v.now.probed[name]
	}
	owner := v.c.Part(p.Terminal.Owner)
	return p.Terminal.Inline || owner != nil && owner.Module != nil && !strings.HasSuffix(name, ".pin")
}

// hasGauge reports whether a gauge stands beside a point, if only an empty one.
func (v *View) hasGauge(name string) bool {
	_, level := v.now.live.showing.Levels[name]
	return level || gauged(name, v)
}

// openVolts is the top of every gauge.
func (v *View) openVolts(b *sim.Bench) float64 {
	full := 1.0
	for _, p := range v.c.OfKind("battery") {
		full = max(full, p.Value("volts"))
		if point, err := v.c.Point(p.Terminals[0].Name); err == nil {
			full = max(full, b.Volts(point))
		}
	}
	return full
}

// wordings turns what is written for a command line into what is done here.
var wordings = []struct {
	old *regexp.Regexp
	new string
}{
	{regexp.MustCompile(`, or (add )?--any-reach[^.;]*`), ""},
	{regexp.MustCompile(`: add --apart (\S+)`), ": take $1 apart"},
	{regexp.MustCompile(`: add --set (\S+)=out`), ": pull $1"},
	{regexp.MustCompile(`: pull it with --set \S+`), ": pull it"},
	{regexp.MustCompile(` \(--(set|apart)[^)]*\)`), ""},
	{regexp.MustCompile(`--red`), "lead A"},
	{regexp.MustCompile(`--black`), "lead B"},
	{regexp.MustCompile(`: use --on[^.;]*`), ""},
	{regexp.MustCompile(` with --on \S+`), ""},
}

// capital gives words a capital letter to begin with.
func capital(words string) string {
	first, size := utf8.DecodeRuneInString(words)
	return string(unicode.ToUpper(first)) + words[size:]
}

// spoken is an error as one sentence for people at a bench.
func spoken(err error) string {
	text := err.Error()
	for _, w := range wordings {
		text = w.old.ReplaceAllString(text, w.new)
	}
	if text == "" {
		return ""
	}
	text = capital(text)
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return text
}
