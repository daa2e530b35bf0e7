package view

// This file is the tab of the scope: its settings and their menus.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/record"
	"underload/ui/drawing"
)

// scopeNow is the scope that is in use.
func (v *View) scopeNow() *scope {
	if v.clock != nil {
		return &v.clock.scope
	}
	return &v.keptScope
}

// The room that the settings ask for side by side, and the height below which they go into a menu.
const (
	scopeSettingsRoom = 600.0
	lowScope          = 170.0
)

func (v *View) scopeTab(head, body box) {
	switch {
	case head.w >= scopeSettingsRoom:
		v.scopeSettings(head)
	case body.h < lowScope:
		v.scopeSettingsShort(head)
	case v.plan.slim:
		v.scopeSettingsShort(box{body.x + 8, body.y + 2, body.w - 16, tabHeight})
		body.y += tabHeight + 4
		body.h -= tabHeight + 4
	default:
		v.scopeSettings(box{body.x + 8, body.y + 2, body.w - 16, tabHeight})
		body.y += tabHeight + 4
		body.h -= tabHeight + 4
	}
	p := v.canvas.p
	s := v.scopeNow()
	if v.clock == nil && !s.has() {
		b := box{body.x + 24, body.y + 12, min(body.w-48, 620), v.target()}
		v.button(control{id: "time-play", label: "Let time run", at: box{b.x, b.y, 160, b.h}, do: v.playTime}, primary)
		v.canvas.lines(box{b.x + 176, b.y + 2, body.w - 48 - 176, 60}, style{size: 14, fill: p.ink2}, 20, 2,
			"Time is at rest. While it runs, the scope draws what lead A and lead B see, or whatever else you choose.")
		return
	}
	if v.clock != nil && len(s.read) == 0 {
		v.canvas.lines(box{body.x + 24, body.y + 16, body.w - 48, 60}, style{size: 14, fill: p.ink2}, 20, 2,
			"Put lead A or lead B on a point, or choose what a channel watches.")
		return
	}
	shown, ok := s.shown()
	if !ok {
		return
	}
	v.scopeScreen(body, shown)
}

// scopeSettingsShort is two buttons and a menu.
func (v *View) scopeSettingsShort(b box) {
	h := v.row()
	y := b.midY() - h/2
	w := min(110, b.w-2*h-70)
	v.opener("scope-set", "Scope", "scope-set", box{b.right() - w, y, w, h}, nil)
	v.screenButtons(box{b.right() - w - 6 - 2*h - 58, y, 2*h + 58, h})
}

// setMenu leads to the settings that have no room.
func (v *View) setMenu() {
	names := v.scopeNow().watches(&v.now)
	items := []item{
		{id: "scope-a", label: "Channel A", says: orElse(names[0], "–"), do: func() { v.menu, v.dirty = "scope-a", true; delete(v.scroll, "scope-a") }},
		{id: "scope-b", label: "Channel B", says: orElse(names[1], "–"), do: func() { v.menu, v.dirty = "scope-b", true; delete(v.scroll, "scope-b") }},
		{id: "scope-sweep", label: "Sweep and trigger", says: sweeps[v.scopeNow().sweep].words, do: func() { v.menu, v.dirty = "scope-sweep", true; delete(v.scroll, "scope-sweep") }},
	}
	w := min(340, v.plan.width-16)
	v.items(v.menuBox(v.plan.width/2-w/2, v.plan.panel.y-float64(len(items))*v.target()-24, w, float64(len(items))*v.target()+16), items, 1)
}

// screenButtons make the screen longer and shorter.
func (v *View) screenButtons(b box) {
	s, h := v.scopeNow(), b.h
	v.iconButton(control{id: "screen-shorter", label: "A shorter screen", at: box{b.x, b.y, h, h}, off: empty(s.screen == 0, "This is the shortest screen"), do: func() { v.setScreen(-1) }}, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), true, ink) })
	v.canvas.text(b.midX(), middle(b, 14), style{size: 14, bold: true, fill: v.canvas.p.ink, anchor: drawing.Middle}, screens[s.screen].words)
	v.iconButton(control{id: "screen-longer", label: "A longer screen", at: box{b.right() - h, b.y, h, h}, off: empty(s.screen == len(screens)-1, "This is the longest screen"), do: func() { v.setScreen(1) }}, func(b box, ink colour) { v.plusSign(b.midX(), b.midY(), false, ink) })
}

// scopeSettings is a row of buttons.
func (v *View) scopeSettings(b box) {
	s := v.scopeNow()
	h := v.row()
	y := b.midY() - h/2
	const gap = 6.0
	names := s.watches(&v.now)
	x := b.x
	buttons := 2*h + 64
	each := math.Floor((b.w - buttons - 3*gap) / 3)
	for i := range 2 {
		letter := string(rune('a' + i))
		v.opener("scope-"+letter, strings.ToUpper(letter)+": "+orElse(names[i], "–"), "scope-"+letter, box{x, y, each, h}, nil)
		x += each + gap
	}
	v.screenButtons(box{x, y, buttons, h})
	x += buttons + gap
	v.opener("scope-sweep", sweeps[s.sweep].words, "scope-sweep", box{x, y, b.right() - x, h}, nil)
}

func (v *View) setScreen(by int) {
	s := v.scopeNow()
	s.screen = max(0, min(len(screens)-1, s.screen+by))
	s.sweepAnew()
	v.dirty = true
}

// triggerWords says what the scope waits for.
func (v *View) triggerWords() string {
	s := v.scopeNow()
	if s.on == triggerCue {
		return "something is noticed"
	}
	way := "rises"
	if s.slope == record.Falling {
		way = "falls"
	}
	return fmt.Sprintf("%s %s through %s", s.letter(s.on), way, v.levelWords())
}

func (v *View) levelWords() string {
	s := v.scopeNow()
	unit := "V"
	if s.all != nil && s.on < len(s.all.Channels()) {
		unit = s.all.Channels()[s.on].Unit
	}
	return strings.TrimSpace(quantity.Format(s.level, quantity.Number, 3) + "\u00a0" + unit)
}

// setTrigger changes the trigger, and waits anew.
func (v *View) setTrigger(change func(s *scope)) {
	s := v.scopeNow()
	change(s)
	s.sweepAnew()
	v.dirty = true
}

// levelStep is how far one press moves the trigger's level: a twentieth of how far the channel went, rounded.
func (s *scope) levelStep() float64 {
	span := 10.0
	if s.has() && s.on < len(s.all.Channels()) {
		from, to := s.all.Span()
		if m, ok := s.all.Measure(s.on, from, to); ok && m.PeakToPeak() > 0 {
			span = m.PeakToPeak()
		}
	}
	return math.Pow(10, math.Round(math.Log10(span/10)))
}

// scopeMenus are those that open from the settings.
func (v *View) sweepMenu() {
	s := v.scopeNow()
	var items []item
	for i, sw := range sweeps {
		items = append(items, item{id: "sweep:" + sw.words, label: sw.words, says: sw.says, on: s.sweep == i, do: func() {
			v.menu = ""
			v.setTrigger(func(s *scope) { s.sweep = i })
		}})
	}
	for i, what := range []string{"channel A", "channel B", "what is noticed"} {
		items = append(items, item{id: "trigger:" + what, label: "Trigger on " + what, on: s.on == i, do: func() { v.setTrigger(func(s *scope) { s.on = i }) }})
	}
	noLevel := empty(s.on == triggerCue, "What is noticed has no level")
	for _, slope := range []record.Slope{record.Rising, record.Falling} {
		words := map[record.Slope]string{record.Rising: "Rising through the level", record.Falling: "Falling through the level"}[slope]
		items = append(items, item{id: "slope:" + words, label: words, on: s.slope == slope && noLevel == "", off: noLevel, do: func() { v.setTrigger(func(s *scope) { s.slope = slope }) }})
	}
	step := s.levelStep()
	by := strings.TrimSpace(quantity.Format(step, quantity.Number, 1))
	items = append(items,
		item{id: "level-up", label: "Level " + v.levelWords(), says: "up by " + by, off: noLevel, again: true, do: func() { v.setTrigger(func(s *scope) { s.level += step }) }},
		item{id: "level-down", label: "Level " + v.levelWords(), says: "down by " + by, off: noLevel, again: true, do: func() { v.setTrigger(func(s *scope) { s.level -= step }) }},
		item{id: "arm", label: "Wait for it again", do: func() { v.menu = ""; v.setTrigger(func(*scope) {}) }})
	v.listMenu("scope-sweep", 360, items)
}

// channelMenu is what one channel can watch: its lead, and what can be watched of what is selected.
func (v *View) channelMenu(i int) {
	s := v.scopeNow()
	lead := "Lead " + string(rune('A'+i))
	choose := func(watch string) func() {
		return func() {
			v.menu, v.dirty = "", true
			s.chosen[i] = watch
			if v.clock != nil {
				s.bind(&v.now, v.clock.run)
			}
		}
	}
	items := []item{{id: "watch:", label: lead, says: orElse(v.now.leads[i], "not placed"), on: s.chosen[i] == "", do: choose("")}}
	for _, w := range v.watchable() {
		items = append(items, item{id: "watch:" + w, label: w, on: s.chosen[i] == w, do: choose(w)})
	}
	if s.chosen[i] != "" && !slices.ContainsFunc(items, func(it item) bool { return it.on }) {
		items = slices.Insert(items, 1, item{id: "watch:now", label: s.chosen[i], on: true, do: choose(s.chosen[i])})
	}
	v.listMenu("scope-"+string(rune('a'+i)), 300, items)
}

// watchable lists what can be watched: first of what is selected, then of batteries, modules, lamps, fuses and loads. In a
// blind case what neither an instrument nor an eye could see is not offered.
func (v *View) watchable() []string {
	var all []string
	p, owner := v.now.picked, v.ownerOf(v.now.picked)
	open := v.now.role == SetFaults
	add := func(offer bool, words ...string) {
		for _, w := range words {
			if offer && !contains(all, w) && v.canWatch(w) {
				all = append(all, w)
			}
		}
	}
	add(p.kind == drawing.OnWire && p.name != "", "amps "+p.name)
	add(p.kind == drawing.OnPoint && p.name != "" && v.far(v.now.bench, p.name) == "", p.name)
	add(open && p.name != "", "heat "+v.placeOf(p))
	add(open && owner != "", "supply "+owner, "amps "+owner, "light "+owner, "speed "+owner, "heat "+owner, "mode "+owner, "charge "+owner)
	for _, b := range v.c.OfKind("battery") {
		add(true, b.Terminals[0].Name, "amps "+b.Name)
		add(open, "charge "+b.Name)
	}
	for _, f := range v.now.bench.Faults() {
		add(open, "heat "+f.Place)
	}
	for _, part := range v.c.Parts {
		switch {
		case part.Kind.Name == "module":
			add(open, "supply "+part.Name, "mode "+part.Name)
		case part.Kind.Name == "lamp":
			add(true, "light "+part.Name, "amps "+part.Name)
		case part.Kind.Name == "relay":
			add(open, "mode "+part.Name)
		case part.Kind.Name == "fuse" || part.Kind.Load:
			add(true, "amps "+part.Name)
			add(open, "speed "+part.Name)
		}
	}
	return all
}

// canWatch reports whether there is something of that kind to be watched.
func (v *View) canWatch(words string) bool {
	if v.clock == nil {
		if v.watchRun == nil || v.watchRun.Circuit() != v.c {
			run, err := v.now.bench.Run(sim.RunOptions{MemoryBytes: -1})
			if err != nil {
				return false
			}
			v.watchRun = run
		}
		_, err := v.watchRun.Watch(words)
		return err == nil
	}
	_, err := v.clock.run.Watch(words)
	return err == nil
}
