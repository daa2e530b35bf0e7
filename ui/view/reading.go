package view

// This file is the reading: its figure, what is seen, what the healthy circuit would show, what it means, what to beware of.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/quantity"
	"underload/sim/meter"
	"underload/ui/drawing"
)

// readingBench fills a box with the reading and its words, and the buttons below.
func (v *View) readingBench(b box) {
	h := v.target()
	v.readingButtons(box{b.x, b.foot() - h, b.w, h})
	b.h -= h + 10
	y := v.well(box{b.x, b.y, b.w, v.wellHeight(b.h)}) + 10
	if v.complaintFirst() {
		v.complaint(box{b.x, y, b.w, b.foot() - y})
		return
	}
	r := v.now.live.reading
	if r == nil {
		return
	}
	cautions := v.cautionsHeight(r, b.w)
	if r.Value == nil && len(r.Lines) > 0 { // words only: the well has no room for them
		room := b.foot() - y - min(cautions, leastCautions) - 70
		y = v.bullets(box{b.x, y, b.w, room}, grouped(r.Lines), "press below for all") + 8
	}
	if left := b.foot() - y - v.meaningHeight(r, b.w); cautions > left { // the meaning comes first, but something of each is said
		cautions = min(cautions, max(left, leastCautions))
	}
	y = v.meaning(box{b.x, y, b.w, b.foot() - y - cautions}, r)
	y = v.cautions(box{b.x, y, b.w, b.foot() - y}, r)
	if r.Value != nil {
		v.noticed(box{b.x, y + 6, b.w, b.foot() - y - 6})
	}
}

// leastCautions is the room that is kept for cautions, px: enough to be pressed.
const leastCautions = 46.0

func (v *View) wellHeight(room float64) float64 {
	if room < 330 {
		return 112
	}
	return 142
}

// complaintFirst reports whether the customer's words stand where the meaning of a reading will stand.
func (v *View) complaintFirst() bool { return v.now.live.reading == nil && v.c.Complaint != "" }

// complaint is what the customer says, and what to do first.
func (v *View) complaint(b box) {
	p := v.canvas.p
	y := b.y
	if b.h < 70 {
		return
	}
	v.canvas.text(b.x, y+12, style{size: 13, bold: true, fill: p.ok}, "The complaint")
	most := int((b.h - 22) / 20)
	y = v.canvas.lines(box{b.x, y + 20, b.w, b.h}, style{size: 14, fill: p.ink}, 20, most, v.c.Complaint)
	if len(v.now.log) == 0 && b.foot()-y > 66 {
		y = v.canvas.lines(box{b.x, y + 10, b.w, b.h}, style{size: 13, fill: p.ink2}, 18, 3,
			"Place lead A and lead B on two points of the drawing, and choose an instrument: the reading follows at once.")
	}
	v.noticed(box{b.x, y + 12, b.w, b.foot() - y - 12})
}

// noticed is what a person sees, hears and smells, as far as there is room.
func (v *View) noticed(b box) {
	p := v.canvas.p
	lines := grouped(v.now.live.noticed)
	if v.clock != nil {
		lines = v.heardLately()
	}
	if len(lines) == 0 {
		lines = []string{"Nothing to be noticed."}
	}
	if b.h < 44 {
		return
	}
	v.canvas.text(b.x, b.y+13, style{size: 13, bold: true, fill: p.ok}, "Seen and heard")
	v.bullets(box{b.x, b.y + 20, b.w, b.h - 20}, lines, "take Look in hand")
}

// bullets paints lines as a list, as far as there is room, and says what is left out and how to see it. It gives the y
// below.
func (v *View) bullets(b box, lines []string, more string) float64 {
	const leading = 18.0
	p, y := v.canvas.p, b.y
	for i, line := range lines {
		rows := wrap(line, 13, false, b.w-14, 4)
		need := float64(len(rows)) * leading
		if i < len(lines)-1 {
			need += leading // for what is left out, if the rest is
		}
		if y+need > b.foot() {
			if y+leading <= b.foot() {
				v.canvas.text(b.x+14, y+13, style{size: 13, fill: p.ink2}, shorten(fmt.Sprintf("and %d more: %s", len(lines)-i, more), 13, false, b.w-14))
				y += leading
			}
			return y
		}
		v.canvas.circle(b.x+4, y+9, 2, 0, 0, p.ink2)
		for _, row := range rows {
			v.canvas.text(b.x+14, y+13, style{size: 13, fill: p.ink}, row)
			y += leading
		}
	}
	return y
}

// grouped joins lines that say the same of several things.
func grouped(lines []string) []string {
	var order []string
	names := map[string][]string{}
	for _, line := range lines {
		name, says, ok := strings.Cut(line, " ")
		if !ok {
			continue
		}
		if names[says] == nil {
			order = append(order, says)
		}
		names[says] = append(names[says], name)
	}
	var joined []string
	for _, says := range order {
		if len(names[says]) == 1 {
			joined = append(joined, names[says][0]+" "+says)
			continue
		}
		together := strings.ReplaceAll(strings.Join(names[says], ", "), ":", "")
		joined = append(joined, capital(strings.TrimPrefix(says, "is "))+": "+together)
	}
	return joined
}

// well paints the readout and gives the y below it.
func (v *View) well(b box) float64 {
	cv, p := &v.canvas, v.canvas.p
	cv.fill(b, 8, p.sunk)
	x := b.x + 16
	r := v.now.live.reading
	low := b.h < 120
	top := b.y + 22
	cv.text(x, top, style{size: 13, bold: true, fill: p.ink2}, v.instrumentLine())
	if r == nil {
		cv.text(x, b.y+58, style{size: v.figureSize(), bold: true, fill: p.ink2}, "– –")
		most := 3
		if low {
			most = 2
		}
		cv.lines(box{x, b.y + 66, b.w - 32, 60}, style{size: 13, fill: p.ink2}, 18, most, v.now.live.waiting)
		return b.foot()
	}
	if r.LightPercent != nil {
		v.lampFace(x+32, b.y+b.h/2+8, *r.LightPercent/100, low)
		x += 78
		if low {
			x -= 18
		}
	}
	v.figures(r, box{x, b.y + 26, b.right() - 12 - x, b.h - 30})
	return b.foot()
}

// instrumentLine says what is in hand and where it is.
func (v *View) instrumentLine() string {
	s := &v.now
	words := labelOf(s.with)
	switch {
	case s.with == "clamp" && s.on != "":
		words += " around " + spelt(s.on)
	case s.with == "drag" && s.leads[0] != "":
		words += " in " + s.leads[0]
	}
	return words
}

func (v *View) figureSize() float64 {
	if v.plan.small || v.now.role == SetFaults {
		return 36
	}
	return 40
}

// figures writes value, uncertainty, what is seen, and the healthy circuit's value.
func (v *View) figures(r *meter.Reading, b box) {
	cv, p := &v.canvas, v.canvas.p
	size := v.figureSize()
	y := b.y + size + 2
	value, spread, seen := figureWords(r)
	if value == "" { // words only
		leading := 19.0
		most := max(1, int((b.h-24)/leading))
		cv.lines(box{b.x, b.y + 4, b.w, b.h}, style{size: 15, bold: true, fill: p.ink}, leading, most-1, seen)
		cv.text(b.x, b.foot()-6, style{size: 13, fill: p.ink2}, v.healthyLine(r, b.w))
		return
	}
	for textWidth(value, size, true) > b.w && size > 20 {
		size -= 2
	}
	cv.text(b.x, y, style{size: size, bold: true, fill: p.ink}, value)
	if x := b.x + textWidth(value, size, true) + 10; x+textWidth(spread, 14, false) <= b.right() {
		cv.text(x, y, style{size: 14, fill: p.ink2}, spread)
		spread = ""
	}
	y += 21
	words := joined(spread, seen)
	if textWidth(words, 14, false) > b.w && r.Amps != nil { // the least telling goes first
		words = ampText(math.Abs(*r.Amps)) + ": " + r.Seen
	}
	cv.text(b.x, y, style{size: 14, fill: p.ink}, shorten(words, 14, false, b.w))
	y += 19
	cv.text(b.x, y, style{size: 13, fill: p.ok}, v.healthyLine(r, b.w))
	if r.LightPercent != nil && y+20 < b.foot()+2 {
		v.lightBar(box{b.x, y + 9, b.w, 11}, *r.LightPercent/100)
	}
}

// healthyLine is what the healthy circuit would show, while time runs at the same instant, as there is room for.
func (v *View) healthyLine(r *meter.Reading, room float64) string {
	words := healthyWords(r)
	line := "healthy: " + words
	if v.clock != nil && words == "" {
		line = "at " + v.clock.timeWords()
	} else if v.clock != nil {
		if timed := "healthy at " + v.clock.timeWords() + ": " + words; textWidth(timed, 13, false) <= room {
			line = timed
		}
	}
	return shorten(line, 13, false, room)
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// figureWords are the value with its unit, its uncertainty, and what is seen beside them.
func figureWords(r *meter.Reading) (value, spread, seen string) {
	seen = r.Seen
	if r.Value == nil {
		return "", "", seen
	}
	value = r.Text(*r.Value)
	if _, plusMinus, ok := strings.Cut(r.NearestText(), " ± "); ok {
		spread = "± " + plusMinus
	}
	if rest, ok := strings.CutPrefix(seen, value); ok {
		seen = strings.TrimLeft(rest, ":,; ")
	}
	if r.Amps != nil {
		amps := ampText(math.Abs(*r.Amps))
		watts := quantity.Format(math.Abs(*r.Amps**r.Value), quantity.Watts, 2)
		seen = fmt.Sprintf("%s, %s: %s", amps, watts, seen)
	}
	return value, spread, seen
}

func healthyWords(r *meter.Reading) string {
	if r.Healthy == nil {
		return r.HealthySeen
	}
	words := r.Text(*r.Healthy)
	if rest, ok := strings.CutPrefix(r.HealthySeen, words); ok {
		return words + rest
	}
	if r.HealthySeen != "" {
		words += ", " + r.HealthySeen
	}
	return words
}

// lampFace paints a lamp with the light it gives.
func (v *View) lampFace(x, y, share float64, low bool) {
	cv, p := &v.canvas, v.canvas.p
	r := 28.0
	if low {
		r, x, y = 20, x-10, y+2
	}
	fill := p.panel
	switch {
	case share > 0.7:
		cv.circle(x, y, r+7, 0, 0, p.lampDim)
		fill = p.lampHot
	case share >= 0.03:
		fill = p.lampDim
	}
	cv.circle(x, y, r, 2, p.ink, fill)
	d := r * 0.7
	cv.line(2, p.ink, at(x-d, y-d), at(x+d, y+d))
	cv.line(2, p.ink, at(x-d, y+d), at(x+d, y-d))
}

// lightBar is the light of a lamp in twelve steps.
func (v *View) lightBar(b box, share float64) {
	p := v.canvas.p
	const steps = 12
	pitch := math.Floor(min(b.w/steps, 17))
	lit := int(math.Round(min(share, 1) * steps))
	for i := range steps {
		in := box{b.x + float64(i)*pitch, b.y, pitch - 4, b.h}
		if i < lit {
			v.canvas.frame(in, 2, 1, p.ink2, p.lampHot)
		} else {
			v.canvas.frame(in, 2, 1, p.line, 0)
		}
	}
}

// meaningHeight is the room that the whole meaning asks for.
func (v *View) meaningHeight(r *meter.Reading, w float64) float64 {
	return float64(len(wrap(r.Meaning, 14, false, w-28, 20)))*20 + 48
}

// meaning paints what the reading means, and gives the y below it. Where the words do not fit a press shows them all.
func (v *View) meaning(b box, r *meter.Reading) float64 {
	p := v.canvas.p
	const size, leading = 14.0, 20.0
	most := int((b.h - 38 - 6) / leading)
	if most < 1 {
		return b.y
	}
	lines := wrap(r.Meaning, size, false, b.w-28, most)
	card := box{b.x, b.y, b.w, float64(len(lines))*leading + 38}
	fill, ink := p.okSoft, p.ok
	if v.outOfRange(r) {
		fill, ink = p.alertSoft, p.alert
	}
	l := v.control(control{id: "meaning", label: "What this reading means", at: card, do: func() { v.toggleMenu("reading") }})
	v.canvas.fill(card, 6, fill)
	v.canvas.fill(box{card.x, card.y, 4, card.h}, 0, ink)
	if l.over {
		v.canvas.frame(card, 6, 1, p.ink, 0)
	}
	v.canvas.text(card.x+16, card.y+20, style{size: 13, bold: true, fill: ink}, "What this reading means")
	y := card.y + 27
	for _, line := range lines {
		v.canvas.text(card.x+16, y+15, style{size: size, fill: p.ink}, line)
		y += leading
	}
	return card.foot() + 10
}

// outOfRange reports whether the reading is off the healthy circuit's by more than twice what the instrument may be off.
func (v *View) outOfRange(r *meter.Reading) bool {
	if r.Healthy == nil && r.HealthySeen == "" { // in motion
		return false
	}
	if r.Value == nil || r.Healthy == nil {
		return r.Seen != r.HealthySeen
	}
	least := 0.0
	if r.Uncertainty != nil {
		least = 2 * *r.Uncertainty
	}
	return math.Abs(*r.Value-*r.Healthy) > max(least, 0.02*math.Abs(*r.Healthy))
}

const mostCautions = 2

func (v *View) cautionLines(caution string, w float64) []string {
	return wrap(caution, 13, false, w-28, 12)
}

func (v *View) cautionsHeight(r *meter.Reading, w float64) float64 {
	h := 0.0
	for _, c := range r.Cautions[:min(len(r.Cautions), mostCautions)] {
		h += float64(len(v.cautionLines(c, w)))*18 + 6
	}
	return h
}

// cautions paints what to beware of, and gives the y below: two at most, the rest with the meaning. What has no room is a
// press away.
func (v *View) cautions(b box, r *meter.Reading) float64 {
	y, cut, told := b.y, len(r.Cautions) > mostCautions, 0
	for _, c := range r.Cautions[:min(len(r.Cautions), mostCautions)] {
		lines := v.cautionLines(c, b.w)
		room := int((b.foot() - y) / 18)
		if len(lines) > room {
			cut = true
			if room < 1 {
				break
			}
			lines = wrap(c, 13, false, b.w-28, room)
		}
		told++
		cut = cut || told < len(r.Cautions) && int((b.foot()-y-float64(len(lines))*18-6)/18) < 1
		v.warnSign(b.x+9, y+11)
		for _, line := range lines {
			v.canvas.text(b.x+28, y+14, style{size: 13, fill: v.canvas.p.ink}, line)
			y += 18
		}
		if left := len(r.Cautions) - told; cut && left > 0 { // beside the last words, where there is room
			if more := fmt.Sprintf("and %d more", left); textWidth(lines[len(lines)-1]+more, 13, false)+44 < b.w {
				v.canvas.text(b.right(), y-4, style{size: 13, fill: v.canvas.p.ink2, anchor: drawing.End}, more)
			}
		}
		y += 6
	}
	if at := (box{b.x, b.y, b.w, max(y, b.y+44) - b.y}); cut && at.foot() <= b.foot()+1 {
		l := v.control(control{id: "cautions", label: "All cautions", at: at, do: func() { v.toggleMenu("reading") }})
		if l.over {
			v.canvas.frame(at, 6, 1, v.canvas.p.ink, 0)
		}
	}
	return y
}

// readingButtons are log, copy, and take the leads off.
func (v *View) readingButtons(b box) {
	off := empty(v.now.live.reading == nil, "There is no reading yet. "+v.now.live.waiting)
	const gap = 8.0
	wide := math.Floor((b.w - 2*gap) * 0.46)
	rest := (b.w - wide - 2*gap) / 2
	v.button(control{id: "log", label: "Log reading", at: box{b.x, b.y, wide, b.h}, off: off, do: v.logReading}, primary)
	v.button(control{id: "copy", label: "Copy", at: box{b.x + wide + gap, b.y, rest, b.h}, off: off, do: v.copyReading}, ordinary)
	none := v.now.leads == [2]string{} && v.now.on == ""
	v.button(control{id: "off", label: takeOffWords(rest), at: box{b.right() - rest, b.y, rest, b.h}, off: empty(none, "Nothing is on the circuit"), do: v.takeOff}, ordinary)
}

// takeOffWords are as many as fit on the button.
func takeOffWords(room float64) string {
	if textWidth("Take off", 14, false) > room-12 {
		return "Off"
	}
	return "Take off"
}

func compact(words ...string) []string {
	var kept []string
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return kept
}

// middleText writes words in the middle of a box.
func (v *View) middleText(b box, s style, words string) {
	s.anchor = drawing.Middle
	v.canvas.text(b.midX(), middle(b, s.size), s, shorten(words, s.size, s.bold, b.w))
}
