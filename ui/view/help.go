package view

// This file is what F1 shows: the keys, and what the signs of the drawing mean.

// keysTold are the keys as help lists them.
var keysTold = [][2]string{
	{"Tab, Shift Tab", "to the next control, and back"}, {"C", "to the drawing, where arrows walk"}, {"Enter, Space", "press what has the focus"},
	{"Arrows", "from point to point; turn a slider"}, {"Enter", "on a point: what can be done there"},
	{"A, B", "put that lead on the point"}, {"X", "swap the leads"}, {"Backspace", "take both leads off"},
	{"1 to 9, 0, E", "take an instrument in hand"}, {"L", "log the reading"}, {"Ctrl C", "copy the reading"},
	{"Ctrl O", "open a circuit"}, {"Ctrl Z, Ctrl Y", "undo, redo"}, {"P, S", "practise, set faults"}, {"M", "magnify the staircase"},
	{"G, O, R, F", "staircase, scope, readings, feeds"}, {"K, Space", "let time run, hold it"}, {". and ,", "time on by a step, and back"}, {"[ and ]", "time slower, faster"}, {"W", "wiggle the connector, hold it still"}, {"+, −, wheel, pinch", "larger, smaller"}, {"Home", "show all"},
	{"Page Up, Page Down", "sheets of a wide drawing"}, {"Ctrl and arrows, drag", "move the drawing"}, {"D", "the bench in a narrow window"}, {"T", "light or dark"}, {"?, F1", "this help"}, {"Esc", "close, or let go"},
}

// signsTold are what the drawing shows, and what that is.
var signsTold = [][2]string{
	{"Small gauge", "the volts of its terminal: none at its foot, the battery's at its top"},
	{"Line and wedge on it", "what the healthy circuit has there, in this state"},
	{"Two gauges", "the two sides of one joint: a step between them is lost in the joint"},
	{"Gauge with a thick edge", "more than 0.5 V off the healthy circuit"},
	{"Gauge with a dash", "nobody has probed there yet"},
	{"Pale band", "the way of the current that the staircase shows"},
	{"Figure on a wire", "its amps; a wire is drawn the wider the more it carries"},
	{"Solid tag, notched tag", "lead A and lead B; a double ring is the instrument"},
	{"Dashed box", "a connector, or a part that is unplugged"},
	{"Words while time runs", "what a module or motor does; waves stand for heat"},
}

func (v *View) helpSheet() {
	p := v.canvas.p
	told, first := keysTold, 150.0
	if v.helpSigns {
		told, first = signsTold, 180
	}
	columns := 2
	if v.plan.width < 720 || v.plan.height > 1400 || v.helpSigns {
		columns = 1
	}
	most := (len(keysTold) + 1) / 2 // the sheet is as high for either
	if columns == 1 && !v.helpSigns {
		most = len(keysTold)
	}
	rows := (len(told) + columns - 1) / columns
	leading := 26.0
	if float64(most)*leading+142 > v.plan.height-16 {
		leading = max(20, (v.plan.height-158)/float64(most))
	}
	w := min(920, v.plan.width-16)
	if v.plan.height > 1400 {
		w = min(620, w)
	}
	h := float64(most)*leading + 136
	b := v.menuBox(v.plan.width/2-w/2, (v.plan.height-h)/2, w, h)
	v.closeButton(b)
	pages := []string{"Keys", "Drawing"}
	v.segments("help", box{b.x + 16, b.y + 6, min(260, w-80), max(40, v.row())}, pages, pages, pages[map[bool]int{true: 1}[v.helpSigns]], nil, func(to string) { v.helpSigns, v.dirty = to == pages[1], true })
	each := (w - 40) / float64(columns)
	for i, k := range told {
		x, y := b.x+20+float64(i/rows)*each, b.y+62+float64(i%rows)*leading
		v.canvas.text(x, y+14, style{size: 13, bold: true, fill: p.ink}, shorten(k[0], 13, true, first-8))
		v.canvas.text(x+first, y+14, style{size: 13, fill: p.ink}, shorten(k[1], 13, false, each-first-10))
	}
	v.canvas.lines(box{b.x + 20, b.foot() - 62, w - 40, 60}, style{size: 13, fill: p.ink2}, 18, 3, modelWords)
}

// modelWords stand where the program explains itself.
const modelWords = "The model is a help to thinking. The vehicle maker's procedure and local codes come first; air bags, high voltage and brakes are for people licensed for them."
