package view

// This file is the menus and sheets that open over the rest. While one is open nothing else can be pressed.

import (
	"fmt"
	"math"
	"strings"

	"underload/ui/drawing"
)

// openMenu paints the menu that is open; its controls are then the only ones.
func (v *View) openMenu() {
	if by := v.find(v.openedBy); by != nil {
		v.openedAt = by.at
	}
	v.controls, v.hover = v.controls[:0], ""
	switch v.menu {
	case "instruments":
		v.instrumentsMenu()
	case "levers":
		v.leversMenu()
	case "more":
		v.moreMenu()
	case "conditions":
		v.conditionsMenu()
	case "shelf":
		v.shelfSheet()
	case "scope-a":
		v.channelMenu(0)
	case "scope-b":
		v.channelMenu(1)
	case "scope-set":
		v.setMenu()
	case "scope-sweep":
		v.sweepMenu()
	case "mend":
		v.mendMenu()
	case "help":
		v.helpSheet()
	case "reading":
		v.readingSheet()
	default:
		v.menu = ""
	}
}

// menuBox paints the ground of a menu near a box, w by h, within the window.
func (v *View) menuBox(x, y, w, h float64) box {
	p := v.canvas.p
	w, h = min(w, v.plan.width-16), min(h, v.plan.height-16)
	b := box{math.Round(min(max(x, 8), v.plan.width-w-8)), math.Round(min(max(y, 8), v.plan.height-h-8)), w, h}
	v.canvas.fill(box{b.x, b.y + 4, b.w, b.h}, 8, p.shadow)
	v.canvas.frame(b, 8, 1, p.line, p.panel)
	v.shields = append(v.shields, b)
	return b
}

// item is one row of a menu.
type item struct {
	id, label, says, off string
	on, again            bool
	sign                 string // of an instrument
	do                   func()
}

func (v *View) items(b box, items []item, columns int) {
	p := v.canvas.p
	h := v.target()
	perColumn := (len(items) + columns - 1) / columns
	w := (b.w - 16) / float64(columns)
	for i, it := range items {
		at := box{b.x + 8 + float64(i/perColumn)*w, b.y + 8 + float64(i%perColumn)*h, w, h}
		c := control{id: it.id, label: it.label, at: at, off: it.off, on: it.on, again: it.again, do: it.do}
		l := v.control(c)
		in := at.inset(2)
		ink := p.ink
		switch {
		case l.on:
			v.canvas.frame(in, 6, 1, p.accent, p.accentSoft)
		case l.over:
			v.canvas.frame(in, 6, 1, p.ink, p.panel)
		case l.off:
			ink = p.ink3
		}
		x := in.x + 12
		if it.sign != "" {
			v.sign(it.sign, in.x+24, in.midY(), ink)
			x += 36
		}
		room := in.right() - 10 - x
		if it.says != "" {
			saysWide := min(textWidth(it.says, 13, false), room*0.6)
			v.canvas.text(in.right()-10, middle(in, 13), style{size: 13, fill: p.ink2, anchor: drawing.End}, shorten(it.says, 13, false, saysWide+0.5))
			room -= saysWide + 12
		}
		v.canvas.text(x, middle(in, 14), style{size: 14, fill: ink}, shorten(it.label, 14, false, room))
	}
}

// listMenu is a menu beside what opened it: of more items than there is room for, some at a time.
func (v *View) listMenu(list string, w float64, all []item) {
	h := v.target()
	room := v.plan.height - v.plan.strip.foot() - 24
	most := int((room - 16) / h)
	head := 0.0
	if len(all) > most {
		head = v.row() + 8
		most = int((room - 16 - head) / h)
	}
	from := v.scrolled(list, len(all), most)
	shown := all[from:min(len(all), from+most)]
	tall := head + float64(len(shown))*h + 16
	y := v.openedAt.foot() + 4
	if y+tall > v.plan.height-8 {
		y = v.openedAt.y - 4 - tall
	}
	b := v.menuBox(v.openedAt.x, max(y, v.plan.strip.foot()+4), w, tall)
	v.pager(list, box{b.right() - 12 - 2*v.row() - 4, b.y + 6, 2*v.row() + 4, v.row()}, len(all), most)
	if head > 0 {
		v.canvas.text(b.x+20, b.y+6+v.row()/2+5, style{size: 13, fill: v.canvas.p.ink2}, fmt.Sprintf("%d to %d of %d", from+1, from+len(shown), len(all)))
	}
	v.items(box{b.x, b.y + head, b.w, b.h - head}, shown, 1)
}

func (v *View) instrumentsMenu() {
	b := v.plan.bench
	var items []item
	for _, name := range instruments() {
		items = append(items, item{id: "with:" + name, label: labelOf(name), says: "key " + strings.ToUpper(instrumentWords[name].key), on: v.now.with == name, sign: name, do: func() { v.choose(name) }})
	}
	columns, h := 1, float64(len(items))*v.target()+16
	w := b.w - 24
	if h > v.plan.height-b.y-60 {
		columns, h, w = 2, math.Ceil(float64(len(items))/2)*v.target()+16, 440
	}
	v.items(v.menuBox(b.right()-w-12, b.y+110, w, h), items, columns)
}

func (v *View) leversMenu() {
	p := v.canvas.p
	levers := v.levers()
	rowHeight := v.target() + 12
	columns := 1
	tall := func() float64 {
		return math.Ceil(float64(len(levers))/float64(columns))*rowHeight + 56
	}
	for tall() > v.plan.height-v.plan.strip.foot()-16 && columns < 3 {
		columns++
	}
	w := 380.0
	most := int((v.plan.height - v.plan.strip.foot() - 72) / rowHeight)
	from := 0
	shown := len(levers)
	if per := most * columns; shown > per {
		shown = per
		from = v.scrolled("levers", len(levers), per)
	}
	wide := min(w*float64(columns)+24, v.plan.width-16)
	w = (wide - 24) / float64(columns)
	b := v.menuBox(v.plan.width/2-wide/2, v.plan.strip.foot()+4, wide, math.Ceil(float64(shown)/float64(columns))*rowHeight+56)
	v.canvas.text(b.x+16, b.y+28, style{size: 15, bold: true, fill: p.ink}, "Switches, and loads that can be asked for")
	v.pager("levers", box{b.right() - 60 - 2*v.row() - 4, b.y + 26 - v.row()/2, 2*v.row() + 4, v.row()}, len(levers), most*columns)
	v.closeButton(b)
	per := (shown + columns - 1) / columns
	for i := range shown {
		l := levers[from+i]
		row := box{b.x + 12 + float64(i/per)*w, b.y + 48 + float64(i%per)*rowHeight, w - 8, v.target()}
		v.canvas.text(row.x+4, row.y+18, style{size: 14, bold: true, fill: p.ink}, shorten(l.name, 14, true, 84))
		v.canvas.text(row.x+4, row.y+35, style{size: 12, fill: p.ink2}, shorten(l.says, 12, false, 104))
		short := make([]string, len(l.throws))
		copy(short, l.throws)
		v.segments("set:"+l.name, box{row.x + 116, row.midY() - v.row()/2, row.w - 120, v.row()}, l.throws, short, l.at, nil, func(to string) { v.set(l.name + "=" + to) })
	}
}

func (v *View) closeButton(b box) {
	v.iconIn(control{id: "close", label: "Close", at: box{b.right() - 48, b.y + 4, 44, 44}, do: func() { v.menu = ""; v.dirty = true }}, func(c box, ink colour) {
		v.canvas.line(2, ink, at(c.midX()-6, c.midY()-6), at(c.midX()+6, c.midY()+6))
		v.canvas.line(2, ink, at(c.midX()-6, c.midY()+6), at(c.midX()+6, c.midY()-6))
	})
}

func (v *View) moreMenu() {
	theme := "Dark"
	if v.theme == drawing.Dark {
		theme = "Light"
	}
	shut := func(do func()) func() {
		return func() {
			v.menu = ""
			v.dirty = true
			do()
		}
	}
	hidden := empty(v.o.Hide, "The faults of this case are hidden")
	items := []item{
		{id: "theme", label: theme + " colours", says: "T", do: shut(v.otherTheme)},
		{id: "sound", label: "Sound of relays and fuses", says: map[bool]string{false: "off", true: "on"}[v.sounds], on: v.sounds, do: shut(v.toggleSounds)},
		{id: "copy-reading", label: "Copy the reading", says: "Ctrl C", do: shut(v.copyReading)},
		{id: "save-svg", label: "Save the picture, SVG", do: shut(v.saveSVG)},
		{id: "save-trace", label: "Save the trace, SVG", off: empty(!v.hasTrace(), "Nothing was recorded: let time run with a lead on a point"), do: shut(v.saveTrace)},
		{id: "save-png", label: "Save the picture, PNG", do: shut(func() { v.want(Want{Kind: SavePNG, Name: v.fileName() + ".png"}) })},
		{id: "save-log", label: "Keep the readings as a file", off: empty(len(v.now.log) == 0, "The log is empty"), do: shut(v.saveLog)},
		{id: "open-log", label: "Open readings", do: shut(func() { v.want(Want{Kind: OpenFile, Text: "log"}) })},
		{id: "open-faults", label: "Open faults", off: hidden, do: shut(func() { v.lookFor("faults") })},
		{id: "open-circuit", label: "Open a circuit", says: "Ctrl O", do: shut(func() { v.lookFor("circuit") })},
	}
	w := 300.0
	v.items(v.menuBox(v.plan.width-w-12, v.plan.strip.foot()+4, w, float64(len(items))*v.target()+16), items, 1)
}

func (v *View) otherTheme() {
	t := drawing.Dark
	if v.theme == drawing.Dark {
		t = drawing.Light
	}
	v.SetTheme(t)
}

func (v *View) conditionsMenu() {
	place := v.now.place
	f, _ := v.now.faultAt(place)
	var items []item
	for _, o := range v.options(place) {
		c := v.chipOf(place, o, f)
		items = append(items, item{id: c.id, label: c.label, on: c.on, do: c.do})
	}
	columns := 1
	for float64((len(items)+columns-1)/columns)*v.target()+16 > v.plan.height-80 {
		columns++
	}
	w, h := 260*float64(columns), float64((len(items)+columns-1)/columns)*v.target()+16
	v.items(v.menuBox(v.plan.bench.x-w-8, v.plan.height-h-24, w, h), items, columns)
}

// readingSheet is everything that a reading tells.
func (v *View) readingSheet() {
	r := v.now.live.reading
	if r == nil {
		v.menu = ""
		return
	}
	p := v.canvas.p
	w := min(620, v.plan.width-24)
	type part struct{ head, words string }
	parts := []part{{"What it means", r.Meaning}, {"What the test did to the circuit", r.Effect}}
	for _, line := range r.Lines {
		parts = append(parts, part{"", line})
	}
	for _, c := range r.Cautions {
		parts = append(parts, part{"Caution", c})
	}
	parts = append(parts, part{"", fmt.Sprintf("Takes %.3g min, common practice. The model is a help to thinking: the vehicle maker's procedure and local codes come first, and some work is for licensed people.", r.Minutes)})
	h := 60.0
	for _, pt := range parts {
		if pt.head != "" {
			h += 22
		}
		h += float64(len(wrap(pt.words, 14, false, w-40, 9)))*20 + 8
	}
	b := v.menuBox(v.plan.width/2-w/2, (v.plan.height-h)/2, w, h+8)
	v.closeButton(b)
	v.canvas.text(b.x+20, b.y+30, style{size: 15, bold: true, fill: p.ink}, shorten(saidHead(r.Instrument, r.Red, r.Black, r.On), 15, true, w-80))
	y := b.y + 48
	for _, pt := range parts {
		lines := wrap(pt.words, 14, false, w-40, 9)
		if y+float64(len(lines))*20+22 > b.foot() {
			break
		}
		if pt.head != "" {
			ink := p.ok
			if pt.head == "Caution" {
				ink = p.alert
			}
			v.canvas.text(b.x+20, y+14, style{size: 13, bold: true, fill: ink}, pt.head)
			y += 22
		}
		for _, line := range lines {
			v.canvas.text(b.x+20, y+14, style{size: 14, fill: p.ink}, line)
			y += 20
		}
		y += 8
	}
}

func saidHead(instrument, red, black, on string) string {
	words := labelOf(instrument)
	switch {
	case red != "" && black != "":
		words += ", A on " + red + ", B on " + black
	case red != "":
		words += " in " + red
	case on != "":
		words += " around " + on
	}
	return words
}

// saveSVG hands over the whole window as a picture.
func (v *View) saveSVG() {
	v.compose()
	data, err := v.SVG()
	if err != nil {
		v.tell(spoken(err))
		return
	}
	v.want(Want{Kind: SaveFile, Name: v.fileName() + ".svg", Data: data})
}
