package view

// This file is the setting of faults: a place, its conditions, a slider for the resistance, and the list of what is laid.

import (
	"fmt"
	"math"
	"strings"

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

// faultPlace is where a fault sits that is set by what was chosen.
func (v *View) faultPlace(p pick) string {
	name := v.placeOf(p)
	if _, err := fault.Conditions(v.c, name); err == nil {
		return name
	}
	return ""
}

// faultAt is the last fault at a place.
func (s *state) faultAt(place string) (fault.Fault, bool) {
	faults := s.bench.Faults()
	for i := len(faults) - 1; i >= 0; i-- {
		if faults[i].Place == place {
			return faults[i], true
		}
	}
	return fault.Fault{}, false
}

// option is one condition that a place can be in.
type option struct {
	condition string
	label     string
	line      string // as it is laid
}

// options lists what a place can be in. A condition that needs more than its name takes the first value that fits, or,
// where it is a state to be stuck in, each of them.
func (v *View) options(place string) []option {
	names, err := fault.Conditions(v.c, place)
	if err != nil {
		return nil
	}
	var all []option
	for _, name := range names {
		line := place + " " + name
		if _, err := fault.Parse(v.c, line); err == nil {
			all = append(all, option{name, plain(name), line})
			continue
		}
		for _, value := range v.values(place) {
			if _, err := fault.Parse(v.c, line+" "+value); err != nil {
				continue
			}
			all = append(all, option{name, plain(name) + " " + value, line + " " + value})
			if name != "stuck" {
				break
			}
		}
	}
	return all
}

// values are what may have to follow a condition.
func (v *View) values(place string) []string {
	all := []string{"1/16", "25 A", "open", "closed"}
	if p := v.c.Part(place); p != nil {
		for _, throw := range p.Throws {
			all = append(all, throw.Name)
		}
		if p.Module != nil {
			for _, out := range p.Module.Outputs {
				all = append(all, out.Pin)
			}
		}
	}
	owner, _, _ := strings.Cut(place, ".")
	for _, point := range v.c.Points() {
		if t := point.Terminal; t != nil && t.Owner == owner && t.Name != place {
			all = append(all, t.Name)
		}
	}
	for _, w := range v.c.Wires {
		if w.Name != place {
			all = append(all, w.Name)
			break
		}
	}
	return all
}

// lay puts a place into a condition, instead of what was wrong there.
func (v *View) layFault(place, line string) {
	v.act(func(s *state) error {
		s.place = place
		return onBench(s, func(b *sim.Bench) error {
			if _, there := s.faultAt(place); there {
				if err := b.Mend("repair " + place); err != nil {
					return err
				}
			}
			return b.Break(line)
		})
	})
}

func (v *View) mend(place string) {
	v.act(func(s *state) error {
		return onBench(s, func(b *sim.Bench) error { return b.Mend("repair " + place) })
	})
}

// turnFault gives the fault at the place being set another resistance, as one act.
func (v *View) turnFault(share float64) {
	if v.grab.kind == grabSlider {
		v.turnOn(share)
		return
	}
	place := v.now.place
	v.act(func(s *state) error {
		return onBench(s, func(b *sim.Bench) error { return b.Turn(place, ohmsOf(share)) })
	})
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

// faultBench fills a box with the reading and below it the setting of faults.
func (v *View) faultBench(b box) {
	y := v.well(box{b.x, b.y, b.w, 112}) + 8
	h := v.row()
	buttons := box{b.x, b.foot() - v.target(), b.w, v.target()}
	v.faultButtons(buttons)
	list := v.faultListHeight(buttons.y - 8 - y)
	v.faultList(box{b.x, buttons.y - 8 - list, b.w, list})
	v.faultEditor(box{b.x, y, b.w, buttons.y - 16 - list - y}, h)
}

// faultButtons keep the faults, and the reading.
func (v *View) faultButtons(b box) {
	const gap = 8.0
	none := len(v.now.bench.Faults()) == 0
	w := (b.w - 2*gap) / 3
	save, log := "Save faults", "Log reading"
	if v.plan.small {
		save, log = "Save", "Log"
	}
	v.button(control{id: "save-faults", label: save, at: box{b.x, b.y, w, b.h}, off: empty(none, "No fault is laid yet"), do: v.saveFaults}, primary)
	off := empty(v.now.live.reading == nil, "There is no reading yet. "+v.now.live.waiting)
	v.button(control{id: "log", label: log, at: box{b.x + w + gap, b.y, w, b.h}, off: off, do: v.logReading}, ordinary)
	nothing := v.now.leads == [2]string{} && v.now.on == ""
	v.button(control{id: "off", label: "Take off", at: box{b.right() - w, b.y, w, b.h}, off: empty(nothing, "Nothing is on the circuit"), do: v.takeOff}, ordinary)
}

func (v *View) saveFaults() {
	v.want(Want{Kind: SaveFile, Name: v.fileName() + ".faults", Data: v.faultsFile()})
}

// faultsFile is what is laid, one fault a line.
func (v *View) faultsFile() []byte {
	var out strings.Builder
	fmt.Fprintf(&out, "# faults of %s, one a line\n", v.title())
	for _, f := range v.now.bench.Faults() {
		out.WriteString(f.Text + "\n")
	}
	return []byte(out.String())
}

// faultRow is the height of a row in the list of faults.
func (v *View) faultRow() float64 { return v.row() + 4 }

func (v *View) faultListHeight(room float64) float64 {
	n := len(v.now.bench.Faults())
	if n == 0 {
		return 0
	}
	const editor = 168 // the place, a row of conditions, the slider
	if room-editor < 22+v.faultRow() {
		return v.faultRow()
	}
	return 22 + float64(min(n, int((room-editor-22)/v.faultRow()), 5))*v.faultRow()
}

// faultList lists what is laid; each can be chosen, and taken away.
func (v *View) faultList(b box) {
	if b.h == 0 {
		return
	}
	p := v.canvas.p
	faults := v.now.bench.Faults()
	low := b.h < 22+v.faultRow()
	most := int(b.h / v.faultRow())
	from := v.scrolled("faults", len(faults), most)
	y := b.y + 2
	if !low {
		v.heading(b.x, b.y+13, fmt.Sprintf("Faults laid: %d", len(faults)))
		v.pager("faults", box{b.right() - 2*v.row() - 4, b.y - v.row() + 20, 2*v.row() + 4, v.row()}, len(faults), most)
		y = b.y + 22
	}
	for i := from; i < min(len(faults), from+most); i++ {
		f := faults[i]
		row := box{b.x, y, b.w - v.row() - 8, v.row()}
		c := control{id: "fault:" + number(i), label: f.Text, at: row, on: v.now.place == f.Place, do: func() { v.pickFault(f.Place) }}
		l := v.control(c)
		stroke, fill := p.hair, p.panel
		if l.on {
			stroke, fill = p.accent, p.accentSoft
		} else if l.over {
			stroke = p.ink
		}
		v.canvas.frame(row, 6, 1, stroke, fill)
		v.canvas.text(row.x+10, middle(row, 13), style{size: 13, fill: p.ink}, shorten(faultWords(f), 13, false, row.w-20))
		v.iconButton(control{id: "mend:" + number(i), label: "Take away: " + f.Text, at: box{b.right() - v.row(), y, v.row(), v.row()}, do: func() { v.mend(f.Place) }}, func(b box, ink colour) {
			v.canvas.line(1.8, ink, at(b.midX()-5, b.midY()-5), at(b.midX()+5, b.midY()+5))
			v.canvas.line(1.8, ink, at(b.midX()-5, b.midY()+5), at(b.midX()+5, b.midY()-5))
		})
		y += v.faultRow()
	}
}

// faultWords writes a fault for people: its place, condition and resistance.
func faultWords(f fault.Fault) string {
	words := strings.Fields(f.Text)
	text := spelt(f.Place) + " " + plain(f.Condition)
	switch {
	case math.IsInf(f.Ohms, 1):
	case f.Ohms > 0:
		text += ", " + quantity.Format(f.Ohms, quantity.Ohms, 3)
	case len(words) > 2:
		text = strings.Join(words, " ")
	}
	return text
}

func (v *View) pickFault(place string) {
	v.act(func(s *state) error {
		s.place = place
		s.picked = v.pickOf(place)
		return nil
	})
	v.popped = false
}

// pickOf finds what of the drawing stands for a place.
func (v *View) pickOf(place string) pick {
	switch {
	case v.c.Wire(place) != nil:
		return pick{drawing.OnWire, place}
	case v.c.Part(place) != nil:
		return pick{drawing.OnPart, place}
	}
	if t := v.c.Terminal(place); t != nil && t.Inline {
		return pick{drawing.OnPoint, place + ".a"}
	}
	return pick{drawing.OnPoint, place}
}

// faultEditor is the place, its conditions and the slider.
func (v *View) faultEditor(b box, h float64) {
	p := v.canvas.p
	place := v.now.place
	if place == "" {
		v.canvas.text(b.x, b.y+16, style{size: 15, bold: true, fill: p.ink}, "Set a fault")
		y := v.canvas.lines(box{b.x, b.y + 26, b.w, b.h}, style{size: 14, fill: p.ink2}, 20, max(1, int((b.h-30)/20)),
			"Click a terminal, a wire, a splice, a stud or a part in the drawing. Then choose its condition here and drag its resistance: everything follows.")
		v.noticed(box{b.x, y + 12, b.w, b.foot() - y - 12})
		return
	}
	f, there := v.now.faultAt(place)
	v.canvas.text(b.x, b.y+16, style{size: 15, bold: true, fill: p.ink}, shorten(spelt(place), 15, true, b.w-80))
	if there {
		v.canvas.text(b.right(), b.y+16, style{size: 13, bold: true, fill: p.alert, anchor: drawing.End}, "fault laid")
	} else {
		v.canvas.text(b.right(), b.y+16, style{size: 13, fill: p.ok, anchor: drawing.End}, "sound")
	}
	y := b.y + 26
	slider := 0.0
	if there && v.turnable(f) {
		slider = 84
	}
	y = v.conditionChips(box{b.x, y, b.w, b.foot() - slider - y}, h, place, f)
	if slider > 0 {
		v.ohmsSlider(box{b.x, y, b.w, slider}, f)
		y += slider
	}
	v.noticed(box{b.x, y + 8, b.w, b.foot() - y - 8})
}

// turnable reports whether a fault has a resistance that a slider can set.
func (v *View) turnable(f fault.Fault) bool {
	if f.Ohms == 0 || math.IsInf(f.Ohms, 1) {
		return false
	}
	_, err := f.Turned(v.c, 1)
	return err == nil && f.Condition != "strands"
}

// conditionChips are the conditions of a place: as many as there is room for, the rest in a menu.
func (v *View) conditionChips(b box, h float64, place string, f fault.Fault) float64 {
	options := v.options(place)
	const gap = 6.0
	columns := 3.0
	if v.plan.small {
		columns = 2
	}
	w := (b.w - (columns-1)*gap) / columns
	rows := max(1, int((b.h+gap)/(h+gap)))
	fits := rows * int(columns)
	chip := func(i int, c control) {
		c.at = box{b.x + float64(i%int(columns))*(w+gap), b.y + float64(i/int(columns))*(h+gap), w, h}
		l := v.control(c)
		in, ink := v.plate(c.at, l, quiet)
		v.middleText(in.inset(4), style{size: 13, bold: l.on, fill: ink}, c.label)
	}
	chip(0, control{id: "sound", label: "sound", on: f.Text == "", do: func() {
		if f.Text != "" {
			v.mend(place)
		}
	}})
	shown := len(options)
	if shown+1 > fits {
		shown = fits - 2
	}
	for i := range shown {
		o := options[i]
		chip(i+1, v.chipOf(place, o, f))
	}
	if shown < len(options) {
		chip(shown+1, control{id: "conditions", label: "more …", do: func() { v.toggleMenu("conditions") }})
		shown++
	}
	used := math.Ceil(float64(shown+1) / columns)
	return b.y + used*(h+gap) + 4
}

func (v *View) chipOf(place string, o option, f fault.Fault) control {
	on := f.Condition == o.condition
	if o.condition == "stuck" {
		on = f.Text == o.line
	}
	return control{id: "condition:" + strings.TrimPrefix(o.line, place+" "), label: o.label, on: on, do: func() {
		v.menu = ""
		if !on {
			v.layFault(place, o.line)
		}
		v.dirty = true
	}}
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

// scrolled is the first row shown of a list, kept within it.
func (v *View) scrolled(list string, n, most int) int {
	from := max(0, min(v.scroll[list], n-most))
	v.scroll[list] = from
	return from
}

// pager turns a list that is longer than its room.
func (v *View) pager(list string, b box, n, most int) {
	if n <= most {
		return
	}
	from := v.scroll[list]
	turn := func(id, label string, x float64, to int, off string, way float64) {
		v.iconIn(control{id: id + list, label: label, at: box{x, b.y, v.row(), b.h}, off: off, do: func() { v.scroll[list] = to; v.dirty = true }}, func(c box, ink colour) {
			if off != "" {
				ink = v.canvas.p.hair
			}
			v.canvas.line(2, ink, at(c.midX()-5, c.midY()+way*3), at(c.midX(), c.midY()-way*3), at(c.midX()+5, c.midY()+way*3))
		})
	}
	turn("up:", "Earlier", b.right()-2*v.row()-4, from-most, empty(from == 0, "This is the beginning"), 1)
	turn("down:", "Later", b.right()-v.row(), from+most, empty(from+most >= n, "This is the end"), -1)
}
