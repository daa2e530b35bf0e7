package view

// This file is what keys do.

import (
	"math"
	"slices"

	"underload/ui/drawing"
)

// Key tells that a key was pressed.
func (v *View) Key(k Key) {
	v.compose()
	v.note, v.dirty = "", true // news is read by now
	switch {
	case k.Name == "Tab":
		v.walk(k.Shift)
	case k.Name == "Escape":
		v.letGo()
	case k.Ctrl:
		v.ctrlKey(k)
	case v.focused(k):
	case v.menu == "":
		v.plainKey(k)
	case k.Name == "?" || k.Name == "F1":
		v.menu = ""
	}
	v.compose()
	v.keepFocus()
}

// keepFocus gives the focus to what is there, where the control that had it is gone: to the menu that has opened, back
// to what opened the one that has closed, else to the drawing.
func (v *View) keepFocus() {
	if v.focus == "" || v.find(v.focus) != nil {
		return
	}
	switch {
	case v.menu != "" && len(v.controls) > 0:
		v.focus = v.controls[0].id
	case v.find(v.openedBy) != nil:
		v.focus = v.openedBy
	default:
		v.focus = idDrawing
	}
	v.dirty = true
}

// walk goes to the next control, or the one before.
func (v *View) walk(back bool) {
	v.ring = true
	if len(v.controls) == 0 {
		return
	}
	i := slices.IndexFunc(v.controls, func(c control) bool { return c.id == v.focus })
	switch {
	case i < 0 && back:
		i = len(v.controls) - 1
	case i < 0:
		i = 0
	case back:
		i = (i + len(v.controls) - 1) % len(v.controls)
	default:
		i = (i + 1) % len(v.controls)
	}
	v.focus = v.controls[i].id
	if v.focus == idDrawing && v.point == "" {
		v.firstPoint()
	}
}

// letGo closes what is open, or lets go of what is held.
func (v *View) letGo() {
	switch {
	case v.menu != "":
		v.menu = ""
	case v.popped:
		v.popped = false
	case v.armed > 0:
		v.armed = 0
	case v.plan.narrow && v.drawer:
		v.shutDrawer()
	case v.now.picked.name != "":
		v.selectPick(pick{})
	default:
		v.note = ""
	}
}

// focused gives a key to the control that has the focus; it reports whether it was taken.
func (v *View) focused(k Key) bool {
	c := v.find(v.focus)
	if c == nil || k.Name == "Space" && !v.ring { // to a hand on the mouse Space is time
		return false
	}
	if c.keys != nil && c.off == "" && c.keys(k) {
		v.ring = true
		return true
	}
	if (k.Name == "Enter" || k.Name == "Space") && c.id != idDrawing {
		v.ring = true
		v.run(c)
		return true
	}
	return false
}

func (v *View) ctrlKey(k Key) {
	switch {
	case k.Name == "z" && k.Shift, k.Name == "y":
		v.redo()
	case k.Name == "z":
		v.undo()
	case k.Name == "c":
		v.copyReading()
	case k.Name == "s":
		v.saveLog()
	case k.Name == "o":
		v.lookFor("circuit")
	default:
		v.moveBy(k.Name)
	}
}

// moveBy moves the drawing by a share of its room.
func (v *View) moveBy(name string) {
	a := v.plan.area
	switch name {
	case "Left":
		v.area.panX += a.w / 4
	case "Right":
		v.area.panX -= a.w / 4
	case "Up":
		v.area.panY += a.h / 4
	case "Down":
		v.area.panY -= a.h / 4
	default:
		return
	}
	v.keepInside()
}

// plainKey is a key that means the same wherever the focus is.
func (v *View) plainKey(k Key) {
	for name, words := range instrumentWords {
		if words.key == k.Name {
			v.choose(name)
			return
		}
	}
	a := v.plan.area
	do := map[string]func(){
		"a": func() { v.leadKey(0) }, "b": func() { v.leadKey(1) }, "x": v.swapLeads, "Backspace": v.takeOff, "l": v.logReading,
		"p": func() { v.seat(Practise) }, "s": func() { v.seat(SetFaults) }, "m": func() { v.magnified = !v.magnified },
		"g": func() { v.showTab(tabStairs) }, "r": func() { v.showTab(tabLog) }, "f": func() { v.showTab(tabFeeds) }, "o": func() { v.showTab(tabScope) },
		"c": v.toDrawing, "k": v.playTime, "Space": v.playTime, ".": func() { v.stepTime(1) }, ",": func() { v.stepTime(-1) }, "[": func() { v.setPace(-1) }, "]": func() { v.setPace(1) }, "w": v.wiggleKey,
		"+": func() { v.zoomBy(1.25, a.midX(), a.midY()) }, "=": func() { v.zoomBy(1.25, a.midX(), a.midY()) },
		"-": func() { v.zoomBy(0.8, a.midX(), a.midY()) }, "Home": v.fit,
		"PageUp": func() { v.goToSheet(v.sheet() - 1) }, "PageDown": func() { v.goToSheet(v.sheet() + 1) },
		"t": v.otherTheme, "d": v.pullDrawer, "?": func() { v.menu = "help" }, "F1": func() { v.menu = "help" },
	}[k.Name]
	if do != nil {
		do()
	}
}

// toDrawing takes the focus to the drawing, where the arrows walk.
func (v *View) toDrawing() {
	v.focus, v.ring = idDrawing, true
	if v.point == "" {
		v.firstPoint()
	}
}

// leadKey puts a lead on the point of the focus or under the pointer; without one it waits for a click.
func (v *View) leadKey(lead int) {
	name := ""
	switch {
	case v.focus == idDrawing && v.ring:
		name = v.point
	case v.lit.kind == drawing.OnPoint && v.lit.name != "":
		name = v.lit.name
	case v.now.picked.kind == drawing.OnPoint && v.now.picked.name != "":
		name = v.now.picked.name
	}
	if name == "" {
		v.armed = lead + 1
		return
	}
	v.popped = false
	v.placeLead(lead, name)
}

// drawingKey walks from point to point, and selects.
func (v *View) drawingKey(k Key) bool {
	switch k.Name {
	case "Left", "Right", "Up", "Down":
		v.stepTo(k.Name)
	case "Enter", "Space":
		if v.point != "" {
			v.selectPick(pick{drawing.OnPoint, v.point})
			v.focus = idDrawing
			if len(v.deeds(v.now.picked)) > 0 {
				v.compose()
				v.focus = v.deeds(v.now.picked)[0].id
			}
		}
	default:
		return false
	}
	return true
}

// firstPoint is where walking begins: a lead, what is selected, or the first point of the path.
func (v *View) firstPoint() {
	for _, name := range []string{v.now.leads[0], v.now.leads[1], v.now.picked.name} {
		if _, err := v.c.Point(name); name != "" && err == nil {
			v.point = name
			return
		}
	}
	for _, p := range v.c.Points() {
		if v.far(v.now.bench, p.Name) == "" && v.placeOfPoint(p.Name) != nil {
			v.point = p.Name
			return
		}
	}
}

// placeOfPoint is where a point is in the drawing, or nil.
func (v *View) placeOfPoint(name string) *drawing.Spot {
	for i := range v.strip().Hits {
		if h := &v.strip().Hits[i]; h.Kind == drawing.OnPoint && h.Name == name {
			return &h.At
		}
	}
	return nil
}

// stepTo goes to the nearest point in a direction, those that a lead can reach only; what lies straight ahead is
// preferred.
func (v *View) stepTo(way string) {
	if v.point == "" {
		v.firstPoint()
		return
	}
	from := v.placeOfPoint(v.point)
	if from == nil {
		return
	}
	best, least := "", math.Inf(1)
	for _, h := range v.strip().Hits {
		if h.Kind != drawing.OnPoint || h.Name == v.point || v.far(v.now.bench, h.Name) != "" {
			continue
		}
		along, aside := h.At.Y-from.Y, math.Abs(h.At.X-from.X)
		switch way {
		case "Up":
			along = -along
		case "Left":
			along, aside = from.X-h.At.X, math.Abs(h.At.Y-from.Y)
		case "Right":
			along, aside = h.At.X-from.X, math.Abs(h.At.Y-from.Y)
		}
		if along < 1 {
			continue
		}
		if cost := along + 3*aside; cost < least {
			best, least = h.Name, cost
		}
	}
	if best != "" {
		v.point = best
		v.reveal(best)
	}
}
