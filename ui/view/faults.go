package view

// This file is the setting of faults: a place, its conditions, a slider for the resistance, and the list of what is laid.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/quantity"
	"underload/sim"
	"underload/sim/fault"
	"underload/ui/drawing"
)

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
	if v.choices.c != v.c || v.choices.place != place {
		v.choices = knownOptions{v.c, place, v.findOptions(place)}
	}
	return v.choices.options
}

// knownOptions are those of the place being set, kept since they are asked for on every frame of a drag.
type knownOptions struct {
	c       *circuit.Circuit
	place   string
	options []option
}

// mostOffered is how many values of a condition are offered: of a short each neighbour in its connector, of a state to be
// stuck in all. Of the rest the first will do.
var mostOffered = map[string]int{"stuck": 12, "short-to": 8, "leaks-to": 8, "swapped": 8}

func (v *View) findOptions(place string) []option {
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
		n := 0
		for _, value := range v.values(place) {
			if _, err := fault.Parse(v.c, line+" "+value); err != nil {
				continue
			}
			all = append(all, option{name, plain(name) + " " + value, line + " " + value})
			if n++; n == mostOffered[name] || mostOffered[name] == 0 {
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
		if t := point.Terminal; t != nil && t.Owner == owner && t.Name != place && !contains(all, t.Name) {
			all = append(all, t.Name) // once, whatever sides it has
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
			s.did = []string{"break " + line}
			if _, there := s.faultAt(place); there {
				s.did = []string{"repair " + place, "break " + line}
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
		s.did = []string{"repair " + place}
		return onBench(s, func(b *sim.Bench) error { return b.Mend("repair " + place) })
	})
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
		options = chosenFirst(options, f, shown)
	}
	for i := range shown {
		o := options[i]
		chip(i+1, v.chipOf(place, o, f))
	}
	if shown < len(options) {
		label := "more …"
		if shown == 0 && f.Text != "" { // there is no room to show it otherwise
			label = plain(f.Condition) + " …"
		}
		chip(shown+1, control{id: "conditions", label: label, on: label != "more …", do: func() { v.toggleMenu("conditions") }})
		shown++
	}
	used := math.Ceil(float64(shown+1) / columns)
	return b.y + used*(h+gap) + 4
}

// chosenFirst brings the condition that is laid among those that are shown.
func chosenFirst(options []option, f fault.Fault, shown int) []option {
	i := slices.IndexFunc(options, func(o option) bool { return o.is(f) })
	if i < shown {
		return options
	}
	return slices.Concat(options[i:i+1], options[:i], options[i+1:])
}

// is reports whether it is the fault that is laid.
func (o option) is(f fault.Fault) bool {
	if mostOffered[o.condition] > 0 { // which of them
		return f.Text == o.line || strings.HasPrefix(f.Text, o.line+" ")
	}
	return f.Condition == o.condition
}

func (v *View) chipOf(place string, o option, f fault.Fault) control {
	on := o.is(f)
	return control{id: "condition:" + strings.TrimPrefix(o.line, place+" "), label: o.label, on: on, do: func() {
		v.menu = ""
		if !on {
			v.layFault(place, o.line)
		}
		v.dirty = true
	}}
}
